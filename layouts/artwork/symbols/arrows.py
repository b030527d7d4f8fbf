"""Two upright arrows over a bar: this way up.

Grid: 84 wide, 112 high, axis x = 0. Each arrow 36 wide, its shaft 15; bar 9 thick, as is the gap above it. Corners
rounded by 1.2.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, box, polygon

BAR, HEAD, SHAFT, TOP = 9, 18, 7.5, 112


def arrow(x: float) -> Solid:
    """One arrow, its axis at ``x``."""
    foot, neck = 2 * BAR, TOP - 38
    right = [(SHAFT, foot), (SHAFT, neck), (HEAD, neck), (0, TOP)]
    return polygon(*[(x + px, py) for px, py in right], *[(x - px, py) for px, py in right[-2::-1]])


def arrows() -> Symbol:
    """Two arrows that stand on a bar."""
    return Symbol.of(
        "two arrows over a bar", *(softened(s, 1.2) for s in (arrow(-24), arrow(24), box(-42, 0, 42, BAR)))
    )
