"""The outline of what an exact search has shut off: all that lies left of and below some rectangle that is set.

An outline is told by its corners: from each of them up and to the right all is still open. Whole numbers throughout.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

Size = tuple[int, int]  # width, height
Rect = tuple[int, int, int, int]  # left, lower, right, upper
Corners = tuple[tuple[int, int], ...]  # leftmost and uppermost first


def joined(corners: Corners, right: int, top: int) -> Corners:
    """The corners when all that lies left of ``right`` and below ``top`` is shut off."""
    n = len(corners)
    first = 0
    while first < n and corners[first][1] >= top:
        first += 1
    end = first
    while end < n and corners[end][0] < right:
        end += 1
    if first == end:
        return corners
    above, beside = corners[:first], corners[end:]
    if not above or above[-1][1] > top:  # else what lies above it is in reach of that one
        above = (*above, (corners[first][0], top))
    if not beside or beside[0][0] > right:
        beside = ((right, corners[end - 1][1]), *beside)
    return above + beside


def open_area(corners: Corners, width: int, height: int) -> int:
    """The area right of and above the corners."""
    area, ceiling = 0, height
    for x, y in corners:
        if y < ceiling:
            area += (width - x) * (ceiling - y)
            ceiling = y
    return area


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
        x0, y0, x1, y1 = moved[n]
        at = _slid(moved[n], rest, corners, width, middle[0], 0)
        x0, x1 = at, at + x1 - x0
        at = _slid((x0, y0, x1, y1), rest, corners, height, middle[1], 1)
        moved[n] = x0, at, x1, at + y1 - y0
    return moved


def _slid(rect: Rect, others: Iterable[Rect], corners: Corners, most: int, middle: int, axis: int) -> int:
    """Where its left side comes to lie when it moves along (axis 0), its lower side when up or down (1)."""
    across, high = 1 - axis, 3 - axis
    left, right, low, top = rect[axis], rect[axis + 2], rect[across], rect[high]
    least = 0
    for other in others:
        if other[across] < top and low < other[high]:
            if other[axis + 2] <= left:
                least = max(least, other[axis + 2])
            elif other[axis] >= right:
                most = min(most, other[axis])
    for corner in corners:
        if corner[across] < top:
            most = min(most, corner[axis])
    return min(max((middle - (right - left)) // 2, least), most - (right - left))
