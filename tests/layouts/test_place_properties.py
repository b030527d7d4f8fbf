"""Placement for any package: what must hold whatever the sizes, the marks, their order and what is kept clear.

Five thousand packages in all, in five parts that run side by side. The brute force of the second half is independent of the
search: every mark on every face, in every place at sums of sizes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations, product
from math import ceil
from random import Random

import pytest
from checked import between, faults, outline
from hypothesis import given, settings
from hypothesis import strategies as st
from placing_given import AIR, CARGO, SURFACE, forms, label, need

from layouts.faces import Area, Solid
from layouts.geometry import Box
from layouts.place import place
from layouts.placement import Placement
from marks.requirement import Requirement
from marks.terms import Face, Mode, PackageForm

PARTS, EACH = 5, 1000
US = (Mode.US_GROUND,)
SEEDS = st.integers(0, 2**32)
VARIANTS = ("2.1", "2.2", "3", "4.1", "5.1", "6.1", "7-II", "8", "9")
OTHERS = (
    "un-number", "proper-shipping-name", "shipper", "consignee", "net-quantity", "gross-mass", "battery",
    "orientation-arrows", "environmentally-hazardous", "limited-quantity", "magnetized-material",
)  # fmt: skip


def a_solid(r: Random) -> Solid:
    def edge() -> int:
        return r.choice((r.randint(60, 300), r.randint(60, 800), r.randint(300, 3000)))

    form = r.choice([*PackageForm, PackageForm.BOX, PackageForm.BOX])
    if form in (PackageForm.DRUM, PackageForm.CYLINDER):
        return Solid.drum(edge(), edge(), form)
    if form is PackageForm.JERRICAN and r.random() < 0.3:
        return Solid.drum(edge(), edge(), form)
    return replace(Solid.box(edge(), edge(), edge(), form), taped=form is PackageForm.BOX and r.random() < 0.7)


def some_marks(r: Random, most: int = 14) -> list[Requirement]:
    """One to fourteen marks of one journey, the arrows and what stands on two sides counted once."""
    modes = r.choice((SURFACE, AIR, US))
    labels = r.sample(VARIANTS, r.choice((0, 1, 1, 2, 2, 3, 4)))
    twice = r.random() < 0.15
    found = [label(v, modes=modes, twice=twice or v == "7-II") for v in labels]
    if labels and modes is AIR and r.random() < 0.5:
        found.append(need("cargo-aircraft-only", modes=modes))
    rest = r.sample(OTHERS, r.randint(0, max(0, min(most - len(found), len(OTHERS)))))
    pairs = ("un-number", "proper-shipping-name", "environmentally-hazardous")
    found += [need(mark, None, mark, modes=modes, twice=twice and mark in pairs, goods=(0,)) for mark in rest]
    return found or [need("un-number", None, "UN 1", modes=modes)]


def some_areas(r: Random, solid: Solid) -> list[Area]:
    faces = [face for face in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT) if solid.takes_marks(face)]
    found = []
    for _ in range(r.choice((0, 0, 1, 2, 3)) if faces else 0):
        face = r.choice(faces)
        w, h = solid.size(face)
        x, y = r.random() * w * 0.8, r.random() * h * 0.8
        found.append(Area(face, Box(x, y, r.random() * (w - x), r.random() * (h - y)), f"area {len(found)}"))
    return found


def seen(placement: Placement) -> list[tuple[object, ...]]:
    return [(p.requirement.key, p.face, p.x, p.y, p.width, p.height, p.number, p.why_here) for p in placement.items]


@pytest.mark.parametrize("part", range(PARTS))
def test_what_is_placed_is_lawful_and_the_order_of_marks_and_goods_changes_nothing(part: int) -> None:
    @settings(max_examples=EACH, deadline=None)
    @given(SEEDS)
    def holds(seed: int) -> None:
        r = Random(f"{part} {seed}")
        solid = a_solid(r)
        wanted, clear = some_marks(r), some_areas(r, solid)
        placement = place(solid, wanted, forms=forms, keep_clear=clear)
        if placement.refused:
            assert placement.items == () and "What to do: " in placement.findings[-1].text
        else:
            assert faults(placement, wanted, (), clear) == []
        if seed % 4 == 0:
            r.shuffle(wanted)
            r.shuffle(clear)
            other = place(
                solid, [replace(w, goods=tuple(g + 3 for g in w.goods)) for w in wanted], forms=forms, keep_clear=clear
            )
            assert seen(other) == seen(placement) and other.findings == placement.findings

    holds()


@settings(max_examples=600, deadline=None)
@given(SEEDS)
def test_a_larger_package_never_turns_a_fit_into_a_refusal(seed: int) -> None:
    r = Random(seed)
    solid, wanted = a_solid(r), some_marks(r, 9)
    clear = some_areas(r, solid)
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
        assert not place(larger, wanted, forms=forms, keep_clear=clear).refused


@settings(max_examples=300, deadline=None)
@given(SEEDS)
def test_a_larger_package_never_needs_smaller_labels(seed: int) -> None:
    def smallest(placement: Placement) -> float:
        sides = [p.artwork.side for p in placement.items if p.artwork.side and p.requirement.mark == "hazard-label"]
        return min(sides, default=0.0)  # type: ignore[type-var]

    r = Random(seed)
    solid, wanted = a_solid(r), some_marks(r, 9)
    larger = replace(solid, length=solid.length * 1.5, width=solid.width * 1.5, height=solid.height * 1.5)
    one = place(solid, wanted, forms=forms)
    if not one.refused and Face.TAG not in {p.face for p in one.items}:  # on a tag they are of full size
        assert smallest(place(larger, wanted, forms=forms)) >= smallest(one)


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


def nested(placement: Placement) -> bool:
    """Whether two squares on their points reach into each other's boxes."""
    return any(
        a.face is b.face and a.box.grown(4.9).overlaps(b.box) and between(outline(a), outline(b)) >= 4.99
        for a, b in combinations([p for p in placement.items if p.artwork.side], 2)
    )


# --- brute force -----------------------------------------------------------------------------------------------------

Size = tuple[int, int]


def goes(sizes: Sequence[Size], width: int, height: int, taken: Sequence[tuple[int, int, int, int]] = ()) -> bool:
    """Whether upright rectangles fit beside each other and clear of what is taken, in whole numbers: each in every place at
    sums of the sizes of others (a packing pushed left and down has all edges there; common practice)."""
    places = []
    for axis, starts in ((0, [0, *(t[2] for t in taken)]), (1, [0, *(t[3] for t in taken)])):
        sums = {sum(s[axis] for s in some) for n in range(len(sizes)) for some in combinations(sizes, n)}
        places.append(sorted({start + s for start in starts for s in sums}))

    def go(n: int, done: list[tuple[int, int, int, int]]) -> bool:
        if n == len(sizes):
            return True
        w, h = sizes[n]
        return any(
            all(x + w <= a or c <= x or y + h <= b or d <= y for a, b, c, d in done)
            and go(n + 1, [*done, (x, y, x + w, y + h)])
            for x in places[0]
            if x + w <= width
            for y in places[1]
            if y + h <= height
        )

    return go(0, list(taken))


def tenths(mm: float) -> int:
    return ceil(mm * 10 - 1e-6)


def choices(r: Requirement, side: int) -> list[Size]:
    """The sizes a mark may have, its 5 mm at two sides included; side: of the labels."""
    fitting = [f for f in forms(r) if f.side in (None, side) or (f.side and r.mark != "hazard-label")]
    sizes = {(tenths(f.width + 5), tenths(f.height + 5)) for f in fitting}
    return sorted(s for s in sizes if not any(o != s and o[0] <= s[0] and o[1] <= s[1] for o in sizes))


def lawful_way(
    solid: Solid, wanted: Sequence[Requirement], side: int, together: bool, clear: Sequence[Area] = ()
) -> bool:
    """Whether there is any way at all: labels and cargo aircraft label on one face (with number and name if ``together``),
    arrows on two opposite upright faces, all else on any face."""
    faces = [face for face in Face if solid.takes_marks(face) and face is not Face.BOTTOM]
    rooms = {face: tuple(int((edge - 6 + 5) * 10 + 1e-6) for edge in solid.size(face)) for face in faces}
    # a mark has its 5 mm at the right and above, and may touch what is kept clear
    kept = {
        face: [
            tuple(int(10 * (v - 3)) for v in (a.box.x + 5, a.box.y + 5, a.box.right, a.box.top))
            for a in clear
            if a.face is face
        ]
        for face in faces
    }

    @cache
    def fits(face: Face, marks: frozenset[int]) -> bool:
        each = [choices(wanted[n], side) for n in sorted(marks)]
        return any(goes(sizes, *rooms[face], kept[face]) for sizes in product(*each))

    tied = [n for n, r in enumerate(wanted) if r.mark in ("hazard-label", "cargo-aircraft-only")]
    if together:
        tied += [n for n, r in enumerate(wanted) if r.mark in ("un-number", "proper-shipping-name")]
    arrows = [n for n, r in enumerate(wanted) if r.mark == "orientation-arrows"]
    free = [n for n in range(len(wanted)) if n not in tied and n not in arrows]
    pairs = [p for p in ((Face.FRONT, Face.BACK), (Face.LEFT, Face.RIGHT)) if p[0] in faces] if arrows else [()]
    for working, pair in product(faces, pairs):
        for where in product(faces, repeat=len(free)):
            on = {face: set() for face in faces}
            on[working].update(tied)
            for face in pair:
                on[face].update(arrows)
            for n, face in zip(free, where, strict=True):
                on[face].add(n)
            if all(fits(face, frozenset(marks)) for face, marks in on.items() if marks):
                return True
    return False


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
