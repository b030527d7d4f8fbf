"""The exploding bomb: a shell burst open, its rim jagged, blast and splinters flying up from it.

Grid: the shell a circle of radius 24 about (0, 24); blast rays point at its centre. Axis x = 0 (the light on the shell aside).
Rays: seven, 22 degrees apart, wedges narrowing outwards. Corners rounded by 0.8.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, disc, polygon

SHELL = 24.0
STEP = 25.0


def shell() -> Solid:
    """The shell below a jagged rim, with a light edge spared out."""
    rim = polygon(
        (-40, 30), (-18, 31), (-13, 38), (-7, 27), (0, 35), (7, 27), (13, 38), (18, 31), (40, 30), (40, -10), (-40, -10)
    )
    inner = Trail(-16.5, 22).around(0, 24, 55)
    end = inner._at
    light = inner.line((end.x * 0.76, 24 + (end.y - 24) * 0.76)).around(0, 24, -55).solid()
    return (disc(0, SHELL, SHELL) & rim) - light


def ray(degrees: float, inner: float, outer: float, foot: float) -> Solid:
    """A wedge pointing away from the shell's centre, ``foot`` wide where it begins."""
    a = math.radians(degrees)
    u, n = (math.cos(a), math.sin(a)), (-math.sin(a), math.cos(a))
    cx, cy = 0, 24
    p = [(cx + u[0] * inner + n[0] * s * foot / 2, cy + u[1] * inner + n[1] * s * foot / 2) for s in (-1, 1)]
    return polygon(p[0], (cx + u[0] * outer, cy + u[1] * outer), p[1])


def splinter(degrees: float, at: float, size: float) -> Solid:
    """A four-cornered piece of shell, its long way outwards."""
    return polygon(
        (-size, -0.2 * size), (0.1 * size, -0.62 * size), (size, 0.1 * size), (-0.2 * size, 0.62 * size)
    ).moved(at * math.cos(math.radians(degrees)), 24 + at * math.sin(math.radians(degrees)), degrees)


def exploding_bomb() -> Symbol:
    parts = [shell()]
    for i in range(-3, 4):
        parts.append(ray(90 - i * STEP, 22 if i == 0 else 26, 62 if i % 2 == 0 else 50, 8))
    for i in (-2.5, -1.5, -0.5, 0.5, 1.5, 2.5):
        parts.append(splinter(90 - i * STEP, 52 if abs(i) != 1.5 else 58, 5.2))
    return Symbol.of("exploding bomb", *(softened(p, 0.7) for p in parts))
