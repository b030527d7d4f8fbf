"""The law, case by case: tests/law holds the cases, tests/law_cases.py says what a case is."""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import marks
from marks.requirement import PackageDecision
from marks.rule import RULES
from marks.tables import editions
from marks.terms import Mode
from tests.law_cases import EXPECTED, KEYS, LawCase, cases, faults, fits, journey_faults, misplaced, told, uncited

CASES = tuple(cases())
ROOM = Path(marks.__file__).parent
#: Marks that are never printed, or have no package that is freed of them.
NEVER_ASKED = {"specification-mark"}
NEVER_WAIVED = {"salvage", "magnetized-material"}
#: Findings on a record or a mode as a whole; tests/marks/test_decide.py has them.
OF_THE_WHOLE = {"mode-not-held"}


@cache
def decided(case: LawCase) -> PackageDecision:
    return case.decision()


@pytest.mark.parametrize("case", CASES, ids=[f"{case.file}: {case.name}" for case in CASES])
def test_law(case: LawCase) -> None:
    """What the case says comes out, under every mode it names, each answer with its paragraph."""
    decision = case.decision()
    for mode in case.modes:
        one = decision.modes[Mode(mode)]
        wrong = [*faults(case.given[mode], one), *misplaced(case, one)]
        wrong += [f"no paragraph: {text}" for text in uncited(one)]
        assert not wrong, f"{mode}: {'; '.join(wrong)}\n(source: {case.source})\n{told(one)}"
    if "journey" in case.given:
        wrong = list(journey_faults(case.given["journey"], decision))
        assert not wrong, f"journey: {'; '.join(wrong)}"


def test_each_case_is_a_sentence_of_its_own_with_a_source() -> None:
    names = [case.name for case in CASES]
    assert len(names) == len(set(names)) >= 140
    for case in CASES:
        assert len(case.name.split()) >= 4 and len(case.source) >= 8, case.name
        assert set(case.given) <= KEYS, f"{case.name}: {set(case.given) - KEYS}"
        assert case.modes, f"{case.name}: names no mode"


def test_each_case_asks_for_something() -> None:
    for case in CASES:
        for part in (*case.modes, *(("journey",) if "journey" in case.given else ())):
            assert case.given[part], f"{case.name}: {part} expects nothing"
            assert set(case.given[part]) <= EXPECTED


def test_every_mark_of_the_rules_is_asked_for_by_some_case_and_waived_by_another() -> None:
    held = set(editions())
    asked = {mark for case in CASES for mode in case.modes for mark in case.given[mode].get("must", ())}
    spared = {mark for case in CASES for mode in case.modes for mark in case.given[mode].get("waived", ())}
    for mark in dict.fromkeys(rule.mark for rule in RULES if held & set(rule.cite)):
        assert mark in NEVER_ASKED or any(one.split()[0] == mark for one in asked), f"no case asks for {mark}"
        assert mark in NEVER_WAIVED or any(one.split()[0] == mark for one in spared), f"no case is freed of {mark}"


def test_every_mark_is_asked_for_by_some_case_in_each_mode_that_knows_it() -> None:
    """By the US highway a mark may be known and yet never asked for: some answer is enough there."""
    missing = []
    for rule in RULES:
        for mode in sorted(set(rule.cite) & set(editions())):
            ones = [decided(case).modes[mode] for case in CASES if mode in case.modes]
            answers = [mark for one in ones for mark in (*one.marks, *(one.waived if mode is Mode.US_GROUND else ()))]
            if rule.mark not in NEVER_ASKED and not any(fits(rule.mark, answer) for answer in answers):
                missing.append(f"{rule.mark} by {mode}")
    assert not missing


def test_every_finding_the_program_can_make_is_made_by_some_case() -> None:
    assert not sorted(set(_codes()) - _made() - OF_THE_WHOLE)


def _made() -> set[str]:
    """The code of every finding of every case."""
    decisions = (decision for case in CASES for decision in decided(case).modes.values())
    return {finding.code for decision in decisions for finding in decision.findings}


def test_every_silence_is_of_a_finding_there_is() -> None:
    """A misspelt code never comes out: to ask for its silence would ask for nothing."""
    known = _made()
    for case in CASES:
        for mode in case.modes:
            for code in case.given[mode].get("silent", ()):
                assert any(one == code or one.startswith(f"{code}-") for one in known), f"{case.name}: {code}"


def _codes() -> Iterator[str]:
    """The code of every refuse(...), caution(...) and note(...) in the rules room, and of every line left undecided."""
    for path in sorted(ROOM.rglob("*.py")):
        if "ground" in path.name and Mode.US_GROUND not in editions():
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _MAKERS:
                for part in ast.walk(node.args[0]):
                    if isinstance(part, ast.Constant) and isinstance(part.value, str):
                        yield part.value
    table = tomllib.loads((ROOM / "tables" / "beyond.toml").read_text("utf-8"))
    yield from (line["code"] for line in table["goods"])


_MAKERS = ("refuse", "caution", "note")
