"""Finished PDF and SVG, measured by ``measure``: what the table of ``figures`` cannot say in one number a line.

"49 CFR" figures were read in the published text (the section is named beside each); lines that say "from memory" were not.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from tests.draw.figures import LABELS
from tests.draw.measure import edges
from tests.draw.printed import PAPERS
from tests.draw.ruler import NEAR, inward, lettering, middle, near, of_the_mark

files = pytest.mark.parametrize("made", PAPERS)


# --- every hazard label ----------------------------------------------------------------------------------------------


#: Where a black stripe or the black corner runs into the black line, so that no change of colour tells its inner edge.
BLACK_MEETS_LINE = {("9", 2, 0.3), ("9A", 2, 0.3)} | {
    (v, edge, part) for v in ("2.3-inhalation", "6.1-inhalation") for edge, part in ((1, 0.62), (2, 0.3))
}


@files
@pytest.mark.parametrize("variant", LABELS)
def test_hazard_labels_have_their_line_5_mm_in_and_2_mm_thick(variant: str, made: str) -> None:
    """49 CFR 172.407(c)(1): 5 mm from the edge to the outside of the line, the line at least 2 mm."""
    paper = PAPERS[made](f"hazard-label {variant}")
    for edge in range(4):
        for part in (0.3, 0.62):
            if (variant, edge, part) in BLACK_MEETS_LINE:
                continue
            changes = [c for c in inward(paper, edge, part) if 1.0 < c < 9.0]
            if variant == "4.1":  # red and white change places outside and inside the line too
                changes = [c for c in changes if 4.8 < c < 7.2]
            if variant == "8" and edge in (0, 3):  # a white line in a white margin: black begins inside it
                assert changes == [near(7)], (edge, part)
            else:
                assert changes == [near(5), near(7)], (edge, part)


@files
@pytest.mark.parametrize("variant", ("1.1D", "2.1", "2.2", "3", "4.2", "4.3", "5.1", "5.2"))
def test_colour_runs_3_mm_over_a_cut_edge(variant: str, made: str) -> None:
    """Colour to the edge: 49 CFR 172.407(d)(7); 3 mm of bleed: common practice in print, no source."""
    paper = PAPERS[made](f"hazard-label {variant}")
    for edge in range(4):
        changes = inward(paper, edge, 0.3)
        white_half = variant == "4.2" and edge in (1, 2)
        assert changes[0] == near(-3), edge
        assert white_half or not [c for c in changes if -2.9 < c < 4.9], edge


@files
@pytest.mark.parametrize("variant", ("8", "7-II", "7-III"))
def test_colour_stops_at_the_line(variant: str, made: str) -> None:
    """49 CFR 172.407(d)(7): on class 8 and the yellow class 7 labels colour does not reach the edge."""
    paper = PAPERS[made](f"hazard-label {variant}")
    (x, y), white = middle(paper), "#ffffff"
    for up in (-1, 1):
        for side in (-1, 1):
            reach = 70.71 - 3.5 * math.sqrt(2)  # half way between edge and line
            assert paper.colour_at(x + side * reach / 2, y + up * reach / 2) == white


@files
@pytest.mark.parametrize("variant", ("9", "9A"))
def test_the_9_is_underlined(variant: str, made: str) -> None:
    """49 CFR 172.446(b), 172.447(b)."""
    paper = PAPERS[made](f"hazard-label {variant}")
    x, y = middle(paper)
    black = [(a, b) for a, b, colour in paper.along((x, y - 58), (x, y - 30)) if colour == "#000000"]
    assert len(black) >= 2, "an underline and the figure above it"


@files
@pytest.mark.parametrize("variant", ("9", "9A"))
def test_class_9_has_seven_black_stripes_as_wide_as_the_gaps(variant: str, made: str) -> None:
    """49 CFR 172.446(b): seven stripes on the top half, equal in width to the white between."""
    paper = PAPERS[made](f"hazard-label {variant}")
    x, y = middle(paper)
    across = [s for s in paper.along((x - 54, y + 6), (x + 54, y + 6))]
    black = [(a, b) for a, b, colour in across if colour == "#000000"]
    gaps = [later[0] - earlier[1] for earlier, later in pairwise(black)]
    widths = [b - a for a, b in black]
    assert len(black) == 7
    assert max(widths + gaps) - min(widths + gaps) < NEAR
    assert not [c for _, _, c in paper.along((x - 40, y - 2.5), (x + 40, y - 2.5)) if c == "#000000"] or variant == "9A"


@files
def test_words_of_the_cargo_aircraft_label(made: str) -> None:
    """49 CFR 172.407(c)(2): letters at least 6.3 mm high."""
    paper = PAPERS[made]("cargo-aircraft-only")
    assert len([p for p in of_the_mark(paper) if "AIRCRAFT" in p.text]) == 2
    assert lettering(paper) >= 6.295


# --- the sheet itself ------------------------------------------------------------------------------------------------


@files
@pytest.mark.parametrize("name", ("hazard-label 3", "un-number", "battery"))
def test_the_control_ruler_is_100_mm(name: str, made: str) -> None:
    """Between the outer edges of its end strokes; a tick every 10 mm."""
    paper = PAPERS[made](name)
    base = next(s for s, w, _ in paper.strokes if w == near(0.3) and abs(math.dist(*s) - 100) < 0.2)
    y = base[0][1]
    ticks = sorted(
        (s[0][0], w)
        for s, w, _ in paper.strokes
        if len(s) == 2 and abs(s[0][0] - s[1][0]) < 1e-6 and min(p[1] for p in s) < y and max(p[1] for p in s) > y + 1
    )
    assert len(ticks) == 11
    left, right = ticks[0][0] - ticks[0][1] / 2, ticks[-1][0] + ticks[-1][1] / 2
    assert right - left == near(100)
    assert [x - left for x, _ in ticks[1:-1]] == [near(10 * n) for n in range(1, 10)]
    if made == "pdf":
        assert "measure me: 100 mm" in paper.texts()


@files
@pytest.mark.parametrize("name", ("hazard-label 3", "hazard-label 8", "limited-quantity"))
def test_a_label_lying_flat_is_the_same_square(name: str, made: str) -> None:
    """49 CFR 172.407(c)(1): the side is 100 mm however the sheet is turned; its upper left corner is the top."""
    paper = PAPERS[made](name, 0, "always")
    corners = paper.cut()
    assert edges(corners) == [near(100)] * 4
    assert corners[0][1] == near(corners[1][1])
    if made == "pdf":
        assert "this corner up" in paper.texts()
    if name == "hazard-label 8":  # the white half lies towards the upper left corner
        x, y = middle(paper)
        assert paper.colour_at(x + 20, y - 10) == "#000000"
        assert paper.colour_at(x - 35, y + 35) in ("#ffffff",)


@files
def test_stock_is_the_size_it_is_called(made: str) -> None:
    """ISO 216: A4 is 210 x 297 mm."""
    paper = PAPERS[made]("hazard-label 3")
    assert (paper.width, paper.height) == (near(210), near(297))
