"""Imposing: what goes on which sheet, where, and what is refused. Asserted in numbers, from the sheets as data."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from layouts import letters
from layouts.cell import Item
from layouts.errors import StockError, StockTooSmall
from layouts.furniture import Heading, Page
from layouts.geometry import Box
from layouts.probe import BoundsPen, RecordingPen, Text
from layouts.sheet import Sheet, drawn, impose, numbered
from layouts.stock import read_stock
from tests.draw.printed import HEADING, item

A4, LETTER = read_stock("A4"), read_stock("Letter")
MARKS = {
    "hazard-label 3": True,
    "hazard-label 8": False,
    "cargo-aircraft-only": True,
    "orientation-arrows": False,
    "environmentally-hazardous": False,
    "proper-shipping-name": False,
    "un-number": False,
}


def items(*names: str, count: int = 1, package: str = "A") -> list[Item]:
    return [item(name, count=count, package=package) for name in names]


def texts(sheet: Sheet) -> list[str]:
    pen = RecordingPen()
    sheet.page.draw(pen)
    return [c.text for c in (*pen.calls, *sheet.around, *sheet.over) if isinstance(c, Text)]


def inked(sheet: Sheet) -> Box:
    """Everything around the pieces and the page's own drawing."""
    pen = BoundsPen()
    sheet.page.draw(pen)
    for call in sheet.around:
        call.onto(pen)
    return pen.box


def holds(sheets: tuple[Sheet, ...]) -> None:
    """Pieces lie whole in the printable page, apart from each other, bleed and all."""
    for sheet in sheets:
        inner = sheet.page.inner
        assert inner.contains(inked(sheet), slack=0.2)
        for piece in sheet.pieces:
            assert sheet.page.area.contains(piece.box.grown(piece.bleed))
        for a, b in combinations(sheet.pieces, 2):
            assert not a.box.grown(a.bleed).overlaps(b.box.grown(b.bleed))


def test_coloured_labels_and_black_marks_never_share_a_sheet() -> None:
    sheets = impose(items(*MARKS, count=3), A4, HEADING)
    assert all(piece.item.artwork.colour is sheet.colour for sheet in sheets for piece in sheet.pieces)
    assert [s.page.kind for s in sheets] == sorted((s.page.kind for s in sheets), reverse=True)


def test_the_stack_follows_packages_then_copies() -> None:
    sheets = impose(
        [*items("un-number", count=30, package="B"), *items("un-number", count=2, package="A")], A4, HEADING
    )
    order = [(p.item.package, p.copy) for s in sheets for p in s.pieces]
    assert order == [("B", n) for n in range(1, 31)] + [("A", 1), ("A", 2)]
    assert [s.page.title for s in sheets] == ["Package B", "Package B", "Packages B, A"]
    assert [(s.page.number, s.page.total) for s in sheets] == [(n, len(sheets)) for n in range(1, len(sheets) + 1)]


@pytest.mark.parametrize("stock", (A4, LETTER, read_stock("320x450 mm"), read_stock("150x600 mm")))
def test_pieces_lie_whole_apart_and_at_true_size(stock: object) -> None:
    sheets = impose(items(*MARKS, count=2), stock, HEADING)  # type: ignore[arg-type]
    holds(sheets)
    pieces = [p for s in sheets for p in s.pieces]
    assert len(pieces) == 2 * len(MARKS)
    assert all(p.drawing.at.scale == pytest.approx(1) for p in pieces)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(st.tuples(st.sampled_from(list(MARKS)), st.integers(1, 4), st.sampled_from("AB")), min_size=1, max_size=8),
    st.sampled_from(("A4", "Letter", "A3", "200 x 260 mm")),
    st.sampled_from(("auto", "never", "always")),
)
def test_whatever_is_printed_is_printed_once_whole_and_apart(
    wanted: list[tuple[str, int, str]], stock: str, flat: str
) -> None:
    things = [item(name, count=count, package=package) for name, count, package in wanted]
    sheets = impose(things, read_stock(stock), HEADING, flat=flat)
    holds(sheets)
    printed = sorted((p.item.package, p.item.mark, p.copy) for s in sheets for p in s.pieces)
    due = sorted((i.package, i.mark, n) for i in things for n in range(1, i.count + 1))
    assert printed == due
    assert sheets == impose(things, read_stock(stock), HEADING, flat=flat)


def test_a_label_on_its_point_with_caption_fits_a4_and_letter_upright() -> None:
    for stock in (A4, LETTER):
        (sheet,) = impose(items("hazard-label 3"), stock, HEADING, flat="never")
        assert sheet.pieces[0].box.width == pytest.approx(141.42, abs=0.01)
        assert (sheet.page.width, sheet.page.height) == (stock.width, stock.height)


def test_two_labels_lie_flat_on_one_sheet_and_say_which_corner_goes_up() -> None:
    (flat,) = impose(items("hazard-label 3", count=2), A4, HEADING)
    assert [p.box.width for p in flat.pieces] == pytest.approx([100, 100])
    assert texts(flat).count("this corner up") == 2
    upright = impose(items("hazard-label 3", count=2), A4, HEADING, flat="never")
    assert len(upright) == 2
    assert "this corner up" not in texts(upright[0])


def test_one_label_stays_upright_as_lying_flat_saves_nothing() -> None:
    (sheet,) = impose(items("hazard-label 3"), A4, HEADING)
    assert sheet.pieces[0].box.width == pytest.approx(141.42, abs=0.01)


def test_captions_and_foot_say_what_the_hand_needs() -> None:
    heading = Heading("HR-20458", ("ADR 2025", "IMDG 42-24"), ("Check the technical names.",))
    said = " ".join(texts(impose(items("hazard-label 3", count=3), A4, heading)[0]))
    for due in (
        "package A · 1 of 3 · front",
        "hazard label 3",
        "HR-20458 · road, sea",
        "ADR 5.2.2.1.1",
        "measure me: 100 mm",
    ):
        assert due in said
    whole = said.replace(" ", "")
    for due in (
        "Editions held: ADR 2025; IMDG 42-24.",
        "trained and authorised person decide.",
        "Check the technical names.",
    ):
        assert due.replace(" ", "") in whole


def test_what_is_not_cleared_says_so_on_the_sheet_and_on_every_piece() -> None:
    things = [*items("hazard-label 3", count=2), *items("un-number", package="B")]
    a, b = impose(things, A4, HEADING, not_cleared={"A": "sea, air"})
    assert texts(a).count("NOT CLEARED FOR sea, air") == 3
    assert not [t for t in texts(b) if "CLEARED" in t]


def test_what_no_page_can_take_is_refused_all_at_once_with_its_size() -> None:
    with pytest.raises(StockTooSmall) as refused:
        impose(items("hazard-label 3", "un-number", "cargo-aircraft-only"), read_stock("110 x 300 mm"), HEADING)
    assert [m.what for m in refused.value.misfits] == ["package A, hazard label 3", "package A, cargo aircraft only"]
    for misfit in refused.value.misfits:
        assert misfit.needs[0] > misfit.has[0] or misfit.needs[1] > misfit.has[1]
    assert "Nothing is scaled down" in str(refused.value)


def test_a_stock_too_small_for_the_ruler_is_refused() -> None:
    with pytest.raises(StockTooSmall, match="control ruler of 100 mm"):
        impose(items("un-number"), read_stock("90x90 mm"), HEADING)


@pytest.mark.parametrize("width", [100.0, 105.0, 210.0])
def test_what_the_head_says_never_runs_into_each_other(width: float) -> None:
    """However long the reference; an ordinary one costs hardly any size."""
    for reference in ("", "HD-26-0101", "W" * 25, "W" * 60):
        page = Page(width, 297, 5, Heading(reference), "Control", "coloured labels", number=3, total=12)
        pen = RecordingPen()
        page.draw(pen)
        head = [call for call in pen.calls if isinstance(call, Text) and call.y > page.inner.top - 8]
        assert [call.text for call in head] == [*filter(None, (reference, "Control", "coloured labels")), "sheet 3 of 12"]
        ends = [call.x + letters.width(call.text, call.font, call.size) for call in head]
        assert all(end + 3.9 <= after.x for end, after in zip(ends, head[1:], strict=False))
        assert ends[-1] <= page.inner.right + 1e-6
        assert len(reference) > 20 or 4.5 <= head[-3].size <= 5.0


def test_on_a_narrow_roll_the_ruler_stands_upright_and_wide_marks_turn() -> None:
    sheets = impose(items("un-number", "proper-shipping-name"), read_stock("90x300 mm"), HEADING)
    holds(sheets)
    assert sheets[0].page.ruler_upright


def test_sheets_of_ones_own_get_the_same_head_foot_and_ruler() -> None:
    page = Page(210, 297, 6, HEADING, "Package A", "where the marks go")
    sheet = drawn(page, lambda pen, area: pen.text(area.x, area.y, "a diagram", "regular", 4, _black()))
    (one,) = numbered([sheet])
    assert "a diagram" in texts(one)
    assert "sheet 1 of 1" in texts(one)
    assert one.trim == Box(0, 0, 210, 297)


def _black() -> object:
    from layouts.ink import BLACK

    return BLACK


# --- stock -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "size"),
    (
        ("A4", (210, 297)),  # ISO 216
        ("a3", (297, 420)),  # ISO 216
        ("letter", (215.9, 279.4)),  # ANSI/ASME Y14.1: 8.5 x 11 in
        ("150x200 mm", (150, 200)),
        ("150 × 200mm", (150, 200)),
        ("6x9 in", (152.4, 228.6)),
        ("10,5 x 14.8 cm", (105, 148)),
    ),
)
def test_stocks(text: str, size: tuple[float, float]) -> None:
    stock = read_stock(text)
    assert (stock.width, stock.height) == pytest.approx(size)


@pytest.mark.parametrize(
    "text", ("A9", "", "150x200", "0x200 mm", "-5x200 mm", "150x200 furlong", "1e3x200 mm", "59x200 mm")
)
def test_no_stock(text: str) -> None:
    with pytest.raises(StockError, match="stock"):
        read_stock(text)
