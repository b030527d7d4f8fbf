"""Labels and marks measured from what they draw. Beside each check stands the paragraph its figure comes from."""

from __future__ import annotations

import math
import subprocess
import sys

import pytest

from layouts.artwork.base import turned_square
from layouts.artwork.catalogue import FAMILIES, UnknownMark, forms, hazard_label
from layouts.geometry import Box
from layouts.ink import BLACK, BLUE, GREEN, ORANGE, RED, WHITE, YELLOW
from layouts.probe import BoundsPen, Fill, RecordingPen, Text
from marks.outside import MARK_NAMES
from tests.layouts.drawn import (
    LABELS,
    MARKS,
    SAMPLES,
    Sample,
    figure_box,
    fills,
    from_centre,
    group_of,
    label,
    recorded,
    requirement,
    rings,
    spans,
)

VARIANTS = [s.variant for s in LABELS]
SAMPLE = {s.variant or s.mark: s for s in SAMPLES}
LETTERS = "ABCDEFGHJKLNS"  # compatibility groups: UN Model Regulations 2.1.2, from memory


def art(name: str):  # type: ignore[no-untyped-def]
    return forms(requirement(SAMPLE[name]))[0]


# --- the list --------------------------------------------------------------------------------------------------------


def test_every_mark_a_plan_can_name_has_artwork_and_none_is_spare() -> None:
    # The project's own list of what a record and a plan may name.
    assert set(FAMILIES) == set(MARK_NAMES) == {s.mark for s in SAMPLES}


@pytest.mark.parametrize("division", ["1.1", "1.2", "1.3", "1.4", "1.5", "1.6"])
def test_every_division_and_compatibility_group_draws(division: str) -> None:
    for letter in LETTERS:
        words = recorded(label(f"{division}{letter}")).texts
        assert any(letter in w for w in words), letter


@pytest.mark.parametrize("variant", ["1.7A", "1.1I", "2", "7", "10", "", "1.4g", "3 "])
def test_a_label_that_is_not_held_is_refused_by_name(variant: str) -> None:
    with pytest.raises(UnknownMark, match="no hazard label is held"):
        forms(requirement(Sample("hazard-label", variant)))


def test_a_mark_that_is_not_held_is_refused_by_name() -> None:
    with pytest.raises(UnknownMark, match="'flag'"):
        forms(requirement(Sample("flag")))


BRACKETS = Sample("package-type", None, ("TYPE B(U)",))


@pytest.mark.parametrize("sample", [*SAMPLES, BRACKETS], ids=lambda s: s.caption)
def test_every_form_stays_inside_its_footprint_and_says_its_step(sample: Sample) -> None:
    made = forms(requirement(sample))
    assert [f.step for f in made] == list(range(len(made)))
    assert not made[0].reduced and made[0].note == ""
    for form in made:
        pen = BoundsPen()
        form.draw(pen)
        assert Box(0, 0, form.width, form.height).contains(pen.box, slack=1e-6), (form.step, pen.box)
        assert bool(form.note) == form.reduced
        inks = recorded(form).inks
        assert form.colour == any(ink not in (BLACK, WHITE) for ink in inks)


def test_footprints_need_no_drawing_and_no_heavy_library() -> None:
    code = (
        "import sys; from decimal import Decimal as D; from marks.requirement import Requirement as R;"
        "from layouts.artwork.catalogue import forms;"
        "m={k: D(v) for k, v in dict(side=100, inset=5, line=2, figure_high=12).items()};"
        "a=forms(R('hazard-label', 'w', ('c',), '8', measures=m))[0]; "
        "forms(R('un-number', 'w', ('c',), words=('UN 1',)));"
        "assert round(a.width, 1) == 141.4;"
        "heavy=('fontTools', 'reportlab', 'svgwrite', 'PIL', 'pydantic', 'pint');"
        "bad=[n for n in sys.modules if n.split('.')[0] in heavy"
        " or n == 'layouts.artwork.symbols.flame']; assert not bad, bad"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


# --- the square on its point -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("variant", VARIANTS)
def test_a_hazard_label_is_100_mm_along_its_edges(variant: str) -> None:
    # 49 CFR 172.407(c)(1); UN Model Regulations 5.2.2.2.1.1.2, from memory.
    ground = [p for path in fills(group_of(art(variant), "ground")) for ring in rings(path) for p in ring]
    assert max(from_centre(p, art(variant)) for p in ground) == pytest.approx(50, abs=1e-9)
    corners = {(round(p.x, 6), round(p.y, 6)) for p in ground}
    h = 50 * math.sqrt(2)
    right, top = (round(2 * h, 6), round(h, 6)), (round(h, 6), round(2 * h, 6))
    assert {right, top} <= corners or variant == "4.1"  # its white ground has them too, striped over
    assert math.dist(right, top) == pytest.approx(100, abs=1e-5)


@pytest.mark.parametrize("variant", VARIANTS)
def test_the_inner_line_lies_5_mm_inside_and_is_2_mm_thick(variant: str) -> None:
    # 49 CFR 172.407(c)(1); UN Model Regulations 5.2.2.2.1.1.2, from memory (its newer text: approximately 5 mm).
    depths = {
        round(50 - from_centre(p, art(variant)), 6)
        for path in fills(group_of(art(variant), "inner-line"))
        for ring in rings(path)
        for p in ring
    }
    assert depths == {5.0, 7.0}


@pytest.mark.parametrize("variant", VARIANTS)
def test_other_figures_of_law_are_followed(variant: str) -> None:
    """Artwork holds no number of law of its own: given others, it draws others."""
    made = label(variant, SAMPLE[variant].words, side="130", inset="6", line="3", figure_high="9")
    depths = {
        round(65 - from_centre(p, made), 6)
        for path in fills(group_of(made, "inner-line"))
        for ring in rings(path)
        for p in ring
    }
    assert depths == {6.0, 9.0}
    assert made.side == 130.0
    assert figure_box(made).height == pytest.approx(8.9, abs=0.01)


#: Ground above and below, inks of symbol (with the line's upper half) and figure (with its lower half).
#: UN Model Regulations 5.2.2.2.2, from memory; 49 CFR 172.411 to 172.447.
COLOURS = {
    **dict.fromkeys(("1.1D", "1", "1.4S", "1.5D", "1.6N"), (ORANGE, ORANGE, BLACK, BLACK)),
    **dict.fromkeys(("2.1", "3"), (RED, RED, WHITE, WHITE)),
    "2.2": (GREEN, GREEN, WHITE, WHITE),
    "4.2": (WHITE, RED, BLACK, BLACK),
    "4.3": (BLUE, BLUE, WHITE, WHITE),
    "5.1": (YELLOW, YELLOW, BLACK, BLACK),
    "5.2": (RED, YELLOW, WHITE, BLACK),
    **dict.fromkeys(
        ("2.3", "6.1", "6.2", "7-I", "7E", "9", "9A", "2.3-inhalation", "6.1-inhalation"), (WHITE, WHITE, BLACK, BLACK)
    ),
    **dict.fromkeys(("7-II", "7-III"), (YELLOW, WHITE, BLACK, BLACK)),
    "8": (WHITE, BLACK, BLACK, WHITE),
}


def ink_at(artwork, x: float, y: float, ident: str):  # type: ignore[no-untyped-def]
    """The ink laid last at a point, among the fills of a group."""
    ink = None
    for call in group_of(artwork, ident):
        if isinstance(call, Fill) and any(a < x < b for a, b in spans([call.path], y)):
            ink = call.ink
    return ink


@pytest.mark.parametrize("variant", COLOURS)
def test_grounds_lines_and_figures_have_the_colours_of_the_model(variant: str) -> None:
    made, (upper, lower, symbol, figure) = art(variant), COLOURS[variant]
    m, line = made.width / 2, 6 / math.sqrt(2)
    assert (ink_at(made, m, m + 40, "ground"), ink_at(made, m, m - 40, "ground")) == (upper, lower)
    edge = 50 / math.sqrt(2)  # the middle of an edge lies so far right and up
    assert ink_at(made, m + edge - line, m + edge - line, "inner-line") == symbol
    assert ink_at(made, m + edge - line, m - edge + line, "inner-line") == figure
    assert {c.ink for c in group_of(made, "figure")} == {figure}


def test_colour_stops_at_the_inner_line_of_8_and_yellow_7() -> None:
    # 49 CFR 172.407(d)(7): to the edge on all labels except CORROSIVE, YELLOW-II and YELLOW-III.
    for variant, ink in (("8", BLACK), ("7-II", YELLOW), ("7-III", YELLOW)):
        made = art(variant)
        assert not made.bleeds
        (path,) = [c.path for c in group_of(made, "ground") if isinstance(c, Fill) and c.ink is ink]
        assert min(50 - from_centre(p, made) for ring in rings(path) for p in ring) >= 5
    for variant in ("1.1D", "2.1", "2.2", "3", "4.1", "4.2", "4.3", "5.1", "5.2"):
        assert art(variant).bleeds


@pytest.mark.parametrize("name", [s.variant or s.mark for s in (*LABELS, *MARKS)])
def test_bleed_runs_beyond_every_edge_and_in_the_edges_colour(name: str) -> None:
    made = art(name)
    pen = RecordingPen()
    made.draw_bleed(pen, 3.0)
    if not made.bleeds:
        return
    points = [p for path in fills(c for c in pen.calls if isinstance(c, Fill)) for ring in rings(path) for p in ring]
    if made.side:
        assert max(from_centre(p, made) for p in points) == pytest.approx(made.side / 2 + 3)
    else:
        assert max(p.x for p in points) == pytest.approx(made.width + 3)


def test_a_label_with_white_at_its_edge_has_an_outer_boundary() -> None:
    # Contrasting ground or a dotted or solid line: UN Model Regulations 5.2.2.2.1.1.1, from memory; 49 CFR 172.406(d).
    for variant in VARIANTS:
        coloured = ("1.1D", "1", "1.4S", "1.5D", "1.6N", "2.1", "2.2", "3", "4.3", "5.1", "5.2")
        white = variant not in coloured
        assert bool(group_of(art(variant), "boundary")) == white, variant


def test_black_symbols_are_drawn_on_request() -> None:
    # Black or white on a wholly green, red or blue ground: 49 CFR 172.407(d)(2)(i). 5.2: (d)(2)(iii).
    for variant in ("2.1", "2.2", "3", "4.3", "5.2"):
        dark = hazard_label(variant, requirement(SAMPLE[variant]), dark=True)
        assert {c.ink for c in group_of(dark, "symbol")} == {BLACK}
        assert {c.ink for c in group_of(dark, "inner-line")} == {BLACK}


# --- turned -----------------------------------------------------------------------------------------------------------


def test_a_turned_label_lies_flat_with_its_top_in_the_upper_left() -> None:
    flat = turned_square(art("3"))
    pen = BoundsPen()
    flat.draw(pen)
    assert (pen.box.x, pen.box.y) == pytest.approx((0, 0), abs=1e-9)
    assert (pen.box.width, pen.box.height) == pytest.approx((100, 100))
    (figure,) = [c for c in recorded(flat).calls if isinstance(c, Text)]
    assert figure.turn == pytest.approx(45) and figure.x > 60 and figure.y < 40  # its foot is the lower right corner
    with pytest.raises(ValueError, match="rectangle"):
        turned_square(art("battery"))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda s: s.caption)
def test_dimensions_name_measures_and_have_their_length(sample: Sample) -> None:
    """What a specimen page draws its arrows from agrees with the figures of law that came in."""
    wanted = requirement(sample).measures
    for form in forms(requirement(sample)):
        for d in form.dimensions():
            if d.name == "figure_high":  # the figure drawn, not the limit
                assert d.value == pytest.approx(figure_box(form).height, abs=1e-6)
            elif not form.reduced and not (d.name == "lettering" and d.name not in wanted):
                least = float(wanted[d.name])
                above = sample.mark not in ("hazard-label", "cargo-aircraft-only") and d.name == "lettering"
                assert d.value >= least - 1e-9 if above else d.value == pytest.approx(least), d.name
            pen = BoundsPen()
            form.draw(pen)
            for p in (d.start, d.end):
                assert Box(0, 0, form.width, form.height).contains(Box(p.x, p.y, 0, 0), slack=1e-6)
