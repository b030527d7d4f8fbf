"""What did not go during the search of step 3, and the refusal that says so: needed, had, to be done."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from layouts.arrange import HAIR
from layouts.blocks import BLOCKS, Item
from layouts.blocks import Level as Forms
from layouts.board import LEAST, Board
from layouts.faces import ORDER, Area, Solid, on_face
from layouts.reasons import ARROWS_TWICE, NOT_BOTTOM, TAG, names, size_words, start
from marks.requirement import Finding
from marks.terms import Face, Level, Mode

#: How far a plan came before it failed, and how the refusal says where the room was missing.
STAGES = {
    "lead": "on one face",
    "arrows": "on each of two opposite upright faces",
    "together": "together on one face",
    "opposite": "on the opposite face too",
    "elsewhere": "beside the other marks or on a face of their own",
}


@dataclass
class Trouble:
    """Failures of one search: no larger set is tried in vain, and the refusal can tell what was in the way."""

    failed: list[tuple[Forms, Face, frozenset[int]]] = field(default_factory=list)
    tried: set[tuple[Forms, Face, frozenset[int]]] = field(default_factory=set)
    deepest: tuple[str, tuple[Item, ...]] | None = None

    def hopeless(self, board: Board, working: Face, here: Sequence[Sequence[Item]], lead: Sequence[Item]) -> bool:
        """Whether these blocks can't go together on this face: more area than it has, or a part of them failed."""
        items = [item for block in here for item in block]
        everything = frozenset(item.index for item in items)
        if any(level == board.level and face is working and part <= everything for level, face, part in self.failed):
            return True
        width, height = board.solid.size(working)
        if sum(min(p.width * p.height for p in item.pieces(board.level)) for item in items) > width * height:
            self.note("lead" if len(items) == len(lead) else "together", items)
            return True
        alone = board.level, working, frozenset(item.index for item in lead)
        if lead and alone not in self.tried:
            self.tried.add(alone)
            if not _goes(board, working, lead):
                self.failed.append(alone)
                self.note("lead", lead)
                return True
        return False

    def note(self, stage: str, items: Sequence[Item], board: Board | None = None, working: Face | None = None) -> None:
        """Remember a failure; the one that came furthest, with the fewest marks, is the one to tell."""
        if board is not None and working is not None:
            self.failed.append((board.level, working, frozenset(item.index for item in items)))
        order = list(STAGES)
        if self.deepest is None or (-order.index(stage), len(items)) <= (
            -order.index(self.deepest[0]),
            len(self.deepest[1]),
        ):
            self.deepest = stage, tuple(items)


def _goes(board: Board, face: Face, block: Sequence[Item]) -> bool:
    """Whether a block alone has room on a face at the least distances."""
    free = board.free((face,), LEAST)
    shapes = board.shapes(block, LEAST)
    return any(s.width <= b.width + HAIR and s.height <= b.height + HAIR for s in shapes for b in free)


def does_not_fit(solid: Solid, items: Sequence[Item], reserved: Sequence[Area], trouble: Trouble) -> Finding:
    """The refusal: what is needed, what each face has, what to do."""
    assert trouble.deepest is not None
    stage, culprits = trouble.deepest
    used = solid.stretched() if solid.round else solid
    board = Board(used, items, Forms(condensed=True, reduced=99, stretched=solid.round), reserved)
    by_block = [[item for item in culprits if item.block == name] for name in BLOCKS]
    needs = " and ".join(_need(board, block) for block in by_block if block)
    faces = [face for face in ORDER if solid.takes_marks(face)]
    has = "; ".join(f"{face} {size_words(used.size(face))}{_free(board, face, reserved)}" for face in faces)
    verb = "needs" if len(culprits) == 1 else "need"
    text = (
        f"{start(names(culprits))} {verb} {needs} {STAGES[stage]}, with 3 mm to the edges and 5 mm between marks. "
        f"There is: {has}. What to do: {'; '.join(_cures(culprits, any(on_face(reserved, f) for f in faces)))}."
    )
    return Finding(Level.REFUSE, "does-not-fit", text, ARROWS_TWICE if stage == "arrows" else NOT_BOTTOM)


def _cures(culprits: Sequence[Item], reserved: bool) -> list[str]:
    cures = ["take a larger packaging"]
    if reserved:
        cures.append("free the areas that are kept clear or marked already")
    if any(Mode.AIR in i.requirement.modes and i.requirement.mark == "hazard-label" for i in culprits):
        cures.append("by air no hazard label may be reduced")
    elif any(form.reduced for i in culprits for form in i.forms):
        cures.append("they are reduced here as far as they go")
    return [*cures, f"for a cylinder, an irregular shape or a package smaller than its label ask for a tag ({TAG})"]


def _need(board: Board, block: Sequence[Item]) -> str:
    """ "at least 148 x 409 mm or 294 x 263 mm": the narrowest shape, the squarest, the widest, margins included."""
    shapes = board.shapes(block, LEAST)
    squarest = min(shapes, key=lambda s: max(s.width, s.height))
    around = 2 * LEAST.margin
    sizes = [
        f"{math.ceil(s.width + around - HAIR)} x {math.ceil(s.height + around - HAIR)} mm"
        for s in dict.fromkeys((shapes[0], squarest, shapes[-1]))
    ]
    return f"at least {' or '.join(sizes)}"


def _free(board: Board, face: Face, reserved: Sequence[Area]) -> str:
    if not on_face(reserved, face):
        return ""
    free = board.free((face,), LEAST)
    if not free:
        return " (nothing free)"
    most = max(free, key=lambda box: box.width * box.height)
    return f" (largest free area {most.width:.0f} x {most.height:.0f} mm)"
