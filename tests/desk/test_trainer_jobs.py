"""The trainer's work without a server: records that are not whole, trials that cannot be, what a trial takes along."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from layouts.front.desk.quantities import stops
from layouts.front.desk.trials import trial
from tests.desk.asking import get, post, value, words
from tests.desk.conftest import RECORD
from tests.desk.test_parts import tree_of as plain_tree


@pytest.mark.parametrize(
    "text", ["packages: [", "- a\n", "packages: []\n", "packages: [{package: A}]\n", "packages: [{package: A, goods: [x]}]\n",
             "packages: [{package: A, goods: [{inner: none}]}]\n", "packages: [{package: [A], goods: [{}]}]\n"]
)  # fmt: skip
def test_a_record_that_is_not_whole_is_sent_to_the_clerk(place: Path, text: str) -> None:
    (place / "odd.yaml").write_text(text, "utf-8")
    for job in ("trainer", "quiz"):
        found = get(place, job, record="odd.yaml")
        assert found.status == 404 and "the clerk's page says what is wrong with it" in words(found), job


def test_a_trial_that_cannot_be_read_or_decided_says_so(place: Path) -> None:
    for sent in ({"count": "0"}, {"holds": "1 pint"}, {"packaging": "9Z"}, {"gross_mass": "x", "gross_follows": "no"}):
        found = post(place, "trainer", ("record", RECORD), *sent.items())
        assert found.status == 422 and next(iter(sent.values())) in words(found), sent
    text = (place / RECORD).read_text("utf-8")
    (place / "later.yaml").write_text(text.replace("2026-11-25", "2049-11-25"), "utf-8")
    found = get(place, "trainer", record="later.yaml")
    assert found.status == 422 and "2049" in words(found)
    assert get(place, "quiz", record="later.yaml").status == 422


def test_a_rung_of_the_ladder_sets_its_control_and_nothing_else(place: Path) -> None:
    assert value(post(place, "trainer", record=RECORD, do="set holds 0.5 L"), "holds") == "0.5 L"
    for do in ("set reference x", "set", "turn"):
        assert value(post(place, "trainer", record=RECORD, do=do), "holds") == "1 L", do


def test_what_is_gone_from_every_mode_is_said_to_vanish(place: Path) -> None:
    before = "road hazard-label 4.3|rail hazard-label 3|sea=refuse|road magnetized-material"
    found = words(post(place, "trainer", record=RECORD, before=before))
    assert "Hazard label 4.3 vanishes: Road" in found and "Magnetized material vanishes: Road" in found
    assert "rail" not in found.casefold()


def test_another_packaging_takes_shape_and_mark_along(place: Path) -> None:
    tree = plain_tree(place / RECORD)
    drum = trial(tree, 0, 0, {"packaging": "1A1"})
    assert drum.tree["packages"][0]["size"] == {"diameter": "300 mm", "height": "330 mm"}
    assert drum.values["spec_mark"].startswith("UN 1A1/") and len(drum.followed) == 2
    box = trial(drum.tree, 0, 0, {"packaging": "4G"})
    assert box.tree["packages"][0]["size"] == {"length": "300 mm", "width": "300 mm", "height": "330 mm"}
    assert "it is taken as a box of 300 mm by 300 mm" in box.followed
    can = trial(tree, 0, 0, {"packaging": "3H1"})
    assert can.tree["packages"][0]["size"] == tree["packages"][0]["size"]  # a can may be as a box is
    tree["packages"][0]["size"] = "large"
    assert trial(tree, 0, 0, {"packaging": "1A1"}).tree["packages"][0]["size"] == "large"


def test_the_gross_mass_stays_where_nothing_tells_what_it_would_be(place: Path) -> None:
    tree = plain_tree(place / RECORD)
    for wanted in ({"holds": "much"}, {"count": "0"}, {"count": "9999999"}, {"count": "x"}, {"holds": "2 m"}, {"count": "12"}):
        assert trial(tree, 0, 0, wanted).values["gross_mass"] == "17.2 kg", wanted
    assert trial(tree, 0, 0, {"gross_follows": "no", "count": "6"}).values["gross_mass"] == "17.2 kg"
    tree["packages"][0]["gross_mass"] = "heavy"
    assert trial(tree, 0, 0, {"count": "6"}).values["gross_mass"] == "heavy"
    tree["packages"][0]["goods"][0]["inner"] = "none"
    assert trial(tree, 0, 0, {"holds": "1 L"}).tree["packages"][0]["goods"][0]["inner"] == "none"


def test_a_slider_of_nothing_has_no_stop() -> None:
    assert stops([Decimal(5)], Decimal(0), "L") == () and stops([], Decimal(-1), "kg") == ()
