"""Step 2 as a whole: what is said of a record rather than of one package, and what the answers are made of."""

from __future__ import annotations

from typing import Any

import pytest

from marks.decide import decide
from marks.errors import RecordError
from marks.reading import record_from
from marks.record import Record
from marks.tables import editions
from marks.terms import Mode, VerdictWord
from tests.law_cases import PACKED, RECORD

BOTTLES = {"un": "1090", "inner": {"count": 2, "holds": "1 L", "of": "glass bottle"}}


def record(goods: Any = BOTTLES, **changed: Any) -> Record:
    package = PACKED["box"] | {"package": "A", "goods": goods if isinstance(goods, list) else [goods]}
    return record_from(RECORD | {"modes": ["road"], "packages": [package]} | changed)


def test_a_mode_that_is_not_held_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were an edition taken out of the table, its mode would be refused, not passed over."""
    held = {mode: edition for mode, edition in editions().items() if mode is not Mode.SEA}
    monkeypatch.setattr("marks.decide.editions", lambda: held)
    one = decide(record(modes=["sea"])).packages[0].modes[Mode.SEA]
    assert one.verdict is VerdictWord.REFUSE
    assert [finding.code for finding in one.findings] == ["mode-not-held"] and not one.marks


@pytest.mark.parametrize("day", ["2016-12-31", "2031-01-01"])
def test_a_day_outside_the_editions_is_refused(day: str) -> None:
    with pytest.raises(RecordError, match="no edition for road is held for that day"):
        decide(record(date=day))


@pytest.mark.parametrize("mode", list(editions()))
def test_first_and_last_day_of_an_edition_are_within_it(mode: Mode) -> None:
    for day in (editions()[mode].first, editions()[mode].last):
        assert decide(record(modes=[mode.value], date=day)).packages[0].modes[mode].marks


def test_an_unknown_number_and_an_open_entry_are_told_together() -> None:
    with pytest.raises(RecordError) as error:
        decide(record([{"un": "9999", "net": "1 kg"}, {"un": "1993", "packing_group": "II", "net": "1 L"}]))
    first, second = error.value.faults
    assert "packages[1].goods[1]" in str(first) + str(second) and "packages[1].goods[2]" in str(first) + str(second)


def test_modes_asked_for_take_the_place_of_the_records() -> None:
    decided = decide(record(), (Mode.SEA,))
    assert list(decided.packages[0].modes) == [Mode.SEA]


def test_every_answer_bears_its_mode_and_the_goods_it_is_for() -> None:
    decided = decide(record([BOTTLES, {"un": "1593", "inner": BOTTLES["inner"]}], modes=["road", "air"]))
    for mode, one in decided.packages[0].modes.items():
        labels = {mark.variant: mark for mark in one.marks if mark.mark == "hazard-label"}
        assert labels["3"].goods == (0,) and labels["6.1"].goods == (1,)
        assert all(mark.modes == (mode,) for mark in one.marks)
