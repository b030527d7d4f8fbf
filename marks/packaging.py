"""Packagings: what a code such as 4G or 6HA1 means, and what the UN specification mark on a packaging says it may hold.

Codes: UN Model Regulations 6.1.2, 6.5.1.4 and 6.6.2; 49 CFR 178.502 for the letters and figures;
the list of types from memory.
Mark: UN Model Regulations 6.1.3 and 6.3.4, from memory; 49 CFR 178.503 (a).
"""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache, lru_cache
from typing import Literal, Self

from msgspec import Struct

from marks.errors import Unreadable
from marks.quantity import quoted
from marks.terms import PackageForm, PackingGroup

NO_CODE = ", or none, or cylinder"  # words a record may write for a code
Kind = Literal[
    "drum", "barrel", "jerrican", "box", "bag", "composite", "light-gauge", "ibc", "large", "cylinder", "none"
]

_MATERIALS = {
    "A": "steel", "B": "aluminium", "C": "natural wood", "D": "plywood", "F": "reconstituted wood", "G": "fibreboard",
    "H": "plastics", "L": "textile", "M": "multiwall paper", "N": "metal other than steel or aluminium",
    "P": "glass, porcelain or stoneware",
}  # fmt: skip
# The categories that exist of each type; drums and jerricans: 1 has a head that stays, 2 one that comes off.
_SINGLE = {
    "1A": "12", "1B": "12", "1N": "12", "1H": "12", "1D": "", "1G": "", "2C": "12", "3A": "12", "3B": "12", "3H": "12",
    "4A": "", "4B": "", "4N": "", "4C": "12", "4D": "", "4F": "", "4G": "", "4H": "12",
    "5H": "1234", "5L": "123", "5M": "12", "0A": "12",
}  # fmt: skip
# The outer part of a composite packaging, and its shape.
_OUTER = {
    "A1": "steel drum", "A2": "steel box or crate", "B1": "aluminium drum", "B2": "aluminium box or crate",
    "C": "wooden box", "D1": "plywood drum", "D2": "plywood box", "G1": "fibre drum", "G2": "fibreboard box",
    "H1": "plastics drum", "H2": "solid plastics box",
}  # fmt: skip
_OUTER_OF_GLASS = _OUTER | {
    "D2": "wickerwork hamper",
    "H1": "expanded plastics packaging",
    "H2": "solid plastics packaging",
}
_WORDS: dict[str, tuple[Kind, str]] = {
    "0": ("light-gauge", "light gauge metal packaging"), "1": ("drum", "drum"), "2": ("barrel", "barrel"),
    "3": ("jerrican", "jerrican"), "4": ("box", "box"), "5": ("bag", "bag"),
}  # fmt: skip
_FORMS = {
    "drum": PackageForm.DRUM, "barrel": PackageForm.DRUM, "light-gauge": PackageForm.DRUM,
    "jerrican": PackageForm.JERRICAN, "box": PackageForm.BOX, "bag": PackageForm.BAG, "ibc": PackageForm.IBC,
    "cylinder": PackageForm.CYLINDER,
}  # fmt: skip
_IBC = r"(?:[123]1[ABN]|[123]1H[12]|[123]1H[ABCDFGHLMN][12]|11[CDFG]|13(?:H[1-5]|L[1-4]|M[12]))([VWTU]?)"
_LARGE = r"(?:50[ABNCDFGH]|51[HM])([VWTU]?)"


class Packaging(Struct, frozen=True):
    """A type of packaging.

    code: without the letter behind it; ``letter``: V special packaging, W equivalent, T salvage, U for infectious
        substances, or None. kind, text: its family, and its name in words.
    form: its shape; None where only the record can say. inner: what the receptacle of a composite is made of.
    """

    code: str
    kind: Kind
    text: str
    form: PackageForm | None
    letter: str | None = None
    inner: str | None = None

    @property
    def holds_liquid_itself(self) -> bool:
        """Whether its mark may take the liquid form: not on boxes and bags, which hold what holds the liquid."""
        return self.kind in ("drum", "barrel", "jerrican", "composite", "light-gauge")


def _single(stem: str, code: str, more: str = "", letter: str | None = None) -> Packaging:
    kind, word = _WORDS[stem[0]]
    text = "fibre drum" if stem == "1G" else f"{_MATERIALS[stem[1]]} {word}"
    return Packaging(code, kind, text + more, _FORMS[kind], letter)


@cache
def types() -> dict[str, Packaging]:
    """Every non-bulk type, by code."""
    made = {}
    for stem, categories in _SINGLE.items():
        for category in categories or ("",):
            head = {"1": ", head fixed", "2": ", head removable"}.get(category, "") if stem[0] in "0123" else ""
            made[stem + category] = _single(stem, stem + category, head)
    for inner, outers in (("H", _OUTER), ("P", _OUTER_OF_GLASS)):
        for outer, text in outers.items():
            form = PackageForm.DRUM if "drum" in text else PackageForm.BOX
            code = f"6{inner}{outer}"
            made[code] = Packaging(
                code, "composite", f"{_MATERIALS[inner]} receptacle in {text}", form, None, _MATERIALS[inner]
            )
    return made


@lru_cache(maxsize=256)
def read_code(text: str) -> Packaging:
    """The type a packaging code names; ``none`` and ``cylinder`` are words of the record. Raises Unreadable."""
    code = text.strip().replace(" ", "").upper()
    if code == "NONE":
        return Packaging("none", "none", "no packaging of its own", None)
    if code == "CYLINDER":
        return Packaging("cylinder", "cylinder", "gas cylinder", PackageForm.CYLINDER)
    if (stem := types().get(code)) or (stem := types().get(code[:-1])):
        letter = code[len(stem.code) :] or None
        if letter is None or letter in "VWTU":
            return Packaging(stem.code, stem.kind, stem.text, stem.form, letter, stem.inner)
    if code[-1:] == "W" and code[:-1] in _SINGLE:  # an equivalent to a type may leave the category out: 4HW
        return _single(code[:-1], code[:-1], letter="W")
    if found := re.fullmatch(_IBC, code):
        return Packaging(
            code.removesuffix(found[1]), "ibc", "intermediate bulk container", PackageForm.IBC, found[1] or None
        )
    if found := re.fullmatch(_LARGE, code):
        form = PackageForm.BAG if code.startswith("51") else PackageForm.BOX
        return Packaging(code.removesuffix(found[1]), "large", "large packaging", form, found[1] or None)
    near = sorted(known for known in types() if code and (known.startswith(code) or code.startswith(known)))
    raise Unreadable(
        quoted(text),
        "no packaging has this code",
        f"write {' or '.join(near[:4])}" if near else f"write a code such as 4G, 1A1, 3H1 or 6HA1{NO_CODE}",
    )


_PARTS_OF_MARK = "code/performance/S or pressure/year/state/maker"
GROUPS = {"X": ("I", "II", "III"), "Y": ("II", "III"), "Z": ("III",)}


class SpecMark(Struct, frozen=True):
    """A UN specification mark of a non-bulk packaging, taken apart.

    packaging: the type its code names, with the letter after it.
    performance: X, Y or Z; None on packagings for infectious substances (``CLASS 6.2``).
    gross_kg: the mass it may weigh with all it holds, in kg; None in the liquid form.
    density: the relative density tested, 1.2 where none is marked; None in the form for solids and inner packagings.
    pressure_kpa: the test pressure; None in the form for solids and inner packagings.
    year: the last two figures of the year of making; ``state``: the sign of the approving state;
        ``maker``: what follows.
    reconditioned: the two figures of the year of reconditioning, or None; ``leak_tested``: its L.
    """

    text: str
    packaging: Packaging
    performance: str | None
    gross_kg: Decimal | None
    density: Decimal | None
    pressure_kpa: int | None
    year: int
    state: str
    maker: str
    reconditioned: int | None = None
    leak_tested: bool = False

    @property
    def code(self) -> str:
        """The packaging code with its letter: ``4G``, ``4GV``."""
        return self.packaging.code + (self.packaging.letter or "")

    @property
    def for_liquid(self) -> bool:
        """The liquid form: the packaging itself holds the liquid."""
        return self.pressure_kpa is not None

    def allows_group(self, group: PackingGroup | str) -> bool:
        """Whether X, Y or Z covers a packing group; never on a packaging for infectious substances, without any."""
        return str(group) in GROUPS.get(self.performance or "", ())

    def year_by(self, year: int) -> int:
        """The year of making in four figures: the latest that is not after ``year``."""
        return year - (year - self.year) % 100

    @classmethod
    def parse(cls, text: str) -> Self:
        """Take a mark apart: ``4G/Y145/S/26/N/maker``, ``1A1/Y1.4/150/26/N/maker``; "UN" may stand in front.

        Raises Unreadable, which names the element that can't stand.
        """
        written = " ".join(text.split())
        bare = re.sub(r"^(?:U ?N|u ?n|RID ?/ ?ADR)[ /]*", "", written)
        parts = [part.strip() for part in bare.split("/")]
        if len(parts) < 3:
            raise Unreadable(
                quoted(written), "a specification mark has its elements parted by /", f"write {_PARTS_OF_MARK}"
            )
        packaging = _code_of(parts[0])
        if parts[1].upper() == "CLASS 6.2":
            year, state, maker = _origin("/".join(parts[2:]))
            return cls(written, packaging, None, None, None, None, year, state, maker)
        if packaging.letter == "U":
            raise _bad(parts[1], "performance", "a packaging with U is for infectious substances", "CLASS 6.2")
        performance, number = _performance(parts[1])
        pressure = _pressure(parts[2], packaging)
        year, state, maker = _origin("/".join(parts[3:]))
        gross, density = _amount(parts[1], number, pressure)
        again = re.search(r"/ ?([0-9]{2}) ?(R)?(L)?$", maker)
        return cls(
            written, packaging, performance, gross, density, pressure, year, state, maker,
            int(again[1]) if again and (again[2] or again[3]) else None, bool(again and again[3]),
        )  # fmt: skip


def _bad(part: str, element: str, why: str, write: str) -> Unreadable:
    read = f"{quoted(part)} as its {element}" if part else f"no {element}"
    return Unreadable(read, f"{why} (UN Model Regulations 6.1.3.1, 49 CFR 178.503)", f"write {write}")


def _code_of(part: str) -> Packaging:
    try:
        packaging = read_code(part)
    except Unreadable as no:
        raise Unreadable(f"{quoted(part)} as its packaging code", no.why, no.write.removesuffix(NO_CODE)) from None
    if packaging.kind in ("none", "cylinder"):
        raise Unreadable(
            f"{quoted(part)} as its packaging code", "it bears no specification mark", "leave spec_mark out"
        )
    if packaging.kind in ("ibc", "large"):
        raise _bad(
            part, "packaging code", f"the mark of an {packaging.text} has other elements", "that of a box, drum or bag"
        )
    return packaging


def _performance(part: str) -> tuple[str, Decimal | None]:
    found = re.fullmatch(r"([XYZ]) ?([0-9]{1,4}(?:[.,][0-9]{1,2})?)?", part)
    if not found:
        raise _bad(
            part, "performance", "it is X, Y or Z, then a mass in kg or a relative density", "as in Y145 or Y1.4"
        )
    return found[1], Decimal(found[2].replace(",", ".")) if found[2] else None


def _pressure(part: str, packaging: Packaging) -> int | None:
    if part == "S":
        return None
    found = re.fullmatch(r"([0-9]{2,4})(?: ?kPa)?", part)
    if not found:
        raise _bad(
            part,
            "third element",
            "it is S for solids and inner packagings, or a test pressure in kPa",
            "S, or as in 150",
        )
    if not packaging.holds_liquid_itself:
        raise _bad(part, "test pressure", f"a {packaging.kind} is not tested with liquid in it", "S")
    if int(found[1]) % 10:
        raise _bad(part, "test pressure", "it is marked in full tens of kPa", f"as in {int(found[1]) // 10 * 10}")
    return int(found[1])


def _amount(part: str, number: Decimal | None, pressure: int | None) -> tuple[Decimal | None, Decimal | None]:
    """Gross mass in kg and relative density: which of them the number is depends on S or pressure."""
    if pressure is None:
        if not number:
            raise _bad(part, "performance", "before S the gross mass in kg must follow the letter", f"as in {part}30")
        return number, None
    if number is not None and not Decimal("0.5") <= number <= 4:
        raise _bad(
            part, "performance", "before a test pressure a relative density follows the letter", f"as in {part[0]}1.4"
        )
    return None, Decimal("1.2") if number is None else number


def _origin(rest: str) -> tuple[int, str, str]:
    """Year, state and maker, parted by / or by spaces."""
    year = re.match(r"([0-9]{2})(?![0-9])[ /]*", rest)
    if not year:
        part = re.split(r"[ /]", rest)[0]
        raise _bad(part, "year of making", "it is the last two figures of the year", "as in 26")
    state = re.match(r"([A-Z]{1,3})(?![A-Za-z0-9])[ /-]*", rest[year.end() :])
    if not state:
        part = re.split(r"[ /]", rest[year.end() :])[0]
        raise _bad(
            part, "state", "it is the sign of the state that approved it, one to three capitals", "as in N, D or USA"
        )
    maker = rest[year.end() + state.end() :].strip()
    if not maker:
        raise _bad(
            "", "maker", "the maker's name or sign ends the mark", "what stands on the packaging after the state"
        )
    return int(year[1]), state[1], maker
