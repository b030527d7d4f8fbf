"""The trefoil: a disc and three blades.

Figure: UN Model Regulations figure 5.2.1 (from memory); 49 CFR Part 172 Appendix B. Disc of radius R, blades from 1.5 R to
5 R, each 60 degrees wide, 60 degrees apart, one pointing straight down. Grid: R is 1. Axis: upright, and two more at 120
degrees. Nothing is rounded: the law fixes every edge.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.geometry import Path, Point, Segment, Transform, arc, circle

INNER, OUTER = 1.5, 5.0
CENTRES = (270, 30, 150)


def blade(centre: float) -> Path:
    """A blade about the direction ``centre``, degrees."""
    a0, a1 = centre - 30, centre + 30

    def at(r: float, a: float) -> Point:
        return Point(r * math.cos(math.radians(a)), r * math.sin(math.radians(a)))

    return Path(
        [
            Segment("M", (at(INNER, a0),)),
            Segment("L", (at(OUTER, a0),)),
            *arc(0, 0, OUTER, a0, a1),
            Segment("L", (at(INNER, a1),)),
            *arc(0, 0, INNER, a1, a0),
            Segment("Z"),
        ]
    )


def trefoil() -> Symbol:
    path = circle(0, 0, 1)
    for centre in CENTRES:
        path += blade(centre)
    return Symbol("trefoil", path)


def trefoil_of(cx: float, cy: float, radius: float) -> Path:
    """The trefoil about a point, its disc of that radius."""
    return trefoil().path.transformed(Transform(radius, 0, 0, radius, cx, cy))
