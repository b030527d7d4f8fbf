"""The flame over a circle: the sign of what feeds a fire.

Grid: circle of radius 27 about (0, 27), its ring 8 thick; the flame stands on it, 92 high, parted by nothing: its foot grows from
the ring. Axis: the circle's, upright; the flame leans.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, disc

OUTER, INNER = 28, 19.5


def fire() -> Solid:
    """Three tongues rising from the upper part of the ring."""
    t = Trail(-20, 40).line((20, 40))
    t.bow(33, 66, 40).on(36, 92)
    t.bow(20, 74, 34)
    t.bow(9, 104, 60).on(12, 130)
    t.bow(-15, 78, 58)
    t.bow(-24, 98, -30)
    t.bow(-20, 40, 66)
    return t.solid()


def flame_over_circle() -> Symbol:
    ring = disc(0, OUTER, OUTER) - disc(0, OUTER, INNER)
    return Symbol.of("flame over circle", softened((fire() | ring) - disc(0, OUTER, INNER), 0.9, 1.6))
