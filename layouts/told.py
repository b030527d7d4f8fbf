"""What is known of the empty faces of one package: which pieces go together on one, and which don't.

The steps of ``steps.py`` ask the same of the same face again and again, for marks of one size as well as for the same ones.
Here pieces of one kind are all alike: what goes leaves room for each part of it, what does not go does not go with more.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import Any

from layouts.exact import Condition, Spots, Unfinished, pack
from layouts.outline import Rect, Size

Kind = tuple[Hashable, bool]  # what pieces have in common; whether a condition may speak of where they lie
Places = Sequence[Any]  # one for each piece, in their order


class Told:
    """Of one ground: what has been asked and what was answered."""

    def __init__(self, tokens: _Tokens) -> None:
        self._tokens = tokens
        self._goes: list[tuple[frozenset[int], dict[int, Any]]] = []
        self._fails: list[tuple[frozenset[int], bool]] = []
        self._ended: dict[frozenset[int], int] = {}

    def ask(
        self,
        kinds: Sequence[Kind],
        steps: int,
        search: Callable[[], Places | None],
        accept: Callable[[Places], bool] | None = None,
        wish: bool = False,
    ) -> Places | None:
        """A place for a piece of each of these kinds, by ``search`` where it is not known yet; Unfinished where a search of so
        many steps has been ended. accept: a condition on the places. wish: no answer of law hangs on it, so that it is not
        searched for where a search of so many steps has been ended for some of these."""
        tokens = self._tokens.of(kinds)
        asked = frozenset(tokens)
        for those, known in self._goes:
            if asked <= those:
                places = [known[token] for token in tokens]
                if accept is None or accept(places):
                    return places
        for those, bound in self._fails:  # where they had to lie together, one more of them could be a link
            if those <= asked and not (bound and self._tokens.watched & (asked - those)):
                return None
        if self._ended.get(asked, 0) >= steps:
            raise Unfinished
        if wish and any([those <= asked and taken >= steps for those, taken in self._ended.items()]):
            raise Unfinished
        try:
            found = search()
        except Unfinished:
            self._ended[asked] = steps
            raise
        if found is None:
            self._fails.append((asked, accept is not None))
        else:
            self._goes.append((asked, dict(zip(tokens, found, strict=True))))
        return found


class _Tokens:
    """A number for the first piece of each kind, another for the second, and so on."""

    def __init__(self) -> None:
        self._numbers: dict[Kind, int] = {}
        self.watched: set[int] = set()

    def of(self, kinds: Sequence[Kind]) -> list[int]:
        numbers, found = self._numbers, []
        seen: dict[int, int] = {}
        for kind in kinds:
            number = numbers.setdefault(kind, len(numbers))
            seen[number] = seen.get(number, 0) + 1
            token = number << 16 | seen[number]
            if kind[1]:
                self.watched.add(token)
            found.append(token)
        return found


class Memory:
    """All that is known of one package, whatever step asked."""

    def __init__(self) -> None:
        self._tokens = _Tokens()
        self._told: dict[Hashable, Told] = {}
        self._kinds: dict[Hashable, int] = {}  # a number is sooner compared than what it stands for

    def kind(self, what: Hashable, watched: bool) -> Kind:
        """Of pieces that have this in common."""
        return self._kinds.setdefault(what, len(self._kinds)), watched

    def of(self, ground: Hashable) -> Told:
        if ground not in self._told:
            self._told[ground] = Told(self._tokens)
        return self._told[ground]

    def pack(
        self,
        pieces: Sequence[Sequence[Size]],
        size: Size,
        taken: Sequence[Rect],
        steps: Sequence[int],
        accept: Condition | None,
        watched: Sequence[int],
        wish: bool,
    ) -> Spots | None:
        """As ``exact.pack``; wish as in ``ask``."""
        found = self.of((size, tuple(taken))).ask(
            [self.kind(tuple(piece), n in watched) for n, piece in enumerate(pieces)],
            sum(steps),
            lambda: _in_order(pack(pieces, *size, taken, steps, accept, watched)),
            accept and (lambda places: accept(_numbered(places))),
            wish,
        )
        return None if found is None else _numbered(found)


def _in_order(spots: Spots | None) -> Spots | None:
    return None if spots is None else tuple(sorted(spots))


def _numbered(places: Places) -> Spots:
    return tuple(spot._replace(piece=n) for n, spot in enumerate(places))
