"""Skull and crossbones: seen from the front, the bones crossed below the jaw.

Grid: 104 wide, 100 high, axis x = 0, everything mirrored at it. Radii: 30 cranium, 6 knuckles of the bones, 1
corners. Bones 8.4 thick; skull and bones are parted by at least 3.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, disc, plate, polygon, rod, rounded, union

CRANIUM, TEMPLE = 30, 68


def head() -> Solid:
    """Cranium, cheekbones and upper jaw, the left half mirrored."""
    half = Trail(0, 27).line((14, 27)).bow(17, 30, 3).line((17, 38)).bow(26, 43, -12).into(29.4, 53, 88)
    return half.line((CRANIUM, TEMPLE)).around(0, TEMPLE, 90).line((0, 27)).solid().both()


def face() -> Solid:
    """Eyes, nose, and the gaps between four teeth."""
    eye = rounded([(3.6, 51.5), (5.4, 67.5), (23.6, 73.4), (21.8, 50.4)], (5.4, 5, 6.2, 8.4))
    nose = polygon((0, 53), (5.6, 42.4), (0, 44.6), (-5.6, 42.4))
    return union(
        eye.both(), softened(nose, 1.2), plate(-1.2, 20, 1.2, 36.5, 1.1), plate(6.6, 20, 9.0, 36.5, 1.1).both()
    )


def bone() -> Solid:
    """One bone, from lower left to upper right."""
    knuckles = [disc(x * 0.966 - y * 0.259, x * 0.259 + y * 0.966 + 13, 6) for x in (-47.5, 47.5) for y in (-4.6, 4.6)]
    return union(rod(-44.4, 1.1, 44.4, 24.9, 8.4), *knuckles)


def skull() -> Symbol:
    """The skull on two crossed bones."""
    return Symbol.of(
        "skull and crossbones", softened(softened(head(), 1, 4) - face(), 0.8), softened(bone().both(), 0.8, 2)
    )
