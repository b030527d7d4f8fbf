"""A symbol: one drawing, one ink, on its own grid (y up, units of its own), to be fitted into any box."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import cached_property

from msgspec import Struct

from layouts.artwork.symbols.solid import Solid
from layouts.geometry import Box, Path, Point, Transform


class Symbol(Struct, frozen=True, dict=True):
    """name: for people; path: the whole drawing: solid parts run anticlockwise, holes clockwise; axis: the upright
    line about which it is balanced, by the eye."""

    name: str
    path: Path
    at_axis: float | None = None

    @classmethod
    def of(cls, name: str, *solids: Solid) -> Symbol:
        """A symbol of parts that do not overlap."""
        return cls(name, Path.joined(solid.path() for solid in solids))

    @cached_property
    def axis(self) -> float:
        """x of the upright line the eye takes for its middle: stated, or the middle of its box."""
        return self.bounds.x + self.bounds.width / 2 if self.at_axis is None else self.at_axis

    @cached_property
    def reaches(self) -> tuple[float, float]:
        """The largest sums of distance from the axis and height, and of distance from the axis and depth, about the
        grid's y = 0: what a square on its point must hold above and below."""
        axis, points = self.axis, self.points
        return max(abs(p.x - axis) + p.y for p in points), max(abs(p.x - axis) - p.y for p in points)

    def reach(self, below: bool = False) -> float:
        """The largest sum of distance from the axis and height above the foot (or depth below the head): how much of a
        square's upper (or lower) point it fills."""
        level = self.bounds.top if below else self.bounds.y
        return max(abs(p.x - self.axis) + abs(p.y - level) for p in self.points)

    @cached_property
    def points(self) -> list[Point]:
        """Points on the drawing, close enough to measure it by."""
        return flattened(self.path)

    @cached_property
    def bounds(self) -> Box:
        return extent(self.path)

    def fitted(self, box: Box, align: float = 0.5, rise: float = 0.0) -> Path:
        """The drawing as large as fits into ``box`` in its own proportion; ``align`` and ``rise`` (0 to 1) place it
        in the room left over, from the left and from the bottom."""
        b = self.bounds
        k = min(box.width / b.width, box.height / b.height)
        x = box.x + (box.width - b.width * k) * align
        y = box.y + (box.height - b.height * k) * rise
        return self.path.transformed(Transform(k, 0, 0, k, x - b.x * k, y - b.y * k))


def extent(path: Path) -> Box:
    """The exact box of a path: curves by their extremes, not by their control points."""
    xs: list[float] = []
    ys: list[float] = []
    at = Point(0, 0)
    for s in path:
        if s.op == "C":
            for axis, out in ((0, xs), (1, ys)):
                p = (at[axis], *(q[axis] for q in s.points))
                out += (p[0], p[3], *(_bezier(p, t) for t in _turning(p)))
        elif s.points:
            xs.append(s.points[0].x)
            ys.append(s.points[0].y)
        if s.points:
            at = s.points[-1]
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def flattened(path: Path, steps: int = 8) -> list[Point]:
    """Points on a path: its corners, and ``steps`` along every curve."""
    out: list[Point] = []
    for s in path:
        if s.op == "C":
            p = [out[-1], *s.points]
            out += [Point(*(_bezier([q[k] for q in p], i / steps) for k in (0, 1))) for i in range(1, steps + 1)]
        elif s.points:
            out.append(s.points[0])
    return out


def _bezier(p: Sequence[float], t: float) -> float:
    u = 1 - t
    return u**3 * p[0] + 3 * u * u * t * p[1] + 3 * u * t * t * p[2] + t**3 * p[3]


def _turning(p: Sequence[float]) -> Iterable[float]:
    """Where a cubic turns: roots of its derivative in 0..1."""
    a = -p[0] + 3 * p[1] - 3 * p[2] + p[3]
    b = 2 * (p[0] - 2 * p[1] + p[2])
    c = p[1] - p[0]
    if abs(a) < 1e-9:
        roots = [-c / b] if abs(b) > 1e-9 else []
    else:
        d = b * b - 4 * a * c
        roots = [(-b + s * math.sqrt(d)) / (2 * a) for s in (1, -1)] if d >= 0 else []
    return [t for t in roots if 0 < t < 1]
