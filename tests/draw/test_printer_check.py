"""The printer check page, measured from finished SVG and PDF with rulers of their own."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from pathlib import Path

import pytest

from layouts.draw import to_pdf, to_svg
from layouts.errors import StockError
from layouts.geometry import Box
from layouts.ink import INKS
from layouts.printer_check import check_sheets, make_check
from layouts.probe import Begin, BoundsPen, End, RecordingPen, Stroke, Text
from layouts.sheet import Sheet
from layouts.stock import read_stock
from layouts.stock_file import stock_of
from marks.tables import editions
from tests.draw.measure import Paper, read_pdf, read_svg

DAY = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[2] / "examples/stock/two-to-the-sheet.yaml"
SMALLEST = ("150x100 mm", "140x90 mm")
SMALL = ("A6", "100x150 mm", "150x150 mm", "4x6 in")


def sheets(stock: str, inks: str = "rgb") -> tuple[Sheet, ...]:
    return check_sheets(read_stock(stock), inks, DAY)


@pytest.fixture(scope="module", params=("svg", "pdf"))
def paper(request: pytest.FixtureRequest) -> Paper:
    (sheet,) = sheets("A4")
    return read_svg(to_svg(sheet)) if request.param == "svg" else read_pdf(to_pdf([sheet], title="checked"))


def widths_of_squares(paper: Paper) -> list[float]:
    """The outer sides of all upright squares drawn as outlines, largest first."""
    boxes = {tuple(round(v, 2) for v in p.box) for p in paper.paints if not p.text}
    found = {round(r - x, 2) for x, y, r, t in boxes if math.isclose(r - x, t - y, abs_tol=0.02) and r - x > 4.5}
    return sorted(found, reverse=True)


def test_the_squares_have_the_sides_they_say(paper: Paper) -> None:
    """From outer edge to outer edge of the lines, as a steel rule is laid."""
    found = widths_of_squares(paper)
    for side in (100, 80, 60, 40, 20, 10, 5):
        assert any(abs(one - side) <= 0.05 for one in found), (side, found)


def test_both_rulers_have_a_tick_each_millimetre(paper: Paper) -> None:
    """Ten long ticks every 100 mm, at 10 mm from middle to middle; and 100 spaces of 1 mm beside them."""
    thin = [p.box for p in paper.paints if not p.text]
    across = sorted({round((x + r) / 2, 2) for x, y, r, t in thin if r - x < 0.25 and 1.5 < t - y < 4.1 and y > 255})
    down = sorted({round((y + t) / 2, 2) for x, y, r, t in thin if t - y < 0.25 and 1.5 < r - x < 4.1 and r < 20})
    for ticks, least in ((across, 180), (down, 240)):
        spaces = [b - a for a, b in pairwise(ticks)]
        assert len(spaces) >= least
        assert all(abs(space - 1) <= 0.03 for space in spaces)
        assert abs(ticks[100] - ticks[0] - 100) <= 0.05


def test_the_seven_inks_are_there_by_name_and_value() -> None:
    (sheet,) = sheets("A4")
    assert {ink for ink in _inks(sheet) if ink in INKS.values()} == set(INKS.values())
    for inks, said in (("rgb", "sRGB #be2024"), ("cmyk", "C 15 M 98 Y 98 K 0"), ("spot", "spot Label Red")):
        assert {said, *INKS} <= set(_texts(sheets("A4", inks)[0]))


def _inks(sheet: Sheet) -> set[object]:
    return {call.ink for call in sheet.around if hasattr(call, "ink")}


def _texts(sheet: Sheet) -> list[str]:
    return [call.text for call in sheet.around if isinstance(call, Text)]


def test_the_smallest_letters_are_those_of_the_law_and_of_our_pages() -> None:
    """6 mm: ADR 5.2.1.1, 49 CFR 172.301(a)(1). Measured from the outlines, the lowest letter or figure counts."""
    (sheet,) = sheets("A4")
    (unit,) = [call for call in sheet.around if isinstance(call, Text) and call.text == "UN 1219"]
    for figure in "UN1219":
        pen = BoundsPen()
        Text(0, 0, figure, unit.font, unit.size, unit.ink, 0.0).onto(pen)
        assert pen.box.height >= 6 - 1e-6
    assert min(call.size for call in sheet.around if isinstance(call, Text) and "380 mm" in call.text) == 2.35


def test_the_page_says_what_to_do_where_the_ruler_is_off() -> None:
    words = " ".join(_texts(sheets("A4")[0]))
    for due in ("Too short", "print no label", "100 mm (ADR", "Too long", "One way only", "Diagonals differ"):
        assert due in words


@pytest.mark.parametrize("stock", ("A4", "A3", "Letter", *SMALL, *SMALLEST))
def test_nothing_leaves_the_page_and_no_ink_or_step_is_missing(stock: str) -> None:
    made = sheets(stock)
    assert len(made) == (4 if stock in SMALLEST else 3 if stock in SMALL else 1)
    for sheet in made:
        pen = BoundsPen()
        for call in sheet.around:
            call.onto(pen)
        assert sheet.page.inner.contains(pen.box, slack=0.2)
        assert pen.box.y >= sheet.page.area.y - 0.2
    everything = [text for sheet in made for text in _texts(sheet)]
    assert {*INKS, "Print", "Too short", "Letters"} <= set(everything)


@pytest.mark.parametrize("stock", ("A4", "A3", "A5", "Letter", "Legal", *SMALL, *SMALLEST, str(EXAMPLE)))
def test_every_page_names_the_editions_and_who_decides(stock: str) -> None:
    """The editions between head and foot, each word of them, on nothing else; the foot says who decides."""
    for sheet in check_sheets(stock_of(stock), "rgb", DAY):
        shown = " ".join(_texts(sheet))
        for mode, edition in editions().items():
            assert f"{mode}: {edition.name}" in shown, (stock, sheet.page.number)
        said = RecordingPen()
        sheet.page.draw(said)
        foot = " ".join(call.text for call in said.value if isinstance(call, Text))
        assert "The regulations in force and the shipper's trained and authorised person decide." in foot
        assert not list(_covered_by_editions(sheet))


def _covered_by_editions(sheet: Sheet) -> Iterator[str]:
    """The groups in whose room the editions lie."""
    boxes: dict[str, Box] = {}
    names: list[str] = []
    pen = BoundsPen()
    for call in sheet.around:
        if isinstance(call, Begin):
            names.append(call.ident)
            pen = BoundsPen()
        elif isinstance(call, End):
            boxes[names.pop()] = pen.box
        elif names:
            call.onto(pen)
    held = boxes.pop("editions")
    yield from (name for name, box in boxes.items() if held.grown(-0.2).overlaps(box))


def test_a_foreign_reader_reads_the_code() -> None:
    zxing, resvg, image = (pytest.importorskip(name) for name in ("zxingcpp", "resvg_py", "PIL.Image"))
    png = resvg.svg_to_bytes(svg_string=to_svg(sheets("A4")[0]), dpi=150, background="white", skip_system_fonts=True)
    (code,) = zxing.read_barcodes(image.open(io.BytesIO(bytes(png))).convert("L"))
    assert code.text == "sixface printer check"


def test_the_files_are_the_same_each_time(tmp_path: Path) -> None:
    stock = read_stock("150x150 mm")
    first, second = (
        {p.name: p.read_bytes() for p in make_check(stock, tmp_path / n, formats=("pdf", "svg"), on=DAY)} for n in "ab"
    )
    assert first == second
    assert sorted(first) == [
        "printer-check-01.svg",
        "printer-check-02.svg",
        "printer-check-03.svg",
        "printer-check.pdf",
    ]


def test_a_stock_on_which_a_page_does_not_go_is_refused(tmp_path: Path) -> None:
    """Narrower than the least address line, lower than what to do, too small for the ruler of 100 mm."""
    for stock in ("80 x 300 mm", "300 x 60 mm", "100 x 100 mm"):
        with pytest.raises(StockError, match=rf"stock {stock}: .*nothing is scaled down; check the printer on A6"):
            list(make_check(read_stock(stock), tmp_path / "none", formats=("pdf",), on=DAY))
    assert not (tmp_path / "none").exists()


def test_only_what_is_asked_for_is_written(tmp_path: Path) -> None:
    for formats, names in ((("svg",), {"printer-check-01.svg"}), (("pdf",), {"printer-check.pdf"}), ((), set())):
        out = tmp_path / "-".join(("out", *formats))
        assert {path.name for path in make_check(read_stock("A4"), out, formats=formats, on=DAY)} == names
        assert {path.name for path in out.iterdir()} == names


def test_on_label_stock_the_outlines_of_the_labels_lie_where_they_are_cut() -> None:
    """To be held against a sheet of labels: the file's own figures are 190 by 138 mm, 142 mm apart."""
    (sheet,) = check_sheets(stock_of(str(EXAMPLE)), "rgb", DAY)
    dashed = [call for call in sheet.around if isinstance(call, Stroke) and call.dash]
    boxes = [call.path.bounds for call in dashed]
    assert [(round(box.width, 3), round(box.height, 3)) for box in boxes] == [(190, 138)] * 2
    assert abs(boxes[0].y - boxes[1].y) == pytest.approx(142)
