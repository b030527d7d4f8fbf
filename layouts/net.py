"""The net of a package to one scale: its faces laid out round the front, every mark in miniature in its true place.

Distances stand at the edges of the face: below it how far each mark's left edge is from the face's left edge, at its
left how far each mark's lower edge is from the face's lower edge. A round side is drawn unrolled, its four parts joined; a
cylinder's shoulder lies over its front. A face for itself is drawn larger, of a tall one only the part with marks.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from layouts import letters
from layouts.artwork.base import recorded
from layouts.badges import BADGE, draw_badges
from layouts.faces import Area, on_face
from layouts.furniture import line, line_to
from layouts.geometry import Box, Transform, circle, rectangle
from layouts.ink import BLACK, WHITE, grey
from layouts.listing import SMALL
from layouts.measured import broken, dashed, hatched, heights, outlined, taped, widths
from layouts.particulars import mm
from layouts.pen import Pen, TransformPen, group
from layouts.placement import Placed, Placement
from marks.terms import Face, PackageForm

ROW = (Face.LEFT, Face.FRONT, Face.RIGHT, Face.BACK)
#: Paper around a face, mm: for its name above, its distances below and at the left, and where there are none.
NAME, BELOW, BESIDE, PLAIN = 5.2, 7.0, 9.0, 3.0
#: Scales a drawing may have, 1 to n.
SCALES = (
    1, 1.2, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 18, 20, 22, 25, 28, 30, 35, 40, 45, 50, 60, 75, 100,
)  # fmt: skip
#: A face so many times as high as wide is drawn for itself only where its marks are, if that saves this part of it.
TALL, SAVED = 1.8, 0.3


class Net(Struct, frozen=True):
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
    def _over(self) -> Face:
        """What is drawn over the front."""
        return Face.SHOULDER if self.placement.solid.form is PackageForm.CYLINDER else Face.TOP

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
        for face, y in ((self._over, front.top + NAME + self._below(self._over)), (Face.BOTTOM, 0.0)):
            width, height = self._size(face)
            found[face] = Box(front.centre.x - width / 2, y, width, height)
        shift = BESIDE - min(box.x for box in found.values()) if min(b.x for b in found.values()) < 0 else 0.0
        return {face: box.moved(shift, 0) for face, box in found.items()}

    @property
    def width(self) -> float:
        return max(box.right for box in self.boxes.values()) + 1

    @property
    def height(self) -> float:
        return self.boxes[self._over].top + NAME

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The whole net, its lower left corner at x, y."""
        boxes = {face: box.moved(x, y) for face, box in self.boxes.items()}
        for face, box in boxes.items():
            with group(pen, f"face-{face}", f"Face {face}, {_number(face)}"):
                self._outline(pen, face, box)
                self._name(pen, face, box)
        for face, box in boxes.items():
            shown_large = face is self.placement.working
            beside = not shown_large and (not self.placement.solid.round or face is Face.SHOULDER)
            draw_face(pen, self.placement, face, box, beside=beside, below=not shown_large, radius=1.5)
        if self.placement.solid.round:
            self._round_side(pen, boxes)

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

    def _name(self, pen: Pen, face: Face, box: Box) -> None:
        marked = bool(self.placement.on(face))
        ink = BLACK if marked else grey(60)
        y, name = box.top + 1.4, face.value.upper()
        number = f"  {face.iso2206}" if face.iso2206 else ""
        font = "bold" if marked else "regular"
        joined = self.placement.solid.round and face.upright  # the next face begins where this one ends
        room = box.width + (-1.5 if joined else PLAIN - 1)
        if number and letters.width(name, font, 3.0) + letters.width(number, "regular", 3.0) > 1.8 * room:
            name, number = "", number.strip()
        wide = letters.width(name, font, 3.0) + letters.width(number, "regular", 3.0)
        em = 3.0 * min(1.0, max(0.55, room / wide))
        at = line(pen, line(pen, box.x, y, name, em, font, ink), y, number, em, "regular", ink)
        width, height = self.placement.solid.size(face)
        flat = self.placement.solid.round and not face.upright and face is not Face.SHOULDER
        measure = f"Ø {mm(width)}" if flat else f"{mm(width)} × {mm(height)}"
        if at + 3 + letters.width(measure, "regular", SMALL) <= box.right - 1.5:
            line_to(pen, box.right - (1.5 if self.placement.solid.round else 0), y, measure, SMALL, ink=grey(60))
        note = "no mark on the bottom"
        wide = letters.width(note, "regular", SMALL)
        if face is Face.BOTTOM and box.height > 6 and box.width > 30:
            if self.placement.solid.taped:  # it would run through the words
                pen.fill(rectangle(Box(box.centre.x - wide / 2 - 1, box.centre.y - 1.4, wide + 2, 2.8)), WHITE)
            line(pen, box.centre.x - wide / 2, box.centre.y - 0.8, note, SMALL, ink=grey(60))

    def _round_side(self, pen: Pen, boxes: dict[Face, Box]) -> None:
        """Outer edge of the unrolled side, and the heights of all its marks at its left end."""
        first, last = boxes[ROW[0]], boxes[ROW[-1]]
        whole = Box(first.x, first.y, last.right - first.x, first.height)
        pen.stroke(rectangle(whole), BLACK, 0.4)
        faces = [face for face in ROW if face is not self.placement.working]
        marks = [(i.y, boxes[i.face].x + i.x / self.scale) for face in faces for i in self.placement.on(face)]
        heights(pen, whole, self.scale, marks)


def _number(face: Face) -> str:
    return f"ISO 2206 number {face.iso2206}" if face.iso2206 else "no face of ISO 2206"


class CloseUp(Struct, frozen=True):
    """One face for itself, larger: ``width`` x ``height`` mm of paper, its name and distances included. ``part``: how high
    above the face's lower edge the drawing begins and ends, mm of the package."""

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
    def part(self) -> tuple[float, float]:
        width, height = self.placement.solid.size(self.face)
        boxes = [item.box for item in self.placement.on(self.face)]
        if not boxes or height < TALL * width:
            return 0.0, height
        low = max(0.0, min(b.y for b in boxes) - width / 4)
        high = min(height, max(b.top for b in boxes) + width / 4)
        return (low, high) if high - low < (1 - SAVED) * height else (0.0, height)

    @property
    def width(self) -> float:
        return self.placement.solid.size(self.face)[0] / self.scale + BESIDE + 1

    @property
    def height(self) -> float:
        low, high = self.part
        return (high - low) / self.scale + NAME + BELOW

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Its lower left corner at x, y."""
        width, height = self.placement.solid.size(self.face)
        low, high = self.part
        box = Box(x + BESIDE, y + BELOW, width / self.scale, (high - low) / self.scale)
        at = line(pen, box.x, box.top + 1.5, self.face.value.upper(), 4.2, "bold")
        at = line(pen, at, box.top + 1.5, f"  {self.face.iso2206}", 4.2) if self.face.iso2206 else at
        measure = f"{mm(width)} × {mm(height)}, 1 : {mm(self.scale)}"
        if (low, high) != (0.0, height):
            measure += f", from {mm(low)} to {mm(high)} mm"
        line(pen, at + 3, box.top + 1.5, measure, SMALL, ink=grey(75))
        with group(pen, f"close-up-{self.face}", f"Face {self.face}, scale 1 : {mm(self.scale)}"):
            dash = (2.0, 1.2) if self.placement.solid.round and self.face is not Face.TAG else ()
            broken(pen, box, 0.5, dash, below=low > 0, above=high < height)
            draw_face(pen, self.placement, self.face, box, low=low)


def draw_face(
    pen: Pen,
    placement: Placement,
    face: Face,
    box: Box,
    *,
    low: float = 0.0,
    beside: bool = True,
    below: bool = True,
    radius: float = BADGE,
) -> None:
    """The inside of a face on paper: areas, marks, numbers, and its distances ``beside`` and ``below`` it. The scale
    follows from the box; low: how far above the face's lower edge the box begins, mm of the package."""
    scale = placement.solid.size(face)[0] / box.width
    items = tuple(replace(item, y=item.y - low) for item in placement.on(face))
    for area in on_face([a for a in placement.solid.shunned() if a.name == "tape"], face):
        taped(pen, _on_paper(area, box, scale, low))
    if beside:
        heights(pen, box, scale, [(item.y + low, box.x + item.x / scale) for item in items], low)
    if below:
        widths(pen, box, scale, [(item.x, box.y + item.y / scale) for item in items], corner=not low)
    for area in on_face(placement.keep_clear, face):
        with group(pen, "keep-clear", area.name):
            hatched(pen, _on_paper(area, box, scale, low), area.name)
    for area in on_face(placement.others, face):
        with group(pen, "already-there", area.name):
            dashed(pen, _on_paper(area, box, scale, low), area.name, box)
    if placement.carrier is not None and placement.carrier.face is face:
        with group(pen, "carrier", placement.carrier.name):
            outlined(pen, _on_paper(placement.carrier, box, scale, low), "carrier's label")
    for item in items:
        name = " ".join(filter(None, (item.requirement.mark, item.requirement.variant)))
        with group(pen, f"mark-{item.number}", f"{item.number}: {name}"):
            miniature(pen, item, box, scale)
    draw_badges(pen, items, box, scale, radius, every=below)


def _on_paper(area: Area, box: Box, scale: float, low: float) -> Box:
    """The part of an area that is drawn."""
    a = area.box
    x, y = box.x + a.x / scale, max(box.y, box.y + (a.y - low) / scale)
    top = min(box.top, box.y + (a.top - low) / scale)
    return Box(x, y, a.width / scale, max(top - y, 0.0))


def miniature(pen: Pen, item: Placed, box: Box, scale: float) -> None:
    """The true artwork, scaled; dashed round what is there already, a hairline round words."""
    art, place = (
        item.artwork,
        Box(box.x + item.x / scale, box.y + item.y / scale, item.width / scale, item.height / scale),
    )
    shrink = min(item.width / art.width, item.height / art.height) / scale
    x = place.centre.x - art.width * shrink / 2
    y = place.centre.y - art.height * shrink / 2
    recorded(art).replay(TransformPen(pen, Transform.scaled(shrink).then(Transform.moved(x, y))))
    if item.there:
        pen.stroke(rectangle(place.grown(0.5)), BLACK, 0.3, dash=(1.2, 0.8))
    elif art.side is None and not art.colour:
        pen.stroke(rectangle(place), grey(45), 0.12)
