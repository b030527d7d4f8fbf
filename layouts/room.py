"""How much room a face has for rectangles, and when they can't go on it whatever their arrangement. Whole numbers throughout."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from functools import lru_cache
from itertools import pairwise

from layouts.arrange import empty_boxes
from layouts.geometry import Box
from layouts.outline import Corners, Rect, Size


@lru_cache(256)
def too_much(sizes: tuple[tuple[tuple[int, int, int], ...], ...], width: int, height: int) -> bool:
    """Whether the pieces can't fit by a bound alone: their area, with those wider or higher than half the face counted as
    what they really shut off (dual feasible functions: Fekete and Schepers, 2004)."""
    area = width * height
    kinds = Counter(tuple([(w, h) for w, h, _ in mine]) for mine in sizes)
    if 4 * sum([n * min([w * h for w, h in kind]) for kind, n in kinds.items()]) <= area:
        return False  # along each side none is counted with more than twice its own
    across, up = ({size[n] for kind in kinds for size in kind} for n in (0, 1))
    wide = [{w: _worth(w, step, width) for w in across} for step in _steps(across, width)]
    high = [{h: _worth(h, step, height) for h in up} for step in _steps(up, height)]
    one = [(kind[0], n) for kind, n in kinds.items() if len(kind) == 1]
    some = [(kind, n) for kind, n in kinds.items() if len(kind) > 1]
    for a in wide:
        for b in high:
            taken = sum([n * a[w] * b[h] for (w, h), n in one])
            if taken + sum([n * min([a[w] * b[h] for w, h in kind]) for kind, n in some]) > area:
                return True
    return False


def _steps(sizes: Collection[int], whole: int) -> list[int]:
    """The steps at which such a function can tell more: the sizes themselves, and what is left over beside them."""
    found = {size for size in sizes if 2 * size <= whole} | {whole - size + 1 for size in sizes if 2 * size > whole + 1}
    return [0, *sorted(found)[:12]]


def _worth(size: int, step: int, whole: int) -> int:
    """A dual feasible function: what is left over beside a piece nearly as large as the whole is counted with it, what is
    smaller than that not at all."""
    if not step:
        return size
    return whole if size > whole - step else size if size >= step else 0


@lru_cache(512)
def empty(width: int, height: int, taken: tuple[Rect, ...]) -> tuple[Rect, ...]:
    """The largest empty rectangles between what is taken; they may overlap."""
    boxes = [Box(a, b, c - a, d - b) for a, b, c, d in taken if a < c and b < d]
    rooms = empty_boxes(Box(0, 0, width, height), boxes)
    return tuple((round(one.x), round(one.y), round(one.right), round(one.top)) for one in rooms)


@lru_cache(512)
def outside(width: int, height: int, rects: tuple[Rect, ...]) -> tuple[Rect, ...]:
    """What none of these covers, in rectangles that do not overlap."""
    across = sorted({0, width, *(r[0] for r in rects), *(r[2] for r in rects)})
    up = sorted({0, height, *(r[1] for r in rects), *(r[3] for r in rects)})
    found: list[Rect] = []
    begun: dict[Size, int] = {}  # the stretches along that are bare since some height
    for low, high in [*pairwise(up), (height, height)]:
        here = [(r[0], r[2]) for r in rects if r[1] <= low and high <= r[3]] if low < height else [(0, width)]
        bare: list[Size] = []
        for left, right in pairwise(across):
            if any([a <= left and right <= b for a, b in here]):
                continue
            if bare and bare[-1][1] == left:
                bare[-1] = bare[-1][0], right
            else:
                bare.append((left, right))
        found += [(a, since, b, low) for (a, b), since in begun.items() if (a, b) not in bare]
        begun = {stretch: begun.get(stretch, low) for stretch in bare}
    return tuple(sorted(found))


class Sums(dict[int, int]):
    """The largest of some sums that is not longer than a length, for every length asked of it. sums: a number whose bit n is
    set where n is one of them."""

    def __init__(self, sums: int) -> None:
        super().__init__()
        self._sums = sums

    def __missing__(self, length: int) -> int:
        self[length] = most = (self._sums & ((2 << length) - 1)).bit_length() - 1
        return most


def useful(corners: Corners, taken: Sequence[Rect], width: int, height: int, sums: Sums) -> int:
    """The area right of and above the corners and between what is taken, when of each line across it and in each gap no more
    counts than the largest of these sums that is not longer. taken: from left to right, none over another."""
    area = 0
    if not taken:
        ceiling = height
        for x, y in corners:
            area += sums[width - x] * (ceiling - y)
            ceiling = y
        return area
    n, lowest = len(corners) - 1, corners[-1][1]
    levels = {height, *[y for _, y in corners], *[y for r in taken for y in (r[1], r[3]) if lowest < y < height]}
    for low, high in pairwise(sorted(levels)):
        while n and corners[n - 1][1] <= low:
            n -= 1
        at, length = corners[n][0], 0
        for left, foot, right, top in taken:
            if foot <= low < top and right > at:
                if left > at:
                    length += sums[left - at]
                at = right
        if at < width:
            length += sums[width - at]
        area += length * (high - low)
    return area
