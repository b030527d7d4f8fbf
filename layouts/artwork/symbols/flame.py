"""The flame: a round body, a tall tongue between two short ones, a small flame spared out inside.

Grid: 76 wide, 126 high, foot at 0; the body is a circle of radius 38 about (0, 38). No axis: a flame leans. Every
edge is an arc, and arcs run into each other without a kink; only tips and valleys turn, tips rounded by 0.9, valleys
by 1.2.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail

BODY, HEART = 38, 15


def tongues() -> Solid:
    """The whole outline, from the foot up the right side."""
    t = Trail(0, 0).around(0, BODY, 84).on(32.5, 66).on(34, 88)  # body, then the right tongue leaning out
    t.bow(18, 63, 38)  # down into the right valley
    t.bow(8, 97, 62).on(11, 126)  # up the tall tongue, which leans back at its tip
    t.bow(-18, 66, 62)  # down its left side
    t.bow(-25, 93, -30)  # up the left tongue
    t.into(-BODY, BODY, 270).around(0, BODY, 90)
    return t.solid()


def heart() -> Solid:
    """The flame within the flame: the same gesture, smaller."""
    t = Trail(0, 8).around(0, 8 + HEART, 90).on(10, 40).on(7.5, 58)
    return t.bow(-9, 42, 60).into(-HEART, 8 + HEART, 270).around(0, 8 + HEART, 90).solid()


def fire(tip: float = 0.9, valley: float = 1.2) -> Solid:
    """The whole flame, rounded; where it is drawn small, by larger radii."""
    return softened(tongues() - heart(), tip, valley)


def flame() -> Symbol:
    """The flame alone."""
    return Symbol.of("flame", fire())
