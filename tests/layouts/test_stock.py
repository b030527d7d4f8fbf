"""Stock: sizes by name against the standards that fix them, and stock files with all their faults at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from layouts.errors import StockError
from layouts.geometry import Box
from layouts.stock import OFFERED, Stock, read_stock
from layouts.stock_file import read_stock_text, stock_of
from marks.errors import RecordError

#: ISO 216: A0 is 841 x 1189 mm; each next size halves the longer side, rounded down to whole millimetres.
A0 = (841, 1189)
#: The inch is 25.4 mm exactly: NIST Special Publication 811, appendix B (the agreement of 1959).
INCH = 25.4

WELL = """\
stock: sixface/1
name: two to the sheet
sheet: A4
columns: 1
rows: 2
label: {width: 190 mm, height: 138 mm}
pitch: {down: 142 mm}
margins: {left: 10 mm, top: 8.5 mm}
corner: 3 mm
"""


def size(stock: Stock) -> tuple[float, float]:
    return stock.width, stock.height


@pytest.mark.parametrize("times", (3, 4, 5, 6))
def test_a_sizes_are_those_of_iso_216(times: int) -> None:
    width, height = A0
    for _ in range(times):
        width, height = height // 2, width
    assert size(read_stock(f"A{times}")) == (width, height)


@pytest.mark.parametrize(
    ("name", "inches", "source"),
    (
        ("Letter", (8.5, 11), "ANSI/ASME Y14.1, size A"),
        ("Tabloid", (11, 17), "ANSI/ASME Y14.1, size B"),
        ("Legal", (8.5, 14), "common practice, no source"),
        ("4x6 in", (4, 6), "common practice, no source"),
    ),
)
def test_sizes_in_inches(name: str, inches: tuple[float, float], source: str) -> None:
    assert size(read_stock(name)) == pytest.approx((inches[0] * INCH, inches[1] * INCH)), source


@pytest.mark.parametrize("name", ("A6", "100x150 mm", "100 x 150 mm", "150x150 mm", "4x6 in", "roll 110x170 mm"))
def test_a_roll_has_one_label_a_page_and_the_label_is_the_page(name: str) -> None:
    stock = read_stock(name)
    assert stock.boxes() == (Box(0, 0, stock.width, stock.height),)
    assert stock.ways == ((stock.width, stock.height),)


@pytest.mark.parametrize("name", ("A4", "A3", "Letter", "110x170 mm"))
def test_paper_is_cut_by_hand(name: str) -> None:
    assert read_stock(name).boxes() == ()


def test_everything_on_offer_can_be_read() -> None:
    """Smallest first, but A4 before Letter: a little larger, and on more shelves."""
    areas = {name: read_stock(name).width * read_stock(name).height for name in OFFERED if name != "Letter"}
    assert list(areas.values()) == sorted(areas.values())


# --- stock files -----------------------------------------------------------------------------------------------------


def test_a_stock_file_says_where_the_labels_lie() -> None:
    stock = read_stock_text(WELL)
    assert (stock.name, *size(stock)) == ("two to the sheet", 210, 297)
    assert stock.boxes() == (Box(10, 297 - 8.5 - 138, 190, 138), Box(10, 297 - 8.5 - 142 - 138, 190, 138))
    assert stock.places is not None and stock.places.corner == 3


def test_a_grid_runs_from_the_upper_left_row_by_row() -> None:
    text = WELL.replace("columns: 1", "columns: 2").replace("190 mm, height: 138", "90 mm, height: 138")
    stock = read_stock_text(
        text.replace("{down: 142 mm}", "{across: 4 in, down: 142 mm}").replace("left: 10", "left: 5")
    )
    assert [round(box.x, 1) for box in stock.boxes()] == [5, 106.6, 5, 106.6]
    assert [box.top for box in stock.boxes()] == pytest.approx([288.5, 288.5, 146.5, 146.5])


def test_a_file_and_a_name_are_told_apart(tmp_path: Path) -> None:
    file = tmp_path / "labels.yaml"
    file.write_text(WELL, "utf-8")
    assert stock_of(str(file)) == read_stock_text(WELL)
    assert stock_of("A4") == read_stock("A4")
    with pytest.raises(RecordError, match="no stock file"):
        stock_of(str(tmp_path / "none.yaml"))


#: What is changed in the file, and each fault that follows: its line, its path, words of it.
BROKEN = {
    "labels over each other": ((("142 mm", "100 mm"),), [(7, "pitch.down", "write 138 mm or more")]),
    "past the lower edge": ((("142 mm", "160 mm"),), [(5, "rows", "306.5 mm from the top, the sheet at 297 mm")]),
    "past the right edge": ((("left: 10", "left: 30"),), [(4, "columns", "220 mm from the left, the sheet at 210 mm")]),
    "no pitch": ((("pitch: {down: 142 mm}\n", ""),), [(1, "pitch.down", "write down: 138 mm or more")]),
    "a corner too round": ((("corner: 3", "corner: 70"),), [(9, "corner", "write at most 69 mm")]),
    "no unit": ((("190 mm", "190"),), [(6, "label.width", "without its unit")]),
    "a key misspelt": ((("rows", "row"),), [(1, "rows", "no rows"), (5, "row", "write rows if that is meant")]),
    "another form": ((("sixface/1", "sixface/9"),), [(1, "stock", "write sixface/1")]),
    "no such sheet": ((("A4", "B17"),), [(3, "sheet", "no sheet is called so")]),
    "a roll for a sheet": ((("A4", "A6"),), [(3, "sheet", "no sheet is called so")]),
    "a group for a size": ((("{down: 142 mm}", "142 mm"),), [(7, "pitch", "a group of keys belongs here")]),
    "a sheet larger than any": (
        (("sheet: A4", "sheet: {width: 210 mm, height: 6 m}"),), [(3, "sheet.height", "a sheet's height is 60 to 5000 mm")],
    ),
    "a sheet smaller than any": (
        (("sheet: A4", "sheet: {width: 50 mm, height: 297 mm}"),),
        [(3, "sheet.width", "a sheet's width is 60 to 5000 mm"), (4, "columns", "the sheet at 50 mm")],
    ),
    "more rows than any": ((("rows: 2", "rows: 101"),), [(5, "rows", "write at most 100")]),
    "no rows at all": ((("rows: 2", "rows: 0"),), [(5, "rows", "a count of nothing")]),
    "nothing behind a key": ((("rows: 2", "rows:"),), [(5, "rows", "nothing")]),
    "many at once": (
        (("A4", "B17"), ("190 mm", "wide"), ("rows: 2", "rows: two"), ("corner: 3", "corner: -3")),
        [(3, "sheet", "B17"), (5, "rows", "two"), (6, "label.width", "wide"), (9, "corner", "no sign")],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_every_fault_of_a_stock_file_has_its_line_and_its_cure(name: str) -> None:
    changes, expected = BROKEN[name]
    text = WELL
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    with pytest.raises(RecordError) as caught:
        read_stock_text(text, "labels.yaml")
    told = [(fault.line, fault.path, str(fault)) for fault in caught.value.faults]
    assert [(line, path) for line, path, _ in told] == [(line, path) for line, path, _ in expected]
    for (line, path, said), (*_, words) in zip(told, expected, strict=True):
        assert said.startswith(f"labels.yaml:{line}: {path}: ") and words in said, said


def test_a_file_may_leave_its_corners_square() -> None:
    places = read_stock_text(WELL.replace("corner: 3 mm\n", "")).places
    assert places is not None and places.corner == 0


@pytest.mark.parametrize("text", ("", "- a\n- b\n", "just words", "stock: [1\n"))
def test_what_is_no_stock_file_is_refused(text: str) -> None:
    with pytest.raises(RecordError):
        read_stock_text(text)


def test_an_unknown_name_says_what_there_is() -> None:
    with pytest.raises(StockError, match=r"A4.*roll.*labels\.yaml"):
        read_stock("A9")
