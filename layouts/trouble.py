"""What did not go in step 3, in words: why a step was not enough, and the refusal: needed, had, to be done."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from layouts.arrange import HAIR
from layouts.blocks import ADDRESSES, ARROWS, BLOCKS, LEAD, Item, shapes
from layouts.board import LEAST, Board
from layouts.faces import ORDER, Area, Solid, on_face
from layouts.plans import PAIRS, Planner
from layouts.reasons import ARROWS_TWICE, NOT_BOTTOM, names, size_words, start
from layouts.steps import Step, steps, tag_allowed
from layouts.told import Memory
from marks import small
from marks.requirement import Finding
from marks.terms import Face, Level, Mode, PackageForm

#: What is missing, and how it is said.
STAGES = {
    "lead": "on one face",
    "arrows": "on each of two opposite upright faces",
    "together": "together on one face",
    "opposite": "on the opposite face too",
    "elsewhere": "beside the other marks or on a face of their own",
}


def missing(
    board: Board, items: Sequence[Item], step: Step, tied: frozenset[Face] = frozenset(), closely: bool = False
) -> tuple[str, list[Item]]:
    """Where a step fails that has no plan: a stage, and the marks that do not go; ``closely``: as few as can be found."""
    faces = [f for f in step.faces if board.solid.takes_marks(f) and (not tied or f in tied)]
    lead = [item for item in items if item.block == LEAD]
    arrows = [item for item in items if item.block == ARROWS]
    planner = Planner(board, items, tied, step.apart, step.whole)
    if planner.twice and not any(face.upright for face in faces):
        return "opposite", planner.twice
    if lead and all(board.fits(face, lead) is None for face in faces):
        return "lead", lead
    pairs = [pair for pair in PAIRS if all(board.solid.takes_marks(face) for face in pair)]
    if arrows and not any(all(board.fits(face, arrows) is not None for face in pair) for pair in pairs):
        return "arrows", arrows
    if all(board.fits(face, planner.stays) is None for face in faces):
        return "together", planner.stays
    if planner.twice and all(board.fits(face.opposite, planner.twice) is None for face in faces):
        return "opposite", planner.twice
    if not closely:
        return "elsewhere", [item for item in items if item not in planner.stays]
    first = [*planner.stays, *arrows]
    rest = [item for item in items if item not in first]
    rest.sort(key=lambda item: (item.block == ADDRESSES, item.index))
    for n, item in enumerate(rest, 1):
        if Planner(board, [*first, *rest[:n]], tied, step.apart, step.whole).find(faces) is None:
            return "elsewhere", [item]
    return "elsewhere", list(items)


def said_of(board: Board, items: Sequence[Item], step: Step, tied: frozenset[Face] = frozenset()) -> str:
    """Why this step was not enough, in a few words."""
    stage, culprits = missing(board, items, step, tied)
    unsure = ", as far as was tried: the search was ended before every arrangement had been" if board.unfinished else ""
    return f"no room for {names(culprits)} {STAGES[stage]}{unsure}" if culprits else "no such face takes a mark"


def does_not_fit(
    solid: Solid,
    items: Sequence[Item],
    to_set: Sequence[Item],
    marked: Sequence[Area],
    clear: Sequence[Area],
    modes: Sequence[Mode],
    tied: frozenset[Face],
    ended: bool,
    may_hang: bool,
    memory: Memory,
) -> Finding:
    """The refusal: what is needed, what each face has, what to do. ended: a search was ended before it could tell; memory:
    what the steps have told."""
    cures = list(_cures(solid, to_set, modes, [*marked, *clear], may_hang))
    if solid.form is PackageForm.IRREGULAR:
        no_face = [item for item in to_set if item.block == ARROWS] or to_set
        text = f"{start(names(no_face))}: an irregular article has no face for it. What to do: {'; '.join(cures)}."
        return Finding(Level.REFUSE, "does-not-fit", text, NOT_BOTTOM)
    last = [
        step for step in steps(solid, to_set, modes) if Face.TAG not in step.faces and Face.SHOULDER not in step.faces
    ][-1]
    everywhere = replace(last, faces=(Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT, Face.TOP))
    board = Board(last.solid, items, last.level, marked, clear, (), tied, memory)
    stage, culprits = missing(board, to_set, everywhere, tied, closely=True)
    by_block = [[item for item in culprits if item.block == name] for name in BLOCKS]
    needs = " and ".join(_need(board, block) for block in by_block if block)
    reserved = [*marked, *clear]
    faces = [face for face in ORDER if face is not Face.SHOULDER and board.solid.takes_marks(face)]
    has = "; ".join(f"{face} {size_words(board.solid.size(face))}{_free(board, face, reserved)}" for face in faces)
    verb = "needs" if len(culprits) == 1 else "need"
    unsure = " The search was ended before every arrangement was tried." if ended else ""
    text = (
        f"{start(names(culprits))} {verb} {needs} {STAGES[stage]}, with {LEAST.margin:g} mm to the edges and "
        f"{LEAST.gap:g} mm between marks. There is: {has}.{unsure} What to do: {'; '.join(cures)}."
    )
    return Finding(Level.REFUSE, "does-not-fit", text, ARROWS_TWICE if stage == "arrows" else NOT_BOTTOM)


def _cures(
    solid: Solid, items: Sequence[Item], modes: Sequence[Mode], reserved: Sequence[Area], may_hang: bool
) -> Iterator[str]:
    labels = [item for item in items if item.requirement.mark == "hazard-label"]
    legs = sorted({mode for item in labels for mode in item.requirement.modes or modes}, key=list(Mode).index)
    if solid.form is not PackageForm.IRREGULAR:
        yield "take a larger packaging"
    if any(on_face(reserved, face) for face in solid.faces if solid.takes_marks(face)):
        yield "free the areas that are kept clear or marked already"
    if firm := [mode for mode in legs if small.reduced((mode,)) is None]:
        yield f"by {' and '.join(firm)} no hazard label may be reduced"
    if may_hang and (no_tag := [mode for mode in legs if tag_allowed(solid, labels, modes, (mode,)) is None]):
        yield f"by {' and '.join(no_tag)} no label may hang on a tag here"
    if any(form.reduced for item in items for form in item.forms):
        yield "they are reduced here as far as they go"


def _need(board: Board, block: Sequence[Item]) -> str:
    """ "at least 148 x 409 mm or 294 x 263 mm": the narrowest shape, the squarest, the widest, margins included."""
    levels = dict.fromkeys((replace(board.level, interlocked=False), board.level))
    sizes = [
        tuple(math.ceil(edge + 2 * LEAST.margin - HAIR) for edge in (shape.width, shape.height))
        for level in levels
        for shape in shapes(block, level, LEAST)
    ]
    chosen = min(sizes), min(sizes, key=lambda size: (max(size), size)), min(sizes, key=lambda size: size[::-1])
    return f"at least {' or '.join(f'{w} x {h} mm' for w, h in dict.fromkeys(chosen))}"


def _free(board: Board, face: Face, reserved: Sequence[Area]) -> str:
    if not on_face(reserved, face):
        return ""
    free = board.free((face,), LEAST)
    if not free:
        return " (nothing free)"
    most = max(free, key=lambda box: box.width * box.height)
    return f" (largest free area {most.width:.0f} x {most.height:.0f} mm)"
