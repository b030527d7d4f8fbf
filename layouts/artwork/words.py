"""Marks that are words alone: the UN number, names, addresses, quantities, OVERPACK and the like.

The height of letters is a height of capitals, never a font size. Figures are a little lower than capitals in the
font, so a mark whose figures the law measures (the UN number) is set by its figures.
"""

from __future__ import annotations

from functools import cached_property

from msgspec import Struct

from layouts import letters
from layouts.artwork.base import RECTANGLE, Dimension
from layouts.geometry import Point
from layouts.ink import BLACK
from layouts.pen import Pen, group

#: Room above capitals for accents and below the line for descenders, over the em; measured generously in the font.
ACCENT, DESCENT = 0.31, 0.23
#: From one line to the next, over the em.
LEADING = 1.2


class TextBlock(Struct, frozen=True, dict=True):
    """Lines of text set left, each line in its own font; ``cap`` is the height of the capitals, mm.

    lines: what is printed; fonts: one per line; margin: clear room around, mm, ours.
    """

    ident: str
    title: str
    lines: tuple[str, ...]
    fonts: tuple[str, ...]
    cap: float
    step: int = 0
    note: str = ""
    margin: float = 1.0
    plain: bool = False  # capitals and figures only: no room for accents and descenders
    by_figures: bool = False  # ``cap`` is the least height of figures too, as where the law fixes it

    shape = RECTANGLE
    side = None
    colour = False
    bleeds = False
    reduced = False

    @cached_property
    def sizes(self) -> tuple[float, ...]:
        """The em of each line, mm."""
        return tuple(size_of(font, self.cap, self.by_figures) for font in self.fonts)

    @cached_property
    def width(self) -> float:
        widths = (letters.width(t, f, s) for t, f, s in zip(self.lines, self.fonts, self.sizes, strict=True))
        return max(widths) + 2 * self.margin

    @property
    def height(self) -> float:
        return self._top + 2 * self.margin

    @cached_property
    def _top(self) -> float:
        above = 0.0 if self.plain else ACCENT * self.sizes[0]
        return self._baselines[0] + self.sizes[0] * letters.cap_height(self.fonts[0]) + above

    @cached_property
    def _baselines(self) -> tuple[float, ...]:
        """Baselines above the lower margin, first line first."""
        y = 0.0 if self.plain else DESCENT * self.sizes[-1]
        return tuple(y + LEADING * self.sizes[0] * i for i in reversed(range(len(self.lines))))

    def draw(self, pen: Pen) -> None:
        with group(pen, self.ident, self.title):
            for line, font, size, y in zip(self.lines, self.fonts, self.sizes, self._baselines, strict=True):
                pen.text(self.margin, self.margin + y, line, font, size, BLACK)

    def draw_bleed(self, pen: Pen, by: float) -> None:
        """Nothing runs over the edge."""

    def dimensions(self) -> tuple[Dimension, ...]:
        y = self.margin + self._baselines[0]
        return (Dimension("lettering", Point(self.margin, y), Point(self.margin, y + self.cap)),)


def size_of(font: str, cap: float, by_figures: bool) -> float:
    """The em in mm for letters ``cap`` mm high; ``by_figures``: for figures too, which are a little lower."""
    return letters.size_for_least(font, cap) if by_figures else letters.size_for_cap(font, cap)
