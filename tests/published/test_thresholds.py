"""Every figure at which an answer turns, from below, at it and from above; every day of change, the day before and the day.

The room thresholds holds them: a law case (tests/law_cases.py) with "@" where the quantity or the date stands.

    figures = ["limits arrows.absorbed"]    # the lines of the tables it is about
    at = "120"                              # the figure, transcribed from the source, not read from the table
    source = "49 CFR 172.312(c)(3)"
    values = ["119 mL", "120 mL", "121 mL"] # below, at, above; or the day before and the day
    turns = "above"                         # or "at": where the other answer begins
    before, after                           # what comes out on each side, by mode, as in a law case
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from marks.tables import table
from marks.terms import Mode
from tests.law_cases import LawCase, faults, told

ROOM = Path(__file__).with_name("thresholds")
TURNS = [turn for path in sorted(ROOM.glob("*.toml")) for turn in tomllib.loads(path.read_text("utf-8"))["threshold"]]
HELD = ("limits", "special", "packagings", "ground")
#: Figures that follow from several columns of a row, so that no single value is the turning point.
DERIVED = ("ground density ", "ground share ", "packagings filling ")
FIRST = date(2017, 1, 1)
PLACES = {2: ("the day before", "the day"), 3: ("below", "at", "above")}
FRAME = {"figures", "at", "source", "values", "turns", "before", "after"}


def _filled(part: Any, value: Any) -> Any:
    """A fragment with the value in the place of "@"."""
    if isinstance(part, dict):
        return {key: _filled(inner, value) for key, inner in part.items()}
    if isinstance(part, list):
        return [_filled(inner, value) for inner in part]
    if part == "@":
        return value
    return part.replace("@", str(value)) if isinstance(part, str) else part


def _sides() -> Iterator[Any]:
    for turn in TURNS:
        places = PLACES[len(turn["values"])]
        for number, (place, value) in enumerate(zip(places, turn["values"], strict=True)):
            over = place in ("above", "the day") or (place == "at" and turn.get("turns") == "at")
            expected = turn["after" if over else "before"]
            fragment = {key: part for key, part in turn.items() if key not in FRAME}
            given = _filled(fragment | expected, value)
            name = f"{', '.join(turn['figures'])} {'/'.join(expected)} {place} ({number}: {value})"
            yield pytest.param(LawCase("thresholds", name, turn["source"], given), id=name)


@pytest.mark.parametrize("case", list(_sides()))
def test_the_answer_turns_at_the_figure(case: LawCase) -> None:
    decision = case.decision()
    for mode in case.modes:
        one = decision.modes[Mode(mode)]
        wrong = list(faults(case.given[mode], one, whole=False))  # the same on both sides: what turns is told
        assert not wrong, f"{mode}: {'; '.join(wrong)}\n(source: {case.source})\n{told(one)}"


def _figures(name: str, node: Any = None, path: str = "") -> Iterator[tuple[str, str]]:
    """Every line with a value and a name of its own: "limits arrows.absorbed" and its value."""
    for key, inner in (table(name) if node is None else node).items():
        where = f"{path}.{key}" if path else key
        if isinstance(inner, list):
            for line in inner:
                if isinstance(line, dict) and "value" in line:
                    yield f"{name} {where}", line["value"]
                elif key == "battery_charge":
                    yield f"{name} {where} {line['arrangement']}", line["most"]
                    if Decimal(line["over"]):
                        yield f"{name} {where} {line['arrangement']} over", line["over"]
        elif isinstance(inner, dict):
            yield from _figures(name, inner, where)


def test_every_figure_has_cases_on_all_its_sides() -> None:
    """A new line of the tables without cases below, at and above it fails here."""
    held = {figure for name in HELD for figure, _ in _figures(name)}
    turned = {figure for turn in TURNS if len(turn["values"]) == 3 for figure in turn["figures"]}
    assert sorted(held - turned - set(NOT_HERE)) == []
    assert {figure for figure in turned - held if not figure.startswith(DERIVED)} == set()
    assert sorted(set(NOT_HERE) - held) == []


@pytest.mark.parametrize(("day", "sides"), [("2020-12-31", (120, 110, 74)), ("2021-01-01", (100, 100, 70))])
@pytest.mark.parametrize("mode", ["road", "sea", "air"])
def test_the_battery_mark_changes_its_size(day: str, sides: tuple[int, int, int], mode: str) -> None:
    """49 CFR 173.185(c)(3)(i)(A) and its text before 2022; the day in the international rules from memory."""
    batteries = {"kind": "batteries", "count": 8, "energy_each": "90 Wh", "arrangement": "alone", "state_of_charge": 30}
    given = {"goods": {"un": 3480, "net": "4 kg", "batteries": batteries}, mode: {}}
    given["record"] = {"date": day, "emergency_phone": "+47 5550 0199"}
    decision = LawCase("thresholds", "", "", given).decision().modes[Mode(mode)]
    mark = next(mark for mark in decision.marks if mark.mark == "battery")
    assert tuple(mark.measures[name] for name in ("width", "height", "least_height")) == sides


def _days(node: Any, path: str = "special") -> Iterator[tuple[str, date]]:
    """Every line that begins later than the first edition, or ends: its name, and the first day of the other answer."""
    for key, inner in node.items():
        for line in inner if isinstance(inner, list) else ():
            if not isinstance(line, dict):
                continue
            if line.get("from", FIRST) > FIRST:
                yield f"{path} {key}", line["from"]
            if "until" in line:
                yield f"{path} {key}", line["until"] + timedelta(days=1)
        if isinstance(inner, dict):
            yield from _days(inner, f"{path} {key}")


def test_every_day_of_change_has_its_cases() -> None:
    """A new dated line of special.toml without the day before and the day of it fails here."""
    turned = set()
    for turn in TURNS:
        if len(turn["values"]) == 2:
            before, day = map(date.fromisoformat, turn["values"])
            assert day - before == timedelta(days=1), turn["figures"]
            turned |= {(" ".join(figure.split()[:2]), day) for figure in turn["figures"]}
    assert sorted(set(_days(dict(table("special")))) - turned) == []


def test_the_figure_in_the_middle_is_the_one_of_the_table() -> None:
    held = {figure: value for name in HELD for figure, value in _figures(name)}
    for turn in TURNS:
        for figure in turn["figures"]:
            if len(turn["values"]) == 3 and not figure.startswith(DERIVED):
                assert Decimal(turn["at"]) == Decimal(held[figure]), f"{figure}: {turn['source']}"


#: Figures that stand elsewhere, with where and why.
NOT_HERE: dict[str, str] = {
    "limits excepted.packages": "of a vehicle, which no record knows: a note says it, no answer turns",
    "ground poison.lettering": "a length that is drawn, no answer turns at it",
    "ground poison.from_closure": "a length that is named to the packer, no answer turns at it",
    "packagings life.plastics": "turns at a month: tests/law/strength.toml",
    "packagings life.inspection": "turns at a month: tests/law/large.toml",
}
