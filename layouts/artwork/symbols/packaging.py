"""The circle of the packaging code: a u over an n in a ring, as it stands before the code of a tested packaging.

UN Model Regulations 6.1.3.1 (a) (from memory); 49 CFR 178.503(a)(1). It certifies, so it is never printed on a label; the
face placement diagram shows it where the packaging bears it. Grid: ring radii 50 and 43.5; the letters 32 wide, their
strokes 8, 3.5 from the middle. The n is the u, turned by half a turn about 0, 0. Corners rounded by 0.8.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, disc

OUT, IN, FOOT, TOP = 16, 8, 3.5, 34.5


def u() -> Solid:
    """A bow and two stems of one thickness."""
    middle = FOOT + OUT
    bow = Trail(-OUT, TOP).line((-OUT, middle)).around(0, middle, 180).line((OUT, TOP), (IN, TOP), (IN, middle))
    return bow.around(0, middle, -180).line((-IN, TOP)).solid()


def packaging() -> Symbol:
    """The ring with u over n of the United Nations packaging mark."""
    ring = disc(0, 0, 50) - disc(0, 0, 43.5)
    letter = softened(u(), 0.8)
    return Symbol.of("packaging code", ring, letter, letter.moved(0, 0, 180))
