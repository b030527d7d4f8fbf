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
    ring, neck = plate(23.5, MIDDLE - 9, 31, MIDDLE + 9, 1.8), box(22, MIDDLE - 6, 37, MIDDLE + 6)
    valve, outlet = plate(9, MIDDLE - 6, 23, MIDDLE + 6, 1.2), plate(11.5, MIDDLE - 15, 20, MIDDLE, 1.6)
    stem, wheel = box(4, MIDDLE - 2.4, 12, MIDDLE + 2.4), plate(0, MIDDLE - 10, 5.6, MIDDLE + 10, 2)
    light = plate(52, 26, 112, 30.6, 2.3) | plate(42, 26, 47, 30.6, 2.3)
    return Symbol.of("gas cylinder", softened(union(body, ring, neck, valve, outlet, stem, wheel) - light, 0.9))
