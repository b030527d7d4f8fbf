"""A label of one colour with its symbol, line and figure spared out, so that what lies under it shows through.

Where "white" is painted, it stands on the stock's white; a label printed on the receptacle itself, or on clear film, has no
such white. Here the colour is one shape with holes.
"""

from __future__ import annotations

from layouts.artwork.base import DIAGONAL, _Wrapped, diamond
from layouts.artwork.label import HazardLabel
from layouts.geometry import Path, Point, Segment, Transform, polygon
from layouts.ink import WHITE, Ink
from layouts.pen import Pen, group
from layouts.probe import Fill, RecordingPen, Text

#: How far under the label its bleed reaches, mm: no hairline parts them.
UNDER = 1.0


class Spared(_Wrapped, frozen=True):
    """Of a label whose ground is one colour and all else white."""

    whole: HazardLabel

    @property
    def by(self) -> Transform:
        return Transform()

    @property
    def width(self) -> float:
        return self.whole.width

    height = width

    @property
    def side(self) -> float:
        return self.whole.side

    @property
    def shape(self) -> str:
        return self.whole.shape

    @property
    def note(self) -> str:
        return self.whole.note

    @property
    def reduced(self) -> bool:
        return self.whole.reduced

    @property
    def step(self) -> int:
        return self.whole.step

    @property
    def title(self) -> str:
        return self.whole.title

    @property
    def ink(self) -> Ink:
        return self.whole.colours.upper

    def draw(self, pen: Pen) -> None:
        spared = RecordingPen()
        self.whole.draw(spared)
        shape = polygon(diamond(self.side))
        for call in spared.calls:
            if isinstance(call, Fill | Text) and call.ink is WHITE:
                shape += hole(call.path)
        with group(pen, f"hazard-label-{self.whole.variant}", self.title):
            pen.fill(shape, self.ink)

    def draw_bleed(self, pen: Pen, by: float) -> None:
        """A ring, for nothing may lie under what is spared out."""
        m = self.side / DIAGONAL
        inside = diamond(self.side, (m, m), UNDER)
        with group(pen, "bleed", "Bleed"):
            pen.fill(polygon(diamond(self.side, (m, m), -by)) + polygon(inside[::-1]), self.ink)


def hole(path: Path) -> Path:
    """The path run so that what it covers is a hole in an anticlockwise shape."""
    return path if area(path) < 0 else backwards(path)


def area(path: Path) -> float:
    """Of the polygon through all corners and handles: its sign tells which way the path runs."""
    total, start, here = 0.0, Point(0, 0), Point(0, 0)
    for op, points in path:
        if op == "M":
            start = here = points[0]
        for q in points or (start,):
            total += here.x * q.y - here.y * q.x
            here = q
    return total / 2


def backwards(path: Path) -> Path:
    """Every sub-path run the other way; they are taken as closed."""
    out: list[Segment] = []
    ends: list[tuple[Point, Segment]] = []  # where each segment begins, and the segment
    here = Point(0, 0)
    for segment in path:
        if segment.op == "M":
            here = segment.points[0]
        elif segment.op == "Z":
            out.append(Segment("M", (here,)))
            for begin, (op, points) in reversed(ends):
                out.append(Segment(op, (*points[-2::-1], begin)))
            out.append(Segment("Z"))
            ends = []
        else:
            ends.append((here, segment))
            here = segment.points[-1]
    return Path.of(out)
