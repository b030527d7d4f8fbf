"""The diamond that biological substances and modified organisms bear for all other marks, and the name beside it.

UN Model Regulations 4.1.4.1 P650 (4) and P904 (from memory): a square on its point with the number in it, its line and
letters of a least size; of category B the proper shipping name stands beside it in letters as high. No smaller form.
"""

from __future__ import annotations

from msgspec import Struct

from layouts import letters
from layouts.artwork.base import RECTANGLE, Dimension
from layouts.artwork.diamonds import BorderedDiamond
from layouts.geometry import Point, Transform
from layouts.ink import BLACK
from layouts.pen import Pen, TransformPen, group

#: The number is set so much higher than the law asks, where there is room. Ours.
LARGER = 1.4


class NumberedDiamond(BorderedDiamond, frozen=True):
    """Black on white. number: ``UN 3373``; lettering: the least height of its letters and figures, mm."""

    number: str = ""
    lettering: float = 0.0

    ident = "biological-substance"
    title = "Biological substance"

    def device(self, pen: Pen) -> None:
        """The number about the centre; DoesNotFit where the law's height has no room in the square."""
        cap = self.lettering * LARGER
        room = self.width - 2 * (self.line * 2**0.5 + cap / 2 + 2.5)  # 2.5 mm clear of the line, ours
        text = letters.fit([self.number], room, 2 * cap, self.lettering, max_cap=cap)
        x = self.middle - text.width / 2
        with group(pen, "number", "Number"):
            pen.text(x, self.middle - text.rise / 2, self.number, text.font, text.size, BLACK)

    def dimensions(self) -> tuple[Dimension, ...]:
        low = self.middle - self.lettering / 2
        height = Dimension("lettering", Point(self.middle, low), Point(self.middle, low + self.lettering))
        return (*super().dimensions(), height)


class NamedDiamond(Struct, frozen=True):
    """The diamond and, beside or below it, the name in ``lines``. gap: between them, mm, ours."""

    diamond: NumberedDiamond
    lines: tuple[str, ...]
    font: str
    below: bool = False
    step: int = 0

    shape = RECTANGLE
    side = None
    colour = False
    bleeds = False
    reduced = False
    note = ""
    gap = 3.0
    under = 0.6  # round letters overshoot their line a little

    @property
    def name(self) -> letters.Fitted:
        """The name at exactly the law's height."""
        return letters.fit(self.lines, 1e3, 1e3, self.diamond.lettering, fonts=(self.font,))

    @property
    def width(self) -> float:
        name, diamond = self.name.width, self.diamond.width
        return max(name, diamond) if self.below else diamond + self.gap + name

    @property
    def height(self) -> float:
        return self.diamond.height + (self.gap + self.name.height + self.under if self.below else 0.0)

    @property
    def _corner(self) -> Point:
        """The lower left corner of the diamond's box."""
        if self.below:
            return Point((self.width - self.diamond.width) / 2, self.under + self.name.height + self.gap)
        return Point(0, 0)

    def draw(self, pen: Pen) -> None:
        text = self.name
        self.diamond.draw(TransformPen(pen, Transform.moved(*self._corner)))
        top = self.under + text.height if self.below else (self.height + text.height) / 2
        with group(pen, "name", "Proper shipping name"):
            for i, line in enumerate(text.lines):
                wide = letters.width(line, text.font, text.size)
                x = (self.width - wide) / 2 if self.below else self.width - text.width
                pen.text(x, top - text.rise - i * text.leading, line, text.font, text.size, BLACK)

    def draw_bleed(self, pen: Pen, by: float) -> None:
        """Nothing runs over the edge."""

    def dimensions(self) -> tuple[Dimension, ...]:
        dx, dy = self._corner
        return tuple(
            Dimension(d.name, Point(d.start.x + dx, d.start.y + dy), Point(d.end.x + dx, d.end.y + dy))
            for d in self.diamond.dimensions()
        )
