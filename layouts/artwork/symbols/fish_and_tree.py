"""A dead fish and a bare tree: harm to the environment.

Grid: 124 wide, 84 high, ground at y = 12. No axis. The fish's flanks are arcs of radius 34; branches taper to 1.8; waves are arcs of
radius 9. Corners rounded by 0.8.
"""

from __future__ import annotations

import math

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, disc, polygon, rod, union


def limb(x0: float, y0: float, x1: float, y1: float, foot: float, tip: float) -> Solid:
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
    trunk = polygon((-40, 10), (-24, 10), (-28.6, 18), (-29.6, 40), (-30.6, 84), (-33, 84), (-34.4, 40), (-35.4, 18))
    limbs = [
        limb(-32, 30, -54, 50, 4.6, 2), limb(-43, 40, -46, 54, 3, 1.8),
        limb(-32, 38, -12, 58, 4.6, 2), limb(-22, 48, -10, 46, 3, 1.8),
        limb(-32, 50, -48, 70, 4, 1.8), limb(-32, 58, -18, 76, 4, 1.8),
    ]  # fmt: skip
    return union(trunk, *limbs)


def fish() -> Solid:
    """Head to the left, belly up, lying aslant."""
    body = disc(0, -22, 33) & disc(0, 22, 33)
    tail = polygon((18, 0), (36, 11), (32, 0), (36, -11))
    fin = polygon((-4, 8), (6, 17), (9, 7))
    eye = union(rod(-16, -4, -11.4, 0.6, 1.7), rod(-16, 0.6, -11.4, -4, 1.7))
    gill = (disc(-22, 0, 16.5) - disc(-22, 0, 14.7)) & box(-20, -7, 0, 7)
    return (union(body, tail, fin) - eye - gill).moved(28, 26, -14)


def wave() -> Solid:
    t = Trail(-6, 6)
    for i in range(4):
        t.bow(4 + 16 * i - 2, 6, 9).bow(10 + 16 * i, 6, -9) if False else t.bow(2 + 16 * i, 6, 7).bow(
            10 + 16 * i, 6, -7
        )
    for i in reversed(range(4)):
        t.line((10 + 16 * i, 1)) if i == 3 else None
        t.bow(2 + 16 * i, 1, 7).bow(-6 + 16 * i, 1, -7)
    return t.solid()


def fish_and_tree() -> Symbol:
    ground = box(-62, 6, -8, 12)
    return Symbol.of("fish and tree", softened(tree() | ground, 0.8), softened(fish(), 0.8), softened(wave(), 0.8))
