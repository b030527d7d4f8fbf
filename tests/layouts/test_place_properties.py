"""Placement for any package: what must hold whatever the sizes, the marks, their order and what is kept clear."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from layouts.faces import Solid
from layouts.place import place
from layouts.placement import Placement
from marks.terms import Face, PackageForm
from tests.layouts.checked import faults, nested
from tests.layouts.packages import CASES, a_package
from tests.layouts.placing_given import forms, label

#: Each property is asked in so many parts, which run side by side.
PARTS = 5


def seen(placement: Placement) -> list[tuple[object, ...]]:
    return [(p.requirement.key, p.face, p.x, p.y, p.width, p.height, p.number, p.why_here) for p in placement.items]


@pytest.mark.parametrize("part", range(PARTS))
def test_what_is_placed_is_lawful_and_the_order_of_marks_and_goods_changes_nothing(part: int) -> None:
    for seed in range(part, CASES, PARTS):
        package = a_package(seed)
        solid, wanted, clear, r = package.solid, package.wanted, package.clear, package.chance
        placement = place(solid, wanted, forms=forms, keep_clear=clear)
        if placement.refused:
            assert placement.items == () and "What to do: " in placement.findings[-1].text, seed
        else:
            assert faults(placement, wanted, (), clear) == [], seed
        r.shuffle(wanted)
        r.shuffle(clear)
        others = [replace(w, goods=tuple(g + 3 for g in w.goods)) for w in wanted]
        other = place(solid, others, forms=forms, keep_clear=clear)
        assert seen(other) == seen(placement) and other.findings == placement.findings, seed


@pytest.mark.parametrize("part", range(PARTS))
def test_a_larger_package_never_turns_a_fit_into_a_refusal(part: int) -> None:
    for seed in range(part, CASES, PARTS):
        package = a_package(seed, 9)
        solid, wanted, clear, r = package.solid, package.wanted, package.clear, package.chance
        more = r.choice((0, r.randint(1, 40), r.randint(1, 400)))
        wider = r.choice((0, r.randint(1, 40), r.randint(1, 400)))
        if solid.form is PackageForm.BAG or (solid.length + more < solid.width + wider):
            wider = more  # the same faces stay the larger ones
        larger = replace(
            solid,
            length=solid.length + more,
            width=solid.width + (more if solid.round else wider),
            height=solid.height + wider,
        )
        if not place(solid, wanted, forms=forms, keep_clear=clear).refused:
            assert not place(larger, wanted, forms=forms, keep_clear=clear).refused, seed


def test_a_larger_package_never_needs_smaller_labels() -> None:
    def smallest(placement: Placement) -> float:
        sides = [p.artwork.side for p in placement.items if p.artwork.side and p.requirement.mark == "hazard-label"]
        return min(sides, default=0.0)  # type: ignore[type-var]

    for seed in range(CASES // 2):
        package = a_package(seed, 9)
        solid, wanted = package.solid, package.wanted
        larger = replace(solid, length=solid.length * 1.5, width=solid.width * 1.5, height=solid.height * 1.5)
        one = place(solid, wanted, forms=forms)
        if not one.refused and Face.TAG not in {p.face for p in one.items}:  # on a tag they are of full size
            assert smallest(place(larger, wanted, forms=forms)) >= smallest(one), seed


@settings(max_examples=150, deadline=None)
@given(st.integers(100, 700), st.integers(100, 700), st.integers(1, 4))
def test_equal_labels_fit_a_face_when_rows_and_columns_of_them_do(width: int, height: int, count: int) -> None:
    """By pigeonhole an upright rectangle holds floor(w) x floor(h) upright unit squares and no more: a label is 141.42 mm
    across, with 5 mm to the next and 3 mm to every edge. Where it holds fewer, the labels must lie in each other's gaps."""
    variants = ["2.1", "3", "6.1", "8"][:count]
    solid = Solid.box(width, width, height, PackageForm.JERRICAN)  # upright faces only, all of one size
    across, up = (int((edge - 6 + 5) / (100 * 2**0.5 + 5)) for edge in (width, height))
    margin = min(abs((edge - 6 + 5) / (100 * 2**0.5 + 5) % 1) for edge in (width, height))
    if margin > 0.002:  # a tenth of a millimetre is rounded away
        placement = place(solid, [label(v) for v in variants], forms=forms)
        assert not placement.refused or across * up < count
        assert placement.refused or across * up >= count or nested(placement)


@pytest.mark.parametrize(
    ("seed", "step"),
    [
        (10666, "marks other than labels reduced to 60 mm side, labels set into each other's gaps, on the top"),
        (2958, "labels set into each other's gaps, on the top"),
    ],
)
def test_what_few_arrangements_of_squares_do_not_tell_is_asked_of_all(seed: int, step: str) -> None:
    """Where only a preference hangs on it, a few arrangements of labels in each other's gaps are tried; that none of them
    goes proves nothing. The first of these packages was refused by that, the second had its marks reduced."""
    package = a_package(seed)
    placement = place(package.solid, package.wanted, forms=forms, keep_clear=package.clear)
    assert (placement.refused, placement.steps[-1].name) == (False, step)
