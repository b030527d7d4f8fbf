"""The package as it stands before the packer, seen from the front right and from above: parallel projection of the same
placement. Every mark is mapped point by point from its face onto the drawing, round sides included. A tag hangs beside it,
facing the viewer."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from layouts import letters
from layouts.artwork.base import outlined, placed
from layouts.badges import badge, spread
from layouts.bodies import on_faces, standing_out, tape
from layouts.faces import on_face
from layouts.geometry import Box, Path, Point, Transform, circle, polygon, polyline, rectangle
from layouts.ink import BLACK, WHITE, grey
from layouts.mapping import Map, MapPen, flat
from layouts.pen import Pen, TransformPen, group
from layouts.placement import Placed, Placement
from marks.terms import Face, PackageForm

YAW, YAW_ROUND, PITCH = math.radians(33), math.radians(18), math.radians(22)
#: How long on paper is what stands upright, and what runs into the depth.
UPRIGHT, INWARD = math.cos(PITCH), math.sin(PITCH)
#: A cylinder's shoulder closes in to a neck of this part of its radius; its steepness at the neck, and how high the valve is.
NECK, STEEP, VALVE = 0.3, math.radians(68), 0.5
#: A tag hangs so far beside the package, of its own width.
BESIDE = 0.15
#: On a round side marks are drawn up to this far from the middle of the view, degrees.
ROUND_THE_CORNER = 88.0
#: A mark so many times as wide as a number's radius is not hidden by it; a number beside the package is so far from it, mm.
SMALL, ASIDE = 3.2, 1.2
#: The faces that are seen, the farthest first; the radius of a number, mm.
SEEN, NUMBERS = (Face.TOP, Face.RIGHT, Face.FRONT, Face.SHOULDER, Face.TAG), 2.2


class Standing(Struct, frozen=True, dict=True):
    """The view at 1 to ``scale``; ``quiet``: numbers of the marks that are only outlined; ``size``: what it takes on
    paper, its lower left corner at 0, 0. code: of the packaging ("4G"), where it is known; numbered: the marks bear their
    numbers; cut: from which height to which the side of a cylinder is left out, mm of the package."""

    placement: Placement
    scale: float
    quiet: frozenset[int] = frozenset()
    code: str = ""
    numbered: bool = True
    cut: tuple[float, float] = (0.0, 0.0)

    @classmethod
    def fitting(
        cls, placement: Placement, width: float, height: float, code: str = "", numbered: bool = True
    ) -> Standing:
        view = cls(placement, 1.0, code=code, numbered=numbered, cut=_left_out(placement))
        box = _around(view._outlines)
        view = replace(view, scale=max(box.width / width, box.height / height))
        if any(at is not None for _, _, at in view._numbers):  # some numbers stand beside the package
            aside = 2 * (2 * NUMBERS + ASIDE)
            view = replace(view, scale=max(box.width / (width - aside), box.height / height))
        return view

    @property
    def _yaw(self) -> float:
        """How far the package is turned: a round one less, so that its front is not lost round the corner."""
        return YAW_ROUND if self.placement.solid.round else YAW

    @cached_property
    def _turned(self) -> tuple[float, float]:
        return math.cos(self._yaw), math.sin(self._yaw)

    def _project(self, x: float, y: float, z: float) -> Point:
        """x along the front to the right, y into the depth, z up; mm of the package to mm of paper."""
        cos, sin = self._turned
        low, high = self.cut
        z -= min(max(z - low, 0.0), high - low)
        across = x * cos + y * sin
        deep = y * cos - x * sin
        return Point(across / self.scale, (z * UPRIGHT + deep * INWARD) / self.scale)

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

    @cached_property
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
        sewn = solid.form is PackageForm.BAG  # it has no flat top
        for face in (Face.FRONT, Face.RIGHT, *(() if sewn else (Face.TOP,))):
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
    def _out(self) -> list[Path]:
        """What stands out of the package: handle, closure, seam."""
        return [
            polyline([self._project(*p) for p in points]) for points in standing_out(self.placement.solid, self.code)
        ]

    def _lines(self) -> Iterator[tuple[Path, tuple[float, ...]]]:
        """Hoops, lids, tape and the like, as far as they are seen."""
        solid = self.placement.solid
        for face in (face for face in solid.faces if face in SEEN or (solid.round and face.upright)):
            mine = [(one.points, one.dash) for one in on_faces(solid, self.code) if one.face is face]
            for b in tape(solid, face):
                mine.append((((b.x, b.y), (b.right, b.y), (b.right, b.top), (b.x, b.top), (b.x, b.y)), ()))
            at = self.map_of(face)
            for points, dash in mine:
                for run in self._seen_of(face, points):
                    yield polyline([at(*p) for p in run]), dash

    def _seen_of(self, face: Face, points: Sequence[tuple[float, float]]) -> Iterator[list[tuple[float, float]]]:
        """The parts of a line on a face that are not round the corner."""
        solid = self.placement.solid
        if not (solid.round and face.upright):
            yield list(points)
            return
        run: list[tuple[float, float]] = []
        for (ax, ay), (bx, by) in pairwise(points):
            for k in range(25):
                p = ax + (bx - ax) * k / 24, ay + (by - ay) * k / 24
                if abs(self._angle(face, p[0])) <= 90.0:
                    run.append(p)
                elif run:
                    if len(run) > 1:
                        yield run
                    run = []
        if len(run) > 1:
            yield run

    def _angle(self, face: Face, x: float) -> float:
        """How far from the middle of the view a point of a round side lies, degrees, -180 to 180."""
        solid = self.placement.solid
        middle = {Face.FRONT: 0.0, Face.RIGHT: 90.0, Face.BACK: 180.0, Face.LEFT: -90.0}[face]
        turned = middle + math.degrees((x - solid.size(face)[0] / 2) / (solid.length / 2) - self._yaw)
        return (turned + 180.0) % 360.0 - 180.0

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

    @cached_property
    def _outlines(self) -> list[Path]:
        return [*self._body, *self._out, *self._tag]

    @cached_property
    def bounds(self) -> Box:
        """What the view takes on paper, numbers beside the package included."""
        box, numbers = _around(self._outlines), [at for _, at, lead in self._numbers if lead is not None]
        left = min([box.x, *(at.x - NUMBERS for at in numbers)])
        return Box(left, box.y, max([box.right, *(at.x + NUMBERS for at in numbers)]) - left, box.height)

    @property
    def size(self) -> tuple[float, float]:
        return self.bounds.width, self.bounds.height

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The view, its lower left corner at x, y."""
        bounds = self.bounds
        pen = TransformPen(pen, Transform.moved(x - bounds.x, y - bounds.y))
        with group(pen, "standing", "The package as it stands, from the front right"):
            for path, dash in self._lines():
                pen.stroke(path, grey(35), 0.15, dash=dash)
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
            if not whole:  # its own shape nobody states: the space it takes
                words, (wide, high) = "the article", self.placement.solid.size(Face.FRONT)
                x, y = self.map_of(Face.FRONT)(wide / 2, high / 2)
                pen.text(x - letters.width(words, "regular", 3.0) / 2, y - 1, words, "regular", 3.0, grey(65))
            if self.cut[1]:
                self._broken(pen)
            for outline in self._out:
                pen.stroke(outline, BLACK, 0.25, join="round")
            for outline in self._tag:
                pen.stroke(outline, BLACK, 0.3, join="round")
            for number, at, lead in self._numbers:
                if lead is not None:
                    pen.stroke(polyline([at, lead]), BLACK, 0.12)
                badge(pen, number, at.x, at.y, NUMBERS)

    def _broken(self, pen: Pen) -> None:
        """Two waves across the side where a part of it is left out."""
        a, b, steps = self._yaw - math.pi / 2, self._yaw + math.pi / 2, 24
        middle = [self._round(a + (b - a) * n / steps, self.cut[0]) for n in range(steps + 1)]
        lower, upper = (
            [(x, y + 0.6 * math.sin(n * math.pi / 2) + by) for n, (x, y) in enumerate(middle)] for by in (-0.7, 0.7)
        )
        pen.fill(polygon([*lower, *upper[::-1]]), WHITE)
        for wave in (lower, upper):
            pen.stroke(polyline(wave), grey(60), 0.2)

    @property
    def _faces(self) -> tuple[Face, ...]:
        """Those that are seen, the farthest first."""
        return tuple(face for face in SEEN if face in self.placement.solid.faces)

    def _bent(self, face: Face) -> bool:
        return self.placement.solid.round and face is not Face.TAG

    def _mark(self, pen: Pen, item: Placed) -> None:
        at, art = self.map_of(item.face), item.artwork
        kx, ky = item.width / art.width, item.height / art.height
        bent = self._bent(item.face)

        def on_face(px: float, py: float) -> Point:
            return at(item.x + px * kx, item.y + py * ky)

        mapped = MapPen(pen, on_face, 1 / self.scale, bent)
        if item.number in self.quiet:
            mapped.stroke(_outline(item), grey(50), 0.15 * self.scale)
            return
        if not _pictured(item):
            for bar in _bars(item):
                mapped.fill(rectangle(bar), BLACK if self.quiet else grey(55))
            return
        if bent:
            outlined(art).replay(mapped)
        else:
            placed(art, flat(on_face)).onto(pen)

    def _seen(self, item: Placed) -> bool:
        """Whether a mark on a round side lies on the half that faces the viewer."""
        if not self.placement.solid.round or not item.face.upright:
            return True
        return all(abs(self._angle(item.face, x)) <= ROUND_THE_CORNER for x in (item.x, item.x + item.width))

    @cached_property
    def _numbers(self) -> tuple[tuple[int, Point, Point | None], ...]:
        return tuple(self._each_number())

    def _each_number(self) -> Iterator[tuple[int, Point, Point | None]]:
        """Each number that is shown and the centre of its disc: on a corner of its mark; of a mark that it would hide,
        beside the package, with the point its hairline leads to."""
        if not self.numbered:
            return
        sides: dict[bool, list[tuple[int, Point]]] = {False: [], True: []}
        for face in self._faces[::-1]:
            at = self.map_of(face)
            for item in self.placement.on(face):
                if not self._seen(item) or not _pictured(item) or item.number in self.quiet:
                    continue
                wide = math.dist(at(item.x, item.y), at(item.box.right, item.y))
                if wide < SMALL * NUMBERS or face is Face.TAG:
                    right = face in (Face.RIGHT, Face.TAG)
                    sides[right].append((item.number, at(item.box.right if right else item.x, item.box.centre.y)))
                    continue
                corner = Box(item.x, item.box.top, 0, 0)
                crowded = any(o is not item and o.box.contains(corner) for o in self.placement.on(face))
                yield item.number, at(item.box.right if crowded else item.x, item.box.top), None
        box = _around(self._outlines)
        for right, found in sides.items():
            found.sort(key=lambda one: one[1].y)
            heights = spread([(lead.y, 2 * NUMBERS + 0.4) for _, lead in found])
            x = box.right + ASIDE + NUMBERS if right else box.x - ASIDE - NUMBERS
            for (number, lead), y in zip(found, heights, strict=True):
                yield number, Point(x, y), lead


def _left_out(placement: Placement) -> tuple[float, float]:
    """Of a cylinder with marks on its shoulder the part of the side that bears nothing, from and to which height, mm: without
    it the shoulder is drawn large enough to tell the marks. None, 0 to 0, of other packages."""
    solid = placement.solid
    if not placement.on(Face.SHOULDER):
        return 0.0, 0.0
    borne = [(one.face, one.box) for one in placement.items]
    borne += [(area.face, area.box) for area in (*placement.keep_clear, *placement.others)]
    lowest = min([box.y for face, box in borne if face.upright] + [solid.height - solid.shoulder])
    low, high = 0.4 * solid.length, lowest - 0.5 * solid.length
    return (low, high) if high - low > 0.5 * solid.length else (0.0, 0.0)


def _around(paths: list[Path]) -> Box:
    return Path.joined(paths).bounds


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
