"""The faces of one package while marks are being set on them: what is taken, and the best free spot for a block."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from layouts.arrange import HAIR, Comfort, Shape, composed, empty_boxes, search
from layouts.blocks import Item, Level, shapes
from layouts.faces import Area, Solid
from layouts.geometry import Box
from marks.terms import Face

#: How generously to set, best first. The last is the least: 5 mm between marks, 3 mm to every edge
#: (marks/tables/placing.toml).
COMFORTS = (Comfort(15, 20, 5), Comfort(10, 10, 5), Comfort(5, 5, 1), Comfort(5, 3, 0.1))
LEAST = COMFORTS[-1]
#: On a large face the margin grows to this share of the shorter side, up to so many mm.
SHARE, MOST = 0.06, 60.0

Spot = tuple[int, int, Face, float, float]  # item, form, face, x, y


class Board:
    """Trial positions; a copy is cheap, so a plan that fails leaves nothing behind."""

    def __init__(self, solid: Solid, items: Sequence[Item], level: Level, reserved: Iterable[Area]) -> None:
        self.solid, self.items, self.level = solid, items, level
        self.taken: dict[Face, list[Box]] = {face: [] for face in solid.faces}
        for area in reserved:
            self.taken[area.face].append(area.box)
        self.spots: list[Spot] = []
        self._shapes: dict[tuple[object, ...], list[Shape]] = {}

    def copy(self) -> Board:
        twin = Board.__new__(Board)
        twin.solid, twin.items, twin.level, twin._shapes = self.solid, self.items, self.level, self._shapes
        twin.taken = {face: list(boxes) for face, boxes in self.taken.items()}
        twin.spots = list(self.spots)
        return twin

    def shapes(self, block: Sequence[Item], comfort: Comfort) -> list[Shape]:
        key = (comfort, *(item.index for item in block))
        if key not in self._shapes:
            self._shapes[key] = shapes(block, self.level, comfort)
        return self._shapes[key]

    def ground(self, face: Face, comfort: Comfort) -> Box:
        """The face inside its margin, its corners on the grid."""
        width, height = self.solid.size(face)
        margin = comfort.margin
        if comfort is COMFORTS[0]:
            margin = max(margin, min(MOST, SHARE * min(width, height)))
        return _on_grid(Box(margin, margin, width - 2 * margin, height - 2 * margin), comfort.step)

    def free(self, faces: Sequence[Face], comfort: Comfort) -> list[Box]:
        """Empty boxes common to these faces (of one size), their corners on the grid."""
        taken = [box.grown(comfort.gap) for face in faces for box in self.taken[face]]
        found = (_on_grid(box, comfort.step) for box in empty_boxes(self.ground(faces[0], comfort), taken))
        return [box for box in found if box.width > 0 and box.height > 0]

    def set(
        self, face: Face, blocks: Sequence[Sequence[Item]], centre: bool = False, comforts: Sequence[Comfort] = COMFORTS
    ) -> bool:
        """Set these blocks together on a face, as generously as goes; False if they do not go at all."""
        return self.set_on((face,), blocks, centre, comforts)

    def set_on(
        self,
        faces: Sequence[Face],
        blocks: Sequence[Sequence[Item]],
        centre: bool = False,
        comforts: Sequence[Comfort] = COMFORTS,
    ) -> bool:
        """The same spots on each of these faces (which have one size): for pairs on opposite faces."""
        blocks = [block for block in blocks if block]
        if not blocks:
            return True
        for at, comfort in enumerate(comforts):
            found = self._best(faces, blocks, comfort, centre)
            if found is None and at == len(comforts) - 1:
                found = self._search(faces, blocks, comfort)
            if found is not None:
                self._keep(faces, found)
                return True
            # A generous try failed: the least one says at once whether trying on is worth it.
            if at == 0 and len(comforts) > 2 and self._best(faces, blocks, comforts[-1], centre) is None:
                tries = (self._search(faces, blocks, comfort) for comfort in comforts[-2:])
                found = next((one for one in tries if one is not None), None)
                if found is not None:
                    self._keep(faces, found)
                return found is not None
        return False

    def _best(
        self, faces: Sequence[Face], blocks: Sequence[Sequence[Item]], comfort: Comfort, centre: bool
    ) -> list[tuple[Shape, float, float]] | None:
        """One arrangement of all the blocks in one empty box: the calmest of those that fit."""
        free = self.free(faces, comfort)
        if not free:
            return None
        most = max(b.width for b in free), max(b.height for b in free)
        options = composed([self.shapes(block, comfort) for block in blocks], comfort.gap, most)
        best: tuple[tuple[float, ...], Shape, Box] | None = None
        for shape in options:
            for rank, box in enumerate(free):
                if shape.width <= box.width + HAIR and shape.height <= box.height + HAIR:
                    key = (shape.cost + _emptiness(shape), rank, shape.width, shape.height)
                    if best is None or key < best[0]:
                        best = key, shape, box
                    break
        if best is None:
            return None
        _, shape, box = best
        x = box.x
        if centre:
            x += math.floor((box.width - shape.width) / 2 / comfort.step) * comfort.step
        return [(shape, x, box.top - shape.height)]

    def _search(
        self, faces: Sequence[Face], blocks: Sequence[Sequence[Item]], comfort: Comfort
    ) -> list[tuple[Shape, float, float]] | None:
        """Block by block, wherever there is room: the lead block whole, texts each for itself."""
        loose = [blocks[0], *([item] for block in blocks[1:] for item in block)]
        if len(loose) == 1 and len(self.taken[faces[0]]) == 0:
            return None
        taken = [box.grown(comfort.gap) for face in faces for box in self.taken[face]]
        return search(
            [self.shapes(block, comfort) for block in loose], self.ground(faces[0], comfort), taken, comfort.gap
        )

    def _keep(self, faces: Sequence[Face], found: Iterable[tuple[Shape, float, float]]) -> None:
        for shape, x, y in found:
            for piece, px, py in shape.spots(x, y):
                for face in faces:
                    self.put(piece.item, piece.form, face, round(px, 3), round(py, 3))

    def put(self, index: int, form: int, face: Face, x: float, y: float) -> None:
        art = self.items[index].forms[form]
        self.spots.append((index, form, face, x, y))
        self.taken[face].append(Box(x, y, art.width, art.height))


def _emptiness(shape: Shape) -> float:
    """How ragged an arrangement is: the part of its box that no mark fills, up to 4."""
    filled = sum(piece.width * piece.height for piece, _, _ in shape.spots(0, 0))
    return 4 * (1 - filled / (shape.width * shape.height))


def _on_grid(box: Box, step: float) -> Box:
    x0, y0 = (math.ceil(v / step - HAIR) * step for v in (box.x, box.y))
    x1, y1 = (math.floor(v / step + HAIR) * step for v in (box.right, box.top))
    return Box(x0, y0, x1 - x0, y1 - y0)


def near(boxes: Sequence[Box]) -> float:
    """The widest distance between one box and the next nearest, mm: 0 for one alone."""
    return max((min(_apart(a, b) for b in boxes if b is not a) for a in boxes), default=0.0) if len(boxes) > 1 else 0.0


def _apart(a: Box, b: Box) -> float:
    dx = max(a.x - b.right, b.x - a.right, 0.0)
    dy = max(a.y - b.top, b.y - a.top, 0.0)
    return math.hypot(dx, dy)


__all__ = ["COMFORTS", "LEAST", "Board", "Spot", "near"]
