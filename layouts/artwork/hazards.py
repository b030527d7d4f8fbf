"""The hazard labels of classes 2 to 6 and 8: one ground or two halves, a symbol above, the figure below.

Colours and symbols: UN Model Regulations 5.2.2.2.2 (from memory), agreeing with 49 CFR 172.415 to 172.442 except
where a comment says otherwise. Where black or white is allowed on red, green or blue, white is drawn unless ``dark``
is asked for.
"""

from __future__ import annotations

from msgspec import Struct

from layouts.artwork.base import DIAGONAL, Dimension, diamond, part
from layouts.artwork.label import Colours, HazardLabel
from layouts.artwork.symbols import symbol
from layouts.geometry import Point, Transform, polygon
from layouts.ink import BLACK, BLUE, GREEN, RED, WHITE, YELLOW
from layouts.pen import Pen, group

#: Stripes of the flammable solids label: seven red on white (UN Model Regulations 5.2.2.2.2, from memory; 49 CFR
#: 172.420(b) asks for an odd number: one in the middle, equal sides). With the white between and outside, fifteen
#: equal bands.
STRIPES, BANDS = 7, 15


class Design(Struct, frozen=True):
    """What one label is made of; dark: its colours when the symbol is black where white is also allowed."""

    title: str
    colours: Colours
    figure: str
    sign: str
    dark: Colours | None = None


_WHITE_ON_RED, _BLACK_ON_RED = Colours(RED, RED, WHITE, WHITE), Colours(RED, RED)

DESIGNS = {
    "2.1": Design("Flammable gases", _WHITE_ON_RED, "2", "flame", _BLACK_ON_RED),
    "2.2": Design(
        "Non-flammable, non-toxic gases",
        Colours(GREEN, GREEN, WHITE, WHITE),
        "2",
        "gas_cylinder",
        Colours(GREEN, GREEN),
    ),
    # The international label; 49 CFR 172.416 asks for the one below where a gas is poisonous by inhalation.
    "2.3": Design("Toxic gases", Colours(WHITE, WHITE), "2", "skull"),
    "3": Design("Flammable liquids", _WHITE_ON_RED, "3", "flame", _BLACK_ON_RED),
    "4.1": Design("Flammable solids", Colours(WHITE, WHITE), "4", "flame"),
    "4.2": Design("Substances liable to spontaneous combustion", Colours(WHITE, RED), "4", "flame"),
    "4.3": Design("Dangerous when wet", Colours(BLUE, BLUE, WHITE, WHITE), "4", "flame", Colours(BLUE, BLUE)),
    "5.1": Design("Oxidizing substances", Colours(YELLOW, YELLOW), "5.1", "flame_over_circle"),
    # A white symbol takes a white upper line with it (49 CFR 172.407(d)(2)(iii)(A)); the lower line stays black.
    "5.2": Design("Organic peroxides", Colours(RED, YELLOW, WHITE, BLACK), "5.2", "flame", Colours(RED, YELLOW)),
    "6.1": Design("Toxic substances", Colours(WHITE, WHITE), "6", "skull"),
    "6.2": Design("Infectious substances", Colours(WHITE, WHITE), "6", "crescents"),
    "2.3-inhalation": Design("Gases poisonous by inhalation", Colours(WHITE, WHITE), "2", "skull"),
    "6.1-inhalation": Design("Substances poisonous by inhalation", Colours(WHITE, WHITE), "6", "skull"),
    # White line below, black stopping at it (49 CFR 172.407(d)(7)). 49 CFR 172.442 leaves the whole line black.
    "8": Design("Corrosive substances", Colours(WHITE, BLACK, BLACK, WHITE, to_edge=False), "8", "corrosion"),
}


class PlainLabel(HazardLabel, frozen=True):
    """A label of ``DESIGNS``."""


class StripedLabel(PlainLabel, frozen=True):
    """Flammable solids: the stripes run over the whole label, to its edges (49 CFR 172.407(d)(7))."""

    @property
    def colour(self) -> bool:
        return True

    @property
    def bleeds(self) -> bool:
        return True

    def stripes(self) -> tuple[tuple[float, float], ...]:
        """Left and right of each red stripe."""
        band = self.width / BANDS
        return tuple((band * (2 * i + 1), band * (2 * i + 2)) for i in range(STRIPES))

    def ground(self, pen: Pen, bleed: float) -> None:
        edge = diamond(self.side, (self.middle, self.middle), -bleed)
        pen.fill(polygon(edge), WHITE)
        for left, right in self.stripes():
            pen.fill(polygon(part(edge, left, -self.width, right, 2 * self.width)), RED)


class HalvedBlackLabel(PlainLabel, frozen=True):
    """Corrosive: the lower half black up to the white line's inside, the edge left white."""

    def coloured_field(self) -> list[Point]:
        return diamond(self.side, (self.middle, self.middle), self.mm("inset") + self.mm("line"))


class InhalationLabel(PlainLabel, frozen=True):
    """US law's label for what is poisonous by inhalation: a white skull on a black square in the upper corner.

    Measure besides the frame's: ``point_above``, how far above the middle the black square's lower point lies
    (49 CFR 172.416(b), 172.429(b)). 49 CFR 172.407(f) lets no label of the UN model stand for it.
    """

    def device(self, pen: Pen) -> None:
        m, half = self.middle, (self.clear - self.mm("point_above")) / 2
        centre = m + self.clear - half
        under = self.mm("line") / 2 / DIAGONAL  # its upper edges run under the line: no hairline of white parts them
        right = [(m, centre - half), (m + half, centre), (m + half + under, centre + under)]
        left = [(2 * m - x, y) for x, y in reversed(right[1:])]
        with group(pen, "black-square", "Black square"):
            pen.fill(polygon([*right, (m, centre + half + 2 * under), *left]), BLACK)
        drawn = symbol(self.sign)
        up, down = drawn.reaches
        k = (half - 3 * DIAGONAL * self.unit) / ((up + down) / 2)  # 3 mm clear of its edges, ours
        to = Transform(k, 0, 0, k, m - drawn.axis * k, centre - (up - down) / 2 * k)
        pen.fill(drawn.path.transformed(to), WHITE)

    def dimensions(self) -> tuple[Dimension, ...]:
        m = self.middle
        above = Dimension("point_above", Point(m, m), Point(m, m + self.mm("point_above")))
        return (*super().dimensions(), above)


KINDS = {
    "4.1": StripedLabel,
    "8": HalvedBlackLabel,
    "2.3-inhalation": InhalationLabel,
    "6.1-inhalation": InhalationLabel,
}
