"""What is printed on: sheets that are cut by hand, and label stock that is cut already (rolls, die-cut sheets)."""

from __future__ import annotations

import math
import re
from decimal import Decimal

from msgspec import Struct

from layouts.errors import StockError
from layouts.geometry import Box
from layouts.units import MM_PER_INCH, number

#: Width and height upright, mm. A sizes: ISO 216; the others: ANSI/ASME Y14.1 and common practice, exact in inches.
_SIZES = {
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "Letter": (8.5 * MM_PER_INCH, 11 * MM_PER_INCH),
    "Legal": (8.5 * MM_PER_INCH, 14 * MM_PER_INCH),
    "Tabloid": (11 * MM_PER_INCH, 17 * MM_PER_INCH),
}
#: Labels on a roll, one a page. A6: ISO 216; the others are sizes in common use, no source.
_ROLLS = {
    "A6": (105.0, 148.0),
    "100 x 150 mm": (100.0, 150.0),
    "150 x 150 mm": (150.0, 150.0),
    "4 x 6 in": (101.6, 152.4),
}
#: What is offered where a stock is too small, smallest first.
OFFERED = ("100x150 mm", "4x6 in", "A6", "150x150 mm", "A4", "Letter", "A3")
_FREE = re.compile(r"\s*(roll\s+)?(\d+(?:[.,]\d+)?)\s*[x×*]\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|in)\s*", re.IGNORECASE)
_UNIT = {"mm": Decimal(1), "cm": Decimal(10), "in": Decimal("25.4")}
#: No stock is smaller than the control ruler, none larger than a PDF page may be (14,400 points).
LEAST, LARGEST = 60.0, 5000.0


class Places(Struct, frozen=True):
    """Where labels lie that are cut already: columns and rows of one size, mm. across, down: from one label's left or
    upper edge to the next one's; left, top: from the sheet's edges to the first; corner: the radius of their corners."""

    columns: int
    rows: int
    width: float
    height: float
    across: float
    down: float
    left: float = 0.0
    top: float = 0.0
    corner: float = 0.0

    @property
    def inset(self) -> float:
        """How far inside its edges a square-cornered piece must stay, so that a round corner takes nothing of it."""
        return self.corner * (1 - math.sqrt(0.5))

    @property
    def usable(self) -> Box:
        """Of one place, its own lower left corner at the origin: where square-cornered pieces may lie."""
        return Box(0, 0, self.width, self.height).grown(-self.inset)

    @property
    def gutter(self) -> float:
        """How far colour may run beyond a label's edge without reaching its neighbour, mm."""
        beside = [self.across - self.width] * (self.columns > 1) + [self.down - self.height] * (self.rows > 1)
        return min((gap / 2 for gap in beside), default=math.inf)


class Stock(Struct, frozen=True):
    """name; width, height in mm; margin: the border a printer leaves white, mm; turnable: may also lie on its side;
    places: where it is label stock that is cut already, the labels."""

    name: str
    width: float
    height: float
    margin: float = 6.0
    turnable: bool = True
    places: Places | None = None

    def __str__(self) -> str:
        size = f"{number(self.width, 1)} x {number(self.height, 1)} mm"
        said = self.name if size in self.name else f"{self.name} ({size})"
        if self.places is None or self.places.rows * self.places.columns == 1:
            return said
        count = self.places.rows * self.places.columns
        return f"{said}, {count} labels of {number(self.places.width, 1)} x {number(self.places.height, 1)} mm"

    @property
    def ways(self) -> tuple[tuple[float, float], ...]:
        """The sizes a page may have: as it is and, where it may turn, on its side."""
        upright = (self.width, self.height)
        return (upright, upright[::-1]) if self.turnable and self.width != self.height else (upright,)

    def boxes(self) -> tuple[Box, ...]:
        """The places on the page, row by row from the top; none on stock that is cut by hand."""
        p = self.places
        if p is None:
            return ()
        return tuple(
            Box(p.left + c * p.across, self.height - p.top - r * p.down - p.height, p.width, p.height)
            for r in range(p.rows)
            for c in range(p.columns)
        )


def read_stock(text: str) -> Stock:
    """``A4``, ``letter``, ``150 x 200 mm``, ``6x9 in``, ``roll 110x170 mm``.

    A size of one's own is never turned on its side. A roll's labels are cut already, one a page; so are A6 and the sizes
    rolls come in. StockError for anything else, and for a size outside 60 to 5000 mm.
    """
    for name, (w, h) in _SIZES.items():
        if text.strip().casefold() == name.casefold():
            return Stock(name, w, h)
    if text.strip().casefold() == "a6":
        return _roll("A6", *_ROLLS["A6"])
    found = _FREE.fullmatch(text)
    if found is None:
        raise StockError(
            f'stock {text!r} is not known; write one of {", ".join(_SIZES)}, A6, a size such as "150x200 mm" or '
            '"6x9 in", a roll such as "roll 110x170 mm", or the name of a stock file, such as labels.yaml.'
        )
    unit = found[4].lower()
    w, h = (float(Decimal(found[i].replace(",", ".")) * _UNIT[unit]) for i in (2, 3))
    if not (LEAST <= w <= LARGEST and LEAST <= h <= LARGEST):
        raise StockError(f"stock {text!r}: width and height must be {LEAST:.0f} to {LARGEST:.0f} mm.")
    name = f"{found[2]} x {found[3]} {unit}"
    if found[1] or (w, h) in _ROLLS.values():
        return _roll(f"roll of {name}", w, h)
    return Stock(name, w, h, margin=3.0, turnable=False)


def _roll(name: str, width: float, height: float) -> Stock:
    return Stock(name, width, height, 3.0, False, Places(1, 1, width, height, width, height))
