"""Whether rectangles fit on a face at all, and where: an exact search, in whole tenths of a millimetre.

Any arrangement can be pushed left and down, one rectangle after the other, until each lies in a corner of what lies
before it, and it can be built up in an order in which nothing is ever set left of or below what is set already (Martello,
Pisinger and Vigo, The three-dimensional bin packing problem, 2000, section 4: corner points). So it is enough to try
every rectangle in every corner of that outline. A part of the face that is taken is a rectangle that cannot move; it joins
the outline when its turn comes.

Three things make it short: an outline that failed with the same rectangles left is not tried again; what the outline has
shut off must not be more than the face can spare; and of what is still open only that counts which the rectangles left can
cover side by side. A condition on where some of them lie is the one thing that may not outlive the pushing; so those are
drawn together again before it is said not to be met.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from layouts.outline import Corners, Rect, Size, drawn_together, joined, open_area
from layouts.room import Sums, empty, outside, too_much, useful

Form = tuple[int, int, int]  # the same, and which of a piece's sizes it is


class Spot(NamedTuple):
    """Where one rectangle lies: which, in which of its sizes, its lower left corner, width and height."""

    piece: int
    form: int
    x: int
    y: int
    width: int
    height: int

    @property
    def rect(self) -> Rect:
        return self.x, self.y, self.x + self.width, self.y + self.height


Spots = tuple[Spot, ...]
Condition = Callable[[Spots], bool]


class Unfinished(Exception):
    """The search was ended before it could tell."""


@lru_cache(512)
def least(sizes: tuple[Size, ...]) -> tuple[Form, ...]:
    """The sizes no other is smaller than in both directions, with their place in the list; largest area first."""
    found: list[Form] = []
    for w, h, n in sorted((w, h, n) for n, (w, h) in enumerate(sizes)):
        if not found or h < found[-1][1]:
            found.append((w, h, n))
    return tuple(sorted(found, key=lambda size: (size[0] * size[1], size[0])))


#: From which sides a search is begun, and up to how many steps from the first alone.
SIDES = tuple((turned, right, above) for above in (True, False) for turned in (False, True) for right in (False, True))
STEPS_FROM_ONE_SIDE = 1000
#: What is open is looked at more closely where what is left would fill so much of it: with nothing taken there, or something.
FULL, FULL_BETWEEN = 0.7, 0.4


def pack(
    pieces: Sequence[Sequence[Size]],
    width: int,
    height: int,
    taken: Sequence[Rect],
    steps: Sequence[int],
    accept: Condition | None = None,
    watched: Collection[int] = (),
) -> Spots | None:
    """A place for each piece in one of its sizes, none over another or over what is taken; None where there is none.

    steps: how many the search may take, one number after the other: from the upper left alone, a large number from each side
    of the face in turn. Unfinished, if none of them is enough. accept: a condition on where the pieces ``watched`` lie, asked of
    these alone as soon as the last of them is set; arrangements are tried until one meets it.
    """
    sizes = {n: [s for s in least(tuple(piece)) if s[0] <= width and s[1] <= height] for n, piece in enumerate(pieces)}
    parts: tuple[Rect, ...] = ()
    if taken and all(sizes.values()):
        sizes, parts = _within_reach(sizes, width, height, taken)
    free = width * height - sum([(c - a) * (d - b) for a, b, c, d in parts])
    if not all(sizes.values()) or sum([min([w * h for w, h, _ in mine]) for mine in sizes.values()]) > free:
        return None
    if too_much(tuple([tuple(mine) for mine in sizes.values()]), width, height):
        return None
    task = _Task(sizes, width, height, parts, accept, frozenset(watched if accept else ()))
    ended = Unfinished()
    for most in steps:
        for side in SIDES if most > STEPS_FROM_ONE_SIDE else SIDES[:1]:
            view = _View(*side, width, height)
            try:
                spots = _found(task.seen(view), most)
                return spots and tuple(view.back(spot) for spot in spots)
            except Unfinished as fault:
                ended = fault
    raise ended


def _within_reach(
    sizes: Mapping[int, Sequence[Form]], width: int, height: int, taken: Sequence[Rect]
) -> tuple[dict[int, list[Form]], tuple[Rect, ...]]:
    """Of each piece the sizes for which there is room between what is taken; and what is taken, with all that no piece can
    reach, in parts that do not overlap."""
    rooms = empty(width, height, tuple(taken))
    large = {(c - a, d - b) for a, b, c, d in rooms}
    goes = {(w, h): any([w <= a and h <= b for a, b in large]) for mine in sizes.values() for w, h, _ in mine}
    within = {n: [form for form in mine if goes[form[:2]]] for n, mine in sizes.items()}
    if not all(within.values()):
        return within, ()
    small = least(tuple([(w, h) for mine in within.values() for w, h, _ in mine]))
    reached = [r for r in rooms if any([w <= r[2] - r[0] and h <= r[3] - r[1] for w, h, _ in small])]
    return within, outside(width, height, tuple(reached))


class _View(Struct, frozen=True):
    """How the face is looked at: on its side, from the right, from above."""

    turned: bool
    from_right: bool
    from_above: bool
    width: int
    height: int

    def size(self, w: int, h: int) -> Size:
        return (h, w) if self.turned else (w, h)

    def rect(self, rect: Rect) -> Rect:
        x0, y0, x1, y1 = rect
        if self.from_right:
            x0, x1 = self.width - x1, self.width - x0
        if self.from_above:
            y0, y1 = self.height - y1, self.height - y0
        return (y0, x0, y1, x1) if self.turned else (x0, y0, x1, y1)

    def back(self, spot: Spot) -> Spot:
        (x, y), (w, h) = self.size(spot.x, spot.y), self.size(spot.width, spot.height)
        x, y = self.width - x - w if self.from_right else x, self.height - y - h if self.from_above else y
        return Spot(spot.piece, spot.form, x, y, w, h)


class _Task(Struct, frozen=True):
    """What is to be set, and where. sizes: of each piece; taken: in parts that do not overlap."""

    sizes: Mapping[int, Sequence[Form]]
    width: int
    height: int
    taken: Sequence[Rect]
    accept: Condition | None
    watched: frozenset[int]

    def seen(self, view: _View) -> _Task:
        accept = self.accept
        return _Task(
            {n: [(*view.size(w, h), form) for w, h, form in mine] for n, mine in self.sizes.items()},
            *view.size(self.width, self.height),
            [view.rect(rect) for rect in self.taken],
            None if accept is None else lambda spots: accept(tuple(map(view.back, spots))),
            self.watched,
        )

    def large(self) -> _Task:
        """Of its pieces only the large ones, and those that are watched."""
        areas = {n: min(w * h for w, h, _ in mine) for n, mine in self.sizes.items()}
        most = max(areas.values(), default=0)
        return replace(self, sizes={n: self.sizes[n] for n in areas if 4 * areas[n] >= most or n in self.watched})


def _found(task: _Task, steps: int) -> Spots | None:
    """A place for all. A condition is most often met when what it speaks of is set before all else; where they don't go it is
    most often the large ones that don't, and of few that is soon told."""
    ended: Unfinished | None = None
    try:
        if task.accept and (found := _Search(task, steps, eager=True).all()) is not None:
            return found
    except Unfinished as fault:
        ended = fault
    large = task.large()
    if len(large.sizes) < len(task.sizes) and _Search(large, steps).all() is None:
        return None
    if ended:
        raise ended
    return _Search(task, steps).all()


class _Kind(Struct, frozen=True):
    """Pieces that may change places. members: which they are, each with the numbers of its sizes."""

    watched: bool
    sizes: tuple[Size, ...]
    members: list[tuple[int, list[int]]]


def _kinds(task: _Task) -> list[_Kind]:
    """Largest first."""
    found: dict[tuple[bool, tuple[Size, ...]], _Kind] = {}
    for n, mine in task.sizes.items():
        kind = n in task.watched, tuple([(w, h) for w, h, _ in mine])
        found.setdefault(kind, _Kind(*kind, [])).members.append((n, [form for _, _, form in mine]))
    return sorted(found.values(), key=lambda kind: (-min([w * h for w, h in kind.sizes]), not kind.watched, kind.sizes))


class _Left(Struct, frozen=True):
    """Pieces that are left. area: what they take at least; sizes: those no other is smaller than in both directions; narrow,
    low: the least width and height; watched: whether some of them are watched."""

    area: int
    sizes: tuple[Size, ...]
    narrow: int
    low: int
    watched: bool

    def usable(self, corners: Corners, width: int, height: int) -> Corners:
        """The corners in which one of them has room; none where what is open from these is less than they take."""
        found, area, ceiling = [], 0, height
        for corner in corners:
            x, y = corner
            right, top = width - x, height - y
            for w, h in self.sizes:
                if w <= right and h <= top:
                    found.append(corner)
                    area += right * (ceiling - y)
                    ceiling = y
                    break
        return tuple(found) if area >= self.area else ()


class _Stock:
    """Pieces of these kinds, told by whether they are watched and by their sizes: what some of each take, and could cover."""

    def __init__(self, kinds: tuple[tuple[bool, tuple[Size, ...]], ...]) -> None:
        self.kinds = [(watched, sizes, min([w * h for w, h in sizes])) for watched, sizes in kinds]
        self._lefts: dict[tuple[int, ...], _Left] = {}
        self._sums: dict[tuple[int, ...], tuple[Sums, Sums]] = {}

    def left(self, counts: tuple[int, ...]) -> _Left:
        if counts not in self._lefts:
            kinds = [(*kind, n) for kind, n in zip(self.kinds, counts, strict=True) if n]
            sizes = [(w, h) for w, h, _ in least(tuple([size for _, sizes, _, _ in kinds for size in sizes]))]
            narrow, low = (min([size[k] for size in sizes], default=0) for k in (0, 1))
            area, watched = sum([area * n for _, _, area, n in kinds]), any([watched for watched, *_ in kinds])
            self._lefts[counts] = _Left(area, tuple(sizes), narrow, low, watched)
        return self._lefts[counts]

    def sums(self, counts: tuple[int, ...]) -> tuple[Sums, Sums]:
        """The sums of widths and of heights of so many pieces, as ``useful`` takes them."""
        if counts not in self._sums:
            across = up = 1
            for (_, sizes, _), n in zip(self.kinds, counts, strict=True):
                for _ in range(n):
                    without = across, up
                    for w, h in sizes:
                        across |= without[0] << w
                        up |= without[1] << h
            self._sums[counts] = Sums(across), Sums(up)
        return self._sums[counts]


#: Kept for a while: the same few kinds are searched for again and again, between other things that are taken.
stock = lru_cache(16)(_Stock)


class _Search:
    """One search for a place of every piece: depth first, from one corner of the face. eager: only with what is watched
    set before all else; that it finds nothing then proves nothing."""

    def __init__(self, task: _Task, steps: int, eager: bool = False) -> None:
        self.task, self.width, self.height, self.steps, self.eager = task, task.width, task.height, steps, eager
        self.kinds = _kinds(task)
        self.stock = stock(tuple([(kind.watched, kind.sizes) for kind in self.kinds]))
        self.accepted: dict[Spots, bool] = {}
        self.taken = tuple(sorted(task.taken))
        self.failed: set[tuple[Corners, tuple[int, ...], tuple[Rect, ...], Spots]] = set()

    def all(self) -> Spots | None:
        counts = tuple([len(kind.members) for kind in self.kinds])
        corners = self.stock.left(counts).usable(((0, 0),), self.width, self.height)
        return self._go(corners, counts, self.taken, ()) if corners or not counts else None

    def _go(self, corners: Corners, counts: tuple[int, ...], taken: tuple[Rect, ...], placed: Spots) -> Spots | None:
        """Place what is left. corners: those of the outline that are of use; counts: how many of each kind are left; taken: what
        has not had its turn."""
        left = self.stock.left(counts)
        if not left.sizes:
            return placed
        width, height = self.width, self.height
        if taken:
            corners, taken = self._settled(corners, taken, left)
            if not corners:
                return None
        waiting = left.watched
        state = corners, counts, taken, tuple(sorted(self._watched(placed))) if waiting else ()
        if state in self.failed:
            return None
        if self._too_much(corners, left, counts, taken):
            self.failed.add(state)
            return None
        self.steps -= 1
        if self.steps < 0:
            raise Unfinished
        for k, (kind, n) in enumerate(zip(self.kinds, counts, strict=True)):
            if not n or (self.eager and waiting and not kind.watched):
                continue
            fewer = (*counts[:k], n - 1, *counts[k + 1 :])
            rest = self.stock.left(fewer)
            last = kind.watched and not rest.watched
            piece, forms = kind.members[-n]
            for (w, h), form in zip(kind.sizes, forms, strict=True):
                for x, y in corners:
                    right, top = x + w, y + h
                    if right > width or top > height:
                        continue
                    if taken and any([r[0] < right and r[1] < top for r in taken]):
                        continue  # that one has its turn before
                    after = rest.usable(joined(corners, right, top), width, height)
                    if not after and rest.sizes:
                        continue
                    now = (*placed, Spot(piece, form, x, y, w, h))
                    agreed = self._agreed(now, after) if last else now
                    if agreed is not None and (found := self._go(after, fewer, taken, agreed)) is not None:
                        return found
        for n, rect in enumerate(taken):
            others = (*taken[:n], *taken[n + 1 :])
            if any([r[0] < rect[2] and r[1] < rect[3] for r in others]):
                continue
            after = left.usable(joined(corners, rect[2], rect[3]), width, height)
            if after and (found := self._go(after, counts, others, placed)) is not None:
                return found
        self.failed.add(state)
        return None

    def _settled(self, corners: Corners, taken: tuple[Rect, ...], left: _Left) -> tuple[Corners, tuple[Rect, ...]]:
        """The outline joined with all that is taken that nothing can lie left of or below any more; and what is not."""
        narrow, low = left.narrow, left.low
        while True:
            waiting = []
            for rect in taken:
                x0, y0, x1, y1 = rect
                open_there = False
                for x, y in corners:
                    if x < x1 and y < y1:
                        open_there = True
                        if x + narrow <= x0 or y + low <= y0:
                            waiting.append(rect)
                            break
                else:
                    if any([r[0] < x1 and r[1] < y1 for r in taken if r is not rect]):
                        waiting.append(rect)
                    elif open_there:
                        corners = left.usable(joined(corners, x1, y1), self.width, self.height)
            if len(waiting) == len(taken):
                return corners, taken
            taken = tuple(waiting)

    def _too_much(self, corners: Corners, left: _Left, counts: tuple[int, ...], taken: tuple[Rect, ...]) -> bool:
        """Whether what is left takes more than is open. A line across it meets pieces side by side, so that of its length no
        more is of use than the largest sum of their widths that is not longer."""
        if left.area < (FULL_BETWEEN if taken else FULL) * open_area(corners, self.width, self.height):
            return False
        across, up = self.stock.sums(counts)
        if useful(corners, taken, self.width, self.height, across) < left.area:
            return True
        corners = tuple([(y, x) for x, y in reversed(corners)])
        taken = tuple(sorted([(b, a, d, c) for a, b, c, d in taken]))
        return useful(corners, taken, self.height, self.width, up) < left.area

    def _watched(self, placed: Spots) -> list[Spot]:
        return [spot for spot in placed if spot.piece in self.task.watched]

    def _agreed(self, placed: Spots, corners: Corners) -> Spots | None:
        """These spots, if they meet the condition; with the watched ones drawn together, if only those do; or None."""
        watched = self._watched(placed)
        if self._accepted(watched):
            return placed
        rest = [spot for spot in placed if spot.piece not in self.task.watched]
        others = [*self.taken, *(spot.rect for spot in rest)]
        nearer = drawn_together([spot.rect for spot in watched], others, corners, self.width, self.height)
        moved = [spot._replace(x=to[0], y=to[1]) for spot, to in zip(watched, nearer, strict=True)]
        return (*rest, *moved) if self._accepted(moved) else None

    def _accepted(self, watched: Sequence[Spot]) -> bool:
        accept, spots = self.task.accept, tuple(sorted(watched))
        if spots not in self.accepted:
            self.accepted[spots] = accept is None or accept(spots)
        return self.accepted[spots]
