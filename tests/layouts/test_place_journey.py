"""A journey's marks are placed once, and each mode's own view is a part of that: a package is marked once, for all its legs."""

from __future__ import annotations

from pathlib import Path

import pytest

from layouts.job import faces_of, plan, plan_json
from marks.reading import read_record

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_modes_view_is_a_part_of_the_one_placement(path: Path) -> None:
    planned = plan(read_record(path))
    told = plan_json(planned)
    for (decision, placement), one in zip(planned.pairs(), told["packages"], strict=True):
        placed = {item.requirement.key for item in placement.items}
        for mode, answer in decision.modes.items():
            if placement.refused:
                continue
            for mark in answer.marks:
                stands_for = mark.key if mark.key in placed else ("limited-quantity-air", mark.variant, mark.words)
                assert stands_for in placed, (mode, mark.mark)
                assert faces_of(mark, placement)
        faces = {(item["mark"], item["face"]) for item in one["journey"]["placement"]}
        for answer in one["modes"].values():
            seen = {(mark["mark"], face) for mark in answer["marks"] for face in mark["faces"]}
            assert {pair for pair in seen if pair[0] != "limited-quantity"} <= faces


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_placement_bears_nothing_that_no_mode_asks_for(path: Path) -> None:
    for decision, placement in plan(read_record(path)).pairs():
        asked = {mark.key for answer in decision.modes.values() for mark in answer.marks}
        assert {item.requirement.key for item in placement.items} <= asked
