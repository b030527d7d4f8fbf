"""Step 4, the last resort of packing: search for the area that holds most, repeat it while pieces last, search again.

For records of few kinds of pieces and many copies, where filling in the order of the line leaves much white.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence

from layouts.fill import Due, Filled, Skyline, Spot
from layouts.geometry import Box

#: Kinds of pieces looked at together, pieces placed in one search for the best area, and areas searched for at most.
_KINDS, _TRIES, _SEARCHES = 8, 3000, 40

Size = tuple[float, float]
Placed = tuple[int, int, float, float]  # kind, which of its cells, depth and x


def by_patterns(due: Sequence[Due], areas: Sequence[Box]) -> list[Filled] | None:
    """All pieces on areas of repeated layout, in the order of their earliest pieces; None where it does not serve: too many
    kinds, or a piece that fits beside none."""
    kinds = _kinds(due)
    done: list[Filled] = []
    for _ in range(_SEARCHES):
        left = [kind for kind in kinds if kind]
        if not left:
            return sorted(done, key=lambda one: one.begins)
        left = left[:_KINDS]
        sizes = [_sizes(due, kind) for kind in left]
        worth = [min((w * h for w, h in of), default=0.0) for of in sizes]
        way, found = max(
            ((way, _Search(area, sizes, worth, [len(kind) for kind in left]).best) for way, area in enumerate(areas)),
            key=lambda one: math.fsum(worth[kind] for kind, *_ in one[1]),
        )
        kind = left[found[0][0] if found else 0]
        if len(found) < 2 and due[kind[0]].alone:  # nothing lies beside it: every piece of it has an area to itself
            done += (Filled(way, (Spot(n, due[n].alone[0], 0.0, 0.0),)) for n in kind)
            kind.clear()
            continue
        if not found:
            return None
        used = [sum(kind == n for kind, *_ in found) for n in range(len(left))]
        for _ in range(min(len(kind) // many for kind, many in zip(left, used, strict=True) if many)):
            done.append(Filled(way, tuple(_spots(due, left, areas[way], found))))
    return None


def _kinds(due: Sequence[Due]) -> list[deque[int]]:
    """Pieces of one item, or of items of the same size, in the order of the line."""
    found: dict[object, deque[int]] = {}
    for n, one in enumerate(due):
        art = one.cells[0].piece.item.artwork
        found.setdefault((art.width, art.height, art.side), deque()).append(n)
    return list(found.values())


def _sizes(due: Sequence[Due], kind: deque[int]) -> list[Size]:
    """The sizes of the kind's cells that do for every piece of it: their captions differ a little."""
    return [
        (max(due[n].cells[way].width for n in kind), max(due[n].cells[way].height for n in kind))
        for way in range(min(len(due[n].cells) for n in kind))
    ]


def _spots(due: Sequence[Due], left: Sequence[deque[int]], area: Box, found: Sequence[Placed]) -> list[Spot]:
    spots = []
    for kind, way, depth, x in found:
        n = left[kind].popleft()
        cell = due[n].cells[way]
        spots.append(Spot(n, cell, area.x + x, area.top - depth - cell.height))
    return spots


class _Search:
    """The layout of one area that is worth most, by trying which piece comes next, dearest first, within ``_TRIES``."""

    def __init__(self, area: Box, sizes: Sequence[Sequence[Size]], worth: Sequence[float], stock: list[int]) -> None:
        self.area, self.sizes, self.worth, self.stock = area, sizes, worth, stock
        self.order = sorted(range(len(sizes)), key=lambda kind: -worth[kind])
        self.tries, self.value, self.best = 0, 0.0, list[Placed]()
        self._go(Skyline(area.width, area.height), [], 0.0)

    def _go(self, sky: Skyline, placed: list[Placed], value: float) -> None:
        if value > self.value + 1e-6:
            self.value, self.best = value, list(placed)
        for kind in self.order:
            if not self.stock[kind]:
                continue
            for way, (width, height) in enumerate(self.sizes[kind]):
                if self.tries >= _TRIES or (room := sky.room(width, height)) is None:
                    continue
                self.tries += 1
                depth, x = room
                after = Skyline(sky.width, sky.height)
                after.steps = sky.steps
                after.take(x, depth, width, height)
                self.stock[kind] -= 1
                self._go(after, [*placed, (kind, way, depth, x)], value + self.worth[kind])
                self.stock[kind] += 1
