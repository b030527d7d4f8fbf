"""The large figures 1, 4, 5, 6 of divisions 1.4, 1.5 and 1.6: one stroke wide throughout, square at the ends.

Grid: 30 units high, the stroke given (5 by law: UN Model Regulations 5.2.2.2.1.3, from memory). Bowls are rings of
outer radius 9.8. The point is a square of the stroke; figures stand 3.6 apart.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.solid import Solid, box, disc, polygon, union

HEIGHT, BOWL, GAP = 30.0, 9.8, 3.6
#: Where the stem of the 1 begins.
FLAG = 5.4


def one(s: float) -> tuple[Solid, float]:
    """A stem with a flag."""
    return polygon(
        (FLAG, 0), (FLAG + s, 0), (FLAG + s, 30), (FLAG, 30), (0, 25.6), (0, 25.6 - 1.1 * s), (FLAG, 30 - 1.1 * s)
    ), FLAG + s


def four(s: float) -> tuple[Solid, float]:
    """A slanting stroke, a bar and a stem."""
    stem, bar = 12.4, 6.0
    top, foot = (stem + s, 30.0), (0.0, bar + s)
    reach = math.dist(top, foot)
    nx, ny = (top[1] - foot[1]) / reach * s, -(top[0] - foot[0]) / reach * s  # to the right of the slant
    slant = polygon(foot, (foot[0] + nx, foot[1] + ny), (top[0] + nx, top[1] + ny), top) & box(0, bar, stem + s, 30)
    return union(slant, box(0, bar, stem + s + 4.2, bar + s), box(stem, 0, stem + s, 30)), stem + s + 4.2


def five(s: float) -> tuple[Solid, float]:
    """A bowl open to the left below a stem and a bar."""
    bowl = disc(BOWL, BOWL, BOWL) - disc(BOWL, BOWL, BOWL - s)
    a, b = (math.radians(x) for x in (158, 214))
    opening = polygon(
        (BOWL, BOWL),
        (BOWL + 30 * math.cos(a), BOWL + 30 * math.sin(a)),
        (BOWL + 30 * math.cos(b), BOWL + 30 * math.sin(b)),
    )
    stem = polygon((0.7, 12.6), (0.7 + s, 12.6), (1.5 + s, 30), (1.5, 30)) - disc(BOWL, BOWL, BOWL - s)
    return union(bowl - opening, stem, box(1.5, 30 - s, 18, 30)), 2 * BOWL


def six(s: float) -> tuple[Solid, float]:
    """A closed bowl, a stem, and half a bowl above, open to the right."""
    top = HEIGHT - BOWL
    upper = disc(BOWL, top, BOWL) - disc(BOWL, top, BOWL - s)
    a = math.radians(28)
    opening = polygon((BOWL, top), (BOWL + 40 * math.cos(a), top + 40 * math.sin(a)), (60, -40), (-40, -40), (-40, top))
    lower = disc(BOWL, BOWL, BOWL) - disc(BOWL, BOWL, BOWL - s)
    return union(upper - opening, lower, box(0, BOWL, s, top)), 2 * BOWL


def point(s: float) -> tuple[Solid, float]:
    """The point between two figures and its width, of stroke ``s``."""
    return box(0, 0, s, s), s


_FIGURES = {"1": one, ".": point, "4": four, "5": five, "6": six}


def division_figure(text: str, stroke: float) -> Symbol:
    """``1.4`` and its like, their foot at y 0."""
    x, parts = 0.0, []
    for ch in text:
        figure, width = _FIGURES[ch](stroke)
        parts.append(figure.moved(x, 0))
        x += width + GAP
    return Symbol.of(text, *parts)


def division_figures() -> Symbol:
    """All of them, for the contact sheet."""
    return division_figure("1.456", 5.0)
