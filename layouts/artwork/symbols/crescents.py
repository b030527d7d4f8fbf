"""Three crescents on a circle: infectious substances.

Grid: centre 0, 0. Axes: three, one upright, 120 degrees apart. Each crescent is a disc of radius 20 about a point 17
from the centre, less a disc of radius 16 about a point 22.6 from it; a disc of radius 4.2 is taken from the middle,
and a slit 2.6 wide leads from it along each axis. The circle, radii 12.6 and 17, shows inside the crescents with a
gap of 2.2 all round.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, box, disc, union

OUT, OUT_AT, CUT, CUT_AT, GAP = 20.0, 17.0, 15.6, 23.4, 2.4
MIDDLE, SLIT, RING = 4.4, 2.6, (12.8, 17.2)


def turned(part: Solid) -> Solid:
    """A part and its two turns by 120 degrees."""
    return union(part, part.moved(0, 0, 120), part.moved(0, 0, 240))


def crescents() -> Symbol:
    """Three crescents on a circle."""
    full = turned(disc(0, OUT_AT, OUT))
    cut = turned(disc(0, CUT_AT, CUT))
    slits = turned(box(-SLIT / 2, 0, SLIT / 2, CUT_AT))
    horns = full - cut - disc(0, 0, MIDDLE) - slits
    circle = (disc(0, 0, RING[1]) - disc(0, 0, RING[0])) & turned(disc(0, CUT_AT, CUT - GAP))
    return Symbol.of("three crescents", softened(horns, 0.5), softened(circle, 0.4))
