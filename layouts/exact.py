"""Whether rectangles fit on a face at all, and where: an exact search, in whole tenths of a millimetre.

Any arrangement can be pushed left and down, one rectangle after the other, until each lies in a corner of what lies
before it, and it can be built up in an order in which nothing is ever set left of or below what is set already (Martello,
Pisinger and Vigo, The three-dimensional bin packing problem, 2000, section 4: corner points). So it is enough to try
every rectangle in every corner of that outline. A part of the face that is taken is a rectangle that cannot move; it joins
the outline when its turn comes.

Two things make it short: an outline that failed with the same rectangles left is not tried again, and what the outline
has shut off must not be more than the face can spare.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import NamedTuple

Rect = tuple[int, int, int, int]  # left, lower, right, upper
Size = tuple[int, int]  # width, height
Form = tuple[int, int, int]  # the same, and which of a piece's sizes it is
Outline = tuple[tuple[int, int], ...]  # its corners, leftmost and uppermost first


class Spot(NamedTuple):
    """Where one rectangle lies: which, in which of its sizes, its lower left corner."""

    piece: int
    form: int
    x: int
    y: int


class Unfinished(Exception):
    """The search was ended before it could tell."""


def least(sizes: Sequence[Size]) -> list[Form]:
    """The sizes no other is smaller than in both directions, with their place in the list; largest area first."""
    found: list[Form] = []
    for w, h, n in sorted((w, h, n) for n, (w, h) in enumerate(sizes)):
        if not found or h < found[-1][1]:
            found.append((w, h, n))
    return sorted(found, key=lambda size: (size[0] * size[1], size[0]))


def pack(
    pieces: Sequence[Sequence[Size]],
    width: int,
    height: int,
    taken: Sequence[Rect],
    steps: Sequence[int],
    accept: Callable[[Sequence[Spot]], bool] | None = None,
) -> list[Spot] | None:
    """A place for each piece in one of its sizes, none over another or over what is taken; None where there is none.

    steps: how many the search may take: the first number from each side of the face in turn (from the upper left first),
    then the next. Unfinished, if none of them is enough. accept: a condition of the whole arrangement; arrangements are
    tried until one meets it.
    """
    sizes = [[s for s in least(piece) if s[0] <= width and s[1] <= height] for piece in pieces]
    if not all(sizes):
        return None
    areas = [min(w * h for w, h, _ in mine) for mine in sizes]
    large = [n for n, area in enumerate(areas) if 4 * area >= max(areas, default=0)]
    if too_much(sizes, width, height):
        return None
    ended = Unfinished()
    for most in steps:
        for side in SIDES if most > STEPS_FROM_ONE_SIDE else SIDES[:1]:
            seen = _Seen(*side, width, height)
            ground = (*seen.size(width, height), [seen.rect(r) for r in taken])
            turned = [[(*seen.size(w, h), n) for w, h, n in mine] for mine in sizes]

            def back(spots: Sequence[Spot], seen: _Seen = seen) -> list[Spot]:
                return [seen.back(spot, *pieces[spot.piece][spot.form]) for spot in spots]

            try:
                if len(large) < len(
                    pieces
                ):  # most often it is the large ones that don't go, and of few that is soon told
                    some = [turned[n] for n in large]
                    if _search(some, *ground, most, None) is None:
                        return None
                found = _search(turned, *ground, most, accept and _asked_upright(accept, back))
                return None if found is None else back(found)
            except Unfinished as fault:
                ended = fault
    raise ended


def _asked_upright(
    accept: Callable[[Sequence[Spot]], bool], back: Callable[[Sequence[Spot]], list[Spot]]
) -> Callable[[Sequence[Spot]], bool]:
    """``accept``, asked of the face as it is, whichever way it is looked at."""
    return lambda spots: accept(back(spots))


class _Seen(NamedTuple):
    """The face as it is looked at: on its side, from the right, from above."""

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

    def back(self, spot: Spot, w: int, h: int) -> Spot:
        x, y = (spot.y, spot.x) if self.turned else (spot.x, spot.y)
        return spot._replace(
            x=self.width - x - w if self.from_right else x, y=self.height - y - h if self.from_above else y
        )


#: From which sides a search is begun, and up to how many steps from the first alone.
SIDES = tuple((turned, right, above) for above in (True, False) for turned in (False, True) for right in (False, True))
STEPS_FROM_ONE_SIDE = 200


def too_much(sizes: Sequence[Sequence[Form]], width: int, height: int) -> bool:
    """Whether the pieces can't fit by a bound alone: their area, with those wider or higher than half the face counted as
    what they really shut off (dual feasible functions: Fekete and Schepers, 2004)."""
    across = _steps({w for mine in sizes for w, _, _ in mine}, width)
    up = _steps({h for mine in sizes for _, h, _ in mine}, height)
    return any(
        sum(min(_worth(w, a, width) * _worth(h, b, height) for w, h, _ in mine) for mine in sizes) > width * height
        for a in across
        for b in up
    )


def _search(
    sizes: Sequence[Sequence[Form]],
    width: int,
    height: int,
    taken: Sequence[Rect],
    steps: int,
    accept: Callable[[Sequence[Spot]], bool] | None,
) -> list[Spot] | None:
    kinds: dict[tuple[Size, ...], list[int]] = {}
    for n, mine in enumerate(sizes):
        kinds.setdefault(tuple((w, h) for w, h, _ in mine), []).append(n)
    order = sorted(kinds, key=lambda k: (-min(w * h for w, h in k), k))
    search = _Search(
        order, [kinds[k] for k in order], [[n for _, _, n in mine] for mine in sizes], width, height, steps, accept
    )
    start = tuple(len(kinds[k]) for k in order)
    return search.placed if search.go(((0, 0),), start, search.clipped(taken)) == _FOUND else None


_FAILED, _DECLINED, _FOUND = 0, 1, 2


class _Search:
    """One search. kinds: the sizes of each kind of piece; members: the pieces of each kind, which are interchangeable;
    forms: of each piece, which of its sizes these are."""

    def __init__(
        self,
        kinds: Sequence[tuple[Size, ...]],
        members: Sequence[Sequence[int]],
        forms: Sequence[Sequence[int]],
        width: int,
        height: int,
        steps: int,
        accept: Callable[[Sequence[Spot]], bool] | None,
    ) -> None:
        self.kinds, self.members, self.forms = kinds, members, forms
        self.width, self.height, self.steps, self.accept = width, height, steps, accept
        self.placed: list[Spot] = []
        self.failed: set[tuple[Outline, tuple[int, ...], tuple[Rect, ...]]] = set()
        self.areas = [min(w * h for w, h in kind) for kind in kinds]

    def clipped(self, taken: Sequence[Rect]) -> tuple[Rect, ...]:
        return apart([(max(a, 0), max(b, 0), min(c, self.width), min(d, self.height)) for a, b, c, d in taken])

    def go(self, corners: Outline, counts: tuple[int, ...], taken: tuple[Rect, ...]) -> int:
        """Place what is left; ``corners``: those of the outline that may still be used."""
        if not any(counts):
            return _FOUND if self.accept is None or self.accept(self.placed) else _DECLINED
        corners = self._usable(corners, counts)
        if not corners or self._free(corners) < sum(a * n for a, n in zip(self.areas, counts, strict=True)):
            return _FAILED
        taken = tuple(r for r in taken if any(x < r[2] and y < r[3] for x, y in corners))
        state = corners, counts, taken
        if state in self.failed:
            return _FAILED
        self.steps -= 1
        if self.steps < 0:
            raise Unfinished
        answer = _FAILED
        for kind, left in enumerate(counts):
            if not left:
                continue
            fewer = (*counts[:kind], left - 1, *counts[kind + 1 :])
            member = self.members[kind][left - 1]
            for (w, h), form in zip(self.kinds[kind], self.forms[member], strict=True):
                for x, y in corners:
                    right, top = x + w, y + h
                    if right > self.width or top > self.height:
                        continue
                    if any(r[0] < right and r[1] < top for r in taken):
                        continue  # that one has its turn before
                    self.placed.append(Spot(member, form, x, y))
                    found = self.go(_joined(corners, right, top), fewer, taken)
                    if found == _FOUND:
                        return found
                    self.placed.pop()
                    answer = max(answer, found)
        for n, rect in enumerate(taken):
            others = (*taken[:n], *taken[n + 1 :])
            if not any(r[0] < rect[2] and r[1] < rect[3] for r in others):
                found = self.go(_joined(corners, rect[2], rect[3]), counts, others)
                if found == _FOUND:
                    return found
                answer = max(answer, found)
        if answer == _FAILED:
            self.failed.add(state)
        return answer

    def _usable(self, corners: Outline, counts: tuple[int, ...]) -> Outline:
        """The corners in which some piece that is left has room."""
        left = [size for kind, n in zip(self.kinds, counts, strict=True) if n for size in kind]
        return tuple((x, y) for x, y in corners if any(x + w <= self.width and y + h <= self.height for w, h in left))

    def _free(self, corners: Outline) -> int:
        """The area right of and above the corners."""
        area, ceiling = 0, self.height
        for x, y in corners:
            if y < ceiling:
                area += (self.width - x) * (ceiling - y)
                ceiling = y
        return area


def apart(rects: Sequence[Rect]) -> tuple[Rect, ...]:
    """The same area in rectangles that do not overlap."""
    found: list[Rect] = []
    for rect in sorted(set(rects)):
        parts = [rect]
        for a, b, c, d in found:
            cut = []
            for x0, y0, x1, y1 in parts:
                if x0 >= c or x1 <= a or y0 >= d or y1 <= b:
                    cut.append((x0, y0, x1, y1))
                    continue
                left, right = max(x0, a), min(x1, c)
                cut += [(x0, y0, left, y1), (right, y0, x1, y1), (left, y0, right, b), (left, d, right, y1)]
            parts = [p for p in cut if p[0] < p[2] and p[1] < p[3]]
        found += [p for p in parts if p[0] < p[2] and p[1] < p[3]]
    return tuple(sorted(found))


def _steps(sizes: Collection[int], whole: int) -> list[int]:
    """The steps at which such a function can tell more: the sizes themselves, and what is left over beside them."""
    found = {size for size in sizes if 2 * size <= whole} | {whole - size + 1 for size in sizes if 2 * size > whole + 1}
    return [0, *sorted(found)[:12]]


def _worth(size: int, step: int, whole: int) -> int:
    """A dual feasible function: what is left over beside a piece nearly as large as the whole is counted with it, what is
    smaller than that not at all."""
    if not step:
        return size
    return whole if size > whole - step else size if size >= step else 0


def _joined(corners: Outline, right: int, top: int) -> Outline:
    """The corners when all that lies left of ``right`` and below ``top`` is shut off."""
    found = []
    for x, y in corners:
        if x >= right or y >= top:
            found.append((x, y))
        else:
            found += [(right, y), (x, top)]
    found.sort()
    kept = [found[0]]
    for corner in found:  # what lies above and right of another corner is in its reach
        if corner[1] < kept[-1][1]:
            kept.append(corner)
    return tuple(kept)
