"""Every entry of the goods list, one package each, decided in one run by every mode: no crash, no silence.

Source of the labels: the list itself (ADR 2017 Table A column 5, UN Model Regulations); the list is held against its
published sources in tests/published.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from marks.decide import Decided, decide
from marks.environment import BY_ENTRY
from marks.goods.lookup import Entry, every
from marks.reading import record_from
from marks.requirement import ModeDecision
from marks.tables import editions
from marks.terms import Level, Mode, ShipAs, VerdictWord
from tests.law_cases import BOX, RECORD, uncited

ENTRIES = every()
#: Labels that hang on more than the list: those of class 7 are not chosen here.
SEVEN = ("7", "7E")
#: Freed of all but marks of their own: dry ice by road (ADR 5.5.3), P650 and P904 (SP 319, SP 219); all from memory.
MARKED_ALONE = ("1845", "3245", "3373")


def goods(entry: Entry, ship_as: ShipAs) -> dict[str, Any]:
    """A little of an entry: what its line needs to be chosen, and inner packagings small enough for any limit."""
    said: dict[str, Any] = {
        "un": entry.un if entry.prefix == "UN" else entry.prefix + entry.un,
        "name": entry.name,
        "packing_group": entry.packing_group,
        "line": entry.line,
        "ship_as": ship_as.value,
    }
    if entry.technical_name or entry.us_technical_name:
        said["technical_name"] = "test substance"
    if entry.state is None:
        said["state"] = "solid"
    holds = "1 mL" if entry.state == "liquid" else "1 g"
    if entry.un in BY_ENTRY and ship_as is ShipAs.FULL:  # up to 5 L and 5 kg they are not subject
        holds = "6 L" if entry.state == "liquid" else "6 kg"
    said["inner"] = {"count": 1, "holds": holds, "of": "glass bottle", "absorbent": "full"}
    return {key: value for key, value in said.items() if value is not None}


def package(entry: Entry, ship_as: ShipAs) -> dict[str, Any]:
    infectious = entry.un in ("2814", "2900")
    code = "4GU" if infectious else "4G"
    mark = "4GU/CLASS 6.2/26/N/Fjellkasse" if infectious else "4G/X30/S/26/N/Fjellkasse"
    return {
        "package": entry.id,
        "packaging": code,
        "spec_mark": mark,
        "size": BOX,
        "gross_mass": "8 kg",
        "goods": [goods(entry, ship_as)],
    }


@cache
def decided(ship_as: ShipAs) -> Decided:
    """Every entry in one record, by every mode that is held."""
    record = RECORD | {
        "modes": [mode.value for mode in editions()],
        "responsible_person": {"name": "Solveig Dahl", "phone": "+47 5550 0140"},
        "packages": [package(entry, ship_as) for entry in ENTRIES],
    }
    return decide(record_from(record))


def by(mode: Mode, ship_as: ShipAs = ShipAs.FULL) -> list[tuple[Entry, ModeDecision]]:
    return [(entry, one.modes[mode]) for entry, one in zip(ENTRIES, decided(ship_as).packages, strict=True)]


def labels(decision: ModeDecision) -> set[str]:
    return {mark.variant or "" for mark in decision.marks if mark.mark == "hazard-label"}


def test_the_list_is_there() -> None:
    assert len(ENTRIES) > 2_900 and len({entry.un for entry in ENTRIES}) >= 2_330
    assert len(decided(ShipAs.FULL).packages) == len(ENTRIES)


def test_by_road_the_labels_are_those_of_the_list() -> None:
    wrong = {
        entry.id: (sorted(labels(decision)), entry.labels)
        for entry, decision in by(Mode.ROAD)
        if entry.road_status == "regulated"
        and decision.verdict is not VerdictWord.NOT_SUBJECT
        and entry.un not in MARKED_ALONE
        and labels(decision) != {one for one in entry.labels if one not in SEVEN}
    }
    assert not wrong


@pytest.mark.parametrize("mode", [Mode.SEA, Mode.AIR])
def test_by_sea_and_air_the_labels_are_those_of_the_model_regulations(mode: Mode) -> None:
    """UN 2807 aside, which by air bears the label for magnetized material; what is subject by air alone has no label at
    sea."""
    wrong = {
        entry.id: (sorted(labels(decision)), entry.model_labels)
        for entry, decision in by(mode)
        if entry.road_source
        and decision.verdict is not VerdictWord.NOT_SUBJECT
        and entry.un not in ("2807", "3245", "3373")
        and labels(decision) != {one for one in entry.model_labels if one not in SEVEN}
    }
    assert not wrong


def test_what_the_road_forbids_or_leaves_free_is_so_decided() -> None:
    for entry, decision in by(Mode.ROAD):
        refusals = {finding.code for finding in decision.findings if finding.level is Level.REFUSE}
        match entry.road_status:
            case "forbidden":
                assert "road-forbidden" in refusals, entry.id
            case "not-listed":
                assert "entry-not-held" in refusals, entry.id
            case "not-subject" if entry.un in MARKED_ALONE:
                assert {mark.mark for mark in decision.marks} == {"proper-shipping-name"}, entry.id
            case "not-subject":
                assert decision.verdict is VerdictWord.NOT_SUBJECT and not decision.marks, entry.id


@pytest.mark.parametrize("ship_as", list(ShipAs))
@pytest.mark.parametrize("mode", list(editions()))
def test_no_answer_is_silent(mode: Mode, ship_as: ShipAs) -> None:
    """Marks with paragraphs, or waivers with theirs, or a refusal that says why and what to do."""
    for entry, decision in by(mode, ship_as):
        where = f"{entry.id} by {mode}, {ship_as}"
        refusals = [finding for finding in decision.findings if finding.level is Level.REFUSE]
        assert not list(uncited(decision)), where
        assert bool(refusals) is (decision.verdict is VerdictWord.REFUSE), where
        if decision.verdict is VerdictWord.SHIP:
            assert decision.marks and decision.descriptions, where
        elif decision.verdict is VerdictWord.NOT_SUBJECT:
            assert decision.waived and not decision.marks, where
        for refusal in refusals:
            assert len(refusal.text) > 40 and ";" in refusal.text, f"{where}: {refusal}"


def test_every_radioactive_entry_is_refused_until_its_particulars_are_said() -> None:
    """49 CFR 172.403(b), (g): without transport index and dose rate no category. Excepted packages have none."""
    asked = {"transport-index-missing", "dose-rate-missing", "activity-missing"}
    for mode in (Mode.ROAD, Mode.SEA, Mode.AIR):
        for entry, decision in by(mode):
            codes = {finding.code for finding in decision.findings}
            if entry.hazard_class == "7" and entry.labels:
                assert asked <= codes and decision.verdict is VerdictWord.REFUSE, entry.id
            elif entry.hazard_class == "7":
                assert decision.verdict is VerdictWord.SHIP and not labels(decision), entry.id
    for entry, decision in by(Mode.US_GROUND):
        if entry.hazard_class == "7" and entry.us_source:
            assert "radioactive-not-held" in {finding.code for finding in decision.findings}, entry.id


def test_each_hazard_label_is_asked_for_by_some_entry() -> None:
    """No label of the vocabulary is out of reach but those of class 7."""
    reached = {label for _, decision in by(Mode.ROAD) for label in labels(decision)}
    assert {"1", "1.1D", "1.4S", "1.5D", "1.6N", "2.1", "2.2", "2.3", "3", "4.1", "4.2", "4.3"} <= reached
    assert {"5.1", "5.2", "6.1", "6.2", "8", "9", "9A"} <= reached
