"""The exploding bomb: a round shell torn open at the top, blast and splinters flying from the tear.

Grid: the shell a circle of radius 32 about (0, 32); rays and splinters point at the middle of the tear, (0, 46), 32
degrees apart. Axis x = 0 (the light on the shell aside). Corners rounded by 0.8, the teeth of the tear by 1.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, band, disc, polygon

SHELL, HEART, STEP = 32.0, 44.0, 32.0
#: The torn rim from the middle to the right: x, y.
RIM = ((0, 38), (7, 50), (13.5, 38), (22, 51), (26, 43), (50, 47))


def at(degrees: float, reach: float) -> tuple[float, float]:
    """A point so far from the middle of the tear."""
    a = math.radians(degrees)
    return reach * math.cos(a), HEART + reach * math.sin(a)


def shell() -> Solid:
    """The shell below its rim, a light spared out along its left."""
    left = [(-x, y) for x, y in reversed(RIM[1:])]
    below = polygon(*left, *RIM, (50, -10), (-50, -10))
    return (disc(0, SHELL, SHELL) & below) - band(0, SHELL, 22.5, 4.8, 178, 242)


def ray(degrees: float, inner: float, outer: float, foot: float) -> Solid:
    """A wedge pointing away from the tear, ``foot`` wide where it begins."""
    (cx, cy), tip = at(degrees, inner), at(degrees, outer)
    nx, ny = -math.sin(math.radians(degrees)) * foot / 2, math.cos(math.radians(degrees)) * foot / 2
    return polygon((cx - nx, cy - ny), tip, (cx + nx, cy + ny))


def splinter(degrees: float, reach: float) -> Solid:
    """A four-cornered piece of shell, its long way outwards."""
    return polygon((-6.5, 0), (-1.5, -4.4), (6.5, 0), (-1.5, 4.4)).moved(*at(degrees, reach), degrees)


def exploding_bomb() -> Symbol:
    rays = [ray(90 + i * STEP, (18, 24, 33)[abs(i)], (60, 58, 59)[abs(i)], 12) for i in range(-2, 3)]
    splinters = [splinter(90 + i * STEP / 2, 44) for i in (-3, -1, 1, 3)]
    return Symbol.of("exploding bomb", softened(shell(), 1), *(softened(p, 0.8) for p in (*rays, *splinters)))
