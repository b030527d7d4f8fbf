"""Every key of a record as a field of the form: what it is called, how it is written, and when it is asked.

The keys are those of ``marks.record``; a test holds the two against each other. What is not asked can be added: nothing a
record may say is out of the form's reach.
"""

from __future__ import annotations

from dataclasses import dataclass

from marks.terms import SIX, Aircraft, Colour, Mode, PackageForm, PackingGroup, ShipAs, State

#: When a field is asked. ALWAYS; DETAIL: when a finding asks for it, or somebody adds it; the others by their name.
ALWAYS, DETAIL, AIR, LIQUID, BOX, ROUND, PACKED, OPEN_FORM = (
    "always", "detail", "air", "liquid", "box", "round", "packed", "open form",
)  # fmt: skip


@dataclass(frozen=True)
class Field:
    """key: of the record. label: in words. example: how it is written. options: of a choice. asked: when.

    kind: ``text``, ``name`` (over the whole width), ``date``, ``month``, ``choice``, ``flag``, ``country``, ``code`` (of a
    packaging), ``un``, ``lines`` (a text of lines), ``words`` (parted by commas), ``many`` (boxes to tick).
    """

    key: str
    label: str
    kind: str = "text"
    example: str = ""
    options: tuple[str, ...] = ()
    asked: str = ALWAYS
    wide: bool = False


@dataclass(frozen=True)
class Group:
    """Keys that belong together. many: a list of such groups; each is called ``one``."""

    key: str
    label: str
    parts: tuple[Field | Group, ...]
    many: bool = False
    one: str = ""
    asked: str = ALWAYS


Part = Field | Group


def _words(enum: type) -> tuple[str, ...]:
    return tuple(str(one) for one in enum)  # type: ignore[attr-defined]


def _detail(key: str, label: str, kind: str = "text", example: str = "", options: tuple[str, ...] = ()) -> Field:
    return Field(key, label, kind, example, options, DETAIL)


_FACES, _MODES = tuple(map(str, SIX)), _words(Mode)
_PARTY: tuple[Part, ...] = (
    Field("name", "Name", "name"),
    Field("address", "Address, a line each", "lines", wide=True),
    Field("country", "Country", "country"),
    Field("phone", "Telephone", example="+47 00 00 00 10"),
)
_PERSON: tuple[Part, ...] = (Field("name", "Name"), Field("phone", "Telephone", example="+47 00 00 00 10"))


def _box(example: tuple[str, str, str] = ("400 mm", "300 mm", "330 mm"), asked: str = ALWAYS) -> tuple[Field, ...]:
    names = zip(("length", "width", "height"), ("Length", "Width", "Height"), example, strict=True)
    return tuple(Field(key, label, example=text, asked=asked) for key, label, text in names)


_PLACE: tuple[Part, ...] = (
    Field("face", "Face", "choice", options=_FACES),
    Field("x", "From the left edge", example="20 mm"),
    Field("y", "From the lower edge", example="20 mm"),
    Field("width", "Width", example="120 mm"),
    Field("height", "Height", example="60 mm"),
)
_BY_MODE: tuple[Part, ...] = tuple(Field(mode, mode) for mode in _MODES)

_INNER: tuple[Part, ...] = (
    Field("count", "How many", example="4"),
    Field("holds", "Each holds", example="1 L, 500 mL, 250 g"),
    Field("of", "What they are", example="glass bottle"),
    Field("absorbent", "Absorbent round them, for", "choice", options=("none", "some", "full"), asked=LIQUID),
    Field("gas_tight", "Hermetically sealed", "flag", asked=LIQUID),
    _detail("capacity", "Each holds to the brim", example="1.1 L"),
    Group(
        "size",
        "Outside of each",
        (*_box(("80 mm", "80 mm", "200 mm")), Field("diameter", "Diameter, of round ones", example="80 mm")),
        asked=DETAIL,
    ),
    _detail("mass_each", "Mass of each, filled", example="1.2 kg"),
    _detail("pressure_tested", "Each withstands", example="95 kPa"),
)
_BATTERIES: tuple[Part, ...] = (
    Field("kind", "Kind", "choice", options=("cells", "batteries")),
    Field("count", "How many in the package", example="8"),
    Field("arrangement", "They lie", "choice", options=("alone", "packed-with", "contained-in")),
    Field("energy_each", "Energy of each", example="74 Wh"),
    Field("lithium_each", "Lithium in each", example="1.0 g"),
    Field("state_of_charge", "Charged to, per cent", example="30"),
    Field("button_cells", "Button cells only", "flag"),
    Field("condition", "Condition", "choice", options=("sound", "damaged", "disposal", "recycling")),
)
_GOODS: tuple[Part, ...] = (
    Field("un", "UN number, or a part of the name", "un", "1219"),
    Field("name", "Proper shipping name", "choice"),
    Field("packing_group", "Packing group", "choice", options=_words(PackingGroup)),
    Field("line", "Line of the list", "choice"),
    _detail("technical_name", "Technical name", example="one or two substances"),
    _detail("state", "State", "choice", options=_words(State)),
    Group("inner", "Inner packagings", _INNER, asked=PACKED),
    Field("net", "Net quantity in one package", example="4 L, 25 kg"),
    Field("ship_as", "Shipped", "choice", options=(*_words(ShipAs), "by mode")),
    Group("ship_as_by", "Shipped, by mode", tuple(Field(m, m, "choice", options=_words(ShipAs)) for m in _MODES)),
    _detail("environmentally_hazardous", "Hazardous to the environment", "flag"),
    Group("packing_instruction", "Packing instruction", _BY_MODE, asked=DETAIL),
    _detail("leak_tight", "Leak-tight however it stands", "flag"),
    Group("batteries", "Batteries", _BATTERIES, asked=DETAIL),
    _detail("nuclide", "Nuclide", example="Ir-192"),
    _detail("activity", "Activity", example="370 GBq"),
    _detail("form", "Radioactive material is in", "choice", options=("special", "other")),
    _detail("package_type", "Type of package", "choice",
            options=("excepted", "IP-1", "IP-2", "IP-3", "A", "B(U)", "B(M)", "C")),
    _detail("transport_index", "Transport index", example="0.8"),
    _detail("surface_dose_rate", "Dose rate at the surface", example="0.6 mSv/h"),
    _detail("criticality_safety_index", "Criticality safety index", example="0.5"),
    _detail("design_country", "Vehicle code of the design's country", example="D"),
    _detail("exclusive_use", "Under exclusive use", "flag"),
    _detail("further_hazards", "Further hazards", "words", "6.1, 8"),
    _detail("net_explosive_mass", "Net explosive mass", example="2.4 kg"),
    _detail("explosive_label_waived_by", "Explosive label waived by", example="the approval's number"),
    Group("hazardous_substance", "Hazardous substance of US law", (
        Field("none", "It is none", "flag"), Field("name", "Name"), Field("rq", "Reportable quantity", example="100 lb"),
        Field("mass", "Mass in one package", example="45 kg"), Field("percent", "Share by weight, per cent", example="30"),
    ), asked=DETAIL),
    _detail("hazard_zone", "Hazard zone", "choice", options=("A", "B", "C", "D")),
    _detail("ex_numbers", "EX numbers", "words", "EX2001010101"),
    _detail("density", "Density, water is 1", example="0.79"),
    _detail("density_50", "Density at 50 °C", example="0.76"),
    Group("vapour_pressure", "Vapour pressure", (
        Field("at_50", "At 50 °C", example="25 kPa"), Field("at_55", "At 55 °C", example="31 kPa"),
    ), asked=DETAIL),
    _detail("boiling_point", "Boiling begins at", example="82 °C"),
    _detail("flash_point", "Flash point, closed cup", example="12 °C"),
    _detail("residue", "Empty, uncleaned", "flag"),
)  # fmt: skip
_PACKAGE: tuple[Part, ...] = (
    Field("package", "Its letter or number", example="A"),
    Field("count", "How many alike", example="2"),
    Field("packaging", "Packaging", "code", "4G, 1A1, none"),
    Field("form", "Shape", "choice", options=_words(PackageForm), asked=OPEN_FORM),
    Group("size", "Outside", (
        *_box(asked=BOX), Field("diameter", "Diameter", example="585 mm", asked=ROUND),
    )),
    Field("gross_mass", "Gross mass of one", example="17.2 kg"),
    Field("spec_mark", "Specification mark on it", example="4G/Y24/S/26/N/NP-2207", asked=PACKED, wide=True),
    Field("colour", "Colour of its outside", "choice", options=_words(Colour), asked=DETAIL),
    _detail("capacity", "Capacity", example="216 L"),
    _detail("max_net", "May hold at most", example="12 kg"),
    Group("goods", "Goods", _GOODS, many=True, one="Goods"),
    Group("preprinted", "Marks it bears already", (
        Field("mark", "Mark", "choice"), Field("variant", "Label", example="3"), *_PLACE,
    ), many=True, one="Preprinted mark", asked=DETAIL),
    Group("keep_clear", "Areas that take no label", (*_PLACE, Field("why", "Why", example="maker's name")),
          many=True, one="Area", asked=DETAIL),
    Group("coolant", "Coolant", (Field("un", "UN number", example="1845"), Field("mass", "Mass", example="6 kg")),
          asked=DETAIL),
    _detail("water_capacity", "Water capacity", example="50 L"),
    _detail("refillable", "Refillable", "flag"),
    _detail("made", "Month of making", "month"),
    _detail("inspected", "Last inspected", "date"),
    _detail("salvage", "It takes damaged packages", "flag"),
    Group("inside", "Clear inside", _box(("370 mm", "275 mm", "300 mm")), asked=DETAIL),
    _detail("liner", "Leakproof liner", "flag"),
    Group("filling", "Loose filling", (
        Field("of", "What it is", example="vermiculite"), Field("litre_takes", "A litre takes up", example="250 mL"),
        Field("litre_weighs", "A litre weighs", example="100 g"),
    ), asked=DETAIL),
    Group("certificate", "Its test certificate", (
        Field("inner_gross_mass", "Inner packagings at most", example="4 kg"),
        Group("distances", "Least thickness of cushioning", (
            Field("bottom", "Below", example="20 mm"), Field("sides", "At the sides", example="20 mm"),
            Field("between", "Between", example="20 mm"), Field("top", "Above", example="20 mm"),
        )),
    ), asked=DETAIL),
    _detail("empty_mass", "Mass, empty", example="0.9 kg"),
)  # fmt: skip
RECORD: tuple[Part, ...] = (
    Field("reference", "Your reference", example="HR-20458"),
    Field("date", "Day it is offered", "date", "2026-11-25"),
    Field("modes", "Legs of the journey", "many", options=_MODES),
    Field("aircraft", "Aircraft booked", "choice", options=_words(Aircraft), asked=AIR),
    _detail("emergency_phone", "Emergency telephone", example="+47 00 00 00 99"),
    Group("responsible_person", "Responsible person", _PERSON, asked=DETAIL),
    Group("shipper", "Shipper", _PARTY),
    Group("consignee", "Consignee", _PARTY),
    Group("packages", "Packages", _PACKAGE, many=True, one="Package"),
    Group("overpacks", "Overpacks", (
        Field("overpack", "Its letter or number", example="P1"),
        Field("packages", "Packages in it", "words", "A, A, B"),
        Group("size", "Outside", _box(("800 mm", "600 mm", "700 mm"))),
        Field("marks_visible", "Every mark can be read from outside", "flag"),
    ), many=True, one="Overpack", asked=DETAIL),
)  # fmt: skip

#: The whole record, as a group without a name.
WHOLE = Group("", "Record", RECORD)


def part_at(steps: tuple[str | int, ...]) -> Part | None:
    """The part a path leads to, or None: ``("packages", 0, "goods", 1, "un")``."""
    here: Part = WHOLE
    for step in steps:
        if not isinstance(here, Group):
            return None
        if isinstance(step, int):
            if not here.many:
                return None
            continue
        found = next((part for part in here.parts if part.key == step), None)
        if found is None:
            return None
        here = found
    return here
