"""The net of a package to one scale: its faces laid out round the front, every mark in miniature in its true place.

A round side is drawn unrolled, its four parts joined; a cylinder's shoulder lies over its front. Distances stand only at
faces that are not also drawn larger.
"""

from __future__ import annotations

import math
from collections.abc import Set
from functools import cached_property
from itertools import pairwise

from msgspec import Struct

from layouts import letters
from layouts.face import NAME, SCALES, draw_body, draw_face
from layouts.faces import Solid
from layouts.furniture import line, line_to
from layouts.geometry import Box, circle, rectangle
from layouts.ink import BLACK, WHITE, grey
from layouts.listing import READ, SMALL
from layouts.measured import BELOW, heights, room_beside
from layouts.particulars import mm
from layouts.pen import Pen, group
from layouts.placement import Placement
from marks.terms import Face, PackageForm

ROW = (Face.LEFT, Face.FRONT, Face.RIGHT, Face.BACK)
#: Paper between faces where no distances stand, and the em of their names, mm.
PLAIN, TITLE = 2.5, READ - 0.4


def _over(solid: Solid) -> Face:
    """What is drawn over the front."""
    return Face.SHOULDER if solid.form is PackageForm.CYLINDER else Face.TOP


class Net(Struct, frozen=True, dict=True):
    """The drawing of a placement at 1 to ``scale``: ``width`` x ``height`` mm of paper; ``boxes``: each face on paper.
    large: the faces that are drawn larger elsewhere; here they have no distances. code: of the packaging."""

    placement: Placement
    scale: float
    large: Set[Face]
    code: str = ""

    @classmethod
    def fitting(
        cls, placement: Placement, width: float, height: float, large: Set[Face] | None = None, code: str = ""
    ) -> Net:
        """At the largest scale of the list that goes into width x height mm; the smallest one if none does. large: the
        working face alone unless given."""
        larger = frozenset({placement.working}) if large is None else large
        solid = placement.solid
        wide = math.fsum(solid.size(face)[0] for face in ROW)
        high = math.fsum(solid.size(face)[1] for face in (Face.BOTTOM, Face.FRONT, _over(solid)))
        for scale in SCALES:
            if wide / scale > width or high / scale > height:  # the faces alone, without what stands beside them
                continue
            net = cls(placement, scale, larger, code)
            if net.width <= width and net.height <= height:
                return net
        return cls(placement, SCALES[-1], larger, code)

    def _size(self, face: Face) -> tuple[float, float]:
        width, height = self.placement.solid.size(face)
        return width / self.scale, height / self.scale

    def _told(self, face: Face) -> bool:
        """Whether the face has distances here."""
        return bool(self.placement.on(face)) and face not in self.large

    def _beside(self, face: Face) -> float:
        """Paper at the left of a face."""
        faces = ROW if self.placement.solid.round else (face,)
        found = room_beside(i.y for one in faces if self._told(one) for i in self.placement.on(one))
        if self.placement.solid.round:
            return max(found, PLAIN) if face is Face.LEFT else 0.0
        return found or PLAIN

    def _below(self, *faces: Face) -> float:
        return BELOW if any(self._told(face) for face in faces) else PLAIN

    @property
    def _over(self) -> Face:
        return _over(self.placement.solid)

    @cached_property
    def boxes(self) -> dict[Face, Box]:
        """Each face on paper; the drawing's lower left corner is 0, 0."""
        found: dict[Face, Box] = {}
        low = self._size(Face.BOTTOM)[1] + self._below(*ROW) + 0.5
        x = 0.0
        for face in ROW:
            width, height = self._size(face)
            x += self._beside(face)
            found[face] = Box(x, low, width, height)
            x += width
        front = found[Face.FRONT]
        for face, y in ((self._over, front.top + NAME + self._below(self._over)), (Face.BOTTOM, 0.0)):
            width, height = self._size(face)
            found[face] = Box(front.centre.x - width / 2, y, width, height)
        over = room_beside(i.y for i in self.placement.on(self._over)) if self._told(self._over) else 0.0
        shift = max(0.0, over - found[self._over].x, -min(box.x for box in found.values()))
        return {face: box.moved(shift, 0) for face, box in found.items()}

    @property
    def width(self) -> float:
        return max(box.right for box in self.boxes.values()) + 1

    @property
    def height(self) -> float:
        return self.boxes[self._over].top + NAME

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The whole net, its lower left corner at x, y; its scale in its upper right corner."""
        boxes = {face: box.moved(x, y) for face, box in self.boxes.items()}
        for face, box in boxes.items():
            with group(pen, f"face-{face}", f"Face {face}, {_number(face)}"):
                draw_body(pen, self.placement.solid, face, box, self.scale, self.code)
                self._outline(pen, face, box)
        for face, box in boxes.items():
            told = self._told(face)
            beside = told and (not self.placement.solid.round or face is Face.SHOULDER)
            draw_face(pen, self.placement, face, box, self.scale, beside=beside, below=told)
            self._name(pen, face, box)
        if self.placement.solid.round:
            self._round_side(pen, boxes)
        at = max(boxes[Face.RIGHT].x, boxes[self._over].right + 3)
        line(pen, at, y + self.height - NAME - 1.8, f"all faces, 1 : {mm(self.scale)}", SMALL, ink=grey(75))

    def _outline(self, pen: Pen, face: Face, box: Box) -> None:
        solid, working = self.placement.solid, face is self.placement.working and bool(self.placement.items)
        if solid.round and not face.upright and face is not Face.SHOULDER:
            pen.stroke(circle(*box.centre, box.width / 2), grey(60), 0.25)
            return
        edge = rectangle(box)
        if solid.round:
            pen.stroke(edge, grey(60), 0.2, dash=(1.6, 1.0))
        else:
            pen.stroke(edge, BLACK if working else grey(70), 0.5 if working else 0.25)

    def _named(self, face: Face, font: str, size: float) -> float:
        """How wide the name of a face is."""
        number = f"  {face.iso2206}" if face.iso2206 else ""
        return letters.width(face.value.upper(), font, size) + letters.width(number, "regular", size)

    @property
    def _lettering(self) -> tuple[str, float, frozenset[Face]]:
        """Font and em in which the names of all faces have room beside each other; or those of most, and the faces that
        bear their number alone."""
        pitch = {face: self._size(face)[0] + self._beside(after) - 2.0 for face, after in pairwise(ROW)}
        short: frozenset[Face] = frozenset()
        for font, size in (("bold", TITLE), ("condensed", TITLE), ("condensed", 0.8 * TITLE), ("bold", TITLE)):
            short = frozenset(face for face, room in pitch.items() if self._named(face, font, size) > room)
            if not short:
                return font, size, short
        return "bold", TITLE, short

    def _name(self, pen: Pen, face: Face, box: Box) -> None:
        marked, solid = bool(self.placement.on(face)), self.placement.solid
        ink, y = BLACK if marked else grey(65), box.top + 1.5
        if face is Face.BOTTOM:
            self._bottom(pen, box)
            return
        font, size, short = self._lettering
        font = font if marked else {"bold": "regular", "condensed": "condensed-regular"}[font]
        name = "" if face in short else face.value.upper()
        at = line(pen, box.x, y, name, size, font, ink)
        if face.iso2206:
            at = line(pen, at, y, f"  {face.iso2206}" if name else str(face.iso2206), size, "regular", ink)
        width, height = solid.size(face)
        flat = solid.round and not face.upright and face is not Face.SHOULDER
        measure = f"Ø {mm(width)}" if flat else f"{mm(width)} × {mm(height)}"
        if at + 3 + letters.width(measure, "regular", SMALL) <= box.right - 1.5:
            line_to(pen, box.right - (1.5 if solid.round else 0), y, measure, SMALL, ink=grey(60))

    def _bottom(self, pen: Pen, box: Box) -> None:
        """It never has a mark: its name stands inside, where there is room with a word of that."""
        wide = letters.width("BOTTOM  3", "regular", TITLE)
        full = wide + 1 <= box.width and box.height > 5
        words = f"BOTTOM  {Face.BOTTOM.iso2206}" if full else str(Face.BOTTOM.iso2206)
        wide = letters.width(words, "regular", TITLE)
        x, y = box.centre.x - wide / 2, box.centre.y - 0.35 * TITLE + (1.6 if full and box.height > 10 else 0)
        ground = Box(x - 0.8, y - 0.8, wide + 1.6, TITLE + 0.9)
        pen.fill(rectangle(ground), WHITE)
        line(pen, x, y, words, TITLE, ink=grey(65))
        if full and box.height > 10:
            note = letters.width("no mark", "regular", SMALL)
            pen.fill(rectangle(Box(box.centre.x - note / 2 - 0.8, y - 4, note + 1.6, 3)), WHITE)
            line(pen, box.centre.x - note / 2, y - 3.4, "no mark", SMALL, ink=grey(65))

    def _round_side(self, pen: Pen, boxes: dict[Face, Box]) -> None:
        """Outer edge of the unrolled side, and the heights of all its marks at its left end."""
        first, last = boxes[ROW[0]], boxes[ROW[-1]]
        whole = Box(first.x, first.y, last.right - first.x, first.height)
        pen.stroke(rectangle(whole), BLACK, 0.4)
        faces = [face for face in ROW if self._told(face)]
        marks = [(i.y, boxes[i.face].x + i.x / self.scale) for face in faces for i in self.placement.on(face)]
        heights(pen, whole, self.scale, marks)


def _number(face: Face) -> str:
    return f"ISO 2206 number {face.iso2206}" if face.iso2206 else "no face of ISO 2206"
