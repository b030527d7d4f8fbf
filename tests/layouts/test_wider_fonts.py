"""The extra ``fonts``: a line with a letter Fira Sans lacks is set whole in FiraGO; without it, and for scripts that need
shaping or run from the right, the missing letter is named."""

from __future__ import annotations

import pytest

from layouts import letters
from layouts.errors import MissingGlyph
from layouts.geometry import Box
from layouts.ink import BLACK
from layouts.pdf import PdfBook
from layouts.svg import SvgPen

TBILISI = "თბილისი, Georgia"

needs_fonts = pytest.mark.skipif(not letters.wider_fonts(), reason="the extra fonts is not installed")


@needs_fonts
def test_a_georgian_line_is_set_whole_in_the_wider_font() -> None:
    assert letters.set_in(TBILISI, "bold") == "wide-bold" and letters.set_in("Bergen", "bold") == "bold"
    assert letters.width(TBILISI, "bold", 10) == pytest.approx(sum(letters.width(c, "wide-bold", 10) for c in TBILISI))
    box = letters.outline(TBILISI, "bold", 10).bounds
    assert 0 < box.width <= letters.width(TBILISI, "bold", 10) + 1


@needs_fonts
@pytest.mark.parametrize("font, ours", [("wide", "regular"), ("wide-bold", "bold")])
def test_its_capitals_and_figures_are_no_lower_than_ours(font: str, ours: str) -> None:
    """Legal heights hold in either font: measured from the outlines, per capital and figure."""
    least = min(letters.glyph(ch, font).bounds.height for ch in "ABCDEFGHIJKLMNOPRSTUVWXYZ0123456789")
    assert least >= letters.font_measures(ours).least - 5e-4


@needs_fonts
def test_pdf_and_svg_draw_it() -> None:
    from io import BytesIO

    from pypdf import PdfReader

    book = PdfBook(title="wider")
    book.page(100, 50, trim=Box(0, 0, 100, 50)).text(5, 20, TBILISI, "bold", 6, BLACK)
    page = PdfReader(BytesIO(book.close())).pages[0]
    assert TBILISI in page.extract_text()
    for text in ("outlines", "live"):
        pen = SvgPen(100, 50, text=text)
        pen.text(5, 20, TBILISI, "regular", 6, BLACK)
        assert ("FiraGO" in pen.tostring()) is (text == "live")


@pytest.mark.parametrize("text", ["שלום", "مرحبا", "ไทย", "危険"])
def test_scripts_that_no_writer_here_can_set_are_refused_by_name(text: str) -> None:
    with pytest.raises(MissingGlyph, match=r"U\+"):
        letters.check_glyphs(text, "bold")


def test_without_the_extra_the_letter_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    for held in (letters.set_in, letters.check_glyphs, letters._ems):
        held.cache_clear()
    monkeypatch.setattr(letters, "wider_fonts", lambda: False)
    with pytest.raises(MissingGlyph, match="GEORGIAN LETTER"):
        letters.check_glyphs(TBILISI, "bold")
    for held in (letters.set_in, letters.check_glyphs, letters._ems):
        held.cache_clear()
