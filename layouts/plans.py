"""Which marks go on which face: the choice that step 3 makes before it sets a single one.

A plan says what stays on the working face with the hazard labels and what stands elsewhere. The preferred plans are tried
first, block by block; where none of them goes, every way to spread the marks over the faces is searched, so that no package
is refused for which there is one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import product

from msgspec import Struct

from layouts.blocks import ADDRESSES, ARROWS, BESIDE, BLOCKS, LEAD, NAMES, PICTURES, TEXTS, Item
from layouts.board import BRIEF, FEW, STEPS, Board
from marks.terms import Face

#: What leaves the working face when it can't take all, least regretted first.
MOVES = (
    (), (PICTURES,), (TEXTS,), (PICTURES, TEXTS), (ADDRESSES,), (PICTURES, ADDRESSES), (PICTURES, TEXTS, ADDRESSES),
    (BESIDE, PICTURES, TEXTS, ADDRESSES),
)  # fmt: skip
#: In which order blocks are read on the working face.
READ = (LEAD, BESIDE, PICTURES, NAMES, TEXTS, ADDRESSES)
#: Where what has left the working face goes.
ELSEWHERE = (Face.RIGHT, Face.LEFT, Face.BACK, Face.FRONT, Face.TOP)
UPRIGHT = (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT)
#: The two pairs of faces that arrows may stand on.
PAIRS = ((Face.LEFT, Face.RIGHT), (Face.FRONT, Face.BACK))
#: Sets of marks tried on single faces before a search over all of them is given up.
TRIES = 600
#: The same where it only saves what follows.
TRIES_IN_BRIEF = 30

Contents = dict[Face, list[Item]]


class Plan(Struct, frozen=True):
    """What stands on which face. moved: the blocks that left the working face; arrows: the two faces that bear them."""

    working: Face
    contents: Contents
    moved: tuple[str, ...] = ()
    arrows: tuple[Face, Face] | None = None


class Planner(Struct, dict=True):
    """Finds the plan for one step. items: those to be set; tied: faces that bear a hazard label already, so that the
    others must stand there; apart: number and name may leave the labels; whole: nothing but arrows may leave them."""

    board: Board
    items: Sequence[Item]
    tied: frozenset[Face] = frozenset()
    apart: bool = False
    whole: bool = False

    @cached_property
    def blocks(self) -> dict[str, list[Item]]:
        """The items of each block; none of a block that has none."""
        return {name: [item for item in self.items if item.block == name] for name in BLOCKS}

    def find(self, faces: Sequence[Face]) -> Plan | None:
        """The best plan with one of these as the working face; None where there is none."""
        faces = [f for f in faces if self.board.solid.takes_marks(f) and (not self.tied or f in self.tied)]
        if self.twice:
            faces = [face for face in faces if face.upright]
        if self.whole and faces:
            return self._whole(faces[0])
        able = []
        for face in faces:
            if self.board.fits(face, self.stays) is None:
                continue
            able.append(face)
            for n, (arrows, moved) in enumerate(product(self._arrow_pairs(face), self._moves())):
                if n == 2 and self._hopeless(face):  # no sooner: mostly one of the first two goes
                    able.remove(face)
                    break
                if (plan := self._tried(face, arrows, moved)) is not None:
                    return plan
        return next(filter(None, map(self._searched, able)), None)

    @cached_property
    def twice(self) -> list[Item]:
        """What stands on two opposite faces, arrows aside."""
        return [item for item in self.items if item.paired and item.block != ARROWS]

    @cached_property
    def stays(self) -> list[Item]:
        """What can't leave the working face: the labels, number and name while they need not part, what stands twice."""
        names = [] if self.apart else self.blocks[NAMES]
        return _once([*self.blocks[LEAD], *names, *self.twice])

    def _whole(self, face: Face) -> Plan | None:
        """All on one face that was made for them, arrows aside."""
        contents: Contents = {one: [] for one in self.board.solid.faces}
        contents[face] = [item for item in self.items if item.block != ARROWS]
        for arrows in self._arrow_pairs(face):
            if all(self.board.fits(one, self.blocks[ARROWS]) is not None for one in arrows or ()):
                return Plan(face, contents | {one: self.blocks[ARROWS] for one in arrows or ()}, (), arrows)
        return None

    def _arrow_pairs(self, working: Face) -> Iterator[tuple[Face, Face] | None]:
        if not self.blocks[ARROWS]:
            yield None
            return
        for pair in PAIRS if working not in PAIRS[0] else PAIRS[::-1]:  # leaving the working face to the labels
            if all(self.board.solid.takes_marks(face) for face in pair):
                yield pair

    def _moves(self) -> Iterator[tuple[str, ...]]:
        """The preferred choices of blocks that leave the working face; what stands twice stays."""
        twice = {item.block for item in self.twice}
        also = (NAMES,) if self.apart else ()
        if also and (twice & set(also) or not self.blocks[NAMES]):
            return
        present = {name for name, block in self.blocks.items() if block and name not in twice}
        seen = set()
        for move in MOVES:
            some = tuple(name for name in (*move, *also) if name in present)
            if some not in seen and not twice & set(move):
                seen.add(some)
                yield some

    def _tried(self, working: Face, arrows: tuple[Face, Face] | None, moved: tuple[str, ...]) -> Plan | None:
        """The plan that moves these blocks: all of them to one face, else block by block, else mark by mark."""
        contents: Contents = {face: [] for face in self.board.solid.faces}
        contents[working] = [item for name in READ if name not in moved for item in self.blocks[name]]
        contents[working.opposite] += [item for item in contents[working] if item.paired]
        for face in arrows or ():
            contents[face] = contents[face] + self.blocks[ARROWS]
        for face, some in contents.items():
            if some and self.board.fits(face, some, FEW) is None:
                return None
        gone = [self.blocks[name] for name in READ if name in moved]
        faces = [face for face in ELSEWHERE if self.board.solid.takes_marks(face)]
        below = working is Face.SHOULDER  # then the front comes first; else the emptiest, the working face last
        faces.sort(key=lambda face: (face is working, len(contents[face]), below and face is not Face.FRONT))
        if gone and not self._added(contents, faces, [item for block in gone for item in block]):
            for block in gone:
                if not self._added(contents, faces, block) and not all(
                    self._added(contents, faces, [item]) for item in block
                ):
                    return None
        return Plan(working, contents, moved, arrows)

    def _added(self, contents: Contents, faces: Sequence[Face], some: Sequence[Item]) -> bool:
        for face in faces:
            if self.board.fits(face, [*contents[face], *some], FEW) is not None:
                contents[face] = [*contents[face], *some]
                return True
        return False

    # --- every way -------------------------------------------------------------------------------------------------

    def _hopeless(self, working: Face) -> bool:
        """Whether a brief search tells already that there is no plan with this working face."""
        before, self.board.unfinished = self.board.unfinished, False
        found = self._searched(working, BRIEF)
        told, self.board.unfinished = not self.board.unfinished, before
        return found is None and told

    def _searched(self, working: Face, steps: tuple[int, ...] = STEPS) -> Plan | None:
        """Some plan with this working face, by a search of all of them."""
        contents: Contents = {face: [] for face in self.board.solid.faces}
        contents[working] = self.stays
        contents[working.opposite] += [item for item in self.twice if working.upright]
        if self.board.fits(working.opposite, contents[working.opposite], steps) is None:
            return None
        kept = {item.index for item in self.stays}
        singles = [item for item in self.items if item.index not in kept and item.block != ARROWS]
        singles.sort(key=lambda item: (-self._least(item), item.index))
        order = [working, *(face for face in ELSEWHERE if face is not working and self.board.solid.takes_marks(face))]
        if steps is BRIEF:
            order.reverse()  # the emptiest first
        for arrows in self._arrow_pairs(working):
            start = dict(contents)
            for face in arrows or ():
                start[face] = start[face] + self.blocks[ARROWS]
            if all(not some or self.board.fits(face, some, steps) is not None for face, some in start.items()):
                search = _Spread(self.board, order, singles, steps)
                if (found := search.go(start, 0)) is not None:
                    here = {item.index for item in found[working]}
                    moved = tuple(n for n in READ if any(i.index not in here for i in self.blocks[n]))
                    return Plan(working, found, moved, arrows)
                self.board.unfinished |= search.left < 0
        return None

    def _least(self, item: Item) -> float:
        return min(piece.width * piece.height for piece in item.pieces(self.board.level))


class _Spread:
    """Each of these marks on one of these faces, largest first."""

    def __init__(self, board: Board, faces: Sequence[Face], items: Sequence[Item], steps: tuple[int, ...]) -> None:
        self.board, self.faces, self.items, self.steps = board, faces, items, steps
        self.left = TRIES if steps is STEPS else TRIES_IN_BRIEF
        self.failed: set[tuple[int, frozenset[tuple[object, frozenset[int]]]]] = set()

    def go(self, contents: Contents, at: int) -> Contents | None:
        if at == len(self.items):
            return contents
        state = at, frozenset((self.board.like(f), frozenset(i.index for i in contents[f])) for f in self.faces)
        if state in self.failed:
            return None
        seen = set()
        for face in self.faces:
            key = self.board.like(face), frozenset(i.index for i in contents[face])
            if key in seen:  # a face like one that was tried
                continue
            seen.add(key)
            self.left -= 1
            if self.left < 0 or (self.steps is BRIEF and self.board.unfinished):
                return None
            some = [*contents[face], self.items[at]]
            if self.board.fits(face, some, self.steps) is not None:
                found = self.go({**contents, face: some}, at + 1)
                if found is not None:
                    return found
        self.failed.add(state)
        return None


def _once(items: Iterable[Item]) -> list[Item]:
    return list({item.index: item for item in items}.values())
