"""Upright rectangles that say how to handle a package: arrows, cargo aircraft only, heat, cold, magnets.

Where a mark has no length in law, its proportions are ours. Texts of the air handling labels: ICAO Technical
Instructions 5;3.5 (from memory).
"""

from __future__ import annotations

from msgspec import Struct

from layouts import letters
from layouts.artwork.base import RECTANGLE, Dimension
from layouts.artwork.symbols import symbol
from layouts.errors import DoesNotFit
from layouts.geometry import Box, Point, polygon, rectangle
from layouts.ink import BLACK, BLUE, GREEN, ORANGE, RED, WHITE, Ink
from layouts.pen import Pen, group


class Lines(Struct, frozen=True):
    """Lines of one size, top to bottom, the last one's baseline at ``foot``, mm."""

    texts: tuple[str, ...]
    font: str
    size: float
    foot: float

    @property
    def leading(self) -> float:
        return letters.cap_height(self.font) * self.size * letters.LEADING

    @property
    def top(self) -> float:
        """The top of the first line's capitals."""
        return self.foot + (len(self.texts) - 1) * self.leading + letters.cap_height(self.font) * self.size


class Rectangle(Struct, frozen=True):
    """An upright rectangle with a ground, a border and what stands on it. width, height: mm."""

    width: float
    height: float
    step: int = 0
    note: str = ""
    reduced: bool = False

    shape = RECTANGLE
    side = None
    ident = "handling"
    title = ""
    ground: Ink = WHITE
    ink: Ink = BLACK

    @property
    def bleeds(self) -> bool:
        return self.ground is not WHITE

    @property
    def colour(self) -> bool:
        return any(ink not in (BLACK, WHITE) for ink in (self.ground, self.ink))

    @property
    def text_width(self) -> float:
        """How wide a line may run; ours."""
        return self.width - 18 * self.unit

    @property
    def unit(self) -> float:
        """A hundredth of the shorter side: what our own choices scale by."""
        return min(self.width, self.height) / 100

    def draw(self, pen: Pen) -> None:
        with group(pen, self.ident, self.title):
            pen.fill(rectangle(Box(0, 0, self.width, self.height)), self.ground)
            self.device(pen)

    def draw_bleed(self, pen: Pen, by: float) -> None:
        """The ground once more, running ``by`` mm beyond the edge; drawn before the mark itself."""
        pen.fill(rectangle(Box(0, 0, self.width, self.height).grown(by)), self.ground)

    def device(self, pen: Pen) -> None:
        raise NotImplementedError

    def border(self, pen: Pen, inset: float, line: float) -> None:
        outer = Box(0, 0, self.width, self.height).grown(-inset)
        inner = outer.grown(-line)
        corners = [(inner.x, inner.y), (inner.x, inner.top), (inner.right, inner.top), (inner.right, inner.y)]
        with group(pen, "border", "Border"):
            pen.fill(rectangle(outer) + polygon(corners), self.ink)

    def lines(self, texts: tuple[str, ...], foot: float, cap: float, best: float = 0.0) -> Lines:
        """Centred lines, the last one's baseline at ``foot``.

        Letters are ``cap`` high, or as much more, up to ``best``, as the longest line has room for; in the bold cut,
        else in the condensed one. DoesNotFit where even that is too wide.
        """
        room = self.text_width
        for font in ("bold", "condensed"):
            longest = max(letters.width(t, font, 1.0) for t in texts)
            size = min(letters.size_for_least(font, max(cap, best)), room / longest)
            if size >= letters.size_for_least(font, cap):
                return Lines(texts, font, size, foot)
        needs = longest * letters.size_for_least(font, cap)
        raise DoesNotFit(f"{texts} is {needs:.1f} mm wide; there are {room:.1f} mm", (needs, cap), (room, cap))

    def set_lines(self, pen: Pen, *blocks: Lines) -> None:
        """Set them from the top down, as they are read."""
        with group(pen, "words", "Words"):
            for block in sorted(blocks, key=lambda b: -b.foot):
                for i, text in enumerate(block.texts):
                    x = (self.width - letters.width(text, block.font, block.size)) / 2
                    y = block.foot + (len(block.texts) - 1 - i) * block.leading
                    pen.text(x, y, text, block.font, block.size, self.ink)

    def dimensions(self) -> tuple[Dimension, ...]:
        return (
            Dimension("width", Point(0, 0), Point(self.width, 0)),
            Dimension("height", Point(self.width, 0), Point(self.width, self.height)),
        )


class OrientationArrows(Rectangle, frozen=True):
    """Two arrows over a bar, within a thin rectangle (UN Model Regulations 5.2.1.7.1, from memory; 49 CFR
    172.312(a)(2)): black or red on white; in keeping with the package's size; the rectangle is optional."""

    ident = "orientation-arrows"
    title = "Orientation arrows"

    def device(self, pen: Pen) -> None:
        u = self.unit
        self.border(pen, 0, 2.4 * u)
        with group(pen, "arrows", "Two arrows over a bar"):
            pen.fill(symbol("arrows").fitted(Box(0, 0, self.width, self.height).grown(-12 * u), rise=0.5), self.ink)

    def dimensions(self) -> tuple[Dimension, ...]:
        return ()


class CargoAircraftOnly(Rectangle, frozen=True):
    """Black on orange (49 CFR 172.448, 172.407(c)(2)). lettering: the least height of its letters, mm."""

    lettering: float = 0.0

    ident = "cargo-aircraft-only"
    title = "Cargo aircraft only"
    ground: Ink = ORANGE

    def device(self, pen: Pen) -> None:
        u, cap = self.unit, self.lettering
        self.border(pen, 4 * u, 1.8 * u)
        small = self.lines(("FORBIDDEN IN", "PASSENGER AIRCRAFT"), 11 * u, cap)
        large = self.lines(("CARGO AIRCRAFT ONLY",), small.top + 4.5 * u, cap, 1.3 * cap)
        self.set_lines(pen, large, small)
        lower = large.top
        with group(pen, "aircraft", "Aircraft"):
            top = self.height - 10.5 * u
            pen.fill(
                symbol("aircraft").fitted(
                    Box(9 * u, lower + 5 * u, self.width - 18 * u, top - lower - 5 * u), rise=0.5
                ),
                BLACK,
            )

    def dimensions(self) -> tuple[Dimension, ...]:
        x, y = self.width / 2, 11 * self.unit
        return (*super().dimensions(), Dimension("lettering", Point(x, y), Point(x, y + self.lettering)))


class KeepAwayFromHeat(Rectangle, frozen=True):
    """Red rays falling on a package, words in black on white (ICAO Technical Instructions 5;3.5, from memory)."""

    ident = "keep-away-from-heat"
    title = "Keep away from heat"

    @property
    def colour(self) -> bool:
        return True

    def device(self, pen: Pen) -> None:
        u = self.unit
        self.border(pen, 0, 2.2 * u)
        words = self.lines(("KEEP AWAY", "FROM HEAT"), 11 * u, 7 * u, 12 * u)
        self.set_lines(pen, words)
        foot, top = words.top + 9 * u, self.height - 2.2 * u  # the sun hangs from the border
        rays, package = symbol("heat_rays"), symbol("heated_package")
        split = foot + 0.47 * (top - foot)
        with group(pen, "rays", "Heat rays"):
            pen.fill(rays.fitted(Box(8 * u, split, self.width - 16 * u, top - split), rise=1.0), RED)
        with group(pen, "package", "Package"):
            pen.fill(package.fitted(Box(10 * u, foot, self.width - 20 * u, split - foot - 3 * u)), BLACK)


class CryogenicLiquid(Rectangle, frozen=True):
    """White on green: an open receptacle giving off cold vapour (ICAO Technical Instructions 5;3.5, from memory)."""

    ident = "cryogenic-liquid"
    title = "Cryogenic liquid"
    ground: Ink = GREEN
    ink: Ink = WHITE

    def device(self, pen: Pen) -> None:
        u = self.unit
        self.border(pen, 4 * u, 2 * u)
        small = self.lines(("CAUTION: MAY CAUSE COLD", "BURN INJURIES IF SPILLED", "OR LEAKED"), 12 * u, 3.7 * u)
        large = self.lines(("CRYOGENIC", "LIQUID"), small.top + 5 * u, 9.5 * u)
        self.set_lines(pen, large, small)
        top = large.top
        with group(pen, "receptacle", "Cold receptacle"):
            pen.fill(
                symbol("cryogenic").fitted(Box(12 * u, top + 6 * u, self.width - 24 * u, self.height - top - 17 * u)),
                WHITE,
            )


class MagnetizedMaterial(Rectangle, frozen=True):
    """Blue on white: a magnet and the compass it turns (ICAO Technical Instructions 5;3.5, from memory)."""

    ident = "magnetized-material"
    title = "Magnetized material"
    ink: Ink = BLUE

    def device(self, pen: Pen) -> None:
        u = self.unit
        self.border(pen, 0, 2.2 * u)
        small = self.lines(("KEEP AWAY FROM AIRCRAFT", "COMPASS DETECTOR UNIT"), 9 * u, 5 * u)
        large = self.lines(("MAGNETIZED MATERIAL",), small.top + 5 * u, 6 * u, 8.5 * u)
        self.set_lines(pen, large, small)
        top = large.top
        room = Box(12 * u, top + 8 * u, self.width - 24 * u, self.height - top - 19 * u)
        with group(pen, "magnet", "Magnet and compass"):
            pen.fill(symbol("magnet").fitted(room, rise=0.5), BLUE)
