"""The goods list at the desk: what fits while one types, and the entry a goods line means, with what it leaves open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from marks.errors import EntryOpen, UnknownEntry
from marks.goods.lookup import Entry, choose, find, fold, search

#: So many entries are offered while one types.
OFFERED = 24


@dataclass(frozen=True)
class Goods:
    """entry: the one a goods line means, or None while it is open. asks: the keys that would settle it; choices: the
    entries that remain; lines: every entry of the number."""

    entry: Entry | None
    asks: tuple[str, ...] = ()
    choices: tuple[Entry, ...] = ()
    lines: tuple[Entry, ...] = ()


def goods_entry(line: Mapping[str, Any]) -> Goods:
    """What a goods line of the form means by its number, name, packing group and line."""
    said = [line.get(key) for key in ("un", "name", "packing_group", "line")]
    return _goods(*(one if isinstance(one, str) else None for one in said))


@lru_cache(maxsize=512)
def _goods(un: str | None, name: str | None, group: str | None, line: str | None) -> Goods:
    number = (un or "").strip().upper().removeprefix("UN").strip()
    lines = find(number)
    if not lines:
        return Goods(None)
    try:
        return Goods(choose(number, name, group, int(line) if line and line.isdigit() else None), lines=lines)
    except EntryOpen as error:
        return Goods(None, error.asks, error.choices, lines)
    except UnknownEntry:
        return Goods(None)


@dataclass(frozen=True)
class Offer:
    """An entry under one of its names. keys: what a goods line has to say to mean it."""

    entry: Entry
    name: str
    keys: tuple[tuple[str, str], ...]


@lru_cache(maxsize=256)
def offers(text: str) -> tuple[Offer, ...]:
    """What fits a number or a part of a name, the best first."""
    text = text.strip()
    if len(text) < 2 or len(text) > 200:
        return ()
    if text.isdigit() and len(text) < 4:
        return tuple(_offers_of(beginning(text), ""))[:OFFERED]
    return tuple(_offers_of(search(text), text))[:OFFERED]


def beginning(figures: str) -> tuple[Entry, ...]:
    """The entries whose numbers begin so, as many as are offered."""
    found: list[Entry] = []
    for number in range(10**4):
        text = f"{number:04}"
        if text.startswith(figures):
            found += find(text)
        if len(found) >= OFFERED:
            break
    return tuple(found)


def _offers_of(entries: tuple[Entry, ...], text: str) -> Iterator[Offer]:
    words = fold(text).split()
    for entry in entries[: OFFERED * 2]:
        fitting = [n for n in entry.names if all(any(w.startswith(word) for w in fold(n).split()) for word in words)]
        for name in fitting if fitting and not text.isdigit() else entry.names:
            yield Offer(entry, name, keys_of(entry, name))


def keys_of(entry: Entry, name: str) -> tuple[tuple[str, str], ...]:
    """The fewest keys by which a goods line means this entry under this name."""
    un = entry.un if entry.prefix == "UN" else f"{entry.prefix}{entry.un}"
    group = entry.packing_group
    tries = (
        (None, None, None), (None, group, None), (name, None, None), (name, group, None),
        (None, None, entry.line), (name, None, entry.line), (name, group, entry.line),
    )  # fmt: skip
    its_name, its_group, line = next(one for one in tries if _means(un, *one) == (entry.id, name))
    keys = {"un": un, "name": its_name, "packing_group": its_group, "line": str(line) if line else None}
    return tuple((key, value) for key, value in keys.items() if value)


def _means(un: str, name: str | None, group: str | None, line: int | None) -> tuple[str, str] | None:
    """The entry, and under which name, that these keys lead to; None where they leave it open."""
    try:
        meant = choose(un, name, group, line)
    except EntryOpen:
        return None
    return meant.id, meant.name
