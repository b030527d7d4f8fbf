"""What is printed on: sheets of paper by name, or a size of one's own (a roll, a label stock)."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from layouts.errors import StockError
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
_FREE = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*[x×*]\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|in)\s*", re.IGNORECASE)
_UNIT = {"mm": Decimal(1), "cm": Decimal(10), "in": Decimal("25.4")}
#: No stock is smaller than the control ruler, none larger than a PDF page may be (14,400 points).
_LEAST, _LARGEST = 60.0, 5000.0


@dataclass(frozen=True, slots=True)
class Stock:
    """name; width, height in mm; margin: the border a printer leaves white, mm; turnable: may also lie on its side."""

    name: str
    width: float
    height: float
    margin: float = 6.0
    turnable: bool = True

    def __str__(self) -> str:
        return f"{self.name} ({number(self.width, 1)} x {number(self.height, 1)} mm)"

    @property
    def ways(self) -> tuple[tuple[float, float], ...]:
        """The sizes a page may have: as it is and, where it may turn, on its side."""
        upright = (self.width, self.height)
        return (upright, upright[::-1]) if self.turnable and self.width != self.height else (upright,)


def read_stock(text: str) -> Stock:
    """``A4``, ``letter``, ``150 x 200 mm``, ``6x9 in``. A size of one's own is never turned on its side.

    StockError for anything else, and for a size outside 60 to 5000 mm.
    """
    for name, (w, h) in _SIZES.items():
        if text.strip().casefold() == name.casefold():
            return Stock(name, w, h)
    found = _FREE.fullmatch(text)
    if found is None:
        names = ", ".join(_SIZES)
        raise StockError(
            f'stock {text!r} is not known; write one of {names}, or a size such as "150x200 mm" or "6x9 in".'
        )
    unit = found[3].lower()
    w, h = (float(Decimal(found[i].replace(",", ".")) * _UNIT[unit]) for i in (1, 2))
    if not (_LEAST <= w <= _LARGEST and _LEAST <= h <= _LARGEST):
        raise StockError(f"stock {text!r}: width and height must be {_LEAST:.0f} to {_LARGEST:.0f} mm.")
    return Stock(f"{found[1]} x {found[2]} {unit}", w, h, margin=3.0, turnable=False)
