"""Step 4, the packing of one area: which pieces may lie on it side by side, told exactly, and a full layout, by short search.

A layout whose pieces are pushed down and to the left as far as they go can be built piece by piece, each at a corner of the
stairs that those before it leave (Martello and Vigo, "Exact solution of the two-dimensional finite bin packing problem",
Management Science 44, 1998). So trying every piece at every corner finds a layout where there is one. Lengths are whole
hundredths of a millimetre, rounded up where a layout is sought and down where its absence is proven.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from msgspec import Struct

from layouts.fill import Due
from layouts.geometry import Box

Counts = tuple[int, ...]
Size = tuple[float, float]
Lengths = tuple[int, int]
Stairs = tuple[Lengths, ...]
Put = tuple[int, int, int]
#: Of each piece which size it has, and how far it is along and down from the area's corner, mm.
Laid = tuple[tuple[int, float, float], ...]
#: Corners tried for one question, for all questions about a stack, and for a layout of what was seen to lie.
_TRIES, _IN_ALL, _AGAIN = 3000, 30000, 300
#: So many beginnings of a full layout are followed, each piece at so many corners.
_BEAM, _CORNERS = 10, 2
#: Pieces of one kind differ by no more than this, mm, as the figures in their captions make them: looked at coarsely, as
#: fewer kinds are told of sooner, and finely, as where three lie beside each other on a narrow label.
COARSE, FINE = 3.0, 0.6


class Kind(Struct, frozen=True, order=True):
    """Pieces alike but for their captions. least, most: for each way to print one, width and height that the smallest and
    the largest of them take, mm; alone: one may have an area to itself; count: how many there are."""

    least: tuple[Size, ...]
    most: tuple[Size, ...]
    alone: bool
    count: int


def kinds_of(due: Sequence[Due], alike: float) -> list[tuple[Kind, list[int]]]:
    """The kinds in an order that depends on nothing but themselves, each with the places in ``due`` of its pieces, which
    differ by no more than ``alike`` mm."""
    found = []
    order = sorted(range(len(due)), key=lambda n: (len(due[n].sizes), bool(due[n].alone), due[n].sizes, n))
    for _, same in groupby(order, key=lambda n: (len(due[n].sizes), bool(due[n].alone))):
        for pieces in _alike(due, same, alike):
            ways = list(zip(*(due[n].sizes for n in pieces), strict=True))
            least, most = (tuple((of(w for w, _ in s), of(h for _, h in s)) for s in ways) for of in (min, max))
            found.append((Kind(least, most, bool(due[pieces[0]].alone), len(pieces)), sorted(pieces)))
    return sorted(found)


def _alike(due: Sequence[Due], order: Iterable[int], by: float) -> Iterator[list[int]]:
    found: list[int] = []
    for n in order:
        if found and any(
            abs(a - b) > by
            for one, other in zip(due[found[0]].sizes, due[n].sizes, strict=True)
            for a, b in zip(one, other, strict=True)
        ):
            yield found
            found = []
        found.append(n)
    if found:
        yield found


# --- what may lie ----------------------------------------------------------------------------------------------------


class Possible:
    """Whether so many pieces of each size lie on an area. What was told is kept: what does not lie does not lie with more
    beside it."""

    def __init__(self, sizes: Sequence[Size], area: Box, tries: int = _IN_ALL) -> None:
        self.sizes = [(_down(w), _down(h)) for w, h in sizes]
        self.width, self.height = _up(area.width), _up(area.height)
        self._left = tries
        self._may: dict[Counts, bool] = {}  # whether a layout was found
        self._never: list[Counts] = []

    def never(self, counts: Counts) -> bool:
        """Whether it is proven already that so many do not lie."""
        return any(all(a <= b for a, b in zip(few, counts, strict=True)) for few in self._never)

    def may(self, counts: Counts) -> bool:
        """Whether so many lie, or it is not told in good time that they do not."""
        if counts in self._may:
            return True
        if self.never(counts):
            return False
        search = _Search(self.sizes, self.width, self.height, min(_TRIES, self._left))
        lies = search.lay(((0, 0),), counts, ()) is not None
        self._left -= search.tries - search.left
        if lies or not search.left:
            self._may[counts] = lies
            return True
        self._never.append(counts)
        return False

    @property
    def lying(self) -> Iterator[Counts]:
        """Those that were found to lie."""
        return (counts for counts, lies in self._may.items() if lies)


def lay(sizes: Sequence[Size], counts: Counts, area: Box) -> Laid:
    """A layout of so many pieces of each size; empty where none is found by a short search."""
    search = _Search([(_up(w), _up(h)) for w, h in sizes], _down(area.width), _down(area.height), _AGAIN)
    return _in_mm(search.lay(((0, 0),), counts, ()) or ())


def _in_mm(puts: Iterable[Put]) -> Laid:
    return tuple((n, x / 100, y / 100) for n, x, y in puts)


class _Search:
    """Every size at every corner, the largest first; the same stairs with the same pieces left only once."""

    def __init__(self, sizes: Sequence[Lengths], width: int, height: int, tries: int) -> None:
        self.sizes, self.width, self.height = sizes, width, height
        self.tries = self.left = tries
        self.order = sorted(range(len(sizes)), key=lambda n: -sizes[n][0] * sizes[n][1])
        self.seen: set[tuple[Stairs, Counts]] = set()

    def lay(self, stairs: Stairs, counts: Counts, laid: tuple[Put, ...]) -> tuple[Put, ...] | None:
        """The layout that goes on above these stairs; None where there is none, or no try is left."""
        if not any(counts):
            return laid
        need = sum(n * w * h for n, (w, h) in zip(counts, self.sizes, strict=True))
        if (stairs, counts) in self.seen or _under(stairs, self.width) + need > self.width * self.height:
            return None
        self.seen.add((stairs, counts))
        for n in self.order:
            if not counts[n]:
                continue
            w, h = self.sizes[n]
            rest = (*counts[:n], counts[n] - 1, *counts[n + 1 :])
            for x, y in stairs:
                if x + w <= self.width and y + h <= self.height:
                    if not self.left:
                        return None
                    self.left -= 1
                    found = self.lay(_stepped(stairs, x, y, w, h), rest, (*laid, (n, x, y)))
                    if found is not None:
                        return found
        return None


# --- a full layout ---------------------------------------------------------------------------------------------------


def full(
    sizes: Sequence[Size], kinds: Sequence[int], wanted: Counts, prices: Sequence[float], area: Box, most: int
) -> tuple[Laid, int]:
    """The layout worth most that a short search finds: piece after piece at each of its lowest corners, of all that may be
    had so those followed that leave most hope. kinds: which kind each size is of; wanted: how many of each kind there are;
    prices: what a piece of each is worth; most: so many beginnings. Returns how many it took, too."""
    lengths, width, height = [(_up(w), _up(h)) for w, h in sizes], _down(area.width), _down(area.height)
    dear = [n for n, kind in enumerate(kinds) if prices[kind] > 0]
    rate = max((prices[kinds[n]] / (lengths[n][0] * lengths[n][1]) for n in dear), default=0.0)
    best, laid = 0.0, tuple[Put, ...]()
    states: list[_State] = [(0.0, ((0, 0),), wanted, (), 0.0)]
    begun = 0
    while states and begun < most:
        after: dict[tuple[Stairs, Counts], _State] = {}
        for _, stairs, left, puts, worth in states:
            if worth > best + 1e-9:
                best, laid = worth, puts
            for n in dear:
                kind, (w, h) = kinds[n], lengths[n]
                if not left[kind]:
                    continue
                fits = [(y + h, x, y) for x, y in stairs if x + w <= width and y + h <= height]
                for _, x, y in sorted(fits)[:_CORNERS]:
                    begun += 1
                    new, now = _stepped(stairs, x, y, w, h), worth + prices[kind]
                    hope = now + (width * height - _under(new, width)) * rate
                    rest = (*left[:kind], left[kind] - 1, *left[kind + 1 :])
                    if hope > best + 1e-9 and (new, rest) not in after:
                        after[new, rest] = (hope, new, rest, (*puts, (n, x, y)), now)
        states = sorted(after.values(), key=lambda state: -state[0])[:_BEAM]
    return _in_mm(laid), begun


#: The worth it may come to at most; stairs; pieces left of each kind; those put; their worth.
_State = tuple[float, Stairs, Counts, tuple[Put, ...], float]


# --- stairs ----------------------------------------------------------------------------------------------------------


def _up(mm: float) -> int:
    return math.ceil(mm * 100 - 1e-6)


def _down(mm: float) -> int:
    return math.floor(mm * 100 + 1e-6)


def _under(stairs: Stairs, width: int) -> int:
    """The area that the stairs cover."""
    ends = [x for x, _ in stairs[1:]] + [width]
    return sum((end - x) * y for (x, y), end in zip(stairs, ends, strict=True))


def _stepped(stairs: Stairs, x: int, y: int, w: int, h: int) -> Stairs:
    """The stairs after a piece was laid at their corner (x, y). Stairs go down: each step from its x on is so high."""
    right, top = x + w, y + h
    higher = [step for step in stairs if step[1] >= top]
    first = next(at for at, high in stairs if high < top)
    beyond = [high for at, high in stairs if at <= right][-1]
    step = () if higher and higher[-1][1] == top else ((first, top),)
    return (*higher, *step, (right, beyond), *(one for one in stairs if one[0] > right))
