"""Placement against a constraint solver that knows nothing of the search: three hundred packages on which four to eight marks
just go or just don't, squares in each other's gaps included. The suite takes sixty of them; all are asked by

    SIXFACE_PLACE_CASES=5000 python -m pytest tests/layouts/test_place_by_solver.py
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count, islice
from random import Random

import pytest

from layouts.faces import Area, Solid
from layouts.geometry import Box
from layouts.place import place
from marks.requirement import Requirement
from marks.terms import Face, Mode, PackageForm
from tests.layouts.checked import faults
from tests.layouts.packages import CASES
from tests.layouts.placing_given import AIR, SURFACE, forms, label, need

pytest.importorskip("ortools", reason="the solver is of the extra dev")


@dataclass(frozen=True)
class Case:
    seed: int
    solid: Solid
    wanted: list[Requirement]
    modes: tuple[Mode, ...]
    clear: list[Area]


def cases() -> Iterator[Case]:
    for seed in count():
        r = Random(f"solver {seed}")
        modes = r.choice((AIR, SURFACE))
        wanted = [label(v, modes=modes) for v in r.sample(("2.1", "3", "6.1", "8"), r.choice((1, 2, 2, 3)))]
        rest = (
            "un-number",
            "proper-shipping-name",
            "shipper",
            "consignee",
            "net-quantity",
            "battery",
            "orientation-arrows",
        )
        squares = ("environmentally-hazardous", "limited-quantity")
        wanted += [need(mark, None, mark, modes=modes) for mark in r.sample(rest, r.choice((2, 3, 4, 5)))]
        wanted += [need(mark, modes=modes) for mark in r.sample(squares, r.choice((0, 0, 1)))]
        if modes is AIR and r.random() < 0.3:
            wanted.append(need("cargo-aircraft-only", modes=modes))
        form = r.choice((PackageForm.BOX, PackageForm.JERRICAN, PackageForm.BAG))
        solid = Solid.box(r.randint(150, 480), r.randint(90, 300), r.randint(120, 400), form)
        clear = [
            Area(face, Box(*(r.randint(0, 200) for _ in range(2)), *(r.randint(20, 150) for _ in range(2))), "kept")
            for face in r.sample((Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT), r.choice((0, 0, 1, 2)))
        ]
        yield Case(seed, solid, wanted, modes, clear)


def judged(case: Case) -> str:
    """What is wrong with the answer, by the solver; empty: nothing."""
    from tests.layouts.solver import way

    def goes(side: float, together: bool) -> bool | None:
        return way(case.solid, case.wanted, side, together, case.clear)

    placement = place(case.solid, case.wanted, case.modes, forms=forms, may_hang=False, keep_clear=case.clear)
    sides = (100,) if case.modes is AIR else (100, 80, 60)
    if placement.refused:
        return next((f"refused, yet labels of {side} mm go" for side in sides if goes(side, False)), "")
    if found := faults(placement, case.wanted, case.modes, case.clear):
        return "; ".join(found)
    side = min(p.artwork.side or 0 for p in placement.items if p.requirement.mark == "hazard-label")
    apart = any(finding.code == "name-apart" for finding in placement.findings)
    if goes(side, not apart) is False:
        return "placed, yet the solver finds no way"
    for larger in (one for one in sides if one > side):
        if goes(larger, False):
            return f"labels of {side} mm, yet {larger} mm go"
    return "number and name apart, yet they go with the labels" if apart and goes(side, True) else ""


@pytest.mark.parametrize("part", range(3))
def test_no_package_is_refused_reduced_or_parted_where_the_solver_finds_a_way(part: int) -> None:
    for case in islice(cases(), part, 300 if CASES >= 5000 else 60, 3):
        assert judged(case) == "", case
