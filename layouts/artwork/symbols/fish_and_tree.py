"""A dead fish and a bare tree: harm to the environment.

Grid: 124 wide, 90 high, the ground at y = 14. No axis. The fish's flanks are arcs of radius 36; limbs taper to 2.2;
waves are arcs of radius 8. Corners rounded by 0.9.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, disc, polygon, rod, union

GROUND = 14


def limb(x0: float, y0: float, x1: float, y1: float, foot: float, tip: float = 2.2) -> Solid:
    """A branch tapering from its foot to its tip."""
    length = math.dist((x0, y0), (x1, y1))
    nx, ny = (y0 - y1) / length / 2, (x1 - x0) / length / 2
    return polygon(
        (x0 - nx * foot, y0 - ny * foot),
        (x1 - nx * tip, y1 - ny * tip),
        (x1 + nx * tip, y1 + ny * tip),
        (x0 + nx * foot, y0 + ny * foot),
    )


def tree() -> Solid:
    """A trunk and its bare limbs, on a strip of ground."""
    trunk = Trail(-48, GROUND - 2).line((-18, GROUND - 2), (-18, GROUND)).into(-28.6, 30, 94)
    trunk.line((-31.2, 92), (-33.8, 92), (-36.4, 30)).on(-48, GROUND)
    limbs = (
        limb(-33, 34, -58, 56, 6), limb(-46, 45, -48, 62, 3.8),
        limb(-33, 42, -9, 64, 6), limb(-20.5, 53.5, -5, 52, 3.8),
        limb(-32.5, 56, -50, 80, 5), limb(-32.5, 62, -17, 84, 5),
    )  # fmt: skip
    return union(trunk.solid(), box(-62, GROUND - 7, -6, GROUND), *limbs)


def fish() -> Solid:
    """Head to the left, lying aslant; a cross for an eye."""
    body = disc(0, -22, 36) & disc(0, 22, 36)
    tail = polygon((20, 0), (40, 13), (36, 0), (40, -13))
    fins = polygon((-3, 11), (7, 21), (12, 8)) | polygon((2, -11), (12, -18), (14, -7))
    eye = union(rod(-20, -3.4, -14.6, 2, 2.2), rod(-20, 2, -14.6, -3.4, 2.2))
    gill = (disc(-26, 0, 20.5) - disc(-26, 0, 18.2)) & box(-20, -9, 0, 9)
    return (union(body, tail, fins) - eye - gill).moved(27, 39, -16)


def wave() -> Solid:
    """Water to the right: four crests, even in thickness."""
    t = Trail(-2, GROUND - 7)
    for i in range(4):
        x = -2 + 16 * i
        t.bow(x + 8, GROUND - 7, -7).bow(x + 16, GROUND - 7, 7)
    t.line((62, GROUND - 1.6))
    for i in reversed(range(4)):
        x = -2 + 16 * i
        t.bow(x + 8, GROUND - 1.6, -7).bow(x, GROUND - 1.6, 7)
    return t.solid()


def fish_and_tree() -> Symbol:
    """A dead fish before a bare tree."""
    return Symbol.of("fish and tree", *(softened(p, 0.9) for p in (tree(), fish(), wave())))
