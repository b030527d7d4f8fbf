"""What stands on the hazard labels, measured: stripes, figures, the black corner, trefoil and fields of class 7.

Beside each check stands the paragraph its figure comes from.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from layouts.artwork.catalogue import forms
from layouts.ink import BLACK, RED, WHITE
from layouts.probe import BoundsPen, Fill, RecordingPen, Text
from tests.layouts.drawn import (
    LABELS,
    SAMPLES,
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


def art(name: str):  # type: ignore[no-untyped-def]
    return forms(requirement(SAMPLE[name]))[0]


# --- stripes and the black corner -----------------------------------------------------------------------------------


def test_stripes_of_flammable_solids() -> None:
    # Seven red on white: UN Model Regulations 5.2.2.2.2, from memory. 49 CFR 172.420(b): equally spaced each side of a
    # red stripe on the centre; widths look equal to the gaps.
    made = art("4.1")
    red = [c.path for c in group_of(made, "ground") if isinstance(c, Fill) and c.ink is RED]
    found = spans(red, made.height / 2)
    widths = [b - a for a, b in found]
    gaps = [b - a for (_, a), (b, _) in pairwise(found)]
    assert len(found) == 7
    assert widths == pytest.approx([widths[0]] * 7) and gaps == pytest.approx([widths[0]] * 6)
    assert sum(found[3]) / 2 == pytest.approx(made.width / 2)
    assert {ink for c in group_of(made, "symbol") for ink in [c.ink]} == {BLACK}


def test_stripes_of_class_9() -> None:
    # Seven black in the upper half, looking as wide as the six gaps, the lower half white: 49 CFR 172.446(b).
    for variant in ("9", "9A"):
        made = art(variant)
        black = fills(group_of(made, "stripes"))
        found = spans(black, made.height / 2 + 0.5)
        widths = [b - a for a, b in found]
        gaps = [b - a for (_, a), (b, _) in pairwise(found)]
        assert len(found) == 7
        assert widths == pytest.approx([widths[0]] * 7) and gaps == pytest.approx([widths[0]] * 6)
        assert min(p.y for path in black for ring in rings(path) for p in ring) == pytest.approx(made.height / 2)
        # Bottom figure underlined: 49 CFR 172.446(b).
        (line,) = fills(group_of(made, "figure"))
        digit = figure_box(made)
        under = BoundsPen()
        under.fill(line, BLACK)
        assert under.box.top < digit.y and under.box.width >= digit.width
        assert under.box.centre.x == pytest.approx(made.width / 2, abs=0.01)


def test_batteries_stand_between_the_stripes_and_the_figure() -> None:
    """Common practice, no source: 3 mm of white above and below."""
    made = art("9A")
    group = BoundsPen()
    for call in group_of(made, "battery-group"):
        call.onto(group)
    assert figure_box(made).top + 3 <= group.box.y and group.box.top <= made.height / 2 - 3


def test_what_is_poisonous_by_inhalation_has_a_white_skull_on_a_black_square() -> None:
    # 49 CFR 172.416(b), 172.429(b), from memory: upper diamond black, its point 14 mm above the middle, skull white.
    for variant in ("2.3-inhalation", "6.1-inhalation"):
        made = art(variant)
        square, skull = (c for c in group_of(made, "symbol") if isinstance(c, Fill))
        assert (square.ink, skull.ink) == (BLACK, WHITE)
        points = [p for ring in rings(square.path) for p in ring]
        assert min(p.y for p in points) - made.height / 2 == pytest.approx(14)
        for ring in rings(skull.path):
            assert all(covers(square.path, p.x, p.y) for p in ring)
        # It fills the upper corner of the clear field: its upper edges lie under the line.
        assert min(50 - from_centre(p, made) for p in points) == pytest.approx(6)


def covers(path, x: float, y: float) -> bool:  # type: ignore[no-untyped-def]
    return any(a < x < b for a, b in spans([path], y))


# --- figures ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("variant", VARIANTS)
def test_class_figures_are_between_6_3_and_12_7_mm_high(variant: str) -> None:
    # 49 CFR 172.407(c)(3); the UN model gives no height.
    for form in forms(requirement(SAMPLE[variant])):
        assert 6.3 - 1e-3 <= figure_box(form).height <= 12.7 + 1e-9, form.note
        assert figure_box(form).centre.x == pytest.approx(form.width / 2, abs=0.02)


@pytest.mark.parametrize("variant", VARIANTS)
def test_figures_and_symbols_keep_clear_of_the_line(variant: str) -> None:
    """Common practice, no source: nothing comes nearer to the inner line than 2.5 mm."""
    made = art(variant)
    for ident in ("symbol", "figure"):
        for call in group_of(made, ident):
            if call in (*group_of(made, "stripes"), *group_of(made, "black-square")):
                continue  # they run into the line on purpose
            pen = RecordingPen()
            call.onto(pen)
            box = BoundsPen()
            call.onto(box)
            paths = fills(pen.calls) or [_outline(call)]
            depth = min(50 - from_centre(p, made) for path in paths for ring in rings(path) for p in ring)
            assert depth >= 7 + 2.5, (ident, depth)


def _outline(call: Text):  # type: ignore[no-untyped-def]
    from layouts.geometry import Transform
    from layouts.letters import outline

    return outline(call.text, call.font, call.size).transformed(Transform.moved(call.x, call.y))


@pytest.mark.parametrize("variant", ["1.4S", "1.5D", "1.6N"])
def test_division_figures_are_30_mm_high_and_5_mm_thick(variant: str) -> None:
    # UN Model Regulations 5.2.2.2.1.3: about 30 mm and about 5 mm; 49 CFR 172.411(d): at least. Both from memory.
    made = art(variant)
    (path,) = fills(group_of(made, "symbol"))
    pen = BoundsPen()
    pen.fill(path, BLACK)
    assert pen.box.height == pytest.approx(30, abs=0.01)
    assert pen.box.y > made.height / 2  # in the upper half
    stem, point, *_ = spans([path], pen.box.y + 2)
    assert stem[1] - stem[0] == pytest.approx(5, abs=1e-6)
    assert point[1] - point[0] == pytest.approx(5, abs=1e-6)
    last = max(p.x for ring in rings(path) for p in ring)
    if variant == "1.4S":
        foot = spans([path], pen.box.y + 2)[-1]
        assert foot[1] - foot[0] == pytest.approx(5, abs=1e-6)
    else:  # the foot of the bowl of 5 and 6, at its middle; its right side, at half its height
        foot = spans([path], last - 9.8, upright=True)[0]
        assert foot[1] - foot[0] == pytest.approx(5, abs=0.01)
        side = spans([path], pen.box.y + 9.8)[-1]
        assert side[1] - side[0] == pytest.approx(5, abs=0.01)


def test_division_and_letter_are_set_alike() -> None:
    # 49 CFR 172.411(b): the compatibility letter in the same size as the division.
    texts = [c for c in recorded(label("1.2G")).calls if isinstance(c, Text)]
    assert [t.text for t in texts] == ["1.2G", "1"]
    assert recorded(label("1")).texts == ("1",)  # a subsidiary hazard: neither (UN Model 5.2.2.2.2, from memory)


# --- class 7 ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("variant", ["7-I", "7-II", "7-III"])
def test_the_trefoil_has_the_radii_and_angles_of_the_law(variant: str) -> None:
    # Disc R of at least 4 mm, blades from 1.5 R to 5 R, 60 degrees wide, 60 apart, one down: 49 CFR Part 172 Appendix B
    # (from memory); UN Model Regulations figure 5.2.1, from memory.
    made = art(variant)
    (path,) = fills(group_of(made, "trefoil"))
    disc, *blades = rings(path)
    cx = (max(p.x for p in disc) + min(p.x for p in disc)) / 2
    cy = (max(p.y for p in disc) + min(p.y for p in disc)) / 2
    assert cx == pytest.approx(made.width / 2)
    assert {round(math.dist(p, (cx, cy)), 2) for p in disc} == {4.0}
    assert len(blades) == 3
    middles = []
    for blade in blades:
        radii = [math.dist(p, (cx, cy)) for p in blade]
        assert min(radii) == pytest.approx(6, abs=0.01) and max(radii) == pytest.approx(20, abs=0.01)
        angles = [math.degrees(math.atan2(p.y - cy, p.x - cx)) % 360 for p in blade]
        assert max(angles) - min(angles) == pytest.approx(60, abs=0.01)
        middles.append(round((max(angles) + min(angles)) / 2, 3))
    assert sorted(middles) == [30, 150, 270]


@pytest.mark.parametrize(("variant", "bars"), [("7-I", 1), ("7-II", 2), ("7-III", 3)])
def test_the_category_stands_in_red_bars_after_the_word(variant: str, bars: int) -> None:
    # UN Model Regulations 5.2.2.2.2, from memory; 49 CFR 172.436(b), 172.438(b), 172.440(b): only the numeral is red.
    made = art(variant)
    red = group_of(made, "category")
    assert {c.ink for c in red} == {RED} and len(red) == bars
    assert {c.ink for c in recorded(made).calls if isinstance(c, Text)} == {BLACK}


def test_fields_are_filled_from_the_words_or_left_to_write_on() -> None:
    # Contents, activity, transport index: 49 CFR 172.403(g); UN Model Regulations 5.2.2.1.12.2, from memory.
    texts = recorded(label("7-II", ("Ir-192", "370 GBq", "0.8"))).texts
    assert [t for t in texts if t not in ("7",)] == [
        "RADIOACTIVE",
        "CONTENTS",
        "Ir-192",
        "ACTIVITY",
        "370 GBq",
        "TRANSPORT INDEX",
        "0.8",
    ]
    assert "TRANSPORT INDEX" not in recorded(label("7-I", ("Ir-192", "370 kBq"))).texts
    empty = recorded(label("7-III")).texts
    assert empty == ("RADIOACTIVE", "CONTENTS", "ACTIVITY", "TRANSPORT INDEX", "7")
    assert recorded(label("7E", ("12.5",))).texts == ("FISSILE", "CRITICALITY", "SAFETY INDEX", "12.5", "7")


def test_class_7_with_a_trefoil_is_not_reduced() -> None:
    # Its disc has a least radius of 4 mm: 49 CFR Part 172 Appendix B, from memory.
    for variant in ("7-I", "7-II", "7-III"):
        assert len(forms(requirement(SAMPLE[variant]))) == 1
