"""Labels stand out from their ground, or have a line at their edge: 49 CFR 172.406(d); UN Model Regulations 5.2.2.2.1.1.1,
from memory. Which colours are too near each other is our own choice."""

from __future__ import annotations

from typing import Any

import pytest

from layouts.contrast import NEAR, at_edge, lined, on_ground
from layouts.job import plan
from layouts.placement import Placement
from marks.reading import record_from
from marks.terms import Colour, Level
from tests.law_cases import PACKED, RECORD
from tests.layouts.drawn import SAMPLES, Sample, group_of, requirement

LABELS = [sample for sample in SAMPLES if sample.mark == "hazard-label"]
DRUM = {**PACKED["drum"], "goods": [{"un": "1307", "packing_group": "III", "net": "200 L"}]}


def placed(**more: Any) -> Placement:
    return plan(record_from(RECORD | {"modes": ["road"], "packages": [{"package": "A", **DRUM, **more}]})).placements[0]


def told(placement: Placement) -> list[Level]:
    return [one.level for one in placement.findings if one.code == "contrast"]


@pytest.mark.parametrize("colour", list(Colour))
def test_no_label_lies_without_a_line_on_its_own_colour(colour: Colour) -> None:
    from layouts.artwork.catalogue import forms

    for sample in LABELS:
        for form in on_ground(forms, colour)(requirement(sample)):
            assert colour.value not in at_edge(form), sample.caption


@pytest.mark.parametrize("sample", LABELS, ids=lambda sample: sample.caption)
def test_a_line_at_the_edge_is_drawn_on_every_form_and_moves_nothing(sample: Sample) -> None:
    from layouts.artwork.catalogue import forms

    for form in forms(requirement(sample)):
        with_line = lined(form)
        assert (with_line.width, with_line.height, with_line.side) == (form.width, form.height, form.side)
        assert at_edge(with_line) == set()
        if not form.reduced:
            assert group_of(with_line, "boundary")
            assert bool(group_of(form, "boundary")) != bool(at_edge(form))


def test_a_red_label_on_a_red_drum_is_printed_with_a_line_and_the_packer_is_told() -> None:
    placement = placed(colour="red")
    assert told(placement) == [Level.NOTE] and "printed with a line" in placement.findings[-1].text
    assert all(at_edge(p.artwork) == set() for p in placement.items)


def test_on_a_blue_drum_it_needs_none() -> None:
    placement = placed(colour="blue")
    assert told(placement) == [] and any(at_edge(p.artwork) == {"red"} for p in placement.items)


def test_where_the_colour_is_not_stated_the_record_is_told_and_fibreboard_needs_no_word() -> None:
    assert told(placed()) == [Level.NOTE]
    box = {**PACKED["box"], "goods": [{"un": "1294", "inner": {"count": 4, "holds": "1 L", "of": "glass bottle"}}]}
    record = record_from(RECORD | {"modes": ["road"], "packages": [{"package": "A", **box}]})
    assert told(plan(record).placements[0]) == []


def test_a_label_that_is_there_already_on_its_own_colour_is_a_persons_to_judge() -> None:
    assert told(placed(colour="red", preprinted=["hazard-label 3"])) == [Level.CAUTION]


def test_near_colours_are_near_both_ways() -> None:
    for one, near in NEAR.items():
        assert one.value in near
        assert all(one.value in NEAR[Colour(other)] for other in near)
