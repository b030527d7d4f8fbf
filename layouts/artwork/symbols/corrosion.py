"""Corrosion: two test tubes pour on a metal bar (left) and on a hand (right), both eaten away where the drops fall.

Grid: 140 wide, 84 high; tubes mirrored at x = 0, tilted by 26 degrees, 19.2 wide; drops fall at x = 46 either side.
Radii: 9.6 tubes, 3.6 drops, 6 bites, 0.9 corners; fingers 4.6 thick, 1 apart.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, disc, plate, rod, rounded, union

FALL, TILT = 46, 26


def tube() -> Solid:
    """The right tube: closed end in the middle, mouth down to the right, a light spared out along its back."""
    glass = Trail(0, -9.6).line((34, -9.6), (34, 9.6), (0, 9.6)).around(0, 0, 180).solid()
    lip = plate(33, -13, 39.6, 13, 1.8)
    light = plate(0, 1.4, 28, 5.6, 2.1)
    return ((glass | lip) - light).moved(12, 70, -TILT)


def drop(x: float, y: float, r: float) -> Solid:
    """A falling drop: round below, pointed above."""
    return (
        Trail(x, y - r)
        .around(x, y, 118)
        .line((x, y + 2.3 * r))
        .line((x - r * 0.883, y + r * 0.469))
        .around(x, y, 118)
        .solid()
    )


def bites(x: float, y: float) -> Solid:
    """What the liquid has eaten: a hollow and a lesser one beside it."""
    return disc(x, y, 6.4) | disc(x + 8.2, y + 0.6, 4.2)


def hand() -> Solid:
    """A hand from above, fingers to the left, thumb below, cut off at the cuff."""
    palm = rounded([(42, 3), (58, 1.4), (67, 5), (67, 20.4), (58, 25), (42, 24.4)], (1, 7, 2, 2, 7, 1))
    tips = ((25, 6.1), (19.5, 11.7), (20.5, 17.3), (27, 22.9))
    fingers = [rod(x, y, 46, y, 4.6) for x, y in tips]
    thumb = rod(55, 4.4, 40, -2, 5)
    return union(palm, thumb, *fingers) - bites(FALL, 27)


def corrosion() -> Symbol:
    metal = box(-72, -3, -21, 12) - bites(-FALL - 1, 13.4)
    cuff = plate(69.4, 1.4, 75.4, 24, 1)
    drops = [drop(x, y, 3.6) for x, y in ((FALL, 31.4), (-FALL, 17), (-FALL, 31))]
    return Symbol.of("corrosion", *(softened(p, 0.9) for p in (tube(), tube().mirrored(), metal, hand(), cuff, *drops)))
