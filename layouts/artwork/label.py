"""The frame all hazard labels share: a square on its point, its ground, its inner line and the figure in its bottom
corner.

Every length of law comes with the requirement's measures; what is a number here is ours and says so. Colours follow
the UN Model Regulations 5.2.2.2.2 (from memory): the inner line's upper half has the symbol's colour, its lower half
the figure's.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from msgspec import Struct

from layouts.artwork.base import DIAGONAL, SQUARE_ON_POINT, Dimension, diamond, mm, part
from layouts.artwork.symbols import symbol
from layouts.geometry import Box, Path, Point, Transform, polygon
from layouts.ink import BLACK, WHITE, Ink
from layouts.pen import Pen, group

#: The black of each figure in the bold font, per mille of the em: left, right, bottom, top (tests measure them in the
#: font).
FIGURE_INK = {
    "1": (13, 382, 0, 676),
    "2": (6, 485, 0, 690),
    "3": (-4, 486, -17, 690),
    "4": (28, 544, 0, 693),
    "5": (13, 503, -17, 676),
    "6": (38, 539, -17, 690),
    "7": (13, 450, -16, 676),
    "8": (29, 551, -17, 690),
    "9": (26, 529, -28, 690),
}


#: How far each symbol's foot stands above the middle, mm on a label of 100 mm. Ours, by eye: its weight in the upper
#: half's middle.
FOOT = {
    "corrosion": 3.0,
    "crescents": 3.0,
    "exploding_bomb": 5.0,
    "flame": 3.0,
    "flame_over_circle": 2.0,
    "gas_cylinder": 8.0,
    "skull": 3.5,
}
#: The least distance of a symbol from the line, mm on a label of 100 mm. Ours.
CLEARANCE = 4.5


class Colours(Struct, frozen=True):
    """Ground above and below the middle, and the inks of symbol (with the upper line) and figure (with the lower line).

    to_edge: the ground's colour runs to the label's edge; else it stops at the inner line (49 CFR 172.407(d)(7)).
    """

    upper: Ink
    lower: Ink
    symbol: Ink = BLACK
    figure: Ink = BLACK
    to_edge: bool = True


class HazardLabel(Struct, frozen=True):
    """measures: ``side``, ``inset`` (edge to the outside of the line), ``line`` (its thickness), ``figure_low``,
    ``figure_high``, and what a family asks for besides. words: what is filled in. figure: the bottom corner's."""

    variant: str
    title: str
    colours: Colours
    figure: str
    measures: Mapping[str, Decimal]
    words: tuple[str, ...] = ()
    sign: str = ""  # the symbol's name
    step: int = 0
    note: str = ""
    lined: bool = False  # a boundary where its own colours would not ask for one

    shape = SQUARE_ON_POINT
    reduced = False

    def __hash__(self) -> int:
        return hash((self.variant, self.words, self.colours, self.step))  # measures are a mapping, which has no hash

    # --- lengths -----------------------------------------------------------------------------------------------------

    def mm(self, name: str) -> float:
        return mm(self.measures[name])

    @property
    def side(self) -> float:
        return self.mm("side")

    @property
    def width(self) -> float:
        return self.side * DIAGONAL

    height = width

    @property
    def middle(self) -> float:
        """x and y of the centre."""
        return self.side / DIAGONAL

    @property
    def unit(self) -> float:
        """One mm of a label of 100 mm: what our own choices scale by."""
        return self.side / 100

    @property
    def clear(self) -> float:
        """From the centre to a corner of the clear field inside the line."""
        return (self.side - 2 * (self.mm("inset") + self.mm("line"))) / DIAGONAL

    # --- colour ------------------------------------------------------------------------------------------------------

    @property
    def colour(self) -> bool:
        c = self.colours
        return any(ink not in (BLACK, WHITE) for ink in (c.upper, c.lower, c.symbol, c.figure))

    @property
    def bleeds(self) -> bool:
        return self.colours.to_edge and (self.colours.upper, self.colours.lower) != (WHITE, WHITE)

    @property
    def needs_boundary(self) -> bool:
        """White reaches the edge somewhere: on a white package the label needs an outer boundary line
        (UN Model Regulations 5.2.2.2.1.1.1, from memory: contrasting ground, or a dotted or solid line)."""
        return self.lined or not self.colours.to_edge or WHITE in (self.colours.upper, self.colours.lower)

    # --- drawing -----------------------------------------------------------------------------------------------------

    def draw(self, pen: Pen) -> None:
        with group(pen, f"hazard-label-{self.variant}", self.title):
            with group(pen, "ground", "Ground"):
                self.ground(pen, 0.0)
            if self.needs_boundary:
                with group(pen, "boundary", "Outer boundary"):
                    self.boundary(pen)
            with group(pen, "inner-line", "Inner line"):
                self.inner_line(pen)
            with group(pen, "symbol", "Symbol"):
                self.device(pen)
            with group(pen, "figure", "Class or division"):
                self.class_figure(pen)

    def draw_bleed(self, pen: Pen, by: float) -> None:
        """The ground once more, running ``by`` mm beyond the edge; drawn before the label itself."""
        with group(pen, "bleed", "Bleed"):
            self.ground(pen, by)

    def ground(self, pen: Pen, bleed: float) -> None:
        c, m, far = self.colours, self.middle, self.width
        edge = diamond(self.side, (m, m), -bleed)
        if not c.to_edge:
            pen.fill(polygon(edge), WHITE)
            edge = self.coloured_field()
        pen.fill(polygon(edge), c.lower)
        if c.upper != c.lower:  # laid over the lower colour, so that no hairline of paper parts the halves
            pen.fill(polygon(part(edge, -far, m, 2 * far, 2 * far)), c.upper)

    def coloured_field(self) -> list[Point]:
        """Where colour lies that stops at the inner line: up to the middle of the line, which covers its border."""
        m = self.middle
        return diamond(self.side, (m, m), self.mm("inset") + self.mm("line") / 2)

    def boundary(self, pen: Pen) -> None:
        """A thin broken line, its outside on the edge. Weight and dashes are ours."""
        weight = 0.4
        dash = (self.side - weight) / 80  # forty strokes an edge, beginning and ending with a gap's half
        pen.stroke(polygon(diamond(self.side, None, weight / 2)), BLACK, weight, dash=(dash, dash))

    def inner_line(self, pen: Pen) -> None:
        c, m = self.colours, self.middle
        outer = diamond(self.side, (m, m), self.mm("inset"))
        inner = diamond(self.side, (m, m), self.mm("inset") + self.mm("line"))
        if c.symbol == c.figure:
            pen.fill(polygon(outer) + polygon(inner[::-1]), c.symbol)
            return
        right, top, left, bottom = range(4)
        for ink, via in ((c.symbol, top), (c.figure, bottom)):
            pen.fill(polygon([outer[right], outer[via], outer[left], inner[left], inner[via], inner[right]]), ink)

    def device(self, pen: Pen) -> None:
        if self.sign:
            pen.fill(self.sign_path(self.sign, FOOT[self.sign]), self.colours.symbol)

    def room(self, off: float) -> float:
        """How much of the clear field's upper or lower half, so far from the middle, a symbol may reach into, mm."""
        return self.clear - (CLEARANCE * DIAGONAL + off) * self.unit

    def sign_path(self, name: str, off: float) -> Path:
        """A symbol as large as keeps it clear of the line, its foot so far above the middle."""
        drawn = symbol(name)
        k = self.room(off) / drawn.reach()
        y = self.middle + off * self.unit - drawn.bounds.y * k
        return drawn.path.transformed(Transform(k, 0, 0, k, self.middle - drawn.axis * k, y))

    # --- the figure --------------------------------------------------------------------------------------------------

    @property
    def figure_height(self) -> float:
        """As large as the law lets it be, less 0.1 mm: so a label reduced to half still keeps the least height."""
        return self.mm("figure_high") - 0.1

    def figure_baseline(self, half_width: float) -> float:
        """Low in the corner, its lower corners as far from the line as looks even (5.5 mm across, ours)."""
        return self.middle - min(self.clear - half_width - 5.5 * self.unit, 50 * self.unit)

    def class_figure(self, pen: Pen) -> None:
        if self.figure:
            self.set_figure(pen, self.figure)

    def set_figure(self, pen: Pen, text: str, raised: float = 0.0) -> Box:
        """Set the figure, centred by its black; hand back the box of its black."""
        left, right, bottom, top = figure_ink(text)
        em = self.figure_height / (top - bottom)
        half = (right - left) / 2 * em
        y = self.figure_baseline(half) + raised
        pen.text(self.middle - half - left * em, y, text, "bold", em, self.colours.figure)
        return Box(self.middle - half, y + bottom * em, 2 * half, (top - bottom) * em)

    # --- measures ----------------------------------------------------------------------------------------------------

    def dimensions(self) -> tuple[Dimension, ...]:
        m = self.middle
        right, top = diamond(self.side, (m, m))[:2]
        out = [Dimension("side", right, top)]
        q = 0.5 / DIAGONAL  # unit steps along the normal of the upper left edge, at that edge's middle
        edge = Point(m - m / 2, m + m / 2)
        step = 2 * q * self.mm("inset"), 2 * q * (self.mm("inset") + self.mm("line"))
        outside, inside = (Point(edge.x + s, edge.y - s) for s in step)
        out += [Dimension("inset", edge, outside), Dimension("line", outside, inside)]
        if self.figure:
            box = self.set_figure(NoPen(), self.figure)
            out.append(Dimension("figure_high", Point(box.right, box.y), Point(box.right, box.top)))
        return tuple(out)


class NoPen:
    """Takes everything and draws nothing: for asking a drawing where things come to lie."""

    def fill(self, path: Path, ink: Ink) -> None: ...
    def stroke(
        self,
        path: Path,
        ink: Ink,
        width: float,
        *,
        cap: str = "butt",
        join: str = "miter",
        dash: tuple[float, ...] = (),
    ) -> None: ...
    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None: ...
    def begin(self, ident: str, title: str = "") -> None: ...
    def end(self) -> None: ...


def figure_ink(text: str) -> tuple[float, float, float, float]:
    """Left, right, bottom and top of the black of a class figure set in the bold font, in parts of the em."""
    from layouts import letters

    first, last = FIGURE_INK[text[0]], FIGURE_INK[text[-1]]
    before = letters.width(text[:-1], "bold", 1.0)
    lows = min(FIGURE_INK[c][2] for c in text if c != ".")
    highs = max(FIGURE_INK[c][3] for c in text if c != ".")
    return first[0] / 1000, before + last[1] / 1000, lows / 1000, highs / 1000
