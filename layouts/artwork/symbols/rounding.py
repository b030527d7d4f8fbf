"""Corners rounded on purpose: every corner of a shape's border gets an arc that touches both its edges."""

from __future__ import annotations

import math

from layouts.artwork.symbols.edge import NEAR, Edge, meetings
from layouts.artwork.symbols.solid import Solid, rings
from layouts.geometry import Point

#: Corners that turn by less than this, degrees, are no corners but joins.
JOIN = 8.0
#: Below this radius a corner is left sharp, grid units.
LEAST = 1e-2


def softened(shape: Solid, radius: float, inner: float | None = None) -> Solid:
    """A shape with its outward corners rounded by ``radius`` and its inward ones by ``inner`` (the same when not
    given).

    Where two corners stand too close for that, both take half the radius, and half again, until there is room.
    """
    valley = radius if inner is None else inner
    return Solid(e for ring in rings(shape.edges) for e in _rounded_ring(_merged(ring), radius, valley))


def _merged(ring: list[Edge]) -> list[Edge]:
    """Pieces of one line or one circle that follow each other become one edge."""
    out: list[Edge] = []
    for e in ring:
        if out and _continues(out[-1], e):
            out[-1] = out[-1]._replace(end=e.end, b=out[-1].b + e.b - e.a)
        else:
            out.append(e)
    if len(out) > 1 and _continues(out[-1], out[0]):
        last = out.pop()
        out[0] = last._replace(end=out[0].end, b=last.b + out[0].b - out[0].a)
    return out


def _continues(e: Edge, f: Edge) -> bool:
    if e.radius or f.radius:
        same = abs(e.radius - f.radius) < NEAR and math.dist(e.centre, f.centre) < NEAR
        return same and (e.b > e.a) == (f.b > f.a) and abs(e.b - e.a + f.b - f.a) < math.tau - 1e-6
    return abs(_turn(e, f)) < 1e-6


def _turn(e: Edge, f: Edge) -> float:
    """By how much the way turns left from one edge to the next, radians."""
    (ax, ay), (bx, by) = e.left(1.0), f.left(0.0)
    return math.atan2(ax * by - ay * bx, ax * bx + ay * by)


def _rounded_ring(ring: list[Edge], radius: float, valley: float) -> list[Edge]:
    n = len(ring)
    if n == 1:
        return ring
    turns = [_turn(ring[i], ring[(i + 1) % n]) for i in range(n)]  # at the end of each edge
    radii = [(radius if t > 0 else valley) if abs(t) > math.radians(JOIN) else 0.0 for t in turns]
    while True:
        corners = [_corner(ring[i], ring[(i + 1) % n], turns[i], radii[i]) for i in range(n)]
        tight: set[int] = set()
        for i in range(n):
            before, after = corners[i - 1], corners[i]
            begins, ends = before[2] if before else 0.0, after[1] if after else 1.0
            if begins >= ends - 1e-9:
                tight |= {i, (i - 1) % n}
            elif after is None and radii[i]:
                tight.add(i)
        if not tight:
            break
        for i in tight:
            radii[i] = radii[i] / 2 if radii[i] > LEAST else 0.0
    out: list[Edge] = []
    for i in range(n):
        before, after = corners[i - 1], corners[i]
        out.append(ring[i].piece(before[2] if before else 0.0, after[1] if after else 1.0))
        if after:
            centre, t_end, t_start, r = after
            p, q = ring[i].at(t_end), ring[(i + 1) % n].at(t_start)
            a = math.atan2(p.y - centre.y, p.x - centre.x)
            b = math.atan2(q.y - centre.y, q.x - centre.x)
            b = a + (b - a) % math.tau if turns[i] > 0 else a - (a - b) % math.tau
            out.append(Edge(p, q, centre, r, a, b))
    return [o._replace(start=out[k - 1].end) for k, o in enumerate(out)]


def _corner(e: Edge, f: Edge, turn: float, r: float) -> tuple[Point, float, float, float] | None:
    """The touching circle's centre, where it leaves e and where it meets f (parameters), and its radius."""
    if r <= 0:
        return None
    side = r if turn > 0 else -r
    e1, f1 = _beside(e, side), _beside(f, side)
    if e1 is None or f1 is None:
        return None
    for centre in sorted(meetings(e1, f1), key=lambda c: math.dist(c, e.end)):
        t, u = _foot(e, centre), _foot(f, centre)
        if t is not None and u is not None and t > 0 and u < 1:
            return centre, t, u, r
    return None


def _beside(e: Edge, left: float) -> Edge | None:
    """The edge moved sideways, to its left when positive; None where an arc has no room for it."""
    if not e.radius:
        nx, ny = e.left(0.0)
        dx, dy = nx * left, ny * left
        return Edge(Point(e.start.x + dx, e.start.y + dy), Point(e.end.x + dx, e.end.y + dy))
    radius = e.radius - left if e.b > e.a else e.radius + left
    if radius <= NEAR:
        return None
    ends = (Point(e.centre.x + radius * math.cos(x), e.centre.y + radius * math.sin(x)) for x in (e.a, e.b))
    start, end = ends
    return Edge(start, end, e.centre, radius, e.a, e.b)


def _foot(e: Edge, p: Point) -> float | None:
    """Where on the edge lies the point nearest to p, as a parameter; None beyond its ends."""
    if e.radius:
        d = math.dist(p, e.centre)
        if d < NEAR:
            return None
        k = e.radius / d
        return e.parameter(Point(e.centre.x + (p.x - e.centre.x) * k, e.centre.y + (p.y - e.centre.y) * k))
    return e.parameter(p)
