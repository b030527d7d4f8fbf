"""The US highway as a whole: every entry of the US list, the days of the edition, what is drawn of it."""

from __future__ import annotations

from typing import Any

import pytest

from layouts.artwork.catalogue import forms
from marks.compare import compare
from marks.decide import Decided, decide
from marks.errors import RecordError
from marks.goods.lookup import Entry, every, find
from marks.reading import record_from
from marks.requirement import PackageDecision
from marks.tables import editions
from marks.terms import Level, Mode, VerdictWord
from tests.law_cases import PACKED, RECORD

GROUND = Mode.US_GROUND
#: Entries with one line in the list and a line of the US table.
SINGLE = tuple(one for one in every() if one.us_source and len(find(f"{one.prefix}{one.un}")) == 1)
#: Column 6 reads 9; 49 CFR 172.447 has a label of its own for these.
LITHIUM = ("3090", "3091", "3480", "3481")
#: 49 CFR 172.102(c)(1): special provisions of what is poisonous by inhalation (from memory).
BY_INHALATION = {"1", "2", "3", "4", "6"}


def plan(*goods: dict[str, Any], **package: Any) -> Decided:
    """One package for each of the goods, decided by us-ground."""
    packages = [PACKED["box"] | {"package": f"P{i}", "goods": [one]} | package for i, one in enumerate(goods, 1)]
    return decide(record_from(RECORD | {"modes": ["us-ground"], "packages": packages}))


def as_goods(entry: Entry) -> dict[str, Any]:
    """The least a record says of an entry."""
    goods = {"un": f"{entry.prefix}{entry.un}", "name": entry.name, "net": "0.01 kg"}
    if entry.state is None:
        goods["state"] = "solid"
    if entry.us_technical_name:
        goods["technical_name"] = "named by the shipper"
    return goods


def labels_by_column_6(entry: Entry) -> set[str]:
    """Column 6 of 49 CFR 172.101, in the forms of label that 172.416, 172.429, 172.407(f) and 172.447 ask for."""
    if {"A", "W"} & set(entry.us_symbols):  # bound by aircraft or vessel alone: 172.101(b), from memory
        return set()
    by_inhalation = bool(BY_INHALATION & set(entry.us_provisions)) or "2.3" in entry.us_labels or entry.un == "1744"
    named = {"2.3": "2.3-inhalation", "6.1": "6.1-inhalation"} if by_inhalation else {}
    if entry.un in LITHIUM:
        named["9"] = "9A"
    return {named.get(label, label) for label in entry.us_labels if label != "7"}


def shown_labels(package: PackageDecision) -> set[str]:
    return {one.variant or "" for one in package.modes[GROUND].marks if one.mark == "hazard-label"}


@pytest.fixture(scope="module")
def decisions() -> list[tuple[Entry, PackageDecision]]:
    """Every single-line entry, planned a hundred packages at a time."""
    found = []
    for start in range(0, len(SINGLE), 100):
        some = SINGLE[start : start + 100]
        found += zip(some, plan(*(as_goods(one) for one in some)).packages, strict=True)
    return found


def test_every_us_entry_with_one_line_bears_the_labels_of_column_6(
    decisions: list[tuple[Entry, PackageDecision]],
) -> None:
    """49 CFR 172.400(b), 172.402(a)(1): as column 6 lists them."""
    assert len(decisions) > 1500
    wrong = {
        one.id: shown_labels(package) for one, package in decisions if shown_labels(package) != labels_by_column_6(one)
    }
    assert not wrong


def test_every_us_entry_ends_in_marks_a_waiver_or_a_refusal_with_paragraphs(
    decisions: list[tuple[Entry, PackageDecision]],
) -> None:
    for entry, package in decisions:
        one = package.modes[GROUND]
        assert one.marks or one.waived, entry.id
        assert all(answer.cite for answer in (*one.marks, *one.waived)), entry.id
        assert all(finding.cite for finding in one.findings if finding.level is not Level.NOTE), entry.id
        if one.verdict is VerdictWord.SHIP:
            assert {"un-number", "proper-shipping-name", "shipper"} <= {mark.mark for mark in one.marks}, entry.id


def test_every_mark_of_the_us_highway_can_be_drawn(decisions: list[tuple[Entry, PackageDecision]]) -> None:
    seen: dict[tuple[str, str | None], Any] = {}
    for _, package in decisions:
        for one in package.modes[GROUND].marks:
            seen.setdefault((one.mark, one.variant), one)
    assert {("hazard-label", "2.3-inhalation"), ("hazard-label", "6.1-inhalation"), ("inhalation-hazard", None)} <= set(
        seen
    )
    for one in seen.values():
        assert forms(one)


@pytest.mark.parametrize(
    ("day", "held"), [("2023-01-25", False), ("2023-01-26", True), ("2026-12-31", True), ("2027-01-01", False)]
)
def test_a_day_outside_the_edition_is_refused(day: str, held: bool) -> None:
    """The edition's own days, as tables/editions.toml states them."""
    record = record_from(RECORD | {"date": day, "modes": ["us-ground"], "packages": [_package()]})
    if held:
        assert decide(record).packages[0].modes[GROUND].verdict is VerdictWord.SHIP
    else:
        with pytest.raises(RecordError, match="no edition for us-ground is held for that day"):
            decide(record)


def test_a_comparison_lays_side_by_side_the_modes_held_on_its_day() -> None:
    for day, modes in (("2022-06-01", {"road", "sea", "air"}), ("2024-06-01", set(map(str, editions())))):
        compared = compare(record_from(RECORD | {"date": day, "modes": ["road"], "packages": [_package()]}))
        assert {str(mode) for mode in compared.packages[0].verdicts} == modes
        assert all(set(row.modes) == set(compared.packages[0].verdicts) for row in compared.packages[0].rows)


def _package() -> dict[str, Any]:
    inner = {"count": 4, "holds": "1 L", "of": "glass bottle"}
    return PACKED["box"] | {"package": "A", "goods": [{"un": "1090", "inner": inner}]}


def test_the_ladder_has_the_rungs_of_us_law() -> None:
    """49 CFR 173.150(b)(2): 1.0 L; 173.4a(c), (d): 30 and 500 mL; 171.8: the reportable quantity of the record."""
    said = {"name": "Sodium cyanide", "rq": "10 lb"}
    goods = {"un": "1689", "net": "2 kg", "hazardous_substance": said}
    solid = PACKED["open drum"] | {"package": "B", "goods": [goods]}
    record = record_from(RECORD | {"modes": ["road"], "packages": [_package(), solid]})
    liquid, powder = (one.ladders[0] for one in compare(record).packages)
    found = [(rung.label, rung.per, rung.text) for rung in liquid.rungs if "us-ground" in rung.label]
    assert found == [
        ("excepted quantity, us-ground", "inner", "30 mL"),
        ("excepted quantity, us-ground", "package", "500 mL"),
        ("limited quantity, us-ground", "inner", "1.0 L"),
    ]
    assert [(rung.text, rung.cite) for rung in powder.rungs if rung.label == "reportable quantity"] == [
        ("10 lb", "49 CFR 171.8")
    ]
