"""Step 4, the last resort of packing: how few areas it takes at least, and few, by a linear programme over fillings.

A filling says how many pieces of each kind lie on one area; as few areas as possible are filled so that every piece lies
somewhere (Gilmore and Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961).
Its prices, so much of an area for a piece of each kind, are a bound: where no filling is worth more than one area, no
layout takes fewer areas than all pieces together are worth. What lies on an area is told by ``fillings``.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterable, Sequence
from functools import cached_property, lru_cache, partial

from layouts.bound import shares
from layouts.fill import Due, Filled, Spot, takes
from layouts.fillings import COARSE, FINE, Counts, Kind, Laid, Possible, Size, full, kinds_of, lay
from layouts.geometry import Box

#: More kinds are not looked at. Fillings that come into a programme, numbers of pieces looked at in the search for them on
#: each area, and beginnings of layouts for it, before it is given up: some tenths of a second.
_KINDS, _ROUNDS, _NODES, _BEGUN = 10, 200, 12000, 60000
_NEAR = 1e-6

Prices = Sequence[float]
#: What all pieces are worth, and how often each filling is taken.
Solved = tuple[float, list[tuple[Counts, float]]]


def at_least(due: Sequence[Due], areas: Sequence[Box], known: int, taken: int) -> int:
    """So many areas the pieces need at least. Every piece fits one of ``areas``, the ways an area may be turned. known: so
    many are known to be needed; taken: so many a layout takes; it is looked at more closely while that is two more."""
    for alike in (COARSE, FINE):
        if taken > known + 1:
            known = max(known, _programme(kinds_of(due, alike), areas).least)
    return known


def by_programme(due: Sequence[Due], areas: Sequence[Box], known: int, best: list[Filled]) -> list[Filled]:
    """All pieces on few areas, in the order of their earliest pieces; ``best`` where none takes fewer. known: so many areas
    are known to be needed; it is looked at more closely while that is two fewer."""
    for alike in (COARSE, FINE):
        if len(best) > known + 1:
            kinds = kinds_of(due, alike)
            found = _programme(kinds, areas).filled(due, [pieces for _, pieces in kinds])
            best = min(best, found or best, key=len)
    return best


def _programme(kinds: Iterable[tuple[Kind, object]], areas: Sequence[Box]) -> _Programme:
    return _remembered(tuple(kind for kind, _ in kinds), tuple(areas))


@lru_cache(maxsize=256)
def _remembered(kinds: tuple[Kind, ...], areas: tuple[Box, ...]) -> _Programme:
    """The same stack is asked after when it is laid out and when its use is told, and in many records of a batch."""
    return _Programme(kinds, areas)


class _Programme:
    """The programme of one stack: ``least`` over all fillings not proven impossible, layouts over those that were laid."""

    def __init__(self, kinds: tuple[Kind, ...], areas: tuple[Box, ...]) -> None:
        self.kinds, self.areas = kinds, areas
        self.wanted = tuple(kind.count for kind in kinds)
        #: Every way to print a piece of every kind.
        self.ways = [(k, way) for k, kind in enumerate(kinds) for way in range(len(kind.least))]

        self.begun = _BEGUN
        self.least, self.lying = self._least() if len(kinds) <= _KINDS else (0, [])

    def _least(self) -> tuple[int, list[tuple[int, Counts]]]:
        """So many areas at least, 0 where that was not told; and what was seen to lie on which area, each way by itself."""
        searches = [_Dear(self.ways, [self.kinds[k].least[way] for k, way in self.ways], area) for area in self.areas]

        def dearer(prices: Prices) -> Counts | None:
            found = (_one(k, len(prices)) for k, price in enumerate(prices) if price > 1 + _NEAR)
            return next(found, None) or next(filter(None, (one.dear(prices, self.wanted) for one in searches)), None)

        solved = _solved(self.wanted, dearer)
        told = solved is not None and not any(one.gave_up for one in searches)
        least = math.ceil(solved[0] / (1 + _NEAR) - _NEAR) if solved is not None and told else 0
        return least, [(turn, counts) for turn, one in enumerate(searches) for counts in one.possible.lying]

    @cached_property
    def _few(self) -> list[tuple[int, Laid]] | None:
        """Laid areas that hold all pieces: as often as the programme takes each, in whole; then the one that holds most;
        then the same for the pieces that are left."""
        left, done, laid = self.wanted, list[tuple[int, Laid]](), self._singles()
        if laid is None or len(self.kinds) > _KINDS:
            return None
        sizes = [self.kinds[k].most[way] for k, way in self.ways]
        for turn, counts in self.lying:
            self._add(laid, turn, lay(sizes, counts, self.areas[turn]))
        while any(left):
            solved = _solved(left, partial(self._laid_dearer, laid, left))
            if solved is None:
                return None
            whole = [counts for counts, times in solved[1] for _ in range(int(times + _NEAR))]
            if not whole:
                whole = [max((counts for counts, _ in solved[1]), key=partial(self._area, left))]
            done += [laid[counts] for counts in whole]
            left = tuple(max(0, n - sum(of)) for n, of in zip(left, zip(*whole, strict=True), strict=True))
        return done

    def _singles(self) -> dict[Counts, tuple[int, Laid]] | None:
        """One piece of each kind by itself; None where one does not lie by its largest measures."""
        found: dict[Counts, tuple[int, Laid]] = {}
        for k, kind in enumerate(self.kinds):
            fits = (
                (turn, ((self.ways.index((k, way)), 0.0, 0.0),))
                for turn, area in enumerate(self.areas)
                for way, size in enumerate(kind.most)
                if takes(area, *size)
            )
            one = (0, ((self.ways.index((k, 0)), 0.0, 0.0),)) if kind.alone else next(fits, None)
            if one is None:
                return None
            found[_one(k, len(self.kinds))] = one
        return found

    def _laid_dearer(self, laid: dict[Counts, tuple[int, Laid]], wanted: Counts, prices: Prices) -> Counts | None:
        """The dearest filling that a short search lays, if it is worth more than an area; it is then among those laid."""

        def worth(counts: Counts) -> float:
            return math.fsum(min(n, most) * price for n, most, price in zip(counts, wanted, prices, strict=True))

        best = max(laid, key=lambda counts: (worth(counts), counts))
        if worth(best) > 1 + _NEAR:
            return best
        sizes = [self.kinds[k].most[way] for k, way in self.ways]
        for turn, area in enumerate(self.areas):
            found, begun = full(sizes, [k for k, _ in self.ways], wanted, prices, area, self.begun)
            self.begun -= begun
            self._add(laid, turn, found)
        best = max(laid, key=lambda counts: (worth(counts), counts))
        return best if worth(best) > 1 + _NEAR else None

    def _area(self, wanted: Counts, counts: Counts) -> tuple[float, Counts]:
        """What a filling holds of the pieces wanted, mm², to be compared."""
        held = map(min, wanted, counts)
        return math.fsum(
            n * min(w * h for w, h in kind.least) for n, kind in zip(held, self.kinds, strict=True)
        ), counts

    def _add(self, laid: dict[Counts, tuple[int, Laid]], turn: int, found: Laid) -> None:
        counts = tuple(sum(self.ways[n][0] == k for n, _, _ in found) for k in range(len(self.kinds)))
        if found:
            laid.setdefault(counts, (turn, found))

    def filled(self, due: Sequence[Due], pieces: Sequence[Sequence[int]]) -> list[Filled] | None:
        """The areas with pieces on them. pieces: of each kind, their places in ``due``."""
        if self._few is None:
            return None
        waiting = [deque(of_kind) for of_kind in pieces]
        done = []
        for turn, laid in self._few:
            spots = []
            for one, x, y in laid:
                kind, way = self.ways[one]
                if not waiting[kind]:
                    continue
                n, area = waiting[kind].popleft(), self.areas[turn]
                if len(laid) == 1 and due[n].alone:
                    spots.append(Spot(n, due[n].alone[0], 0.0, 0.0))
                else:
                    cell = due[n].cells[way]
                    spots.append(Spot(n, cell, area.x + x, area.top - y - cell.height))
            if spots:
                done.append(Filled(turn, tuple(spots)))
        return sorted(done, key=lambda one: one.begins)


def _one(kind: int, many: int) -> Counts:
    return tuple(int(k == kind) for k in range(many))


# --- the linear programme --------------------------------------------------------------------------------------------


def _solved(wanted: Counts, dearer: Callable[[Prices], Counts | None]) -> Solved | None:
    """The simplex method with one row for each kind: its inverse basis is kept, and what comes in is the filling that is
    worth more than an area at the prices of the time, which ``dearer`` finds, or a piece too many of a kind. None where
    that does not end."""
    many = range(len(wanted))
    basis = [_one(k, len(wanted)) for k in many]
    inverse = [[float(a == b) for b in many] for a in many]
    level = [float(n) for n in wanted]
    for _ in range(_ROUNDS):
        costs = [float(max(one) > 0) for one in basis]  # a piece too many, which counts -1, costs nothing
        prices = [math.fsum(costs[a] * inverse[a][b] for a in many) for b in many]
        low = min(many, key=lambda k: prices[k])
        if prices[low] < -1e-7:
            entering = tuple(-n for n in _one(low, len(wanted)))
        else:
            prices = [max(0.0, price) for price in prices]
            found = dearer(prices)
            if found is None:
                worth = math.fsum(n * price for n, price in zip(wanted, prices, strict=True))
                taken = [
                    (one, times) for one, times in zip(basis, level, strict=True) if max(one) > 0 and times > _NEAR
                ]
                return worth, taken
            entering = found
        column = [math.fsum(inverse[a][b] * entering[b] for b in many) for a in many]
        steps = [(level[a] / column[a], a) for a in many if column[a] > 1e-9]
        if not steps:
            return None
        step, out = min(steps)
        level = [step if a == out else level[a] - step * column[a] for a in many]
        pivot = [value / column[out] for value in inverse[out]]
        inverse = [
            pivot if a == out else [value - column[a] * p for value, p in zip(inverse[a], pivot, strict=True)]
            for a in many
        ]
        basis[out] = entering
    return None


# --- what may be worth more than an area -----------------------------------------------------------------------------


class _Dear:
    """The search for a filling of one area that is worth more than an area and not proven impossible: size after size, as
    many of each as may be, then fewer. gave_up: one was not looked for to the end."""

    def __init__(self, ways: Sequence[tuple[int, int]], sizes: Sequence[Size], area: Box) -> None:
        self.kinds, self.possible, self.gave_up = [k for k, _ in ways], Possible(sizes, area), False
        self.left = _NODES
        self.shares = _unlike(shares([(size,) for size in sizes], area, True))

    def dear(self, prices: Prices, wanted: Counts) -> Counts | None:
        """How many of each kind; None where there is no such filling."""
        self.prices, self.wanted = [prices[k] for k in self.kinds], list(wanted)
        self.order = sorted(
            (n for n, price in enumerate(self.prices) if price > 1e-9),
            key=lambda n: (-self._rate(self.shares[0], n), n),
        )
        #: From each size on, what the rest of an area may be worth at most, by each of the shares.
        self.rates = [
            [max((self._rate(share, n) for n in self.order[at:]), default=0.0) for share in self.shares]
            for at in range(len(self.order) + 1)
        ]
        self.counts = [0] * len(self.kinds)
        found = self._go(0, 0.0, [1.0] * len(self.shares))
        if found is None:
            self.gave_up = self.gave_up or not self.left
            return None
        return tuple(sum(n for n, of in zip(found, self.kinds, strict=True) if of == k) for k in range(len(wanted)))

    def _rate(self, share: Sequence[float], n: int) -> float:
        return self.prices[n] / share[n] if share[n] > 1e-9 else math.inf

    def _go(self, at: int, worth: float, room: Sequence[float]) -> Counts | None:
        if worth > 1 + _NEAR:
            counts = tuple(self.counts)
            return counts if self.possible.may(counts) else None
        if any(worth + (left + 1e-7) * rate <= 1 + _NEAR for left, rate in zip(room, self.rates[at], strict=True)):
            return None
        n = self.order[at]
        kind = self.kinds[n]
        most = min(
            (int((left + 1e-7) / share[n]) for left, share in zip(room, self.shares, strict=True) if share[n] > 1e-9),
            default=self.wanted[kind],
        )
        for many in range(min(most, self.wanted[kind]), -1, -1):
            if not self.left:
                return None
            self.left -= 1
            self.counts[n] = many
            if many and self.possible.never(tuple(self.counts)):
                continue
            self.wanted[kind] -= many
            after = [left - many * share[n] for left, share in zip(room, self.shares, strict=True)]
            found = self._go(at + 1, worth + many * self.prices[n], after)
            self.wanted[kind] += many
            if found is not None:
                return found
        return None


def _unlike(every: Iterable[list[float]]) -> list[list[float]]:
    """Without those by which each size takes no more than by another."""
    found: list[list[float]] = []
    for one in every:
        if not any(_all_at_most(one, other) for other in found):
            found = [other for other in found if not _all_at_most(other, one)] + [one]
    return found


def _all_at_most(one: Sequence[float], other: Sequence[float]) -> bool:
    return all(a <= b + 1e-9 for a, b in zip(one, other, strict=True))
