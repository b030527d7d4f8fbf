"""The inside of a box: what is found fits, by code that shares nothing with the search; worked sums by hand."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from itertools import combinations
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from marks.inside import Gaps, Inside, inside_of, mass_kg
from marks.reading import record_from
from marks.record import Package
from marks.variation import computed
from tests.law_cases import PACKED, RECORD


def package(inner: dict[str, Any] | list[dict[str, Any]], **more: Any) -> Package:
    inners = inner if isinstance(inner, list) else [inner]
    goods = [
        {"un": "1090", "inner": {"count": 4, "holds": "1 L", "of": "bottle", "absorbent": "full"} | one}
        for one in inners
    ]
    return record_from(
        RECORD | {"modes": ["road"], "packages": [PACKED["box"] | {"package": "A", "goods": goods} | more]}
    ).packages[0]


def mm(length: int, width: int, height: int) -> dict[str, str]:
    return {"length": f"{length} mm", "width": f"{width} mm", "height": f"{height} mm"}


def gaps(bottom: int, sides: int, between: int, top: int) -> Gaps:
    return Gaps(*(Decimal(one) for one in (bottom, sides, between, top)))


def found(one: Package, kept: Gaps) -> Inside:
    inside = inside_of(one, kept)
    assert inside is not None
    return inside


def test_the_sums_of_a_v_box() -> None:
    """Four bottles of 90 x 200 mm in 240 x 240 x 240 mm, by hand: 13.824 L, less four times 0.2 pi 4.5 x 4.5 L."""
    box = package({"size": {"diameter": "90 mm", "height": "200 mm"}}, inside=mm(240, 240, 240))
    inside = found(box, gaps(20, 20, 20, 20))
    assert inside.layers == ((2, 2),)
    assert abs(inside.free_ml - (Decimal("13824") - 4 * Decimal("1272.345"))) < Decimal("0.1")
    assert inside.liquid_ml == 4000
    assert abs(inside.takes_each_litre_ml - Decimal("457.9")) < Decimal("0.1")


def test_the_mass_is_the_sum_of_its_parts() -> None:
    """0.6 kg box, four times 1.3 kg, 8.7346 L at 100 g."""
    more = {
        "filling": {"of": "vermiculite", "litre_weighs": "100 g"},
        "empty_mass": "600 g",
        "inside": mm(240, 240, 240),
    }
    box = package({"size": {"diameter": "90 mm", "height": "200 mm"}, "mass_each": "1.3 kg"}, **more)
    mass = mass_kg(box, found(box, gaps(20, 20, 20, 20)).free_ml)
    assert mass is not None and abs(mass - Decimal("6.67346")) < Decimal("0.0001")


def test_two_layers_where_one_has_no_room() -> None:
    box = package({"count": 8, "size": mm(100, 100, 100)}, inside=mm(200, 200, 200))
    assert found(box, gaps(0, 0, 0, 0)).layers == ((2, 2), (2, 2))


def test_a_layer_between_needs_its_distance_too() -> None:
    box = package({"count": 2, "size": mm(100, 100, 100)}, inside=mm(100, 100, 209))
    assert not found(box, gaps(0, 0, 10, 0)).fits
    box = package({"count": 2, "size": mm(100, 100, 100)}, inside=mm(100, 100, 210))
    arranged = found(box, gaps(0, 0, 10, 0))
    assert arranged.layers == ((1,), (1,))
    assert [(spot.layer, spot.row) for spot in arranged.spots] == [(1, 1), (2, 1)]


def test_a_box_of_no_certificate_keeps_no_distance() -> None:
    box = package({"count": 2, "size": mm(100, 100, 100)}, inside=mm(200, 100, 100))
    inside = computed(box, date(2026, 11, 25))
    assert inside is not None and inside.fits


def test_inner_boxes_may_lie_across() -> None:
    box = package({"count": 2, "size": mm(150, 90, 100)}, inside=mm(150, 190, 100))
    assert found(box, gaps(0, 0, 10, 0)).fits


def test_inner_boxes_lie_as_they_are_written_where_they_may_lie_across_too() -> None:
    inside = found(package({"count": 2, "size": mm(60, 100, 50)}, inside=mm(200, 200, 50)), gaps(0, 0, 0, 0))
    assert [(spot.body.width, spot.body.depth) for spot in inside.spots] == [(60, 100)] * 2
    assert [(spot.layer, spot.row) for spot in inside.spots] == [(1, 1), (1, 1)]


def test_bottles_of_two_sizes() -> None:
    bottles = [
        {"count": 2, "size": {"diameter": "100 mm", "height": "250 mm"}},
        {"count": 3, "size": {"diameter": "60 mm", "height": "150 mm"}},
    ]
    inside = found(package(bottles, inside=mm(260, 220, 290)), gaps(20, 20, 10, 20))
    assert sum(sum(rows) for rows in inside.layers) == 5


def test_what_does_not_go_in_is_said_in_figures() -> None:
    """By hand: one too long for the room between its distances; 20 of 1.62 L each are more than 240^3 mm = 13.824 L."""
    long = package({"size": {"diameter": "90 mm", "height": "230 mm"}}, inside=mm(240, 240, 240))
    assert found(long, gaps(20, 20, 20, 20)).impossible == "one of 90 x 90 x 230 mm does not go into 200 x 200 x 200 mm"
    many = package({"count": 20, "size": mm(90, 90, 200)}, inside=mm(240, 240, 240))
    assert found(many, gaps(20, 20, 20, 20)).impossible == "together they take 18576 mL more than the box holds"


def test_without_sizes_nothing_is_computed() -> None:
    assert inside_of(package({}, inside=mm(240, 240, 240)), gaps(0, 0, 0, 0)) is None
    assert inside_of(package({"size": mm(90, 90, 90)}), gaps(0, 0, 0, 0)) is None


SIDES = st.integers(20, 150)
INNERS = st.one_of(
    st.builds(lambda d, h: {"diameter": f"{d} mm", "height": f"{h} mm"}, SIDES, SIDES),
    st.builds(mm, SIDES, SIDES, SIDES),
)
KEPT = st.builds(gaps, *(st.integers(0, 30) for _ in range(4)))


@given(
    st.lists(st.tuples(INNERS, st.integers(1, 6)), min_size=1, max_size=3),
    st.tuples(*(st.integers(60, 500),) * 3),
    KEPT,
)
def test_what_is_found_lies_inside_and_apart(
    sizes: list[tuple[dict[str, str], int]], room: tuple[int, int, int], kept: Gaps
) -> None:
    one = package([{"count": count, "size": size} for size, count in sizes], inside=mm(*room))
    inside = found(one, kept)
    if not inside.fits:
        return
    assert len(inside.spots) == sum(count for _, count in sizes)
    for spot in inside.spots:
        ends = (spot.x + spot.body.width, spot.y + spot.body.depth, spot.z + spot.body.height)
        turned = (room[0], room[1]) if _within(inside, room, kept) else (room[1], room[0])
        assert ends[0] <= turned[0] - 2 * kept.sides and ends[1] <= turned[1] - 2 * kept.sides
        assert ends[2] <= room[2] - kept.bottom - kept.top
    for a, b in combinations(inside.spots, 2):
        apart = [
            max(p - (q + d), q - (p + c))
            for p, c, q, d in (
                (a.x, a.body.width, b.x, b.body.width),
                (a.y, a.body.depth, b.y, b.body.depth),
                (a.z, a.body.height, b.z, b.body.height),
            )
        ]
        assert max(apart) >= kept.between


def _within(inside: Inside, room: tuple[int, int, int], kept: Gaps) -> bool:
    """Whether the arrangement lies along the box; else it lies across and all of it is turned."""
    return all(
        spot.x + spot.body.width <= room[0] - 2 * kept.sides and spot.y + spot.body.depth <= room[1] - 2 * kept.sides
        for spot in inside.spots
    )


@given(INNERS, st.integers(1, 12), st.tuples(*(st.integers(60, 400),) * 3), KEPT, st.integers(0, 2), st.integers(1, 80))
def test_a_larger_box_never_loses_what_a_smaller_one_had(
    size: dict[str, str], count: int, room: tuple[int, int, int], kept: Gaps, side: int, more: int
) -> None:
    """Of inner packagings of one size."""
    larger = tuple(edge + (more if n == side else 0) for n, edge in enumerate(room))
    if found(package({"count": count, "size": size}, inside=mm(*room)), kept).fits:
        assert found(package({"count": count, "size": size}, inside=mm(*larger)), kept).fits
