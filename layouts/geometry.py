"""Points, boxes, paths and transforms, in mm. x runs right and y runs UP from the lower left corner, everywhere;
only the SVG writer turns y over."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice
from typing import NamedTuple

from msgspec import Struct

# Circles by four cubics: radial error 0.027 %, 0.014 mm at r = 50 mm.
KAPPA = 4 / 3 * (math.sqrt(2) - 1)


class Point(NamedTuple):
    """A point, mm; y runs up."""

    x: float
    y: float


class Box(NamedTuple):
    """A rectangle: lower left corner, width and height, mm."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def top(self) -> float:
        return self.y + self.height

    @property
    def centre(self) -> Point:
        return Point(self.x + self.width / 2, self.y + self.height / 2)

    def grown(self, by: float) -> Box:
        return Box(self.x - by, self.y - by, self.width + 2 * by, self.height + 2 * by)

    def moved(self, dx: float, dy: float) -> Box:
        return Box(self.x + dx, self.y + dy, self.width, self.height)

    def contains(self, other: Box, slack: float = 1e-6) -> bool:
        return (
            other.x >= self.x - slack
            and other.y >= self.y - slack
            and other.right <= self.right + slack
            and other.top <= self.top + slack
        )

    def overlaps(self, other: Box, slack: float = 1e-6) -> bool:
        return (
            self.x < other.right - slack
            and other.x < self.right - slack
            and self.y < other.top - slack
            and other.y < self.top - slack
        )


class Transform(NamedTuple):
    """x' = a x + c y + e; y' = b x + d y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @classmethod
    def moved(cls, dx: float, dy: float) -> Transform:
        return cls(e=dx, f=dy)

    @classmethod
    def scaled(cls, sx: float, sy: float | None = None) -> Transform:
        return cls(a=sx, d=sx if sy is None else sy)

    @classmethod
    def turned(cls, degrees: float) -> Transform:
        """Anticlockwise about the origin."""
        quarters: dict[float, tuple[float, float]] = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}
        quarter = quarters.get(degrees % 360)
        cos, sin = quarter or (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
        return cls(cos, sin, -sin, cos)

    def then(self, after: Transform) -> Transform:
        """This one first, then ``after``."""
        return Transform(
            self.a * after.a + self.b * after.c,
            self.a * after.b + self.b * after.d,
            self.c * after.a + self.d * after.c,
            self.c * after.b + self.d * after.d,
            self.e * after.a + self.f * after.c + after.e,
            self.e * after.b + self.f * after.d + after.f,
        )

    def point(self, x: float, y: float) -> Point:
        return Point(self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    @property
    def scale(self) -> float:
        """The factor on line widths, exact for similarities."""
        return math.sqrt(abs(self.a * self.d - self.b * self.c))

    @property
    def similar(self) -> bool:
        """Whether it keeps shapes: no shear, no mirror, the same scale both ways."""
        return math.isclose(self.a, self.d, abs_tol=1e-9) and math.isclose(self.b, -self.c, abs_tol=1e-9)


class Segment(NamedTuple):
    """One piece of a path: ``M`` and ``L`` with one point, ``C`` with three, ``Z`` with none."""

    op: str
    points: tuple[Point, ...] = ()


#: How many points a segment has.
_MANY = {"M": 1, "L": 1, "C": 3, "Z": 0}


class Path(Struct, frozen=True, cache_hash=True, gc=False):
    """An immutable row of segments; sub-paths are filled by the non-zero rule. ops: their letters; xy: the coordinates of all
    their points in one row. Nearly every stroke on every page is moved, said and looked up, and that is quickest in a row."""

    ops: str = ""
    xy: tuple[float, ...] = ()

    @classmethod
    def of(cls, segments: Iterable[Segment]) -> Path:
        ops: list[str] = []
        xy: list[float] = []
        for op, points in segments:
            ops.append(op)
            for point in points:
                xy += point
        return cls("".join(ops), tuple(xy))

    @classmethod
    def joined(cls, paths: Iterable[Path]) -> Path:
        """All of them as one, in their order."""
        given = list(paths)
        return cls("".join([one.ops for one in given]), tuple([v for one in given for v in one.xy]))

    def __iter__(self) -> Iterator[Segment]:
        points = iter(self.points)
        return (Segment(op, tuple(islice(points, _MANY[op]))) for op in self.ops)

    def __len__(self) -> int:
        """How many segments."""
        return len(self.ops)

    @property
    def points(self) -> list[Point]:
        """All points, those a curve is drawn to on its way included."""
        return [Point(x, y) for x, y in zip(self.xy[::2], self.xy[1::2], strict=True)]

    def transformed(self, by: Transform) -> Path:
        a, b, c, d, e, f = by
        xs, ys = self.xy[::2], self.xy[1::2]
        out = list(self.xy)
        if b or c:
            out[::2] = [a * x + c * y + e for x, y in zip(xs, ys, strict=True)]
            out[1::2] = [b * x + d * y + f for x, y in zip(xs, ys, strict=True)]
        else:
            out[::2] = [a * x + e for x in xs]
            out[1::2] = [d * y + f for y in ys]
        return Path(self.ops, tuple(out))

    def __add__(self, other: Path) -> Path:
        return Path(self.ops + other.ops, self.xy + other.xy)

    @property
    def bounds(self) -> Box:
        """The box of all points, control points included (never smaller than the drawn shape)."""
        if not self.xy:
            return Box(0, 0, 0, 0)
        xs, ys = self.xy[::2], self.xy[1::2]
        x0, y0 = min(xs), min(ys)
        return Box(x0, y0, max(xs) - x0, max(ys) - y0)


def _drawn(points: Iterable[tuple[float, float]], end: str) -> Path:
    xy = tuple(chain.from_iterable(points))
    return Path("M" + "L" * (len(xy) // 2 - 1) + end, xy)


def polygon(points: Iterable[tuple[float, float]]) -> Path:
    """A closed polygon."""
    return _drawn(points, "Z")


def polyline(points: Iterable[tuple[float, float]]) -> Path:
    """An open line, for stroking."""
    return _drawn(points, "")


def rectangle(box: Box, radius: float = 0.0) -> Path:
    """A rectangle, its corners rounded by ``radius``."""
    x0, y0, x1, y1 = box.x, box.y, box.right, box.top
    if radius <= 0:
        return Path("MLLLZ", (x0, y0, x1, y0, x1, y1, x0, y1))
    r, k = radius, radius * (1 - KAPPA)
    # fmt: off
    return Path("MLCLCLCLCZ", (
        x0 + r, y0, x1 - r, y0, x1 - k, y0, x1, y0 + k, x1, y0 + r, x1, y1 - r, x1, y1 - k, x1 - k, y1, x1 - r, y1,
        x0 + r, y1, x0 + k, y1, x0, y1 - k, x0, y1 - r, x0, y0 + r, x0, y0 + k, x0 + k, y0, x0 + r, y0,
    ))
    # fmt: on


def circle(cx: float, cy: float, r: float, clockwise: bool = False) -> Path:
    """A circle by four cubics; ``clockwise`` makes it a hole inside an anticlockwise outline."""
    k = KAPPA * r
    s = -1 if clockwise else 1
    # fmt: off
    return Path("MCCCCZ", (
        cx + r, cy, cx + r, cy + s * k, cx + k, cy + s * r, cx, cy + s * r, cx - k, cy + s * r, cx - r, cy + s * k, cx - r, cy,
        cx - r, cy - s * k, cx - k, cy - s * r, cx, cy - s * r, cx + k, cy - s * r, cx + r, cy - s * k, cx + r, cy,
    ))
    # fmt: on


def arc(cx: float, cy: float, r: float, start: float, end: float) -> list[Segment]:
    """Cubics along a circle from ``start`` to ``end`` degrees (either direction), without the first point."""
    pieces = max(1, math.ceil(abs(end - start) / 45))
    step = math.radians((end - start) / pieces)
    k = 4 / 3 * math.tan(step / 4) * r
    out = []
    for i in range(pieces):
        a0 = math.radians(start) + i * step
        a1 = a0 + step
        p0 = Point(cx + r * math.cos(a0), cy + r * math.sin(a0))
        p1 = Point(cx + r * math.cos(a1), cy + r * math.sin(a1))
        out.append(
            Segment(
                "C",
                (
                    Point(p0.x - k * math.sin(a0), p0.y + k * math.cos(a0)),
                    Point(p1.x + k * math.sin(a1), p1.y - k * math.cos(a1)),
                    p1,
                ),
            )
        )
    return out


def clipped(points: Sequence[tuple[float, float]], window: Sequence[tuple[float, float]]) -> list[Point]:
    """The part of a convex polygon inside a convex window (both anticlockwise); empty when they are apart."""
    out = [Point(*p) for p in points]
    for i, (ax, ay) in enumerate(window):
        bx, by = window[(i + 1) % len(window)]
        ring, out = out, []
        sides = [(bx - ax) * (p.y - ay) - (by - ay) * (p.x - ax) for p in ring]
        for j, p in enumerate(ring):
            q, here, there = ring[(j + 1) % len(ring)], sides[j], sides[(j + 1) % len(ring)]
            if here >= 0:
                out.append(p)
            if here * there < 0:
                t = here / (here - there)
                out.append(Point(p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)))
    return out
