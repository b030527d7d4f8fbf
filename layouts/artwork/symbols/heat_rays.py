"""Heat: a sun at the top, its rays falling.

Grid: the sun a half disc of radius 21 hanging from y = 0, its edge sharp, for it hangs from a border; below it seven
rays 26 degrees apart, 5 thick, round-ended. Axis x = 0.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.solid import box, disc, rod

RADIUS, STEP = 21, 26.0


def heat_rays() -> Symbol:
    """Half a sun and its rays, downwards."""
    parts = [disc(0, 0, RADIUS) & box(-40, -40, 40, 0)]
    for i in range(-3, 4):
        a = math.radians(270 + i * STEP)
        near, far = RADIUS + 7, RADIUS + (22 if i % 2 else 26)
        parts.append(rod(near * math.cos(a), near * math.sin(a), far * math.cos(a), far * math.sin(a), 5))
    return Symbol.of("heat rays", *parts)
