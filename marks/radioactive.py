"""What radioactive material is: which package, which category, what its labels are filled with. No mark is known here.

Shared by the rules, by ``marks.freed`` and by the limits of aircraft.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date
from decimal import ROUND_CEILING, Decimal
from typing import TYPE_CHECKING

from msgspec import Struct

from marks.quantity import plain, to
from marks.tables import limit
from marks.terms import Aircraft

if TYPE_CHECKING:
    from marks.case import Case, Content

#: Excepted packages: no label, no proper shipping name, a UN number and one address (ADR 5.1.5.4.1, from memory).
EXCEPTED = ("2908", "2909", "2910", "2911")
#: The type that the entry itself names (ADR 3.2 Table A).
TYPE_OF = {
    **dict.fromkeys(("2915", "3327", "3332", "3333"), "A"),
    **dict.fromkeys(("2916", "3328"), "B(U)"),
    **dict.fromkeys(("2917", "3329"), "B(M)"),
    **dict.fromkeys(("3323", "3330"), "C"),
    **dict.fromkeys(EXCEPTED, "excepted"),
}
#: Low specific activity and surface contaminated objects, as the name says it: "(LSA-II)".
_GROUP = r"\((LSA-I{1,3}|SCO-I{1,3})\)"
#: Types whose packages need no orientation arrows (49 CFR 172.312(c)(7)); type C by the UN text, from memory.
UPRIGHT_ANYWAY = ("IP-2", "IP-3", "A", "B(U)", "B(M)", "C")


def is_radioactive(content: Content) -> bool:
    """Whether the goods are of class 7."""
    return content.entry.hazard_class == "7"


def is_excepted(content: Content) -> bool:
    """Whether the entry is one of excepted packages."""
    return content.entry.un in EXCEPTED


def is_fissile(content: Content) -> bool:
    """By the labels of its entry in the UN list; the US list leaves the fissile label to 49 CFR 172.402(d)(2)."""
    return "7E" in content.entry.labels


def labelled(case: Case) -> tuple[Content, ...]:
    """The contents that ask for labels of class 7."""
    return tuple(content for content in case.contents if is_radioactive(content) and not is_excepted(content))


def group_of(content: Content) -> str | None:
    """LSA-I to LSA-III, SCO-I to SCO-III: industrial packages, whose type the record has to say; else None."""
    found = re.search(_GROUP, content.name)
    return found[1] if found else None


def type_of(content: Content) -> str | None:
    """The package type: that of the entry, else as the record says; None where neither tells."""
    return TYPE_OF.get(content.entry.un) or content.goods.package_type


class Category(Struct, frozen=True):
    """A category of class 7. label: "7-I", "7-II" or "7-III"; index: as written on it; exclusive: under exclusive use
    only; why: both tests and the higher of the two."""

    label: str
    index: Decimal
    exclusive: bool
    why: str


def written_index(index: Decimal, on: date) -> Decimal:
    """The transport index as it counts: rounded up to one decimal, up to 0.05 nought (ADR 5.1.5.3.1, from memory)."""
    if index <= limit("radioactive", "index_nought", on, "special").value:
        return Decimal(0)
    return index.quantize(Decimal("0.1"), ROUND_CEILING)


def category(index: Decimal, dose: Decimal, on: date) -> Category:
    """The higher of the two categories that transport index and surface dose rate (mSv/h) give: 49 CFR 172.403(b)."""
    counted = written_index(index, on)
    by_index = _step(counted, (Decimal(0), *_values("index_yellow_two", "index_yellow_three", on=on)))
    by_dose = _step(dose, _values("dose_white", "dose_yellow_two", "dose_yellow_three", on=on))
    highest = max(by_index, by_dose)
    names = ("I-WHITE", "II-YELLOW", "III-YELLOW", "III-YELLOW under exclusive use")
    why = (
        f"transport index {plain(counted)} gives {names[by_index]}, {plain(dose)} mSv/h at the surface gives "
        f"{names[by_dose]}: the higher counts"
    )
    return Category(("7-I", "7-II", "7-III", "7-III")[highest], counted, highest == 3, why)


def _values(*names: str, on: date) -> tuple[Decimal, ...]:
    return tuple(limit("radioactive", name, on, "special").value for name in names)


def _step(value: Decimal, bounds: tuple[Decimal, ...]) -> int:
    """How many of the rising bounds the value is over."""
    return sum(value > bound for bound in bounds)


def contents_text(contents: Iterable[Content]) -> str | None:
    """What stands under CONTENTS: nuclides, with the group of LSA and SCO; LSA-I alone suffices. None: not said.

    49 CFR 172.403(g)(1); the groups behind the nuclide by ADR 5.2.2.1.11.2 (a), from memory.
    """
    texts = []
    for content in contents:
        group, nuclide = group_of(content), content.goods.nuclide
        if group == "LSA-I":
            texts.append(group)
        elif nuclide is None:
            return None
        else:
            texts.append(f"{nuclide} {group}" if group else nuclide)
    return ", ".join(dict.fromkeys(texts))


def activity_text(contents: Iterable[Content]) -> str | None:
    """The activity of all contents together in becquerels with the prefix that suits: "370 GBq". None: not said."""
    total = Decimal(0)
    for content in contents:
        if content.goods.activity is None:
            return None
        total += to(content.goods.activity, "Bq")
    prefixes = ((15, "P"), (12, "T"), (9, "G"), (6, "M"), (3, "k"), (0, ""))
    power, prefix = next((one for one in prefixes if total >= Decimal(10) ** one[0]), prefixes[-1])
    return f"{plain(total.scaleb(-power))} {prefix}Bq"


def aircraft_limit(content: Content, aircraft: Aircraft) -> str:
    """Type B(M) packages and exclusive use are for cargo aircraft only (ICAO TI 7;2.9, from memory); no mass limit."""
    barred = aircraft is Aircraft.PASSENGER and (type_of(content) == "B(M)" or content.goods.exclusive_use)
    return "Forbidden" if barred else "No limit"


AIRCRAFT_SOURCE = "ICAO TI 7;2.9"
