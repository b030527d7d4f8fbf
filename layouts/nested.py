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
    if not widths:
        return ((),)
    wide, more = widths[-1], dict[tuple[Set, ...], Arrangement]()
    for there in arrangements(widths[:-1], gap, width, height, taken):
        for x, y in _touching(wide, there, gap, width, height, taken):
            if not (there or taken) and (2 * x > width - wide - gap or 2 * y > height - wide - gap):
                continue  # its mirror image does
            new = (*there, (wide, x, y))
            more.setdefault(tuple(sorted(new)), new)
    return tuple(_thinned(list(more.values())))


def _thinned(found: list[Arrangement]) -> list[Arrangement]:
    step = max(1.0, len(found) / MOST)
    return [found[int(n * step)] for n in range(min(len(found), MOST))]


def _touching(
    wide: int, there: Arrangement, gap: int, width: int, height: int, taken: Sequence[Rect]
) -> Iterator[tuple[int, int]]:
    """Where one more may lie, each place once, in order."""
    box = wide + gap
    most_x, most_y = width - box, height - box
    if most_x < 0 or most_y < 0:
        return
    across = {0, most_x, *(r[2] for r in taken), *(r[0] - box for r in taken)}
    up = {0, most_y, *(r[3] for r in taken), *(r[1] - box for r in taken)}
    for other, x, y in there:
        across |= {x + other + gap, x - box, x + (other - wide) // 2}
        up |= {y + other + gap, y - box, y + (other - wide) // 2}
    across, up = ({n for n in some if 0 <= n <= most} for some, most in ((across, most_x), (up, most_y)))
    spots = set(product(across, up))
    for one in there:
        spots |= set(_on_slopes(wide, one, gap, across, up))
    for one, two in combinations(there, 2):
        spots |= set(_between(wide, one, two, gap))
    # twice the middle of each, less the width of this one; how far apart along or up is enough, and both together
    others = [(2 * x + w - wide, 2 * y + w - wide, w + wide + 2 * gap, _reach(wide, w, gap)) for w, x, y in there]
    inside = [(x, y) for x, y in spots if 0 <= x <= most_x and 0 <= y <= most_y]
    for cx, cy, apart, reach in others:
        inside = [
            (x, y)
            for x, y in inside
            if (along := abs(2 * x - cx)) >= apart or (off := abs(2 * y - cy)) >= apart or along + off >= reach
        ]
    for x0, y0, x1, y1 in taken:
        inside = [(x, y) for x, y in inside if x >= x1 or x + box <= x0 or y >= y1 or y + box <= y0]
    yield from sorted(inside)


def _reach(one: int, two: int, gap: int) -> int:
    """How far their centres lie apart, along and up together, where their slopes are a gap apart; twice."""
    return one + two + math.ceil(2 * gap * math.sqrt(2))


def _on_slopes(
    wide: int, other: Set, gap: int, across: Collection[int], up: Collection[int]
) -> Iterator[tuple[int, int]]:
    """On a slope of another, at one of these distances from the left or from below."""
    size, x0, y0 = other
    cx, cy, reach = 2 * x0 + size - wide, 2 * y0 + size - wide, _reach(wide, size, gap)
    for x in across:
        rest = reach - abs(2 * x - cx)
        if rest > 0:
            yield x, (cy + rest + 1) // 2
            yield x, (cy - rest) // 2
    for y in up:
        rest = reach - abs(2 * y - cy)
        if rest > 0:
            yield (cx + rest + 1) // 2, y
            yield (cx - rest) // 2, y


def _between(wide: int, one: Set, two: Set, gap: int) -> Iterator[tuple[int, int]]:
    """On slopes of two others at once: where a rising one of one meets a falling one of the other."""
    for a, b in ((one, two), (two, one)):
        rise, fall = (2 * a[2] + a[0]) - (2 * a[1] + a[0]), (2 * b[2] + b[0]) + (2 * b[1] + b[0]) - 2 * wide
        first, second = _reach(wide, a[0], gap), _reach(wide, b[0], gap)
        for rising in (rise + first, rise - first):  # up less along
            for falling in (fall + second, fall - second):  # up and along
                along, high = falling - rising, falling + rising
                x, y = along // 4, high // 4
                yield x, y
                if along % 4:
                    yield x + 1, y
                if high % 4:
                    yield x, y + 1
                    if along % 4:
                        yield x + 1, y + 1
