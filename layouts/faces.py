"""Step 3 begins here: a package as sized faces.

A face is seen upright by somebody who stands before it: x runs right and y runs up from its lower left corner, in mm.
Top and bottom are seen with the front's edge at the lower side. A round side is unrolled: it is cut into four upright
strips named like the faces of a box; front and back lie opposite each other and have the same width. The shoulder of a
gas cylinder is a strip of its own over the front; a tag that hangs on the package is a face like any other.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cached_property
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from layouts.geometry import Box
from marks.terms import Face, PackageForm

#: The order in which faces are named, drawn and numbered in lists.
ORDER = (Face.FRONT, Face.RIGHT, Face.BACK, Face.LEFT, Face.TOP, Face.BOTTOM, Face.SHOULDER, Face.TAG)
#: Front and back of a round side: a quarter of the way round each; a mark that needs more may reach to a third.
QUARTER, THIRD = 1 / 4, 1 / 3
#: A cylinder's shoulder, of its diameter: how high it is, and its girth in its middle. Nobody measures it; these are ours.
SHOULDER_HIGH, SHOULDER_ROUND = 0.3, 0.8
#: A box that is closed with tape: how wide the tape is, how far it laps over the ends, and on ends at least so wide and high
#: a hand hole: width, height, and how far below the upper edge it lies, mm. Common practice, no source.
TAPE, LAP, WITH_HANDLES, HOLE, HOLE_BELOW = 60.0, 65.0, 200.0, (110.0, 40.0), 45.0


class Area(Struct, frozen=True):
    """A part of a face that is taken: kept clear, or already marked. ``name`` says by what; ``assumed``: nobody said
    where it is."""

    face: Face
    box: Box
    name: str
    assumed: bool = False


class There(Struct, frozen=True):
    """A mark the packaging bears already. ``face`` and ``box`` (mm) where the record states its place."""

    mark: str
    variant: str | None = None
    face: Face | None = None
    box: Box | None = None


class Solid(Struct, frozen=True, dict=True):
    """The shape of a package, in mm. ``length`` >= ``width`` of a box; both are the diameter of a round one.

    share: of a round side, the part of the way round that front and back have each (the others share the rest).
    taped: a box closed with tape along the middle of its top and bottom. tag: its width and height, mm, where one hangs on
    the package.
    """

    form: PackageForm
    length: float
    width: float
    height: float
    round: bool = False
    share: float = QUARTER
    taped: bool = False
    tag: tuple[float, float] | None = None

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
        taped = form is PackageForm.BOX and package.kind.code in ("4G", "none")
        return replace(cls.box(length, width, height, form), taped=taped)

    def stretched(self) -> Solid:
        """The same round solid, front and back each a third of the way round."""
        return replace(self, share=THIRD)

    @property
    def girth(self) -> float:
        """The way round the upright sides, mm."""
        return math.pi * self.length if self.round else 2 * (self.length + self.width)

    def size(self, face: Face) -> tuple[float, float]:
        """Width and height of a face, mm; of a round top or bottom, the diameter twice; of a cylinder's side, without its
        shoulder. A tag that is not there has none."""
        return self._sizes[face]

    @cached_property
    def _sizes(self) -> dict[Face, tuple[float, float]]:
        return {face: self._size(face) for face in Face}

    def _size(self, face: Face) -> tuple[float, float]:
        if face is Face.TAG:
            return self.tag or (0.0, 0.0)
        if face is Face.SHOULDER:
            return self.girth * SHOULDER_ROUND * THIRD, self.shoulder
        if not face.upright:
            return self.length, self.width
        if self.round:
            share = self.share if face in (Face.FRONT, Face.BACK) else 1 / 2 - self.share
            return self.girth * share, self.height - self.shoulder
        return (self.length if face in (Face.FRONT, Face.BACK) else self.width), self.height

    @property
    def shoulder(self) -> float:
        """How high a cylinder's shoulder is, mm; 0 of every other form."""
        return min(SHOULDER_HIGH * self.length, self.height / 2) if self.form is PackageForm.CYLINDER else 0.0

    def box_of(self, face: Face) -> Box:
        return Box(0, 0, *self.size(face))

    def takes_marks(self, face: Face) -> bool:
        """Whether a mark may stand there at all: never on the bottom; the ends of a drum can be removed or carry
        closures, a bag has two flat sides only, and an irregular article none."""
        if face is Face.TAG:
            return self.tag is not None
        if face is Face.BOTTOM or self.form is PackageForm.IRREGULAR:
            return False
        if face is Face.SHOULDER:
            return self.form is PackageForm.CYLINDER
        if self.form is PackageForm.BAG:
            return face in (Face.FRONT, Face.BACK)
        if face is Face.TOP:
            return not self.round and self.form in (PackageForm.BOX, PackageForm.IBC)
        return True

    @cached_property
    def faces(self) -> tuple[Face, ...]:
        """Those there are, in the order of lists."""
        there = {Face.SHOULDER: self.form is PackageForm.CYLINDER, Face.TAG: self.tag is not None}
        return tuple(face for face in ORDER if there.get(face, True))

    def shunned(self) -> tuple[Area, ...]:
        """Where a mark is set only if there is no other room: over the tape of a box, where it is torn open, and where
        hands take hold of it."""
        if not self.taped:
            return ()
        found = [Area(Face.TOP, Box(0, self.width / 2 - TAPE / 2, self.length, TAPE), "tape")]
        for face in (Face.LEFT, Face.RIGHT):
            width, height = self.size(face)
            for y in (0.0, height - LAP):
                found.append(Area(face, Box(width / 2 - TAPE / 2, y, TAPE, LAP), "tape"))
            if min(width, height) >= WITH_HANDLES:
                hole = Box(width / 2 - HOLE[0] / 2, height - HOLE_BELOW - HOLE[1], *HOLE)
                found.append(Area(face, hole, "hand hole"))
        return tuple(found)


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
    """Those of the areas that lie on a face."""
    return [area for area in areas if area.face is face]


def _positive(*sizes: float) -> None:
    if not all(0 < size < math.inf for size in sizes):
        raise ValueError(f"a package's sizes are above 0 mm; read {', '.join(f'{size:g}' for size in sizes)}")
