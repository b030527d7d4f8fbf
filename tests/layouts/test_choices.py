"""Colours the law leaves to whoever prints: which there are, that each is drawn, and that nothing else changes."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from layouts.artwork.base import Scaled
from layouts.artwork.catalogue import forms
from layouts.artwork.spared import Spared
from layouts.choices import Choices, drawn_by, in_colours
from layouts.ink import BLACK, BLUE, GREEN, RED, WHITE, Ink
from layouts.job import plan
from layouts.svg import SvgPen
from marks.reading import read_text
from tests.layouts.drawn import SAMPLES, Sample, group_of, recorded, requirement

BLACK_SYMBOLS = Choices(symbols="black")


@pytest.mark.parametrize("variant", ["2.1", "2.2", "3", "4.3", "5.2"])
def test_symbols_are_white_or_black_where_the_law_leaves_it(variant: str) -> None:
    # Black or white on one ground of green, red or blue: 49 CFR 172.407(d)(2)(i); 5.2: (d)(2)(iii).
    for form in forms(requirement(Sample("hazard-label", variant))):
        for choices, ink in ((Choices(), WHITE), (BLACK_SYMBOLS, BLACK)):
            made = drawn_by(form, choices)
            whole = made.whole if isinstance(made, Scaled) else made
            assert {call.ink for call in group_of(whole, "symbol")} == {ink}
            assert (made.width, made.note, made.step) == (form.width, form.note, form.step)


def test_every_other_mark_is_the_same_whatever_is_chosen() -> None:
    # Orange, yellow, white and striped labels have black symbols: 49 CFR 172.407(d)(2).
    free = {"2.1", "2.2", "3", "4.3", "5.2", "excepted-quantity", "orientation-arrows"}
    for sample in SAMPLES:
        form = forms(requirement(sample))[0]
        other = drawn_by(form, Choices("black", "black", "red"), receptacle=True)
        assert (recorded(other).value == recorded(form).value) == ((sample.variant or sample.mark) not in free)


def test_the_excepted_quantity_mark_is_red_or_black_and_arrows_black_or_red() -> None:
    # 49 CFR 173.4a(g)(2): one colour, black or red. 49 CFR 172.312(a)(2): black or red on white.
    for mark, chosen, inks, colour in (
        ("excepted-quantity", Choices(), {RED, BLACK, WHITE}, True),
        ("excepted-quantity", Choices(excepted="black"), {BLACK, WHITE}, False),
        ("orientation-arrows", Choices(), {BLACK, WHITE}, False),
        ("orientation-arrows", Choices(arrows="red"), {RED, WHITE}, True),
    ):
        made = drawn_by(forms(requirement(Sample(mark, None, ("3",))))[0], chosen)
        assert set(recorded(made).inks) == inks
        assert made.colour is colour


@pytest.mark.parametrize("wrong", [{"symbols": "grey"}, {"excepted": "blue"}, {"arrows": ""}])
def test_any_other_colour_is_refused(wrong: dict[str, str]) -> None:
    with pytest.raises(ValueError, match="no choice the law leaves; write"):
        Choices(**wrong)


# --- the receptacle's own colour -----------------------------------------------------------------------------------------


def pixels(artwork, under: Ink, bleed: float = 0.0):  # type: ignore[no-untyped-def]
    """The label as a foreign renderer shows it, on a ground of another colour."""
    import numpy as np
    import resvg_py
    from PIL import Image

    pen = SvgPen(artwork.width, artwork.height)
    if bleed:
        artwork.draw_bleed(pen, bleed)
    artwork.draw(pen)
    png = resvg_py.svg_to_bytes(svg_string=pen.tostring(), dpi=63.5, background=under.hex, skip_system_fonts=True)
    return np.asarray(Image.open(io.BytesIO(bytes(png))).convert("RGB")).astype(int)


@pytest.mark.parametrize("variant", ["2.1", "2.2", "3", "4.3"])
def test_what_is_spared_out_shows_what_lies_under_it(variant: str) -> None:
    # 49 CFR 172.407(d)(2)(iv): symbol, figure and line in the receptacle's own colour. On white the two are one picture.
    plain = forms(requirement(Sample("hazard-label", variant)))[0]
    spared = Spared(plain)
    assert set(recorded(spared).inks) == {plain.colours.upper}
    for bleed in (0.0, 3.0):
        assert abs(pixels(plain, WHITE, bleed) - pixels(spared, WHITE, bleed)).mean() < 0.5
    under = GREEN if variant != "2.2" else BLUE
    shown, painted = pixels(spared, under), pixels(plain, under)
    was_white = (painted >= 250).all(axis=2)
    assert was_white.mean() > 0.02
    assert abs(shown[was_white] - under.srgb).mean() < 3


RECORD = """
record: sixface/1
reference: LP-1
date: 2026-11-25
modes: [road]
shipper: {name: Nordlys Gass AS, address: [Fiktvegen 1, 5999 Fiktvik], country: NO}
consignee: {name: Atelier Brossolette, address: [14 rue Imaginaire, 06999 Grasse], country: FR}
packages:
  - package: A
    packaging: cylinder
    size: {diameter: 300 mm, height: 600 mm}
    gross_mass: 22 kg
    water_capacity: 27 L
    refillable: true
    goods: [{un: UN, net: 11 kg}]
"""


@pytest.mark.parametrize(("un", "spared"), [("1978", True), ("1077", False)])
def test_only_cylinders_of_liquefied_petroleum_gas_show_their_own_colour(un: str, spared: bool) -> None:
    # UN 1978 PROPANE is liquefied petroleum gas, UN 1077 PROPYLENE is not among those numbers: from memory.
    planned = plan(read_text(RECORD.replace("un: UN", f"un: {un}"), "lp", "yaml"))
    (placement,) = in_colours(planned, Choices(symbols="receptacle")).placements
    labels = [one for one in placement.items if one.requirement.mark == "hazard-label"]
    assert [isinstance(one.artwork, Spared) for one in labels] == [spared]
    assert [one.box for one in placement.items] == [one.box for one in planned.placements[0].items]


def test_a_box_of_liquefied_petroleum_gas_keeps_its_white_symbol() -> None:
    box = RECORD.replace("un: UN", "un: 1978").replace("packaging: cylinder", "packaging: none\n    form: box")
    box = box.replace("{diameter: 300 mm, height: 600 mm}", "{length: 400 mm, width: 400 mm, height: 700 mm}")
    planned = plan(read_text(box.replace("    water_capacity: 27 L\n    refillable: true\n", ""), "lp", "yaml"))
    (placement,) = in_colours(planned, Choices(symbols="receptacle")).placements
    assert any(one.requirement.variant == "2.1" for one in placement.items)
    assert not any(isinstance(one.artwork, Spared) for one in placement.items)


def test_the_command_takes_the_choices(tmp_path: Path) -> None:
    from tests.test_commands import EXAMPLES, sixface

    made = {}
    for ink in ("red", "black"):
        out = tmp_path / ink
        done = sixface(
            "sheets", EXAMPLES / "perfume-samples-excepted.yaml", "-o", out, "--excepted", ink, "--format", "svg"
        )
        assert done.returncode == 0, done.stderr
        made[ink] = {path.name.split("-")[-2] for path in out.iterdir()}
    assert "labels" in made["red"] and "labels" not in made["black"]  # black alone stands with the black-only marks
