"""No package is refused, nor its labels reduced or parted from number and name, where brute force finds a way.

SIXFACE_PLACE_CASES=300 python -m pytest tests/layouts/test_place_by_force.py
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest
from msgspec.structs import replace

from layouts import board, plans
from layouts.faces import Area, Solid
from layouts.geometry import Box
from layouts.place import place
from marks.requirement import Requirement
from marks.terms import Face, Mode, PackageForm
from tests.layouts.by_force import lawful_way
from tests.layouts.checked import faults, nested
from tests.layouts.placing_given import AIR, CARGO, SURFACE, forms, label, need


def small_cases() -> Iterator[tuple[Solid, list[Requirement], tuple[Mode, ...], list[Area]]]:
    """Three hundred packages of sizes at which a few marks just fit or just don't."""
    r = Random(300)
    while True:
        modes = r.choice((AIR, SURFACE))
        marks = [label(v, modes=modes) for v in r.sample(("2.1", "3", "6.1", "8"), r.choice((1, 1, 2, 3)))]
        if modes is AIR and r.random() < 0.3:
            marks.append(replace(CARGO, modes=modes))
        names = [
            need("un-number", None, "UN 1219", modes=modes),
            need("proper-shipping-name", None, "ACETONE", modes=modes),
        ]
        others = [
            need("shipper", None, "A", modes=modes),
            need("battery", modes=modes),
            need("orientation-arrows", modes=modes),
        ]
        marks += r.sample(names, r.choice((0, 1, 2))) + r.sample(others, r.choice((0, 1, 2)))
        if len(marks) > 5:
            continue
        form = r.choice((PackageForm.BOX, PackageForm.JERRICAN, PackageForm.BAG))
        clear = [
            Area(face, Box(*(r.randint(0, 150) for _ in range(2)), *(r.randint(20, 120) for _ in range(2))), "kept")
            for face in r.sample((Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT), r.choice((0, 0, 1, 2)))
        ]
        yield Solid.box(*(r.randint(100, 330) for _ in range(3)), form), marks, modes, clear


@pytest.mark.parametrize("part", range(3))
def test_no_package_is_refused_reduced_or_parted_where_brute_force_finds_a_way(part: int) -> None:
    held_against_brute_force(part)


@pytest.mark.parametrize("part", range(3))
def test_no_answer_of_law_hangs_on_the_steps_for_what_is_only_wished_for(
    part: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same without a single step for a wish, or for what only saves a longer search."""
    few, brief, fewer = ((steps,) for steps in (0, 0, 0))  # tuples of their own, as they are told apart by which they are
    for name, steps in (("FEW", few), ("BRIEF", brief), ("FEWER", fewer), ("WISHES", (few, brief, fewer))):
        monkeypatch.setattr(board, name, steps)
    monkeypatch.setattr(plans, "FEW", few)
    monkeypatch.setattr(plans, "BRIEF", brief)
    assert few is not brief
    held_against_brute_force(part)


def held_against_brute_force(part: int) -> None:
    for n, (solid, wanted, modes, clear) in zip(range(300), small_cases(), strict=False):
        if n % 3 != part:
            continue
        placement = place(solid, wanted, modes, forms=forms, may_hang=False, keep_clear=clear)
        sides = (100,) if modes is AIR else (100, 80, 60)
        whole = lawful_way(solid, wanted, 100, together=False, clear=clear)
        if placement.refused:
            assert not any(lawful_way(solid, wanted, side, together=False, clear=clear) for side in sides), (
                solid,
                wanted,
            )
            continue
        assert faults(placement, wanted, modes, clear) == []
        reduced = any(p.artwork.reduced for p in placement.items if p.requirement.mark == "hazard-label")
        assert not (reduced and whole), (solid, wanted)
        if whole and lawful_way(solid, wanted, 100, together=True, clear=clear):
            assert not any(f.code == "name-apart" for f in placement.findings), (solid, wanted)
        if not whole and not reduced:
            assert nested(placement), (solid, wanted)
