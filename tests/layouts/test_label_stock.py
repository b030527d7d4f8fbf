"""Labels that are cut already: what lies on them, whole and at true size, and the control sheet before them."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from layouts.cell import Item
from layouts.errors import StockTooSmall
from layouts.furniture import Page
from layouts.geometry import Box
from layouts.probe import BoundsPen, RecordingPen, Stroke, Text
from layouts.sheet import Sheet, impose
from layouts.stock import Places, Stock, read_stock
from layouts.stock_file import read_stock_text
from tests.draw.printed import HEADING, item
from tests.layouts.test_stock import WELL

ROLL, SQUARE, TWO = read_stock("100x150 mm"), read_stock("150x150 mm"), read_stock_text(WELL)
STOCKS = {"roll": ROLL, "square": SQUARE, "two": TWO, "A6": read_stock("A6"), "inches": read_stock("4x6 in")}
MARKS = ("hazard-label 3", "hazard-label 8", "un-number", "proper-shipping-name", "orientation-arrows")


def labels(stock: Stock, *names: str, count: int = 1, **more: object) -> tuple[Sheet, ...]:
    """The sheets with something on them, the control sheet left out."""
    return tuple(s for s in impose([item(n, count=count) for n in names], stock, HEADING, **more) if s.pieces)  # type: ignore[arg-type]


def said(sheet: Sheet) -> list[str]:
    pen = RecordingPen()
    sheet.page.draw(pen)
    return [c.text for c in (*pen.calls, *sheet.around, *sheet.over) if isinstance(c, Text)]


def exactly(width: float, height: float, corner: float = 0.0) -> Stock:
    """Four labels of that size on A4 or larger, 4 mm apart."""
    places = Places(2, 2, width, height, width + 4, height + 4, 6, 6, corner)
    return Stock("test labels", 2 * width + 16, 2 * height + 16, 6.0, False, places)


@pytest.mark.parametrize("name", STOCKS)
def test_every_piece_lies_on_one_label_whole_at_true_size_and_apart(name: str) -> None:
    stock = STOCKS[name]
    for sheet in labels(stock, *MARKS, count=3):
        for piece in sheet.pieces:
            assert piece.drawing.at.scale == pytest.approx(1)
            assert any(box.contains(piece.box) for box in stock.boxes())
        for a, b in combinations(sheet.pieces, 2):
            assert not a.box.overlaps(b.box)
        pen = BoundsPen()
        for call in sheet.around:
            if isinstance(call, Text):
                call.onto(pen)
        assert Box(0, 0, stock.width, stock.height).contains(pen.box)


@pytest.mark.parametrize("name", STOCKS)
def test_each_stack_begins_with_a_control_sheet_that_has_ruler_reading_and_order(name: str) -> None:
    sheets = impose([item(n, count=3) for n in MARKS], STOCKS[name], HEADING)
    first = [s for s in sheets if not s.pieces]
    assert [s.page.kind for s in first] == ["coloured labels", "black-only marks"]
    assert not first[0].page.bare and all(s.page.bare for s in sheets if s.pieces)
    words = " ".join(said(first[1]))
    for due in (
        "measure me: 100 mm",
        "HR-20458",
        "trained and authorised",
        "package A, 3 copies:",
        "orientation arrows",
    ):
        assert due.replace(" ", "") in words.replace(" ", "")


def test_a_label_by_itself_has_no_cut_marks_but_says_its_copy() -> None:
    for sheet in labels(SQUARE, "hazard-label 3", count=2):
        assert sheet.pieces[0].box.width == pytest.approx(100 * math.sqrt(2))  # on its point: nothing is cut
        assert not [call for call in sheet.around if isinstance(call, Stroke)]
        assert f"package A · {sheet.pieces[0].copy} of 2 · front" in said(sheet)


def test_a_square_that_fits_only_lying_flat_says_where_to_cut_and_which_corner_goes_up() -> None:
    (sheet,) = labels(ROLL, "hazard-label 3")
    (piece,) = sheet.pieces
    assert (piece.box.width, piece.box.height) == pytest.approx((100, 100))
    assert "this corner up" in said(sheet) and "package A · 1 of 1 · front" in said(sheet)
    (cut,) = [call for call in sheet.around if isinstance(call, Stroke)]
    assert cut.path.bounds.width == 100 and cut.path.bounds.y == pytest.approx(piece.box.top + 0.1)


def test_a_label_that_fills_its_die_needs_neither_cut_nor_caption_and_bleeds_into_its_half_of_the_gap() -> None:
    (sheet,) = labels(exactly(100, 100), "hazard-label 3", count=4)
    assert len(sheet.pieces) == 4
    assert not [call for call in sheet.around if isinstance(call, Stroke | Text)]
    for piece in sheet.pieces:
        assert piece.bleed == 2.0
    for a, b in combinations(sheet.pieces, 2):
        assert not a.box.grown(a.bleed).overlaps(b.box.grown(b.bleed))


def test_a_round_corner_takes_nothing_of_a_square_label() -> None:
    """A circle of radius r leaves r - r/sqrt(2) = 0.293 r of a corner: at 3 mm a die needs 101.76 mm each way."""
    with pytest.raises(StockTooSmall, match=r"needs 100 x 100 mm at true size; a label takes 98\.2 x 98\.2 mm"):
        labels(exactly(100, 100, corner=3), "hazard-label 3")
    (sheet,) = labels(exactly(101.8, 101.8, corner=3), "hazard-label 3")
    (die,) = [box for box in exactly(101.8, 101.8).boxes() if box.contains(sheet.pieces[0].box)]
    cut, centre = sheet.pieces[0].box, (die.right - 3, die.top - 3)
    assert math.dist(centre, (cut.right, cut.top)) <= 3 + 1e-9


def test_several_pieces_share_a_label_with_cut_marks() -> None:
    (sheet,) = labels(ROLL, "un-number", "proper-shipping-name")
    assert len(sheet.pieces) == 2
    assert len([call for call in sheet.around if isinstance(call, Stroke)]) == 16  # two at each corner


def test_what_no_die_can_take_is_refused_with_its_size_and_what_to_write() -> None:
    with pytest.raises(StockTooSmall) as refused:
        impose([item("cargo-aircraft-only"), item("un-number")], ROLL, HEADING)
    assert str(refused.value) == (
        "stock roll of 100 x 150 mm is too small: package A, cargo aircraft only needs 120 x 110 mm at true size; a label "
        'takes 100 x 150 mm. Nothing is scaled down: write --stock "150x150 mm".'
    )


def test_a_roll_too_small_for_the_ruler_is_refused() -> None:
    with pytest.raises(StockTooSmall, match="control ruler of 100 mm"):
        impose([item("un-number")], read_stock("roll 80x90 mm"), HEADING)


def test_what_is_not_cleared_says_so_on_every_label() -> None:
    things: list[Item] = [item("hazard-label 3", count=2)]
    control, *sheets = impose(things, SQUARE, HEADING, not_cleared={"A": "air"})
    assert all("NOT CLEARED FOR air" in said(sheet) for sheet in (control, *sheets))


def test_upright_always_is_kept() -> None:
    with pytest.raises(StockTooSmall):
        labels(ROLL, "hazard-label 3", flat="never")
    (sheet,) = labels(SQUARE, "hazard-label 3", flat="always")
    assert sheet.pieces[0].box.width == pytest.approx(100)


def test_a_bare_page_draws_nothing_of_its_own() -> None:
    pen = RecordingPen()
    Page(100, 150, 3, HEADING, bare=True).draw(pen)
    assert not pen.calls


def test_a_long_order_says_on_the_control_sheet_that_it_goes_on() -> None:
    """The sheet holds what fits, and tells that there is more: nothing runs over the ruler or off the sheet."""
    many = [item("un-number", package=f"package number {n}") for n in range(120)]
    control = next(sheet for sheet in impose(many, ROLL, HEADING) if not sheet.pieces)
    assert "and so on, in the order of the record" in said(control)
    pen = BoundsPen()
    for call in control.around:
        call.onto(pen)
    assert control.page.area.grown(0.3).contains(pen.box)
    short = next(sheet for sheet in impose(many[:1], ROLL, HEADING) if not sheet.pieces)
    assert "and so on, in the order of the record" not in said(short)
