"""Marks that are no hazard labels, measured from what they draw; text marks by the outlines of their letters."""

from __future__ import annotations

import pytest

from layouts.artwork.catalogue import forms
from layouts.artwork.squares import ExceptedQuantity
from layouts.errors import DoesNotFit, MissingGlyph
from layouts.geometry import Box, Transform
from layouts.ink import BLACK, BLUE, GREEN, ORANGE, RED, WHITE
from layouts.letters import outline
from layouts.probe import BoundsPen, Fill, Text
from tests.layouts.drawn import SAMPLES, Sample, fills, from_centre, group_of, recorded, requirement, rings, spans

SAMPLE = {s.variant or s.mark: s for s in SAMPLES}


def art(name: str):  # type: ignore[no-untyped-def]
    return forms(requirement(SAMPLE[name]))[0]


def letter_heights(artwork) -> dict[str, float]:  # type: ignore[no-untyped-def]
    """Height in mm of each letter and figure drawn, from the font's outlines."""
    out = {}
    for call in recorded(artwork).calls:
        if isinstance(call, Text):
            for ch in call.text:
                if ch.isalnum() and ch not in out:  # one size a mark
                    pen = BoundsPen()
                    pen.fill(outline(ch, call.font, call.size), BLACK)
                    out[ch] = pen.box.height
    return out


# --- squares on their point ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["limited-quantity", "limited-quantity-air", "environmentally-hazardous"])
def test_borders_are_2_mm_on_100_mm_sides(name: str) -> None:
    # 49 CFR 172.315(a)(2), (b)(2), 172.322(e)(2); UN Model Regulations 3.4.7, 3.4.8, 5.2.1.6.3, from memory.
    made = art(name)
    (border,) = fills(group_of(made, "border"))
    assert {round(50 - from_centre(p, made), 6) for ring in rings(border) for p in ring} == {0.0, 2.0}


@pytest.mark.parametrize("name", ["limited-quantity", "limited-quantity-air"])
def test_limited_quantity_marks_shrink_to_50_mm_with_a_1_mm_border(name: str) -> None:
    # 49 CFR 172.315(a)(2), (b)(3); UN Model Regulations 3.4.7.2, from memory.
    made = forms(requirement(SAMPLE[name]))
    sides = [f.side for f in made]
    assert sides == sorted(sides, reverse=True) and sides[0] == 100 and sides[-1] == pytest.approx(50)
    least = made[-1]
    (border,) = fills(group_of(least, "border"))
    assert {round(25 - from_centre(p, least), 6) for ring in rings(border) for p in ring} == {0.0, 1.0}
    assert [f.reduced for f in made] == [False] + [True] * (len(made) - 1)


def test_limited_quantity_is_black_above_and_below_and_white_between() -> None:
    # 49 CFR 172.315(a)(2): top and bottom parts and border black, centre white; their size only in the figure.
    made = art("limited-quantity")
    m = made.width / 2
    black = [c.path for c in group_of(made, "limited-quantity") if isinstance(c, Fill) and c.ink is BLACK]
    column = spans(black, m, upright=True)
    assert len(column) == 2
    (low, lower), (upper, high) = column
    assert (low, high) == pytest.approx((0, made.height), abs=1e-6)
    assert lower == pytest.approx(made.height - upper)
    assert recorded(made).texts == () and recorded(art("limited-quantity-air")).texts == ("Y",)


def test_the_environment_mark_is_black_on_white() -> None:
    # 49 CFR 172.322(e)(2); UN Model Regulations 5.2.1.6.3, from memory.
    made = art("environmentally-hazardous")
    assert set(recorded(made).inks) == {BLACK, WHITE} and not made.colour
    (figure,) = fills(group_of(made, "fish-and-tree"))
    assert min(50 - from_centre(p, made) for ring in rings(figure) for p in ring) > 2 + 2.5


@pytest.mark.parametrize(("words", "texts"), [
    (("UN 3373", "BIOLOGICAL SUBSTANCE, CATEGORY B"), "UN 3373 BIOLOGICAL SUBSTANCE, CATEGORY B"),
    (("UN 3245",), "UN 3245"),
])  # fmt: skip
def test_the_diamond_of_biological_substances(words: tuple[str, ...], texts: str) -> None:
    # At least 50 x 50 mm, line 2 mm, letters and figures 6 mm: UN Model Regulations 4.1.4.1 P650 (4), from memory.
    for made in forms(requirement(Sample("biological-substance", None, words))):
        (border,) = fills(group_of(made, "border"))
        points = [p for ring in rings(border) for p in ring]
        x, y = (min(v) + (max(v) - min(v)) / 2 for v in ([p.x for p in points], [p.y for p in points]))
        assert {round((abs(p.x - x) + abs(p.y - y)) / 2**0.5, 6) for p in points} == {25.0, 23.0}
        assert " ".join(recorded(made).texts) == texts
        for call in recorded(made).calls:
            if isinstance(call, Text):
                for ch in filter(str.isalnum, call.text):
                    pen = BoundsPen()
                    pen.fill(outline(ch, call.font, call.size), BLACK)
                    assert pen.box.height >= 6 - 1e-6
        (number,) = (c for c in group_of(made, "number") if isinstance(c, Text))
        pen = BoundsPen()
        number.onto(pen)
        corners = [(px, py) for px in (pen.box.x, pen.box.right) for py in (pen.box.y, pen.box.top)]
        assert max((abs(px - x) + abs(py - y)) / 2**0.5 for px, py in corners) <= 23 - 2.5 / 2**0.5
        assert not made.reduced  # the law gives no smaller form


# --- hatched squares -------------------------------------------------------------------------------------------------


def test_the_battery_mark_and_its_smaller_form() -> None:
    # 100 x 100, or 100 x 70 on a small package, hatching red and at least 5 mm wide: 49 CFR 173.185(c)(3)(i).
    full, low = forms(requirement(SAMPLE["battery"]))
    assert (full.width, full.height, low.width, low.height) == (100, 100, 100, 70)
    assert low.reduced and "100 x 70" in low.note
    for made in (full, low):
        hatch = group_of(made, "hatching")
        assert {c.ink for c in hatch} == {RED}
        depth = max(
            min(p.x, p.y, made.width - p.x, made.height - p.y)
            for path in fills(hatch)
            for ring in rings(path)
            for p in ring
        )
        assert depth == pytest.approx(5)
        assert {c.ink for c in group_of(made, "battery-group")} == {BLACK}
        assert "UN 3480" in recorded(made).texts


def test_several_numbers_and_a_telephone_number_fit_the_battery_mark() -> None:
    # 49 CFR 173.185(c)(3)(i)(C): all numbers; a telephone number in the editions that ask for one.
    sample = Sample("battery", None, ("UN 3090, UN 3091, UN 3480, UN 3481", "+47 55 00 00 00"))
    for made in forms(requirement(sample)):
        texts = " ".join(recorded(made).texts)
        assert all(number in texts for number in ("3090", "3091", "3480", "3481", "+47 55 00 00 00"))


def test_the_excepted_quantity_mark_is_of_one_colour_red_or_black() -> None:
    # 100 x 100, hatching and symbol in one colour, black or red: 49 CFR 173.4a(g)(2). No smaller form.
    (made,) = forms(requirement(SAMPLE["excepted-quantity"]))
    assert (made.width, made.height) == (100, 100)
    for mark, ink in ((made, RED), (ExceptedQuantity(100, ("3",), BLACK), BLACK)):
        assert {c.ink for c in (*group_of(mark, "hatching"), *group_of(mark, "sign"))} == {ink}
    assert recorded(made).texts == ("3", "Nordlys Duft AS")  # the class, the name: 49 CFR 173.4a(g)(1)


@pytest.mark.parametrize("name", ["", "Nordlys Duft AS", "A/S Hollmund Farver og Lakkfabrikk, avdeling Åsenfjord"])
@pytest.mark.parametrize("classes", ["3", "2.2, 3, 6.1, 8"])
def test_words_of_the_excepted_quantity_mark_run_into_nothing(name: str, classes: str) -> None:
    """Common practice, no source: 3 mm clear of hatching and sign, however long the consignor's name."""
    (made,) = forms(requirement(Sample("excepted-quantity", None, (classes, name))))
    sign, words = BoundsPen(), BoundsPen()
    for call in group_of(made, "sign"):
        call.onto(sign)
    for call in group_of(made, "words"):
        call.onto(words)
    assert Box(8, 8, 84, 84).grown(-3).contains(words.box)
    assert words.box.top <= sign.box.y - 3
    assert sign.box.top <= 92 - 3


def test_hatching_is_half_ink_and_meets_its_corners_alike() -> None:
    """Ours: the law gives the pattern no measure."""
    for made in forms(requirement(SAMPLE["battery"])):
        stripes = fills(group_of(made, "hatching"))
        for y in (2.5, made.height - 2.5):
            inked = sum(b - a for a, b in spans(stripes, y))
            assert inked == pytest.approx(made.width / 2, rel=0.03)
        bottom, top = spans(stripes, 1.0), spans(stripes, made.height - 1.0)
        assert [made.width - b for _, b in reversed(top)] == pytest.approx([a for a, _ in bottom])


# --- rectangles ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "size", "inks"),
    [
        # 49 CFR 172.407(c)(2), 172.448(b).
        ("cargo-aircraft-only", (120, 110), {ORANGE, BLACK}),
        # ICAO Technical Instructions 5;3.5, from memory; 49 CFR 172.317, from memory.
        ("keep-away-from-heat", (74, 105), {WHITE, BLACK, RED}),
        ("cryogenic-liquid", (75, 105), {GREEN, WHITE}),
        ("magnetized-material", (110, 90), {WHITE, BLUE}),
    ],
)
def test_handling_labels_have_their_size_and_colours(name: str, size: tuple[float, float], inks: set[object]) -> None:
    made = art(name)
    assert (made.width, made.height) == size
    assert set(recorded(made).inks) == inks


def test_the_words_of_cargo_aircraft_only_are_at_least_6_3_mm_high() -> None:
    # 49 CFR 172.407(c)(2).
    made = art("cargo-aircraft-only")
    assert " ".join(recorded(made).texts) == "CARGO AIRCRAFT ONLY FORBIDDEN IN PASSENGER AIRCRAFT"
    assert min(letter_heights(made).values()) >= 6.3 - 1e-6


def test_arrows_are_two_upright_ones_over_a_bar() -> None:
    # 49 CFR 172.312(a)(2): two arrows, in keeping with the package's size; the border is optional. UN Model 5.2.1.7.1.
    for made in forms(requirement(SAMPLE["orientation-arrows"])):
        (path,) = fills(group_of(made, "arrows"))
        pen = BoundsPen()
        pen.fill(path, BLACK)
        low, high = pen.box.y, pen.box.top
        assert len(spans([path], low + 0.03 * pen.box.height)) == 1  # the bar
        assert len(spans([path], low + 0.5 * pen.box.height)) == 2  # two shafts
        shaft, head, tip = (spans([path], low + t * pen.box.height) for t in (0.5, 0.7, 0.97))
        assert head[0][1] - head[0][0] > shaft[0][1] - shaft[0][0] > tip[0][1] - tip[0][0]
        assert high < made.height
        assert not made.reduced  # no size is fixed, so none is a reduced one


# --- words -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("least", ["12", "6"])
def test_un_numbers_are_never_lower_than_the_law_asks(least: str) -> None:
    # 12 mm, or 6 mm up to 30 L or 30 kg, prefix included: 49 CFR 172.301(a)(1); UN Model 5.2.1.1, from memory.
    made = forms(requirement(Sample("un-number", None, ("UN 1234567890",)), lettering=least))
    lowest = [min(letter_heights(form).values()) for form in made]
    assert all(low >= float(least) - 1e-6 for low in lowest)
    assert lowest[-1] == pytest.approx(float(least), abs=1e-6)  # the last form is exactly the least
    assert all(len(recorded(form).texts) == 1 for form in made)  # never torn over two lines


@pytest.mark.parametrize(("name", "least"), [("overpack", 12), ("salvage", 12), ("package-type", 13)])
def test_words_of_law_have_their_height(name: str, least: float) -> None:
    # 49 CFR 173.25(a)(4), 173.3(c)(3), 172.310(b).
    for form in forms(requirement(SAMPLE[name])):
        assert min(letter_heights(form).values()) >= least - 1e-6


NAMES = [
    "GASOLINE",
    "ENVIRONMENTALLY HAZARDOUS SUBSTANCE, LIQUID, N.O.S. (zinc pyrithione, d-limonene)",
    "POLYHALOGENATED BIPHENYLS, SOLID or HALOGENATED MONOMETHYLDIPHENYLMETHANES, SOLID or POLYHALOGENATED TERPHENYLS, "
    "SOLID (octabromobiphenyl, hexachloroterphenyl, trichlorobenzene)",
    "2-(N,N-ETHOXYCARBONYLPHENYLAMINO)-3-METHOXY-4-(N-METHYL-N-CYCLOHEXYLAMINO)BENZENEDIAZONIUM ZINC CHLORIDE",
]


@pytest.mark.parametrize("name", NAMES, ids=len)
def test_names_wrap_whole_into_wide_and_narrow_forms(name: str) -> None:
    made = forms(requirement(Sample("proper-shipping-name", None, (name,))))
    for form in made:
        printed = recorded(form).texts
        assert "".join(printed).replace(" ", "") == name.replace(" ", "")
        assert min(height for ch, height in letter_heights(form).items() if ch.isupper()) >= 2.4
    assert len({round(f.width) for f in made}) > 3
    footprints = [(f.width, f.height) for f in made]
    for i, (w, h) in enumerate(footprints):  # each form is narrower or lower than all before it
        assert all(w < v or h < k for v, k in footprints[:i])


def test_addresses_of_any_european_script_are_set_and_headed() -> None:
    lines = ("Ångström & Søn ApS", "Ulica Żółkiewskiego 3", "Οδός Ερμού 12", "ул. Шевченка 5", "Île-de-Bréhat", "Łódź")
    for form in forms(requirement(Sample("consignee", None, lines))):
        texts = recorded(form).texts
        assert texts[0] == "Consignee"
        assert " ".join(texts[1:]) == " ".join(lines)


def test_a_character_the_font_lacks_is_named() -> None:
    with pytest.raises(MissingGlyph, match="CJK UNIFIED IDEOGRAPH-4E0A"):
        forms(requirement(Sample("shipper", None, ("上海", "road", "city", "land"))))


def test_a_word_too_long_for_any_form_is_refused() -> None:
    with pytest.raises(DoesNotFit, match="hyphen or a space"):
        forms(requirement(Sample("net-quantity", None, ("X" * 200,))))


def test_a_mark_without_words_is_refused() -> None:
    with pytest.raises(ValueError, match="no words"):
        forms(requirement(Sample("un-number", None, ())))


def test_bounds_of_text_are_those_of_its_letters() -> None:
    """A form's footprint is computed from advance widths; the letters themselves must lie inside, margin kept."""
    for name in ("un-number", "shipper", "proper-shipping-name"):
        for form in forms(requirement(SAMPLE[name])):
            pen = BoundsPen()
            for call in recorded(form).calls:
                if isinstance(call, Text):
                    moved = outline(call.text, call.font, call.size).transformed(Transform.moved(call.x, call.y))
                    pen.fill(moved, BLACK)
            assert pen.box.x > 0.5 and pen.box.y > 0.5
            assert pen.box.right < form.width - 0.3 and pen.box.top < form.height - 0.5
