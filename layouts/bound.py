"""The least number of sheets: no layout, of whatever manner, can do with fewer. Two bounds, the second at least the first;
``programme`` has a third, for where a layout takes two sheets more.

By area: the pieces with what is cut around them (cut marks, bleed, caption) over what a page leaves between head and foot.
By places: the same with lengths rounded by functions that keep every packing feasible (dual feasible functions; Fekete and
Schepers, "New classes of lower bounds for bin packing problems", Mathematical Programming 91, 2001): a piece wider than
half the page then counts as the whole width, as no other lies beside it.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import product

from msgspec import Struct

from layouts.fill import Due, takes
from layouts.geometry import Box

Rounding = Callable[[float], float]
Size = tuple[float, float]
_NEAR = 1e-6
#: With more sizes than this, every way a page may be turned is rounded alike.
_MANY = 40


class Least(Struct, frozen=True):
    """by_area, by_places: how many areas at least."""

    by_area: int
    by_places: int


def least(due: Iterable[Due], areas: Sequence[Box]) -> Least:
    """How many areas the pieces need at least. areas: the ways an area may be turned; every piece fits one of them."""
    kinds = Counter((one.sizes, _alone(one)) for one in due)
    return _least(tuple(kinds.items()), tuple(areas))


@lru_cache(maxsize=1024)
def _least(kinds: tuple[tuple[tuple[tuple[Size, ...], float], int], ...], areas: tuple[Box, ...]) -> Least:
    """The same stack is asked after when it is laid out and when its use is told, and in many records of a batch."""
    page = max(area.width * area.height for area in areas)
    by_area = math.fsum(
        n * min([alone / page, *(w * h / page for w, h in sizes if any(takes(area, w, h) for area in areas))])
        for (sizes, alone), n in kinds
    )
    # For each way a page may be turned, each pair of roundings: what a piece of each kind counts there.
    by_way = [list(shares([sizes for (sizes, _), _ in kinds], area, len(areas) == 1)) for area in areas]
    chosen = product(*by_way) if len(kinds) <= _MANY else zip(*by_way, strict=False)
    best = max(
        math.fsum(n * min(1.0, *of) for (_, n), of in zip(kinds, zip(*one, strict=True), strict=True)) for one in chosen
    )
    return Least(_up(by_area), _up(max(by_area, best)))


def shares(kinds: Sequence[tuple[Size, ...]], area: Box, all_of_them: bool) -> Iterator[list[float]]:
    """What a piece of each kind counts, by one pair of roundings after the other; 1 where it fits only alone."""
    parts = [[(w / area.width, h / area.height) for w, h in sizes if takes(area, w, h)] for sizes in kinds]
    across = _roundings((x for sizes in parts for x, _ in sizes), all_of_them)
    down = _roundings((y for sizes in parts for _, y in sizes), all_of_them)
    for of_x, of_y in product(across, down):
        yield [min([1.0, *(of_x(x) * of_y(y) for x, y in sizes)]) for sizes in parts]


def _alone(one: Due) -> float:
    """The area of a piece that may have an area to itself; without end where it may not."""
    return min((cell.piece.box.width * cell.piece.box.height for cell in one.alone), default=math.inf)


def _up(total: float) -> int:
    return math.ceil(total - _NEAR)


def _as_it_is(part: float) -> float:
    return part


def _steps(k: int) -> Rounding:
    """u(k): k + 1 equal parts; what fills more than j of them counts as j of k."""

    def rounded(part: float) -> float:
        parts = part * (k + 1)
        return part if abs(parts - round(parts)) < _NEAR else math.floor(parts) / k

    return rounded


def _cut(e: float) -> Rounding:
    """U(e): what is smaller than e counts as nothing, what leaves less than e as the whole."""

    def rounded(part: float) -> float:
        return 0.0 if part < e - _NEAR else 1.0 if part > 1 - e + _NEAR else part

    return rounded


def _roundings(parts: Iterable[float], all_of_them: bool) -> list[Rounding]:
    """Those that serve lengths of these parts; fewer where they are tried in all combinations of two ways."""
    long = sorted({round(part, 3) for part in parts if 0.5 < part < 1})
    steps, cuts = (5, 6) if all_of_them else (3, 3)
    return [_as_it_is, *(_steps(k) for k in range(1, steps + 1)), *(_cut(1.0005 - part) for part in long[:cuts])]
