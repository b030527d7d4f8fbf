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
