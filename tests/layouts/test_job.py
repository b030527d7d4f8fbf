"""The whole road for records whose marks find no place: nothing is printed as if they had."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layouts.batch import Options, make_batch
from layouts.job import plan, plan_file
from layouts.outline import open_area
from layouts.output import PART, PART_OF_BATCH, make_sheets
from layouts.placement import NOWHERE
from marks.errors import RecordError
from marks.reading import read_text
from marks.terms import Mode, VerdictWord

EXAMPLES = Path(__file__).parents[2] / "examples"
ORDINARY = (EXAMPLES / "isopropanol-three-modes.yaml").read_text("utf-8")
SIZE = "{length: 400 mm, width: 300 mm, height: 330 mm}"


def test_a_package_its_marks_do_not_fit_is_refused_by_every_mode_and_has_no_label(tmp_path: Path) -> None:
    """A label has a side of 100 mm (UN Model Regulations 5.2.2.2.1.1.2); by air none is reduced (from memory)."""
    small = re.sub(r"    keep_clear:\n.*\n", "", ORDINARY.replace(SIZE, "{length: 60 mm, width: 50 mm, height: 40 mm}"))
    planned = plan(read_text(small))
    ((decision, placement),) = planned.pairs()
    assert placement.refused
    assert planned.refused_modes(decision, placement) == (Mode.ROAD, Mode.SEA, Mode.AIR)
    assert planned.verdict is VerdictWord.REFUSE
    made = make_sheets(planned, tmp_path / "out", source="small.yaml", stock="A4", formats=("pdf",))
    assert {path.path.name for path in made} == {"HD-26-0101-packing.pdf"}


def test_an_overpack_whose_size_is_not_said_is_refused_and_has_no_page(tmp_path: Path) -> None:
    """Where its marks would stand nobody can tell: that is said, and its packages have their pages all the same."""
    text = (EXAMPLES / "solvents-overpack.yaml").read_text("utf-8")
    without = re.sub(r"(packages: \[A, A.*\n) +size: .*\n", r"\1", text)
    assert without != text
    pages = {}
    for name, one in (("with", text), ("without", without)):
        planned = plan(read_text(one))
        ((decision, placement),) = planned.overpack_pairs()
        assert (placement is NOWHERE) == (name == "without")
        told = [found.text for mode in decision.modes.values() for found in mode.findings]
        assert any("size" in one and "write" in one for one in told) == (name == "without"), told
        made = make_sheets(planned, tmp_path / name, source="over.yaml", stock="A4", formats=("svg",))
        pages[name] = [one.path for one in made if "packing" in one.path.name]
    assert 0 < len(pages["without"]) < len(pages["with"])


def test_a_fault_found_after_reading_has_its_file_and_line(tmp_path: Path) -> None:
    """The entry of a number is looked for after the record was read: the fault leads back to its line all the same."""
    file = tmp_path / "open.yaml"
    file.write_text(ORDINARY.replace("un: 1219", "un: 0001"), "utf-8")
    with pytest.raises(RecordError) as told:
        plan_file(file)
    line = 1 + file.read_text("utf-8").split("\n").index("      - un: 0001")
    assert [(fault.file, fault.line) for fault in told.value.faults] == [(str(file), line)]
    with pytest.raises(RecordError) as told:
        plan_file(tmp_path / "none.yaml")
    assert str(tmp_path / "none.yaml") in str(told.value)


def test_what_a_killed_run_left_half_written_is_gone_after_the_next(tmp_path: Path) -> None:
    """One record and a batch of them: neither the half file nor its folder stays, and nobody else's is touched."""
    out, records = tmp_path / "out", tmp_path / "records"
    records.mkdir()
    (records / "a.yaml").write_text(ORDINARY, "utf-8")
    for make in (
        lambda: make_sheets(plan(read_text(ORDINARY)), out, source="a.yaml", stock="A4", formats=("pdf",)),
        lambda: make_batch(records, out, Options(formats=("pdf",))),
    ):
        for part in (PART, PART_OF_BATCH):
            (out / f"{part}left").mkdir(parents=True)
            (out / f"{part}left" / "HD-26-0101-labels.pdf").write_bytes(b"%PDF half")
        (out / "mine.txt").write_text("kept", "utf-8")
        make()
        assert (out / "mine.txt").read_text("utf-8") == "kept"
        left = [path.name for path in out.iterdir() if path.name.startswith((PART, PART_OF_BATCH))]
        assert left == []


@given(st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=1, max_size=6))
def test_the_open_area_is_counted_square_by_square(corners: list[tuple[int, int]]) -> None:
    """Of squares of 1 mm those that lie right of and above some corner; corners on the upper edge open nothing."""
    width, height = 12, 10
    stairs = tuple(sorted(corners))
    squares = sum(any(x >= cx and y >= cy for cx, cy in stairs) for x in range(width) for y in range(height))
    assert open_area(stairs, width, height) == squares
