"""Rectangles on a face: the geometry of the placement search. It knows sizes and gaps, no law and no mark.

A Shape is an arrangement of pieces with a width and a height of its own, whatever the face. The shapes of a set of
pieces are found once; whether one fits is then a comparison, so that a larger face can never lose what a smaller one
had.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate

from msgspec import Struct
from msgspec.structs import replace

from layouts.geometry import Box

BESIDE, ABREAST, BELOW = "beside", "abreast", "below"
#: Roundings of millimetres must not cost a fit.
HAIR = 1e-6


class Piece(Struct, frozen=True):
    """One form of one item: which (two numbers for the caller), its size in mm, and how unwelcome it is (0:
    preferred)."""

    item: int
    form: int
    width: float
    height: float
    cost: int = 0


class Shape(Struct, frozen=True):
    """An arrangement: a piece; or two arrangements side by side (tops level), abreast (feet level) or one below the
    other; or ``parts``, pieces at their own places in it."""

    width: float
    height: float
    cost: int
    piece: Piece | None = None
    how: str = ""
    gap: float = 0.0
    first: Shape | None = None
    second: Shape | None = None
    parts: tuple[tuple[Piece, float, float], ...] = ()

    def spots(self, x: float, y: float) -> Iterator[tuple[Piece, float, float]]:
        """Every piece with its lower left corner, the arrangement's own lower left corner at x, y."""
        if self.parts:
            yield from ((piece, x + dx, y + dy) for piece, dx, dy in self.parts)
            return
        if self.piece is not None:
            yield self.piece, x, y
            return
        assert self.first is not None and self.second is not None
        a, b = self.first, self.second
        if self.how == BELOW:
            yield from a.spots(x, y + self.height - a.height)
            yield from b.spots(x, y + self.height - a.height - self.gap - b.height)
            return
        level = self.how == ABREAST
        yield from a.spots(x, y if level else y + self.height - a.height)
        yield from b.spots(x + a.width + self.gap, y if level else y + self.height - b.height)


class Comfort(Struct, frozen=True):
    """How generously to set: gap between pieces, margin to edges, and the step of the grid they stand on, mm."""

    gap: float
    margin: float
    step: float


def cell(piece: Piece, step: float) -> Shape:
    """The piece in a cell of whole steps, so that every distance the packer measures is a round number."""
    return Shape(
        math.ceil(piece.width / step - HAIR) * step, math.ceil(piece.height / step - HAIR) * step, piece.cost, piece
    )


def joined(a: Shape, b: Shape, how: str, gap: float, cost: int = 0) -> Shape:
    """Two shapes as one, ``b`` below or beside ``a`` (how), ``gap`` mm apart; cost: added to theirs."""
    if how == BELOW:
        return Shape(max(a.width, b.width), a.height + gap + b.height, a.cost + b.cost + cost, None, how, gap, a, b)
    return Shape(a.width + gap + b.width, max(a.height, b.height), a.cost + b.cost + cost, None, how, gap, a, b)


def chain(shapes: Sequence[Shape], how: str, gap: float) -> Shape:
    """Shapes joined one after the other, ``gap`` mm apart."""
    return list(accumulate(shapes, lambda a, b: joined(a, b, how, gap)))[-1]


def undominated(shapes: Iterable[Shape]) -> list[Shape]:
    """Those that no other beats in width, height and cost together; the first of equals stays. Narrowest first."""
    kept: list[Shape] = []
    costs: list[int] = []  # a staircase of what is kept so far, all no wider: costs rise, heights fall
    heights: list[float] = []
    for shape in sorted(shapes, key=lambda s: (s.width, s.height, s.cost)):
        at = bisect_right(costs, shape.cost)
        if at and heights[at - 1] <= shape.height + HAIR:
            continue
        kept.append(shape)
        end = at
        while end < len(costs) and heights[end] >= shape.height:
            end += 1
        if at and costs[at - 1] == shape.cost:
            at -= 1
        costs[at:end], heights[at:end] = [shape.cost], [shape.height]
    return kept


def rows(pieces: Sequence[Piece], comfort: Comfort) -> list[Shape]:
    """The pieces in reading order, in rows of at most n, for every n: one long row first, a column last."""
    cells = [cell(piece, comfort.step) for piece in pieces]
    found = []
    for per_row in range(len(cells), 0, -1):
        lines = [chain(cells[i : i + per_row], ABREAST, comfort.gap) for i in range(0, len(cells), per_row)]
        whole = chain(lines, BELOW, comfort.gap)
        found.append(replace(whole, cost=whole.cost + 2 * (len(lines) - 1)))
    return undominated(found)


def clusters(pieces: Sequence[Piece], comfort: Comfort) -> list[Shape]:
    """Every way to divide a box by straight cuts among the pieces in their order, and with one piece of another size
    than
    the first moved forward: for faces on which no rows fit. Dearer than any rows."""
    odd = [n for n, piece in enumerate(pieces) if (piece.width, piece.height) != (pieces[0].width, pieces[0].height)]
    orders = [list(pieces)]
    for n in odd[:1]:
        rest = [*pieces[:n], *pieces[n + 1 :]]
        orders += [[*rest[:to], pieces[n], *rest[to:]] for to in range(n)]
    found = [
        replace(shape, cost=shape.cost + 12)
        for order in orders
        for shape in composed([[cell(piece, comfort.step)] for piece in order], comfort.gap, (math.inf, math.inf))
    ]
    return undominated(found)


def interlocked(squares: Sequence[Piece], others: Sequence[Shape], comfort: Comfort) -> list[Shape]:
    """Equal squares on their point, up and down by turns so that each stands in the gap between its neighbours, and the
    others beside or below them. What two squares are moved across and up adds up to their width and the gap."""
    wide, n = squares[0].width, len(squares)
    pitch = wide + comfort.gap * math.sqrt(2)
    least = (wide + comfort.gap) / 2 if n > 2 else 0.0  # every second one stands level with the first
    steps = [*(least + 5.0 * k for k in range(math.ceil((wide - least) / 5))), wide]
    found = []
    for along in (step for step in (math.ceil(s / comfort.step - HAIR) * comfort.step for s in steps) if step <= pitch):
        across = math.ceil((pitch - along) / comfort.step - HAIR) * comfort.step
        long, high = wide + (n - 1) * along, wide + across
        flat = tuple((piece, k * along, 0.0 if k % 2 else across) for k, piece in enumerate(squares))
        tall = tuple((piece, across if k % 2 else 0.0, long - wide - k * along) for k, piece in enumerate(squares))
        found += [Shape(long, high, 20, parts=flat), Shape(high, long, 20, parts=tall)]
    return composed([undominated(found), *([one] for one in others)], comfort.gap, (math.inf, math.inf))


def columns(choices: Sequence[Sequence[Piece]], comfort: Comfort) -> list[Shape]:
    """Texts one below the other, left edges level; each wraps as the column's width asks (its forms are the
    choices)."""
    cells = [[cell(piece, comfort.step) for piece in forms] for forms in choices]
    least = max(min(c.width for c in forms) for forms in cells)
    found = []
    for width in sorted({c.width for forms in cells for c in forms if c.width >= least - HAIR}):
        fitting = [[c for c in forms if c.width <= width + HAIR] for forms in cells]
        found.append(chain([min(f, key=lambda c: (c.cost, c.height, c.width)) for f in fitting], BELOW, comfort.gap))
        found.append(chain([min(f, key=lambda c: (c.height, c.cost, c.width)) for f in fitting], BELOW, comfort.gap))
    return undominated(found)


def thinned(shapes: Sequence[Shape], most: int = 20) -> list[Shape]:
    """At most so many of them, from the narrowest to the widest, the cheapest among them."""
    if len(shapes) <= most:
        return list(shapes)
    cheapest = min(range(len(shapes)), key=lambda n: (shapes[n].cost, n))
    kept = {round(k * (len(shapes) - 1) / (most - 1)) for k in range(most)} | {cheapest}
    return [shapes[n] for n in sorted(kept)]


def composed(blocks: Sequence[Sequence[Shape]], gap: float, most: tuple[float, float]) -> list[Shape]:
    """Every way to set the blocks in their order, each beside or below what comes before, none larger than ``most``.

    Costs lean to the calm ones: the first block alone in its column or row, the others as one column beside or below
    it.
    """
    n = len(blocks)
    table: dict[tuple[int, int], list[Shape]] = {}
    for i, shapes in enumerate(blocks):
        fitting = [s for s in shapes if s.width <= most[0] + HAIR and s.height <= most[1] + HAIR]
        table[i, i + 1] = fitting if n == 1 else thinned(fitting)
    for length in range(2, n + 1):
        for i in range(n - length + 1):
            found = []
            for k in range(i + 1, i + length):
                apart = 0 if i == 0 and k == 1 else 1
                for a in table[i, k]:
                    for b in table[k, i + length]:
                        if a.width + gap + b.width <= most[0] + HAIR:
                            found.append(joined(a, b, BESIDE, gap, 2 * apart))
                        if a.height + gap + b.height <= most[1] + HAIR:
                            found.append(joined(a, b, BELOW, gap, 1 if i == 0 else 0))
            table[i, i + length] = undominated(found) if length == n else thinned(undominated(found))
    return table[0, n]


def empty_boxes(ground: Box, taken: Iterable[Box]) -> list[Box]:
    """The largest empty boxes of ``ground`` between what is taken, uppermost and leftmost first."""
    free = [ground] if ground.width > 0 and ground.height > 0 else []
    for box in taken:
        free = without(free, box)
    return _read(free)


def without(free: Sequence[Box], taken: Box) -> list[Box]:
    """The largest empty boxes that remain of ``free`` when one more box is taken."""
    whole, parts = [], []
    tx0, ty0, tx1, ty1 = taken.x, taken.y, taken.right, taken.top
    for box in free:
        x0, y0, x1, y1 = box.x, box.y, box.right, box.top
        if tx0 >= x1 - HAIR or tx1 <= x0 + HAIR or ty0 >= y1 - HAIR or ty1 <= y0 + HAIR:
            whole.append(box)
            continue
        if ty1 < y1 - HAIR:
            parts.append(Box(x0, ty1, x1 - x0, y1 - ty1))
        if ty0 > y0 + HAIR:
            parts.append(Box(x0, y0, x1 - x0, ty0 - y0))
        if tx0 > x0 + HAIR:
            parts.append(Box(x0, y0, tx0 - x0, y1 - y0))
        if tx1 < x1 - HAIR:
            parts.append(Box(tx1, y0, x1 - tx1, y1 - y0))
    parts = list(dict.fromkeys(parts))
    inside = [
        any(
            o is not p and o.contains(p) and not (p.contains(o) and i < n)
            for i, o in enumerate([*whole, *parts], -len(whole))
        )
        for n, p in enumerate(parts)
    ]
    return [*whole, *(p for p, hidden in zip(parts, inside, strict=True) if not hidden)]


def _read(boxes: Iterable[Box]) -> list[Box]:
    """As one reads: uppermost first, then leftmost."""
    return sorted(boxes, key=lambda b: (-b.y - b.height, b.x, -b.width * b.height))
