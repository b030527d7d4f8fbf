"""A freighter seen from above, climbing, three crates in its hold.

Grid: 112 long, 117 across, axis x = 0, everything mirrored. The hull is 21 wide, the crates 9.6 square, 4.4 apart.
Radii: 2 and 3 wing tips, 3.4 engines, 1 crates, 0.9 corners, 1.8 valleys.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, plate, rounded, union

HULL, CRATE, GAP, FIRST = 10.5, 9.6, 4.4, 84


def half() -> Solid:
    """The right half."""
    hull = Trail(0, -5).line((2, -4)).bow(HULL, 34, 110).line((HULL, 84)).on(4, 104).on(0, 107.5).solid()
    wing = rounded([(0, 80), (0, 50), (20, 43), (56, 28), (58.6, 35.5), (20, 66)], (0, 0, 30, 2, 3, 0))
    tail = rounded([(0, 24), (0, 6), (21, -3), (23, 4.5)], (0, 0, 1.6, 2.4))
    engines = plate(18.5, 48, 25.5, 72, 3.4) | plate(36, 38, 43, 60, 3.4)
    return hull | wing | tail | engines


def aircraft() -> Symbol:
    """The aeroplane with its load, in units of its own grid."""
    tops = [FIRST - i * (CRATE + GAP) for i in range(3)]
    crates = union(*(plate(-CRATE / 2, top - CRATE, CRATE / 2, top, 1) for top in tops))
    return Symbol.of("aircraft", softened(half().both() - crates, 0.9, 1.8))
