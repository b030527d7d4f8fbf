"""A battery group, one broken and burning.

Grid: batteries 17.5 wide and 46 high with a terminal of 8.5 by 5, 21 from one to the next; the last stands 7 further
off, broken below its middle, and a flame rises from the break. No axis. Radii: 2.4 cases, 1.2 terminals, 0.8 the break,
2.6 the flame's tips.
"""

from __future__ import annotations

from layouts.artwork.symbols.flame import fire
from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, box, plate, polygon

PITCH, WIDE, HIGH, APART = 21, 17.5, 46, 7
#: The break, from left to right.
TEETH = ((-2, 24), (0, 23), (5.2, 14.5), (10.2, 21), (WIDE, 12.5), (WIDE + 2, 11))


def case() -> Solid:
    """Case and terminal, a band spared out below the top."""
    whole = plate(0, 0, WIDE, HIGH, 2.4) | plate(4.5, HIGH - 2, WIDE - 4.5, HIGH + 5, 1.2)
    return whole - box(-1, HIGH - 11, WIDE + 1, HIGH - 7.5)


def below() -> Solid:
    """All that lies under the broken edge of the last battery."""
    return polygon((-2, -2), (WIDE + 2, -2), *reversed(TEETH))


def battery_group() -> Symbol:
    """A row of batteries, the last one broken and burning."""
    last = 3 * PITCH + APART
    parts = [case().moved(i * PITCH, 0) for i in range(3)] + [(case() & below()).moved(last, 0)]
    flame = fire(2.6, 3).moved(last + 10, 23.5, scale=0.35)
    return Symbol.of("battery group", *(softened(p, 0.8) for p in parts), flame)
