"""The package as it stands before the packer, seen from the front right and from above: parallel projection of the same
placement. Every mark is mapped point by point from its face onto the drawing, round sides included. A tag hangs beside it,
facing the viewer."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from msgspec import Struct

from layouts.artwork.base import recorded
from layouts.badges import badge
from layouts.faces import on_face
from layouts.geometry import Box, Path, Point, Segment, Transform, circle, polygon, polyline, rectangle
from layouts.ink import BLACK, Ink, grey
from layouts.pen import Pen, TransformPen, group
from layouts.placement import Placed, Placement
from marks.terms import Face, PackageForm

YAW, YAW_ROUND, PITCH = math.radians(33), math.radians(18), math.radians(22)
#: A cylinder's shoulder closes in to a neck of this part of its radius; its steepness at the neck, and how high the valve is.
NECK, STEEP, VALVE = 0.3, math.radians(68), 0.5
#: A tag hangs so far beside the package, of its own width.
BESIDE = 0.15
#: On a round side marks are drawn up to this far from the middle of the view, degrees.
ROUND_THE_CORNER = 88.0

Map = Callable[[float, float], Point]


class Standing(Struct, frozen=True):
    """The view at 1 to ``scale``; ``quiet``: numbers of the marks that are only outlined; ``box``: what it takes on
    paper, its lower left corner at 0, 0."""

    placement: Placement
    scale: float
    quiet: frozenset[int] = frozenset()

    @classmethod
    def fitting(
        cls, placement: Placement, width: float, height: float, quiet: frozenset[int] = frozenset()
    ) -> Standing:
        box = cls(placement, 1.0).bounds
        return cls(placement, max(box.width / width, box.height / height), quiet)

    @property
    def _yaw(self) -> float:
        """How far the package is turned: a round one less, so that its front is not lost round the corner."""
        return YAW_ROUND if self.placement.solid.round else YAW

    def _project(self, x: float, y: float, z: float) -> Point:
        """x along the front to the right, y into the depth, z up; mm of the package to mm of paper."""
        yaw = self._yaw
        across = x * math.cos(yaw) + y * math.sin(yaw)
        deep = y * math.cos(yaw) - x * math.sin(yaw)
        return Point(across / self.scale, (z * math.cos(PITCH) + deep * math.sin(PITCH)) / self.scale)

    def _round(self, angle: float, z: float) -> Point:
        """A point of a round side: ``angle`` from the middle of the front, to the right, in radians."""
        r = self.placement.solid.length / 2
        return self._project(r * math.sin(angle), -r * math.cos(angle), z)

    def _ring(self, up: float) -> tuple[float, float]:
        """Radius and height of a cylinder's shoulder, ``up`` (0 to 1) the way along it."""
        solid = self.placement.solid
        r, rise = solid.length / 2, solid.shoulder
        t = STEEP * up
        in_by = (1 - NECK) * (1 - math.cos(t)) / (1 - math.cos(STEEP))
        return r * (1 - in_by), solid.height - rise + rise * math.sin(t) / math.sin(STEEP)

    def map_of(self, face: Face) -> Map:
        """From a point of a face to the paper."""
        solid = self.placement.solid
        if face is Face.TAG:
            left, top = self._tag_corner
            return lambda x, y: Point(left + x / self.scale, top - (solid.size(face)[1] - y) / self.scale)
        if face is Face.SHOULDER:
            wide, high = solid.size(face)

            def on_shoulder(x: float, y: float) -> Point:
                radius, z = self._ring(y / high)
                angle = (x - wide / 2) / (wide * 3) * 2 * math.pi
                return self._project(radius * math.sin(angle), -radius * math.cos(angle), z)

            return on_shoulder
        if solid.round:
            r = solid.length / 2
            if face.upright:
                middle = {Face.FRONT: 0.0, Face.RIGHT: 90.0, Face.BACK: 180.0, Face.LEFT: -90.0}[face]
                half = solid.size(face)[0] / 2
                return lambda x, y: self._round(math.radians(middle) + (x - half) / r, y)
            return lambda x, y: self._project(x - r, y - r, solid.height)
        if face is Face.RIGHT:
            return lambda x, y: self._project(solid.length, x, y)
        if face is Face.TOP:
            return lambda x, y: self._project(x, y, solid.height)
        return lambda x, y: self._project(x, 0, y)

    @property
    def _body(self) -> list[Path]:
        """The outline of the package itself."""
        solid = self.placement.solid
        if solid.round:
            a, b = self._yaw - math.pi / 2, self._yaw + math.pi / 2
            high = solid.height - solid.shoulder
            foot = [self._round(a + (b - a) * i / 36, 0) for i in range(37)]
            if not solid.shoulder:
                rim = [self._round(2 * math.pi * i / 72, high) for i in range(72)]
                return [polygon(rim), polyline([self._round(a, high), *foot, self._round(b, high)])]
            return self._cylinder(foot, a, b)
        found = []
        for face in (Face.FRONT, Face.RIGHT, Face.TOP):
            at, (w, h) = self.map_of(face), solid.size(face)
            found.append(polygon([at(0, 0), at(w, 0), at(w, h), at(0, h)]))
        return found

    def _cylinder(self, foot: list[Point], a: float, b: float) -> list[Path]:
        """Side and shoulder in one line, the rim between them as far as it is seen, the valve."""
        rings = [self._ring(k / 12) for k in range(13)]
        left = [self._project(r * math.sin(a), -r * math.cos(a), z) for r, z in rings]
        right = [self._project(r * math.sin(b), -r * math.cos(b), z) for r, z in rings]
        rim = [self._round(a + (b - a) * i / 36, rings[0][1]) for i in range(37)]
        neck, top = rings[-1]
        valve = [
            self._project(side * neck * math.cos(self._yaw), side * neck * math.sin(self._yaw), z)
            for side, z in ((-1, top), (-1, top + neck * VALVE * 2), (1, top + neck * VALVE * 2), (1, top))
        ]
        return [polyline([*left[::-1], *foot, *right]), polyline(rim), polyline(valve)]

    @property
    def _tag_corner(self) -> Point:
        """Where the upper left corner of a tag is drawn: right of the package, level with its top."""
        box = _around(self._body)
        return Point(box.right + BESIDE * self.placement.solid.size(Face.TAG)[0] / self.scale, box.top)

    @property
    def _tag(self) -> list[Path]:
        """Its outline, its eyelet, and the cord that ties it to the package."""
        if self.placement.solid.tag is None:
            return []
        wide, high = self.placement.solid.tag
        (x, top), body = self._tag_corner, _around(self._body)
        w, h, cut = wide / self.scale, high / self.scale, min(wide, high) / 12 / self.scale
        outline = [
            (x, top - h),
            (x + w, top - h),
            (x + w, top - cut),
            (x + w - cut, top),
            (x + cut, top),
            (x, top - cut),
        ]
        hole = Point(x + w / 2, top - cut * 0.9)
        cord = [hole, (hole.x - w * 0.3, top + cut * 1.4), (body.right - cut, body.top - cut * 0.5)]
        return [polygon(outline), circle(*hole, cut * 0.4), polyline(cord)]

    @property
    def bounds(self) -> Box:
        return _around([*self._body, *self._tag])

    @property
    def size(self) -> tuple[float, float]:
        return self.bounds.width, self.bounds.height

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The view, its lower left corner at x, y."""
        bounds = self.bounds
        pen = TransformPen(pen, Transform.moved(x - bounds.x, y - bounds.y))
        with group(pen, "standing", "The package as it stands, from the front right"):
            for face in self._faces:
                for area in on_face(self.placement.keep_clear, face):
                    mapped = MapPen(pen, self.map_of(face), 1 / self.scale, self._bent(face))
                    mapped.stroke(rectangle(area.box), grey(55), 0.12 * self.scale)
                for item in self.placement.on(face):
                    if self._seen(item):
                        self._mark(pen, item)
            whole = self.placement.solid.form is not PackageForm.IRREGULAR
            for outline in self._body:
                pen.stroke(outline, BLACK if whole else grey(55), 0.3, join="round", dash=() if whole else (0.8, 0.8))
            for outline in self._tag:
                pen.stroke(outline, BLACK, 0.3, join="round")
            for number, at in self._numbers():
                badge(pen, number, at.x, at.y, 1.5)

    @property
    def _faces(self) -> tuple[Face, ...]:
        """Those that are seen, the farthest first."""
        seen = (Face.TOP, Face.RIGHT, Face.FRONT, Face.SHOULDER, Face.TAG)
        return tuple(face for face in seen if face in self.placement.solid.faces)

    def _bent(self, face: Face) -> bool:
        return self.placement.solid.round and face is not Face.TAG

    def _mark(self, pen: Pen, item: Placed) -> None:
        at, art = self.map_of(item.face), item.artwork
        kx, ky = item.width / art.width, item.height / art.height
        bent = self._bent(item.face)
        mapped = MapPen(pen, lambda px, py: at(item.x + px * kx, item.y + py * ky), 1 / self.scale, bent)
        if item.number in self.quiet:
            mapped.stroke(_outline(item), grey(50), 0.15 * self.scale)
            return
        if not _pictured(item):
            for bar in _bars(item):
                mapped.fill(rectangle(bar), BLACK if self.quiet else grey(55))
            return
        recorded(art).replay(mapped)

    def _seen(self, item: Placed) -> bool:
        """Whether a mark on a round side lies on the half that faces the viewer."""
        solid = self.placement.solid
        if not solid.round or not item.face.upright:
            return True
        middle = 90.0 if item.face is Face.RIGHT else 0.0
        for x in (item.x, item.x + item.width):
            angle = math.degrees((x - solid.size(item.face)[0] / 2) / (solid.length / 2) - self._yaw)
            if abs(middle + angle) > ROUND_THE_CORNER:
                return False
        return True

    def _numbers(self) -> Iterator[tuple[int, Point]]:
        for face in self._faces[::-1]:
            for item in self.placement.on(face):
                if self._seen(item) and _pictured(item) and item.number not in self.quiet:
                    crowded = any(
                        o is not item and o.box.contains(Box(item.x, item.box.top, 0, 0))
                        for o in self.placement.on(face)
                    )
                    yield item.number, self.map_of(face)(item.box.right if crowded else item.x, item.box.top)


def _around(paths: list[Path]) -> Box:
    return Path(segment for path in paths for segment in path).bounds


def _pictured(item: Placed) -> bool:
    """Whether it can be told at this size: a picture, not words."""
    return item.requirement.size_mm is not None or item.requirement.mark == "orientation-arrows"


def _outline(item: Placed) -> Path:
    art = item.artwork
    if art.side is None:
        return rectangle(Box(0, 0, art.width, art.height))
    w, h = art.width, art.height
    return polygon([(w / 2, 0), (w, h / 2), (w / 2, h), (0, h / 2)])


def _bars(item: Placed) -> Iterator[Box]:
    """Words at this size: a grey bar for each line."""
    lines = max(1, len(getattr(item.artwork, "lines", ("",))))
    step = item.artwork.height / lines
    for n in range(lines):
        yield Box(0, step * n + step * 0.25, item.artwork.width, step * 0.5)


class MapPen:
    """Hands everything on with each point mapped; ``bent``: straight lines become curves, so they are cut into short
    ones."""

    def __init__(self, pen: Pen, at: Map, scale: float, bent: bool) -> None:
        self._pen, self._at, self._scale, self._bent = pen, at, scale, bent

    def _path(self, path: Path) -> Path:
        if not self._bent:
            return Path(Segment(s.op, tuple(self._at(*p) for p in s.points)) for s in path)
        return Path(_fine(path, self._at))

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
        from layouts.letters import outline

        self.fill(outline(text, font, size).transformed(Transform.turned(turn).then(Transform.moved(x, y))), ink)

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
