"""Finished PDF and SVG, measured by ``measure``: every length the law fixes, to 0.05 mm.

The expected figures stand here as the law's text gives them, not as the product's tables do. "49 CFR" figures were
read in the published text (the section is named beside each); lines that say "from memory" were not.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from tests.draw.measure import XY, Paper, edges
from tests.draw.printed import PAPERS

NEAR = 0.05
#: The red of the files for screens, as the ink table gives it.
RED = "#be2024"
HAZARD_LABELS = (
    *("1.1D", "1.2G", "1.3C", "1.4S", "1.5D", "1.6N", "1", "2.1", "2.2", "2.3", "3", "4.1", "4.2", "4.3"),
    *("5.1", "5.2", "6.1", "6.2", "7-I", "7-II", "7-III", "7E", "8", "9", "9A", "2.3-inhalation", "6.1-inhalation"),
)

files = pytest.mark.parametrize("made", PAPERS)


def near(value: float) -> object:
    return pytest.approx(value, abs=NEAR)


def middle(paper: Paper) -> XY:
    corners = paper.cut()
    return sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)


def inward(paper: Paper, edge: int, part: float, before: float = 10.0, after: float = 12.0) -> list[float]:
    """Where the colour changes on a line across an edge at ``part`` of its length, mm inside the cut edge."""
    corners = paper.cut()
    p, q = corners[edge], corners[(edge + 1) % len(corners)]
    x, y = p[0] + (q[0] - p[0]) * part, p[1] + (q[1] - p[1]) * part
    ux, uy = (q[0] - p[0]) / math.dist(p, q), (q[1] - p[1]) / math.dist(p, q)
    met = paper.along((x + uy * before, y - ux * before), (x - uy * after, y + ux * after))
    return [start - before for start, _, _ in met[1:]]


def box_under(paper: Paper, title: str) -> tuple[float, float, float, float]:
    """The box of everything drawn in the SVG group of that title."""
    found = [p.box for p in paper.paints if title in p.where]
    assert found, f"no group is called {title}"
    return min(b[0] for b in found), min(b[1] for b in found), max(b[2] for b in found), max(b[3] for b in found)


# --- every hazard label ----------------------------------------------------------------------------------------------


@files
@pytest.mark.parametrize("variant", HAZARD_LABELS)
def test_hazard_labels_are_100_mm_along_every_edge(variant: str, made: str) -> None:
    """49 CFR 172.407(c)(1); UN Model Regulations 5.2.2.2.1.1.2 (from memory)."""
    assert edges(PAPERS[made](f"hazard-label {variant}").cut()) == [near(100)] * 4


#: Where a black stripe or the black corner runs into the black line, so that no change of colour tells its inner edge.
BLACK_MEETS_LINE = {("9", 2, 0.3), ("9A", 2, 0.3)} | {
    (v, edge, part) for v in ("2.3-inhalation", "6.1-inhalation") for edge, part in ((1, 0.62), (2, 0.3))
}


@files
@pytest.mark.parametrize("variant", HAZARD_LABELS)
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
@pytest.mark.parametrize("variant", HAZARD_LABELS)
def test_figures_of_the_class_are_6_3_to_12_7_mm_high(variant: str, made: str) -> None:
    """49 CFR 172.407(c)(3). In the SVG by its group, in the PDF by its character."""
    paper = PAPERS[made](f"hazard-label {variant}")
    figure = {"5.1": "5.1", "5.2": "5.2"}.get(variant, variant[0])
    if made == "svg":
        boxes = [p.box for p in paper.paints if p.where and p.where[-1] == "Class or division"]
        low, high = min(b[1] for b in boxes), max(b[3] for b in boxes)
        if variant in ("9", "9A"):  # without the underline, the lowest of them
            boxes = sorted(boxes, key=lambda b: b[1])[1:]
            low, high = min(b[1] for b in boxes), max(b[3] for b in boxes)
    else:
        low, high = min((b[1], b[3]) for text, b in paper.texts().items() if text == figure)
    assert 6.3 <= high - low <= 12.7


@files
@pytest.mark.parametrize("variant", ("9", "9A"))
def test_the_9_is_underlined(variant: str, made: str) -> None:
    """49 CFR 172.446(b), 172.447(b)."""
    paper = PAPERS[made](f"hazard-label {variant}")
    x, y = middle(paper)
    black = [(a, b) for a, b, colour in paper.along((x, y - 58), (x, y - 30)) if colour == "#000000"]
    assert len(black) >= 2, "an underline and the figure above it"


@files
@pytest.mark.parametrize(("variant", "figure"), (("1.4S", "1.4"), ("1.5D", "1.5"), ("1.6N", "1.6")))
def test_large_divisions_are_30_mm_high_and_5_mm_thick(variant: str, figure: str, made: str) -> None:
    """49 CFR 172.411(d), from memory: at least 30 mm high and about 5 mm thick. The 1's stem is measured."""
    paper = PAPERS[made](f"hazard-label {variant}")
    x, y = middle(paper)
    tall = [p for p in paper.paints if 25 < p.box[3] - p.box[1] < 40 and p.box[1] > y and p.colour == "#000000"]
    low, high = min(p.box[1] for p in tall), max(p.box[3] for p in tall)
    assert 30 - NEAR <= high - low <= 31
    stem = next(b - a for a, b, c in paper.along((x - 40, low + 9), (x + 40, low + 9)) if c == "#000000")
    assert stem == near(5)


@files
def test_flammable_solids_have_seven_red_stripes_of_one_width(made: str) -> None:
    """Seven: UN Model Regulations 5.2.2.2.2 No. 4.1 (from memory). Equal, one on the centre: 49 CFR 172.420(b)."""
    paper = PAPERS[made]("hazard-label 4.1")
    x, y = middle(paper)
    across = paper.along((x - 80, y - 1.0), (x + 80, y - 1.0))
    red = [(a - 80, b - 80) for a, b, colour in across if colour == RED]
    whole = [s for s in red if abs(s[0]) < 58 and abs(s[1]) < 58]
    assert len(red) == 7
    widths = [b - a for a, b in whole]
    assert max(widths) - min(widths) < NEAR
    assert any(a == near(-b) for a, b in whole), "one stripe on the axis"


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
@pytest.mark.parametrize(("variant", "bars"), (("7-I", 1), ("7-II", 2), ("7-III", 3)))
def test_trefoil_and_bars(variant: str, bars: int, made: str) -> None:
    """49 CFR Part 172 Appendix B: a disc of radius R of at least 4 mm, three blades of 60 degrees from 1.5 R to 5 R.

    Red bars one, two, three: 49 CFR 172.436(b), 172.438(b), 172.440(b).
    """
    paper = PAPERS[made](f"hazard-label {variant}")
    x, y = middle(paper)
    up = [(a, b) for a, b, c in paper.along((x, y + 1), (x, y + 52)) if c == "#000000"]
    # Going up the axis: the lower blade, the disc; the gap between the two upper blades is clear.
    (blade_from, blade_to), (disc_from, disc_to) = up[0], up[1]
    radius = (disc_to - disc_from) / 2
    centre = y + 1 + (disc_from + disc_to) / 2
    assert radius >= 4 - NEAR
    assert blade_to == near(disc_from - 0.5 * radius)
    assert blade_to - blade_from == near(3.5 * radius)
    steps = [(math.cos(math.radians(a / 4)), math.sin(math.radians(a / 4))) for a in range(1440)]
    black = [paper.colour_at(x + 3 * radius * c, centre + 3 * radius * s) == "#000000" for c, s in steps]
    turns = [a / 4 for a in range(1440) if black[a] != black[a - 1]]
    assert len(turns) == 6
    for turn, due in zip(turns, (0, 60, 120, 180, 240, 300), strict=True):
        assert turn == pytest.approx(due, abs=0.5) or turn == pytest.approx(due + 360, abs=0.5)
    red = [p for p in paper.paints if p.colour == RED]
    assert len(red) == bars


@files
@pytest.mark.parametrize("variant", ("2.3-inhalation", "6.1-inhalation"))
def test_the_black_corner_ends_14_mm_above_the_middle(variant: str, made: str) -> None:
    """49 CFR 172.416(b), 172.429(b), from memory: its lower point 14 mm above the horizontal centre line."""
    paper = PAPERS[made](f"hazard-label {variant}")
    x, y = middle(paper)
    up = paper.along((x, y), (x, y + 30))
    assert [(start, colour) for start, _, colour in up[:2]] == [(near(0), "#ffffff"), (near(14), "#000000")]


# --- the other marks -------------------------------------------------------------------------------------------------

RECTANGLES = (
    ("cargo-aircraft-only", 120, 110),  # 49 CFR 172.407(c)(2)
    ("excepted-quantity", 100, 100),  # 49 CFR 173.4a(g)(2)
    ("battery", 100, 100),  # 49 CFR 173.185(c)(3)(i)(A)
    ("keep-away-from-heat", 74, 105),  # 49 CFR 172.317, from memory
    ("cryogenic-liquid", 75, 105),  # ICAO Technical Instructions, from memory
    ("magnetized-material", 110, 90),  # ICAO Technical Instructions, from memory
)


@files
@pytest.mark.parametrize(("name", "width", "height"), RECTANGLES)
def test_rectangles(name: str, width: float, height: float, made: str) -> None:
    assert edges(PAPERS[made](name).cut()) == [near(width), near(height)] * 2


@files
@pytest.mark.parametrize("name", ("limited-quantity", "limited-quantity-air", "environmentally-hazardous"))
def test_squares_on_their_point(name: str, made: str) -> None:
    """49 CFR 172.315(a)(2), (b)(2) and 172.322(e): sides at least 100 mm to the outside of a line of at least 2 mm."""
    paper = PAPERS[made](name)
    assert edges(paper.cut()) == [near(100)] * 4
    for edge in range(4):
        assert inward(paper, edge, 0.5)[:2] == [near(0), near(2)]


@files
def test_the_least_limited_quantity_mark(made: str) -> None:
    """49 CFR 172.315(c): reduced to no less than 50 mm with a line of no less than 1 mm."""
    paper = PAPERS[made]("limited-quantity", 5)
    assert edges(paper.cut()) == [near(50)] * 4
    assert inward(paper, 1, 0.5)[:2] == [near(0), near(1)]


@files
def test_the_least_battery_mark(made: str) -> None:
    """49 CFR 173.185(c)(3)(i)(A): 100 mm wide and 70 mm high where the package is too small."""
    assert edges(PAPERS[made]("battery", 1).cut()) == [near(100), near(70)] * 2


@files
def test_hatching_of_the_battery_mark(made: str) -> None:
    """49 CFR 173.185(c)(3)(i)(A): hatching at least 5 mm wide. All red lies in a band of 5 mm along the edge."""
    paper = PAPERS[made]("battery")
    left, low = paper.cut()[0]
    red = [p for p in paper.paints if p.colour == RED]
    points = [(x - left, y - low) for p in red for ring in p.rings for x, y in ring]
    depth = max(min(x, y, 100 - x, 100 - y) for x, y in points)
    assert depth == near(5)


LETTERING = (
    ("un-number", "lettering", "12", "UN 1219"),  # 49 CFR 172.301(a)(1)
    ("un-number", "lettering", "6", "UN 1219"),  # 49 CFR 172.301(a)(1): up to 30 L or 30 kg
    ("overpack", "lettering", "12", "OVERPACK"),  # 49 CFR 173.25(a)(4)
    ("salvage", "lettering", "12", "SALVAGE"),  # 49 CFR 173.3(c)(3)
    ("package-type", "lettering", "13", "TYPE B(U)"),  # 49 CFR 172.310(b)
)


@pytest.mark.parametrize("form", ("largest", "least"))
@pytest.mark.parametrize(("name", "measure", "height", "text"), LETTERING)
def test_letters_are_never_lower_than_the_law_asks(name: str, measure: str, height: str, text: str, form: str) -> None:
    """Every single letter and figure, by its outline in the finished SVG, in the largest and in the smallest form."""
    from layouts.artwork.catalogue import forms
    from tests.draw.printed import requirement

    last = 0 if form == "largest" else len(forms(requirement(name, **{measure: height}))) - 1
    paper = PAPERS["svg"](name, last, **{measure: height})
    (words,) = [p for p in paper.paints if p.where and "package A, copy 1" in p.where[1]]
    letters = _letters(words.rings)
    assert len(letters) >= sum(not ch.isspace() for ch in text)
    heights = [high - low for low, high in letters]
    assert min(heights) >= float(height) - 0.005
    assert form == "largest" or min(heights) <= float(height) * 1.03  # set by the lowest figure, which it may not have


def _letters(rings: list[list[XY]]) -> list[tuple[float, float]]:
    """Bottom and top of every letter: of every ring that is no hole in another."""
    boxes = [(min(x for x, _ in r), min(y for _, y in r), max(x for x, _ in r), max(y for _, y in r)) for r in rings]
    return [
        (b[1], b[3])
        for b in boxes
        if not any(o[0] < b[0] and o[1] < b[1] and o[2] > b[2] and o[3] > b[3] for o in boxes)
    ]


def test_un_number_in_the_pdf_is_as_high() -> None:
    """The same by the outlines of the font embedded in the PDF: 49 CFR 172.301(a)(1)."""
    paper = PAPERS["pdf"]("un-number", 0, lettering="12")
    _, low, _, high = paper.texts()["UN 1219"]
    assert high - low >= 12


@files
def test_words_of_the_cargo_aircraft_label(made: str) -> None:
    """49 CFR 172.407(c)(2): letters at least 6.3 mm high."""
    paper = PAPERS[made]("cargo-aircraft-only")
    if made == "pdf":
        boxes = [b for text, b in paper.texts().items() if text.isupper() and "AIRCRAFT" in text]
        assert len(boxes) == 2
        assert all(high - low >= 6.3 for _, low, _, high in boxes)
    else:
        rings = [p.rings for p in paper.paints if "Cargo aircraft only" in p.where and len(p.rings) > 8]
        assert len(rings) == 3, "three lines of words"
        assert all(high - low >= 6.295 for line in rings for low, high in _letters(line))


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
