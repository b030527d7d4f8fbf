"""The gas cylinder, lying: body with a round shoulder, neck ring, valve with its wheel, a light along the body.

Grid: 124 long, 38 high, axis lengthwise at y 19 (the light aside, the upper half mirrors the lower). Radii: 18.9
shoulder, 8 bottom, 0.9 edges.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import box, plate, rounded, union

MIDDLE = 19


def gas_cylinder() -> Symbol:
    body = rounded([(31, 0), (124, 0), (124, 38), (31, 38)], (18.9, 8, 8, 18.9))
    ring = plate(22, MIDDLE - 8.5, 29, MIDDLE + 8.5, 1.6)
    neck = box(20, MIDDLE - 6, 36, MIDDLE + 6)
    valve = plate(10, MIDDLE - 5, 24, MIDDLE + 5, 1.6)
    outlet = plate(13, MIDDLE - 14, 19.5, MIDDLE, 1.2)
    stem, wheel = box(4, MIDDLE - 2.4, 12, MIDDLE + 2.4), plate(0, MIDDLE - 9, 6, MIDDLE + 9, 2)
    light = plate(52, 26, 112, 30.6, 2.3) | plate(42, 26, 47, 30.6, 2.3)
    return Symbol.of("gas cylinder", softened(union(body, ring, neck, valve, outlet, stem, wheel) - light, 0.9))
