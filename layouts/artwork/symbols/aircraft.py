"""An aircraft seen from above, climbing.

Grid: 100 long, 96 across, axis x = 0, everything mirrored. Radii: 5.5 nose, 2 wing tips, 1 corners.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Trail, plate, polygon, rounded


def aircraft() -> Symbol:
    right = Trail(0, 0).line((2.2, 4)).bow(5.6, 26, 90).line((5.8, 84)).bow(0, 100, 19).line((0, 0)).solid()
    wing = rounded([(0, 64), (0, 45), (46, 30.5), (48, 36), (8, 62)], (0, 0, 2, 2.4, 0))
    tail = rounded([(0, 16), (0, 5), (17, 0.5), (18, 5), (4, 17)], (0, 0, 1.5, 1.5, 0))
    engines = plate(15.5, 42, 21.5, 58, 2.6) | plate(30, 34.5, 36, 50, 2.6)
    half = right | wing | tail | engines
    return Symbol.of("aircraft", softened(half.both(), 0.8, 1.6))


_ = polygon
