"""The faces of one package while marks are set on them: what is taken, what fits at all, the best free spot for a block."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Sequence

from layouts.arrange import HAIR, Comfort, Piece, Shape, composed, empty_boxes
from layouts.blocks import LEAD, Item, Level, on_point, shapes
from layouts.exact import Spot as Corner
from layouts.exact import Unfinished
from layouts.faces import Area, Solid
from layouts.geometry import Box
from layouts.nested import Arrangement, arrangements
from layouts.outline import Rect, Size
from layouts.told import Kind, Memory, Places, Told
from marks.tables import table
from marks.terms import Face


def distance(name: str) -> float:
    """A distance of ``marks/tables/placing.toml``, mm."""
    return float(table("placing")[name][-1]["mm"])


#: How generously to set, best first. The last is the least: the distances between marks and to edges of the table.
COMFORTS = (
    Comfort(15, 20, 5), Comfort(10, 10, 5), Comfort(5, 5, 1),
    Comfort(distance("mark-to-mark"), distance("mark-to-edge"), 0.1),
)  # fmt: skip
LEAST = COMFORTS[-1]
#: On a large face the margin grows to this share of the shorter side, up to so many mm.
SHARE, MOST = 0.06, 60.0
#: Steps of the exact search on one face: where an answer of law hangs on it; where only a preference does; with squares set
#: into each other's gaps, of which only some arrangements are tried; and where to be told at all saves a longer search (more than
#: a few, so that what this does not tell is not asked again for a preference).
STEPS, FEW, SOME, BRIEF = (1000, 3000), (60,), (120,), (61,)
#: Arrangements of squares in each other's gaps that are tried where only a preference hangs on it, and steps for each.
SEVERAL, FEWER = 5, (25,)
WISHES = (FEW, BRIEF, FEWER)  #: with so few steps no answer of law is looked for
#: Tenths of a millimetre.
FINE = 10

Set = tuple[int, int, Face, float, float]  # item, form, face, x, y
Found = list[tuple[int, int, float, float]]  # item, form, x, y


class Board:
    """Trial positions. marked: what bears a mark already; clear: what is kept clear; shunned: what is avoided while there
    is other room; labelled: faces that bear a hazard label nobody can move; memory: what earlier steps have told of the package."""

    def __init__(
        self,
        solid: Solid,
        items: Sequence[Item],
        level: Level,
        marked: Iterable[Area],
        clear: Iterable[Area] = (),
        shunned: Iterable[Area] = (),
        labelled: Collection[Face] = (),
        memory: Memory | None = None,
    ) -> None:
        self.solid, self.items, self.level = solid, items, level
        self.marked: dict[Face, list[Box]] = {face: [] for face in Face}
        self.clear: dict[Face, list[Box]] = {face: [] for face in Face}
        self.shunned: dict[Face, list[Box]] = {face: [] for face in Face}
        for areas, by in ((marked, self.marked), (clear, self.clear), (shunned, self.shunned)):
            for area in areas:
                by[area.face].append(area.box)
        self._labelled = labelled
        self.memory = memory or Memory()
        self.spots: list[Set] = []
        self.unfinished = False  # a search of law was ended before it could tell
        self._shapes: dict[tuple[object, ...], list[Shape]] = {}
        self._arranged: dict[tuple[object, ...], tuple[Arrangement, ...]] = {}
        self._pieces: dict[int, tuple[Piece, ...]] = {}
        self._kinds: dict[int, Kind] = {}
        self._sizes: dict[int, list[Size]] = {}
        self._fars: dict[tuple[tuple[float, float], float], bool] = {}
        self._likes = {face: self._like(face) for face in solid.faces}
        self._grounds = {
            face: self.memory.of((like, face in labelled, level.interlocked)) for face, like in self._likes.items()
        }
        self._answers: dict[tuple[Told, tuple[int, ...]], Found | None] = {}  # those that were told

    def copy(self) -> Board:
        """A board to set marks on; what is known of the empty faces is shared."""
        twin = Board.__new__(Board)
        twin.__dict__.update(self.__dict__)
        twin.marked = {face: list(boxes) for face, boxes in self.marked.items()}
        twin.spots = list(self.spots)
        return twin

    def like(self, face: Face) -> object:
        """What two faces have in common on which the same marks go."""
        return self._likes[face]

    def _like(self, face: Face) -> object:
        return self.solid.size(face), tuple(sorted(self.marked[face])), tuple(sorted(self.clear[face]))

    # --- whether it goes ---------------------------------------------------------------------------------------------

    def fits(self, face: Face, items: Sequence[Item], steps: tuple[int, ...] = STEPS) -> Found | None:
        """A place on the empty face for each of these, at the least distances; None where there is none, or where the
        search took more than ``steps``."""
        if self.level.interlocked and steps is STEPS:
            steps = SOME
        told = self._grounds[face]
        question = told, tuple([item.index for item in items])
        if question in self._answers:
            return self._answers[question]

        def search() -> Places | None:
            found = self._packed(face, items, steps)
            by_item = {index: (own[index].index(form), x, y) for index, form, x, y in found or ()}
            return None if found is None else [by_item[item.index] for item in items]

        def found_of(places: Places) -> Found:
            return sorted(
                (item.index, own[item.index][form], x, y) for item, (form, x, y) in zip(items, places, strict=True)
            )

        own = {item.index: [piece.form for piece in self.pieces(item)] for item in items}
        accept = (lambda places: self._linked(found_of(places))) if self._tied(face, items) else None
        try:
            places = told.ask([self._kind(item) for item in items], sum(steps), search, accept, steps in WISHES)
        except Unfinished:
            self.unfinished |= steps is not FEW
            return None
        self._answers[question] = None if places is None else found_of(places)
        return self._answers[question]

    def pieces(self, item: Item) -> tuple[Piece, ...]:
        """Its forms at this level."""
        if item.index not in self._pieces:
            self._pieces[item.index] = item.pieces(self.level)
        return self._pieces[item.index]

    def _kind(self, item: Item) -> Kind:
        """What it has in common with others that may stand in its place."""
        if item.index not in self._kinds:
            pieces = self.pieces(item)
            square = on_point(item.forms[pieces[0].form])
            sizes = tuple((piece.width, piece.height) for piece in pieces)
            what = sizes, square, square and item.block == LEAD
            self._kinds[item.index] = self.memory.kind(what, _is_label(item))
        return self._kinds[item.index]

    def _packed(self, face: Face, items: Sequence[Item], steps: tuple[int, ...]) -> Found | None:
        width, height = (
            math.floor((edge - 2 * LEAST.margin + LEAST.gap) * FINE + HAIR) for edge in self.solid.size(face)
        )
        taken = self._fixed(face)
        ended: Unfinished | None = None
        ways, most, each = self._nested(items), None, steps
        if steps is FEW and len(ways) > 1:
            ways, most, each, ended = ways[:2], SEVERAL, FEWER, Unfinished()  # not all of them are tried
        for squares in ways:
            rest = [item for item in items if item not in squares]
            for there in self._arrangements(face, squares, (width, height), taken)[:most]:
                gap = round(LEAST.gap * FINE)
                boxes = [(x, y, x + wide + gap, y + wide + gap) for wide, x, y in there]
                try:
                    found = self._each(face, rest, (width, height), [*taken, *boxes], each if squares else steps)
                except Unfinished as fault:
                    ended = fault
                    continue
                if found is not None:
                    return sorted([*found, *self._squares(squares, there)])
        if ended:
            raise ended
        return None

    def _each(
        self, face: Face, items: Sequence[Item], size: tuple[int, int], taken: Sequence[Rect], steps: tuple[int, ...]
    ) -> Found | None:
        """A place for each of these, one beside the other."""
        own = [self.pieces(item) for item in items]

        def at(spots: Sequence[Corner]) -> Found:
            corners = ((items[n].index, own[n][form].form, x, y) for n, form, x, y, *_ in spots)
            return sorted((index, form, _mm(x), _mm(y)) for index, form, x, y in corners)

        def linked(spots: Sequence[Corner]) -> bool:
            return self._linked(at(spots))

        accept = linked if self._tied(face, items) else None
        watched = [n for n, item in enumerate(items) if _is_label(item) and face not in self._labelled]
        sizes = [self._fine_sizes(item) for item in items]
        spots = self.memory.pack(sizes, size, taken, steps, accept, watched, steps in WISHES)
        return None if spots is None else at(spots)

    def _fine_sizes(self, item: Item) -> list[Size]:
        """Its forms at this level as the exact search sees them."""
        if item.index not in self._sizes:
            self._sizes[item.index] = [_fine(piece.width, piece.height) for piece in self.pieces(item)]
        return self._sizes[item.index]

    def _nested(self, items: Sequence[Item]) -> list[list[Item]]:
        """Which of these to set into each other's gaps, as far as this level does: none, the labels, all squares on their point."""
        found: list[list[Item]] = [[]]
        if self.level.interlocked:
            squares = [item for item in items if on_point(item.forms[self.pieces(item)[0].form])]
            for some in ([item for item in squares if item.block == LEAD], squares):
                if len(some) > 1 and some not in found:
                    found.append(some)
        return found

    def _arrangements(
        self, face: Face, squares: Sequence[Item], size: tuple[int, int], taken: Sequence[Rect]
    ) -> tuple[Arrangement, ...]:
        key = self._likes[face], *(item.index for item in squares)
        if key not in self._arranged:
            widths = tuple(_fine(self.pieces(item)[0].width - LEAST.gap, 0)[0] for item in squares)
            found = arrangements(widths, round(LEAST.gap * FINE), *size, tuple(taken))
            if self._tied(face, squares):
                found = tuple(there for there in found if self._linked(self._squares(squares, there)))
            self._arranged[key] = found
        return self._arranged[key]

    def _squares(self, squares: Sequence[Item], there: Arrangement) -> Found:
        return [
            (item.index, self.pieces(item)[0].form, _mm(x), _mm(y))
            for item, (_, x, y) in zip(squares, there, strict=True)
        ]

    def _fixed(self, face: Face) -> list[tuple[int, int, int, int]]:
        """What is taken, as the exact search sees it: every piece has its gap at its right and upper side."""
        gap, margin = LEAST.gap, LEAST.margin
        found = [(b.x, b.y, b.right + gap, b.top + gap) for b in self.marked[face]]
        for b in self.clear[face]:  # a mark may touch it
            x, y = min(b.x + gap, b.right - 0.1), min(b.y + gap, b.top - 0.1)
            found.append((x, y, b.right, b.top))
        return [
            (
                math.floor((x0 - margin) * FINE + HAIR),
                math.floor((y0 - margin) * FINE + HAIR),
                math.ceil((x1 - margin) * FINE - HAIR),
                math.ceil((y1 - margin) * FINE - HAIR),
            )
            for x0, y0, x1, y1 in found
        ]

    def _linked(self, found: Found) -> bool:
        """Whether the hazard labels among these lie so near to each other that they count as together."""
        reach, labels = distance("label-to-label"), []
        for index, form, x, y in found:
            item = self.items[index]
            if _is_label(item):
                labels.append(Box(x, y, item.forms[form].width, item.forms[form].height))
        joined, rest = labels[:1], labels[1:]
        while near := [b for b in rest if any(_between(a, b) <= reach for a in joined)]:
            joined += near
            rest = [b for b in rest if b not in near]
        return not rest

    def _tied(self, face: Face, items: Iterable[Item]) -> bool:
        """Whether there are labels here that must lie together; not where one is that nobody can move."""
        labels = [item for item in items if _is_label(item)]
        return len(labels) > 1 and face not in self._labelled and self._far(face, labels)

    def _far(self, face: Face, labels: Iterable[Item]) -> bool:
        """Whether the face is so large that any two of these could lie too far from each other."""
        key = self.solid.size(face), min(self.pieces(item)[0].width for item in labels)
        if key not in self._fars:
            (width, height), wide = key
            corners = Box(0, 0, wide, wide), Box(width - wide, height - wide, wide, wide)
            self._fars[key] = _between(*corners) > distance("label-to-label")
        return self._fars[key]

    # --- where it looks best -----------------------------------------------------------------------------------------

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

    def free(self, faces: Sequence[Face], comfort: Comfort, shunning: bool = False) -> list[Box]:
        """Empty boxes common to these faces (of one size), their corners on the grid."""
        taken = [box.grown(comfort.gap) for face in faces for box in self.marked[face]]
        taken += [box.grown(0.0 if comfort is LEAST else 5.0) for face in faces for box in self.clear[face]]
        if shunning:
            taken += [box for face in faces for box in self.shunned[face]]
        found = (_on_grid(box, comfort.step) for box in empty_boxes(self.ground(faces[0], comfort), taken))
        return [box for box in found if box.width > 0 and box.height > 0]

    def set(
        self,
        faces: Sequence[Face],
        blocks: Sequence[Sequence[Item]],
        centre: bool = False,
        comforts: Sequence[Comfort] = COMFORTS,
    ) -> bool:
        """Set these blocks together on a face, or at the same spots on each of several of one size, as generously as
        goes; False if they do not go as one calm arrangement."""
        blocks = [block for block in blocks if block]
        if not blocks:
            return True
        for comfort in comforts:
            for shunning in (True, False) if any(self.shunned[face] for face in faces) else (False,):
                found = self._best(faces, blocks, comfort, centre, shunning)
                if found is not None:
                    shape, x, y = found
                    for piece, px, py in shape.spots(x, y):
                        for face in faces:
                            self.put(piece.item, piece.form, face, px, py)
                    return True
        return False

    def set_tight(self, face: Face, items: Sequence[Item]) -> bool:
        """Set these wherever the exact search finds room on a face on which nothing has been set: from the top left."""
        found = self.fits(face, items)
        for index, form, x, y in found or ():
            self.put(index, form, face, x, y)
        return found is not None

    def _best(
        self, faces: Sequence[Face], blocks: Sequence[Sequence[Item]], comfort: Comfort, centre: bool, shunning: bool
    ) -> tuple[Shape, float, float] | None:
        """One arrangement of all the blocks in one empty box: the calmest of those that fit."""
        free = self.free(faces, comfort, shunning)
        if not free:
            return None
        most = max(b.width for b in free), max(b.height for b in free)
        least = math.fsum(min(p.width * p.height for p in self.pieces(item)) for block in blocks for item in block)
        if least > max(b.width * b.height for b in free):
            return None
        best: tuple[tuple[float, ...], Shape, Box] | None = None
        tied = any(self._tied(face, [item for block in blocks for item in block]) for face in faces)
        for shape in composed([self.shapes(block, comfort) for block in blocks], comfort.gap, most):
            for rank, box in enumerate(free):
                if shape.width <= box.width + HAIR and shape.height <= box.height + HAIR:
                    key = (shape.cost + _emptiness(shape), rank, shape.width, shape.height)
                    if (best is None or key < best[0]) and (
                        not tied or self._linked([(p.item, p.form, x, y) for p, x, y in shape.spots(0, 0)])
                    ):
                        best = key, shape, box
                    break
        if best is None:
            return None
        _, shape, box = best
        x = box.x
        if centre:
            x += math.floor((box.width - shape.width) / 2 / comfort.step) * comfort.step
        return shape, x, box.top - shape.height

    def clear_face(self, face: Face, base: Board) -> None:
        """Take away what was set on a face since ``base``."""
        self.marked[face] = list(base.marked[face])
        self.spots = [spot for spot in self.spots if spot[2] is not face]

    def put(self, index: int, form: int, face: Face, x: float, y: float) -> None:
        art = self.items[index].forms[form]
        x, y = round(x, 3), round(y, 3)
        self.spots.append((index, form, face, x, y))
        self.marked[face].append(Box(x, y, art.width, art.height))


def _is_label(item: Item) -> bool:
    return item.requirement.mark == "hazard-label"


def _fine(width: float, height: float) -> tuple[int, int]:
    """A piece with its gap, in whole tenths of a millimetre."""
    return math.ceil((width + LEAST.gap) * FINE - HAIR), math.ceil((height + LEAST.gap) * FINE - HAIR)


def _mm(tenths: int) -> float:
    """From the inner corner of the margin to the face's own."""
    return tenths / FINE + LEAST.margin


def _emptiness(shape: Shape) -> float:
    """How ragged an arrangement is: the part of its box that no mark fills, up to 4."""
    filled = math.fsum(piece.width * piece.height for piece, _, _ in shape.spots(0, 0))
    return 4 * (1 - filled / (shape.width * shape.height))


def _on_grid(box: Box, step: float) -> Box:
    x0, y0 = (math.ceil(v / step - HAIR) * step for v in (box.x, box.y))
    x1, y1 = (math.floor(v / step + HAIR) * step for v in (box.right, box.top))
    return Box(x0, y0, x1 - x0, y1 - y0)


def _between(a: Box, b: Box) -> float:
    """How far two squares on their points are from each other, mm."""
    across = abs((a.x + a.width / 2) - (b.x + b.width / 2))
    up = abs((a.y + a.height / 2) - (b.y + b.height / 2))
    reach, long, short = (a.width + b.width) / 2, max(across, up), min(across, up)
    return math.hypot(long - reach, short) if long - short >= reach else max(across + up - reach, 0.0) / math.sqrt(2)
