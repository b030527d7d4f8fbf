"""The gas cylinder, lying: body with round shoulders, neck, valve with its wheel, a light edge along the body.

Grid: 120 long, 36 high, axis lengthwise at y 18 (the light aside, the upper half mirrors the lower). Radii: 16 shoulder and
bottom, 3 for what is turned, 2 for edges.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import plate, rounded, union

MIDDLE = 18


def gas_cylinder() -> Symbol:
    body = rounded([(28, 0), (120, 0), (120, 36), (28, 36)], (17.9, 9, 9, 17.9))
    neck = plate(15, MIDDLE - 6, 32, MIDDLE + 6, 1.5)
    stem = plate(4, MIDDLE - 3.2, 18, MIDDLE + 3.2, 0.8)
    wheel = plate(0, MIDDLE - 12, 7, MIDDLE + 12, 2.5)
    light = plate(44, 24.5, 108, 29, 2.25)
    return Symbol.of("gas cylinder", softened(union(body, neck, stem, wheel) - light, 0.8))
