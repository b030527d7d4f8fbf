"""Diagram, checklist and comparison: what is drawn is what was placed. Measured from the strokes, not from our own
numbers."""

from __future__ import annotations

import io
import math
import re
import time
from decimal import Decimal
from itertools import pairwise

import pytest
from msgspec.structs import replace
from placing_given import AIR, ARROWS, CARGO, CONSIGNEE, FISH, NAME, NET, NUMBER, SHIPPER, label, need
from placing_given import forms as stand_ins

from layouts.artwork.catalogue import forms as catalogue_forms
from layouts.badges import spread
from layouts.checklist import checklist_sheets, picks
from layouts.diagram import diagram_sheets
from layouts.draw import to_pdf
from layouts.face import CloseUp
from layouts.faces import Area, Solid
from layouts.furniture import Heading, Page
from layouts.geometry import Box
from layouts.ladder import Scale, amount, ladder_block
from layouts.measured import BELOW
from layouts.net import Net
from layouts.particulars import Particulars, spoken
from layouts.place import place
from layouts.placement import Placement
from layouts.probe import Begin, BoundsPen, End, RecordingPen, Text
from layouts.qr import draw_qr, matrix
from layouts.sheet import Sheet
from layouts.standing import Standing
from marks.compare import Ladder, Rung
from marks.packer import Step
from marks.requirement import Finding, Requirement
from marks.tables import measures_for
from marks.terms import Face, Level, Mode, PackageForm

A4 = Page(210, 297, 10, Heading("HR-1", ("road: an edition",)))
LETTER = Page(215.9, 279.4, 10, Heading("HR-1"))
ABOUT = Particulars("HR-1", "A", 2, "3f9a77c2e1d0b45a" * 4, AIR, "4G", "4G/Y27/S/26/N/ACME")
BOX = Solid.box(500, 400, 400)


def lawful(requirement: Requirement) -> Requirement:
    """With the measures artwork asks for, from the tables."""
    from datetime import date

    figures = measures_for(requirement.mark, requirement.variant, date(2026, 11, 25))
    return replace(requirement, measures=figures, modes=AIR)


def laid(solid: Solid = BOX, *wanted: Requirement, **more: object) -> Placement:
    wanted = wanted or (label("3"), label("6.1"), CARGO, FISH, NUMBER, NAME, SHIPPER, CONSIGNEE, NET, ARROWS)
    return place(solid, [lawful(r) for r in wanted], AIR, forms=catalogue_forms, **more)  # type: ignore[arg-type]


def texts(sheets: tuple[Sheet, ...]) -> list[str]:
    return [call.text for sheet in sheets for call in sheet.around if isinstance(call, Text)]


def part(pen: RecordingPen, start: str) -> list[RecordingPen]:
    """The groups whose id begins so, each as a recording of its own."""
    found, depth = [], 0
    for call in pen.value:
        if isinstance(call, Begin):
            if depth:
                depth += 1
            elif call.ident.startswith(start):
                found.append(RecordingPen())
                depth = 1
                continue
        elif isinstance(call, End) and depth:
            depth -= 1
            if not depth:
                continue
        if depth:
            call.onto(found[-1])
    return found


def bounds(pen: RecordingPen) -> Box:
    probe = BoundsPen()
    pen.replay(probe)
    return probe.box


SOLIDS = [BOX, Solid.box(1000, 800, 900), Solid.drum(585, 880), Solid.box(3000, 400, 400), Solid.box(400, 300, 300)]


@pytest.mark.parametrize("solid", SOLIDS)
def test_a_label_in_the_large_view_stands_where_the_figures_say_within_half_a_millimetre_of_the_package(
    solid: Solid,
) -> None:
    placement = laid(solid)
    view = CloseUp.fitting(placement, placement.working, 124, 98)
    pen = RecordingPen()
    view.draw(pen, 0, 0)
    whole = placement.solid.box_of(placement.working)
    face = Box(view.beside, BELOW - view.part.y / view.scale, whole.width / view.scale, whole.height / view.scale)
    labels = [i for i in placement.on(placement.working) if i.requirement.mark == "hazard-label"]
    assert labels
    for item in labels:
        drawn = bounds(part(pen, f"mark-{item.number}")[0])
        assert (drawn.x - face.x) * view.scale == pytest.approx(item.x, abs=0.5)
        assert (drawn.y - face.y) * view.scale == pytest.approx(item.y, abs=0.5)
        assert drawn.width * view.scale == pytest.approx(item.width, abs=1.0)


@pytest.mark.parametrize("solid", SOLIDS)
def test_every_distance_stands_at_the_edge_of_its_face(solid: Solid) -> None:
    placement = laid(solid)
    words = texts(diagram_sheets(placement, ABOUT, A4))
    for item in placement.items:
        assert f"{item.x:.1f}".removesuffix(".0") in words and f"{item.y:.1f}".removesuffix(".0") in words


def test_the_net_and_the_views_keep_inside_the_room_they_say_they_take() -> None:
    for solid in SOLIDS:
        placement = laid(solid)
        net = Net.fitting(placement, 152, 100)
        pen = BoundsPen()
        net.draw(pen, 0, 0)
        assert (
            pen.box.x > -0.5 and pen.box.y > -7.5 and pen.box.right < net.width + 1 and pen.box.top < net.height + 0.5
        )
        view = Standing.fitting(placement, 58, 52)
        pen = BoundsPen()
        view.draw(pen, 0, 0)
        assert view.size[0] <= 58 + 1e-6 and view.size[1] <= 52 + 1e-6
        assert pen.box.x > -2.2 and pen.box.right < 60.2


@pytest.mark.parametrize("page", [A4, LETTER])
def test_every_mark_has_its_number_in_the_picture_and_its_line_in_the_legend(page: Page) -> None:
    placement = laid()
    sheets = diagram_sheets(placement, ABOUT, page)
    words = texts(sheets)
    for item in placement.items:
        assert words.count(str(item.number)) >= 2
    joined = " ".join(words)
    for phrase in (
        "Hazard label 6.1",
        "Cargo aircraft only",
        "FRONT",
        "all hazard labels beside each other",
        "a paragraph",
    ):
        assert phrase in joined
    area = page.area
    for sheet in sheets:
        pen = BoundsPen()
        for call in sheet.around:
            call.onto(pen)
        assert area.grown(1.5).contains(pen.box)


def test_labels_stand_beside_each_other_only_where_there_are_several() -> None:
    phrase = "all hazard labels beside each other"
    for labels in ([label("3")], [label("3"), label("6.1")]):
        told = [p.why_here for p in laid(BOX, *labels, NUMBER).items if p.requirement.mark == "hazard-label"]
        assert len(told) == len(labels)
        assert all((phrase in words) is (len(labels) > 1) and words.startswith("On front, a larger") for words in told)


def numerous(goods: int) -> Placement:
    """A large box of so many goods, each with its number and name."""
    wanted = [label("3"), label("6.1"), CARGO, FISH, SHIPPER, CONSIGNEE, NET, ARROWS]
    for n in range(goods):
        wanted += [
            replace(NUMBER, variant=f"{n}", words=(f"UN {n}",)),
            replace(NAME, variant=f"{n}", words=(f"X {n}",)),
        ]
    return laid(Solid.box(800, 600, 600), *wanted)


def test_a_legend_too_long_for_one_page_stays_with_the_working_face() -> None:
    """The second page has the net and what else is drawn, larger; no mark is without its number and line on the first."""
    placement = numerous(4)
    sheets = diagram_sheets(placement, ABOUT, A4)
    assert len(sheets) == 2
    first, second = (texts((sheet,)) for sheet in sheets)
    assert {"No.", "Mark"} <= set(first) and "No." not in second
    assert any(words.startswith("all faces, 1 :") for words in second)
    assert {str(item.number) for item in placement.items} <= set(first)


def test_the_label_on_a_cylinders_shoulder_is_large_enough_to_be_told() -> None:
    """Bare side is left out of the standing view, never a part that bears something; a label is told
    from 5 mm on (common practice, no source)."""
    solid = Solid.drum(140, 1500, PackageForm.CYLINDER)
    placement = laid(solid, label("2.1"), NUMBER, NAME)
    view = Standing.fitting(placement, 58, 54)
    (item,) = [p for p in placement.items if p.requirement.mark == "hazard-label"]
    at = view.map_of(item.face)
    corners = [at(x, y) for x in (item.x, item.box.right) for y in (item.y, item.box.top)]
    assert max(math.dist(one, other) for one in corners for other in corners) >= 5
    assert view.size[0] <= 58 + 1e-6 and view.size[1] <= 54 + 1e-6
    low, high = view.cut
    assert 0 < low < high < solid.height - solid.shoulder
    clear = laid(solid, label("2.1"), keep_clear=[Area(Face.FRONT, Box(10, 300, 50, 50), "collar")])
    assert Standing.fitting(clear, 58, 54).cut[1] <= 300
    on_side = laid(Solid.drum(300, 1500, PackageForm.CYLINDER), label("2.1"), NUMBER)
    assert not on_side.on(Face.SHOULDER) and Standing.fitting(on_side, 58, 54).cut == (0, 0)


def test_room_for_the_carriers_label_is_named_by_its_sign_where_its_words_do_not_go_in() -> None:
    placement = laid(BOX, label("3"), NUMBER)
    assert placement.carrier is not None
    assert "carrier's label" in texts(diagram_sheets(placement, ABOUT, A4))
    bare = replace(placement, carrier=None)
    assert not any("carrier" in words for words in texts(diagram_sheets(bare, ABOUT, A4)))


def test_keep_clear_is_hatched_and_what_is_there_already_is_dashed_and_both_are_named() -> None:
    clear = Area(Face.FRONT, Box(300, 0, 180, 80), "hand hole")
    placement = laid(BOX, label("3"), NUMBER, keep_clear=[clear], spec_mark="4G/Y27/S/26/N/ACME")
    pen = RecordingPen()
    Net.fitting(placement, 152, 100).draw(pen, 0, 0)
    assert len(part(pen, "keep-clear")[0].value) > 10
    assert any(getattr(call, "dash", ()) for call in part(pen, "already-there")[0].value)
    words = " ".join(texts(diagram_sheets(placement, ABOUT, A4)))
    assert "Keep clear: front, 300 from the left" in words and "hand hole" in words
    assert "UN specification mark 4G/Y27/S/26/N/ACME, back; place not stated" in words


def test_marks_already_there_are_not_called_to_be_applied() -> None:
    arrows = need("orientation-arrows", preprinted=True)
    placement = laid(BOX, label("3"), arrows)
    assert "already there, place not stated" in texts(checklist_sheets(placement, ABOUT, A4))
    assert [pick.name for pick in picks(placement, 3)] == ["Hazard label 3"]


def test_a_refused_package_has_a_page_that_says_why_and_no_box_to_tick() -> None:
    placement = laid(Solid.box(130, 130, 130), label("3"))
    diagram = " ".join(texts(diagram_sheets(placement, ABOUT, A4)))
    assert "REFUSED: Hazard label 3 needs at least 148 x 148 mm" in diagram
    words = texts(checklist_sheets(placement, ABOUT, A4, [Step("Close it")]))
    assert not any("packed by" in w or "Close it" in w for w in words)
    assert "NOT PLACED" in spoken(placement, ABOUT)


def test_the_checklist_goes_face_by_face_in_the_order_of_applying() -> None:
    placement = laid()
    steps = [Step("Four bottles, closed"), Step("Weigh", "kg")]
    caution = Finding(Level.CAUTION, "x", "A person looks at the flash point.", ("ADR 2.2.3.1",))
    words = texts(checklist_sheets(placement, ABOUT, A4, steps, [caution]))
    joined = " ".join(words)
    order = ["2 identical packages", "Four bottles, closed", "FRONT  2", "Hazard label 3", "UN number", "RIGHT  6",
             "LEFT  5",
             "From the shelf", "A person looks at the flash point.", "packed by", "checked by"]  # fmt: skip
    places = [joined.index(phrase) for phrase in order]
    assert places == sorted(places)
    assert [(p.name, p.total) for p in picks(placement, 2)] == [
        ("Hazard label 3", 2), ("Hazard label 6.1", 2), ("Cargo aircraft only", 2),
    ]  # fmt: skip
    assert "2 ×  (1 a package)" in words and words.count("kg") == 2


def test_the_code_says_reference_package_record_and_the_marks_of_each_face_to_another_reader() -> None:
    # ISO/IEC 18004 through an independent decoder, from the finished PDF at 150 dpi
    pdfium, zxing = pytest.importorskip("pypdfium2"), pytest.importorskip("zxingcpp")
    placement = laid()
    for sheets in (diagram_sheets(placement, ABOUT, A4), checklist_sheets(placement, ABOUT, A4)):
        image = pdfium.PdfDocument(to_pdf(sheets, title="t"))[0].render(scale=150 / 72).to_pil()
        (code,) = zxing.read_barcodes(image)
        assert code.text == spoken(placement, ABOUT)
    assert code.text.splitlines()[:3] == ["HR-1", "package A, 2 pcs", "record 3f9a77c2e1d0b45a"]
    assert "front: hazard-label 3; hazard-label 6.1;" in code.text and "left: orientation-arrows" in code.text


def test_nothing_is_drawn_of_what_lies_beyond_the_part_of_a_face_that_is_shown() -> None:
    far, low = Area(Face.FRONT, Box(2600, 1700, 200, 80), "far"), Area(Face.FRONT, Box(0, 0, 300, 60), "low")
    placement = laid(Solid.box(3000, 1000, 2000), label("3"), NUMBER, keep_clear=[far, low])
    placement = replace(placement, others=(far, low), carrier=far)
    view = CloseUp.fitting(placement, Face.FRONT, 124, 98)
    assert view.part.right < 2600 and view.part.y > 60
    pen = BoundsPen()
    view.draw(pen, 0, 0)
    assert pen.box.right <= view.width + 0.5 and pen.box.x >= -0.5


def test_diagram_and_checklist_have_a_bookmark_for_each_face_where_it_begins() -> None:
    pypdf = pytest.importorskip("pypdf")
    placement = laid()
    made = (*diagram_sheets(placement, ABOUT, A4), *checklist_sheets(placement, ABOUT, A4, [Step("Close it")]))
    pdf = pypdf.PdfReader(io.BytesIO(to_pdf(made, title="t")))
    (_, (diagram, drawn, checklist, listed)) = pdf.outline
    assert (diagram.title, checklist.title) == ("face placement diagram", "packing checklist")
    for faces in (drawn, listed):
        assert [face.title for face in faces] == ["front", "right", "left"]
    by_name = {face.title: face for face in listed}
    (page,) = {pdf.get_destination_page_number(face) for face in listed[:2]}
    heads = {c.text.split()[0].lower(): c.y for c in made[page].around if isinstance(c, Text) and "apply" in c.text}
    for name in ("front", "right"):  # the page opens at the heading, its capitals whole
        assert heads[name] * 72 / 25.4 < float(by_name[name]["/Top"]) < (heads[name] + 6) * 72 / 25.4


def test_a_code_of_nothing_and_one_too_long_are_refused() -> None:
    for words in ("", "x" * 4000):
        with pytest.raises(ValueError, match=r"says nothing|more than one"):
            matrix(words)
    pen = BoundsPen()
    draw_qr(pen, "HR-1", Box(5, 5, 30, 30))
    assert pen.box == pytest.approx(Box(5, 5, 30, 30))


def test_the_same_placement_gives_the_same_strokes() -> None:
    one, two = (diagram_sheets(laid(), ABOUT, A4) for _ in range(2))
    assert [s.around for s in one] == [s.around for s in two]


def test_many_marks_run_on_to_further_pages_with_the_titles_again() -> None:
    """First the drawings with a key, then the legend."""
    sheets = diagram_sheets(numerous(10), ABOUT, A4)
    assert len(sheets) > 2 and "No." not in texts(sheets[:1])
    assert all({"No.", "Mark", "Size"} <= set(texts((sheet,))) for sheet in sheets[1:])


def test_figures_that_would_fall_on_one_another_are_spread_and_keep_their_order() -> None:
    spots = spread([(10, 4), (10.5, 4), (11, 4), (40, 4)])
    assert spots == sorted(spots) and min(b - a for a, b in pairwise(spots)) >= 4 - 1e-9
    assert spots[-1] == 40 and sum(spots[:3]) / 3 == pytest.approx(10.5)


# --- the ladder ------------------------------------------------------------------------------------------------------


def test_a_decade_is_the_same_length_everywhere_on_the_ladder() -> None:
    scale = Scale.over([Decimal("0.03"), Decimal(60)], 160)
    assert (scale.low, scale.high) == (-2, 2)
    assert scale.at(Decimal("0.01")) == 0 and scale.at(Decimal(1)) == 80 and scale.at(Decimal(100)) == 160
    assert [amount(Decimal(10) ** n, "L") for n in (-2, 0, 1)] == ["10 mL", "1 L", "10 L"]
    assert amount(Decimal("0.1"), "kg") == "100 g"


def test_rungs_stand_at_their_quantity_and_no_two_labels_overlap() -> None:
    rungs = tuple(
        Rung(f"limit {n}", "package", Decimal(v), f"{v} L", "a column") for n, v in enumerate(("0.5", "1", "5", "60"))
    )
    ladder = Ladder("UN 1219", "L", rungs, Decimal(1), Decimal(4))
    pen = RecordingPen()
    block = ladder_block(ladder, 190)
    block.draw(pen, 0, block.height)
    words = {c.text: c for c in pen.value if isinstance(c, Text) and re.match(r"[\d.]+ L  ", c.text)}
    assert set(words) == {
        "0.5 L  limit 0",
        "1 L  limit 1",
        "5 L  limit 2",
        "60 L  limit 3",
        "1 L  this package",
        "4 L  this package",
    }
    below = sorted((round(c.y, 1), c.x) for t, c in words.items() if t != "1 L  this package")
    for (y, x), (other_y, other) in pairwise(below):
        assert y != other_y or other - x > 15
    probe = BoundsPen()
    pen.replay(probe)
    assert probe.box.y > -0.5 and probe.box.right <= 190.5


def test_a_ladder_without_a_rung_says_so() -> None:
    pen = RecordingPen()
    ladder_block(Ladder("UN 0336", "kg", (), None, Decimal(4)), 190).draw(pen, 0, 10)
    assert any("no quantity changes an answer" in text for text in pen.texts)


def test_twelve_marks_are_placed_in_fifty_milliseconds() -> None:
    wanted = [label(v) for v in ("3", "6.1", "8")] + [
        CARGO,
        FISH,
        NUMBER,
        NAME,
        SHIPPER,
        CONSIGNEE,
        NET,
        ARROWS,
        need("battery"),
    ]
    took = []
    for _ in range(7):
        start = time.perf_counter()
        place(Solid.box(600, 400, 400), wanted, (Mode.AIR,), forms=stand_ins)
        took.append(time.perf_counter() - start)
    assert min(took) < 0.05


def test_where_the_table_of_modes_goes_on_the_modes_are_named_again() -> None:
    from pathlib import Path

    from layouts.comparison import comparison_sheets
    from layouts.job import compare_file
    from layouts.place import place_package

    compared = compare_file(Path(__file__).parents[2] / "examples" / "isopropanol-three-modes.yaml")
    (package,), (one,) = compared.decided.record.packages, compared.packages
    placement = place_package(package, one.decision.marks, tuple(one.decision.modes))
    sheets = comparison_sheets(one, placement, ABOUT, A4)
    assert len(sheets) > 1
    for sheet in sheets:
        assert {"road", "sea", "air", "us-ground"} <= set(texts((sheet,)))


def test_a_limited_quantity_has_in_each_mode_s_picture_the_mark_of_that_mode() -> None:
    """One mark is printed for a journey with an air leg, the one with the Y; by road and sea the plain one is asked for: UN
    Model Regulations 3.4.7, ICAO TI 3;4.2 (from memory)."""
    from pathlib import Path

    from layouts.comparison import comparison_sheets, shown_by
    from layouts.job import compare_file
    from layouts.place import place_package
    from marks.terms import Mode

    compared = compare_file(Path(__file__).parents[2] / "examples" / "perfume-limited-quantity-by-air.yaml")
    (package,), (one,) = compared.decided.record.packages, compared.packages
    placement = place_package(package, one.decision.marks, tuple(one.decision.modes))
    (printed,) = (item for item in placement.items if item.requirement.mark.startswith("limited-quantity"))
    assert printed.requirement.mark == "limited-quantity-air"
    for mode in (Mode.ROAD, Mode.SEA, Mode.AIR):
        found = [
            item for item in shown_by(one, placement, mode) if item.requirement.mark.startswith("limited-quantity")
        ]
        assert [item.requirement.mark for item in found] == [
            "limited-quantity-air" if mode is Mode.AIR else "limited-quantity"
        ]
        assert (found[0].face, found[0].x, found[0].y) == (printed.face, printed.x, printed.y)
    assert comparison_sheets(one, placement, ABOUT, A4)
