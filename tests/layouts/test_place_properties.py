"""Placement for any package: what must hold whatever the sizes, the marks and their order."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import sqrt

from hypothesis import given, settings
from hypothesis import strategies as st
from placing_given import AIR, CARGO, SURFACE, forms, label, need

from layouts.faces import Area, Solid
from layouts.geometry import Box
from layouts.place import place
from layouts.placement import Placement
from marks.requirement import Requirement
from marks.terms import Face, PackageForm

QUICK = settings(max_examples=150, deadline=None)
LENGTHS = st.integers(60, 1200) | st.integers(600, 3000)


@st.composite
def solids(draw: st.DrawFn) -> Solid:
    if draw(st.booleans()):
        form = draw(st.sampled_from([PackageForm.BOX, PackageForm.BOX, PackageForm.JERRICAN, PackageForm.BAG]))
        return Solid.box(draw(LENGTHS), draw(LENGTHS), draw(LENGTHS), form)
    return Solid.drum(draw(LENGTHS), draw(LENGTHS))


@st.composite
def marks(draw: st.DrawFn) -> list[Requirement]:
    modes = draw(st.sampled_from([SURFACE, AIR]))
    variants = draw(st.lists(st.sampled_from(["2.1", "3", "4.1", "5.1", "6.1", "8", "9"]), unique=True, max_size=4))
    twice = draw(st.sampled_from([(), (), (), ("7-II",)]))
    others = draw(
        st.lists(
            st.sampled_from([
                "un-number", "proper-shipping-name", "shipper", "consignee", "net-quantity", "gross-mass", "battery",
                "orientation-arrows", "environmentally-hazardous", "limited-quantity",
            ]), unique=True, max_size=8,
        )
    )  # fmt: skip
    cargo = ["cargo-aircraft-only"] if variants and modes == AIR and draw(st.booleans()) else []
    found = [label(v, modes=modes) for v in variants] + [label(v, modes=modes, twice=True) for v in twice]
    found += [need(m, None, m, modes=modes) for m in [*cargo, *others]]
    return found or [label("3", modes=modes)]


def areas(solid: Solid) -> st.SearchStrategy[list[Area]]:
    def one(face: Face, x: float, y: float, w: float, h: float) -> Area:
        width, height = solid.size(face)
        return Area(face, Box(x * width, y * height, w * width / 2, h * height / 2), "keep clear")

    part = st.floats(0, 0.5)
    faces = st.sampled_from([Face.FRONT, Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT])
    return st.lists(st.builds(one, faces, part, part, part, part), max_size=3)


def spots(placement: Placement) -> list[tuple[object, ...]]:
    return [(p.requirement.key, p.face, p.x, p.y, p.width, p.height, p.number, p.why_here) for p in placement.items]


@QUICK
@given(st.data(), solids(), marks())
def test_marks_are_inside_apart_and_complete_or_the_package_is_refused(
    data: st.DataObject, solid: Solid, wanted: list[Requirement]
) -> None:
    clear = data.draw(areas(solid))
    placement = place(solid, wanted, forms=forms, keep_clear=clear)
    if placement.refused:
        assert placement.items == () and "What to do: " in placement.findings[-1].text
        return
    assert sorted(p.requirement.key for p in placement.items) == sorted(
        r.key for r in wanted for _ in range(1 + (r.where.value == "two-opposite"))
    )
    for p in placement.items:
        width, height = placement.solid.size(p.face)
        assert p.face is not Face.BOTTOM and p.turn == 0
        assert (
            p.x >= 3 - 1e-3 and p.box.right <= width - 3 + 1e-3 and p.y >= 3 - 1e-3 and p.box.top <= height - 3 + 1e-3
        )
        assert not any(p.box.overlaps(a.box, 1e-3) for a in clear if a.face is p.face)
    for a, b in combinations(placement.items, 2):
        assert a.face is not b.face or not a.box.grown(5).overlaps(b.box, 2e-3)
    labels = {
        p.face for p in placement.items if p.requirement.mark == "hazard-label" and p.requirement.variant != "7-II"
    }
    assert len(labels) <= 1
    for p in placement.items:
        if p.requirement.mark == "cargo-aircraft-only" and labels:
            assert p.face in labels
        if p.requirement.mark == "hazard-label" and p.artwork.reduced:
            assert p.requirement.modes == SURFACE


@QUICK
@given(st.data(), solids(), marks())
def test_the_order_of_the_marks_changes_nothing(data: st.DataObject, solid: Solid, wanted: list[Requirement]) -> None:
    other = data.draw(st.permutations(wanted))
    one, two = place(solid, wanted, forms=forms), place(solid, other, forms=forms)
    assert spots(one) == spots(two) and one.findings == two.findings


@QUICK
@given(solids(), marks(), st.integers(0, 400), st.integers(0, 400))
def test_a_larger_package_never_turns_a_fit_into_a_refusal(
    solid: Solid, wanted: list[Requirement], more: int, taller: int
) -> None:
    larger = replace(solid, length=solid.length + more, width=solid.width + more, height=solid.height + taller)
    if not place(solid, wanted, forms=forms).refused:
        assert not place(larger, wanted, forms=forms).refused


@QUICK
@given(solids(), marks())
def test_a_larger_package_never_needs_smaller_labels(solid: Solid, wanted: list[Requirement]) -> None:
    def smallest(placement: Placement) -> float:
        return min((p.artwork.side for p in placement.items if p.artwork.side), default=0.0)

    one = place(solid, wanted, forms=forms)
    larger = replace(solid, length=solid.length * 1.5, width=solid.width * 1.5, height=solid.height * 1.5)
    assert one.refused or smallest(place(larger, wanted, forms=forms)) >= smallest(one)


@QUICK
@given(st.integers(100, 700), st.integers(100, 700), st.integers(1, 4))
def test_equal_labels_fit_a_face_exactly_when_rows_and_columns_of_them_do(width: int, height: int, count: int) -> None:
    # By pigeonhole an upright rectangle holds floor(w) x floor(h) upright unit squares and no more: a label is 141.42
    # mm
    # across, with 5 mm to the next and 3 mm to every edge. Top and upright faces are one size here: a cube-like box.
    variants = ["2.1", "3", "6.1", "8"][:count]
    solid = Solid.box(width, width, height, PackageForm.JERRICAN)  # upright faces only
    across, up = (int((edge - 6 + 5) / (100 * 2**0.5 + 5)) for edge in (width, height))
    margin = min(abs((edge - 6 + 5) / (100 * 2**0.5 + 5) % 1) for edge in (width, height))
    if margin > 0.002:  # a tenth of a millimetre is rounded away
        refused = place(solid, [label(v) for v in variants], forms=forms).refused
        assert refused is (across * up < count)


def exact(rects: list[tuple[float, float]], width: float, height: float) -> bool:
    """An independent exact search: whether upright rectangles fit, 5 mm apart and 3 mm from the edges. A packing pushed
    left and down has every edge at a sum of sizes, so those places are enough (normal patterns, common practice)."""
    room = width - 6 + 5, height - 6 + 5
    grown = [(w + 5, h + 5) for w, h in rects]
    sums = [
        sorted({sum(r[axis] for r in some) for n in range(len(grown)) for some in combinations(grown, n)})
        for axis in (0, 1)
    ]

    def go(n: int, done: list[tuple[float, float, float, float]]) -> bool:
        if n == len(grown):
            return True
        w, h = grown[n]
        return any(
            x + w <= room[0] + 1e-6
            and y + h <= room[1] + 1e-6
            and all(
                x + w <= a + 1e-6 or a + c <= x + 1e-6 or y + h <= b + 1e-6 or b + d <= y + 1e-6 for a, b, c, d in done
            )
            and go(n + 1, [*done, (x, y, w, h)])
            for x in sums[0]
            for y in sums[1]
        )

    return go(0, [])


@QUICK
@given(st.integers(150, 460), st.integers(150, 460), st.integers(1, 4), st.booleans())
def test_labels_are_never_refused_where_an_exact_search_finds_room(
    width: int, height: int, count: int, cargo: bool
) -> None:
    wanted = [label(v) for v in ["2.1", "3", "6.1", "8"][:count]] + ([CARGO] if cargo else [])
    rects = [(100 * sqrt(2), 100 * sqrt(2))] * count + ([(120.0, 110.0)] if cargo else [])
    room = exact(rects, width, height)
    if room is not exact(rects, width - 0.6, height - 0.6):
        return  # the search keeps to a tenth of a millimetre
    solid = Solid.box(width, width, height, PackageForm.JERRICAN)
    assert place(solid, wanted, AIR, forms=forms).refused is not room
