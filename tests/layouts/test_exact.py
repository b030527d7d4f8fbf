"""The exact search: it says there is no room only where there is none. Whole numbers, so that nothing is rounded."""

from __future__ import annotations

from itertools import combinations, pairwise, product
from random import Random

import pytest

from layouts.exact import Unfinished, least, pack
from layouts.nested import arrangements
from layouts.outline import drawn_together, joined, open_area
from layouts.room import Sums, empty, outside, too_much, useful
from tests.layouts.by_force import goes

MANY = (100_000,)
Rect = tuple[int, int, int, int]


def small_case(seed: int) -> tuple[list[list[tuple[int, int]]], int, int, list[Rect]]:
    """A face of 8 to 16 units with one to four pieces of one or two sizes, and up to two parts that are taken."""
    r = Random(seed)
    width, height = r.randint(8, 16), r.randint(8, 16)
    pieces = [[(r.randint(2, 12), r.randint(2, 12)) for _ in range(r.randint(1, 2))] for _ in range(r.randint(1, 4))]
    taken = []
    for _ in range(r.choice((0, 0, 1, 2))):
        x, y = r.randint(0, width - 2), r.randint(0, height - 2)
        taken.append((x, y, x + r.randint(1, 5), y + r.randint(1, 5)))
    return pieces, width, height, taken


@pytest.mark.parametrize("part", range(3))
def test_it_finds_a_place_exactly_where_brute_force_does(part: int) -> None:
    told = []
    for seed in range(part, 900, 3):
        pieces, width, height, taken = small_case(seed)
        found = pack(pieces, width, height, taken, MANY)
        told.append(found is not None)
        assert told[-1] == any(goes(sizes, width, height, taken) for sizes in product(*pieces)), (
            pieces,
            width,
            height,
            taken,
        )
        boxes = []
        for spot in found or ():
            w, h = pieces[spot.piece][spot.form]
            boxes.append((spot.x, spot.y, spot.x + w, spot.y + h))
            assert spot.x >= 0 and spot.x + w <= width and spot.y >= 0 and spot.y + h <= height
        for a, b in [*combinations(boxes, 2), *product(boxes, taken)]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
    assert 0.2 < sum(told) / len(told) < 0.8  # neither answer is rare


def test_four_round_a_hole_need_no_straight_cut() -> None:
    """The pinwheel: no cut from edge to edge parts these four, so rows and columns never find it (common knowledge)."""
    assert pack([[(3, 2)], [(2, 3)], [(3, 2)], [(2, 3)]], 5, 5, [(2, 2, 3, 3)], MANY) is not None
    assert pack([[(3, 2)], [(2, 3)], [(3, 2)], [(2, 3)]], 5, 4, [], MANY) is None


def test_of_two_sizes_the_one_that_fits_is_taken() -> None:
    (one, two) = sorted(pack([[(10, 1), (5, 2)], [(5, 3)]], 5, 5, [], MANY) or [])
    assert (one.form, two.form) == (1, 0)
    assert least(((10, 1), (5, 2), (6, 2), (10, 4))) == ((5, 2, 1), (10, 1, 0))


def test_what_is_taken_may_overlap_and_reach_over_the_edge() -> None:
    taken = [(0, 0, 4, 4), (2, 2, 9, 6), (-3, 8, 20, 12)]
    assert pack([[(5, 2)]], 9, 9, taken, MANY) is not None  # right of the first, below the second
    assert pack([[(6, 3)]], 9, 9, taken, MANY) is None
    parts = outside(9, 9, empty(9, 9, (*taken, (1, 7, 1, 9))))
    assert not any(a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3] for a, b in combinations(parts, 2))
    assert sum((c - a) * (d - b) for a, b, c, d in parts) == 16 + 28 - 4 + 9


def test_a_condition_of_the_whole_is_met_or_there_is_no_place() -> None:
    def abreast(spots: object) -> bool:
        return len({spot.y for spot in spots}) == 1  # type: ignore[attr-defined]

    assert pack([[(2, 2)], [(2, 2)]], 2, 4, [], MANY) is not None
    assert pack([[(2, 2)], [(2, 2)]], 2, 4, [], MANY, abreast, (0, 1)) is None
    assert pack([[(2, 2)], [(2, 2)]], 4, 4, [], MANY, abreast, (0, 1)) is not None


def test_what_must_lie_together_is_drawn_together_round_what_can_not_move() -> None:
    """Two squares of 3 on a strip of 11, 1 taken in its middle: pushed to either side they lie 3 apart, drawn together 1."""

    def near(spots: object) -> bool:
        one, two = sorted(spot.x for spot in spots)  # type: ignore[attr-defined]
        return two - one - 3 <= 1

    assert {spot.x for spot in pack([[(3, 3)], [(3, 3)]], 11, 3, [(5, 0, 6, 3)], MANY, near, (0, 1)) or ()} == {2, 6}
    assert pack([[(3, 3)], [(3, 3)]], 12, 3, [(5, 0, 7, 3)], MANY, near, (0, 1)) is None  # what is taken is 2 wide
    assert drawn_together([(0, 0, 3, 3), (6, 0, 9, 3)], [(5, 0, 6, 3)], (), 11, 3) == [(2, 0, 5, 3), (6, 0, 9, 3)]


def test_pieces_of_one_size_are_told_apart_where_the_condition_speaks_of_some() -> None:
    """Three squares in a row, the two that are watched not side by side: the other one between them."""

    def parted(spots: object) -> bool:
        one, two = sorted(spot.x for spot in spots if spot.piece < 2)  # type: ignore[attr-defined]
        return two - one == 4

    found = pack([[(2, 2)], [(2, 2)], [(2, 2)]], 6, 2, [], MANY, parted, (0, 1))
    assert found is not None and {spot.piece: spot.x for spot in found}[2] == 2


@pytest.mark.parametrize(
    ("width", "height", "goes"), [(150, 150, True), (149, 150, False), (130, 170, True), (130, 169, False)]
)
def test_two_squares_on_their_point_fit_where_what_they_are_moved_adds_up_to_one(
    width: int, height: int, goes: bool
) -> None:
    """Across and up together by the width of one, 100: so two take 150 x 150 or 130 x 170 (a slope of 45 degrees)."""
    assert bool(arrangements((100, 100), 0, width, height, ())) == goes


def test_a_search_that_is_ended_says_so_and_a_bound_saves_it() -> None:
    pieces = [[(3, 5)], [(5, 3)], [(4, 4)], [(3, 3)], [(2, 6)], [(2, 2)], [(3, 2)]]
    with pytest.raises(Unfinished):
        pack(pieces, 9, 10, [], (1,))
    assert too_much((((6, 1, 0),),) * 3, 10, 2)  # wider than half: one above the other
    assert not too_much((((5, 1, 0),),) * 3, 10, 2)


def cut(r: Random, width: int, height: int, parts: int) -> list[Rect]:
    """A face cut into so many parts, the largest or the next in two again and again."""
    found: list[Rect] = [(0, 0, width, height)]
    while len(found) < parts:
        found.sort(key=lambda q: (q[0] - q[2]) * (q[3] - q[1]))
        x0, y0, x1, y1 = found.pop(r.choice((0, 0, min(1, len(found) - 1))))
        if r.random() < 0.5:
            x = r.randint(x0 + 1, max(x0 + 1, x1 - 1))
            found += [(x0, y0, x, y1), (x, y0, x1, y1)]
        else:
            y = r.randint(y0 + 1, max(y0 + 1, y1 - 1))
            found += [(x0, y0, x1, y), (x0, y, x1, y1)]
    return [q for q in found if q[0] < q[2] and q[1] < q[3]]


def test_what_was_cut_from_a_face_goes_on_it_again() -> None:
    """Nothing is to spare there, so a bound that says too much is found out. Some parts stay where they are, taken."""
    for seed in range(400):
        r = Random(seed)
        width, height = r.randint(10, 60), r.randint(10, 60)
        parts = cut(r, width, height, r.randint(3, 8))
        r.shuffle(parts)
        taken, rest = parts[: r.choice((0, 1, 2))], parts[3:]
        pieces = [[(x1 - x0, y1 - y0), (y1 - y0 + 1, x1 - x0)] for x0, y0, x1, y1 in [*rest, *parts[len(taken) : 3]]]
        assert pack(pieces, width, height, taken, MANY) is not None, seed


def test_empty_rectangles_and_what_is_outside_them_cover_the_face() -> None:
    for seed in range(200):
        _, width, height, taken = small_case(seed)
        rooms = empty(width, height, tuple(taken))
        bare = {
            (x, y)
            for x, y in product(range(width), range(height))
            if not any(a <= x < c and b <= y < d for a, b, c, d in taken)
        }
        covered = {(x, y) for a, b, c, d in rooms for x, y in product(range(a, c), range(b, d))}
        assert covered == bare, seed
        some = rooms[::2]
        rest = [(x, y) for a, b, c, d in outside(width, height, some) for x, y in product(range(a, c), range(b, d))]
        inside = {(x, y) for a, b, c, d in some for x, y in product(range(a, c), range(b, d))}
        assert len(set(rest)) == len(rest) and set(rest) | inside == set(product(range(width), range(height))), seed
        assert not set(rest) & inside, seed


def test_corners_are_where_what_is_open_begins() -> None:
    """Against every square of a small face by itself: what is shut off lies left of and below some rectangle's upper right."""
    r = Random(15)
    for _ in range(300):
        corners, tops = ((0, 0),), [(r.randint(1, 9), r.randint(1, 9)) for _ in range(r.randint(1, 6))]
        for right, top in tops:
            corners = joined(corners, right, top)
        shut = {(x, y) for x, y in product(range(10), repeat=2) if any(x < a and y < b for a, b in tops)}
        assert all(((x, y) in shut) == (not any(a <= x and b <= y for a, b in corners)) for x, y in product(range(10), repeat=2))
        assert corners == tuple(sorted(corners)) and all(a[1] > b[1] for a, b in pairwise(corners)), corners
        assert open_area(corners, 10, 10) == 100 - len(shut)


def test_of_a_line_only_what_pieces_can_cover_is_of_use() -> None:
    """A face of 10 x 4: 2 below on the left are shut off, and a square of 2 stands on the right. Pieces are 3 wide: lines from
    2 to 6 hold one of them, lines from 0 to 10 three."""
    sums = Sums(1 | 1 << 3 | 1 << 6 | 1 << 9)
    assert useful(((0, 2), (2, 0)), [(6, 0, 8, 2)], 10, 4, sums) == 3 * 2 + 9 * 2
    assert useful(((0, 0),), [], 10, 4, sums) == 9 * 4
    assert useful(((0, 0),), [(0, 0, 10, 4)], 10, 4, sums) == 0
