"""A finished placement held against the law by code that shares nothing with the search: sizes of faces from the package's
own, true outlines as polygons, every distance between them. Millimetres throughout.

Sources: nothing on the bottom, 49 CFR 172.406(a)(1)(i); labels within 150 mm of one another, 172.406(c); arrows on two
opposite upright sides, 172.312(a)(2); reduced labels, 172.407(c)(1)(i), and by air none (from memory); shoulder, UN Model
Regulations 5.2.2.2.1.2 with ISO 7225 (from memory); tags, 172.406(b) and UN Model Regulations 5.2.2.1.6 (from memory). 3 mm
to edges and 5 mm between marks: our own choice.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations
from math import hypot, pi

from layouts.faces import Area
from layouts.placement import Placed, Placement
from marks.requirement import Requirement
from marks.terms import Mode

EDGE, GAP, NEAR, HAIR = 3.0, 5.0, 150.0, 2e-3
ACROSS = {"front": "back", "back": "front", "left": "right", "right": "left"}
Point = tuple[float, float]


def face_size(placement: Placement, face: str) -> Point:
    """Width and height of a face, by the form of the package."""
    solid = placement.solid
    form, length, width, height = solid.form.value, solid.length, solid.width, solid.height
    if face == "tag":
        assert solid.tag is not None
        return solid.tag
    shoulder = min(0.3 * length, height / 2) if form == "cylinder" else 0.0
    if face == "shoulder":
        return 0.8 * pi * length / 3, shoulder
    if face in ("top", "bottom"):
        return length, width
    if solid.round:  # front and back a quarter of the way round each, or a third
        broad = pi * length * solid.share
        return (broad if face in ("front", "back") else pi * length / 2 - broad), height - shoulder
    return (length if face in ("front", "back") else width), height


def outline(item: Placed) -> list[Point]:
    """The mark's true outline on its face."""
    x, y, w, h = item.x, item.y, item.width, item.height
    if item.artwork.shape == "square-on-point" and not item.there:
        return [(x + w / 2, y), (x + w, y + h / 2), (x + w / 2, y + h), (x, y + h / 2)]
    return [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]


def to_segment(p: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    t = max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)))
    return hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy)


def inside(p: Point, shape: Sequence[Point]) -> bool:
    """Whether a point lies well within a convex shape (anticlockwise)."""
    return all((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > HAIR for a, b in edges(shape))


def edges(shape: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    return zip(shape, [*shape[1:], shape[0]], strict=True)


def crossed(a: Sequence[Point], b: Sequence[Point]) -> bool:
    """Whether no straight line parts two convex shapes (their edges are the lines to try)."""
    for shape, other in ((a, b), (b, a)):
        for p, q in edges(shape):
            if all((q[0] - p[0]) * (c[1] - p[1]) - (q[1] - p[1]) * (c[0] - p[0]) <= HAIR for c in other):
                return False
    return True


def between(a: Sequence[Point], b: Sequence[Point]) -> float:
    """The least distance between two convex shapes; 0 where they overlap."""
    if crossed(a, b):
        return 0.0
    return min(to_segment(p, *edge) for one, two in ((a, b), (b, a)) for p in one for edge in edges(two))


def boxed(area: Area) -> list[Point]:
    x, y, w, h = area.box
    return [(x, y), (x + w, y), (x + w, y + h), (x, y + h)]


def faults(
    placement: Placement, wanted: Sequence[Requirement], modes: Sequence[Mode] = (), clear: Sequence[Area] = ()
) -> list[str]:
    """Everything about a placement that the law or our own distances do not allow."""
    return [
        *_counted(placement, wanted), *_on_their_faces(placement, clear), *_clear_of_each_other(placement),
        *_labels_together(placement), *_large_enough(placement, modes), *_hung(placement, modes),
    ]  # fmt: skip


def _counted(placement: Placement, wanted: Sequence[Requirement]) -> Iterator[str]:
    found = Counter(item.requirement.key for item in placement.items)
    asked = Counter(key for r in wanted for key in [r.key] * (2 if r.where.value == "two-opposite" else 1))
    if found != asked:
        yield f"{found} for {asked}"
    for r in wanted:
        faces = [item.face.value for item in placement.items if item.requirement.key == r.key]
        if r.where.value == "two-opposite" and ACROSS.get(faces[0]) != faces[1]:
            yield f"{r.mark} on {faces}"


def _on_their_faces(placement: Placement, clear: Sequence[Area]) -> Iterator[str]:
    form = placement.solid.form.value
    bare = {"bag": ("top", "left", "right"), "drum": ("top",), "jerrican": ("top",), "cylinder": ("top",)}.get(form, ())
    for item in placement.items:
        face = item.face.value
        if face == "bottom" or face in bare or (form == "irregular" and face != "tag") or item.turn:
            yield f"{item.requirement.mark} on {face}"
        width, height = face_size(placement, face)
        for x, y in outline(item):
            if min(x, y, width - x, height - y) < EDGE - HAIR:
                yield f"{item.requirement.mark} {min(x, y, width - x, height - y):.3f} mm from the edge of {face}"
        for area in clear:
            if area.face.value == face and crossed(outline(item), boxed(area)):
                yield f"{item.requirement.mark} on what is kept clear"


def _clear_of_each_other(placement: Placement) -> Iterator[str]:
    for a, b in combinations(placement.items, 2):
        if a.face is b.face and between(outline(a), outline(b)) < GAP - HAIR:
            yield f"{a.requirement.mark} and {b.requirement.mark} {between(outline(a), outline(b)):.3f} mm apart"


def _labels_together(placement: Placement) -> Iterator[str]:
    labels = [item for item in placement.items if item.requirement.mark == "hazard-label"]
    once = [item for item in labels if item.requirement.where.value == "one"]
    if len({item.face for item in once}) > 1:
        yield "labels on several faces"
    for face in {item.face for item in labels}:
        mine = [item for item in labels if item.face is face]
        reached = mine[:1]
        while more := [
            i for i in mine if i not in reached and any(between(outline(i), outline(r)) <= NEAR for r in reached)
        ]:
            reached += more
        if len(reached) < len(mine):
            yield "labels more than 150 mm apart"
    for item in placement.items:
        if item.requirement.mark == "cargo-aircraft-only" and labels and item.face not in {i.face for i in labels}:
            yield "the cargo aircraft label not with the labels"


def _large_enough(placement: Placement, modes: Sequence[Mode]) -> Iterator[str]:
    classes = {(i.requirement.variant or "") for i in placement.items if i.requirement.mark == "hazard-label"}
    for item in placement.items:
        if item.requirement.mark != "hazard-label":
            continue
        legs = {mode.value for mode in item.requirement.modes or modes}
        side = item.width / 2**0.5
        if item.face.value == "shoulder":
            across = placement.solid.length
            if side < (10 if across < 75 else 15 if across < 180 else 25) - HAIR or not any(
                c[:1] == "2" for c in classes
            ):
                yield f"a label of {side:.1f} mm on the shoulder"
            if "us-ground" in legs:
                yield "on the shoulder by US law"
        elif side < 100 - HAIR and "air" in legs:
            yield f"by air a label of {side:.1f} mm"


def _hung(placement: Placement, modes: Sequence[Mode]) -> Iterator[str]:
    hung = [item for item in placement.items if item.face.value == "tag"]
    legs = {m.value for i in hung if i.requirement.mark == "hazard-label" for m in i.requirement.modes or modes}
    form = placement.solid.form.value
    if hung and form != "irregular":
        if "air" in legs:
            yield "by air a tag on a package that is not irregular"
        sides = [face_size(placement, face) for face in ("front", "left", "top")]
        if "us-ground" in legs and form != "cylinder" and any(min(size) >= 100 * 2**0.5 for size in sides):
            yield "by US law a tag on a package larger than its label"
    if any(item.requirement.mark == "orientation-arrows" for item in hung):
        yield "arrows on a tag"


def nested(placement: Placement) -> bool:
    """Whether two squares on their points reach into each other's boxes."""
    return any(
        a.face is b.face and a.box.grown(4.9).overlaps(b.box) and between(outline(a), outline(b)) >= 4.99
        for a, b in combinations([p for p in placement.items if p.artwork.side], 2)
    )
