"""What can go wrong on the way to paper.

LayoutError
├── MissingGlyph     the font has no drawing for a character of the text (also a ValueError)
├── DoesNotFit       a text is larger than its box at the least allowed letter height
├── StockError       the name or size of a stock cannot be read (also a ValueError)
└── StockTooSmall    an item is larger than the stock at true size

Every message says what was given, why it cannot stand, and what to do instead.
"""

from __future__ import annotations


class LayoutError(Exception):
    """Any refusal of layouts; ``str()`` is for reading."""


class MissingGlyph(LayoutError, ValueError):
    """``character``: the one that cannot be drawn; ``text``: where it stood."""

    def __init__(self, character: str, text: str, why: str) -> None:
        self.character, self.text = character, text
        super().__init__(why)


class DoesNotFit(LayoutError):
    """``needs`` and ``has``: (width, height) in mm."""

    def __init__(self, message: str, needs: tuple[float, float], has: tuple[float, float]) -> None:
        self.needs, self.has = needs, has
        super().__init__(message)


class StockError(LayoutError, ValueError):
    """A stock that cannot be read."""


class StockTooSmall(LayoutError):
    """``what``: the item; ``needs`` and ``has``: (width, height) in mm."""

    def __init__(self, what: str, needs: tuple[float, float], has: tuple[float, float], stock: str) -> None:
        self.what, self.needs, self.has = what, needs, has
        super().__init__(
            f"{what} needs {needs[0]:.0f} x {needs[1]:.0f} mm at true size with its cut marks; {stock} has "
            f"{has[0]:.0f} x {has[1]:.0f} mm to print on. Choose a larger stock: nothing is scaled down."
        )
