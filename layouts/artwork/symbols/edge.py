"""A piece of a border: a straight line or an arc, and where two of them meet."""

from __future__ import annotations

import math
from typing import NamedTuple

from layouts.geometry import Point

#: How far beside a border its two sides are tried, and how near two points count as one; grid units (a symbol is
#: about 100).
ASIDE, NEAR = 1e-4, 1e-6


class Edge(NamedTuple):
    """A straight line (radius 0), or an arc about ``centre`` from angle ``a`` to ``b``, radians, either way round."""

    start: Point
    end: Point
    centre: Point = Point(0, 0)
    radius: float = 0.0
    a: float = 0.0
    b: float = 0.0

    def at(self, t: float) -> Point:
        if not self.radius:
            return Point(self.start.x + (self.end.x - self.start.x) * t, self.start.y + (self.end.y - self.start.y) * t)
        angle = self.a + (self.b - self.a) * t
        return Point(self.centre.x + self.radius * math.cos(angle), self.centre.y + self.radius * math.sin(angle))

    def piece(self, t0: float, t1: float) -> Edge:
        a, b = (self.a + (self.b - self.a) * t for t in (t0, t1))
        return Edge(
            self.start if t0 == 0 else self.at(t0), self.end if t1 == 1 else self.at(t1), self.centre, self.radius, a, b
        )

    def turned(self) -> Edge:
        return Edge(self.end, self.start, self.centre, self.radius, self.b, self.a)

    def left(self, t: float) -> tuple[float, float]:
        """The unit vector to the left of the way at t."""
        if not self.radius:
            dx, dy = self.end.x - self.start.x, self.end.y - self.start.y
            length = math.hypot(dx, dy)
            return -dy / length, dx / length
        angle = self.a + (self.b - self.a) * t
        inward = 1 if self.b > self.a else -1
        return -inward * math.cos(angle), -inward * math.sin(angle)

    def parameter(self, p: Point) -> float | None:
        """Where a point of this edge's line or circle lies on the edge, or None when beside it."""
        if not self.radius:
            dx, dy = self.end.x - self.start.x, self.end.y - self.start.y
            t = ((p.x - self.start.x) * dx + (p.y - self.start.y) * dy) / (dx * dx + dy * dy)
            slack = NEAR / math.hypot(dx, dy)
        else:
            sweep = self.b - self.a
            angle = math.atan2(p.y - self.centre.y, p.x - self.centre.x) - self.a
            turn = angle % math.tau if sweep > 0 else -(-angle % math.tau)
            if abs(abs(turn) - math.tau) < NEAR / self.radius:
                turn = 0.0
            t, slack = turn / sweep, NEAR / abs(sweep) / self.radius
        return min(1.0, max(0.0, t)) if -slack <= t <= 1 + slack else None

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Left, lower, right and upper end: of an arc where it turns, else of its ends."""
        xs, ys = [self.start.x, self.end.x], [self.start.y, self.end.y]
        if self.radius:
            low, high = min(self.a, self.b), max(self.a, self.b)
            for k in range(math.ceil(low * 2 / math.pi), math.floor(high * 2 / math.pi) + 1):
                xs.append(self.centre.x + self.radius * (1, 0, -1, 0)[k % 4])
                ys.append(self.centre.y + self.radius * (0, 1, 0, -1)[k % 4])
        return min(xs), min(ys), max(xs), max(ys)

    def crossing(self, p: Point) -> int:
        """How this edge (monotone in y, one end above the point) winds round it: +1 up, -1 down to its right, 0 else."""
        if not self.radius:
            x = self.start.x + (p.y - self.start.y) * (self.end.x - self.start.x) / (self.end.y - self.start.y)
        else:
            half = math.sqrt(max(0.0, self.radius**2 - (p.y - self.centre.y) ** 2))
            x = self.centre.x + (half if math.cos((self.a + self.b) / 2) > 0 else -half)
        return (1 if self.end.y > self.start.y else -1) if x > p.x else 0


def meetings(e: Edge, f: Edge) -> list[Point]:
    """Points common to the lines or circles of two edges; those that coincide meet at each other's ends."""
    if not e.radius and not f.radius:
        ex, ey, fx, fy = e.end.x - e.start.x, e.end.y - e.start.y, f.end.x - f.start.x, f.end.y - f.start.y
        d = ex * fy - ey * fx
        if abs(d) < 1e-9 * math.hypot(ex, ey) * math.hypot(fx, fy):
            off = (f.start.x - e.start.x) * ey - (f.start.y - e.start.y) * ex
            return [e.start, e.end, f.start, f.end] if abs(off) < NEAR * math.hypot(ex, ey) else []
        t = ((f.start.x - e.start.x) * fy - (f.start.y - e.start.y) * fx) / d
        return [e.at(t)]
    if e.radius and f.radius:
        dx, dy = f.centre.x - e.centre.x, f.centre.y - e.centre.y
        d = math.hypot(dx, dy)
        if d < NEAR:
            return [e.start, e.end, f.start, f.end] if abs(e.radius - f.radius) < NEAR else []
        along = (d * d + e.radius**2 - f.radius**2) / (2 * d)
        square = e.radius**2 - along * along
        if square < -NEAR * e.radius:
            return []
        up = math.sqrt(max(0.0, square))
        x, y = e.centre.x + dx / d * along, e.centre.y + dy / d * along
        return [Point(x - dy / d * up, y + dx / d * up), Point(x + dy / d * up, y - dx / d * up)]
    line, bow = (f, e) if e.radius else (e, f)
    dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
    length = math.hypot(dx, dy)
    dx, dy = dx / length, dy / length
    along = (bow.centre.x - line.start.x) * dx + (bow.centre.y - line.start.y) * dy
    foot = Point(line.start.x + dx * along, line.start.y + dy * along)
    square = bow.radius**2 - (foot.x - bow.centre.x) ** 2 - (foot.y - bow.centre.y) ** 2
    if square < -NEAR * bow.radius:
        return []
    up = math.sqrt(max(0.0, square))
    return [Point(foot.x + dx * up, foot.y + dy * up), Point(foot.x - dx * up, foot.y - dy * up)]
