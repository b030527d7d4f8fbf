"""Step 1, inside a package: the inner packagings, what stands round them, and what the packaging's certificate asks.

All of it but what the inner packagings are and hold is optional. What is said lets step 2 compute the inside of a box.
"""

# No annotations from __future__: pydantic reads them, and would have to make types of their texts first.
from typing import Any, Literal

from pydantic import Field, field_validator

from marks.errors import Unreadable
from marks.fields import Count, Flag, Line, Model
from marks.outside import Size
from marks.quantity import Length, Mass, MassOrVolume, Offset, Pressure, Quantity, Volume, is_volume, quoted, show


class Inner(Model):
    """The inner packagings of a combination packaging. ``absorbent`` around them: for none, some or all of the liquid;
    ``gas_tight``: hermetically sealed.

    Of one of them: ``capacity`` to the brim, ``size`` outside, ``mass_each`` filled, ``pressure_tested``: the pressure
    it is known to withstand.
    """

    count: Count
    holds: MassOrVolume
    of: Line
    absorbent: Literal["none", "some", "full"] = "none"
    gas_tight: Flag = False
    capacity: Volume | None = None
    size: Size | None = None
    mass_each: Mass | None = None
    pressure_tested: Pressure | None = None

    @field_validator("capacity")
    @classmethod
    def _holds_it(cls, capacity: Quantity | None, info: Any) -> Quantity | None:
        holds = info.data.get("holds")
        if capacity is not None and holds is not None and is_volume(holds) and holds > capacity:
            why = f"it can't hold {show(holds)}"
            raise Unreadable(quoted(show(capacity)), why, "write what one holds to the brim, or correct holds")
        return capacity

    @property
    def total(self) -> Quantity:
        """What all of them hold together."""
        total: Quantity = self.count * self.holds
        return total


class VapourPressure(Model):
    """Absolute vapour pressure of a liquid at 50 °C, at 55 °C, or both."""

    at_50: Pressure | None = None
    at_55: Pressure | None = Field(None, validate_default=True)

    @field_validator("at_55")
    @classmethod
    def _rises(cls, at_55: Quantity | None, info: Any) -> Quantity | None:
        if "at_50" not in info.data:  # at fault itself
            return at_55
        at_50 = info.data["at_50"]
        if at_50 is None and at_55 is None:
            raise Unreadable("neither at_50 nor at_55", "no pressure is said", "write at_50: 25 kPa")
        if at_50 is not None and at_55 is not None and at_55 < at_50:
            raise Unreadable(quoted(show(at_55)), f"at 50 °C it is {show(at_50)} already", "write the higher one at_55")
        return at_55


class Distances(Model):
    """The least thickness of cushioning or absorbent by a test certificate: under the inner packagings, to each side
    wall, between them, and above them."""

    bottom: Offset
    sides: Offset
    between: Offset
    top: Offset


class Certificate(Model):
    """What the test certificate of a packaging asks beyond its mark: ``inner_gross_mass``, all filled inner packagings
    together at most; ``distances`` kept round them."""

    inner_gross_mass: Mass | None = None
    distances: Distances | None = None


class Filling(Model):
    """The loose material that fills the box: what one litre of it takes up and weighs, as its maker says."""

    of: Line
    litre_takes: Volume | None = None
    litre_weighs: Mass | None = None


class InsideSize(Model):
    """Clear length, width and height inside a box, liner and pads in place."""

    length: Length
    width: Length
    height: Length
