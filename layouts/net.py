"""The net of a package to one scale: its faces laid out round the front, every mark in miniature in its true place.

Distances stand at the edges of the face: below it how far each mark's left edge is from the face's left edge, at its
left how far each mark's lower edge is from the face's lower edge. A round side is drawn unrolled, its four parts
joined.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layouts import letters
from layouts.artwork.symbols import symbol
from layouts.badges import BADGE, draw_badges, spread
from layouts.faces import Area, on_face
from layouts.furniture import line, line_to
from layouts.geometry import Box, Transform, circle, polyline, rectangle
from layouts.ink import BLACK, WHITE, grey
from layouts.listing import SMALL
from layouts.particulars import mm
from layouts.pen import Pen, TransformPen, group
from layouts.placement import Placed, Placement
from marks.terms import Face

ROW = (Face.LEFT, Face.FRONT, Face.RIGHT, Face.BACK)
#: Paper around a face, mm: for its name above, its distances below and at the left, and where there are none.
NAME, BELOW, BESIDE, PLAIN = 5.2, 7.0, 9.0, 3.0
#: Scales a drawing may have, 1 to n.
SCALES = (
    1,
    1.2,
    1.5,
    2,
    2.5,
    3,
    3.5,
    4,
    4.5,
    5,
    6,
    7,
    8,
    9,
    10,
    11,
    12,
    14,
    16,
    18,
    20,
    22,
    25,
    28,
    30,
    35,
    40,
    45,
    50,
    60,
    75,
    100,
)
HATCH = 1.6  # distance of hatch lines on paper, mm


@dataclass(frozen=True, slots=True)
class Net:
    """The drawing of a placement at 1 to ``scale``: ``width`` x ``height`` mm of paper; ``boxes``: each face on
    paper."""

    placement: Placement
    scale: float

    @classmethod
    def fitting(cls, placement: Placement, width: float, height: float) -> Net:
        """At the largest scale of the list that goes into width x height mm; the smallest one if none does."""
        for scale in SCALES:
            net = cls(placement, scale)
            if net.width <= width and net.height <= height:
                return net
        return cls(placement, SCALES[-1])

    def _size(self, face: Face) -> tuple[float, float]:
        width, height = self.placement.solid.size(face)
        return width / self.scale, height / self.scale

    def _beside(self, face: Face) -> float:
        """Paper at the left of a face."""
        solid, items = self.placement.solid, self.placement.on
        if solid.round:
            return BESIDE if face is Face.LEFT else 0.0
        return BESIDE if items(face) and face is not self.placement.working else PLAIN

    def _below(self, *faces: Face) -> float:
        return BELOW if any(self.placement.on(face) for face in faces if face is not self.placement.working) else PLAIN

    @property
    def boxes(self) -> dict[Face, Box]:
        """Each face on paper; the drawing's lower left corner is 0, 0."""
        found: dict[Face, Box] = {}
        low = self._size(Face.BOTTOM)[1] + NAME + self._below(*ROW)
        x = 0.0
        for face in ROW:
            width, height = self._size(face)
            x += self._beside(face)
            found[face] = Box(x, low, width, height)
            x += width
        front = found[Face.FRONT]
        for face, y in ((Face.TOP, front.top + NAME + self._below(Face.TOP)), (Face.BOTTOM, 0.0)):
            width, height = self._size(face)
            found[face] = Box(front.centre.x - width / 2, y, width, height)
        shift = BESIDE - min(box.x for box in found.values()) if min(b.x for b in found.values()) < 0 else 0.0
        return {face: box.moved(shift, 0) for face, box in found.items()}

    @property
    def width(self) -> float:
        return max(box.right for box in self.boxes.values()) + 1

    @property
    def height(self) -> float:
        return self.boxes[Face.TOP].top + NAME

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The whole net, its lower left corner at x, y."""
        boxes = {face: box.moved(x, y) for face, box in self.boxes.items()}
        for face, box in boxes.items():
            with group(pen, f"face-{face}", f"Face {face}, ISO 2206 number {face.iso2206}"):
                self._outline(pen, face, box)
                self._name(pen, face, box)
        for face, box in boxes.items():
            shown_large = face is self.placement.working
            beside = not self.placement.solid.round and not shown_large
            draw_face(pen, self.placement, face, box, beside=beside, below=not shown_large, radius=1.5)
        if self.placement.solid.round:
            self._round_side(pen, boxes)

    def _outline(self, pen: Pen, face: Face, box: Box) -> None:
        solid, working = self.placement.solid, face is self.placement.working and bool(self.placement.items)
        if solid.round and not face.upright:
            pen.stroke(circle(*box.centre, box.width / 2), grey(60), 0.25)
            return
        edge = rectangle(box)
        if solid.round:
            pen.stroke(edge, grey(60), 0.2, dash=(1.6, 1.0))
        else:
            pen.stroke(edge, BLACK if working else grey(70), 0.5 if working else 0.25)

    def _name(self, pen: Pen, face: Face, box: Box) -> None:
        marked = bool(self.placement.on(face))
        ink = BLACK if marked else grey(60)
        y, number = box.top + 1.4, f"  {face.iso2206}"
        font = "bold" if marked else "regular"
        wide = letters.width(face.value.upper(), font, 3.0) + letters.width(number, "regular", 3.0)
        em = 3.0 * min(1.0, max(0.55, (box.width + PLAIN - 1) / wide))
        at = line(pen, line(pen, box.x, y, face.value.upper(), em, font, ink), y, number, em, "regular", ink)
        width, height = self.placement.solid.size(face)
        measure = f"Ø {mm(width)}" if self.placement.solid.round and not face.upright else f"{mm(width)} × {mm(height)}"
        if at + 3 + letters.width(measure, "regular", SMALL) <= box.right - 1.5:
            line_to(pen, box.right - (1.5 if self.placement.solid.round else 0), y, measure, SMALL, ink=grey(60))
        if face is Face.BOTTOM and box.height > 6 and box.width > 30:
            note = "no mark on the bottom"
            line(
                pen,
                box.centre.x - letters.width(note, "regular", SMALL) / 2,
                box.centre.y - 0.8,
                note,
                SMALL,
                ink=grey(60),
            )

    def _round_side(self, pen: Pen, boxes: dict[Face, Box]) -> None:
        """Outer edge of the unrolled side, and the heights of all its marks at its left end."""
        first, last = boxes[ROW[0]], boxes[ROW[-1]]
        whole = Box(first.x, first.y, last.right - first.x, first.height)
        pen.stroke(rectangle(whole), BLACK, 0.4)
        faces = [face for face in ROW if face is not self.placement.working]
        marks = [(i.y, boxes[i.face].x + i.x / self.scale) for face in faces for i in self.placement.on(face)]
        heights(pen, whole, self.scale, marks)


@dataclass(frozen=True, slots=True)
class CloseUp:
    """One face for itself, larger: ``width`` x ``height`` mm of paper, its name and distances included."""

    placement: Placement
    face: Face
    scale: float

    @classmethod
    def fitting(cls, placement: Placement, face: Face, width: float, height: float) -> CloseUp:
        for scale in SCALES:
            found = cls(placement, face, scale)
            if found.width <= width and found.height <= height:
                return found
        return cls(placement, face, SCALES[-1])

    @property
    def width(self) -> float:
        return self.placement.solid.size(self.face)[0] / self.scale + BESIDE + 1

    @property
    def height(self) -> float:
        return self.placement.solid.size(self.face)[1] / self.scale + NAME + BELOW

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Its lower left corner at x, y."""
        width, height = self.placement.solid.size(self.face)
        box = Box(x + BESIDE, y + BELOW, width / self.scale, height / self.scale)
        at = line(pen, box.x, box.top + 1.5, self.face.value.upper(), 4.2, "bold")
        at = line(pen, at, box.top + 1.5, f"  {self.face.iso2206}", 4.2)
        measure = f"{mm(width)} × {mm(height)}, 1 : {mm(self.scale)}"
        line(pen, at + 3, box.top + 1.5, measure, SMALL, ink=grey(75))
        with group(pen, f"close-up-{self.face}", f"Face {self.face}, scale 1 : {mm(self.scale)}"):
            dash = (2.0, 1.2) if self.placement.solid.round else ()
            pen.stroke(rectangle(box), BLACK, 0.5, dash=dash)
            draw_face(pen, self.placement, self.face, box)


def draw_face(
    pen: Pen,
    placement: Placement,
    face: Face,
    box: Box,
    *,
    beside: bool = True,
    below: bool = True,
    radius: float = BADGE,
) -> None:
    """The inside of a face on paper: areas, marks, numbers, and its distances ``beside`` and ``below`` it. The scale
    follows from the box."""
    scale = placement.solid.size(face)[0] / box.width
    items = placement.on(face)
    if beside:
        heights(pen, box, scale, [(item.y, box.x + item.x / scale) for item in items])
    if below:
        widths(pen, box, scale, [(item.x, box.y + item.y / scale) for item in items])
    for area in on_face(placement.keep_clear, face):
        with group(pen, "keep-clear", area.name):
            hatched(pen, _on_paper(area, box, scale), area.name)
    for area in on_face(placement.others, face):
        with group(pen, "already-there", area.name):
            dashed(pen, _on_paper(area, box, scale), area.name, box)
    for item in items:
        name = " ".join(filter(None, (item.requirement.mark, item.requirement.variant)))
        with group(pen, f"mark-{item.number}", f"{item.number}: {name}"):
            miniature(pen, item, box, scale)
    draw_badges(pen, items, box, scale, radius, every=below)


def _on_paper(area: Area, box: Box, scale: float) -> Box:
    a = area.box
    return Box(box.x + a.x / scale, box.y + a.y / scale, a.width / scale, a.height / scale)


def miniature(pen: Pen, item: Placed, box: Box, scale: float) -> None:
    """The true artwork, scaled; dashed round what is there already, a hairline round words."""
    art, place = (
        item.artwork,
        Box(box.x + item.x / scale, box.y + item.y / scale, item.width / scale, item.height / scale),
    )
    shrink = min(item.width / art.width, item.height / art.height) / scale
    x = place.centre.x - art.width * shrink / 2
    y = place.centre.y - art.height * shrink / 2
    art.draw(TransformPen(pen, Transform.scaled(shrink).then(Transform.moved(x, y))))
    if item.there:
        pen.stroke(rectangle(place.grown(0.5)), BLACK, 0.3, dash=(1.2, 0.8))
    elif art.side is None and not art.colour:
        pen.stroke(rectangle(place), grey(45), 0.12)


# --- distances ------------------------------------------------------------------------------------------------------


def widths(pen: Pen, box: Box, scale: float, marks: Sequence[tuple[float, float]]) -> None:
    """Below a face: (distance from its left edge in mm, paper y where the mark begins)."""
    size = SMALL
    values = _lowest(marks)
    need = {v: letters.width(mm(v), "regular", size) + 1.2 for v in values}
    spots = spread([(box.x + v / scale, need[v]) for v in values])
    for value, spot in zip(values, spots, strict=True):
        x = box.x + value / scale
        pen.stroke(polyline([(x, values[value]), (x, box.y)]), grey(55), 0.1, dash=(0.5, 0.5))
        pen.stroke(polyline([(x, box.y), (x, box.y - 1.0), (spot, box.y - 2.6)]), grey(80), 0.12)
        text = mm(value)
        line(pen, spot - letters.width(text, "regular", size) / 2, box.y - 4.6, text, size)
    if values:
        pen.stroke(polyline([(box.x, box.y - 1.0), (box.x + max(values) / scale, box.y - 1.0)]), grey(80), 0.12)
        pen.fill(circle(box.x, box.y, 0.55), BLACK)


def heights(pen: Pen, box: Box, scale: float, marks: Sequence[tuple[float, float]]) -> None:
    """At the left of a face: (distance from its lower edge in mm, paper x where the mark begins)."""
    size = SMALL
    values = _lowest(marks)
    spots = spread([(box.y + v / scale, size * 0.95) for v in values])
    for value, spot in zip(values, spots, strict=True):
        y = box.y + value / scale
        pen.stroke(polyline([(values[value], y), (box.x, y)]), grey(55), 0.1, dash=(0.5, 0.5))
        pen.stroke(polyline([(box.x, y), (box.x - 1.0, y), (box.x - 2.4, spot)]), grey(80), 0.12)
        line_to(pen, box.x - 2.8, spot - size * 0.33, mm(value), size)
    if values:
        pen.stroke(polyline([(box.x - 1.0, box.y), (box.x - 1.0, box.y + max(values) / scale)]), grey(80), 0.12)
        pen.fill(circle(box.x, box.y, 0.55), BLACK)


def _lowest(marks: Sequence[tuple[float, float]]) -> dict[float, float]:
    """Each distance once, rising, with the farthest point its hairline runs to."""
    values: dict[float, float] = {}
    for value, reach in sorted(marks):
        values[round(value, 1)] = max(values.get(round(value, 1), reach), reach)
    return values


# --- areas ----------------------------------------------------------------------------------------------------------


def hatched(pen: Pen, box: Box, name: str = "") -> None:
    """An area that takes no mark, and why where the words have room."""
    ink, at = grey(70), HATCH
    while at < box.width + box.height:
        x0, y0 = (box.x + at, box.y) if at <= box.width else (box.right, box.y + at - box.width)
        x1, y1 = (box.x, box.y + at) if at <= box.height else (box.x + at - box.height, box.top)
        pen.stroke(polyline([(x0, y0), (x1, y1)]), ink, 0.15)
        at += HATCH
    pen.stroke(rectangle(box), ink, 0.25)
    if name:
        wide = letters.width(name, "regular", SMALL)
        if wide + 2 <= box.width and box.height >= SMALL * 1.5:
            x, y = box.centre.x - wide / 2, box.centre.y
            pen.fill(rectangle(Box(x - 0.7, y - SMALL * 0.7, wide + 1.4, SMALL * 1.4)), WHITE)
            line(pen, x, y - SMALL * 0.33, name, SMALL)


def dashed(pen: Pen, box: Box, name: str, face: Box) -> None:
    """Something the packaging bears already: its outline, and its name inside or, where that is too small, above."""
    code = name.removeprefix("UN specification mark ") if name.startswith("UN specification mark ") else ""
    pen.stroke(rectangle(box.grown(0.5) if code else box), BLACK, 0.15 if code else 0.25, dash=(1.2, 0.8))
    wide = letters.width(name, "condensed-regular", SMALL)
    if code:
        packaging_code(pen, box, code.removeprefix("UN ").strip())
    elif wide + 1 <= box.width and box.height >= SMALL:
        line(pen, box.centre.x - wide / 2, box.centre.y - SMALL * 0.33, name, SMALL, "condensed-regular")
        return
    if wide + 1 <= face.width:
        x = max(face.x + 0.5, min(box.x, face.right - wide - 0.5))
        line(pen, x, box.top + 0.9, name, SMALL, "condensed-regular", grey(80))


def packaging_code(pen: Pen, box: Box, code: str) -> None:
    """The circle and the code in miniature, as the packaging bears them."""
    size = letters.size_for_cap("condensed", box.height / 1.6)
    pen.fill(symbol("packaging").fitted(Box(box.x, box.y, box.height, box.height).grown(-0.06 * box.height)), BLACK)
    pen.text(box.x + 1.15 * box.height, box.y + 0.19 * box.height, code, "condensed", size, BLACK)
