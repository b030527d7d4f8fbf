"""The marks of one package as a task for a constraint solver (OR-tools CP-SAT), written from the rules and not from the search:
any face, any place, in tenths of a millimetre; squares on their point by their true outlines.

A mark other than a square takes its upright box. Two squares lie far enough apart where their boxes do or where one of the
four slopes between them does. Labels count as together where the way from edge to edge, along and up, is at most 150 mm:
never more lenient than 49 CFR 172.406(c).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise
from math import ceil, floor, sqrt
from typing import Any

from ortools.sat.python import cp_model

from layouts.faces import Area, Solid
from marks.requirement import Requirement, Where
from marks.terms import Face
from tests.layouts.placing_given import forms

EDGE, GAP, NEAR = 30, 50, 1500  # tenths of a millimetre
UPRIGHT = ("front", "back", "left", "right")
ACROSS = {"front": "back", "back": "front", "left": "right", "right": "left"}
SLOPES = ((1, 1), (1, -1), (-1, 1), (-1, -1))
BIG = 100_000
SECONDS = 20.0


class Mark:
    """One mark to set: where it may stand, its sizes, its variables."""

    def __init__(
        self, model: cp_model.CpModel, n: int, wanted: Requirement, sizes: Sequence[tuple[float, float]], solid: Solid
    ):
        self.wanted, self.square = (
            wanted,
            wanted.mark in ("hazard-label", "environmentally-hazardous", "limited-quantity"),
        )
        self.on = {face.value: model.new_bool_var(f"{n} on {face}") for face in Face if solid.takes_marks(face)}
        model.add_exactly_one(self.on.values())
        self.x, self.y = model.new_int_var(0, BIG, f"x{n}"), model.new_int_var(0, BIG, f"y{n}")
        self.width, self.height = model.new_int_var(0, BIG, f"w{n}"), model.new_int_var(0, BIG, f"h{n}")
        chosen = [model.new_bool_var(f"{n} as {k}") for k in range(len(sizes))]
        model.add_exactly_one(chosen)
        for one, (w, h) in zip(chosen, sizes, strict=True):
            model.add(self.width == ceil(w * 10 - 1e-6)).only_enforce_if(one)
            model.add(self.height == ceil(h * 10 - 1e-6)).only_enforce_if(one)
        for face, here in self.on.items():
            w, h = (floor(edge * 10 + 1e-6) for edge in solid.size(Face(face)))
            for at, size, edge in ((self.x, self.width, w), (self.y, self.height, h)):
                model.add(at >= EDGE).only_enforce_if(here)
                model.add(at + size <= edge - EDGE).only_enforce_if(here)


def way(
    solid: Solid, wanted: Sequence[Requirement], side: float, together: bool, clear: Sequence[Area] = ()
) -> bool | None:
    """Whether there is any; None where the solver can't tell in time. side: of labels, mm; together: number and name with them."""
    model = cp_model.CpModel()
    marks: list[Mark] = []
    for requirement in wanted:
        sizes = [
            (form.width, form.height)
            for form in forms(requirement)
            if requirement.mark != "hazard-label" or form.side == side
        ]
        copies = [
            Mark(model, len(marks) + k, requirement, sizes, solid)
            for k in range(1 + (requirement.where is Where.TWO_OPPOSITE))
        ]
        for one, two in combinations(copies, 2):  # on two opposite upright faces
            for face, here in one.on.items():
                if face not in UPRIGHT or ACROSS[face] not in two.on:
                    model.add(here == 0)
                else:
                    model.add(here == two.on[ACROSS[face]])
        marks += copies
    for one, two in combinations(marks, 2):
        _apart(model, one, two)
    for mark in marks:
        for area in clear:
            if area.face.value in mark.on:
                _clear_of(model, mark, area)
    with_labels = {"hazard-label", "cargo-aircraft-only"} | (
        {"un-number", "proper-shipping-name"} if together else set()
    )
    for one, two in pairwise(mark for mark in marks if mark.wanted.mark in with_labels):
        for face, here in one.on.items():
            model.add(here == two.on[face])
    _near(model, [m for m in marks if m.wanted.mark == "hazard-label"])
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = SECONDS
    answer = solver.solve(model)
    return {cp_model.OPTIMAL: True, cp_model.FEASIBLE: True, cp_model.INFEASIBLE: False}.get(answer)


def _apart(model: cp_model.CpModel, one: Mark, two: Mark) -> None:
    """On different faces, or far enough apart on one."""
    for face in one.on:
        if face not in two.on:
            continue
        ways = [model.new_bool_var("") for _ in range(8 if one.square and two.square else 4)]
        model.add_bool_or([*ways, one.on[face].negated(), two.on[face].negated()])
        for this, a, b in ((ways[0], one, two), (ways[1], two, one)):
            model.add(a.x + a.width + GAP <= b.x).only_enforce_if(this)
        for this, a, b in ((ways[2], one, two), (ways[3], two, one)):
            model.add(a.y + a.height + GAP <= b.y).only_enforce_if(this)
        for this, (p, q) in zip(ways[4:], SLOPES[: len(ways) - 4], strict=True):
            slope = p * (2 * one.x + one.width - 2 * two.x - two.width) + q * (
                2 * one.y + one.height - 2 * two.y - two.height
            )
            model.add(slope >= one.width + two.width + ceil(2 * GAP * sqrt(2))).only_enforce_if(this)


def _clear_of(model: cp_model.CpModel, mark: Mark, area: Area) -> None:
    x, y = floor(area.box.x * 10), floor(area.box.y * 10)
    right, top = ceil(area.box.right * 10), ceil(area.box.top * 10)
    ways = [model.new_bool_var("") for _ in range(4)]
    model.add_bool_or([*ways, mark.on[area.face.value].negated()])
    model.add(mark.x + mark.width <= x).only_enforce_if(ways[0])
    model.add(mark.x >= right).only_enforce_if(ways[1])
    model.add(mark.y + mark.height <= y).only_enforce_if(ways[2])
    model.add(mark.y >= top).only_enforce_if(ways[3])


def _near(model: cp_model.CpModel, labels: Sequence[Mark]) -> None:
    """A chain: every label but the first near one before it, in some order (tried as: near any other; up to three labels)."""
    links: dict[tuple[int, int], Any] = {}
    for (i, one), (j, two) in combinations(enumerate(labels), 2):
        near = links[i, j] = model.new_bool_var("")
        for p, q in SLOPES:
            way_there = p * (2 * one.x + one.width - 2 * two.x - two.width) + q * (
                2 * one.y + one.height - 2 * two.y - two.height
            )
            model.add(way_there <= one.width + two.width + 2 * NEAR).only_enforce_if(near)
    if len(labels) > 3:
        raise ValueError("up to three labels")
    for k in range(len(labels) if len(labels) > 1 else 0):
        model.add_bool_or([near for pair, near in links.items() if k in pair])
