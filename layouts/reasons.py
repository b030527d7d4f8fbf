"""The words of step 3: why each mark stands where it does, and what a person must know of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from layouts.blocks import ADDRESSES, ARROWS, BESIDE, BLOCKS, LEAD, NAMES, Item
from layouts.faces import ORDER, QUARTER, Solid, There
from layouts.geometry import Box
from layouts.placement import Placed
from marks import small
from marks.requirement import Finding, Where
from marks.tables import table
from marks.terms import Face, Level, Mode, PackageForm

#: The paragraphs behind the words. Those of 49 CFR were read; the others are from memory and say so.
NOT_BOTTOM = ("49 CFR 172.406(a)(1)", "UN Model Regulations 5.2.2.1.6 (from memory)")
NAME_NEAR = ("49 CFR 172.406(a)(1)(ii)", "UN Model Regulations 5.2.2.1.6 (from memory)")
SIDE_BY_SIDE = ("49 CFR 172.406(c)", "UN Model Regulations 5.2.2.1.6 (from memory)")
BESIDE_LABELS = ("49 CFR 172.322(a)(2)", "UN Model Regulations 5.2.1.6 (from memory)")
REDUCED = ("49 CFR 172.407(c)(1)(i)", "UN Model Regulations 5.2.2.2.1.1.3 (from memory)")
ADDRESS_NEAR = ("ICAO TI 5;2.4.2 (from memory)",)
ARROWS_TWICE = ("49 CFR 172.312(a)(2)", "UN Model Regulations 5.2.1.7.1 (from memory)")


def mark_name(item: Item | Placed) -> str:
    """ "hazard label 3", "UN number", "proper shipping name": for sentences."""
    requirement = item.requirement
    name = requirement.mark.replace("-", " ").replace("un number", "UN number")
    return f"{name} {requirement.variant}" if requirement.variant else name


def names(items: Iterable[Item | Placed]) -> str:
    """Their names in one phrase, each once."""
    return _list(dict.fromkeys(mark_name(item) for item in items))


def _list(words: Iterable[str]) -> str:
    """ "a, b and c"."""
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def start(text: str) -> str:
    """The same with a capital at its start; the rest as it is."""
    return text[:1].upper() + text[1:]


def size_words(size: tuple[float, float]) -> str:
    """ "100 x 70 mm"."""
    return f"{size[0]:.0f} x {size[1]:.0f} mm"


# --- findings --------------------------------------------------------------------------------------------------------


def about_there(items: Sequence[Item], fixed: Sequence[Placed], there: Sequence[There]) -> Iterator[Finding]:
    """Marks the packaging bears at a place the record does not state."""
    stated = {id(p.requirement) for p in fixed if not p.assumed}
    unstated = [item for item in items if item.requirement.preprinted and id(item.requirement) not in stated]
    if unstated:
        text = (
            f"{start(names(unstated))}: already there; place not stated. The diagram shows an assumed place: write the "
            "place in the record, or check on the packaging that no other mark is set over it."
        )
        yield Finding(Level.CAUTION, "place-not-stated", text)
    wanted = {item.requirement.mark for item in items}
    others = sorted({t.mark for t in there if t.box is None and t.mark not in wanted})
    if others:
        text = f"Already there but not asked for, place not stated: {', '.join(others)}. Keep every mark clear of it."
        yield Finding(Level.NOTE, "place-not-stated", text)


def search_ended(taken: str) -> Finding:
    """A step was taken though the search of one before it was ended before it could tell. taken: its name."""
    text = (
        f"Set as a later step allows ({taken}): the search of an earlier one was ended before every arrangement had been tried, "
        "so there may be one that asks for less; a larger packaging makes it certain."
    )
    return Finding(Level.NOTE, "search-ended", text)


class About(Struct, frozen=True):
    """What a person must know of a placement that was found. cite: the paragraphs of the step that was taken; room: some is
    left for the carrier's label."""

    placed: Sequence[Placed]
    solid: Solid
    working: Face
    cite: tuple[str, ...]
    room: bool

    def findings(self) -> tuple[Finding, ...]:
        parts = (
            self._tag, self._reduced, self._name, self._environment, self._addresses, self._place, self._far, self._carrier,
        )  # fmt: skip
        return tuple(finding for part in parts for finding in part())

    def _marks(self, *marks: str) -> list[Placed]:
        return [p for p in self.placed if p.requirement.mark in marks]

    def _tag(self) -> Iterator[Finding]:
        if self.working is not Face.TAG:
            return
        why = (
            "an irregular article has no face for them"
            if self.solid.form is PackageForm.IRREGULAR
            else "no face of this package takes them"
        )
        text = (
            f"The labels hang on a tag of {size_words(self.solid.size(Face.TAG))}: {why}. Fix it so that it can't come off, "
            "tear or turn its face away; a person must decide that the labels can't be set on the package itself."
        )
        yield Finding(Level.CAUTION, "tag", text, self.cite)

    def _reduced(self) -> Iterator[Finding]:
        for p in self.placed:
            if p.there or not p.artwork.reduced:
                continue
            if p.face is Face.SHOULDER:
                text = (
                    f"{start(mark_name(p))} is {p.artwork.note}: at full size it does not fit the side of this cylinder. A "
                    "person must decide that it stands on the part that is not cylindrical, whole and easily seen."
                )
                yield Finding(Level.CAUTION, "shoulder-label", text, (*self.cite, "ISO 7225 (from memory)"))
                continue
            text = (
                f"{start(mark_name(p))} is {p.artwork.note}: at full size the marks don't fit this package "
                f"({p.face} {size_words(self.solid.size(p.face))}). A person must decide that the size of the package "
                "requires it and that all of it stays clearly visible; a larger packaging needs no reduction."
            )
            label = p.requirement.mark == "hazard-label"
            by_law = small.reduced(p.requirement.modes) or REDUCED
            code, cite = ("reduced-label", by_law) if label else ("reduced-mark", p.requirement.cite)
            yield Finding(Level.CAUTION, code, text, cite)

    def _name(self) -> Iterator[Finding]:
        once = [p for p in self._marks("un-number", "proper-shipping-name") if p.requirement.where is Where.ONE]
        apart = [p for p in once if p.face is not self.working and self.working is not Face.SHOULDER]
        if apart and self._marks("hazard-label"):
            text = (
                f"{start(names(apart))} on {apart[0].face}, the hazard labels on {self.working}: {self.working} is not "
                "large enough for both."
            )
            yield Finding(Level.CAUTION, "name-apart", text, NAME_NEAR)

    def _environment(self) -> Iterator[Finding]:
        once = [p for p in self._marks("environmentally-hazardous") if p.requirement.where is Where.ONE]
        apart = [p for p in once if p.face is not self.working]
        if apart and self._marks("hazard-label"):
            text = (
                f"The environmentally hazardous mark on {apart[0].face}: {self.working} is not large enough for it "
                "beside the hazard labels."
            )
            yield Finding(Level.CAUTION, "mark-apart", text, BESIDE_LABELS)

    def _addresses(self) -> Iterator[Finding]:
        name_faces = {p.face for p in self._marks("proper-shipping-name")}
        away = [p for p in self._marks("shipper", "consignee") if name_faces and p.face not in name_faces]
        if away:
            text = (
                f"{start(names(away))} on {away[0].face}: {self.working} is not large enough. By air the addresses "
                "stand on the face of the proper shipping name when its size allows."
            )
            by_air = any(Mode.AIR in p.requirement.modes for p in away)
            yield Finding(Level.CAUTION if by_air else Level.NOTE, "address-apart", text, ADDRESS_NEAR)

    def _place(self) -> Iterator[Finding]:
        front = self.solid.size(Face.FRONT)
        sides = [[p.box for p in self.placed if p.face is face] for face in (Face.FRONT, Face.BACK)]
        reach = max((max(b.right for b in side) - min(b.x for b in side) for side in sides if side), default=0.0)
        if self.working is Face.TOP:
            text = (
                f"The marks stand on the top: no upright face is large enough (front {size_words(front)}). Stack "
                "nothing on it that hides them."
            )
            yield Finding(Level.CAUTION, "marks-on-top", text, NOT_BOTTOM)
        if self.solid.round and reach > QUARTER * self.solid.girth:
            text = (
                f"The marks reach over {reach:.0f} mm, more than a quarter of the way round and no more than a third "
                f"({front[0]:.0f} mm): check that they can be read from one side."
            )
            yield Finding(Level.CAUTION, "third-of-the-way-round", text, NOT_BOTTOM)

    def _carrier(self) -> Iterator[Finding]:
        if not self.room and self.solid.form is not PackageForm.IRREGULAR:
            width, height = (float(table("placing")[f"carrier-label-{edge}"][-1]["mm"]) for edge in ("width", "height"))
            text = (
                f"No room of {size_words((width, height))} is left for the carrier's own label: see that it hides no "
                "mark, or take a larger packaging."
            )
            yield Finding(Level.NOTE, "carrier-label", text)

    def _far(self) -> Iterator[Finding]:
        """Labels that had to be set far from one that is there already."""
        reach = float(table("placing")["label-to-label"][-1]["mm"])
        labels = self._marks("hazard-label")
        if not any(p.there and not p.assumed for p in labels):
            return
        far = [p for p in labels if not p.there and all(_gap(p, q) > reach for q in labels if q is not p)]
        if far:
            text = (
                f"{start(names(far))}: no room within {reach:g} mm of the label that is there already. Cover that one "
                "and set all labels beside each other."
            )
            yield Finding(Level.CAUTION, "labels-apart", text, SIDE_BY_SIDE)


def _gap(a: Placed, b: Placed) -> float:
    if a.face is not b.face:
        return math.inf
    dx = max(a.x - b.box.right, b.x - a.box.right, 0.0)
    return math.hypot(dx, max(a.y - b.box.top, b.y - a.box.top, 0.0))


# --- why here --------------------------------------------------------------------------------------------------------


def why_here(item: Item, face: Face, working: Face, solid: Solid, spot: Box, labels: int) -> str:
    """Why this mark stands here, in a sentence; spot: where it stands on its face; labels: how many hazard labels there
    are."""
    shunned = [area for area in solid.shunned() if area.face is face]
    clear = f", clear of {_list(dict.fromkeys(a.name for a in shunned))}" if shunned else ""
    if any(area.box.overlaps(spot) for area in shunned):
        clear = "; over the tape or a hand hole, for want of other room"
    if item.block == ARROWS:
        pair = f"Upright on {face} and on {face.opposite}, two opposite faces"
        leaves = "" if working in (face, face.opposite, Face.TAG) else f", which leaves {working} to the labels"
        return f"{pair}{leaves}{clear}."
    if face is Face.TAG:
        return "On the tag, with the labels: no face of the package takes them."
    if face is Face.SHOULDER:
        return "On the shoulder, above the cylindrical side, which is too narrow for labels of full size."
    if working is Face.SHOULDER:
        return f"On {face}, below the labels on the shoulder."
    if item.paired and face is working.opposite:
        bears = "label" if item.requirement.mark == "hazard-label" else "mark"
        return f"On {face} too: two opposite sides bear this {bears}."
    if face is not working:
        return f"On {face}, because {working} has no room left{clear}."
    if item.requirement.mark == "hazard-label":
        together = "; all hazard labels beside each other on one face" if labels > 1 else ""
        return f"On {_working(working, solid)}{together}."
    if item.requirement.mark == "cargo-aircraft-only":
        return f"On {face}, with the hazard labels, as it must."
    if item.block == BESIDE:
        return f"On {face}, beside the hazard labels."
    if item.block == NAMES:
        return f"On {face}, near the hazard labels: number and name belong on their face."
    if item.block == ADDRESSES:
        return f"On {face}, the face of the proper shipping name, as by air when its size allows."
    return f"On {_working(working, solid)}: one working face for the packer."


def _working(working: Face, solid: Solid) -> str:
    if working is not Face.FRONT:
        return f"{working}, because front can't take the labels"
    if not solid.round:
        return "front, a larger upright face"
    return f"front, {'a quarter' if solid.share == QUARTER else 'a third'} of the way round"


def numbered(placed: Sequence[Placed], working: Face, items: Sequence[Item]) -> tuple[Placed, ...]:
    """In the order of applying: the working face first, then round the package; each with its number."""
    rank = {name: BLOCKS.index(LEAD if name == BESIDE else name) for name in BLOCKS}
    block = {id(item.requirement): (rank[item.block], item.index) for item in items}
    faces = [working, *(face for face in ORDER if face is not working)]
    order = sorted(placed, key=lambda p: (faces.index(p.face), block[id(p.requirement)], p.x, p.y))
    return tuple(replace(p, number=n) for n, p in enumerate(order, 1))
