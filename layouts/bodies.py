"""What makes a package look like what it is, though no mark stands on it: hoops, lids, closures, handles, feet, seams.

Lines on faces are in mm of the face and are drawn on net and standing view alike, under the marks and in grey. What stands
out of a face is in mm of the package: x along the front, y into the depth, z up. Proportions are ours; nobody measures them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from layouts.faces import Solid, on_face
from layouts.geometry import Box
from marks.terms import Face, PackageForm

UPRIGHT = (Face.FRONT, Face.RIGHT, Face.BACK, Face.LEFT)
#: Feet of a pallet: how high, of the package's height, at most so many mm; feet and gaps along a side.
FEET, FEET_MOST, ALONG = 0.12, 150.0, 5
#: Of a code the part that says a rigid large packaging, and a flexible IBC.
LARGE, SOFT = "50", "13"
#: How far handle, closure, seam or loops stand over a package, of its height.
OVER = 0.07

Points = tuple[tuple[float, float], ...]
Points3 = tuple[tuple[float, float, float], ...]


class Line(NamedTuple):
    """A line on a face; dash: in mm of paper."""

    face: Face
    points: Points
    dash: tuple[float, ...] = ()


@lru_cache(maxsize=64)
def on_faces(solid: Solid, code: str = "") -> tuple[Line, ...]:
    """The lines on a package's faces. code: of the packaging ("1A2", "31HA1"), where it is known."""
    return tuple(_on_faces(solid, code))


def _on_faces(solid: Solid, code: str) -> Iterator[Line]:
    form = solid.form
    if solid.round:
        yield from _round(solid, code)
    elif form is PackageForm.BOX and code[:2] != LARGE:
        yield from _box(solid, code)
    elif form in (PackageForm.IBC, PackageForm.BOX):
        yield from _on_feet(solid, code)
    elif form is PackageForm.JERRICAN:
        radius = min(solid.length, solid.width) / 2
        yield Line(Face.TOP, _circle(solid.length * 0.2, solid.width / 2, radius * 0.36))
        yield Line(
            Face.TOP, _rectangle(Box(solid.length * 0.42, solid.width * 0.42, solid.length * 0.45, solid.width * 0.16))
        )
    elif form is PackageForm.BAG:
        yield Line(Face.TOP, ((0, solid.width / 2), (solid.length, solid.width / 2)), (1.2, 0.8))
        yield Line(Face.BOTTOM, ((0, solid.width / 2), (solid.length, solid.width / 2)), (1.2, 0.8))


def _round(solid: Solid, code: str) -> Iterator[Line]:
    """Rims and hoops of a drum, and on its top the closure; a cylinder has none of them."""
    if solid.form is PackageForm.CYLINDER:
        return
    r, high = solid.length / 2, solid.height
    hoops = code[:2] not in ("1D", "1G") and solid.form is PackageForm.DRUM
    levels = [0.025, *((0.325, 0.345, 0.655, 0.675) if hoops else ()), 0.975]
    for face in UPRIGHT:
        yield from (Line(face, ((0, at * high), (solid.size(face)[0], at * high))) for at in levels)
    yield Line(Face.TOP, _circle(r, r, 0.93 * r))
    if solid.form is PackageForm.JERRICAN:
        yield Line(Face.TOP, _circle(0.4 * r, r, 0.28 * r))
        yield Line(Face.TOP, _rectangle(Box(0.84 * r, 0.9 * r, 0.9 * r, 0.2 * r)))
    elif code.endswith("2"):  # the head comes off
        yield Line(Face.TOP, _circle(r, r, 0.85 * r))
    else:
        yield Line(Face.TOP, _circle(r, 0.4 * r, 0.11 * r))
        yield Line(Face.TOP, _circle(r, 1.65 * r, 0.07 * r))


def _box(solid: Solid, code: str) -> Iterator[Line]:
    for area in solid.shunned():
        if area.name != "tape":
            yield Line(area.face, _slot(area.box))
    for face in UPRIGHT:
        width, height = solid.size(face)
        if code[:2] in ("4A", "4B", "4N", "4H"):
            yield Line(face, ((0, 0.92 * height), (width, 0.92 * height)))
        elif code[:2] in ("4C", "4D", "4F"):
            by = 0.08 * min(width, height)
            yield Line(face, _rectangle(Box(by, by, width - 2 * by, height - 2 * by)))


def _on_feet(solid: Solid, code: str) -> Iterator[Line]:
    """An IBC or large packaging: on feet; in a cage where it is a composite one; a lid and an outlet where it is rigid."""
    soft, large = code[:2] == SOFT, code[:2] == LARGE
    foot = 0.0 if soft else min(FEET * solid.height, FEET_MOST)
    for face in UPRIGHT:
        width, height = solid.size(face)
        if foot:
            yield Line(face, ((0, foot), (width, foot)))
            for n in (1, 3):
                yield Line(face, _rectangle(Box(width * n / ALONG, 0, width / ALONG, 0.75 * foot)))
        if code[:3] in ("31H", "11H", "21H") and "H" in code and any(letter in code[3:] for letter in "ABCDG"):
            yield from (Line(face, ((width * n / 7, foot), (width * n / 7, height))) for n in range(1, 7))
            yield from (Line(face, ((0, y), (width, y))) for y in (foot + (height - foot) * n / 5 for n in range(1, 5)))
        elif soft or large:
            yield from (Line(face, ((width * at, foot), (width * at, height))) for at in (0.24, 0.27, 0.73, 0.76))
    width, deep = solid.length, solid.width
    if large and not soft:
        yield from (Line(Face.TOP, ((width * at, 0), (width * at, deep))) for at in (0.24, 0.27, 0.73, 0.76))
    elif not large and (code[:2] != "11" or "H" in code):
        yield Line(Face.TOP, _circle(width / 2, deep / 2, 0.1 * min(width, deep)))
    if not large and code[:2] in ("31", ""):
        yield Line(Face.FRONT, _rectangle(Box(width * 0.46, foot, width * 0.08, foot * 0.7)))
        yield Line(Face.FRONT, _circle(width / 2, foot * 1.35, foot * 0.22))


def standing_out(solid: Solid, code: str = "") -> Iterator[Points3]:
    """Lines of what stands out of the top: a can's handle and closure, a bag's sewn mouth, the loops of a soft IBC."""
    long, deep, high = solid.length, solid.width, solid.height
    over = min(OVER * high, 60.0)
    if solid.form is PackageForm.JERRICAN:
        mid = deep / 2
        shift = -long / 2 if solid.round else 0.0
        back = -deep / 2 if solid.round else 0.0
        grip = ((0.42, 0.0), (0.46, 1.0), (0.83, 1.0), (0.87, 0.0))
        inner = ((0.49, 0.0), (0.51, 0.6), (0.78, 0.6), (0.80, 0.0))
        for bow in (grip, inner):
            yield tuple((long * x + shift, mid + back, high + over * z) for x, z in bow)
        yield from _cap(long * 0.2 + shift, mid + back, high, min(long, deep) * 0.14, over * 0.6)
    elif solid.form is PackageForm.BAG:
        ridge, seam = high + 0.8 * over, high + 1.5 * over  # it closes in to a ridge, over which its mouth is sewn up
        left, right = (0.0, deep / 2), (long, deep / 2)
        yield ((0.0, 0.0, high), (*left, ridge), (*left, seam), (*right, seam), (*right, ridge), (long, 0.0, high))
        yield ((*left, ridge), (*right, ridge), (long, deep, high))
        yield ((*left, (ridge + seam) / 2), (*right, (ridge + seam) / 2))
        fold = (long, deep / 2, high - 0.5 * deep)
        yield ((long, 0.0, high), fold, (long, deep, high))
        yield (fold, (long, deep / 2, 0.0))
    elif code[:2] == SOFT:
        for x, y in ((0.12, 0.04), (0.88, 0.04), (0.12, 0.96), (0.88, 0.96)):
            at = [(long * (x + 0.1 * s), deep * y, high + over * 1.4 * c) for s, c in _bow(9)]
            yield tuple(at)


def _cap(x: float, y: float, z: float, radius: float, tall: float) -> Iterator[Points3]:
    """A round closure: its upper rim and its two sides."""
    turn = [2 * math.pi * n / 24 for n in range(25)]
    yield tuple((x + radius * math.cos(a), y + radius * math.sin(a), z + tall) for a in turn)
    for side in (-1, 1):
        yield ((x + side * radius, y, z), (x + side * radius, y, z + tall))


def _bow(n: int) -> Sequence[tuple[float, float]]:
    """Half a circle of radius 1 from the left to the right, over the middle."""
    return [(-math.cos(math.pi * k / n), math.sin(math.pi * k / n)) for k in range(n + 1)]


def _circle(x: float, y: float, radius: float, n: int = 36) -> Points:
    return tuple(
        (x + radius * math.cos(2 * math.pi * k / n), y + radius * math.sin(2 * math.pi * k / n)) for k in range(n + 1)
    )


def _rectangle(box: Box) -> Points:
    return ((box.x, box.y), (box.right, box.y), (box.right, box.top), (box.x, box.top), (box.x, box.y))


def _slot(box: Box) -> Points:
    """A hand hole: a rectangle with round ends."""
    r = box.height / 2
    right = [(box.right - r + r * math.cos(a), box.y + r + r * math.sin(a)) for a in _arc(-90, 90)]
    left = [(box.x + r + r * math.cos(a), box.y + r + r * math.sin(a)) for a in _arc(90, 270)]
    return (*right, *left, right[0])


def _arc(start: float, end: float, n: int = 8) -> Sequence[float]:
    return [math.radians(start + (end - start) * k / n) for k in range(n + 1)]


def tape(solid: Solid, face: Face) -> list[Box]:
    """Where tape closes a box."""
    return [area.box for area in on_face(solid.shunned(), face) if area.name == "tape"]
