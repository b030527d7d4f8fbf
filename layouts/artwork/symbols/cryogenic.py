"""A cold receptacle: an open flask with a double wall, a crystal of ice above it.

Grid: 118 high, axis x = 0. Radii: 28 flask, 1 corners. Wall 6.5 thick; the crystal has six arms, 5 thick.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, Trail, plate, rod, union


def cup(half: float, top: float) -> Solid:
    """A round-bottomed beaker about the axis, its bottom's centre at y 28."""
    return Trail(-half, top).line((-half, 28)).around(0, 28, 180).line((half, top)).solid()


def flask() -> Solid:
    """Wall and rim; within, parted from it, what it holds."""
    rim = plate(-34, 54, -18, 61, 2).both()
    return ((cup(28, 58) | rim) - cup(21, 70)) | cup(17.4, 42)


def crystal(cx: float, cy: float, size: float) -> Solid:
    """Six arms, each with a pair of twigs."""
    arm = union(rod(0, 0, 0, size, 5), *(rod(0, 0.5 * size, s * 0.3 * size, 0.8 * size, 4.6) for s in (1, -1)))
    return union(*(arm.moved(0, 0, 60 * k) for k in range(6))).moved(cx, cy)


def cryogenic() -> Symbol:
    """A flask and a crystal of ice."""
    return Symbol.of("cold receptacle", softened(flask(), 1), softened(crystal(0, 92, 25), 0.7))
