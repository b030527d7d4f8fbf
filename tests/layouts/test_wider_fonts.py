"""The extra ``fonts``: a line with a letter Fira Sans lacks is set whole in a wider font; without it, and for scripts that
need shaping or run from the right, the missing letter is named."""

from __future__ import annotations

import unicodedata
from io import BytesIO

import pytest
from pypdf import PdfReader

from layouts import letters, wider
from layouts.errors import MissingGlyph
from layouts.geometry import Box
from layouts.ink import BLACK
from layouts.pdf import PdfBook
from layouts.svg import SvgPen

TBILISI, YEREVAN = "თბილისი, Georgia", "Երևան 0010, Հայաստան (Armenia)"
#: Two letters each of the scripts in living use in chapter 7, Europe-I, of the Unicode Standard 15.0.
EUROPE = {"LATIN": "Aß", "GREEK": "Ωή", "CYRILLIC": "Жї", "ARMENIAN": "Աև", "GEORGIAN": "აჰ"}

needs_fonts = pytest.mark.skipif(not wider.wider_fonts(), reason="the extra fonts is not installed")


@needs_fonts
@pytest.mark.parametrize("script, text", EUROPE.items())
def test_every_script_of_europe_in_living_use_can_be_set(script: str, text: str) -> None:
    assert all(unicodedata.name(ch).startswith(script) for ch in text)
    for font in ("regular", "bold", "condensed", "condensed-regular"):
        letters.check_glyphs(f"{text} 7", font)


@needs_fonts
@pytest.mark.parametrize("line, font", [(TBILISI, "wide-bold"), (YEREVAN, "wide-armenian-bold")])
def test_a_line_is_set_whole_in_the_wider_font(line: str, font: str) -> None:
    assert letters.set_in(line, "bold") == font and letters.set_in("Bergen", "bold") == "bold"
    assert letters.width(line, "bold", 10) == pytest.approx(sum(letters.width(c, font, 10) for c in line))
    box = letters.outline(line, "bold", 10).bounds
    assert 0 < box.width <= letters.width(line, "bold", 10) + 1


@needs_fonts
@pytest.mark.parametrize(
    "font, ours",
    [("wide", "regular"), ("wide-bold", "bold"), ("wide-armenian", "regular"), ("wide-armenian-bold", "bold")],
)
def test_its_capitals_and_figures_are_no_lower_than_ours(font: str, ours: str) -> None:
    """Legal heights hold in either font: measured from the outlines, per capital and figure."""
    least = min(letters.glyph(ch, font).bounds.height for ch in "ABCDEFGHIJKLMNOPRSTUVWXYZ0123456789")
    assert least >= letters.font_measures(ours).least - 5e-4


@needs_fonts
@pytest.mark.parametrize("line, family", [(TBILISI, "FiraGO"), (YEREVAN, "Noto Sans Armenian")])
def test_pdf_and_svg_draw_it(line: str, family: str) -> None:
    book = PdfBook(title="wider")
    pen = book.page(100, 50, trim=Box(0, 0, 100, 50))
    pen.text(5, 20, line, "bold", 6, BLACK)
    pen.text(5, 30, line, "regular", 6, BLACK)
    page = PdfReader(BytesIO(book.close())).pages[0]
    assert page.extract_text().count(line) == 2
    for text in ("outlines", "live"):
        drawing = SvgPen(100, 50, text=text)
        drawing.text(5, 20, line, "regular", 6, BLACK)
        assert (family in drawing.tostring()) is (text == "live")


@needs_fonts
def test_the_joined_font_is_the_same_file_every_time() -> None:
    assert wider._armenian("Bold", 700) == wider.wide_file("wide-armenian-bold")


@pytest.mark.parametrize("text", ["שלום", "مرحبا", "ไทย", "危険"])
def test_scripts_that_no_writer_here_can_set_are_refused_by_name(text: str) -> None:
    with pytest.raises(MissingGlyph, match=r"U\+"):
        letters.check_glyphs(text, "bold")


def test_without_the_extra_the_letter_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    for held in (letters.set_in, letters.check_glyphs, letters._ems):
        held.cache_clear()
    monkeypatch.setattr(letters, "wider_fonts", lambda: False)
    with pytest.raises(MissingGlyph, match=r"GEORGIAN LETTER.*extra fonts"):
        letters.check_glyphs(TBILISI, "bold")
    for held in (letters.set_in, letters.check_glyphs, letters._ems):
        held.cache_clear()
