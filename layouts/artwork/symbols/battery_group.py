"""A battery group, one broken and burning.

Grid: batteries 18 wide and 40 high with a terminal of 8 by 4, 23 from one to the next; the last is broken across, its upper part
tilted by 12 degrees, and burns. No axis. Radii: 2.4 cases, 1 terminals, 0.8 the break.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, box, plate, polygon

PITCH, WIDE, HIGH = 23, 18, 40


def case() -> Solid:
    return plate(0, 0, WIDE, HIGH, 2.4) | plate(5, HIGH - 2, WIDE - 5, HIGH + 4.4, 1)


def whole() -> Solid:
    """A sound battery: case, terminal, a band spared out below its top."""
    return case() - box(-1, HIGH - 9, WIDE + 1, HIGH - 6.2)


def broken() -> tuple[Solid, Solid]:
    """Lower and upper part, parted along a jagged break."""
    teeth = [(0, 22), (5, 18.5), (8.5, 24), (13, 19), (18, 22.5)]
    below = polygon((-2, -2), (20, -2), (20, 22.5), *reversed(teeth), (-2, 22))
    return case() & below, case() - below


def fire() -> Solid:
    t = Trail(0, 0).bow(12, 15, 13).on(11, 21).bow(7.4, 15.5, 14).bow(2.5, 26, 16).on(3.2, 36)
    return t.bow(-6.2, 19, 20).bow(-8.6, 26, -9).into(-12, 11, 270).bow(0, 0, 12).solid()


def battery_group() -> Symbol:
    parts = [whole().moved(i * PITCH, 0) for i in range(3)]
    lower, upper = broken()
    parts.append(lower.moved(3 * PITCH, 0))
    parts.append(upper.moved(0, -22).moved(3 * PITCH + 2.2, 26.5, 12))
    parts.append(fire().moved(4 * PITCH + 10.5, 14))
    return Symbol.of("battery group", *(softened(p, 0.8) for p in parts))
