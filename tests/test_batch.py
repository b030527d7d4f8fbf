"""Many records at once: a folder, a table, faulty ones among them, started again."""

from __future__ import annotations

import csv
import datetime
import json
from pathlib import Path

import pytest

from layouts.batch import LEDGER, Options, make_batch
from marks.errors import RecordError
from marks.rows import COLUMNS, MOST_ROWS, read_table, template
from tests.test_commands import EXAMPLES, files_of, sixface

PDF = Options(formats=("pdf",))


def folder_of(tmp_path: Path, *names: str) -> Path:
    folder = tmp_path / "records"
    folder.mkdir()
    for name in names:
        (folder / f"{name}.yaml").write_bytes((EXAMPLES / f"{name}.yaml").read_bytes())
    return folder


def test_a_folder_gives_what_its_records_give_alone(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, "isopropanol-three-modes", "xylenes-drum")
    done = sixface("sheets", folder, "-o", tmp_path / "batch")
    assert done.returncode == 0, done.stderr
    for record in sorted(folder.iterdir()):
        sixface("sheets", record, "-o", tmp_path / "alone")
    assert files_of(tmp_path / "alone").items() <= files_of(tmp_path / "batch").items()
    assert "2 records: 2 ship" in done.stdout and "trained and authorised person" in " ".join(done.stdout.split())


def test_two_processes_give_the_same_files(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, "isopropanol-three-modes", "xylenes-drum", "drain-cleaner-refused")
    one, two = tmp_path / "one", tmp_path / "two"
    make_batch(folder, one, PDF)
    make_batch(folder, two, PDF, jobs=2)
    assert files_of(one) == files_of(two)


def test_a_faulty_record_stops_all_unless_the_rest_is_asked_for(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, "isopropanol-three-modes", "xylenes-drum")
    text = (folder / "xylenes-drum.yaml").read_text("utf-8")
    (folder / "broken.yaml").write_text(text.replace("un: 1307", "un: 9999"), "utf-8")
    stopped = sixface("sheets", folder, "-o", tmp_path / "out", "--format", "pdf")
    assert stopped.returncode == 2 and "9999" in stopped.stderr and "broken.yaml:" in stopped.stderr
    assert "Traceback" not in stopped.stderr and not (tmp_path / "out").exists()
    going = sixface("sheets", folder, "-o", tmp_path / "out", "--format", "pdf", "--continue")
    assert going.returncode == 2 and "9999" in going.stderr
    assert "1 faulty" in going.stdout and len(list((tmp_path / "out").glob("*.pdf"))) == 6


def test_started_again_only_what_changed_is_made_again(tmp_path: Path) -> None:
    folder, out = (
        folder_of(tmp_path, "isopropanol-three-modes", "xylenes-drum", "drain-cleaner-refused"),
        tmp_path / "out",
    )
    first = make_batch(folder, out, PDF, keep_going=True)
    again = make_batch(folder, out, PDF, keep_going=True)
    assert not any(one.unchanged for one in first) and all(one.unchanged for one in again)
    assert [one.verdict for one in first] == [one.verdict for one in again] == ["refuse", "ship", "ship"]
    changed = folder / "xylenes-drum.yaml"
    changed.write_text(changed.read_text("utf-8").replace("count: ", "count: 1"), "utf-8")
    third = make_batch(folder, out, PDF, keep_going=True)
    assert [one.unchanged for one in third] == [True, True, False]
    next(out.glob("HD-26-0101-labels.pdf")).unlink()  # a file that was lost is made again
    assert [one.unchanged for one in make_batch(folder, out, PDF, keep_going=True)] == [True, False, True]
    other = make_batch(folder, out, Options(formats=("pdf",), inks="cmyk"), keep_going=True)
    assert not any(one.unchanged for one in other)
    (out / LEDGER).write_text("[1")  # a list that can't be read makes all again
    assert not any(one.unchanged for one in make_batch(folder, out, PDF, keep_going=True))


def test_two_records_of_one_reference_are_a_fault(tmp_path: Path) -> None:
    folder = folder_of(tmp_path, "xylenes-drum")
    (folder / "copy.yaml").write_bytes((folder / "xylenes-drum.yaml").read_bytes())
    outcomes = make_batch(folder, tmp_path / "out", PDF, keep_going=True)
    assert sorted(one.verdict for one in outcomes) == ["faulty", "ship"]
    assert "has it already" in outcomes[1].said


def test_an_empty_folder_is_said(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    done = sixface("sheets", tmp_path / "empty", "-o", tmp_path / "out")
    assert done.returncode == 2 and "no record" in done.stderr and not (tmp_path / "out").exists()


@pytest.mark.parametrize("held", ["[]", "{", '{"HD-26-0101": 1}', '{"HD-26-0101": {"digest": "x"}}', "\x00"])
def test_what_the_folder_was_made_from_cannot_be_read_and_is_made_again(tmp_path: Path, held: str) -> None:
    folder, out = folder_of(tmp_path, "isopropanol-three-modes"), tmp_path / "out"
    first = list(make_batch(folder, out, PDF, keep_going=True))
    kept = (out / LEDGER).read_text("utf-8")
    assert [one.unchanged for one in first] == [False] and list(json.loads(kept)) == ["HD-26-0101"]
    (out / LEDGER).write_text(held, "utf-8")
    assert [one.unchanged for one in make_batch(folder, out, PDF, keep_going=True)] == [False]
    assert (out / LEDGER).read_text("utf-8") == kept
    assert [one.unchanged for one in make_batch(folder, out, PDF, keep_going=True)] == [True]


# --- tables ---------------------------------------------------------------------------------------------------------------


def table_of(path: Path, *rows: dict[str, str]) -> Path:
    with path.open("w", newline="", encoding="utf-8") as out:
        writer = csv.DictWriter(out, list(COLUMNS))
        writer.writeheader()
        writer.writerows(rows)
    return path


def example_row() -> dict[str, str]:
    return next(csv.DictReader(template().splitlines()))


def test_the_template_is_a_table_that_can_be_made(tmp_path: Path) -> None:
    table = tmp_path / "orders.csv"
    table.write_text(sixface("schema", "csv").stdout, "utf-8")
    done = sixface("sheets", table, "-o", tmp_path / "out", "--format", "pdf")
    assert done.returncode == 0, done.stderr
    assert len(list((tmp_path / "out").glob("HD-26-0201-*.pdf"))) == 3


def test_rows_of_one_letter_are_one_package_and_rows_of_one_reference_one_record(tmp_path: Path) -> None:
    first = example_row()
    second = {
        "reference": first["reference"],
        "package": "A",
        "un": "1090",
        "inner_count": "1",
        "inner_holds": "1 L",
        "inner_of": "tin",
    }
    third = {**first, "reference": "OTHER", "ship_as": "road=limited sea=full"}
    records = list(read_table(table_of(tmp_path / "t.csv", first, second, third)))
    assert [one.reference for one in records] == ["HD-26-0201", "OTHER"]
    assert [goods.un for goods in records[0].record.packages[0].goods] == ["1219", "1090"]  # type: ignore[union-attr]
    assert records[1].row == 4 and records[1].record.packages[0].goods[0].ship_as_for("road") == "limited"  # type: ignore[union-attr,arg-type]


@pytest.mark.parametrize(
    "change, row, says",
    [
        ({"gross_mass": "9"}, 3, "without its unit"),
        ({"un": "12x9"}, 3, "un"),
        ({"shipper_country": "Norge"}, 2, "country"),
        ({"package": "A", "packaging": "4D"}, 3, "an earlier row of the same package says"),
    ],
)
def test_a_fault_of_a_table_names_its_row(tmp_path: Path, change: dict[str, str], row: int, says: str) -> None:
    first = example_row()
    kept = ("reference", "packaging", "spec_mark", "length", "width", "height", "gross_mass", "inner_count", "inner_holds")
    second = {key: first[key] for key in kept} | {"package": "B", "un": "1090", "inner_of": "tin"}
    second["inner_count"] = "1"
    target = first if row == 2 else second
    target.update(change)
    table = table_of(tmp_path / "t.csv", first, second)
    faults = [fault for one in read_table(table) for fault in (one.error.faults if one.error else ())]
    assert any(fault.line == row and says in str(fault) for fault in faults), [str(fault) for fault in faults]


@pytest.mark.parametrize(
    "text, says",
    [
        ("", "nothing"),
        ("reference,colour\nA,red\n", "colour"),
        ("reference,un,un\nA,1,2\n", "twice"),
        ("reference,un\n", "no row"),
    ],
)
def test_a_table_that_cannot_be_read_is_said(tmp_path: Path, text: str, says: str) -> None:
    table = tmp_path / "t.csv"
    table.write_text(text, "utf-8")
    with pytest.raises(RecordError, match=says):
        list(read_table(table))


def test_a_table_of_more_rows_than_are_read_at_once_is_refused(tmp_path: Path) -> None:
    table = tmp_path / "t.csv"
    table.write_text("reference,un\n" + "A,1219\n" * MOST_ROWS, "utf-8")
    with pytest.raises(RecordError, match=f"{MOST_ROWS + 1} rows; more than {MOST_ROWS} are not read at once"):
        list(read_table(table))


def test_rows_without_a_reference_are_a_fault_with_their_row_and_empty_ones_are_none(tmp_path: Path) -> None:
    first = example_row()
    table = table_of(tmp_path / "t.csv", first, dict.fromkeys(first, ""), {**first, "reference": ""})
    good, bad = read_table(table)
    assert good.record is not None and bad.error is not None
    assert any((fault.line, fault.path) == (4, "reference") and "rows are gathered by it" in str(fault)
               for fault in bad.error.faults)  # fmt: skip


def test_a_workbook_reads_like_its_table(tmp_path: Path) -> None:
    openpyxl = pytest.importorskip("openpyxl")
    row = example_row() | {"un": "0336", "name": "", "packing_group": ""}
    book = openpyxl.Workbook()
    book.active.append(list(row))
    book.active.append([336 if key == "un" else int(value) if value.isdigit() else value for key, value in row.items()])
    book.save(tmp_path / "t.xlsx")
    (one,) = read_table(tmp_path / "t.xlsx")
    assert one.record is not None and one.record.packages[0].goods[0].un == "0336"  # the leading nought is put back
    book.active.cell(2, list(row).index("un") + 1, 336.0)  # as a spreadsheet keeps what looks like a number
    book.active.cell(2, list(row).index("date") + 1, datetime.datetime(2026, 11, 25))
    book.active.append([None] * 3)
    book.save(tmp_path / "t.xlsx")
    (two,) = read_table(tmp_path / "t.xlsx")
    assert two.record is not None and two.record.packages[0].goods[0].un == "0336"
    assert str(two.record.date) == "2026-11-25"
    book = openpyxl.Workbook()
    book.save(tmp_path / "empty.xlsx")
    with pytest.raises(RecordError, match="nothing; the first row holds the columns' names"):
        list(read_table(tmp_path / "empty.xlsx"))
    (tmp_path / "broken.xlsx").write_bytes(b"PK\x03\x04 no workbook")
    with pytest.raises(RecordError, match="workbook"):
        list(read_table(tmp_path / "broken.xlsx"))
