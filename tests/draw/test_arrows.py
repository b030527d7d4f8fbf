"""Measure arrows: a long length's line lies outside the drawing whichever way it is given, its figure can be read."""

from __future__ import annotations

import pytest

from layouts.arrows import Outline, arrow
from layouts.geometry import Box, Point
from layouts.ink import BLACK
from layouts.probe import RecordingPen, Stroke, Text

DRAWING = Outline(Box(0, 0, 100, 80), on_point=False)
POINT = Outline(Box(0, 0, 100, 100), on_point=True)
SIDES = {"below": ((0, 0), (100, 0)), "above": ((0, 80), (100, 80)), "left": ((0, 0), (0, 80)), "right": ((100, 0), (100, 80))}


@pytest.mark.parametrize("back", [False, True], ids=["given", "backwards"])
@pytest.mark.parametrize("side", SIDES)
def test_a_long_length_is_drawn_beside_its_edge_outside(side: str, back: bool) -> None:
    a, b = (Point(*end) for end in (reversed(SIDES[side]) if back else SIDES[side]))
    pen = RecordingPen()
    arrow(pen, a, b, "100 mm", DRAWING)
    boxes = [call.path.bounds for call in pen.calls if isinstance(call, Stroke) and call.ink == BLACK]
    assert all(not DRAWING.box.grown(-0.01).overlaps(box) for box in boxes)
    line = max(boxes, key=lambda box: box.width + box.height)
    assert max(line.width, line.height) == pytest.approx(100 if side in ("below", "above") else 80)
    (figure,) = (call for call in pen.calls if isinstance(call, Text))
    assert figure.turn == pytest.approx(0) if side in ("below", "above") else abs(figure.turn) == pytest.approx(90)
    assert not DRAWING.holds(Point(figure.x, figure.y))


def test_a_short_length_gets_arrows_from_outside_and_its_figure_beyond_the_drawing() -> None:
    for outline in (DRAWING, POINT):
        middle = outline.box.centre
        pen = RecordingPen()
        box = arrow(pen, Point(middle.x, outline.box.top - 6), Point(middle.x, outline.box.top - 4), "2 mm", outline)
        assert box.y > outline.box.top and abs(box.centre.x - middle.x) < box.width
        assert outline.way_out(Point(middle.x, middle.y), 1, 0) == pytest.approx(outline.box.width / 2, abs=0.3)
        assert outline.way_out(Point(-50, -50), 1, 0) == 0
