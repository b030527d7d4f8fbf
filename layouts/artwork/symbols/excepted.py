"""The sign of excepted quantities: a letter E in a ring.

Grid: ring radii 50 and 41, the letter 44 high and 30 wide, its strokes 9, as thick as the ring. Axis: y = 0. Corners
rounded by 1.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import box, disc, union

STROKE = 9


def excepted() -> Symbol:
    """The letter E in a ring."""
    ring = disc(0, 0, 50) - disc(0, 0, 50 - STROKE)
    x0, x1, y = -14, 17, 24
    letter = union(
        box(x0, -y, x0 + STROKE, y),
        box(x0, y - STROKE, x1, y),
        box(x0, -y, x1, STROKE - y),
        box(x0, -STROKE / 2, x1 - 4, STROKE / 2),
    )
    return Symbol.of("excepted quantities", ring, softened(letter, 0.8))
