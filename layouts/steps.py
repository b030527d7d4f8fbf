"""What is tried one after the other where a package is too small for its marks, each step with its paragraph.

Full size in plain lettering on any upright face; condensed lettering; a third of the way round; the top; squares set into
each other's gaps; number and name apart from the labels; the shoulder of a gas cylinder; other marks reduced, then labels; a
tag. What the law allows is asked of ``marks.small``; a step that it does not allow is left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from layouts.arrange import Comfort, composed
from layouts.blocks import ARROWS, LEAD, NAMES, Item, Level, condensed, interlocking, shapes
from layouts.faces import Area, Solid
from layouts.geometry import Box
from layouts.plans import READ
from layouts.reasons import NAME_NEAR, NOT_BOTTOM
from marks import small
from marks.terms import Face, Mode, PackageForm

UPRIGHT, TOP = (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT), (Face.TOP,)
#: A tag: the strip at its upper end for the eyelet, how much longer than wide it may be, and its sizes go up by so much; mm.
EYELET, LONG, ROUND = 22.0, 1.8, 5.0


class Step(Struct, frozen=True):
    """name: in words; level: the forms used; solid: the package, its round side stretched or a tag tied to it; faces: those
    the labels may stand on; cite: the paragraphs that allow it; apart, whole: as the planner has them; clear: parts of a tag
    that take no mark."""

    name: str
    level: Level
    solid: Solid
    faces: tuple[Face, ...]
    cite: tuple[str, ...] = ()
    apart: bool = False
    whole: bool = False
    clear: tuple[Area, ...] = ()


def steps(solid: Solid, items: Sequence[Item], modes: Sequence[Mode], may_hang: bool = True) -> Iterator[Step]:
    """Every step that the law allows and that can change anything, in order. may_hang: a tag may be tied to it."""
    if solid.form is not PackageForm.IRREGULAR:
        yield from _on_faces(solid, items, modes)
    if may_hang:
        yield from _on_a_tag(solid, items, modes)


def _on_faces(solid: Solid, items: Sequence[Item], modes: Sequence[Mode]) -> Iterator[Step]:
    yield Step("full size on an upright face", Level(), solid, UPRIGHT)
    narrow = any(condensed(form) for item in items for form in item.forms)
    level = Level(condensed=narrow)
    if narrow:
        yield Step("condensed lettering", level, solid, UPRIGHT)
    if solid.round:
        solid = solid.stretched()
        yield Step("up to a third of the way round", level, solid, UPRIGHT, NOT_BOTTOM)
    top = solid.takes_marks(Face.TOP)
    if top:
        yield Step("on the top", level, solid, TOP, NOT_BOTTOM)
    lead = [item for item in items if item.block == LEAD]
    locked = replace(level, interlocked=True) if interlocking(lead, Level(interlocked=True)) else None
    if locked:
        yield from _everywhere("labels set into each other's gaps", locked, solid, top)
    names = bool(lead) and any(item.block == NAMES for item in items)
    if names:
        for one in filter(None, (level, locked)):
            gaps = ", these set into each other's gaps" if one.interlocked else ""
            yield from _everywhere(f"number and name apart from the labels{gaps}", one, solid, top, NAME_NEAR, apart=True)
    yield from _on_the_shoulder(level, solid, items, modes, names)
    labels = _labels(items)
    others = [item for item in items if item not in labels]
    few, bases = _reductions(others), [level, *filter(None, [locked])]
    smaller = [("marks other than labels ", others, one, _asked_by(others)) for one in _less(bases, "others_reduced", few)]
    bases = [replace(base, others_reduced=few) for base in bases]
    allowed = _allowed_by(labels, modes)
    smaller += [("", labels, one, allowed) for one in _less(bases, "reduced", _reductions(labels))]
    for what, some, one, cite in smaller:
        gaps = ", labels set into each other's gaps" if one.interlocked else ""
        name = f"{what}reduced{_sides(some, one)}{gaps}"
        yield from _everywhere(name, one, solid, top, cite)
        if names:
            yield from _everywhere(f"{name}, number and name apart", one, solid, top, cite, apart=True)


def _less(bases: Sequence[Level], what: str, last: int) -> Iterator[Level]:
    """These levels with smaller pictures, step by step."""
    for n in range(1, 1 + last):
        yield from (replace(base, **{what: n}) for base in bases)


def _everywhere(
    name: str, level: Level, solid: Solid, top: bool, cite: tuple[str, ...] = (), apart: bool = False
) -> Iterator[Step]:
    yield Step(name, level, solid, UPRIGHT, cite, apart)
    if top:
        yield Step(f"{name}, on the top", level, solid, TOP, cite, apart)


def _reductions(items: Iterable[Item]) -> int:
    """The steps in which these can be reduced, the shoulder of a cylinder aside."""
    return max((sum(form.reduced for form in item.forms[: len(item.forms) - item.shoulder]) for item in items), default=0)


def _sides(some: Sequence[Item], level: Level) -> str:
    sides = {item.forms[item.pieces(level)[0].form].side for item in some if _reductions([item])}
    return f" to {min(s for s in sides if s):g} mm side" if any(sides) else ""


def _allowed_by(labels: Sequence[Item], modes: Sequence[Mode]) -> tuple[str, ...]:
    """The paragraphs behind reduced labels."""
    return small.reduced(_legs(labels, modes)) or ()


def _asked_by(marks: Sequence[Item]) -> tuple[str, ...]:
    """The paragraphs behind other reduced marks: those that ask for them allow it too."""
    return tuple(dict.fromkeys(one for item in marks if _reductions([item]) for one in item.requirement.cite))


def _labels(items: Iterable[Item]) -> list[Item]:
    return [item for item in items if item.requirement.mark == "hazard-label"]


def _legs(items: Iterable[Item], modes: Sequence[Mode]) -> set[Mode]:
    """The modes that ask for these."""
    return {mode for item in items for mode in (item.requirement.modes or modes)}


def _on_the_shoulder(
    level: Level, solid: Solid, items: Sequence[Item], modes: Sequence[Mode], names: bool
) -> Iterator[Step]:
    """Labels of a gas cylinder of class 2, large before small."""
    labels = _labels(items)
    if not any((item.requirement.variant or "").startswith("2") for item in labels):
        return
    cite = small.shoulder(_legs(labels, modes)) or ()
    for n in range(min((item.shoulder for item in labels), default=0)):
        one = replace(level, shoulder=True, reduced=n)
        name = f"on the shoulder, reduced{_sides(labels, one)}"
        yield Step(name, one, solid, (Face.SHOULDER,), cite)
        if names:
            yield Step(f"{name}, number and name below", one, solid, (Face.SHOULDER,), cite, apart=True)


# --- the tag -----------------------------------------------------------------------------------------------------------


def why_a_tag(solid: Solid, items: Sequence[Item]) -> tuple[str, ...]:
    """All that speaks for a tag once no face has taken the labels."""
    if solid.form is PackageForm.IRREGULAR:
        return (small.IRREGULAR,)
    found = [small.SMALL]
    if solid.form is PackageForm.CYLINDER:
        found.append(small.CYLINDER)
    label = min((item.forms[0].width for item in _labels(items)), default=0.0)
    sizes = [solid.size(face) for face in solid.faces if face is not Face.SHOULDER]
    if all(min(size) < label for size in sizes):
        found.append(small.UNDER_LABEL)
    return tuple(found)


def tag_allowed(
    solid: Solid, items: Sequence[Item], modes: Sequence[Mode], legs: Iterable[Mode] = ()
) -> tuple[str, ...] | None:
    """The paragraphs by which the labels may hang on a tag; None where a leg forbids it or nothing is to be labelled.
    legs: asked of these alone."""
    labels = _labels(items)
    radioactive = any((item.requirement.variant or "").startswith("7") for item in labels)
    return small.tag(legs or _legs(labels, modes), why_a_tag(solid, items), radioactive) if labels else None


def _on_a_tag(solid: Solid, items: Sequence[Item], modes: Sequence[Mode]) -> Iterator[Step]:
    cite = tag_allowed(solid, items, modes)
    if cite is None:
        return
    size = _tag_size([item for item in items if item.block != ARROWS])
    eyelet = Area(Face.TAG, Box(0, size[1] - EYELET, size[0], EYELET), "eyelet")
    yield Step("on a tag", Level(), replace(solid, tag=size), (Face.TAG,), cite, whole=True, clear=(eyelet,))


def _tag_size(items: Sequence[Item]) -> tuple[float, float]:
    """Of the tags that hold these in a calm arrangement, the one of least area that is not too long."""
    comfort = Comfort(5, 5, 1)
    blocks = [[item for item in items if item.block == name] for name in READ]
    blocks[:2] = [sorted(blocks[0] + blocks[1], key=lambda item: item.index)]
    found = composed([shapes(block, Level(), comfort) for block in blocks if block], comfort.gap, (math.inf, math.inf))
    sizes = [
        tuple(
            math.ceil((edge + 2 * comfort.margin + more) / ROUND) * ROUND
            for edge, more in ((s.width, 0), (s.height, EYELET))
        )
        for s in found
    ]
    return min(sizes, key=lambda s: (max(s) > LONG * min(s), s[0] * s[1], s[0]))  # type: ignore[return-value]
