"""What can go wrong on the way to paper.

LayoutError
├── MissingGlyph     the font has no drawing for a character of the text (also a ValueError)
├── DoesNotFit       a text is larger than its box at the least allowed letter height
├── StockError       the name or size of a stock cannot be read (also a ValueError)
├── ShelfError       a label said to be ready-made is none (also a ValueError)
└── StockTooSmall    items larger than the stock at true size: every Misfit of them at once

Every message says what was given, why it cannot stand, and what to do instead.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct


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


class ShelfError(LayoutError, ValueError):
    """A name on the shelf that no label has."""


class Misfit(Struct, frozen=True):
    """What does not fit, and the (width, height) it needs and there is, in mm; on_label: on a label that is cut already."""

    what: str
    needs: tuple[float, float]
    has: tuple[float, float]
    on_label: bool = False

    def __str__(self) -> str:
        needs, has = (f"{_mm(w)} x {_mm(h)} mm" for w, h in (self.needs, self.has))
        if self.on_label:
            return f"{self.what} needs {needs} at true size; a label takes {has}"
        return f"{self.what} needs {needs} at true size with its cut marks and caption; there are {has}"


def _mm(length: float) -> str:
    return f"{length:.1f}".removesuffix(".0")


class StockTooSmall(LayoutError):
    """``misfits``: every item that no page of the stock can take; instead: the smallest stock held that takes all."""

    def __init__(self, misfits: Sequence[Misfit], stock: str, instead: str | None = None) -> None:
        self.misfits = tuple(misfits)
        told = "; ".join(map(str, misfits))
        write = f'write --stock "{instead}"' if instead else "choose a larger stock"
        super().__init__(f"stock {stock} is too small: {told}. Nothing is scaled down: {write}.")
