"""The outline of what an exact search has shut off: all that lies left of and below some rectangle that is set.

An outline is told by its corners: from each of them up and to the right all is still open. Whole numbers throughout.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

Size = tuple[int, int]  # width, height
Rect = tuple[int, int, int, int]  # left, lower, right, upper
Corners = tuple[tuple[int, int], ...]  # leftmost and uppermost first


def joined(corners: Corners, right: int, top: int) -> Corners:
    """The corners when all that lies left of ``right`` and below ``top`` is shut off."""
    found = []
    for x, y in corners:
        if x >= right or y >= top:
            found.append((x, y))
        else:
            found += [(right, y), (x, top)]
    found.sort()
    kept = [found[0]]
    for corner in found:  # what lies above and right of another corner is in its reach
        if corner[1] < kept[-1][1]:
            kept.append(corner)
    return tuple(kept)


def open_area(corners: Corners, width: int, height: int) -> int:
    """The area right of and above the corners."""
    area, ceiling = 0, height
    for x, y in corners:
        if y < ceiling:
            area += (width - x) * (ceiling - y)
            ceiling = y
    return area


def apart(rects: Iterable[Rect]) -> tuple[Rect, ...]:
    """The same area in rectangles that do not overlap."""
    found: list[Rect] = []
    for rect in sorted(set(rects)):
        parts = [rect]
        for a, b, c, d in found:
            cut = []
            for x0, y0, x1, y1 in parts:
                if x0 >= c or x1 <= a or y0 >= d or y1 <= b:
                    cut.append((x0, y0, x1, y1))
                    continue
                left, right = max(x0, a), min(x1, c)
                cut += [(x0, y0, left, y1), (right, y0, x1, y1), (left, y0, right, b), (left, d, right, y1)]
            parts = [p for p in cut if p[0] < p[2] and p[1] < p[3]]
        found += [p for p in parts if p[0] < p[2] and p[1] < p[3]]
    return tuple(sorted(found))


def drawn_together(
    some: Sequence[Rect], others: Sequence[Rect], corners: Corners, width: int, height: int
) -> list[Rect]:
    """These rectangles, each moved towards the middle of them all, first along, then up or down, as far as the others and
    the outline let it: within what is shut off already, so that nothing is lost to those that come later."""
    middle = [sum(r[n] + r[n + 2] for r in some) // len(some) for n in (0, 1)]  # twice the distance, as all below
    moved = list(some)
    far = [abs(r[0] + r[2] - middle[0]) + abs(r[1] + r[3] - middle[1]) for r in some]
    for n in sorted(range(len(some)), key=lambda n: (far[n], n)):
        rest = [*others, *moved[:n], *moved[n + 1 :]]
        along = _slid(moved[n], rest, corners, width, middle[0])
        turned = [(b, a, d, c) for a, b, c, d in (along, *rest)]
        y0, x0, y1, x1 = _slid(turned[0], turned[1:], [(y, x) for x, y in corners], height, middle[1])
        moved[n] = x0, y0, x1, y1
    return moved


def _slid(rect: Rect, others: Iterable[Rect], corners: Iterable[tuple[int, int]], width: int, middle: int) -> Rect:
    left, low, right, top = rect
    beside = [r for r in others if r[1] < top and low < r[3]]
    least = max([0, *(r[2] for r in beside if r[2] <= left)])
    most = min([width, *(r[0] for r in beside if r[0] >= right), *(x for x, y in corners if y < top)]) - (right - left)
    at = min(max((middle - (right - left)) // 2, least), most)
    return at, low, at + right - left, top


def empty(width: int, height: int, taken: Iterable[Rect]) -> list[Rect]:
    """The largest empty rectangles between what is taken; they may overlap."""
    free = [(0, 0, width, height)]
    for a, b, c, d in taken:
        whole: list[Rect] = []
        parts: list[Rect] = []
        for rect in free:
            x0, y0, x1, y1 = rect
            if a >= x1 or c <= x0 or b >= y1 or d <= y0:
                whole.append(rect)
                continue
            if a > x0:
                parts.append((x0, y0, a, y1))
            if c < x1:
                parts.append((c, y0, x1, y1))
            if b > y0:
                parts.append((x0, y0, x1, b))
            if d < y1:
                parts.append((x0, d, x1, y1))
        parts = list(dict.fromkeys(parts))
        found = [*whole, *parts]
        free = whole + [p for p in parts if not any([_within(p, o) for o in found if o is not p])]
    return free


def _within(inner: Rect, outer: Rect) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and inner[2] <= outer[2] and inner[3] <= outer[3]


def outside(width: int, height: int, rects: Sequence[Rect]) -> tuple[Rect, ...]:
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


def useful(corners: Corners, taken: Sequence[Rect], width: int, height: int, sums: int) -> int:
    """The area right of and above the corners and between what is taken, when of each line across it and in each gap no more
    counts than the largest of these sums that is not longer. taken: from left to right, none over another; sums: a number
    whose bit n is set where n is one of them."""
    area, lowest = 0, corners[-1][1]
    levels = {height, *(y for _, y in corners), *(y for r in taken for y in (r[1], r[3]) if lowest < y < height)}
    for low, high in pairwise(sorted(levels)):
        at = next(x for x, y in corners if y <= low)
        length = 0
        for left, foot, right, top in taken:
            if foot <= low < top and right > at:
                if left > at:
                    length += (sums & ((2 << left - at) - 1)).bit_length() - 1
                at = right
        if at < width:
            length += (sums & ((2 << width - at) - 1)).bit_length() - 1
        area += length * (high - low)
    return area
