"""The least number of areas a stack of two kinds of piece takes, told exactly by OR-tools: a program that shares nothing with
the layout, nor with the bound it prints.

CP-SAT tells which numbers of the two kinds lie on one area side by side, and then how often each such filling is used at least
(Gilmore and Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961, in whole
numbers). Lengths are rounded in favour of fewer areas, so that no layout can do with fewer.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import ceil, floor

from ortools.sat.python import cp_model

from layouts.fill import Due
from layouts.geometry import Box

Sizes = tuple[tuple[int, int], ...]  # tenths of a millimetre
SECONDS = 60.0


class Unsettled(Exception):
    """The solver's time was up before it could tell."""


def fewest(first: Sequence[Due], second: Sequence[Due], areas: Iterable[Box]) -> int:
    """How many areas all pieces of both kinds take at least. Pieces of a kind differ by a figure of their captions at most."""
    kinds = _smallest(first), _smallest(second)
    ways = [(ceil(area.width * 10), ceil(area.height * 10)) for area in areas]
    fillings = [
        (n, most)
        for n in range(len(first) + 1)
        if (most := max(_most_beside(n, *kinds, len(second), way) for way in ways)) >= 0
    ]
    model = cp_model.CpModel()
    times = [model.new_int_var(0, len(first) + len(second), "") for _ in fillings]
    for k, wanted in enumerate((len(first), len(second))):
        model.add(sum(filling[k] * one for filling, one in zip(fillings, times, strict=True)) >= wanted)
    model.minimize(sum(times))
    solver = _solved(model)
    assert solver is not None, "an area for each piece is a way"
    return round(solver.objective_value)


def _smallest(kind: Sequence[Due]) -> Sizes:
    """The sizes all pieces of the kind have at least, each way round."""
    return tuple(
        (min(floor(w * 10) for w, _ in same), min(floor(h * 10) for _, h in same))
        for same in zip(*(one.sizes for one in kind), strict=True)
    )


def _most_beside(n: int, first: Sizes, second: Sizes, wanted: int, way: tuple[int, int]) -> int:
    """How many of the second kind lie on an area beside n of the first; -1 where not even these do."""
    most = -1
    while most < wanted and _lie(((first, n), (second, most + 1)), *way):
        most += 1
    return most


def _lie(kinds: Iterable[tuple[Sizes, int]], width: int, height: int) -> bool:
    """Whether so many pieces of each kind lie side by side."""
    model = cp_model.CpModel()
    across, down, areas = [], [], []
    for sizes, count in kinds:
        fits = [(w, h) for w, h in sizes if w <= width and h <= height]
        if count and not fits:
            return False
        lefts = []
        for _ in range(count):
            left, low = model.new_int_var(0, width, ""), model.new_int_var(0, height, "")
            turned = [model.new_bool_var("") for _ in fits]
            model.add_exactly_one(turned)
            for chosen, (w, h) in zip(turned, fits, strict=True):
                across.append(model.new_optional_fixed_size_interval_var(left, w, chosen, ""))
                down.append(model.new_optional_fixed_size_interval_var(low, h, chosen, ""))
                model.add(left + w <= width).only_enforce_if(chosen)
                model.add(low + h <= height).only_enforce_if(chosen)
                areas.append(w * h * chosen)
            lefts.append(left)
        for one, other in pairwise(lefts):  # pieces of a kind are alike: from left to right
            model.add(one <= other)
    model.add_no_overlap_2d(across, down)
    model.add(sum(areas) <= width * height)
    return _solved(model) is not None


def lie(sizes: Iterable[tuple[float, float]], area: Box) -> bool:
    """Whether pieces of these sizes, none turned, lie side by side on an area; in whole tenths of a millimetre."""
    found = [(((floor(w * 10), floor(h * 10)),), 1) for w, h in sizes]
    return _lie(found, ceil(area.width * 10), ceil(area.height * 10))


def _solved(model: cp_model.CpModel) -> cp_model.CpSolver | None:
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = SECONDS
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.INFEASIBLE):
        raise Unsettled
    return solver if status == cp_model.OPTIMAL else None
