"""Measuring and setting text. The metrics are held against the fonts themselves, read by fontTools."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from layouts import letters
from layouts.errors import DoesNotFit, MissingGlyph
from layouts.letters_build import text as built
from layouts.pen import FONTS


def test_the_metrics_file_is_what_the_fonts_say() -> None:
    assert letters.METRICS.read_text("ascii") == built()


@pytest.mark.parametrize("font", FONTS)
def test_advances_and_heights_against_the_font(font: str) -> None:
    with TTFont(letters.font_file(font)) as ttf:
        cmap, em = ttf.getBestCmap(), ttf["head"].unitsPerEm
        for ch in "UN 1219 ÅŁ Ωж":
            assert letters.width(ch, font, 1) == pytest.approx(ttf["hmtx"][cmap[ord(ch)]][0] / em)
        assert letters.cap_height(font) == pytest.approx(ttf["OS/2"].sCapHeight / em)


@pytest.mark.parametrize("font", FONTS)
def test_every_capital_and_figure_is_as_high_as_promised(font: str) -> None:
    size = letters.size_for_least(font, 12)
    heights = {ch: letters.outline(ch, font, size).bounds.height for ch in "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"}
    assert min(heights.values()) == pytest.approx(12)


@pytest.mark.parametrize(
    "text",
    (
        "Åsenfjord Øst, Þórshöfn, Jõhvi, Ķekava, Šiauliai",
        "Łódź, Čáslav, Győr, Brașov, Zürich, Pécs, L'Haÿ-les-Roses",
        "Ηράκλειο Κρήτης",
        "Софија, Київ, Плевен, Њивице, Ђаково",
        "№ 4 · 20 °C ± 2 ≤ 5 µg/m³ §",
    ),
)
@pytest.mark.parametrize("font", FONTS)
def test_addresses_in_european_scripts_can_be_set(text: str, font: str) -> None:
    """Latin, Greek and Cyrillic letters of Europe: common practice, no source for the choice of names."""
    letters.check_glyphs(text, font)


@pytest.mark.parametrize(
    ("text", "named"),
    (
        ("東京", "U\\+6771 CJK UNIFIED IDEOGRAPH-6771"),
        ("a\u0301", "U\\+0301 COMBINING ACUTE ACCENT.*one character"),
        ("a\u202eb", "U\\+202E RIGHT-TO-LEFT OVERRIDE.*leave it out"),
        ("a\nb", "U\\+000A"),
        ("\ue000", "U\\+E000"),
    ),
)
def test_a_character_that_cannot_be_drawn_is_named(text: str, named: str) -> None:
    with pytest.raises(MissingGlyph, match=named):
        letters.check_glyphs(text)


NAME = "ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID, N.O.S. (4-NONYLPHENOL, BRANCHED)"


def test_lines_keep_every_word_and_stay_within_the_width() -> None:
    for width in (60, 75, 95, 150):
        lines = letters.wrap(NAME, "condensed", 6, width)
        assert " ".join(lines) == NAME
        assert max(letters.width(line, "condensed", 6) for line in lines) <= width


def test_balanced_lines_are_as_few_as_greedy_ones_and_more_even() -> None:
    greedy = letters.wrap(NAME, "bold", 6, 150, balance=False)
    even = letters.wrap(NAME, "bold", 6, 150)
    assert len(greedy) == len(even)
    widths = [letters.width(line, "bold", 6) for line in even]
    assert max(widths) <= max(letters.width(line, "bold", 6) for line in greedy)


def test_a_long_chemical_name_turns_after_hyphens_and_commas() -> None:
    assert letters.wrap("1,1,1-TRIFLUORO-2-ETHANOL", "bold", 6, 48) == ("1,1,1-TRIFLUORO-", "2-ETHANOL")


def test_a_word_is_never_torn_but_in_captions() -> None:
    with pytest.raises(DoesNotFit, match="a word of it is"):
        letters.wrap("ISOPROPANOL", "bold", 6, 20)
    torn = letters.wrap("ISOPROPANOL", "bold", 6, 20, balance=False, hard=True)
    assert "".join(torn) == "ISOPROPANOL"
    assert max(letters.width(t, "bold", 6) for t in torn) <= 20


def test_fitting_takes_the_condensed_cut_before_it_gives_up() -> None:
    wide = letters.fit(["ISOPROPANOL"], 60, 8, 6)
    tight = letters.fit(["ISOPROPANOL"], 54, 8, 6)
    assert (wide.font, tight.font) == ("bold", "condensed")
    with pytest.raises(DoesNotFit) as refused:
        letters.fit(["ISOPROPANOL"], 40, 8, 6)
    assert refused.value.needs[0] > 40
    assert refused.value.has == (40, 8)
    assert "6 mm high" in str(refused.value)


@given(
    st.text("ABCDEFGHI -,1234", min_size=1, max_size=180),
    st.floats(20, 200),
    st.floats(5, 120),
    st.floats(2, 12),
    st.floats(0, 10),
)
def test_what_is_fitted_is_in_the_box_whole_and_high_enough(
    text: str, width: float, height: float, least: float, more: float
) -> None:
    try:
        found = letters.fit([text], width, height, least, max_cap=least + more)
    except DoesNotFit as refused:
        assert refused.needs[0] > refused.has[0] - 1e-6 or refused.needs[1] > refused.has[1] - 1e-6
        return
    assert found.width <= width + 1e-6
    assert found.height <= height + 1e-6
    assert least <= found.cap <= least + more + 1e-6
    assert "".join("".join(found.lines).split()) == "".join(text.split())
