"""Pens that write nothing: one remembers what was drawn, one measures how much room it takes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cache, partial
from typing import NamedTuple

from layouts.geometry import Box, Path, Point, Transform
from layouts.ink import BLACK, Ink
from layouts.letters import check_glyphs, font_measures, glyph, outline, set_in
from layouts.pen import Pen, TransformPen


class Fill(NamedTuple):
    """A filled path."""

    path: Path
    ink: Ink

    def onto(self, pen: Pen) -> None:
        pen.fill(self.path, self.ink)


class Stroke(NamedTuple):
    """A drawn line; width and dashes in mm."""

    path: Path
    ink: Ink
    width: float
    cap: str
    join: str
    dash: tuple[float, ...]

    def onto(self, pen: Pen) -> None:
        pen.stroke(self.path, self.ink, self.width, cap=self.cap, join=self.join, dash=self.dash)


class Text(NamedTuple):
    """A line of text; x, y and size (the em) in mm."""

    x: float
    y: float
    text: str
    font: str
    size: float
    ink: Ink
    turn: float

    @property
    def path(self) -> Path:
        """Its letters, where they stand. MissingGlyph as ``letters.outline``."""
        at = Transform.turned(self.turn).then(Transform.moved(self.x, self.y))
        return outline(self.text, self.font, self.size).transformed(at)

    def onto(self, pen: Pen) -> None:
        pen.text(self.x, self.y, self.text, self.font, self.size, self.ink, turn=self.turn)


class Begin(NamedTuple):
    """The beginning of a group."""

    ident: str
    title: str

    def onto(self, pen: Pen) -> None:
        pen.begin(self.ident, self.title)


class End(NamedTuple):
    """The end of a group."""

    def onto(self, pen: Pen) -> None:
        pen.end()


#: How the key of a drawing begins that comes back in other files: artwork, which is the same wherever it stands.
LASTING = "drawing-"


class Stored(NamedTuple):
    """A drawing that may stand in more places than one; key: the same for the same strokes; box: around them, mm."""

    key: str
    box: Box
    calls: tuple[Call, ...]
    at: Transform

    def onto(self, pen: Pen) -> None:
        """A pen that can keep a drawing (``stored``) draws it once; for any other but one that records it is drawn here."""
        if isinstance(pen, TransformPen):
            self._replace(at=self.at.then(pen.by)).onto(pen.pen)
        elif (stored := getattr(pen, "stored", None)) is not None:
            stored(self.key, self.box, partial(_replay, self.calls), self.at)
        elif isinstance(pen, RecordingPen):
            pen.calls.append(self)
        else:
            _replay(self.calls, TransformPen(pen, self.at))


Call = Fill | Stroke | Text | Begin | End | Stored


class RecordingPen:
    """Remembers every call in order. ``replay`` draws them again; ``value`` tells whether two drawings are the same."""

    def __init__(self, calls: Iterable[Call] = ()) -> None:
        self.calls: list[Call] = list(calls)

    def fill(self, path: Path, ink: Ink) -> None:
        self.calls.append(Fill(path, ink))

    def stroke(
        self,
        path: Path,
        ink: Ink,
        width: float,
        *,
        cap: str = "butt",
        join: str = "miter",
        dash: tuple[float, ...] = (),
    ) -> None:
        self.calls.append(Stroke(path, ink, width, cap, join, dash))

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        self.calls.append(Text(x, y, text, font, size, ink, turn))

    def begin(self, ident: str, title: str = "") -> None:
        self.calls.append(Begin(ident, title))

    def end(self) -> None:
        self.calls.append(End())

    @property
    def value(self) -> tuple[Call, ...]:
        """The drawing as a hashable value."""
        return tuple(self.calls)

    @property
    def inks(self) -> tuple[Ink, ...]:
        """The inks used, each once, in the order of first use."""
        return tuple(dict.fromkeys(c.ink for c in _plain(self.calls) if isinstance(c, Fill | Stroke | Text)))

    @property
    def texts(self) -> tuple[str, ...]:
        """Every line of text, in drawing order."""
        return tuple(c.text for c in _plain(self.calls) if isinstance(c, Text))

    def replay(self, pen: Pen) -> None:
        _replay(self.calls, pen)


def _replay(calls: Iterable[Call], pen: Pen) -> None:
    for call in calls:
        call.onto(pen)


def _plain(calls: Iterable[Call]) -> Iterator[Call]:
    """The calls of stored drawings too, as they stand in those."""
    for call in calls:
        yield from _plain(call.calls) if isinstance(call, Stored) else (call,)


def _runs(path: Path) -> Iterator[tuple[list[Point], bool]]:
    """Every sub-path as its points, curves cut into short chords, and whether it is closed."""
    points: list[Point] = []
    for op, given in path:
        if op == "M":
            if points:
                yield points, False
            points = [given[0]]
        elif op == "L":
            points.append(given[0])
        elif op == "C":
            p0, (p1, p2, p3) = points[-1], given
            for i in range(1, 33):
                t = i / 32
                u = 1 - t
                a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
                points.append(
                    Point(a * p0.x + b * p1.x + c * p2.x + d * p3.x, a * p0.y + b * p1.y + c * p2.y + d * p3.y)
                )
        elif op == "Z":
            yield points, True
            points = points[:1]
    if len(points) > 1:
        yield points, False


def _extremes(p0: float, p1: float, p2: float, p3: float) -> Iterator[float]:
    """Where a cubic's one coordinate turns, inside its run."""
    a, b, c = -p0 + 3 * p1 - 3 * p2 + p3, 2 * (p0 - 2 * p1 + p2), p1 - p0
    if abs(a) < 1e-12:
        roots = [-c / b] if abs(b) > 1e-12 else []
    else:
        under = b * b - 4 * a * c
        roots = [(-b + s * math.sqrt(under)) / (2 * a) for s in (1, -1)] if under >= 0 else []
    for t in roots:
        if 0 < t < 1:
            u = 1 - t
            yield u * u * u * p0 + 3 * u * u * t * p1 + 3 * u * t * t * p2 + t * t * t * p3


class BoundsPen:
    """Measures the smallest box around everything drawn: curves by their true extremes, text by its outlines, strokes
    by their width with the points of mitred corners. A stroke along a curve is measured by short chords (0.01 mm)."""

    def __init__(self) -> None:
        self._x: list[float] = []
        self._y: list[float] = []

    @property
    def box(self) -> Box:
        """The box in mm. ValueError while nothing was drawn."""
        if not self._x:
            raise ValueError("nothing was drawn, so there is no box")
        x, y = min(self._x), min(self._y)
        return Box(x, y, max(self._x) - x, max(self._y) - y)

    def fill(self, path: Path, ink: Ink) -> None:
        if "C" not in path.ops:
            self._x += path.xy[::2]
            self._y += path.xy[1::2]
            return
        at = Point(0, 0)
        for _, points in path:
            if len(points) == 3:
                p1, p2, p3 = points
                self._x += _extremes(at.x, p1.x, p2.x, p3.x)
                self._y += _extremes(at.y, p1.y, p2.y, p3.y)
            if points:
                at = points[-1]
                self._x.append(at.x)
                self._y.append(at.y)

    def stroke(
        self,
        path: Path,
        ink: Ink,
        width: float,
        *,
        cap: str = "butt",
        join: str = "miter",
        dash: tuple[float, ...] = (),
    ) -> None:
        h = width / 2
        for points, closed in _runs(path):
            unique = [p for i, p in enumerate(points) if i == 0 or math.dist(p, points[i - 1]) > 1e-9]
            if closed and len(unique) > 1 and math.dist(unique[0], unique[-1]) <= 1e-9:
                unique.pop()
            if len(unique) < 2:
                continue
            pairs = list(zip(unique, unique[1:] + (unique[:1] if closed else []), strict=False))
            ways = [((b.x - a.x) / (n := math.dist(a, b)), (b.y - a.y) / n) for a, b in pairs]
            for i, ((a, b), (dx, dy)) in enumerate(zip(pairs, ways, strict=True)):
                ends_a, ends_b = (not closed and i == 0), (not closed and i == len(pairs) - 1)
                for p, at_end, sign in ((a, ends_a, -1), (b, ends_b, 1)):
                    reach = h if at_end and cap == "square" else 0.0
                    for side in (h, -h):
                        self._x.append(p.x - dy * side + sign * dx * reach)
                        self._y.append(p.y + dx * side + sign * dy * reach)
                    if (at_end and cap == "round") or (not at_end and join == "round"):
                        self._x += (p.x - h, p.x + h)
                        self._y += (p.y - h, p.y + h)
            if join == "miter":
                corners = range(len(ways)) if closed else range(1, len(ways))
                for i in corners:
                    (ux, uy), (vx, vy) = ways[i - 1], ways[i]
                    half = math.sqrt(max(0.0, (1 + ux * vx + uy * vy) / 2))  # cosine of half the turn
                    if half > 0.1:  # the writers' mitre limit of 10
                        p, reach = pairs[i][0], h / half
                        bx, by = ux - vx, uy - vy
                        if (n := math.hypot(bx, by)) > 1e-9:
                            self._x.append(p.x + bx / n * reach)
                            self._y.append(p.y + by / n * reach)

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        if turn % 360:
            self.fill(Text(x, y, text, font, size, ink, turn).path, ink)
            return
        check_glyphs(text, font)
        font = set_in(text, font)
        advances = font_measures(font).advances
        for ch in text:
            if (box := _letter_box(ch, font)) is not None:
                self._x += (x + box.x * size, x + box.right * size)
                self._y += (y + box.y * size, y + box.top * size)
            x += advances[ord(ch)] * size

    def begin(self, ident: str, title: str = "") -> None: ...

    def end(self) -> None: ...


@cache
def _letter_box(ch: str, font: str) -> Box | None:
    """The box of a letter, em 1; None of a space."""
    drawn, pen = glyph(ch, font), BoundsPen()
    pen.fill(drawn, BLACK)
    return pen.box if drawn else None
