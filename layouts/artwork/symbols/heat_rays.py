"""Heat: a sun at the top, its rays falling.

Grid: the sun a half disc of radius 22 hanging from y = 0, seven rays below it 24 degrees apart, 5 thick. Axis x = 0.
Corners 0.8.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import box, disc, rod

RADIUS, STEP = 21, 26.0


def heat_rays() -> Symbol:
    parts = [softened(disc(0, 0, RADIUS) & box(-40, -40, 40, 0), 1)]
    for i in range(-3, 4):
        a = math.radians(270 + i * STEP)
        near, far = RADIUS + 7, RADIUS + (22 if i % 2 else 26)
        parts.append(rod(near * math.cos(a), near * math.sin(a), far * math.cos(a), far * math.sin(a), 5))
    return Symbol.of("heat rays", *parts)
