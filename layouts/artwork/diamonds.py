"""Black and white marks on a square on its point: limited quantities, environmentally hazardous."""

from __future__ import annotations

from msgspec import Struct

from layouts.artwork.base import DIAGONAL, SQUARE_ON_POINT, Dimension, diamond, part
from layouts.artwork.symbols import symbol
from layouts.geometry import Box, Point, polygon
from layouts.ink import BLACK, WHITE
from layouts.pen import Pen, group


class BorderedDiamond(Struct, frozen=True):
    """A square on its point with a border along its edge. side: over the border's outside; line: its thickness, mm."""

    side: float
    line: float
    step: int = 0
    note: str = ""
    reduced: bool = False

    ident = "diamond"
    title = ""
    shape = SQUARE_ON_POINT
    colour = False
    bleeds = False

    @property
    def width(self) -> float:
        return self.side * DIAGONAL

    height = width

    @property
    def middle(self) -> float:
        return self.side / DIAGONAL

    def draw(self, pen: Pen) -> None:
        outer, inner = diamond(self.side), diamond(self.side, None, self.line)
        with group(pen, self.ident, self.title):
            pen.fill(polygon(outer), WHITE)
            self.device(pen)
            with group(pen, "border", "Border"):
                pen.fill(polygon(outer) + polygon(inner[::-1]), BLACK)

    def device(self, pen: Pen) -> None:
        raise NotImplementedError

    def draw_bleed(self, pen: Pen, by: float) -> None:
        """Nothing runs over the edge."""

    def dimensions(self) -> tuple[Dimension, ...]:
        right, top = diamond(self.side)[:2]
        edge = Point(self.middle / 2, self.middle * 3 / 2)
        q = self.line / DIAGONAL
        return Dimension("side", right, top), Dimension("line", edge, Point(edge.x + q, edge.y - q))


class LimitedQuantity(BorderedDiamond, frozen=True):
    """Black top and bottom, white middle (UN Model Regulations 3.4.7, from memory; 49 CFR 172.315).

    The law's figure gives the black parts no measure; here each is a quarter of the height, the white half of it.
    """

    ident = "limited-quantity"
    title = "Limited quantity"

    def device(self, pen: Pen) -> None:
        d, edge = self.width, diamond(self.side)
        with group(pen, "corners", "Black upper and lower parts"):
            pen.fill(polygon(part(edge, 0, 0.75 * d, d, d)), BLACK)
            pen.fill(polygon(part(edge, 0, 0, d, 0.25 * d)), BLACK)


class LimitedQuantityAir(LimitedQuantity, frozen=True):
    """The same with a black Y, its size ours (49 CFR 172.315(b); UN Model Regulations 3.4.8, from memory)."""

    ident = "limited-quantity-air"
    title = "Limited quantity, by air"

    def device(self, pen: Pen) -> None:
        from layouts import letters

        super().device(pen)
        cap = 0.3 * self.width
        size = cap / letters.cap_height("bold")
        x = self.middle - letters.width("Y", "bold", size) / 2
        pen.text(x, self.middle - cap / 2, "Y", "bold", size, BLACK)


class EnvironmentallyHazardous(BorderedDiamond, frozen=True):
    """Fish and tree (UN Model Regulations 5.2.1.6.3, from memory; 49 CFR 172.322(e))."""

    ident = "environmentally-hazardous"
    title = "Environmentally hazardous"

    def device(self, pen: Pen) -> None:
        u, m = self.side / 100, self.middle
        with group(pen, "fish-and-tree", "Fish and tree"):
            pen.fill(symbol("fish_and_tree").fitted(Box(m - 43 * u, m - 20 * u, 86 * u, 60 * u)), BLACK)
