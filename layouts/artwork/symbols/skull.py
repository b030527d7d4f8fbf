"""Skull and crossbones: seen from the front, the bones crossed below the jaw.

Grid: 100 wide, 86 high, axis x = 0, everything mirrored at it. Radii: 26 cranium, 8 eyes, 5.6 knuckles of the bones, 1 corners.
Bones 7.6 thick; the gap between skull and bones is never under 3.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, disc, plate, rod, rounded, union

CRANIUM = 26


def head() -> Solid:
    """Cranium, cheekbones and upper jaw, the left half mirrored."""
    right = Trail(0, 26).line((12, 26)).bow(14.5, 28.5, 2.5).line((14.5, 35)).bow(22.5, 40, -12).bow(25, 49, 9)
    right.into(CRANIUM, 60, 90).around(0, 60, 90).line((0, 26))
    return right.solid().both()


def face() -> Solid:
    eye = rounded([(4.2, 51), (6, 59.5), (17.5, 62.5), (20.2, 55), (17, 47.5), (8, 46)], 4)
    nose = rounded([(0, 47), (4.6, 38.4), (0, 40), (-4.6, 38.4)], (1, 1.4, 0.8, 1.4))
    slot = plate(3.4, 24, 5.4, 33.5, 1)
    return eye.both() | nose | slot.both() | plate(9.4, 24, 11.0, 32.5, 0.8).both()


def bone() -> Solid:
    """One bone, from lower left to upper right."""
    knuckles = [disc(42.5, 31.2, 5.4), disc(46.6, 24.2, 5.4), disc(-42.5, -4.2, 5.4), disc(-46.6, 2.8, 5.4)]
    return union(rod(-42, -0.2, 42, 27.2, 7.6), *knuckles)


def skull() -> Symbol:
    bones = bone().both()
    return Symbol.of("skull and crossbones", softened((head() - face()) | bones, 0.7))
