"""Document, marks and labels name the same goods; and what else the papers carry."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from pypdf import PdfReader

from layouts.job import decide_file
from layouts.output import write_papers
from marks.decide import Decided, decide
from marks.papers import Paper, papers
from marks.reading import read_record, record_from
from marks.requirement import ModeDecision
from marks.terms import Mode, VerdictWord
from tests.law_cases import BESIDE, PACKED, RECORD
from tests.strategies import records
from tests.test_commands import EXAMPLES, sixface

#: A line in the order of 49 CFR 172.202(a), which the international modes share: number, name, class, subsidiary hazards.
#: Read here anew, by no code of the program: names may hold commas and brackets, a class may not.
HAZARD = r"[1-9](?:\.[1-6])?[A-S]?"
READ = re.compile(
    rf"(?:RESIDUE,? LAST CONTAINED )?(?P<number>(?:UN|NA|ID) ?[0-9]{{4}}),? (?P<name>.+?), (?P<primary>{HAZARD})(?:,)?"
    rf"(?: \((?P<further>{HAZARD}(?:, {HAZARD})*)\))?(?=,|$)"
)
#: What a provision frees of all but its own conditions has number and name, and no class.
FREED = re.compile(r"(?P<number>(?:UN|NA|ID) ?[0-9]{4}),? (?P<name>.+?)(?P<primary>)(?P<further>), not subject to other")


def hazard_of(variant: str) -> str:
    """The class a label shows: 7-II is 7, 9A is 9, 2.3-inhalation is 2.3."""
    variant = variant.split("-")[0]
    return "9" if variant == "9A" else variant


def assert_agrees(decision: ModeDecision, cooled_with: str | None) -> None:
    """cooled_with: the number of a coolant, whose marks stand beside those of the goods."""
    lines = [found for line in decision.descriptions if (found := FREED.match(line) or READ.match(line))]
    assert len(lines) == len(decision.descriptions), decision.descriptions
    marks = {(one.mark, one.words[0]) for one in decision.marks if one.mark in ("un-number", "proper-shipping-name")}
    numbers = {words for mark, words in marks if mark == "un-number"} - {f"UN {cooled_with}"}
    if numbers:  # the reliefs' marks stand in their place
        assert numbers == {line["number"].replace("UN", "UN ").replace("  ", " ") for line in lines}
    names = {words for mark, words in marks if mark == "proper-shipping-name"}
    assert cooled_with or names <= {line["name"] for line in lines}
    labels = {hazard_of(one.variant or "") for one in decision.marks if one.mark == "hazard-label"} - {"7E"}
    told = {hazard for line in lines for hazard in (line["primary"], *(line["further"] or "").split(", ")) if hazard}
    cargo = any(one.mark == "cargo-aircraft-only" for one in decision.marks)
    assert cargo == any(line.endswith("cargo aircraft only") for line in decision.descriptions)
    if labels and not cooled_with:
        # A subsidiary explosive label is the plain 1; divisions of one explosive are one.
        assert labels == told


def assert_all_agree(decided: Decided) -> None:
    for package, cases in zip(decided.packages, decided.cases, strict=True):
        for mode in (Mode.ROAD, Mode.SEA, Mode.AIR):
            if mode in package.modes and "excepted" not in str(cases[mode].relief):
                coolant = cases[mode].package.coolant
                assert_agrees(package.modes[mode], coolant.un if coolant else None)


@settings(max_examples=300)
@given(records())
def test_document_marks_and_labels_name_the_same_goods(record: Any) -> None:
    assert_all_agree(decide(record))


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_so_they_do_in_every_example(path: Path) -> None:
    assert_all_agree(decide(read_record(path)))


def paper_of(mode: str, *packages: dict[str, Any], **more: Any) -> Paper:
    named = [{"package": letter, **one} for letter, one in zip("ABCD", packages, strict=False)]
    decided = decide(record_from(RECORD | {"modes": [mode], "packages": named} | more))
    return papers(decided)[0]


def box(un: str, **goods: Any) -> dict[str, Any]:
    inner = {"count": 4, "holds": "500 mL", "of": "metal tin"}
    return {**PACKED["box"], "goods": [{"un": un, "inner": inner, **goods}]}


@given(records())
@settings(max_examples=100)
def test_each_line_of_a_paper_is_a_line_of_the_plan(record: Any) -> None:
    """And what is refused has none."""
    decided = decide(record)
    for paper in papers(decided):
        for line in paper.lines:
            package = next(one for one in decided.packages if one.package == line.package)
            assert line.description in package.modes[paper.mode].descriptions
            assert package.modes[paper.mode].verdict is VerdictWord.SHIP
        refused = [one.package for one in decided.packages if one.modes[paper.mode].verdict is VerdictWord.REFUSE]
        assert [text.split(":")[0] for text in paper.refused] == [f"package {letter}" for letter in refused]


def test_totals_add_packages_of_one_description() -> None:
    """ADR 5.4.1.1.1 (f), from memory: the total quantity of each item with its own number, name and group."""
    paper = paper_of("road", {**box("1090"), "count": 3}, {**box("1090"), "count": 2}, box("1294"))
    assert paper.totals == ("UN 1090 ACETONE, 3, II, (D/E): 10 L", "UN 1294 TOLUENE, 3, II, (D/E): 2 L")
    assert [line.quantity for line in paper.lines] == ["3 x 2 L", "2 x 2 L", "2 L"]
    assert paper.lines[0].pieces == "3 x fibreboard box (4G)"


def test_parties_and_what_a_hand_writes() -> None:
    """ADR 5.4.1.1.1 (g) to (i), from memory."""
    paper = paper_of("road", box("1090"))
    values = {one.label.split()[0]: one.value for one in paper.asked}
    assert values["Consignor"] == "Havdur Kjemi AS, Sandviksveien 9, 5003 Bergen, Norway"
    assert values["Consignee"].endswith("24103 Kiel, Germany")
    assert values["Declaration"] == ""
    assert all(one.cite for one in paper.asked)


def test_what_the_record_lacks_is_said() -> None:
    """49 CFR 172.203(i), 172.604 (from memory); ICAO TI 5;4.1.5 and IMDG 5.4.1.5.2 from memory."""
    assert any("flash point" in text for text in paper_of("sea", box("1090")).open)
    assert not paper_of("sea", box("1090", flash_point="-18 °C")).open
    assert any("packing instruction" in text for text in paper_of("air", box("1090")).open)
    given_ = paper_of("air", box("1090", packing_instruction={"air": "353"}))
    assert not given_.open and given_.lines[0].more == ("packing instruction 353",)
    assert any("emergency" in text for text in paper_of("us-ground", box("1090")).open)
    assert not paper_of("us-ground", box("1090"), emergency_phone="+47 00 00 00 99").open
    fireworks = {**PACKED["box"], "goods": [{"un": "0336", "net": "5 kg"}]}
    assert any("net explosive mass" in text for text in paper_of("road", fireworks).open)


def test_limited_quantities_have_no_document_by_road() -> None:
    """ADR 3.4.12, from memory: the carrier is told the total gross mass."""
    limited = {**box("1090", ship_as="limited"), "count": 3, "gross_mass": "8 kg"}
    paper = paper_of("road", limited)
    assert not paper.lines and not paper.asked
    assert paper.said == (
        "limited quantities in 3 packages (A), 24 kg gross: the carrier is told their total gross mass [ADR 3.4.12 (from memory)]",
    )
    assert paper_of("sea", limited).lines[0].description.endswith("LIMITED QUANTITY")
    assert "no shipping paper" in paper_of("us-ground", limited).said[0]


def test_excepted_quantities_have_their_words() -> None:
    """49 CFR 173.4a(h)."""
    inner = {"count": 4, "holds": "30 mL", "of": "glass vial"}
    small = {**PACKED["box"], "gross_mass": "1 kg", "goods": [{"un": "1090", "ship_as": "excepted", "inner": inner}]}
    for mode in ("road", "sea", "air"):
        paper = paper_of(mode, small)
        assert not paper.lines and "dangerous goods in excepted quantities" in paper.said[0]
    assert "no shipping paper" in paper_of("us-ground", small).said[0]


def test_the_aircraft_follows_from_the_packages() -> None:
    """49 CFR 172.203(f)."""
    aircraft = {one.label: one.value for one in paper_of("air", box("1090")).asked}["Aircraft"]
    assert aircraft == "passenger and cargo aircraft"
    inner = {"count": 10, "holds": "1 L", "of": "metal tin"}
    paper = paper_of("air", {**PACKED["box"], "goods": [{"un": "1090", "inner": inner}]}, box("1294"))
    assert {one.label: one.value for one in paper.asked}["Aircraft"] == "cargo aircraft only"


def test_overpacks_mixed_packages_and_what_is_not_subject() -> None:
    paper = paper_of("air", {**box("1090"), "count": 2}, overpacks=[{"overpack": "P1", "packages": ["A", "A"]}])
    assert "Overpack used: P1, 2 x package A" in paper.said
    two = {**box("1090"), "goods": [*box("1090")["goods"], *BESIDE["goods"]]}
    assert paper_of("air", two).lines[0].more[0] == "all packed in one fibreboard box"
    small = {**PACKED["box"], "goods": [{"un": "3082", "technical_name": "permethrin", "net": "4 L"}]}
    assert "not subject" in paper_of("road", small).said[0]


def test_a_refused_package_has_no_line() -> None:
    weak = {**box("1090"), "spec_mark": "4G/Z20/S/26/N/Fjellkasse"}
    paper = paper_of("road", weak, box("1294"))
    assert paper.refused == ("package A: may not travel so by road",)
    assert [line.package for line in paper.lines] == ["B"]


def test_the_command_prints_and_writes_pages(tmp_path: Path) -> None:
    record = EXAMPLES / "isopropanol-three-modes.yaml"
    done = sixface("papers", record, "-o", tmp_path / "papers.pdf")
    assert done.returncode == 0, done.stderr
    for words in ("ROAD", "SEA", "AIR", "UN 1219 ISOPROPANOL, 3", "it also carries", "editions held"):
        assert words in done.stdout
    text = "".join(page.extract_text() for page in PdfReader(tmp_path / "papers.pdf").pages)
    assert "UN 1219 ISOPROPANOL" in text and "to be written by hand" in text
    again = sixface("papers", record, "-o", tmp_path / "again.pdf")
    assert again.returncode == 0 and (tmp_path / "again.pdf").read_bytes() == (tmp_path / "papers.pdf").read_bytes()
    assert sixface("papers", record, "-o", tmp_path / "papers.svg").returncode == 0
    assert list(tmp_path.glob("papers*.svg"))
    assert sixface("papers", record, "-o", tmp_path / "papers.txt").returncode == 2


def test_the_command_says_what_is_refused() -> None:
    done = sixface("papers", EXAMPLES / "drain-cleaner-refused.yaml")
    assert done.returncode == 1 and "REFUSED: package" in done.stdout


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_the_pages_say_what_the_command_says(path: Path, tmp_path: Path) -> None:
    """Word for word, wherever their lines end: what is refused, carried, added up and left to a hand."""
    found = decide_file(path)
    (made,) = write_papers(found, tmp_path / "papers.pdf", source=path.name)
    text = "".join("".join(page.extract_text() for page in PdfReader(made.path).pages).split())
    for paper in papers(found):
        said = [*(f"REFUSED: {one}" for one in paper.refused), *(f"In all: {one}" for one in paper.totals), *paper.said,
                *(f"Not in the record: {one}" for one in paper.open), *(one.label for one in paper.asked)]  # fmt: skip
        missing = [one for one in said if "".join(one.split()) not in text]
        assert not missing, (paper.mode, missing)
