"""A horseshoe magnet, its poles up, and lines of its field.

Grid: axis x = 0. Shoe radii 30 and 15, legs 26 long, pole shoes parted by a gap of 3; field lines 4.2 thick about
each pole. Corners 1.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, disc

OUT, IN, LEG = 30, 14, 24


def shoe() -> Solid:
    return (
        Trail(-OUT, 0)
        .around(0, 0, 180)
        .line((OUT, LEG), (IN, LEG), (IN, 0))
        .around(0, 0, -180)
        .line((-IN, LEG), (-OUT, LEG))
        .solid()
    )


def field(radius: float) -> Solid:
    """A half circle from pole to pole."""
    return (disc(0, 40, radius + 2.1) - disc(0, 40, radius - 2.1)) & box(-60, 40, 60, 100)


def magnet() -> Symbol:
    poles = box(IN, 27.5, OUT, 38).both()
    lines = [field(r) for r in (9, 22, 35)]
    return Symbol.of("magnet", *(softened(p, 1) for p in (shoe(), poles, *lines)))
