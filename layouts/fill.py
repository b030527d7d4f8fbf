"""Step 4, the packing: pieces in the order of the line onto areas, each hung as high as it goes, then as far left.

Whatever the manner, areas follow each other by the earliest piece they hold: when a stack has come to a package, all that
the packages before it need lies on the areas already turned over.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from msgspec import Struct

from layouts.cell import Cell
from layouts.geometry import Box

SLACK = 1e-9
#: So many pieces ahead are looked at for one that still fits.
_AHEAD = 2000


class Due(NamedTuple):
    """A piece that waits for its place. run: its package; cells: the ways to print it beside others, preferred first;
    alone: the ways to print it where nothing else lies, for areas that are labels themselves."""

    run: str
    cells: tuple[Cell, ...]
    alone: tuple[Cell, ...] = ()

    @property
    def sizes(self) -> tuple[tuple[float, float], ...]:
        return tuple((cell.width, cell.height) for cell in self.cells)


class Spot(NamedTuple):
    """Where a piece lies: its place in the order, and its cell's lower left corner, mm."""

    order: int
    cell: Cell
    x: float
    y: float


class Filled(NamedTuple):
    """One area: which of the ways it is turned, and what lies on it."""

    way: int
    spots: tuple[Spot, ...]

    @property
    def begins(self) -> int:
        return min(spot.order for spot in self.spots)


class Manner(Struct, frozen=True):
    """How areas are filled. breaks: a package begins a new one; patience: so many sizes that find no room are passed over
    for later ones; turning: a piece takes any of its ways, not the preferred alone; by_size: the largest first."""

    breaks: bool = False
    patience: int = 0
    turning: bool = False
    by_size: bool = False


#: In the order of the line; and in disorder that spares stock, the tidiest first.
TIDY = (Manner(breaks=True), Manner())
SPARE = (
    Manner(patience=60),
    Manner(patience=60, turning=True),
    Manner(patience=60, by_size=True),
    Manner(patience=60, turning=True, by_size=True),
)


def fewest(
    ways: Sequence[Sequence[Due]], turns: Sequence[Sequence[Box]], least: int, manners: Sequence[Manner]
) -> list[Filled]:
    """The fewest areas; of equals the tidiest. ways: the same pieces with their cells in different order of preference;
    turns: sets of areas to choose from, ``Filled.way`` counts in the last, which holds all; least: no fewer are possible.
    Every piece must fit somewhere.
    """
    best: list[Filled] | None = None
    areas = turns[-1]
    for manner in manners:
        for due in ways:
            for turn in turns:
                found = _filled_all(due, [areas.index(area) for area in turn], areas, manner)
                if found is not None and (best is None or len(found) < len(best)):
                    best = found
                if best is not None and len(best) <= least:
                    return best
    assert best is not None  # whoever calls has seen that every piece fits
    return best


def _filled_all(due: Sequence[Due], ways: Sequence[int], areas: Sequence[Box], manner: Manner) -> list[Filled] | None:
    """Area after area, each turned the way that takes more; None if a piece fits none of them."""
    order = list(range(len(due)))
    if manner.by_size:
        order.sort(key=lambda n: (*_small(due[n]), n))
    done: list[Filled] = []
    while order:
        found = max((Filled(way, _filled(due, order, areas[way], manner)) for way in ways), key=_weight)
        if not found.spots:
            return None
        done.append(found)
        placed = {spot.order for spot in found.spots}
        order[:_AHEAD] = [n for n in order[:_AHEAD] if n not in placed]
    return sorted(done, key=lambda one: one.begins)


def _small(due: Due) -> tuple[float, float]:
    """To sort by: the piece with the longest side first, of equals the one with the longer other side."""
    long, short = sorted(due.sizes[0] if due.cells else (0.0, 0.0), reverse=True)
    return -long, -short


def _weight(found: Filled) -> float:
    return math.fsum(spot.cell.width * spot.cell.height for spot in found.spots)


def _filled(due: Sequence[Due], order: Sequence[int], area: Box, manner: Manner) -> tuple[Spot, ...]:
    """One area. A label cut already takes several pieces, or one by itself."""
    spots = tuple(_beside(due, order, area, manner))
    first = due[order[0]]
    if first.alone and len(spots) < 2:
        return (Spot(order[0], first.alone[0], 0.0, 0.0),)
    return spots


def _beside(due: Sequence[Due], order: Sequence[int], area: Box, manner: Manner) -> Iterator[Spot]:
    sky = Skyline(area.width, area.height)
    passed: set[tuple[tuple[float, float], ...]] = set()
    run = due[order[0]].run
    for n in order[:_AHEAD]:
        if manner.breaks and due[n].run != run:
            return
        sizes = due[n].sizes
        if sizes in passed:
            continue
        cells = due[n].cells if manner.turning else _preferred(due[n].cells, area)
        rooms = [(room, cell) for cell in cells if (room := sky.room(cell.width, cell.height)) is not None]
        if not rooms:
            passed.add(sizes)
            if len(passed) > manner.patience:
                return
            continue
        (depth, x), cell = min(rooms, key=lambda found: found[0][0] + found[1].height)
        sky.take(x, depth, cell.width, cell.height)
        yield Spot(n, cell, area.x + x, area.top - depth - cell.height)


def _preferred(cells: tuple[Cell, ...], area: Box) -> tuple[Cell, ...]:
    """The first that the empty area can take."""
    return next(((cell,) for cell in cells if takes(area, cell.width, cell.height)), ())


def takes(area: Box, width: float, height: float) -> bool:
    """Whether a piece of ``width`` by ``height`` mm fits into an area."""
    return width <= area.width + SLACK and height <= area.height + SLACK


class Skyline:
    """What is taken of an area from its top: steps (x, depth), each from x up to the next one."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self.steps = [(0.0, 0.0)]

    def room(self, width: float, height: float) -> tuple[float, float] | None:
        """The highest place for a rectangle, then the leftmost: depth and x; None if there is no room."""
        best: tuple[float, float] | None = None
        for n, (x, _) in enumerate(self.steps):
            right = x + width
            if right > self.width + SLACK:
                break
            depth = 0.0
            for left, low in self.steps[n:]:
                if left >= right - SLACK:
                    break
                depth = max(depth, low)
            if depth + height <= self.height + SLACK and (best is None or (depth, x) < best):
                best = depth, x
        return best

    def take(self, x: float, depth: float, width: float, height: float) -> None:
        right, low = x + width, depth + height
        after = [d for left, d in self.steps if left <= right + SLACK][-1]
        self.steps = (
            [s for s in self.steps if s[0] < x - SLACK]
            + [(x, low)]
            + [(right, after)] * (right < self.width - SLACK)
            + [s for s in self.steps if s[0] > right + SLACK]
        )
