"""Step 1, the shipment record: what the shipper says of the packages, in pydantic models.

The attributes bear the keys of the record. Every model is frozen and takes no unknown key; every value is read from
text, so that ``un: 0336`` keeps its nought and ``country: NO`` stays Norway. Records are read by marks.reading, which
names file and line of every fault; a model made from Python raises pydantic's ValidationError with the same reasons.
"""

# No annotations from __future__: pydantic reads them, and would have to make types of their texts first.
from collections.abc import Mapping
from typing import Annotated, Any, Literal, Self

from pydantic import (
    Discriminator,
    Field,
    ModelWrapValidatorHandler,
    Tag,
    ValidationError,
    field_validator,
    model_validator,
)

from marks.across import either, faults_across
from marks.bulk_mark import BulkMark
from marks.errors import Unreadable
from marks.fields import (
    AList,
    Celsius,
    Count,
    Country,
    Day,
    Flag,
    Line,
    Model,
    Month,
    PureNumber,
    Text,
    UnNumber,
    Word,
    countries,
    refuse_all,
)
from marks.inner import Certificate, Filling, Inner, InsideSize, VapourPressure
from marks.outside import BoxSize, DrumSize, KeepClear, Preprinted, Size
from marks.packaging import Packaging, SpecMark, read_code
from marks.quantity import (
    Activity,
    DoseRate,
    Energy,
    Mass,
    MassOrVolume,
    Quantity,
    Volume,
    canonical,
    is_mass,
    quoted,
    show,
    unit_of,
)  # fmt: skip
from marks.terms import Aircraft, Colour, Mode, PackageForm, PackingGroup, ShipAs, State


class Party(Model):
    """Shipper or consignee, as the address is printed."""

    name: Line
    address: Annotated[tuple[Line, ...], AList(most=6)]
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


class Batteries(Model):
    """Cells or batteries in one package: how many, the energy or lithium of each (of the largest), and how they lie.

    ``state_of_charge``: in per cent. ``button_cells``: button cells only. ``condition``: damaged or defective, or on
    their way to disposal or recycling.
    """

    kind: Literal["cells", "batteries"]
    count: Count
    energy_each: Energy | None = None
    lithium_each: Mass | None = None
    arrangement: Literal["alone", "packed-with", "contained-in"]
    state_of_charge: PureNumber | None = None
    button_cells: Flag = False
    condition: Literal["sound", "damaged", "disposal", "recycling"] = "sound"


class HazardousSubstance(Model):
    """A hazardous substance of US law: its name and reportable quantity in Appendix A of 49 CFR 172.101.

    ``mass``: how much of it one package holds, where ``net`` is a volume or a mixture; ``percent``: its share by
    weight.
    """

    name: Line
    rq: Mass
    mass: Mass | None = None
    percent: PureNumber | None = None


def _none_or_one(value: object) -> str:
    return "none" if isinstance(value, str) else "one"


SubstanceField = Annotated[
    Annotated[Literal["none"], Tag("none")] | Annotated[HazardousSubstance, Tag("one")], Discriminator(_none_or_one)
]


def _one_or_by_mode(value: object) -> str:
    return "by-mode" if isinstance(value, Mapping) else "one"


#: Classes and divisions that goods may have beside those of their entry.
FurtherHazard = Literal["1", "2.1", "2.2", "2.3", "3", "4.1", "4.2", "4.3", "5.1", "5.2", "6.1", "6.2", "8"]

ShipAsField = Annotated[
    Annotated[ShipAs, Tag("one")] | Annotated[dict[Mode, ShipAs], Tag("by-mode")], Discriminator(_one_or_by_mode)
]


class Goods(Model):
    """One content of a package: an entry of the goods list and how much of it.

    Of a liquid, where known: ``density`` (relative to water, at 15 °C) and ``density_50``, ``vapour_pressure``, initial
    ``boiling_point``, ``flash_point`` (closed cup). ``residue``: the packaging is empty and uncleaned.
    ``further_hazards``: subsidiary hazards beside those of the entry, each of which has its label.
    ``explosive_label_waived_by``: the approval by which a self-reactive substance or organic peroxide goes without its
    explosive label.
    """

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
    package_type: Literal["excepted", "IP-1", "IP-2", "IP-3", "A", "B(U)", "B(M)", "C"] | None = None
    transport_index: PureNumber | None = None
    surface_dose_rate: DoseRate | None = None
    criticality_safety_index: PureNumber | None = None
    design_country: Word | None = None
    exclusive_use: Flag = False
    further_hazards: Annotated[tuple[FurtherHazard, ...], AList(0)] = ()
    net_explosive_mass: Mass | None = None
    explosive_label_waived_by: Word | None = None
    batteries: Batteries | None = None
    hazardous_substance: SubstanceField | None = None
    hazard_zone: Literal["A", "B", "C", "D"] | None = None
    ex_numbers: Annotated[tuple[Word, ...], AList(0)] = ()
    density: PureNumber | None = None
    density_50: PureNumber | None = None
    vapour_pressure: VapourPressure | None = None
    boiling_point: Celsius | None = None
    flash_point: Celsius | None = None
    residue: Flag = False

    @field_validator("net")
    @classmethod
    def _net_agrees(cls, net: Quantity | None, info: Any) -> Quantity | None:
        if "inner" not in info.data:  # the inner packagings are at fault themselves
            return net
        inner: Inner | None = info.data["inner"]
        if net is None:
            if inner is None:
                raise Unreadable(
                    "neither net nor inner",
                    "how much is in the package is not said",
                    "write net: 4 L, or inner with count and holds",
                )
            return None
        # In unlike units (cans of 400 mL, 3.9 kg in all) the two can't be held against each other.
        if inner and unit_of(net).kind == unit_of(inner.holds).kind and canonical(net) != canonical(inner.total):
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
    """One package, or ``count`` identical ones.

    ``colour``: of its outside. ``made``: month of making; ``inspected``: day of the last test of an IBC; ``salvage``: it
    takes damaged packages.
    ``inside``, ``liner``, ``filling``, ``certificate``, ``empty_mass``: what its inside is computed from.
    """

    package: Word
    count: Count = 1
    packaging: Word
    form: PackageForm | None = Field(None, validate_default=True)
    size: Size | None = Field(None, validate_default=True)
    colour: Colour | None = None
    spec_mark: Text | None = None
    gross_mass: Mass
    capacity: Volume | None = None
    max_net: Mass | None = None
    preprinted: Annotated[tuple[Preprinted, ...], AList(0)] = ()
    keep_clear: Annotated[tuple[KeepClear, ...], AList(0)] = ()
    goods: Annotated[tuple[Goods, ...], AList()]
    coolant: Coolant | None = None
    water_capacity: Volume | None = None
    refillable: Flag | None = None
    made: Month | None = None
    inspected: Day | None = None
    salvage: Flag = False
    inside: InsideSize | None = None
    liner: Flag | None = None
    filling: Filling | None = None
    certificate: Certificate | None = None
    empty_mass: Mass | None = None

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
            raise Unreadable(
                "no form", f"packaging {kind.code} does not say the shape", f"write form: {either(PackageForm)}"
            )
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
        either_shape = form is PackageForm.JERRICAN  # most have four sides, some are round
        keys = "{diameter: 380 mm, height: 500 mm}" if is_round else "{length: 380 mm, width: 285 mm, height: 310 mm}"
        if size is None:
            raise Unreadable("no size", "no mark can be placed on a package of unknown size", f"write size: {keys}")
        if isinstance(size, DrumSize) != is_round and not either_shape:
            read = "diameter and height" if isinstance(size, DrumSize) else "length, width and height"
            raise Unreadable(read, f"the package is a {form}", f"write size: {keys}")
        return size

    @field_validator("spec_mark")
    @classmethod
    def _spec_mark_reads(cls, text: str | None, info: Any) -> str | None:
        kind = read_code(info.data["packaging"]).kind if text and "packaging" in info.data else "cylinder"
        if text and kind != "cylinder":
            (BulkMark if kind in ("ibc", "large") else SpecMark).parse(text)
        return text

    @model_validator(mode="after")
    def _gross_is_more_than_net(self) -> Self:
        masses = [g.net_total for g in self.goods if is_mass(g.net_total)]
        if masses and (net := sum(masses[1:], masses[0])) > self.gross_mass:
            why = f"the goods alone weigh {show(net)}"
            refuse_all(
                "package",
                [(("gross_mass",), Unreadable(quoted(show(self.gross_mass)), why, "weigh the package again"))],
            )
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
    def spec(self) -> SpecMark | None:
        """The specification mark taken apart; None without one, and on IBCs, large packagings and cylinders."""
        if self.spec_mark is None or self.kind.kind in ("ibc", "large", "cylinder"):
            return None
        return SpecMark.parse(self.spec_mark)

    @property
    def bulk_spec(self) -> BulkMark | None:
        """The same of an IBC or large packaging; None on all others."""
        return BulkMark.parse(self.spec_mark) if self.spec_mark and self.kind.kind in ("ibc", "large") else None


class Overpack(Model):
    """Packages put together by one shipper; ``marks_visible``: every mark inside can be read from outside."""

    overpack: Word
    packages: Annotated[tuple[Word, ...], AList()]
    size: BoxSize | None = None
    marks_visible: Flag = False


class Record(Model):
    """A shipment: parties, legs, packages."""

    record: Literal["sixface/1"]
    reference: Word
    date: Day
    modes: Annotated[tuple[Mode, ...], AList()]
    aircraft: Aircraft | None = None
    shipper: Party
    consignee: Party
    emergency_phone: Word | None = None
    responsible_person: Person | None = None
    packages: Annotated[tuple[Package, ...], AList()]
    overpacks: Annotated[tuple[Overpack, ...], AList(0)] = ()

    @model_validator(mode="wrap")
    @classmethod
    def _whole(cls, data: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        """What only the whole can show is told together with what its parts show."""
        across = list(faults_across(data)) if isinstance(data, Mapping) else []
        try:
            record = handler(data)
        except ValidationError as parts:
            refuse_all("record", across, parts)
        if across:
            refuse_all("record", across)
        return record


def record_schema() -> dict[str, Any]:
    """The JSON Schema of a record."""
    return Record.model_json_schema() | {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "sixface/1",
    }
