"""Step 3, the search: every mark on a face, or a refusal that says what is needed and what there is.

Hard: nothing on the bottom, over an edge, over a keep-clear area, over a mark that is there already or over another;
hazard labels beside each other on one face, the cargo aircraft label with them; arrows on two opposite upright faces.
Wished for, in this order: one working face (the front), number and name beside the labels, addresses on that face too,
room around everything, level feet and edges, round distances.

When the front can't take all, in this order: other upright faces (arrows stand on left and right from the start),
another working face, condensed lettering, on a round side a third of the way round, reduced labels where no leg goes
by air, refusal. The result is checked by code of its own (verify.py) before it is returned. Same marks, same answer,
in whatever order they come.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from layouts import reasons
from layouts.blocks import ADDRESSES, ARROWS, BESIDE, BLOCKS, LEAD, NAMES, PICTURES, TEXTS, Item, Level, sorted_items
from layouts.board import COMFORTS, Board
from layouts.faces import Area, Solid, There, already_there, kept_clear
from layouts.geometry import Box
from layouts.placement import NOWHERE, Placed, Placement
from layouts.trouble import Trouble, does_not_fit
from layouts.verify import verify
from marks.quantity import to
from marks.requirement import Requirement
from marks.terms import Face, Mode

if TYPE_CHECKING:
    from layouts.artwork.base import Artwork

#: What leaves the working face when it can't take all, least regretted first.
MOVES = (
    (), (PICTURES,), (TEXTS,), (PICTURES, TEXTS), (ADDRESSES,), (PICTURES, ADDRESSES), (PICTURES, TEXTS, ADDRESSES),
    (BESIDE, PICTURES, TEXTS, ADDRESSES),
)  # fmt: skip
#: In which order blocks are read on the working face.
READ = (LEAD, BESIDE, PICTURES, NAMES, TEXTS, ADDRESSES)
#: Where what has left the working face goes.
ELSEWHERE = (Face.RIGHT, Face.LEFT, Face.BACK, Face.FRONT, Face.TOP)


def place(
    solid: Solid,
    requirements: Iterable[Requirement],
    modes: Sequence[Mode] = (),
    *,
    keep_clear: Sequence[Area] = (),
    there: Sequence[There] = (),
    spec_mark: str | None = None,
    forms: Callable[[Requirement], Sequence[Artwork]] | None = None,
) -> Placement:
    """Place every requirement on the solid.

    keep_clear: areas that take no mark. there: marks the packaging bears already (a requirement marked ``preprinted``
    without a stated place takes room at an assumed one). spec_mark: the specification mark, shown where there is room.
    forms: what a requirement may look like, preferred first (default: the artwork catalogue).
    Returns a verified Placement; when something does not fit, one with a ``does-not-fit`` refusal and no items.
    """
    if forms is None:
        from layouts.artwork.catalogue import forms as catalogue_forms

        forms = catalogue_forms
    requirements = tuple(requirements)
    items = sorted_items(requirements, forms, modes)
    known, fixed, others = _already(solid, items, there)
    reserved = [*keep_clear, *others, *(Area(p.face, p.box, p.requirement.mark) for p in fixed)]
    to_set = [item for item in items if item.index not in known]
    notes = tuple(reasons.about_there(items, fixed, there))
    trouble = Trouble()
    for level in _levels(solid, to_set):
        used = solid.stretched() if level.stretched else solid
        board = Board(used, items, level, reserved)
        for working, moved, arrows in _plans(used, to_set, fixed):
            done = _attempt(board, to_set, fixed, working, moved, arrows, trouble)
            if done is None:
                continue
            placed = [*fixed, *_placed(done, items, working, moved)]
            placement = Placement(
                used,
                reasons.numbered(placed, working, items),
                tuple(keep_clear),
                (*others, *_spec_area(done, spec_mark)),
                (*notes, *reasons.About(placed, used, working, level.stretched).findings()),
                working,
            )
            verify(placement, requirements, modes)
            return placement
    refusal = does_not_fit(solid, items, reserved, trouble)
    return Placement(solid, (), tuple(keep_clear), tuple(others), (*notes, refusal))


def place_package(package: Any, requirements: Iterable[Requirement], modes: Sequence[Mode] = ()) -> Placement:
    """The same for a package of the record, with its keep-clear areas, preprinted marks and specification mark."""
    there, clear = already_there(package), kept_clear(package)
    return place(Solid.of(package), requirements, modes, keep_clear=clear, there=there, spec_mark=package.spec_mark)


def place_overpack(overpack: Any, requirements: Iterable[Requirement], modes: Sequence[Mode] = ()) -> Placement:
    """The same for an overpack of the record: a box with nothing on it yet; NOWHERE without a size."""
    if overpack.size is None:
        return NOWHERE
    size = (to(edge, "mm") for edge in (overpack.size.length, overpack.size.width, overpack.size.height))
    return place(Solid.box(*map(float, size)), requirements, modes)


def _levels(solid: Solid, items: Sequence[Item]) -> Iterator[Level]:
    from layouts.blocks import condensed

    yield Level()
    narrow = any(condensed(form) for item in items for form in item.forms)
    if narrow:
        yield Level(condensed=True)
    if solid.round:
        yield Level(condensed=narrow, stretched=True)
    for step in range(1, 1 + max((sum(f.reduced for f in item.forms) for item in items), default=0)):
        yield Level(condensed=narrow, reduced=step, stretched=solid.round)


def _plans(solid: Solid, items: Sequence[Item], fixed: Sequence[Placed]) -> Iterator[tuple[Face, tuple[str, ...], str]]:
    """Working face, blocks that leave it, and where the arrows go (``sides`` or ``working``), best first."""
    present = {item.block for item in items}
    tied = {p.face for p in fixed if p.requirement.mark == "hazard-label"}
    faces = [
        f
        for f in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT, Face.TOP)
        if solid.takes_marks(f) and (not tied or f in tied)
    ]
    twice = {item.block for item in items if item.paired and item.block != ARROWS}
    if twice:
        faces = [f for f in faces if f is not Face.TOP]
    # What stands twice stays on the working face, and stands on the opposite one again.
    moves = [m for m in dict.fromkeys(tuple(b for b in move if b in present) for move in MOVES) if not twice & set(m)]
    sides = ["sides"] if solid.takes_marks(Face.LEFT) else []
    ways = [*sides, "working"] if ARROWS in present else ["sides"]
    for face in faces:
        for way in ways:
            for move in moves:
                if face is not Face.TOP or way == "sides":
                    yield face, move, way
    if NAMES in present and NAMES not in twice:  # the law lets the name stand apart only where the face of the labels is too small
        for face in faces:
            for way in ways:
                if face is not Face.TOP or way == "sides":
                    for beside in ((), (BESIDE,)) if BESIDE in present - twice else ((),):
                        yield face, (*beside, *(b for b in (PICTURES, TEXTS, ADDRESSES) if b in present), NAMES), way


def _attempt(
    board: Board,
    items: Sequence[Item],
    fixed: Sequence[Placed],
    working: Face,
    moved: tuple[str, ...],
    arrows: str,
    trouble: Trouble,
) -> Board | None:
    blocks = {name: [item for item in items if item.block == name] for name in BLOCKS}
    here = [blocks[name] for name in READ if name not in moved]
    if BESIDE not in moved:  # in the rows of the labels
        here[:2] = [sorted(here[0] + here[1], key=lambda item: item.index)]
    if arrows == "working":
        here.append(blocks[ARROWS])
    if trouble.hopeless(board, working, here, blocks[LEAD]):
        return None
    board = board.copy()
    if arrows == "sides" and not board.set_on((Face.LEFT, Face.RIGHT), [blocks[ARROWS]], centre=True):
        trouble.note("arrows", blocks[ARROWS])
        return None
    if not board.set(working, here):
        trouble.note("together", [item for block in here for item in block], board, working)
        return None
    again = [[item for item in block if item.paired and item.block != ARROWS] for block in here]
    for twice, centre in ((again, False), ([blocks[ARROWS]] if arrows == "working" else [], True)):
        if not board.set(working.opposite, twice, centre):
            trouble.note("opposite", [item for block in twice for item in block])
            return None
    left = _elsewhere(board, [blocks[name] for name in READ if name in moved], working)
    if left:
        trouble.note("elsewhere", left)
        return None
    return board


def _elsewhere(board: Board, blocks: Sequence[Sequence[Item]], working: Face) -> Sequence[Item]:
    """Set what left the working face: all of it on one face, else block by block, else mark by mark. Returns what
    won't go."""
    faces = [face for face in ELSEWHERE if board.solid.takes_marks(face)]
    faces.sort(
        key=lambda face: (face is working, len(board.taken[face]))
    )  # stable: emptiest first, the working face last
    if any(board.set(face, blocks, comforts=COMFORTS[:2]) for face in faces) or any(
        board.set(face, blocks) for face in faces
    ):
        return ()
    for block in blocks:
        if any(board.set(face, [block]) for face in faces):
            continue
        for item in block:
            if len(block) == 1 or not any(board.set(face, [[item]]) for face in faces):
                return [item]
    return ()


def _already(solid: Solid, items: Sequence[Item], there: Sequence[There]) -> tuple[set[int], list[Placed], list[Area]]:
    """What the packaging bears at a stated place: the items it answers (by index), where they are, and what nothing
    asks for."""
    known: set[int] = set()
    fixed: list[Placed] = []
    others: list[Area] = []
    for mark in sorted(there, key=lambda t: (t.mark, str(t.face), t.box or Box(0, 0, 0, 0))):
        if mark.face is None or mark.box is None:
            continue
        mine = [
            i
            for i in items
            if i.requirement.preprinted and i.requirement.mark == mark.mark and (i.paired or i.index not in known)
        ]
        if not mine:
            others.append(Area(mark.face, mark.box, mark.mark))
            continue
        item, box = mine[0], mark.box
        known.add(item.index)
        fixed.append(_there(item, mark.face, box))
    for item in items:
        mine_placed = [p for p in fixed if p.requirement is item.requirement]
        if item.paired and len(mine_placed) == 1:
            one = mine_placed[0]
            box = one.box._replace(x=solid.size(one.face)[0] - one.box.right)
            fixed.append(_there(item, one.face.opposite, box, assumed=True))
    return known, fixed, others


def _there(item: Item, face: Face, box: Box, assumed: bool = False) -> Placed:
    art = item.forms[0]
    return Placed(item.requirement, art, face, *box, there=True, assumed=assumed)


def _placed(board: Board, items: Sequence[Item], working: Face, moved: tuple[str, ...]) -> list[Placed]:
    out = []
    for index, form, face, x, y in board.spots:
        item = items[index]
        art, bare = item.forms[form], item.requirement.preprinted
        why = reasons.why_here(item, face, working, moved, board.solid)
        out.append(
            Placed(item.requirement, art, face, x, y, art.width, art.height, there=bare, assumed=bare, why_here=why)
        )
    return out


def _spec_area(board: Board, spec_mark: str | None) -> list[Area]:
    """The specification mark stands somewhere on the packaging; the record does not say where. Shown low on a free
    face."""
    from layouts.letters import size_for_cap, width

    if not spec_mark:
        return []
    for cap in (12.0, 6.0):
        size = width(spec_mark, "condensed", size_for_cap("condensed", cap)) + cap * 2, cap * 1.6
        for face in (Face.BACK, Face.LEFT, Face.RIGHT, Face.FRONT, Face.TOP):
            for box in board.free((face,), COMFORTS[1]) if board.solid.takes_marks(face) else []:
                if size[0] <= box.width and size[1] <= box.height:
                    return [
                        Area(face, Box(box.right - size[0], box.y, *size), f"UN specification mark {spec_mark}", True)
                    ]
    return []
