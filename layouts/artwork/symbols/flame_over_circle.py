"""The flame over a circle: the sign of what feeds a fire.

Grid: a ring of radii 34 and 19 about (0, 34); over it a flame of three tongues, 84 wide, its foot hollowed by a
circle 7 wider than the ring. No axis: the flame leans. Tips rounded by 1, valleys by 2.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, disc

OUTER, INNER, GAP, HALF = 34.0, 19.0, 7.0, 42.0


def fire() -> Solid:
    """The outline of the flame, from its right flank round to its left, less the hollow for the ring."""
    t = Trail(0, 32).line((HALF, 32)).line((HALF, 52)).on(37, 80).on(39, 106)  # right flank, right tongue leaning out
    t.bow(20, 80, 44)  # down into the right valley
    t.bow(9, 112, 66).on(13, 146)  # up the tall tongue, which leans back at its tip
    t.bow(-20, 82, 70)  # down its left side
    t.bow(-29, 112, -34)  # up the left tongue
    t.into(-HALF, 52, 270).line((-HALF, 32))
    return (t.solid() - disc(0, OUTER, OUTER + GAP)) & box(-60, OUTER + 18, 60, 200)


def flame_over_circle() -> Symbol:
    """The flame that stands on a ring."""
    ring = disc(0, OUTER, OUTER) - disc(0, OUTER, INNER)
    return Symbol.of("flame over circle", ring, softened(fire(), 1, 2))
