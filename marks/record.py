"""Step 1, the shipment record: what the shipper says of the packages, in pydantic models.

The attributes bear the keys of the record. Every model is frozen and takes no unknown key; every value is read from text,
so that ``un: 0336`` keeps its nought and ``country: NO`` stays Norway. Records are read by marks.reading, which names file
and line of every fault; a model made from Python raises pydantic's ValidationError with the same reasons inside.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Annotated, Any, Literal, Self

from pydantic import Discriminator, Field, Tag, ValidationError, field_validator, model_validator

from marks.errors import Unreadable
from marks.fields import Count, Country, Day, Flag, Line, Loc, Model, PureNumber, Text, UnNumber, Word, a_list, countries, refuse_all
from marks.packaging import Packaging, SpecMark, read_code
from marks.quantity import (
    Activity, DoseRate, Energy, Length, Mass, MassOrVolume, Offset, Volume, canonical, is_mass, quoted, show, unit_of,
)  # fmt: skip
from marks.terms import Aircraft, Face, Mode, PackageForm, PackingGroup, ShipAs, State

if TYPE_CHECKING:
    from pint import Quantity

# Every mark a plan can name; ``hazard-label`` takes a variant after it, as in ``hazard-label 3``.
MARK_NAMES = (
    "hazard-label", "un-number", "proper-shipping-name", "shipper", "consignee", "net-quantity", "gross-mass",
    "orientation-arrows", "cargo-aircraft-only", "environmentally-hazardous", "limited-quantity", "limited-quantity-air",
    "excepted-quantity", "battery", "keep-away-from-heat", "cryogenic-liquid", "magnetized-material", "cooling-agent",
    "salvage", "overpack", "responsible-person", "package-type", "elevated-temperature", "inhalation-hazard",
)  # fmt: skip
_VARIANT = re.compile(r"1|1\.[1-6][A-S]?|2\.[123]|3|4\.[123]|5\.[12]|6\.[12]|7-(I|II|III)|7E|8|9A?")


class Party(Model):
    """Shipper or consignee, as the address is printed."""

    name: Line
    address: Annotated[tuple[Line, ...], a_list(most=6)]
    country: Country
    phone: Word | None = None

    @property
    def country_name(self) -> str:
        """The country in English, as the last line of an address abroad: ``Norway``."""
        return countries()[self.country]


class Person(Model):
    """The person to call about the goods."""

    name: Line
    phone: Word


class BoxSize(Model):
    """Outer length and width of the base, and height, as the package stands."""

    length: Length
    width: Length
    height: Length


class DrumSize(Model):
    """Outer diameter and height of a drum or cylinder."""

    diameter: Length
    height: Length


def _shape(value: object) -> str:
    keys = value if isinstance(value, Mapping) else ()
    return "drum" if isinstance(value, DrumSize) or "diameter" in keys else "box"


Size = Annotated[Annotated[BoxSize, Tag("box")] | Annotated[DrumSize, Tag("drum")], Discriminator(_shape)]


class Preprinted(Model):
    """A mark the packaging already bears; where it stands may be said, from the face's lower left corner."""

    mark: Literal[MARK_NAMES]  # type: ignore[valid-type]
    variant: Word | None = None
    face: Face | None = None
    x: Offset | None = None
    y: Offset | None = None
    width: Length | None = None
    height: Length | None = None

    @model_validator(mode="before")
    @classmethod
    def _from_name(cls, value: object) -> object:
        if not isinstance(value, str):
            return value
        name, _, variant = value.strip().partition(" ")
        return {"mark": name, "variant": variant} if variant else {"mark": name}

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        faults: list[tuple[Loc, Unreadable]] = []
        if (self.mark == "hazard-label") != (self.variant is not None):
            read = f"{self.mark} {self.variant or 'without variant'}"
            write = "write it as in hazard-label 3" if self.variant is None else f"write {self.mark} alone"
            faults.append((("variant",), Unreadable(read, "hazard labels, and they alone, have variants", write)))
        elif self.variant is not None and not _VARIANT.fullmatch(self.variant):
            why = "there is no such hazard label"
            faults.append((("variant",), Unreadable(quoted(self.variant), why, "write a class or division, as in 3, 6.1, 1.4S")))
        place = (self.x, self.y, self.width, self.height)
        if any(p is not None for p in place) and (None in place or self.face is None):
            why = "a place has a face, x, y, width and height, or none of them but the face"
            faults.append(((), Unreadable("a part of a place", why, "write them all, or leave them out")))
        if faults:
            refuse_all("preprinted", faults)
        return self

    @property
    def placed(self) -> bool:
        """Whether the record says exactly where it stands."""
        return self.x is not None


class KeepClear(Model):
    """A part of a face that takes no label, from the face's lower left corner."""

    face: Face
    x: Offset
    y: Offset
    width: Length
    height: Length
    why: Line | None = None


class Inner(Model):
    """The inner packagings of a combination packaging. ``absorbent`` around them: for none, some or all of the liquid;
    ``gas_tight``: hermetically sealed."""

    count: Count
    holds: MassOrVolume
    of: Line
    absorbent: Literal["none", "some", "full"] = "none"
    gas_tight: Flag = False

    @property
    def total(self) -> Quantity:
        return self.count * self.holds


class Batteries(Model):
    """Cells or batteries in one package: how many, the energy or lithium of each, and how they lie."""

    kind: Literal["cells", "batteries"]
    count: Count
    energy_each: Energy | None = None
    lithium_each: Mass | None = None
    arrangement: Literal["alone", "packed-with", "contained-in"]
    state_of_charge: PureNumber | None = None


def _one_or_by_mode(value: object) -> str:
    return "by-mode" if isinstance(value, Mapping) else "one"


ShipAsField = Annotated[
    Annotated[ShipAs, Tag("one")] | Annotated[dict[Mode, ShipAs], Tag("by-mode")], Discriminator(_one_or_by_mode)
]


class Goods(Model):
    """One content of a package: an entry of the goods list and how much of it."""

    un: UnNumber
    name: Text | None = None
    packing_group: PackingGroup | None = None
    line: Count | None = None
    technical_name: Text | None = None
    state: State | None = None
    inner: Inner | None = None
    net: MassOrVolume | None = Field(None, validate_default=True)
    ship_as: ShipAsField = ShipAs.FULL
    environmentally_hazardous: Flag | None = None
    packing_instruction: dict[Mode, Word] = {}
    leak_tight: Flag = False
    nuclide: Word | None = None
    activity: Activity | None = None
    form: Literal["special", "other"] | None = None
    package_type: Literal["excepted", "IP-1", "IP-2", "IP-3", "A", "B(U)", "B(M)"] | None = None
    transport_index: PureNumber | None = None
    surface_dose_rate: DoseRate | None = None
    criticality_safety_index: PureNumber | None = None
    design_country: Word | None = None
    batteries: Batteries | None = None

    @field_validator("net")
    @classmethod
    def _net_agrees(cls, net: Quantity | None, info: Any) -> Quantity | None:
        if "inner" not in info.data:  # the inner packagings are at fault themselves
            return net
        inner: Inner | None = info.data["inner"]
        if net is None and inner is None:
            raise Unreadable("neither net nor inner", "how much is in the package is not said", "write net: 4 L, or inner with count and holds")
        if net is not None and inner is not None and unit_of(net).kind == unit_of(inner.total).kind:
            if canonical(net) != canonical(inner.total):
                raise Unreadable(
                    quoted(show(net)),
                    f"{inner.count} inner packagings of {show(inner.holds)} hold {show(inner.total)}",
                    f"write {show(inner.total)}, or leave net out",
                )
        return net

    @property
    def net_total(self) -> Quantity:
        """All of it in one package: ``net``, or what the inner packagings hold together."""
        if self.net is not None:
            return self.net
        assert self.inner is not None  # one of the two is always said
        return self.inner.total

    def ship_as_for(self, mode: Mode) -> ShipAs:
        """How this leg takes it: full, limited or excepted."""
        return self.ship_as if isinstance(self.ship_as, ShipAs) else self.ship_as.get(mode, ShipAs.FULL)


class Coolant(Model):
    """What keeps the contents cold: dry ice (1845) or another."""

    un: UnNumber
    mass: Mass


class Package(Model):
    """One package, or ``count`` identical ones."""

    package: Word
    count: Count = 1
    packaging: Word
    form: PackageForm | None = Field(None, validate_default=True)
    size: Size | None = Field(None, validate_default=True)
    spec_mark: Text | None = None
    gross_mass: Mass
    capacity: Volume | None = None
    max_net: Mass | None = None
    preprinted: Annotated[tuple[Preprinted, ...], a_list(0)] = ()
    keep_clear: Annotated[tuple[KeepClear, ...], a_list(0)] = ()
    goods: Annotated[tuple[Goods, ...], a_list()]
    coolant: Coolant | None = None
    water_capacity: Volume | None = None
    refillable: Flag | None = None

    @field_validator("packaging")
    @classmethod
    def _known_code(cls, code: str) -> str:
        kind = read_code(code)
        return kind.code + (kind.letter or "")

    @field_validator("form")
    @classmethod
    def _form_agrees(cls, form: PackageForm | None, info: Any) -> PackageForm | None:
        if "packaging" not in info.data:
            return form
        kind = read_code(info.data["packaging"])
        if form is None and kind.form is None:
            raise Unreadable("no form", f"packaging {kind.code} does not say the shape", f"write form: {_either(PackageForm)}")
        if form is not None and kind.form not in (None, form):
            raise Unreadable(quoted(form), f"{kind.code} is a {kind.text}", f"write {kind.form}, or leave form out")
        return form

    @field_validator("size")
    @classmethod
    def _size_agrees(cls, size: BoxSize | DrumSize | None, info: Any) -> BoxSize | DrumSize | None:
        if "packaging" not in info.data or "form" not in info.data:
            return size
        form = info.data["form"] or read_code(info.data["packaging"]).form
        is_round = form in (PackageForm.DRUM, PackageForm.CYLINDER)
        keys = "{diameter: 380 mm, height: 500 mm}" if is_round else "{length: 380 mm, width: 285 mm, height: 310 mm}"
        if size is None:
            raise Unreadable("no size", "no mark can be placed on a package of unknown size", f"write size: {keys}")
        if isinstance(size, DrumSize) != is_round:
            read = "diameter and height" if isinstance(size, DrumSize) else "length, width and height"
            raise Unreadable(read, f"the package is a {form}", f"write size: {keys}")
        return size

    @field_validator("spec_mark")
    @classmethod
    def _spec_mark_reads(cls, text: str | None, info: Any) -> str | None:
        if text and "packaging" in info.data and read_code(info.data["packaging"]).kind not in ("ibc", "large", "cylinder"):
            SpecMark.parse(text)
        return text

    @model_validator(mode="after")
    def _gross_is_more_than_net(self) -> Self:
        masses = [g.net_total for g in self.goods if is_mass(g.net_total)]
        if masses and (net := sum(masses[1:], masses[0])) > self.gross_mass:
            why = f"the goods alone weigh {show(net)}"
            refuse_all("package", [(("gross_mass",), Unreadable(quoted(show(self.gross_mass)), why, "weigh the package again"))])
        return self

    @property
    def kind(self) -> Packaging:
        """What the packaging code means."""
        return read_code(self.packaging)

    @property
    def form_derived(self) -> PackageForm:
        """The shape: said, or that of the packaging code."""
        form = self.form or self.kind.form
        assert form is not None  # the record is refused otherwise
        return form

    @property
    def specification(self) -> SpecMark | None:
        """The specification mark taken apart; None without one, and on IBCs, large packagings and cylinders."""
        if self.spec_mark is None or self.kind.kind in ("ibc", "large", "cylinder"):
            return None
        return SpecMark.parse(self.spec_mark)


class Overpack(Model):
    """Packages put together by one shipper; ``marks_visible``: every mark inside can be read from outside."""

    overpack: Word
    packages: Annotated[tuple[Word, ...], a_list()]
    size: BoxSize | None = None
    marks_visible: Flag = False


class Record(Model):
    """A shipment: parties, legs, packages."""

    record: Literal["sixface/1"]
    reference: Word
    date: Day
    modes: Annotated[tuple[Mode, ...], a_list()]
    aircraft: Aircraft | None = None
    shipper: Party
    consignee: Party
    emergency_phone: Word | None = None
    responsible_person: Person | None = None
    packages: Annotated[tuple[Package, ...], a_list()]
    overpacks: Annotated[tuple[Overpack, ...], a_list(0)] = ()

    @model_validator(mode="wrap")
    @classmethod
    def _whole(cls, data: Any, handler: Any) -> Self:
        """What only the whole can show is told together with what its parts show."""
        across = list(faults_across(data)) if isinstance(data, Mapping) else []
        try:
            record = handler(data)
        except ValidationError as parts:
            refuse_all("record", across, parts)
        if across:
            refuse_all("record", across)
        return record


def faults_across(data: Mapping[str, Any]) -> Iterator[tuple[Loc, Unreadable]]:
    """Faults between the parts of a record not yet read: letters given twice, overpacks of unknown packages, legs left out.

    Takes whatever is there, models or plain lists and groups, and passes over what is broken in itself.
    """
    packages, overpacks, modes = _list(data, "packages"), _list(data, "overpacks"), [str(m) for m in _list(data, "modes")]
    for i, mode in enumerate(modes):
        if mode in modes[:i]:
            yield ("modes", i), Unreadable(quoted(mode), "the same leg stands there twice", "write each once")
    letters = [_word(p, "package") for p in packages]
    for i, letter in enumerate(letters):
        if letter and letter in letters[:i]:
            why = f"package {letters.index(letter) + 1} has that letter already"
            yield ("packages", i, "package"), Unreadable(quoted(letter), why, "write another, or count: for identical packages")
    for i, p in enumerate(packages):
        for j, g in enumerate(_list(p, "goods")):
            by_mode = _get(g, "ship_as")
            if isinstance(by_mode, Mapping):
                for missing in [m for m in modes if m not in {str(k) for k in by_mode}]:
                    why = f"{missing} is a leg of the journey and has no word here"
                    yield ("packages", i, "goods", j, "ship_as"), Unreadable(_either(map(str, by_mode), " and "), why, f"add {missing}: full, limited or excepted")
    names: list[str] = []
    used: Counter[str] = Counter()
    counts = {letter: str(_get(p, "count") or 1) for letter, p in zip(letters, packages, strict=True) if letter}
    for i, o in enumerate(overpacks):
        name = _word(o, "overpack")
        if name and (name in names or name in letters):
            yield ("overpacks", i, "overpack"), Unreadable(quoted(name), "a package or overpack has that name already", "write another")
        names.append(name)
        for j, inside in enumerate(_list(o, "packages")):
            letter = str(inside).strip()
            used[letter] += 1
            if letter not in counts:
                write = f"write {_either(counts)}" if counts else "write the letters of packages above"
                yield ("overpacks", i, "packages", j), Unreadable(quoted(letter), "no package has that letter", write)
            elif counts[letter].isdigit() and used[letter] > int(counts[letter]):
                why = f"there are only {counts[letter]} of package {letter}"
                yield ("overpacks", i, "packages", j), Unreadable(quoted(letter), why, "take it out, or raise the package's count")


def _get(item: Any, key: str) -> Any:
    return item.get(key) if isinstance(item, Mapping) else getattr(item, key, None)


def _list(item: Any, key: str) -> list[Any]:
    value = _get(item, key)
    return list(value) if isinstance(value, list | tuple) else []


def _word(item: Any, key: str) -> str:
    value = _get(item, key)
    return " ".join(str(value).split()) if isinstance(value, str | int) else ""


def _either(words: Any, link: str = " or ") -> str:
    *first, last = [str(w) for w in words] or ["nothing"]
    return f"{', '.join(first)}{link}{last}" if first else last


def record_schema() -> dict[str, Any]:
    """The JSON Schema of a record."""
    return Record.model_json_schema() | {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "sixface/1"}
