"""The hazard labels of classes 2 to 6 and 8: one ground or two halves, a symbol above, the figure below.

Colours and symbols: UN Model Regulations 5.2.2.2.2 (from memory), agreeing with 49 CFR 172.415 to 172.442 except
where a comment says otherwise. Where black or white is allowed on red, green or blue, white is drawn unless ``dark``
is asked for.
"""

from __future__ import annotations

from dataclasses import dataclass

from layouts.artwork.base import diamond, part
from layouts.artwork.label import Colours, HazardLabel
from layouts.geometry import Point, polygon
from layouts.ink import BLACK, BLUE, GREEN, RED, WHITE, YELLOW
from layouts.pen import Pen

#: Stripes of the flammable solids label: seven red on white (UN Model Regulations 5.2.2.2.2, from memory; 49 CFR
#: 172.420(b) asks for an odd number: one in the middle, equal sides). With the white between and outside, fifteen
#: equal bands.
STRIPES, BANDS = 7, 15


@dataclass(frozen=True, slots=True)
class Design:
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
    # 49 CFR 172.416 puts a white skull on a black upper diamond instead; the international label is drawn.
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
    # White line below, black stopping at it (49 CFR 172.407(d)(7)). 49 CFR 172.442 leaves the whole line black.
    "8": Design("Corrosive substances", Colours(WHITE, BLACK, BLACK, WHITE, to_edge=False), "8", "corrosion"),
}


class PlainLabel(HazardLabel):
    """A label of ``DESIGNS``."""


class StripedLabel(PlainLabel):
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


class HalvedBlackLabel(PlainLabel):
    """Corrosive: the lower half black up to the white line's inside, the edge left white."""

    def coloured_field(self) -> list[Point]:
        return diamond(self.side, (self.middle, self.middle), self.mm("inset") + self.mm("line"))


KINDS = {"4.1": StripedLabel, "8": HalvedBlackLabel}
