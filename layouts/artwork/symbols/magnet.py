"""A magnet and a compass it turns: a horseshoe lying on its back, lines of its field, a compass with its needle askew.

Grid: 154 long, 66 high, axis lengthwise at y = 0 (the needle aside). Shoe radii 30 and 14, legs 24 long, poles parted
by a gap of 3.5; field lines 4.6 thick, about the pole face's middle; compass ring radii 31 and 24.5. Corners 1.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, band, box, disc, polygon

OUT, IN, LEG, GAP, POLE = 30, 14, 22, 3.5, 9
COMPASS = (93, 31.0, 24.5)
ASKEW = 33


def shoe() -> Solid:
    """The horseshoe, its bow to the left."""
    t = Trail(0, OUT).around(0, 0, 180).line((LEG, -OUT), (LEG, -IN), (0, -IN)).around(0, 0, -180)
    return t.line((LEG, IN), (LEG, OUT)).solid()


def poles() -> tuple[Solid, Solid]:
    """The two ends of the horseshoe."""
    left, right = LEG + GAP, LEG + GAP + POLE
    return box(left, IN, right, OUT), box(left, -OUT, right, -IN)


def compass() -> Solid:
    """A compass with its needle, turned aside."""
    cx, outer, inner = COMPASS
    needle = polygon((20.5, 0), (0, 8), (-20.5, 0), (0, -8)) - disc(0, 0, 3)
    return (disc(cx, 0, outer) - disc(cx, 0, inner)) | softened(needle, 0.8).moved(cx, 0, ASKEW)


def magnet() -> Symbol:
    """A horseshoe magnet, its lines of force, and a compass."""
    lines = [band(24, 0, r, 4.6, -half, half) for r, half in ((18, 34), (29, 40))]
    return Symbol.of("magnet and compass", *(softened(p, 1) for p in (shoe(), *poles())), *lines, compass())
