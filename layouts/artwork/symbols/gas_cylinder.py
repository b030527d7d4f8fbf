"""The gas cylinder, lying: body with a round shoulder, neck, valve with outlet and handwheel, a light along the body.

Grid: 124 long, 40 high, axis lengthwise at y 20. The valve has four parts only, none thinner than 6.5, so that it is
still one when the whole is 8 mm long. Radii: 19.9 shoulder, 7 bottom, 1 edges.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import box, plate, rounded, union

MIDDLE = 20


def gas_cylinder() -> Symbol:
    """A cylinder, lying, its valve at the left."""
    body = rounded([(34, 0), (124, 0), (124, 40), (34, 40)], (19.9, 7, 7, 19.9))
    collar, neck = box(28, MIDDLE - 11, 40, MIDDLE + 11), box(12, MIDDLE - 7, 40, MIDDLE + 7)
    stem = box(4, MIDDLE - 3.5, 14, MIDDLE + 3.5)
    outlet, wheel = plate(15, MIDDLE, 23, MIDDLE + 16, 1), plate(0, MIDDLE - 13, 6.5, MIDDLE + 13, 2)
    light = plate(56, 27, 112, 32, 2.5) | plate(44, 27, 50, 32, 2.5)
    return Symbol.of("gas cylinder", softened(union(body, collar, neck, stem, outlet, wheel) - light, 1))
