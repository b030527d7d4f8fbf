"""Named inks: a spot name, a CMYK and an sRGB value each, and where each comes from.

The law names colours by pigment charts (49 CFR 172.407(d)(4), Part 172 Appendix A) and, as equivalents, by entries of a
printers' formula guide (172.407(d)(5)). The CMYK and sRGB values are ours: chosen near the charts' central colours, in
offset on coated paper (FOGRA39) and on a screen, as far as these can show them; how near is measured in
``tests/published/inks.toml``. A printer matches the spot name, not the screen.
"""

from __future__ import annotations

from msgspec import Struct


class Ink(Struct, frozen=True):
    """name: ours; spot: the separation's name; cmyk: 0..100 each; srgb: 0..255 each; source: where it comes from."""

    name: str
    spot: str
    cmyk: tuple[float, float, float, float]
    srgb: tuple[int, int, int]
    source: str

    @property
    def hex(self) -> str:
        return "#{:02x}{:02x}{:02x}".format(*self.srgb)


_GUIDE = "49 CFR 172.407(d)(5) names the formula guide's equivalent; CMYK and sRGB values chosen by us"

BLACK = Ink("black", "Black", (0, 0, 0, 100), (0, 0, 0), "black ink alone; 49 CFR 172.407(d)(2)")
WHITE = Ink("white", "White", (0, 0, 0, 0), (255, 255, 255), "the unprinted stock")
RED = Ink("red", "Label Red", (15, 98, 98, 0), (190, 32, 36), _GUIDE)
ORANGE = Ink("orange", "Label Orange", (0, 55, 100, 0), (235, 122, 0), _GUIDE)
YELLOW = Ink("yellow", "Label Yellow", (0, 14, 100, 0), (242, 202, 0), _GUIDE)
GREEN = Ink("green", "Label Green", (100, 30, 80, 0), (0, 115, 85), _GUIDE)
BLUE = Ink("blue", "Label Blue", (100, 55, 10, 0), (0, 92, 145), _GUIDE)

INKS = {ink.name: ink for ink in (BLACK, WHITE, RED, ORANGE, YELLOW, GREEN, BLUE)}


def grey(percent: float) -> Ink:
    """A tint of black for diagrams and captions (never on a label): 0 is white, 100 is black."""
    level = round(255 * (1 - percent / 100))
    return Ink(f"grey-{percent:g}", "Black", (0, 0, 0, percent), (level, level, level), "a tint of black")
