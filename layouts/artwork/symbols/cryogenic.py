"""A cold receptacle: an open flask in its stand, a crystal of ice above it.

Grid: 100 high, axis x = 0. Radii: 24 flask, 1 corners. The crystal has six arms, 4.4 thick.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, plate, rod, union


def flask() -> Solid:
    outer = Trail(-20, 40).line((-20, 20)).around(0, 20, 180).line((20, 40)).solid()
    inner = Trail(-13.5, 44).line((-13.5, 20)).around(0, 20, 180).line((13.5, 44)).solid()
    lip = plate(-26, 36, -13.5, 42.5, 2).both()
    level = Trail(-10, 28).line((-10, 20)).around(0, 20, 180).line((10, 28)).solid()
    return ((outer | lip) - inner) | level


def crystal(cx: float, cy: float, size: float) -> Solid:
    arms = []
    for k in range(6):
        a = 90 + 60 * k
        parts = [
            rod(0, 0, 0, size, 4.2),
            rod(0, 0.52 * size, 0.3 * size, 0.84 * size, 4.2),
            rod(0, 0.52 * size, -0.3 * size, 0.84 * size, 4.2),
        ]
        arms.append(union(*parts).moved(0, 0, a - 90))
    return union(*arms).moved(cx, cy)


def cryogenic() -> Symbol:
    return Symbol.of("cold receptacle", softened(flask(), 0.9), softened(crystal(0, 72, 24), 0.6))


_ = math
