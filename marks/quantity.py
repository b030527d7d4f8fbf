"""Quantities: one decimal number and one known unit, read strictly and held exactly.

``read_quantity("3,5 kg")`` is 3.5 kg, exactly: pint holds the quantity (``Decimal`` magnitude, marks.units), but text
never reaches pint's own parser. What is not one number and one unit of the list below is refused with a cure. pint is
loaded when the first quantity is read, not when this module is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Annotated, Any, TypeAlias

from msgspec import Struct
from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from marks.errors import Unreadable
from marks.units import registry

if TYPE_CHECKING:
    from pint import Quantity as PintQuantity
    from pint import Unit as PintUnit
    from pint.util import UnitsContainer

    Quantity: TypeAlias = PintQuantity[Decimal]
else:
    Quantity = Any

MOST_DIGITS = 15  # before the point, and 12 after it: far from the 28 digits to which Decimal works

# kind -> pint's name in marks.units -> the spellings people write; the first is the one sixface prints.
UNITS: dict[str, dict[str, tuple[str, ...]]] = {
    "volume": {
        "litre": ("L", "l", "ℓ", "ltr", "litre", "litres", "liter", "liters"),
        "decilitre": ("dL", "dl"),
        "centilitre": ("cL", "cl"),
        "millilitre": ("mL", "ml", "millilitre", "millilitres", "milliliter", "milliliters", "cm3", "cm³"),
        "microlitre": ("µL", "μL", "µl", "μl", "uL", "ul"),
        "cubic_metre": ("m3", "m³"),
        "US_gallon": ("US gal", "US gallon", "US gallons"),
        "US_fluid_ounce": ("US fl oz", "US fluid ounce", "US fluid ounces"),
    },
    "mass": {
        "kilogram": ("kg", "kilogram", "kilograms", "kilogramme", "kilogrammes", "kilo", "kilos"),
        "gram": ("g", "gram", "grams", "gramme", "grammes"),
        "milligram": ("mg", "milligram", "milligrams"),
        "tonne": ("t", "tonne", "tonnes"),
        "pound": ("lb", "lbs", "pound", "pounds"),
        "ounce": ("oz", "ounce", "ounces"),
    },
    "length": {
        "millimetre": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
        "centimetre": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
        "metre": ("m", "metre", "metres", "meter", "meters"),
        "inch": ("in", "inch", "inches", "″"),
        "foot": ("ft", "foot", "feet", "′"),
    },
    "pressure": {
        "kilopascal": ("kPa",),
        "bar": ("bar",),
        "megapascal": ("MPa",),
        "hectopascal": ("hPa",),
        "pascal": ("Pa",),
        "millibar": ("mbar",),
    },
    "activity": {
        "becquerel": ("Bq",),
        "kilobecquerel": ("kBq",),
        "megabecquerel": ("MBq",),
        "gigabecquerel": ("GBq",),
        "terabecquerel": ("TBq",),
        "petabecquerel": ("PBq",),
        "curie": ("Ci",),
        "millicurie": ("mCi",),
        "microcurie": ("µCi", "μCi", "uCi"),
    },
    "dose rate": {
        "millisievert_per_hour": ("mSv/h",),
        "microsievert_per_hour": ("µSv/h", "μSv/h", "uSv/h"),
        "sievert_per_hour": ("Sv/h",),
        "millirem_per_hour": ("mrem/h",),
    },
    "energy": {"watt_hour": ("Wh",), "kilowatt_hour": ("kWh",), "milliwatt_hour": ("mWh",)},
    "temperature": {"degree_Celsius": ("°C",)},
    "proportion": {"percent": ("%",)},
}
# What people also write, and why it is not taken: nothing is guessed where a factor hangs on it.
NOT_TAKEN = {
    "gal": ("a gallon may be the US or the imperial one", "US gal, or litres"),
    "gallon": ("a gallon may be the US or the imperial one", "US gal, or litres"),
    "gallons": ("a gallon may be the US or the imperial one", "US gal, or litres"),
    "fl oz": ("a fluid ounce may be the US or the imperial one", "US fl oz, or mL"),
    "ton": ("a ton may be long, short or metric", "t for 1000 kg"),
    "tons": ("a ton may be long, short or metric", "t for 1000 kg"),
    "ML": ("ML is a million litres", "mL for millilitres"),
    "Mg": ("Mg is a thousand kilograms", "mg for milligrams, t for tonnes"),
    "MG": ("MG is no unit", "mg or kg"),
    "C": ("C alone is no temperature", "°C"),
    '"': ("quotation marks are not a unit", "in for inches"),
    "'": ("an apostrophe is not a unit", "ft for feet"),
}
EXAMPLES = {
    "volume": "1 L", "mass": "11.6 kg", "length": "380 mm", "pressure": "150 kPa", "activity": "370 GBq",
    "dose rate": "0.6 mSv/h", "energy": "74 Wh", "temperature": "21 °C", "proportion": "30 %",
}  # fmt: skip
_NUMBER = rf"[0-9]{{1,{MOST_DIGITS}}}(?:[.,][0-9]{{1,12}})?"
_PARTS = re.compile(rf"({_NUMBER})[ \u00a0\u202f]?([^\W\d_].*|[%°″′\"'].*)", re.DOTALL)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


class Unit(Struct, frozen=True):
    """A unit a record may use: its kind (``volume``), pint's name for it and the symbol sixface prints."""

    kind: str
    name: str
    symbol: str


SPELLINGS: dict[str, Unit] = {
    spelling: Unit(kind, name, spellings[0])
    for kind, units in UNITS.items()
    for name, spellings in units.items()
    for spelling in spellings
}
_BY_NAME: dict[str, Unit] = {unit.name: unit for unit in SPELLINGS.values()}


def quantity(magnitude: Decimal | int, unit: str) -> Quantity:
    """A quantity from a number and a unit's spelling: ``quantity(4, "L")``."""
    return _quantity(Decimal(magnitude), SPELLINGS[unit].name)


@cache
def _in_pint(name: str) -> UnitsContainer:
    """A unit as pint holds it; a name pint would have to parse."""
    return registry().UnitsContainer({name: 1})


def _quantity(magnitude: Decimal, name: str) -> Quantity:
    return registry().Quantity(magnitude, _in_pint(name))


def read_quantity(text: str, *kinds: str) -> Quantity:
    """The quantity a text states: one decimal number (comma or point) and one unit of UNITS, a space between or none.

    No sign, exponent, thousands sign or second number. Raises Unreadable, with the cure; ``kinds`` are those the cure
    speaks of, as in ``mass``.
    """
    written = text.strip()
    found = _PARTS.fullmatch(written)
    if not found:
        raise _not_a_quantity(written, kinds)
    number, spelling = found[1], found[2]
    unit = SPELLINGS.get(spelling)
    if unit is None:
        raise _unknown_unit(written, number, spelling, kinds)
    if _THOUSANDS.fullmatch(number):
        whole, part = number.split(",")
        raise Unreadable(
            quoted(written),
            "a comma before three figures may part thousands or be a decimal sign",
            f"write {whole}{part} {unit.symbol} or {whole}.{part} {unit.symbol}, whichever is meant",
        )
    return _quantity(Decimal(number.replace(",", ".")), unit.name)


# How a text fails to be a quantity, the likeliest reading first.
_FAILINGS = (
    (r"[0-9]+([.,][0-9]+)?$", "a quantity without its unit can mean anything"),
    (r"[-+−–]", "a quantity has no sign"),
    (r"[0-9]{1,3}([ \u00a0\u202f'’][0-9]{3})+(?![0-9])", "thousands are not parted: a second number could be anything"),
    (r"[0-9]+[.,][0-9]+[.,]", "thousands are not parted: a second number could be anything"),
    (r"[0-9.,]+[eE][-+]?[0-9]", "a number is written without exponent"),
    (r"[.,][0-9]", "a number has a figure before the decimal sign"),
    (r"[^0-9]", "it does not begin with a number in the figures 0 to 9"),
    (rf"[0-9]{{{MOST_DIGITS + 1}}}|[0-9]+[.,][0-9]{{13}}", "the number has more figures than any package needs"),
    (r".*[0-9]\s*[^0-9\s]+\s*[0-9]", "only one number and one unit may stand here"),
)


def _not_a_quantity(written: str, kinds: tuple[str, ...]) -> Unreadable:
    examples = " or ".join(quoted(EXAMPLES[kind]) for kind in kinds or ("volume", "mass", "length"))
    write = f"write one number and one unit, as in {examples}"
    why = next((why for failing, why in _FAILINGS if re.match(failing, written)), "it is not one number and one unit")
    return Unreadable(quoted(written) if written else "nothing", why, write)


def _unknown_unit(written: str, number: str, spelling: str, kinds: tuple[str, ...]) -> Unreadable:
    if re.search(r"[0-9]", spelling):  # more than a unit follows the number
        return _not_a_quantity(written, kinds)
    if spelling in NOT_TAKEN:
        why, write = NOT_TAKEN[spelling]
        return Unreadable(quoted(written), why, f"write {write}")
    near = sorted({unit.symbol for known, unit in SPELLINGS.items() if known.casefold() == spelling.casefold()})
    if near:
        write = f"write {quoted(f'{number} {near[0]}')} if that is meant"
        return Unreadable(quoted(written), f"{quoted(spelling)} is no unit: capitals count", write)
    why, write = (
        f"{quoted(spelling)} is no unit known here",
        f"write one of {symbols(*kinds or ('volume', 'mass', 'length'))}",
    )
    return Unreadable(quoted(written), why, write)


def quoted(text: object, most: int = 60) -> str:
    """A text as a message shows it: quoted, on one line, cut when long, unprintable characters as U+xxxx."""
    shown = "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in str(text))
    mark = "'" if '"' in shown else '"'
    return f"{mark}{shown if len(shown) <= most else shown[:most] + '…'}{mark}"


def symbols(*kinds: str) -> str:
    """The printed symbols of some kinds: ``L, dL, cL, ...``."""
    return ", ".join(spellings[0] for kind in kinds for spellings in UNITS[kind].values())


def unit_of(q: Quantity) -> Unit:
    """The unit a quantity is held in."""
    return _BY_NAME[_name(q.units)]


@cache
def _name(unit: PintUnit) -> str:
    """Pint writes a unit's name anew each time it is asked."""
    return str(unit)


@cache
def _in_root(name: str) -> Quantity:
    """One of a unit in the unit its dimension begins with."""
    one: Any = _quantity(Decimal(1), name)
    root: Quantity = one.to_root_units()
    return root


def to(q: Quantity, unit: str) -> Decimal:
    """The magnitude in another unit, exact wherever it has an exact decimal: ``to(q, "mL")``.

    Both are brought to the base unit, which multiplies, and only then divided: pint's own way multiplies by a rounded
    inverse, and makes 16 oz a little less than 1 lb. Raises pint's DimensionalityError when litres are asked
    of kilograms.
    """
    name = SPELLINGS[unit].name
    held = _name(q.units)
    if held == name:
        return q.magnitude
    here, one = _in_root(held), _in_root(name)
    return q.magnitude * here.magnitude / one.magnitude if here.units == one.units else q.to(_in_pint(name)).magnitude


def is_volume(q: Quantity) -> bool:
    """Whether it is a volume."""
    return unit_of(q).kind == "volume"


def is_mass(q: Quantity) -> bool:
    """Whether it is a mass."""
    return unit_of(q).kind == "mass"


def is_length(q: Quantity) -> bool:
    """Whether it is a length."""
    return unit_of(q).kind == "length"


def plain(number: Decimal) -> str:
    """A number without exponent and without zeros at the end: ``1000``, ``0.5``."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


_LARGER = {"millilitre": "litre", "gram": "kilogram", "milligram": "gram"}


def show(q: Quantity) -> str:
    """A quantity as a person writes it, exactly: ``4 L``; from a thousand of a small unit in the larger: ``1.2 L``."""
    while q.magnitude >= 1000 and _name(q.units) in _LARGER:
        q = q.to(_in_pint(_LARGER[_name(q.units)]))
    unit = unit_of(q)
    return f"{plain(q.magnitude)}{'' if unit.symbol in '″′' else ' '}{unit.symbol}"


_BASE = {
    "volume": "mL",
    "mass": "g",
    "length": "mm",
    "pressure": "kPa",
    "activity": "Bq",
    "dose rate": "mSv/h",
    "energy": "Wh",
}


def canonical(q: Quantity) -> str:
    """One text for one amount, whatever its unit: ``1 L`` and ``1000 mL`` are both ``1000 mL``. For digests."""
    symbol = _BASE.get(unit_of(q).kind, unit_of(q).symbol)
    return f"{plain(to(q, symbol))} {symbol}"


def _a(noun: str) -> str:
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


class _Field:
    """Makes ``Quantity`` a field of a model: reads text, takes a quantity of the right kind, gives JSON its text."""

    def __init__(self, *kinds: str, zero: bool = False) -> None:
        self.kinds, self.zero = kinds, zero

    def read(self, value: object) -> Quantity:
        if isinstance(value, int | float | Decimal):
            value = str(value)
        if isinstance(value, str):
            q = read_quantity(value, *self.kinds)
        elif isinstance(value, registry().Quantity):
            q = value
        else:
            read = "a list" if isinstance(value, list | tuple) else "a group of keys"
            raise Unreadable(read, f"{_a(self.name)} is one text", f"write it as in {quoted(self.example)}")
        written = quoted(value if isinstance(value, str) else show(q))
        if (kind := unit_of(q).kind) not in self.kinds:
            write = f"write {_a(self.name)}, in one of {symbols(*self.kinds)}"
            raise Unreadable(written, f"{_a(kind)} can't stand for {_a(self.name)}", write)
        if q.magnitude < 0:
            raise Unreadable(written, "a quantity has no sign", f"write it as in {quoted(self.example)}")
        if not q.magnitude and not self.zero:
            raise Unreadable(
                written, f"{_a(self.name)} of nothing is none", "write what there is, or leave the key out"
            )
        return q

    @property
    def name(self) -> str:
        return " or ".join(self.kinds)

    @property
    def example(self) -> str:
        return EXAMPLES[self.kinds[0]]

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read,
            serialization=core_schema.plain_serializer_function_ser_schema(_text, when_used="json-unless-none"),
        )

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {
            "type": "string",
            "description": f"{_a(self.name)}: one decimal number and one unit of {symbols(*self.kinds)}",
            "pattern": _pattern(
                spelling for kind in self.kinds for names in UNITS[kind].values() for spelling in names
            ),
            "examples": [self.example],
        }


def _pattern(spellings: Iterable[str]) -> str:
    return rf"^\s*{_NUMBER}[ \u00a0\u202f]?({'|'.join(re.escape(s) for s in spellings)})\s*$"


def _text(q: Quantity) -> str:
    return f"{plain(q.magnitude)} {unit_of(q).symbol}"


Volume = Annotated[Quantity, _Field("volume")]
Mass = Annotated[Quantity, _Field("mass")]
Length = Annotated[Quantity, _Field("length")]
Offset = Annotated[Quantity, _Field("length", zero=True)]
MassOrVolume = Annotated[Quantity, _Field("volume", "mass")]
Pressure = Annotated[Quantity, _Field("pressure")]
Activity = Annotated[Quantity, _Field("activity")]
DoseRate = Annotated[Quantity, _Field("dose rate", zero=True)]
Energy = Annotated[Quantity, _Field("energy")]
