"""Corrosion: two test tubes pour on a metal bar (left) and on a hand (right), both eaten away where the drops fall.

Grid: 140 wide, 70 high; tubes mirrored at x = 0, tilted by 24 degrees, 13 wide; drops fall at x = 46 either side. Radii: 6.5 tubes,
2.7 drops, 5 bites, 1 corners; fingers 4.2 thick, 0.9 apart.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, disc, plate, rod, rounded, union

FALL, TILT = 46, 24


def tube() -> Solid:
    """The right tube: closed end at the top in the middle, mouth down to the right; its liquid spared out as a light level."""
    glass = Trail(0, -6.5).line((36, -6.5), (36, 6.5), (0, 6.5)).around(0, 0, 180).solid()
    lip = plate(34, -9, 39.5, 9, 1.6)
    light = plate(4, 0.6, 30, 3.4, 1.4)
    return ((glass | lip) - light).moved(9, 62.5, -TILT)


def drop(x: float, y: float, r: float) -> Solid:
    """A falling drop: round below, pointed above."""
    return (
        Trail(x, y - r)
        .around(x, y, 120)
        .line((x, y + 2.2 * r))
        .line((x - r * 0.866, y + r * 0.5))
        .around(x, y, 120)
        .solid()
    )


def bites(x: float, y: float) -> Solid:
    return union(disc(x, y, 5), disc(x - 6.4, y + 1.4, 3.6), disc(x + 6.2, y + 1.6, 3.2))


def hand() -> Solid:
    """A hand from above, fingers to the left, thumb below, cut off at the cuff."""
    palm = rounded([(41, 1.4), (60, 0), (66, 3), (66, 16.4), (60, 19.4), (41, 18.8)], (1, 5, 2, 2, 5, 1))
    tips = ((24.5, 3.2), (20, 8.2), (21, 13.3), (27, 18.2 - 1.5))
    fingers = [rod(x, y, 45, 3.2 + 4.5 * i, 4.2) for i, (x, y) in enumerate(tips)]
    thumb = rod(55, 3, 43, -5.4, 4.6)
    return union(palm, thumb, *fingers) - bites(FALL + 3.5, 21.5)


def corrosion() -> Symbol:
    metal = box(-70, 2, -22, 13) - bites(-FALL, 14.5)
    cuff = plate(68.4, 0.6, 74, 18.8, 1)
    parts = [tube(), tube().mirrored(), metal, hand(), cuff]
    drops = [drop(s * FALL, y, 2.7) for s in (1, -1) for y in (27.5, 38)]
    return Symbol.of("corrosion", *(softened(p, 0.8) for p in (*parts, *drops)))
