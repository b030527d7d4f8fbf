"""The trefoil: a disc and three blades.

Figure: UN Model Regulations figure 5.2.1 (from memory); 49 CFR Part 172 Appendix B. Disc of radius R, blades from 1.5
R to 5 R, each 60 degrees wide, 60 degrees apart, one pointing straight down. Grid: R is 1. Axes: upright, and two
more at 120 degrees. Nothing is rounded: the law fixes every edge.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.solid import Solid, Trail, disc
from layouts.geometry import Path, Transform

INNER, OUTER, WIDE = 1.5, 5.0, 60
CENTRES = (270, 30, 150)


def blade(centre: float) -> Solid:
    """A blade about the direction ``centre``, degrees."""
    a = math.radians(centre - WIDE / 2)
    b = math.radians(centre + WIDE / 2)
    t = (
        Trail(INNER * math.cos(a), INNER * math.sin(a))
        .line((OUTER * math.cos(a), OUTER * math.sin(a)))
        .around(0, 0, WIDE)
    )
    return t.line((INNER * math.cos(b), INNER * math.sin(b))).around(0, 0, -WIDE).solid()


def trefoil() -> Symbol:
    """The trefoil about a disc of radius 1."""
    return Symbol.of("trefoil", disc(0, 0, 1), *(blade(c) for c in CENTRES))


def trefoil_of(cx: float, cy: float, radius: float) -> Path:
    """The trefoil about a point, its disc of that radius."""
    return trefoil().path.transformed(Transform(radius, 0, 0, radius, cx, cy))
