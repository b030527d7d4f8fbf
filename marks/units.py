"""The units a record may use, and nothing more, as pint is told them; every factor is exact.

SI, and units accepted with it: SI brochure, 9th edition (2019), tables 2, 4, 7 and 8 (litre, tonne, bar). Inch, foot, pound,
US gallon: exact by definition, NIST Handbook 44, appendix C (1 in = 25.4 mm, 1 lb = 0.453 592 37 kg, 1 US gal = 231 cubic
inches). Curie 3.7e10 Bq and rem 0.01 Sv: SI brochure, 8th edition (2006), table 10.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pint import UnitRegistry

# A base unit -> its dimension.
BASES = {
    "metre": "[length]",
    "kilogram": "[mass]",
    "second": "[time]",
    "degree_Celsius": "[temperature]",
    "sievert": "[equivalent_dose]",
    "percent": "[]",
}
_VOLUME = {"metre": 3}
_PRESSURE = {"kilogram": 1, "metre": -1, "second": -2}
_ENERGY = {"kilogram": 1, "metre": 2, "second": -2}
_DOSE_RATE = {"sievert": 1, "hour": -1}
# Another -> how many of what it is.
OTHERS: dict[str, tuple[str, Mapping[str, int]]] = {
    "millimetre": ("0.001", {"metre": 1}),
    "centimetre": ("0.01", {"metre": 1}),
    "inch": ("0.0254", {"metre": 1}),
    "foot": ("0.3048", {"metre": 1}),
    "tonne": ("1000", {"kilogram": 1}),
    "gram": ("0.001", {"kilogram": 1}),
    "milligram": ("0.000001", {"kilogram": 1}),
    "pound": ("0.45359237", {"kilogram": 1}),
    "ounce": ("0.028349523125", {"kilogram": 1}),
    "cubic_metre": ("1", _VOLUME),
    "litre": ("0.001", _VOLUME),
    "decilitre": ("0.0001", _VOLUME),
    "centilitre": ("0.00001", _VOLUME),
    "millilitre": ("0.000001", _VOLUME),
    "microlitre": ("0.000000001", _VOLUME),
    "US_gallon": ("0.003785411784", _VOLUME),
    "US_fluid_ounce": ("0.0000295735295625", _VOLUME),
    "pascal": ("1", _PRESSURE),
    "hectopascal": ("100", {"pascal": 1}),
    "kilopascal": ("1000", {"pascal": 1}),
    "megapascal": ("1000000", {"pascal": 1}),
    "bar": ("100000", {"pascal": 1}),
    "millibar": ("100", {"pascal": 1}),
    "becquerel": ("1", {"second": -1}),
    "kilobecquerel": ("1000", {"becquerel": 1}),
    "megabecquerel": ("1000000", {"becquerel": 1}),
    "gigabecquerel": ("1000000000", {"becquerel": 1}),
    "terabecquerel": ("1000000000000", {"becquerel": 1}),
    "petabecquerel": ("1000000000000000", {"becquerel": 1}),
    "curie": ("37000000000", {"becquerel": 1}),
    "millicurie": ("37000000", {"becquerel": 1}),
    "microcurie": ("37000", {"becquerel": 1}),
    "hour": ("3600", {"second": 1}),
    "sievert_per_hour": ("1", _DOSE_RATE),
    "millisievert_per_hour": ("0.001", _DOSE_RATE),
    "microsievert_per_hour": ("0.000001", _DOSE_RATE),
    "millirem_per_hour": ("0.00001", _DOSE_RATE),
    "joule": ("1", _ENERGY),
    "watt_hour": ("3600", {"joule": 1}),
    "kilowatt_hour": ("3600000", {"joule": 1}),
    "milliwatt_hour": ("3.6", {"joule": 1}),
}


@cache
def registry() -> UnitRegistry[Decimal]:
    """The one unit registry, of these units alone, made when first asked for. Its numbers are ``Decimal``.

    It is told the units ready made: a text of definitions would take pint ten times as long to read.
    """
    from pint import UnitRegistry
    from pint.facets.plain import ScaleConverter, UnitDefinition
    from pint.util import UnitsContainer

    made: UnitRegistry[Decimal] = UnitRegistry(None, non_int_type=Decimal, cache_folder=None)

    def define(name: str, factor: str, of: Mapping[str, int]) -> None:
        scale: Any = Decimal(factor)
        unit: Any = UnitDefinition(name, None, (), ScaleConverter(scale), UnitsContainer(of, non_int_type=Decimal))
        made.define(unit)

    for name, dimension in BASES.items():
        define(name, "1", {dimension: 1})
    for name, (factor, of) in OTHERS.items():
        define(name, factor, of)
    return made
