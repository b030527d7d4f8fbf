"""Shapes of straight lines and arcs, and their algebra: ``a | b`` joins, ``a & b`` keeps the common part, ``a - b``
takes away.

Every border is cut where it meets another; the pieces with the shape on exactly one side are the new border. Arcs
stay arcs: nothing is flattened. A shape's border runs anticlockwise round it and clockwise round its holes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from typing import Self

from layouts.artwork.symbols.edge import ASIDE, NEAR, Edge, meetings
from layouts.geometry import Path, Point, Segment, arc


class Solid:
    """A shape by its border."""

    def __init__(self, edges: Iterable[Edge]) -> None:
        self.edges = tuple(edges)

    def __contains__(self, p: Point) -> bool:
        x, y = p
        left, low, right, high = self._bounds
        if not (left <= x <= right and low <= y <= high):
            return False
        return sum([e.crossing(p) for start, end, e in self._upright if (start <= y) != (end <= y)]) != 0

    @cached_property
    def _upright(self) -> list[tuple[float, float, Edge]]:
        """The border in pieces that only rise or only fall, each after the heights at which it starts and ends."""
        return [(m.start.y, m.end.y, m) for e in self.edges for m in _monotone(e)]

    @cached_property
    def _boxes(self) -> list[tuple[float, float, float, float]]:
        return [e.bounds for e in self.edges]

    @cached_property
    def _bounds(self) -> tuple[float, float, float, float]:
        """Left, lower, right, upper; turned inside out for a shape without a border."""
        left, low, right, high = zip(*self._boxes, strict=True) if self.edges else ((1,), (1,), (0,), (0,))
        return min(left), min(low), max(right), max(high)

    def _apart(self, other: Solid) -> bool:
        """Whether the boxes round the two do not even touch."""
        (a, b, c, d), (e, f, g, h) = self._bounds, other._bounds
        return c < e - NEAR or g < a - NEAR or d < f - NEAR or h < b - NEAR

    def __or__(self, other: Solid) -> Solid:
        if self._apart(other):
            return Solid([*self.edges, *other.edges])
        return _combined(self, other, lambda a, b: a or b)

    def __and__(self, other: Solid) -> Solid:
        return Solid(()) if self._apart(other) else _combined(self, other, lambda a, b: a and b)

    def __sub__(self, other: Solid) -> Solid:
        return self if self._apart(other) else _combined(self, other, lambda a, b: a and not b)

    def mirrored(self, x: float = 0.0) -> Solid:
        """The mirror image at an upright line."""

        def flip(p: Point) -> Point:
            return Point(2 * x - p.x, p.y)

        edges = []
        for e in self.edges:
            image = Edge(flip(e.start), flip(e.end), flip(e.centre), e.radius, math.pi - e.a, math.pi - e.b)
            edges.append(image.turned())
        return Solid(edges)

    def both(self, x: float = 0.0) -> Solid:
        """Together with its mirror image."""
        return self | self.mirrored(x)

    def moved(self, dx: float, dy: float, turn: float = 0.0, scale: float = 1.0) -> Solid:
        """Made ``scale`` times as large and turned anticlockwise by ``turn`` degrees about the origin, then moved."""
        r = math.radians(turn)
        cos, sin = math.cos(r) * scale, math.sin(r) * scale

        def to(p: Point) -> Point:
            return Point(p.x * cos - p.y * sin + dx, p.x * sin + p.y * cos + dy)

        return Solid(Edge(to(e.start), to(e.end), to(e.centre), e.radius * scale, e.a + r, e.b + r) for e in self.edges)

    def path(self) -> Path:
        """The border as a path, one sub-path a ring."""
        out: list[Segment] = []
        for ring in rings(self.edges):
            out.append(Segment("M", (ring[0].start,)))
            for e in ring:
                if e.radius:
                    out += arc(e.centre.x, e.centre.y, e.radius, math.degrees(e.a), math.degrees(e.b))
                else:
                    out.append(Segment("L", (e.end,)))
            out.append(Segment("Z"))
        return Path.of(out)


class Trail:
    """A border as a hand draws it: ``Trail(x, y).line(...).bow(...).solid()``."""

    def __init__(self, x: float, y: float) -> None:
        self._at = self._first = Point(x, y)
        self._edges: list[Edge] = []

    def line(self, *points: tuple[float, float]) -> Self:
        for p in points:
            end = Point(*p)
            if math.dist(end, self._at) > NEAR:
                self._edges.append(Edge(self._at, end))
                self._at = end
        return self

    def bow(self, x: float, y: float, radius: float) -> Self:
        """The shorter arc to x, y; a positive radius turns left (anticlockwise), a negative one right."""
        ax, ay = self._at
        dx, dy = x - ax, y - ay
        chord, r = math.hypot(dx, dy), abs(radius)
        if chord > 2 * r + NEAR:
            raise ValueError(f"an arc of radius {r:g} cannot span {chord:g}")
        rise = math.sqrt(max(0.0, r * r - chord * chord / 4)) * (1 if radius > 0 else -1)
        return self._sweep(
            Point((ax + x) / 2 - dy / chord * rise, (ay + y) / 2 + dx / chord * rise), Point(x, y), radius > 0
        )

    def around(self, cx: float, cy: float, degrees: float) -> Self:
        """Along the circle about cx, cy by so many degrees, anticlockwise when positive."""
        r = math.radians(degrees)
        dx, dy = self._at.x - cx, self._at.y - cy
        a = math.atan2(dy, dx)
        end = Point(cx + dx * math.cos(r) - dy * math.sin(r), cy + dx * math.sin(r) + dy * math.cos(r))
        self._edges.append(Edge(self._at, end, Point(cx, cy), math.hypot(dx, dy), a, a + r))
        self._at = end
        return self

    def on(self, x: float, y: float) -> Self:
        """The arc to x, y that leaves without a kink from where the last edge ended."""
        last = self._edges[-1]
        nx, ny = last.left(1.0)
        dx, dy = x - self._at.x, y - self._at.y
        across = dx * nx + dy * ny
        if abs(across) < NEAR:
            return self.line((x, y))
        r = (dx * dx + dy * dy) / (2 * across)
        return self._sweep(Point(self._at.x + nx * r, self._at.y + ny * r), Point(x, y), r > 0)

    def into(self, x: float, y: float, heading: float) -> Self:
        """The arc to x, y that arrives there heading so many degrees."""
        h = math.radians(heading)
        nx, ny = -math.sin(h), math.cos(h)
        dx, dy = self._at.x - x, self._at.y - y
        across = dx * nx + dy * ny
        if abs(across) < NEAR:
            return self.line((x, y))
        r = (dx * dx + dy * dy) / (2 * across)
        return self._sweep(Point(x + nx * r, y + ny * r), Point(x, y), r > 0)

    def _sweep(self, centre: Point, end: Point, left: bool) -> Self:
        a = math.atan2(self._at.y - centre.y, self._at.x - centre.x)
        b = math.atan2(end.y - centre.y, end.x - centre.x)
        b = a + (b - a) % math.tau if left else a - (a - b) % math.tau
        self._edges.append(Edge(self._at, end, centre, math.dist(self._at, centre), a, b))
        self._at = end
        return self

    def solid(self) -> Solid:
        """Close the border; it is turned to run anticlockwise."""
        if math.dist(self._at, self._first) > NEAR:
            self.line(self._first)
        edges = self._edges
        edges[-1] = edges[-1]._replace(end=self._first)  # the same point to the last digit: see ``rings``
        if _area(edges) < 0:
            edges = [e.turned() for e in reversed(edges)]
        return Solid(edges)


# --- primitives ------------------------------------------------------------------------------------------------------


def disc(cx: float, cy: float, radius: float) -> Solid:
    """A full circle."""
    return Trail(cx + radius, cy).around(cx, cy, 180).around(cx, cy, 180).solid()


def polygon(*points: tuple[float, float]) -> Solid:
    """The inside of a closed line through ``points``."""
    return Trail(*points[0]).line(*points[1:]).solid()


def box(x0: float, y0: float, x1: float, y1: float) -> Solid:
    """An upright rectangle by two opposite corners."""
    return polygon((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def rounded(points: Sequence[tuple[float, float]], radius: float | Sequence[float]) -> Solid:
    """A polygon with its corners rounded by true arcs; one radius for all or one each (0 keeps a corner sharp)."""
    n = len(points)
    radii = [float(radius)] * n if isinstance(radius, (int, float)) else list(radius)
    trail: Trail | None = None
    for i, r in enumerate(radii):
        a, b, c = (Point(*points[j % n]) for j in (i - 1, i, i + 1))
        la, lc = math.dist(a, b), math.dist(c, b)
        ux, uy, vx, vy = (a.x - b.x) / la, (a.y - b.y) / la, (c.x - b.x) / lc, (c.y - b.y) / lc
        half = math.acos(max(-1.0, min(1.0, ux * vx + uy * vy))) / 2
        cut = r / math.tan(half) if r else 0.0
        first, last = (b.x + ux * cut, b.y + uy * cut), (b.x + vx * cut, b.y + vy * cut)
        trail = Trail(*first) if trail is None else trail.line(first)
        if r:
            left = ux * vy - uy * vx < 0
            trail.bow(*last, r if left else -r)
    assert trail is not None
    return trail.solid()


def plate(x0: float, y0: float, x1: float, y1: float, radius: float) -> Solid:
    """An upright rectangle, rounded."""
    return rounded([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], radius)


def rod(x0: float, y0: float, x1: float, y1: float, width: float) -> Solid:
    """A straight stroke with round ends."""
    r = width / 2
    length = math.hypot(x1 - x0, y1 - y0)
    nx, ny = (y0 - y1) / length * r, (x1 - x0) / length * r
    trail = Trail(x0 - nx, y0 - ny).line((x1 - nx, y1 - ny)).around(x1, y1, 180)
    return trail.line((x0 + nx, y0 + ny)).around(x0, y0, 180).solid()


def band(cx: float, cy: float, radius: float, width: float, start: float, end: float) -> Solid:
    """A bent stroke with round ends: along a circle from ``start`` to ``end`` degrees, anticlockwise."""
    a, b, r = math.radians(start), math.radians(end), width / 2
    outer, inner = radius + r, radius - r
    trail = Trail(cx + outer * math.cos(a), cy + outer * math.sin(a)).around(cx, cy, end - start)
    trail.around(cx + radius * math.cos(b), cy + radius * math.sin(b), 180)
    assert inner > 0
    return trail.around(cx, cy, start - end).around(cx + radius * math.cos(a), cy + radius * math.sin(a), 180).solid()


def union(*solids: Solid) -> Solid:
    """All of them as one shape."""
    first, *rest = solids
    for s in rest:
        first = first | s
    return first


# --- how it works ----------------------------------------------------------------------------------------------------


def _monotone(e: Edge) -> list[Edge]:
    """An arc cut at the top and bottom of its circle."""
    if not e.radius:
        return [e]
    low, high = sorted((e.a, e.b))
    stops = [(k + 0.5) * math.pi for k in range(math.floor(low / math.pi) - 1, math.ceil(high / math.pi) + 1)]
    ts = sorted((s - e.a) / (e.b - e.a) for s in stops if low + 1e-12 < s < high - 1e-12)
    cuts = [0.0, *ts, 1.0]
    return [e.piece(t0, t1) for t0, t1 in pairwise(cuts)]


def _combined(one: Solid, two: Solid, rule: Callable[[bool, bool], bool]) -> Solid:
    border: dict[tuple[float, ...], Edge] = {}
    for piece in [*_bordering(one, two, rule), *_bordering(two, one, lambda second, first: rule(first, second))]:
        key = tuple(round(v, 4) for p in (piece.start, piece.end, piece.at(0.5)) for v in p)
        border.setdefault(key, piece)  # borders that lie on each other count once
    return Solid(e for ring in rings(border.values()) for e in ring)


def _bordering(shape: Solid, other: Solid, rule: Callable[[bool, bool], bool]) -> Iterator[Edge]:
    """The pieces of a shape's border that border what the rule keeps, with that to their left; cut where the other's border
    meets them, as its own edges meet at their ends alone."""
    for e, (left, low, right, high) in zip(shape.edges, shape._boxes, strict=True):
        left, low, right, high = left - NEAR, low - NEAR, right + NEAR, high + NEAR
        cuts = {0.0, 1.0}
        for f, (x0, y0, x1, y1) in zip(other.edges, other._boxes, strict=True):
            if x0 <= right and x1 >= left and y0 <= high and y1 >= low:
                for p in meetings(e, f):
                    t = e.parameter(p)
                    if t is not None and f.parameter(p) is not None:
                        cuts.add(t)
        stops = sorted(cuts)
        length = math.dist(e.start, e.end) if not e.radius else e.radius * abs(e.b - e.a)
        stops = [t for k, t in enumerate(stops) if k == 0 or (t - stops[k - 1]) * length > NEAR]
        stops[-1] = 1.0
        for t0, t1 in pairwise(stops):
            middle = (t0 + t1) / 2
            p, (nx, ny) = e.at(middle), e.left(middle)
            kept = rule(True, Point(p.x + nx * ASIDE, p.y + ny * ASIDE) in other)  # the shape lies left of its border
            if kept != rule(False, Point(p.x - nx * ASIDE, p.y - ny * ASIDE) in other):
                piece = e.piece(t0, t1)
                yield piece if kept else piece.turned()


def rings(edges: Iterable[Edge]) -> list[list[Edge]]:
    """Edges put in order, each ring where the next edge begins at the last one's end.

    Their ends are made the same point to the last digit, so that a level line through it is never counted twice or not.
    """
    left = list(edges)
    rings = []
    while left:
        ring = [left.pop(0)]
        while math.dist(end := ring[-1].end, ring[0].start) > 1e-4:
            # Mostly the next is the next of the shape it comes from.
            off = [0.0] if left and left[0].start == end else [math.dist(e.start, end) for e in left]
            if not off or (least := min(off)) > 1e-3:
                raise ValueError(f"a border breaks off at {end}")
            ring.append(left.pop(off.index(least))._replace(start=end))
        ring[-1] = ring[-1]._replace(end=ring[0].start)
        rings.append(ring)
    return rings


def _area(edges: Iterable[Edge]) -> float:
    """What a border goes round anticlockwise: half the sum of x dy - y dx along it."""
    total = 0.0
    for e in edges:
        if e.radius:
            along = e.centre.x * (e.end.y - e.start.y) - e.centre.y * (e.end.x - e.start.x)
            total += along + e.radius**2 * (e.b - e.a)
        else:
            total += e.start.x * e.end.y - e.end.x * e.start.y
    return total / 2
