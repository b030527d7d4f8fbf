"""One face on paper: its marks in miniature, their numbers, and how far they are from its edges.

Below the face stands how far each mark's left edge is from the face's left edge, at its left how far each mark's lower edge
is from the face's lower edge. A face for itself is drawn larger; where its marks are small in it, only the part with them.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from layouts import letters
from layouts.artwork.base import placed
from layouts.badges import BADGE, BEYOND, draw_badges
from layouts.bodies import on_faces, tape
from layouts.faces import Solid, on_face
from layouts.furniture import line
from layouts.geometry import Box, Transform, polyline, rectangle
from layouts.ink import BLACK, grey
from layouts.listing import READ, SMALL
from layouts.measured import BELOW, broken, dashed, hatched, heights, outlined, room_beside, taped, widths
from layouts.particulars import mm
from layouts.pen import Pen, group
from layouts.placement import Placed, Placement
from marks.terms import Face

#: Paper over a face for its name, mm.
NAME = 6.2
#: Scales a drawing may have, 1 to n.
SCALES = (
    1, 1.2, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 18, 20, 22, 25, 28, 30, 35, 40, 45, 50, 60, 75, 100,
)  # fmt: skip
#: A face that would be smaller than 1 to so many is drawn only where its marks are, if that is so many times as large.
SMALLEST, GAIN = 5, 1.4


class CloseUp(Struct, frozen=True):
    """One face for itself: ``width`` x ``height`` mm of paper, its name and distances included. ``part``: what is drawn of
    it, mm of the face. room: how wide its title may be, mm of paper; ``alike``: what else the title says."""

    placement: Placement
    face: Face
    scale: float
    part: Box
    room: float
    alike: str = ""

    @classmethod
    def fitting(cls, placement: Placement, face: Face, width: float, height: float, alike: str = "") -> CloseUp:
        """At the largest scale of the list that goes into width x height mm of paper; the smallest one if none does."""
        whole = placement.solid.box_of(face)
        found = cls._at_most(cls(placement, face, 1.0, whole, width, alike), width, height)
        if found.scale <= SMALLEST or not placement.on(face):
            return found
        near = cls._at_most(replace(found, part=_with_marks(placement, face)), width, height)
        return near if near.scale * GAIN <= found.scale else found

    @staticmethod
    def _at_most(view: CloseUp, width: float, height: float) -> CloseUp:
        across, up = width - view.beside - BEYOND, height - NAME - BELOW  # what is left for the face itself
        fits = (s for s in SCALES if view.part.width / s <= across and view.part.height / s <= up)
        return replace(view, scale=next(fits, SCALES[-1]))

    @property
    def beside(self) -> float:
        """Paper at the left of the face."""
        return room_beside(item.y for item in self.placement.on(self.face))

    @property
    def width(self) -> float:
        return self.part.width / self.scale + self.beside + BEYOND

    @property
    def height(self) -> float:
        return self.part.height / self.scale + NAME + BELOW

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Its lower left corner at x, y."""
        width, height = self.placement.solid.size(self.face)
        part = self.part
        box = Box(x + self.beside, y + BELOW, part.width / self.scale, part.height / self.scale)
        cut = {
            *(("below",) if part.y > 0 else ()), *(("above",) if part.top < height else ()),
            *(("right",) if part.right < width else ()),
        }  # fmt: skip
        self._title(pen, box.x, box.top + 1.7, x + self.room, bool(cut))
        with group(pen, f"close-up-{self.face}", f"Face {self.face}, scale 1 : {mm(self.scale)}"):
            dash = (2.0, 1.2) if self.placement.solid.round and self.face is not Face.TAG else ()
            draw_face(pen, self.placement, self.face, box, self.scale, low=part.y, beyond=BEYOND)
            broken(pen, box, 0.5, dash, cut)

    def _title(self, pen: Pen, x: float, y: float, end: float, in_part: bool) -> None:
        """Name, number, what is alike, then measures and scale as far as there is room for them."""
        at = line(pen, x, y, self.face.value.upper(), READ + 0.6, "bold")
        at = line(pen, at, y, f"  {self.face.iso2206}", READ + 0.6) if self.face.iso2206 else at
        if self.alike:
            size = min(1.0, (end - at - 2) / letters.width(self.alike, "bold", READ - 0.5)) * (READ - 0.5)
            at = line(pen, at + 2, y, self.alike, size, "bold")
        width, height = self.placement.solid.size(self.face)
        scale = f"1 : {mm(self.scale)}"
        measures = f"{mm(width)} × {mm(height)}, {scale}"
        for words in (f"{measures}, the part with marks" if in_part else measures, measures, scale):
            if at + 3 + letters.width(words, "regular", SMALL) <= end:
                line(pen, at + 3, y, words, SMALL, ink=grey(75))
                return


def _with_marks(placement: Placement, face: Face) -> Box:
    """The part of a face with its marks and a margin round them; from its left edge on, and to its upper edge if near."""
    whole = placement.solid.box_of(face)
    boxes = [item.box for item in placement.on(face)]
    margin = max(40.0, 0.25 * max(max(b.right for b in boxes), max(b.top for b in boxes) - min(b.y for b in boxes)))
    low, top = max(0.0, min(b.y for b in boxes) - margin), max(b.top for b in boxes) + margin
    right = min(whole.width, max(b.right for b in boxes) + margin)
    top = whole.top if top + margin > whole.top else top
    return Box(0.0, low if low > margin else 0.0, right, top - (low if low > margin else 0.0))


def draw_face(
    pen: Pen,
    placement: Placement,
    face: Face,
    box: Box,
    scale: float,
    *,
    low: float = 0.0,
    beside: bool = True,
    below: bool = True,
    beyond: float = 0.0,
) -> None:
    """The inside of a face on paper: areas, marks, numbers, and its distances ``beside`` and ``below`` it. box: what is
    drawn of it, on paper; low: how far above the face's lower edge it begins, mm of the package;
    beyond: paper at its right for numbers."""
    items = tuple(replace(item, y=item.y - low) for item in placement.on(face))
    for strip in tape(placement.solid, face):
        taped(pen, _on_paper(strip, box, scale, low))
    if beside:
        heights(pen, box, scale, [(item.y + low, box.x + item.x / scale) for item in items], low)
    if below:
        widths(pen, box, scale, [(item.x, box.y + item.y / scale) for item in items], corner=not low)
    for area in on_face(placement.keep_clear, face):
        with group(pen, "keep-clear", area.name):
            hatched(pen, _on_paper(area.box, box, scale, low), area.name)
    for area in on_face(placement.others, face):
        with group(pen, "already-there", area.name):
            dashed(pen, _on_paper(area.box, box, scale, low), area.name, box)
    if placement.carrier is not None and placement.carrier.face is face:
        with group(pen, "carrier", placement.carrier.name):
            outlined(pen, _on_paper(placement.carrier.box, box, scale, low), "carrier's label")
    for item in items:
        name = " ".join(filter(None, (item.requirement.mark, item.requirement.variant)))
        with group(pen, f"mark-{item.number}", f"{item.number}: {name}"):
            miniature(pen, item, box, scale)
    draw_badges(pen, items, box, scale, BADGE, every=below, beyond=beyond)


def draw_body(pen: Pen, solid: Solid, face: Face, box: Box, scale: float, code: str) -> None:
    """Hoops, lids, seams of a face at ``box`` on paper. code: of the packaging."""
    for one in on_faces(solid, code):
        if one.face is face:
            points = [(box.x + x / scale, box.y + y / scale) for x, y in one.points]
            pen.stroke(polyline(points), grey(25), 0.15, dash=one.dash)


def _on_paper(a: Box, box: Box, scale: float, low: float) -> Box:
    """The part of an area that is drawn; one of no width or height where all of it lies outside."""
    x, y = box.x + a.x / scale, max(box.y, box.y + (a.y - low) / scale)
    top, right = min(box.top, box.y + (a.top - low) / scale), min(box.right, x + a.width / scale)
    return Box(x, y, max(right - x, 0.0), max(top - y, 0.0))


def miniature(pen: Pen, item: Placed, box: Box, scale: float) -> None:
    """The true artwork, scaled; dashed round what is there already, a hairline round words."""
    art, place = (
        item.artwork,
        Box(box.x + item.x / scale, box.y + item.y / scale, item.width / scale, item.height / scale),
    )
    shrink = min(item.width / art.width, item.height / art.height) / scale
    x = place.centre.x - art.width * shrink / 2
    y = place.centre.y - art.height * shrink / 2
    placed(art, Transform.scaled(shrink).then(Transform.moved(x, y))).onto(pen)
    if item.there:
        pen.stroke(rectangle(place.grown(0.5)), BLACK, 0.3, dash=(1.2, 0.8))
    elif art.side is None and not art.colour:
        pen.stroke(rectangle(place), grey(45), 0.12)
