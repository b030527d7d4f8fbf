"""A battery group, one broken and burning.

Grid: batteries 17 wide and 46 high with a terminal of 8 by 4.4, 20.5 from one to the next; the last is broken across,
a flame rises from its break and its top lies beside it. No axis. Radii: 2.4 cases, 1 terminals, 0.8 the break and the
flame's tips.
"""

from __future__ import annotations

from layouts.artwork.symbols.flame import fire
from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, box, plate, polygon

PITCH, WIDE, HIGH = 20.5, 17, 46
#: The break, from left to right.
TEETH = ((-2, 20.6), (0, 20), (5.6, 15), (10.4, 20.5), (17, 14.5), (19, 13))


def case() -> Solid:
    """Case and terminal, a band spared out below the top."""
    whole = plate(0, 0, WIDE, HIGH, 2.4) | plate(4.5, HIGH - 2, WIDE - 4.5, HIGH + 4.4, 1)
    return whole - box(-1, HIGH - 10.5, WIDE + 1, HIGH - 7.5)


def below() -> Solid:
    return polygon((-2, -2), (19, -2), *reversed(TEETH))


def battery_group() -> Symbol:
    parts = [case().moved(i * PITCH, 0) for i in range(3)]
    parts.append((case() & below()).moved(3 * PITCH, 0))
    flame = fire(2.4, 2.8).moved(3 * PITCH + 11, 22.5, scale=0.31)
    top = (case() - polygon((-2, -2), (19, -2), (19, 25), (11, 30.5), (6, 25), (-2, 31))).moved(-WIDE / 2, 0)
    parts.append(top.moved(4 * PITCH - 23, WIDE / 2, -90))
    return Symbol.of("battery group", *(softened(p, 0.8) for p in parts), flame)
