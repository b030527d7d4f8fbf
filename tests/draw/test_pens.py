"""The pens, each by itself: what is recorded, what is measured, what the SVG says."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET

import pytest

from layouts.errors import MissingGlyph
from layouts.geometry import Box, Path, Transform, arc, circle, polygon, polyline, rectangle
from layouts.ink import BLACK, RED, WHITE, grey
from layouts.pdf import PdfBook
from layouts.pen import Pen, TransformPen, group
from layouts.probe import Begin, BoundsPen, End, Fill, RecordingPen, Stored, Stroke, Text
from layouts.svg import SvgPen
from tests.draw.measure import read_svg


def picture(pen: Pen) -> None:
    with group(pen, "picture", "A picture"):
        pen.fill(rectangle(Box(10, 10, 20, 30)), RED)
        pen.stroke(polyline([(0, 0), (10, 0)]), BLACK, 2, cap="round", dash=(1, 2))
        pen.text(5, 6, "Ab", "bold", 4, WHITE, turn=90)


def test_a_recording_is_the_calls_in_order_and_can_be_played_again() -> None:
    pen, again = RecordingPen(), RecordingPen()
    picture(pen)
    assert pen.value == (
        Begin("picture", "A picture"),
        Fill(rectangle(Box(10, 10, 20, 30)), RED),
        Stroke(polyline([(0, 0), (10, 0)]), BLACK, 2, "round", "miter", (1, 2)),
        Text(5, 6, "Ab", "bold", 4, WHITE, 90),
        End(),
    )
    pen.replay(again)
    assert again.value == pen.value
    assert pen.inks == (RED, BLACK, WHITE)
    assert pen.texts == ("Ab",)


def test_a_transforming_pen_moves_scales_and_turns_everything() -> None:
    pen = RecordingPen()
    picture(TransformPen(pen, Transform.scaled(2).then(Transform.turned(90)).then(Transform.moved(100, 0))))
    _, fill, stroke, text, _ = pen.value
    assert isinstance(fill, Fill)
    assert fill.path.bounds == pytest.approx((20, 20, 60, 40))
    assert isinstance(stroke, Stroke)
    assert (stroke.width, stroke.dash) == (4, (2, 4))
    assert isinstance(text, Text)
    assert (text.x, text.y, text.size, text.turn) == pytest.approx((88, 10, 8, 180))


def test_bounds_of_curves_are_those_of_the_curve_not_of_its_handles() -> None:
    pen = BoundsPen()
    pen.fill(circle(50, 40, 10), BLACK)
    assert pen.box == pytest.approx((40, 30, 20, 20), abs=1e-9)
    bulge = Path("MCZ", (0, 0, 0, 4, 3, 4, 3, 0))
    pen = BoundsPen()
    pen.fill(bulge, BLACK)
    assert pen.box == pytest.approx((0, 0, 3, 3))


@pytest.mark.parametrize(
    ("path", "style", "box"),
    (
        (polyline([(0, 0), (10, 0)]), {}, (0, -1, 10, 2)),
        (polyline([(0, 0), (10, 0)]), {"cap": "square"}, (-1, -1, 12, 2)),
        (polyline([(0, 0), (10, 0)]), {"cap": "round"}, (-1, -1, 12, 2)),
        (polygon([(0, 0), (10, 0), (10, 10), (0, 10)]), {}, (-1, -1, 12, 12)),
        # a mitred square on its point reaches half its width times the square root of two over each point
        (polygon([(10, 0), (0, 10), (-10, 0), (0, -10)]), {}, (-10 - 2**0.5, -10 - 2**0.5, 20 + 8**0.5, 20 + 8**0.5)),
        (polygon([(10, 0), (0, 10), (-10, 0), (0, -10)]), {"join": "round"}, (-11, -11, 22, 22)),
    ),
)
def test_bounds_of_strokes(path: Path, style: dict[str, str], box: tuple[float, ...]) -> None:
    pen = BoundsPen()
    pen.stroke(path, BLACK, 2, **style)
    assert pen.box == pytest.approx(box)


def test_bounds_of_text_are_those_of_its_outlines() -> None:
    """H of the bold cut is 0.693 em high (the font's own OS/2 table says so too)."""
    pen = BoundsPen()
    pen.text(10, 20, "H", "bold", 10, BLACK)
    assert pen.box.y == pytest.approx(20)
    assert pen.box.height == pytest.approx(6.93)
    pen = BoundsPen()
    pen.text(10, 20, "H", "bold", 10, BLACK, turn=90)
    assert pen.box.right == pytest.approx(10)
    assert pen.box.width == pytest.approx(6.93)


def test_bounds_of_nothing_is_an_error() -> None:
    with pytest.raises(ValueError, match="nothing was drawn"):
        _ = BoundsPen().box


def test_an_arc_keeps_to_its_circle() -> None:
    ends = [s.points[-1] for s in arc(5, 5, 3, 20, 300)]
    assert all(math.dist(p, (5, 5)) == pytest.approx(3) for p in ends)


# --- SVG -------------------------------------------------------------------------------------------------------------

SVG = "{http://www.w3.org/2000/svg}"


def svg(text: str = "outlines") -> ET.Element:
    pen = SvgPen(60, 50, text=text, title="A <title>")
    picture(pen)
    picture(pen)
    return ET.fromstring(pen.tostring())


def test_svg_has_millimetres_titles_and_ids_that_are_unique() -> None:
    root = svg()
    assert (root.attrib["width"], root.attrib["height"], root.attrib["viewBox"]) == ("60mm", "50mm", "0 0 60 50")
    assert root.findtext(f"{SVG}title") == "A <title>"
    groups = root.findall(f"{SVG}g")
    assert [g.attrib["id"] for g in groups] == ["picture", "picture-2"]
    assert [g.findtext(f"{SVG}title") for g in groups] == ["A picture"] * 2


def test_svg_turns_y_over_once() -> None:
    first = svg().find(f"{SVG}g/{SVG}path")
    assert first is not None
    assert first.attrib["d"] == "M10 40h20v-30h-20z"


def test_svg_text_is_outlines_unless_asked_to_stay_text() -> None:
    assert not svg().findall(f".//{SVG}text")
    live = svg("live").findall(f".//{SVG}text")
    assert [t.text for t in live] == ["Ab", "Ab"]
    assert live[0].attrib["transform"] == "rotate(-90 5 44)"
    assert live[0].attrib["font-family"].startswith("Fira Sans,")


def test_svg_keeps_a_letter_and_a_drawing_once() -> None:
    pen = SvgPen(60, 50)
    for n in range(5):
        pen.stored("drawing", Box(0, 0, 60, 50), picture, Transform.turned(10 * n))
    root = ET.fromstring(pen.tostring())
    assert [node.attrib["id"] for node in root.findall(f"{SVG}defs/*")] == ["_b41", "_b62", "drawing"]
    assert len(root.findall(f"{SVG}use")) == 5


def test_svg_puts_a_stored_drawing_where_its_transform_says() -> None:
    """Read back by the ruler of finished files: the same paints as when drawn in place."""
    by = Transform.scaled(0.7).then(Transform.turned(30)).then(Transform.moved(20, 5))
    stored, drawn = SvgPen(60, 50), SvgPen(60, 50)
    stored.stored("drawing", Box(0, 0, 60, 50), picture, by)
    picture(TransformPen(drawn, by))
    for one, other in zip(read_svg(stored.tostring()).paints, read_svg(drawn.tostring()).paints, strict=True):
        assert one.colour == other.colour
        assert one.box == pytest.approx(other.box, abs=0.002)


def test_svg_refers_to_nothing_outside() -> None:
    pen = SvgPen(60, 50)
    picture(pen)
    text = pen.tostring()
    for forbidden in ("<script", "<style", "url(", "<image", "@import", "data:"):
        assert forbidden not in text
    kept = {node.attrib["id"] for node in ET.fromstring(text).iter() if "id" in node.attrib}
    assert set(re.findall(r'href="(.*?)"', text)) <= {f"#{name}" for name in kept}


def test_svg_stays_plain_under_the_strict_checker_of_its_library() -> None:
    """svgwrite with debug=True refuses attributes SVG 1.1 does not have; every attribute we write passes."""
    import svgwrite

    strict = svgwrite.Drawing(size=("60mm", "50mm"), viewBox="0 0 60 50", debug=True)
    for node in svg().iter():
        given = {k.split("}")[-1].replace("-", "_"): v for k, v in node.attrib.items() if k not in ("d", "id")}
        if node.tag == f"{SVG}path":
            strict.add(strict.path(d=node.attrib["d"], **given))
        elif node.tag == f"{SVG}g":
            strict.add(strict.g(**given))
        elif node.tag == f"{SVG}use":
            strict.add(strict.use(given.pop("href"), **given))
    assert strict.tostring()


@pytest.mark.parametrize("ending", ("more", "fewer"))
def test_svg_refuses_groups_that_do_not_match(ending: str) -> None:
    pen = SvgPen(10, 10)
    if ending == "more":
        with pytest.raises(ValueError, match="never opened"):
            pen.end()
    else:
        pen.begin("a")
        with pytest.raises(ValueError, match="still open"):
            pen.tostring()


# --- a character the font does not have -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "pen", (SvgPen(10, 10), SvgPen(10, 10, text="live"), PdfBook(title="t").page(10, 10), BoundsPen())
)
def test_no_writer_draws_a_text_it_lacks_a_character_for(pen: Pen) -> None:
    with pytest.raises(MissingGlyph, match="U\\+5371 CJK UNIFIED IDEOGRAPH-5371"):
        pen.text(0, 0, "UN 危", "bold", 4, BLACK)


def test_letters_are_sheared_as_paths_and_turned_as_text() -> None:
    sheared, turned = Transform(1, 0.2, 0, 1, 3, 4), Transform.turned(30).then(Transform.moved(3, 4))
    for by, similar in ((sheared, False), (turned, True), (Transform.scaled(1, 2), False), (Transform.scaled(2), True)):
        assert by.similar is similar
        pen = RecordingPen()
        TransformPen(pen, by).text(1, 2, "Ab", "bold", 5, BLACK, turn=10)
        (call,) = pen.calls
        path = call.path if isinstance(call, Fill | Text) else None
        assert isinstance(call, Text) is similar and path is not None
        drawn = Text(1, 2, "Ab", "bold", 5, BLACK, 10).path.transformed(by)
        assert path.xy == pytest.approx(drawn.xy)


def test_a_stored_drawing_goes_through_pens_that_transform() -> None:
    """It is placed by both transforms, and still kept once."""
    pen, inner = RecordingPen(), RecordingPen()
    picture(inner)
    first, then = Transform.turned(20), Transform(1, 0.2, 0, 1, 3, 4)
    Stored("drawing", Box(0, 0, 60, 50), inner.value, first).onto(
        TransformPen(TransformPen(pen, then), Transform.scaled(2))
    )
    (call,) = pen.calls
    assert isinstance(call, Stored) and call.at == first.then(Transform.scaled(2)).then(then)


def test_greys_are_tints_of_black_alone() -> None:
    assert grey(40).cmyk == (0, 0, 0, 40)
