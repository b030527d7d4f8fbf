"""From a plan to places: every mark at its spot, as calmly and generously as its faces allow; and the room left for others.

Comfort is given up face by face: wide gaps first, then narrow ones, last the least distances in whatever places the exact
search has found.
"""

from __future__ import annotations

from collections.abc import Sequence

from layouts.blocks import ARROWS, Item
from layouts.board import COMFORTS, Board, distance
from layouts.faces import Area
from layouts.geometry import Box
from layouts.plans import READ, Plan
from marks.terms import Face

#: Where room is left for the carrier's own label, best first.
CARRIER = (Face.TOP, Face.BACK, Face.RIGHT, Face.LEFT, Face.FRONT)
#: Where the specification mark is shown, best first.
SPEC_MARK = (Face.BACK, Face.LEFT, Face.RIGHT, Face.FRONT, Face.TOP)


def laid_out(base: Board, plan: Plan, items: Sequence[Item]) -> tuple[Board, Area | None]:
    """Every mark of the plan at its spot, and the room that is left for the carrier's label: as generously as leaves such
    room; as generously as goes where there is none in any case."""
    calm = _set(base, plan, items, 0)
    if (room := carrier_room(calm)) is not None or not _could_be(base):
        return calm, room
    tight = _set(base, plan, items, len(COMFORTS) - 1)
    if carrier_room(tight) is None:
        return calm, None
    for comfort in range(1, len(COMFORTS)):
        board = _set(base, plan, items, comfort)
        if (room := carrier_room(board)) is not None:
            return board, room
    return tight, carrier_room(tight)


def _set(base: Board, plan: Plan, items: Sequence[Item], comfort: int) -> Board:
    """The marks set with this comfort, or with less where it does not go."""
    board, comforts = base.copy(), COMFORTS[comfort:]
    crowded: dict[Face, None] = {}
    arrows = [item for item in items if item.block == ARROWS]
    pair = plan.arrows or ()
    at_once = bool(pair) and plan.working not in pair  # the same spot on both faces, before all else there
    if at_once and not board.set(pair, [arrows], centre=True, comforts=comforts):
        crowded.update(dict.fromkeys(pair))
    for face in (plan.working, *(face for face in plan.contents if face is not plan.working)):
        own = [item for item in plan.contents[face] if item.block != ARROWS or not at_once]
        if not own:
            continue
        blocks = [[item for item in own if item.block == name] for name in READ]
        blocks[:2] = [sorted(blocks[0] + blocks[1], key=lambda item: item.index)]  # one row of squares
        blocks.append([item for item in own if item.block == ARROWS])
        if not board.set([face], blocks, centre=not any(blocks[:-1]), comforts=comforts):
            crowded[face] = None
    for face in crowded:
        board.clear_face(face, base)
        if not board.set_tight(face, plan.contents[face]):
            raise AssertionError(f"the marks planned for {face} do not go there")
    return board


def _size() -> tuple[float, float]:
    return distance("carrier-label-width"), distance("carrier-label-height")


def _could_be(board: Board) -> bool:
    """Whether some face could have room for the carrier's label at all."""
    return any(
        min(size) <= min(board.solid.size(face)) and max(size) <= max(board.solid.size(face))
        for size in (_size(),)
        for face in CARRIER
        if board.solid.takes_marks(face)
    )


def carrier_room(board: Board) -> Area | None:
    """A free area for the carrier's label, upright or on its side: in the middle of the top, low on other faces."""
    size = _size()
    for face in CARRIER:
        for width, height in (size, size[::-1]) if board.solid.takes_marks(face) else ():
            for box in board.free([face], COMFORTS[2]):
                if width <= box.width and height <= box.height:
                    x, y = box.right - width, box.y
                    if face is Face.TOP:
                        x, y = box.centre.x - width / 2, box.centre.y - height / 2
                    return Area(face, Box(x, y, width, height), "room for the carrier's label", True)
    return None


def spec_area(board: Board, spec_mark: str | None, carrier: Area | None) -> list[Area]:
    """The specification mark stands somewhere on the packaging; the record does not say where. Shown low on a free face."""
    from layouts.letters import size_for_cap, width

    if not spec_mark:
        return []
    board = board.copy()
    if carrier is not None:
        board.marked[carrier.face].append(carrier.box)
    for cap in (12.0, 6.0):
        wide, high = width(spec_mark, "condensed", size_for_cap("condensed", cap)) + cap * 2, cap * 1.6
        for face in SPEC_MARK:
            for box in board.free([face], COMFORTS[1]) if board.solid.takes_marks(face) else ():
                if wide <= box.width and high <= box.height:
                    area = Box(box.right - wide, box.y, wide, high)
                    return [Area(face, area, f"UN specification mark {spec_mark}", True)]
    return []
