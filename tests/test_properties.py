"""What holds for every package, whatever is in it: goods drawn from the whole list, one to four in a package.

These are promises of our own; no source asks for them but the sense of the rules.
"""

from __future__ import annotations

import os
import subprocess
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from marks.decide import decide
from marks.goods.lookup import Entry, every
from marks.reading import record_from
from marks.requirement import ModeDecision, PackageDecision, Requirement
from marks.rule import merged
from marks.tables import editions
from marks.terms import Mode, ShipAs, VerdictWord
from tests.law_cases import BOX, RECORD, uncited
from tests.test_every_entry import goods

REGULATED = tuple(entry for entry in every() if entry.road_source)
SETTINGS = settings(max_examples=60, deadline=None)
#: The two that must never fail are asked often.
MANY = settings(max_examples=2000, deadline=None)

entries = st.lists(st.sampled_from(REGULATED), min_size=1, max_size=4, unique_by=lambda entry: entry.id)
reliefs = st.sampled_from(list(ShipAs))


def package(lines: list[dict[str, Any]]) -> PackageDecision:
    """The decision on one box with these lines of goods, by every mode held."""
    box = {
        "package": "A",
        "packaging": "4G",
        "spec_mark": "4G/X60/S/26/N/Fjellkasse",
        "size": BOX,
        "gross_mass": "40 kg",
        "goods": lines,
    }
    record = RECORD | {"modes": [mode.value for mode in editions()], "packages": [box]}
    return decide(record_from(record)).packages[0]


def lines(chosen: list[Entry], ship_as: ShipAs = ShipAs.FULL) -> list[dict[str, Any]]:
    return [goods(entry, ship_as) for entry in chosen]


def told(one: Requirement) -> tuple[Any, ...]:
    """A mark without the order of its words: classes and quantities stand in the order of the goods."""
    words = sorted(word for line in one.words for word in line.replace(",", "").split())
    return one.mark, one.variant, tuple(words), one.where, tuple(sorted(one.measures.items())), one.modes


def answers(decision: ModeDecision) -> set[tuple[str, str]]:
    return {(finding.level, finding.code) for finding in decision.findings}


@SETTINGS
@given(entries, reliefs, st.randoms(use_true_random=False))
def test_the_order_of_the_goods_is_irrelevant(chosen: list[Entry], ship_as: ShipAs, random: Any) -> None:
    shuffled = random.sample(chosen, len(chosen))
    one, other = package(lines(chosen, ship_as)), package(lines(shuffled, ship_as))
    assert {told(mark) for mark in one.marks} == {told(mark) for mark in other.marks}
    for mode in one.modes:
        assert one.modes[mode].verdict == other.modes[mode].verdict
        assert answers(one.modes[mode]) == answers(other.modes[mode])


@MANY
@given(entries, st.sampled_from(REGULATED))
def test_adding_a_content_takes_no_label_away(chosen: list[Entry], added: Entry) -> None:
    """But for the blank class 1 label, for which the label of an explosive beside it stands."""
    before, after = package(lines(chosen)), package(lines([*chosen, added]))
    for mode in before.modes:
        had, has = (
            {one.variant for one in decision.marks if one.mark == "hazard-label"}
            for decision in (before.modes[mode], after.modes[mode])
        )
        assert had - {"1"} <= has
        assert "1" not in had or "1" in has or any(variant.startswith("1.") for variant in has)


@SETTINGS
@given(entries, st.sampled_from(REGULATED))
def test_adding_a_content_takes_no_mark_away_from_a_package_that_may_go(chosen: list[Entry], added: Entry) -> None:
    before, after = package(lines(chosen)), package(lines([*chosen, added]))
    for mode, had in before.modes.items():
        has = after.modes[mode]
        if VerdictWord.REFUSE not in (had.verdict, has.verdict):
            missing = {one.mark for one in had.marks} - {one.mark for one in has.marks}
            assert not missing, mode


@MANY
@given(entries, reliefs)
def test_no_package_is_answered_with_silence(chosen: list[Entry], ship_as: ShipAs) -> None:
    for decision in package(lines(chosen, ship_as)).modes.values():
        assert not list(uncited(decision))
        assert decision.marks or decision.verdict is not VerdictWord.SHIP
        asked = {(one.mark, one.variant) for one in decision.marks}
        assert not asked & {(one.mark, one.variant) for one in decision.waived}


@SETTINGS
@given(entries, reliefs)
def test_the_journey_is_the_union_of_its_legs(chosen: list[Entry], ship_as: ShipAs) -> None:
    """But for the plain limited quantity mark, for which the one with the Y stands."""
    decision = package(lines(chosen, ship_as))
    union = {one.key for one in decision.marks}
    legs = {one.key for leg in decision.modes.values() for one in leg.marks}
    if any(mark == "limited-quantity-air" for mark, _, _ in legs):
        legs -= {("limited-quantity", None, ())}
    assert union == legs
    assert merged(decision.marks) == decision.marks


@SETTINGS
@given(st.sampled_from(REGULATED), st.integers(1, 400), st.integers(1, 400))
def test_more_of_the_goods_never_makes_an_aircraft_take_them(entry: Entry, less: int, more: int) -> None:
    less, more = sorted((less, more))
    unit = "L" if entry.state == "liquid" else "kg"
    rank = {VerdictWord.NOT_SUBJECT: 0, VerdictWord.SHIP: 1, VerdictWord.REFUSE: 3}

    def gravity(amount: int) -> int:
        line = goods(entry, ShipAs.FULL) | {"net": f"{Decimal(amount) / 10} {unit}"}
        line.pop("inner")
        air = package([line]).modes[Mode.AIR]
        cargo = any(one.mark == "cargo-aircraft-only" for one in air.marks)
        return rank[air.verdict] + (1 if cargo and air.verdict is VerdictWord.SHIP else 0)

    assert gravity(less) <= gravity(more)


@SETTINGS
@given(entries, reliefs)
def test_the_same_record_gives_the_same_plan(chosen: list[Entry], ship_as: ShipAs) -> None:
    assert package(lines(chosen, ship_as)) == package(lines(chosen, ship_as))


def test_the_same_record_gives_the_same_plan_whatever_the_hash_seed() -> None:
    """Two processes with other hash seeds print the same decision, to the letter."""
    code = (
        "from tests.test_properties import REGULATED, lines, package;"
        "print(package(lines(list(REGULATED[100:2900:400]))))"
    )
    root = Path(__file__).parents[1]
    printed = [
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=root,
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert printed[0] == printed[1] and "hazard-label" in printed[0]
