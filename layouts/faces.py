"""Step 3 begins here: a package as sized faces, and its net.

A face is seen upright by somebody who stands before it: x runs right and y runs up from its lower left corner, in mm.
Top and bottom are seen with the front's edge at the lower side. A round side is unrolled: it is cut into four upright
strips named like the faces of a box; front and back lie opposite each other and have the same width.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from layouts.geometry import Box
from marks.terms import Face, PackageForm

#: The order in which faces are named, drawn and numbered in lists.
ORDER = (Face.FRONT, Face.RIGHT, Face.BACK, Face.LEFT, Face.TOP, Face.BOTTOM)
#: Front and back of a round side: a quarter of the way round each; a mark that needs more may reach to a third.
QUARTER, THIRD = 1 / 4, 1 / 3


@dataclass(frozen=True, slots=True)
class Area:
    """A part of a face that is taken: kept clear, or already marked. ``name`` says by what; ``assumed``: nobody said
    where it is."""

    face: Face
    box: Box
    name: str
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class There:
    """A mark the packaging bears already. ``face`` and ``box`` (mm) where the record states its place."""

    mark: str
    variant: str | None = None
    face: Face | None = None
    box: Box | None = None


@dataclass(frozen=True, slots=True)
class Solid:
    """The shape of a package, in mm. ``length`` >= ``width`` of a box; both are the diameter of a round one.

    share: of a round side, the part of the way round that front and back have each (the others share the rest).
    """

    form: PackageForm
    length: float
    width: float
    height: float
    round: bool = False
    share: float = QUARTER

    @classmethod
    def box(cls, length: float, width: float, height: float, form: PackageForm = PackageForm.BOX) -> Solid:
        """A box, its front and back the larger upright faces. A bag stands on its shortest edge but one: its front and
        back are its two broad sides, the longest side upright. ValueError: a size that is not above zero."""
        _positive(length, width, height)
        if form is PackageForm.BAG:
            depth, across, tall = sorted((length, width, height))
            return cls(form, across, depth, tall)
        return cls(form, max(length, width), min(length, width), height)

    @classmethod
    def drum(cls, diameter: float, height: float, form: PackageForm = PackageForm.DRUM) -> Solid:
        """A drum, a cylinder, or a round jerrican."""
        _positive(diameter, height)
        return cls(form, diameter, diameter, height, round=True)

    @classmethod
    def of(cls, package: Any) -> Solid:
        """The solid of a record's package (``size`` in quantities of length, ``form_derived``)."""
        from marks.quantity import to

        size, form = package.size, package.form_derived
        if hasattr(size, "diameter"):
            return cls.drum(float(to(size.diameter, "mm")), float(to(size.height, "mm")), form)
        length, width, height = (float(to(q, "mm")) for q in (size.length, size.width, size.height))
        return cls.box(length, width, height, form)

    def stretched(self) -> Solid:
        """The same round solid, front and back each a third of the way round."""
        return replace(self, share=THIRD)

    @property
    def girth(self) -> float:
        """The way round the upright sides, mm."""
        return math.pi * self.length if self.round else 2 * (self.length + self.width)

    def size(self, face: Face) -> tuple[float, float]:
        """Width and height of a face, mm; of a round top or bottom, the diameter twice."""
        if not face.upright:
            return self.length, self.width
        if self.round:
            share = self.share if face in (Face.FRONT, Face.BACK) else 1 / 2 - self.share
            return self.girth * share, self.height
        return (self.length if face in (Face.FRONT, Face.BACK) else self.width), self.height

    def box_of(self, face: Face) -> Box:
        return Box(0, 0, *self.size(face))

    def takes_marks(self, face: Face) -> bool:
        """Whether a mark may stand there at all: never on the bottom; the ends of a drum can be removed or carry
        closures, and a bag has two flat sides only."""
        if face is Face.BOTTOM:
            return False
        if self.form is PackageForm.BAG:
            return face in (Face.FRONT, Face.BACK)
        if face is Face.TOP:
            return not self.round and self.form in (PackageForm.BOX, PackageForm.IBC)
        return True

    @property
    def faces(self) -> tuple[Face, ...]:
        return ORDER

    def net(self) -> dict[Face, Box]:
        """Every face's box in one drawing, unfolded round the front: left, front, right and back in a row, top above
        and bottom below the front. The drawing's lower left corner is 0, 0."""
        low = self.width  # the depth of the bottom face, below the row
        across = {face: self.size(face)[0] for face in ORDER}
        boxes, x = {}, 0.0
        for face in (Face.LEFT, Face.FRONT, Face.RIGHT, Face.BACK):
            boxes[face] = Box(x, low, across[face], self.height)
            x += across[face]
        front = boxes[Face.FRONT]
        x = front.centre.x - self.length / 2
        boxes[Face.TOP] = Box(x, front.top, self.length, self.width)
        boxes[Face.BOTTOM] = Box(x, 0.0, self.length, self.width)
        shift = -min(box.x for box in boxes.values())
        return {face: boxes[face].moved(shift, 0) for face in ORDER}

    def net_size(self) -> tuple[float, float]:
        boxes = self.net().values()
        return max(box.right for box in boxes), max(box.top for box in boxes)


def kept_clear(package: Any) -> tuple[Area, ...]:
    """The areas of a record's package that take no mark."""
    return tuple(_area(item, item.why or "keep clear") for item in package.keep_clear)


def already_there(package: Any) -> tuple[There, ...]:
    """The marks a record's package bears already."""
    return tuple(
        There(item.mark, item.variant, item.face, _box(item) if item.placed else None) for item in package.preprinted
    )


def _area(item: Any, name: str) -> Area:
    return Area(Face(item.face), _box(item), name)


def _box(item: Any) -> Box:
    from marks.quantity import to

    return Box(*(float(to(getattr(item, key), "mm")) for key in ("x", "y", "width", "height")))


def on_face(areas: Iterable[Area], face: Face) -> list[Area]:
    return [area for area in areas if area.face is face]


def _positive(*sizes: float) -> None:
    if not all(0 < size < math.inf for size in sizes):
        raise ValueError(f"a package's sizes are above 0 mm; read {', '.join(f'{size:g}' for size in sizes)}")
