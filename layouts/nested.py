"""Squares on their point in each other's gaps: where they may lie on a face, in whole tenths of a millimetre.

A square's box takes in four corners that are free. The squares are set one after the other where each touches what is there:
an edge of the face or of what is taken, the box of another square, its slope, or the slopes of two. That does not find every
arrangement there is; it finds those in which nothing has room to move.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache
from itertools import combinations, product

from layouts.outline import Rect

Set = tuple[int, int, int]  # width, and the lower left corner of the box
Arrangement = tuple[Set, ...]
#: How many arrangements of some of the squares are carried on.
MOST = 24


@lru_cache(256)
def arrangements(
    widths: tuple[int, ...], gap: int, width: int, height: int, taken: tuple[Rect, ...]
) -> tuple[Arrangement, ...]:
    """Places for squares so wide, on a face so large that every box has its gap at its right and upper side."""
    found: list[Arrangement] = [()]
    for wide in widths:
        more: dict[tuple[Set, ...], Arrangement] = {}
        for there in found:
            for x, y in _touching(wide, there, gap, width, height, taken):
                if not (there or taken) and (2 * x > width - wide - gap or 2 * y > height - wide - gap):
                    continue  # its mirror image does
                new = (*there, (wide, x, y))
                more.setdefault(tuple(sorted(new)), new)
        found = _thinned(list(more.values()))
    return tuple(found)


def _thinned(found: list[Arrangement]) -> list[Arrangement]:
    step = max(1.0, len(found) / MOST)
    return [found[int(n * step)] for n in range(min(len(found), MOST))]


def _touching(
    wide: int, there: Arrangement, gap: int, width: int, height: int, taken: Sequence[Rect]
) -> Iterator[tuple[int, int]]:
    """Where one more may lie, each place once."""
    box = wide + gap
    across = {0, width - box, *(r[2] for r in taken), *(r[0] - box for r in taken)}
    up = {0, height - box, *(r[3] for r in taken), *(r[1] - box for r in taken)}
    for other, x, y in there:
        across |= {x + other + gap, x - box, x + (other - wide) // 2}
        up |= {y + other + gap, y - box, y + (other - wide) // 2}
    spots = set(product(across, up))
    for one in there:
        spots |= set(_on_slopes(wide, one, gap, across, up))
    for one, two in combinations(there, 2):
        spots |= set(_between(wide, one, two, gap))
    for x, y in sorted(spots):
        if not (0 <= x <= width - box and 0 <= y <= height - box):
            continue
        if any(x < r[2] and r[0] < x + box and y < r[3] and r[1] < y + box for r in taken):
            continue
        if all(_clear((wide, x, y), one, gap) for one in there):
            yield x, y


def _reach(one: int, two: int, gap: int) -> int:
    """How far their centres lie apart, along and up together, where their slopes are a gap apart; twice."""
    return one + two + math.ceil(2 * gap * math.sqrt(2))


def _clear(a: Set, b: Set, gap: int) -> bool:
    along, up = abs(2 * a[1] + a[0] - 2 * b[1] - b[0]), abs(2 * a[2] + a[0] - 2 * b[2] - b[0])
    return max(along, up) >= a[0] + b[0] + 2 * gap or along + up >= _reach(a[0], b[0], gap)


def _on_slopes(
    wide: int, other: Set, gap: int, across: Collection[int], up: Collection[int]
) -> Iterator[tuple[int, int]]:
    """On a slope of another, at one of these distances from the left or from below."""
    size, x0, y0 = other
    cx, cy, reach = 2 * x0 + size, 2 * y0 + size, _reach(wide, size, gap)
    for x in across:
        rest = reach - abs(2 * x + wide - cx)
        if rest > 0:
            yield from ((x, math.ceil((cy + rest - wide) / 2)), (x, math.floor((cy - rest - wide) / 2)))
    for y in up:
        rest = reach - abs(2 * y + wide - cy)
        if rest > 0:
            yield from ((math.ceil((cx + rest - wide) / 2), y), (math.floor((cx - rest - wide) / 2), y))


def _between(wide: int, one: Set, two: Set, gap: int) -> Iterator[tuple[int, int]]:
    """On slopes of two others at once: where a rising one of one meets a falling one of the other."""
    for a, b in ((one, two), (two, one)):
        for p, q in product((1, -1), repeat=2):
            rising = (2 * a[2] + a[0]) - (2 * a[1] + a[0]) + p * _reach(wide, a[0], gap)  # up less along
            falling = (2 * b[2] + b[0]) + (2 * b[1] + b[0]) + q * _reach(wide, b[0], gap)  # up and along
            along, high = (falling - rising) / 2, (falling + rising) / 2
            for x in {math.floor((along - wide) / 2), math.ceil((along - wide) / 2)}:
                yield from ((x, y) for y in {math.floor((high - wide) / 2), math.ceil((high - wide) / 2)})
