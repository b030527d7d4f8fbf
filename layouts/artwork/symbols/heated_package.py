"""A package seen from above a corner: three faces, the upper one taped.

Grid: axis x = 0; edges of 44 falling by 28 degrees either side, 30 high; faces parted by 3.2, the tape's borders 3.2.
Corners 1.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, polygon

EDGE, HIGH, GAP = 44.0, 30.0, 1.6
COS, SIN = math.cos(math.radians(28)), math.sin(math.radians(28))


def side() -> Solid:
    """The right face, a little away from the axis and the upper face."""
    x0, x1, fall = GAP, EDGE * COS, SIN / COS
    return polygon((x0, x0 * fall), (x1, x1 * fall), (x1, x1 * fall + HIGH), (x0, x0 * fall + HIGH))


def lid() -> Solid:
    """The upper face; the borders of a strip of tape across it spared out."""
    foot = HIGH + 2 * GAP / COS
    a, b = EDGE * COS, EDGE * SIN
    face = polygon((0, foot), (a, foot + b), (0, foot + 2 * b), (-a, foot + b))
    for t in (0.4, 0.6):
        x, y = (
            -a * t,
            foot + b * t,
        )  # on the lower left edge; the border runs from beyond it to beyond the edge opposite
        lower, upper = (x - 0.2 * a, y - 0.2 * b), (x + 1.2 * a, y + 1.2 * b)
        strip = polygon(
            (lower[0], lower[1] - 1.8),
            (upper[0], upper[1] - 1.8),
            (upper[0], upper[1] + 1.8),
            (lower[0], lower[1] + 1.8),
        )
        face = face - strip
    return face


def heated_package() -> Symbol:
    """A box seen from a corner, to stand under the rays."""
    return Symbol.of("package", softened(side(), 1), softened(side().mirrored(), 1), softened(lid(), 0.8))
