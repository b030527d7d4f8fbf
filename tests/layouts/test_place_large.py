"""IBCs, large packagings and overpacks on their faces: twice what stands twice, once what stands once."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from layouts.job import plan, plan_json
from layouts.placement import NOWHERE
from marks.reading import record_from
from marks.terms import Face
from tests.law_cases import PACKED, RECORD

ZINC = {"un": "3077", "technical_name": "zinc oxide"}
IBC = {**PACKED["ibc"], "goods": [{"un": "3082", "technical_name": "permethrin", "net": "900 L"}]}
FLEXIBLE = {
    **PACKED["ibc"], "packaging": "13H3", "spec_mark": "13H3/Z/03 25/N/Fjellkasse/0/1000", "goods": [{**ZINC, "net": "800 kg"}],
}  # fmt: skip
BOX = {**PACKED["large"], "goods": [{**ZINC, "inner": {"count": 20, "holds": "20 kg", "of": "plastic bag"}}]}
BAG = {**BOX, "packaging": "51H", "spec_mark": "51H/Z/06/25/S/1999 0/500"}
TWICE = ("hazard-label", "un-number", "proper-shipping-name", "environmentally-hazardous")


def record(*packages: dict[str, Any], **more: Any) -> Any:
    named = [{"package": letter, **one} for letter, one in zip("ABC", packages, strict=False)]
    return record_from(RECORD | {"modes": ["road", "sea"], "packages": named} | more)


@pytest.mark.parametrize("package", [IBC, FLEXIBLE, BOX, BAG], ids=lambda one: one["packaging"])
def test_labels_and_marks_on_two_opposite_sides(package: dict[str, Any]) -> None:
    """ADR and IMDG 5.2.1.4 and 5.2.2.1.7, from memory."""
    (placement,) = plan(record(package)).placements
    assert not placement.refused
    faces: dict[str, set[Face]] = {}
    for item in placement.items:
        faces.setdefault(item.requirement.mark, set()).add(item.face)
    for mark in TWICE:
        first, second = sorted(faces[mark])
        assert first.opposite is second and first.upright
    assert not [one.code for one in placement.findings if one.code in ("name-apart", "mark-apart")]


def test_a_small_ibc_is_labelled_once() -> None:
    (placement,) = plan(record({**IBC, "capacity": "450 L", "goods": [{**IBC["goods"][0], "net": "400 L"}]})).placements
    assert set(Counter(item.requirement.mark for item in placement.items).values()) == {1}


BOTTLES = {
    **PACKED["box"],
    "count": 3,
    "goods": [{"un": "1294", "inner": {"count": 4, "holds": "1 L", "of": "glass bottle"}}],
}
SIZE = {"length": "800 mm", "width": "600 mm", "height": "700 mm"}


def test_an_overpack_is_placed_like_a_package() -> None:
    overpacks = [{"overpack": "P1", "packages": ["A", "A"], "size": SIZE}, {"overpack": "P2", "packages": ["A"]}]
    planned = plan(record(BOTTLES, overpacks=overpacks))
    placed, unplaced = planned.overpack_placements
    assert unplaced is NOWHERE
    marks = Counter(item.requirement.mark for item in placed.items)
    assert marks == {
        "un-number": 1,
        "proper-shipping-name": 1,
        "hazard-label": 1,
        "overpack": 1,
        "orientation-arrows": 2,
    }
    assert (placed.solid.length, placed.solid.width, placed.solid.height) == (800, 600, 700)


def test_the_plan_tells_of_overpacks_in_the_form_of_packages() -> None:
    planned = plan(record(BOTTLES, overpacks=[{"overpack": "P1", "packages": ["A", "A"], "size": SIZE}]))
    (told,) = plan_json(planned)["overpacks"]
    assert (told["overpack"], told["packages"], told["marks_visible"]) == ("P1", ["A", "A"], False)
    word = next(one for one in told["modes"]["sea"]["marks"] if one["mark"] == "overpack")
    assert (word["words"], word["min_text_mm"], word["faces"]) == (["OVERPACK"], 12.0, ["front"])
    assert {one["face"] for one in told["journey"]["placement"] if one["mark"] == "orientation-arrows"} == {
        "left",
        "right",
    }


def test_an_overpack_too_small_for_its_marks_is_refused() -> None:
    small = {"length": "60 mm", "width": "50 mm", "height": "60 mm"}
    planned = plan(record(BOTTLES, overpacks=[{"overpack": "P1", "packages": ["A"], "size": small}]))
    assert planned.overpack_placements[0].refused and planned.verdict == "refuse"
