"""The check of a finished placement. It shares no code with the search: lengths are whole micrometres, overlaps are
found by sweeping the face from left to right, and every hard constraint is read off the result afresh."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations

from layouts.errors import LayoutError
from layouts.geometry import Box
from layouts.placement import Placed, Placement
from marks import small
from marks.requirement import Requirement, Where
from marks.tables import table
from marks.terms import Face, Mode


class Misplaced(LayoutError):
    """A placement breaks a hard constraint: a fault of the program, never of the record. ``faults``: all of them."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("the placement found breaks its own rules, so nothing is drawn: " + "; ".join(faults))


def verify(placement: Placement, requirements: Sequence[Requirement], modes: Sequence[Mode] = ()) -> None:
    """Misplaced, unless every requirement stands where it may and as often as it must."""
    faults = [*_complete(placement, requirements), *_grounded(placement), *_apart(placement), *_together(placement)]
    faults += _true_size(placement, modes)
    if faults:
        raise Misplaced(faults)


def _um(mm: float) -> int:
    return round(mm * 1000)


def distance_of(name: str) -> float:
    """A distance of ``marks/tables/placing.toml`` in mm."""
    return float(table("placing")[name][-1]["mm"])


def _complete(placement: Placement, requirements: Sequence[Requirement]) -> Iterator[str]:
    placed = Counter(item.requirement.key for item in placement.items)
    wanted = Counter[tuple[str, str | None, tuple[str, ...]]]()
    for requirement in requirements:
        wanted[requirement.key] += 2 if requirement.where is Where.TWO_OPPOSITE else 1
    for key in sorted(set(placed) | set(wanted), key=str):
        if placed[key] != wanted[key]:
            yield f"{key[0]} stands {placed[key]} times, {wanted[key]} were asked for"
    for requirement in requirements:
        if requirement.where is Where.TWO_OPPOSITE:
            faces = sorted(item.face for item in placement.items if item.requirement.key == requirement.key)
            if len(faces) == 2 and (faces[0].opposite is not faces[1] or not faces[0].upright):
                yield f"{requirement.mark} stands on {faces[0]} and {faces[1]}, which are no two opposite upright faces"


def _grounded(placement: Placement) -> Iterator[str]:
    margin = _um(distance_of("mark-to-edge"))
    for item in placement.items:
        name = f"{item.requirement.mark} on {item.face}"
        if item.face is Face.BOTTOM:
            yield f"{name}: nothing may stand on the bottom"
        if item.there and not item.assumed:
            continue  # it is where it is
        width, height = (_um(v) for v in placement.solid.size(item.face))
        x, y, w, h = (_um(v) for v in (item.x, item.y, item.width, item.height))
        if min(x, y, width - x - w, height - y - h) < (0 if item.there else margin - 1):
            yield f"{name}: over an edge or within its margin"
        if not placement.solid.takes_marks(item.face):
            yield f"{name}: this face takes no mark"
        if item.turn % 360:
            yield f"{name}: not upright"


def _apart(placement: Placement) -> Iterator[str]:
    gap = _um(distance_of("mark-to-mark"))
    for face in placement.solid.faces:
        marks = [
            (item.box, item.requirement.mark, item.there, not item.there and item.artwork.shape == "square-on-point")
            for item in placement.items
            if item.face is face
        ]
        marks += [(area.box, area.name, True, False) for area in placement.others if area.face is face]
        clear = [(area.box, area.name, True, False) for area in placement.keep_clear if area.face is face]
        for one, two, between in _close(marks, gap):
            apart = _between_points(one[0], two[0]) if one[3] and two[3] else between
            if apart < gap - 2 and not (one[2] and two[2]):
                yield f"{one[1]} and {two[1]} on {face} are {apart / 1000:g} mm apart"
        for one, two, _between in _close([*marks, *clear], 1):
            if one[2] != two[2]:
                yield f"{one[1]} and {two[1]} on {face} overlap"


Named = tuple[Box, str, bool, bool]  # where, what, whether it was there before, whether it is a square on its point


def _between_points(a: Box, b: Box) -> float:
    """Micrometres between two squares on their points: along the slope of their edges, or from point to point."""
    across = abs(a.x + a.width / 2 - b.x - b.width / 2)
    up = abs(a.y + a.height / 2 - b.y - b.height / 2)
    reach = (a.width + b.width) / 2
    long, short = max(across, up), min(across, up)
    apart = (long - reach) ** 2 + short**2 if long - short >= reach else max(across + up - reach, 0) ** 2 / 2
    return 1000 * math.sqrt(apart)


def _close(named: Sequence[Named], gap: int) -> Iterator[tuple[Named, Named, int]]:
    """Pairs nearer than ``gap`` micrometres along both axes: a sweep over left edges, a list of what is still open."""
    spans = sorted(
        (
            (_um(n[0].x), _um(n[0].x + n[0].width), _um(n[0].y), _um(n[0].y + n[0].height), i)
            for i, n in enumerate(named)
        )
    )
    still: list[tuple[int, int, int, int, int]] = []
    for span in spans:
        still = [s for s in still if s[1] + gap > span[0] + 2]
        for other in still:
            up = max(span[2] - other[3], other[2] - span[3])
            across = span[0] - other[1]
            if max(up, across) < gap - 2:
                yield named[other[4]], named[span[4]], max(up, across, 0)
        still.append(span)


def _together(placement: Placement) -> Iterator[str]:
    labels = [item for item in placement.items if item.requirement.mark == "hazard-label"]
    if not labels:
        return
    reach = distance_of("label-to-label")
    faces = {i.face for i in labels if i.requirement.where is Where.ONE and (i.assumed or not i.there)}
    if len(faces) > 1:
        yield f"hazard labels on {', '.join(sorted(faces))}, not on one face"
    for face in sorted({item.face for item in labels}):
        mine = [item for item in labels if item.face is face]
        if not any(item.there and not item.assumed for item in mine) and not _linked(mine, reach):
            yield f"hazard labels on {face} lie more than {reach:g} mm apart"
    for item in placement.items:
        if item.requirement.mark == "cargo-aircraft-only" and item.face not in {label.face for label in labels}:
            yield f"the cargo aircraft label on {item.face} is not with the hazard labels"


def _linked(items: Sequence[Placed], reach: float) -> bool:
    """Whether one can step from any label to any other by steps of at most ``reach`` mm."""
    group = list(range(len(items)))
    for (i, a), (j, b) in combinations(enumerate(items), 2):
        if _between_points(a.box, b.box) <= 1000 * reach:
            old, new = group[i], group[j]
            group = [new if g == old else g for g in group]
    return len(set(group)) <= 1


def _true_size(placement: Placement, modes: Sequence[Mode]) -> Iterator[str]:
    for item in placement.items:
        requirement, art = item.requirement, item.artwork
        size = requirement.size_mm
        if item.there:
            continue
        if (_um(art.width), _um(art.height)) != (_um(item.width), _um(item.height)):
            yield (
                f"{requirement.mark} takes {item.width:g} x {item.height:g} mm, its artwork {art.width:g} x "
                f"{art.height:g} mm"
            )
        if art.reduced and requirement.mark == "hazard-label":
            law = small.shoulder if item.face is Face.SHOULDER else small.reduced
            if law(requirement.modes or modes) is None:
                yield f"{requirement.mark} is reduced though a leg goes by air"
            if item.face is Face.SHOULDER and (art.side or 0) < small.least_on_shoulder(placement.solid.length):
                yield f"{requirement.mark} has a side of {art.side:g} mm, less than a shoulder asks for"
        cap, least = getattr(art, "cap", None), requirement.min_text_mm
        if cap is not None and least is not None and _um(cap) < _um(least):
            yield f"{requirement.mark} has letters {cap:g} mm high, less than {least:g} mm"
        if size and not art.reduced:
            drawn = (art.side, art.side) if art.side else (art.width, art.height)
            if any(_um(d or 0) < _um(least) for d, least in zip(drawn, size, strict=True)):
                yield (
                    f"{requirement.mark} is {drawn[0]:g} x {drawn[1]:g} mm, less than {size[0]:g} x {size[1]:g} mm, "
                    "and not said to be reduced"
                )
