"""What symbols are built with: outlines of lines, arcs and curves, corners rounded on purpose, mirrored halves.

A symbol lives on its own grid, y up. Solid parts run anticlockwise and holes clockwise, so the non-zero rule fills it right
even where solid parts overlap.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Self

from layouts.geometry import Box, Path, Point, Segment, Transform, arc, circle, polygon


@dataclass(frozen=True)
class Symbol:
    """name: for people; path: the whole drawing, one ink."""

    name: str
    path: Path

    @cached_property
    def bounds(self) -> Box:
        return extent(self.path)

    def fitted(self, box: Box, align: float = 0.5, rise: float = 0.0) -> Path:
        """The drawing as large as fits into ``box`` in its own proportion; ``align`` and ``rise`` (0 to 1) place it in the
        room left over, from the left and from the bottom."""
        b = self.bounds
        k = min(box.width / b.width, box.height / b.height)
        x = box.x + (box.width - b.width * k) * align
        y = box.y + (box.height - b.height * k) * rise
        return self.path.transformed(Transform(k, 0, 0, k, x - b.x * k, y - b.y * k))


class Trace:
    """A path as a hand draws it: ``Trace(x, y).line(...).bow(...).close()``."""

    def __init__(self, x: float, y: float) -> None:
        self._segments = [Segment("M", (Point(x, y),))]
        self._at = Point(x, y)

    def line(self, *points: tuple[float, float]) -> Self:
        for x, y in points:
            self._at = Point(x, y)
            self._segments.append(Segment("L", (self._at,)))
        return self

    def curve(self, x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> Self:
        self._at = Point(x, y)
        self._segments.append(Segment("C", (Point(x1, y1), Point(x2, y2), self._at)))
        return self

    def bow(self, x: float, y: float, radius: float) -> Self:
        """The shorter arc to x, y; a positive radius turns left (anticlockwise), a negative one right."""
        ax, ay = self._at
        dx, dy = x - ax, y - ay
        chord = math.hypot(dx, dy)
        r = abs(radius)
        if chord > 2 * r:
            raise ValueError(f"an arc of radius {r:g} cannot span {chord:g}")
        rise = math.sqrt(max(0.0, r * r - chord * chord / 4)) * (1 if radius > 0 else -1)
        cx, cy = (ax + x) / 2 - dy / chord * rise, (ay + y) / 2 + dx / chord * rise
        start = math.degrees(math.atan2(ay - cy, ax - cx))
        end = math.degrees(math.atan2(y - cy, x - cx))
        turn = (end - start) % 360 if radius > 0 else -((start - end) % 360)
        self._segments += arc(cx, cy, r, start, start + turn)
        self._at = Point(x, y)
        return self

    def around(self, cx: float, cy: float, end: float) -> Self:
        """Along the circle about cx, cy from here to the angle ``end`` (degrees): anticlockwise when end is larger than
        the angle here (taken in -180..180), else clockwise."""
        r = math.hypot(self._at.x - cx, self._at.y - cy)
        start = math.degrees(math.atan2(self._at.y - cy, self._at.x - cx))
        self._segments += arc(cx, cy, r, start, end)
        self._at = self._segments[-1].points[-1]
        return self

    def open(self) -> Path:
        return Path(self._segments)

    def close(self) -> Path:
        return Path([*self._segments, Segment("Z")])


# --- measuring -------------------------------------------------------------------------------------------------------


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


def area(path: Path) -> float:
    """Signed area of one closed sub-path, anticlockwise positive (curves by chords)."""
    pts = flattened(path)
    return sum(a.x * b.y - b.x * a.y for a, b in zip(pts, [*pts[1:], pts[0]], strict=True)) / 2


def flattened(path: Path, steps: int = 12) -> list[Point]:
    """The corner points of one sub-path, its curves cut into ``steps`` chords."""
    out: list[Point] = []
    for s in path:
        if s.op == "C":
            p0 = out[-1]
            for i in range(1, steps + 1):
                t = i / steps
                out.append(Point(*(_bezier((p0[k], *(q[k] for q in s.points)), t) for k in (0, 1))))
        elif s.points:
            out.append(s.points[0])
    return out


# --- changing --------------------------------------------------------------------------------------------------------


def reversed_path(path: Path) -> Path:
    """One closed sub-path run the other way: a solid becomes a hole."""
    points = [s.points[-1] for s in path if s.points]
    out = [Segment("M", (points[-1],))]
    for s, end in zip([s for s in path if s.op in "LC"][::-1], points[-2::-1], strict=True):
        out.append(Segment("L", (end,)) if s.op == "L" else Segment("C", (s.points[1], s.points[0], end)))
    return Path([*out, Segment("Z")])


def solid(path: Path) -> Path:
    """One closed sub-path, made to run anticlockwise."""
    return path if area(path) > 0 else reversed_path(path)


def hole(path: Path) -> Path:
    """One closed sub-path, made to run clockwise."""
    return path if area(path) < 0 else reversed_path(path)


def mirrored(path: Path, x: float = 0.0) -> Path:
    """One closed sub-path mirrored at the upright line x, its sense of turning kept."""
    return reversed_path(path.transformed(Transform(a=-1, e=2 * x)))


def both(path: Path, x: float = 0.0) -> Path:
    """A sub-path and its mirror image."""
    return path + mirrored(path, x)


def whole(half: Sequence[tuple[float, float]], x: float = 0.0) -> list[tuple[float, float]]:
    """Corner points of the right half, bottom to top, made a whole: the left half mirrored at x."""
    return [*half, *((2 * x - px, py) for px, py in reversed(half) if abs(px - x) > 1e-9)]


# --- rounding --------------------------------------------------------------------------------------------------------


def rounded(points: Sequence[tuple[float, float]], radius: float | Sequence[float]) -> Path:
    """A closed polygon with its corners rounded by arcs; one radius for all or one each (0 keeps a corner sharp)."""
    n = len(points)
    radii = [radius] * n if isinstance(radius, (int, float)) else list(radius)
    segments: list[Segment] = []
    for i in range(n):
        (ax, ay), (bx, by), (cx, cy) = points[i - 1], points[i], points[(i + 1) % n]
        (ux, uy), (vx, vy) = _unit(ax - bx, ay - by), _unit(cx - bx, cy - by)
        inner = math.acos(max(-1.0, min(1.0, ux * vx + uy * vy)))
        r = radii[i]
        op = "L" if segments else "M"
        if r <= 0 or inner > math.pi - 1e-6:
            segments.append(Segment(op, (Point(bx, by),)))
            continue
        room = min(math.hypot(ax - bx, ay - by), math.hypot(cx - bx, cy - by))
        cut = min(r / math.tan(inner / 2), room * 0.5 if n > 2 else room)
        handle = cut - 4 / 3 * math.tan((math.pi - inner) / 4) * cut * math.tan(inner / 2)
        segments.append(Segment(op, (Point(bx + ux * cut, by + uy * cut),)))
        segments.append(
            Segment(
                "C",
                (
                    Point(bx + ux * handle, by + uy * handle),
                    Point(bx + vx * handle, by + vy * handle),
                    Point(bx + vx * cut, by + vy * cut),
                ),
            )
        )
    return Path([*segments, Segment("Z")])


def _unit(x: float, y: float) -> tuple[float, float]:
    length = math.hypot(x, y)
    return (x / length, y / length) if length else (0.0, 0.0)


def softened(path: Path, radius: float, least: float = 12.0) -> Path:
    """One closed sub-path of lines and curves, every corner of more than ``least`` degrees rounded by about ``radius``."""
    start = path[0].points[0]
    pieces: list[tuple[Point, ...]] = []
    at = start
    for s in path[1:]:
        ends = s.points if s.op in "LC" else (start,)
        if s.op == "L" or s.op == "Z":
            if math.dist(at, ends[-1]) > 1e-9:
                third = [Point(at.x + (ends[0].x - at.x) * t, at.y + (ends[0].y - at.y) * t) for t in (1 / 3, 2 / 3)]
                pieces.append((at, *third, ends[-1]))
        else:
            pieces.append((at, *ends))
        at = ends[-1]
    straight = {i for i, p in enumerate(pieces) if _is_line(p)}
    lengths = [_length(p) for p in pieces]
    n = len(pieces)
    cuts: list[tuple[float, float]] = []  # at the start of each piece: distance to cut, handle
    for i in range(n):
        incoming, outgoing = _direction(pieces[i - 1], 1), _direction(pieces[i], 0)
        turn = abs(
            math.atan2(
                incoming[0] * outgoing[1] - incoming[1] * outgoing[0],
                incoming[0] * outgoing[0] + incoming[1] * outgoing[1],
            )
        )
        if math.degrees(turn) < least:
            cuts.append((0.0, 0.0))
            continue
        inner = math.pi - turn
        cut = min(radius / max(math.tan(inner / 2), 1e-6), 0.45 * lengths[i - 1], 0.45 * lengths[i])
        cuts.append((cut, 4 / 3 * math.tan(turn / 4) * cut * math.tan(inner / 2)))
    out: list[Segment] = []
    for i in range(n):
        piece = _between(pieces[i], cuts[i][0], cuts[(i + 1) % n][0])
        if not out:
            out.append(Segment("M", (piece[0],)))
        if i in straight:
            out.append(Segment("L", (piece[3],)))
        else:
            out.append(Segment("C", piece[1:]))
        cut, handle = cuts[(i + 1) % n]
        if cut:
            after = _between(pieces[(i + 1) % n], cut, 0.0)
            dx, dy = _direction(piece, 1)
            ex, ey = _direction(after, 0)
            a, b = piece[3], after[0]
            out.append(
                Segment(
                    "C", (Point(a.x + dx * handle, a.y + dy * handle), Point(b.x - ex * handle, b.y - ey * handle), b)
                )
            )
    return Path([*out, Segment("Z")])


def _is_line(p: Sequence[Point]) -> bool:
    (ax, ay), (bx, by) = p[0], p[3]
    return all(abs((bx - ax) * (q.y - ay) - (by - ay) * (q.x - ax)) < 1e-6 for q in p[1:3])


def _direction(p: Sequence[Point], end: int) -> tuple[float, float]:
    pairs = ((p[2], p[3]), (p[1], p[3]), (p[0], p[3])) if end else ((p[0], p[1]), (p[0], p[2]), (p[0], p[3]))
    for a, b in pairs:
        if math.dist(a, b) > 1e-9:
            return _unit(b.x - a.x, b.y - a.y)
    return (1.0, 0.0)


def _length(p: Sequence[Point]) -> float:
    pts = [Point(*(_bezier([q[k] for q in p], i / 16) for k in (0, 1))) for i in range(17)]
    return sum(math.dist(a, b) for a, b in zip(pts, pts[1:], strict=False))


def _between(p: tuple[Point, ...], from_start: float, from_end: float) -> tuple[Point, ...]:
    """A cubic shortened by lengths along it."""
    total = _length(p)
    t0 = _at_length(p, from_start) if from_start else 0.0
    t1 = _at_length(p, total - from_end) if from_end else 1.0
    return _split(p, t0, t1)


def _at_length(p: tuple[Point, ...], length: float) -> float:
    low, high = 0.0, 1.0
    for _ in range(24):
        mid = (low + high) / 2
        low, high = (mid, high) if _length(_split(p, 0, mid)) < length else (low, mid)
    return (low + high) / 2


def _split(p: tuple[Point, ...], t0: float, t1: float) -> tuple[Point, ...]:
    """The part of a cubic between two parameters, by blossoming."""

    def blossom(a: float, b: float, c: float) -> Point:
        pts = list(p)
        for t in (a, b, c):
            pts = [Point(u.x + (v.x - u.x) * t, u.y + (v.y - u.y) * t) for u, v in zip(pts, pts[1:], strict=False)]
        return pts[0]

    return blossom(t0, t0, t0), blossom(t0, t0, t1), blossom(t0, t1, t1), blossom(t1, t1, t1)


# --- ready parts -----------------------------------------------------------------------------------------------------


def ring(cx: float, cy: float, outer: float, inner: float) -> Path:
    return circle(cx, cy, outer) + circle(cx, cy, inner, clockwise=True)


def rod(x0: float, y0: float, x1: float, y1: float, width: float) -> Path:
    """A straight stroke with round ends."""
    r = width / 2
    angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
    a = math.radians(angle - 90)
    start = Point(x0 + r * math.cos(a), y0 + r * math.sin(a))
    right = Point(x1 + r * math.cos(a), y1 + r * math.sin(a))
    return Path(
        [
            Segment("M", (start,)),
            Segment("L", (right,)),
            *arc(x1, y1, r, angle - 90, angle + 90),
            Segment("L", (Point(x0 - r * math.cos(a), y0 - r * math.sin(a)),)),
            *arc(x0, y0, r, angle + 90, angle + 270),
            Segment("Z"),
        ]
    )


def bar(x0: float, y0: float, x1: float, y1: float, radius: float = 0.0) -> Path:
    """An upright rectangle from corner to corner."""
    return rounded([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], radius)


def plate(points: Sequence[tuple[float, float]]) -> Path:
    return solid(polygon(points))
