"""Corrosion: two test tubes pour on a metal bar (left) and on a hand (right), both eaten away where the drops fall.

Grid: 138 wide, 94 high; tubes mirrored at x = 0, tilted by 34 degrees, 20 wide; drops fall at x = 41 either side.
Radii: 10 tubes, 4 drops, 7 and 5.4 bites, 0.9 corners; fingers 5.6 thick, 1.3 apart.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, disc, plate, polygon, rod, rounded, union

FALL, TILT = 41, 34


def tube() -> Solid:
    """The right tube: closed end in the middle, mouth down to the right, a light spared out along its back."""
    glass = Trail(0, -10).line((32, -10), (32, 10), (0, 10)).around(0, 0, 180).solid()
    lip = plate(31, -12.8, 37.4, 12.8, 1.8)
    light = plate(0, 1.6, 26, 6, 2.2)
    return ((glass | lip) - light).moved(10.5, 72, -TILT)


def drop(x: float, y: float, r: float) -> Solid:
    """A falling drop: a circle, and above it the point where two tangents meet."""
    high = 2.3 * r
    lean = math.acos(r / high)  # from upright to where a tangent leaves the circle
    touch = (r * math.sin(lean), r * math.cos(lean))
    return disc(x, y, r) | polygon((x - touch[0], y + touch[1]), (x, y), (x + touch[0], y + touch[1]), (x, y + high))


def bites(x: float, y: float) -> Solid:
    """What the liquid has eaten: a hollow where it falls and a lesser one beside it."""
    return disc(x, y, 7) | disc(x - 7.6, y + 1, 5.4)


def hand() -> Solid:
    """A hand from above, fingers to the left, the thumb spread, eaten into behind the knuckles."""
    palm = rounded([(33, -2), (51, -3.5), (61, 2), (61, 20), (52, 25), (33, 24)], (1, 8, 2, 2, 8, 1))
    tips = ((19, 0.8), (13, 7.7), (14.5, 14.6), (21, 21.2))
    fingers = [rod(x, y, 39, y, 5.6) for x, y in tips]
    thumb = rod(49, 1, 31, -10, 6)
    return union(palm, thumb, *fingers) - bites(FALL + 2, 24)


def corrosion() -> Symbol:
    """Two tubes that spill on a hand and on a plate."""
    metal = box(-68, -8, -15, 12) - bites(-FALL + 2, 12.5)
    cuff = plate(63.6, -0.5, 70, 22.5, 1)
    drops = [drop(x, y, 4) for x, y in ((FALL + 2, 31.5), (-FALL, 17.5), (-FALL, 33))]
    return Symbol.of("corrosion", *(softened(p, 0.9) for p in (tube(), tube().mirrored(), metal, hand(), cuff, *drops)))
