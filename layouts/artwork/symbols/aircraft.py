"""An aircraft seen from above, climbing.

Grid: 100 long, 100 across, axis x = 0, everything mirrored. Radii: 26 the nose's flanks, 2 wing tips, 2.6 engines,
0.9 corners.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, plate, rounded


def half() -> Solid:
    """The right half."""
    body = Trail(0, -1).line((1.8, 1)).bow(6, 28, 100).line((6, 82)).bow(0, 100, 30).solid()
    wing = rounded([(0, 71), (0, 47), (48, 28), (50, 34)], (0, 0, 2, 2.6))
    tail = rounded([(0, 24), (0, 9), (19, 1), (20.6, 6.8)], (0, 0, 1.6, 2))
    engines = plate(16, 44, 22.4, 64, 3) | plate(31, 36, 37.4, 54, 3)
    return body | wing | tail | engines


def aircraft() -> Symbol:
    return Symbol.of("aircraft", softened(half().both(), 0.9, 1.6))
