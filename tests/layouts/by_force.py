"""Whether marks go on a package at all, by brute force: every mark on every face, in every place at sums of sizes. It shares
nothing with the search. A mark counts as its upright box."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import combinations, product
from math import ceil

from layouts.faces import Area, Solid
from marks.requirement import Requirement
from marks.terms import Face
from tests.layouts.placing_given import forms

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
