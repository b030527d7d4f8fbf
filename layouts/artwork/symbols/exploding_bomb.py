"""The exploding bomb: a round shell with a hole torn into it, blast and splinters flying out of the hole.

Grid: the shell a circle of radius 33 about (0, 33); hole, rays and splinters have their middle at (0, 50), rays 30
degrees apart, splinters half way between them. Axis x = 0 (the light on the shell aside). Corners rounded by 0.9.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, band, disc, polygon

SHELL, HEART, STEP = 33.0, 50.0, 30.0
#: The right half of the hole, teeth and cracks by turns: degrees and distance from its middle.
RIM = ((14, 42), (3, 26), (-14, 14.5), (-38, 27), (-62, 12.5), (-90, 25))
#: Each ray by its turns from the upright: where it begins, where it ends.
RAYS = {0: (21, 66), 1: (22, 64), 2: (23, 62)}


def at(degrees: float, reach: float) -> tuple[float, float]:
    """A point so far from the middle of the hole."""
    a = math.radians(degrees)
    return reach * math.cos(a), HEART + reach * math.sin(a)


def shell() -> Solid:
    """The shell without its hole, a light spared out along its left."""
    right = [at(*corner) for corner in RIM]
    left = [(-x, y) for x, y in reversed(right[:-1])]
    hole = polygon(*right, *left, (-50, 100), (50, 100))
    return (disc(0, SHELL, SHELL) - hole) - band(0, SHELL, 24, 5, 186, 242)


def ray(degrees: float, inner: float, outer: float, foot: float = 9.5) -> Solid:
    """A wedge pointing away from the hole, ``foot`` wide where it begins."""
    (cx, cy), tip = at(degrees, inner), at(degrees, outer)
    nx, ny = -math.sin(math.radians(degrees)) * foot / 2, math.cos(math.radians(degrees)) * foot / 2
    return polygon((cx - nx, cy - ny), tip, (cx + nx, cy + ny))


def splinter(degrees: float, reach: float) -> Solid:
    """A piece of the shell, tumbling: four corners, broader outside."""
    return polygon((-5.6, -3.6), (5, -5.6), (6.2, 4.6), (-4.6, 4.4)).moved(*at(degrees, reach), degrees)


def exploding_bomb() -> Symbol:
    """The bomb, its rays and its splinters."""
    rays = [ray(90 + i * STEP, *RAYS[abs(i)]) for i in range(-2, 3)]
    right = [splinter(90 - i * STEP / 2, reach) for i, reach in ((1, 49), (3, 47))]
    parts = (*rays, *right, *(s.mirrored() for s in right))
    return Symbol.of("exploding bomb", softened(shell(), 0.9), *(softened(p, 0.9) for p in parts))
