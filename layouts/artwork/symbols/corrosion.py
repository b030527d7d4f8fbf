"""Corrosion: two test tubes pour on a metal bar (left) and on a hand (right), both eaten away where the drops fall.

Grid: 138 wide, 88 high; tubes mirrored at x = 0, tilted by 34 degrees, 18.8 wide; drops fall at x = 41 either side.
Radii: 9.4 tubes, 3.6 drops, 6 bites, 0.9 corners; fingers 4.6 thick, 1 apart.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, disc, plate, polygon, rod, rounded, union

FALL, TILT = 41, 34


def tube() -> Solid:
    """The right tube: closed end in the middle, mouth down to the right, a light spared out along its back."""
    glass = Trail(0, -9.4).line((32, -9.4), (32, 9.4), (0, 9.4)).around(0, 0, 180).solid()
    lip = plate(31, -12.2, 37.4, 12.2, 1.8)
    light = plate(0, 1.4, 26, 5.4, 2)
    return ((glass | lip) - light).moved(10.5, 72, -TILT)


def drop(x: float, y: float, r: float) -> Solid:
    """A falling drop: a circle, and above it the point where two tangents meet."""
    high = 2.3 * r
    lean = math.acos(r / high)  # from upright to where a tangent leaves the circle
    touch = (r * math.sin(lean), r * math.cos(lean))
    return disc(x, y, r) | polygon((x - touch[0], y + touch[1]), (x, y), (x + touch[0], y + touch[1]), (x, y + high))


def bites(x: float, y: float) -> Solid:
    """What the liquid has eaten: a hollow and a lesser one beside it."""
    return disc(x, y, 6.4) | disc(x + 8.2, y + 0.6, 4.2)


def hand() -> Solid:
    """A hand from above, fingers to the left, thumb below, cut off at the cuff."""
    palm = rounded([(42, 3), (58, 1.4), (67, 5), (67, 20.4), (58, 25), (42, 24.4)], (1, 7, 2, 2, 7, 1))
    tips = ((25, 6.1), (19.5, 11.7), (20.5, 17.3), (27, 22.9))
    fingers = [rod(x, y, 46, y, 4.6) for x, y in tips]
    thumb = rod(55, 4.4, 40, -2, 5)
    return union(palm, thumb, *fingers).moved(-5, 0) - bites(FALL, 27)


def corrosion() -> Symbol:
    metal = box(-67, -3, -16, 12) - bites(-FALL - 1, 13.4)
    cuff = plate(64.4, 1.4, 70.4, 24, 1)
    drops = [drop(x, y, 3.6) for x, y in ((FALL, 31.4), (-FALL, 17), (-FALL, 31))]
    return Symbol.of("corrosion", *(softened(p, 0.9) for p in (tube(), tube().mirrored(), metal, hand(), cuff, *drops)))
