"""A pen whose every point is mapped: what is flat becomes a picture of it in space."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from layouts.geometry import Path, Point, Segment, Transform
from layouts.ink import Ink
from layouts.pen import Pen
from layouts.probe import Text

Map = Callable[[float, float], Point]


def flat(at: Map) -> Transform:
    """A map that keeps lines straight and parallel: known by where it puts three points."""
    o, x, y = at(0, 0), at(1, 0), at(0, 1)
    return Transform(x.x - o.x, x.y - o.y, y.x - o.x, y.y - o.y, o.x, o.y)


class MapPen:
    """Hands everything on with each point mapped; ``bent``: straight lines become curves, so they are cut into short
    ones. A map that is not bent is ``flat``."""

    def __init__(self, pen: Pen, at: Map, scale: float, bent: bool) -> None:
        self._pen, self._at, self._scale, self._bent = pen, at, scale, bent
        self._flat = flat(at)

    def _path(self, path: Path) -> Path:
        return Path.of(_fine(path, self._at)) if self._bent else path.transformed(self._flat)

    def fill(self, path: Path, ink: Ink) -> None:
        self._pen.fill(self._path(path), ink)

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
        k = self._scale
        self._pen.stroke(self._path(path), ink, width * k, cap=cap, join=join, dash=tuple(d * k for d in dash))

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        self.fill(Text(x, y, text, font, size, ink, turn).path, ink)

    def begin(self, ident: str, title: str = "") -> None:
        self._pen.begin(ident, title)

    def end(self) -> None:
        self._pen.end()


def _fine(path: Path, at: Map, step: float = 6.0) -> Iterator[Segment]:
    """The path in mapped pieces no longer than ``step`` mm."""
    here = start = Point(0, 0)
    for op, points in path:
        if op == "M":
            here = start = points[0]
            yield Segment("M", (at(*here),))
        elif op == "Z":
            yield from (Segment("L", (at(*p),)) for p in _between(here, start, step))
            yield Segment("Z")
            here = start
        elif op == "L":
            yield from (Segment("L", (at(*p),)) for p in _between(here, points[0], step))
            here = points[0]
        else:
            a, b, end = points
            long = math.dist(here, a) + math.dist(a, b) + math.dist(b, end)
            n = max(2, min(24, math.ceil(long / step)))
            for i in range(1, n + 1):
                t = i / n
                u = 1 - t
                x, y = (
                    u**3 * p + 3 * u * u * t * q + 3 * u * t * t * r + t**3 * s
                    for p, q, r, s in zip(here, a, b, end, strict=True)
                )
                yield Segment("L", (at(x, y),))
            here = end


def _between(a: Point, b: Point, step: float) -> Iterator[Point]:
    n = max(1, math.ceil(math.dist(a, b) / step))
    for i in range(1, n + 1):
        yield Point(a.x + (b.x - a.x) * i / n, a.y + (b.y - a.y) * i / n)
