"""The flame over a circle: the sign of what feeds a fire.

Grid: a ring of radii 32 and 20.5 about (0, 32); over it the outline of the flame, its foot hollowed by a circle 5
wider than the ring. No axis: the flame leans. Tips rounded by 0.9, valleys by 1.6.
"""

from __future__ import annotations

from layouts.artwork.symbols.flame import tongues
from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, box, disc

OUTER, INNER, GAP = 32.0, 20.5, 5.0


def fire() -> Solid:
    return (tongues().moved(0, 41) - disc(0, OUTER, OUTER + GAP)) & box(-60, OUTER + 15, 60, 200)


def flame_over_circle() -> Symbol:
    ring = disc(0, OUTER, OUTER) - disc(0, OUTER, INNER)
    return Symbol.of("flame over circle", ring, softened(fire(), 0.9, 1.6))
