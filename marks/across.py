"""What only the whole of a record can show: letters given twice, overpacks of unknown packages, legs without a word.

These faults are found in what is not yet read, so that they are told together with those of the parts. Whatever is
there is taken, models or plain lists and groups; what is broken in itself is passed over.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from marks.errors import Unreadable
from marks.fields import Loc
from marks.quantity import quoted

Faults = Iterator[tuple[Loc, Unreadable]]


def faults_across(data: Mapping[str, Any]) -> Faults:
    """Every fault between the parts of a record, with its place."""
    packages, overpacks = _list(data, "packages"), _list(data, "overpacks")
    modes = [str(mode) for mode in _list(data, "modes")]
    letters = [_word(package, "package") for package in packages]
    names = [_word(overpack, "overpack") for overpack in overpacks]
    for i, first in _repeated(modes):
        yield ("modes", i), Unreadable(quoted(modes[i]), f"it is leg {first + 1} already", "write each leg once")
    for i, first in _repeated(letters):
        why = f"package {first + 1} has that letter already"
        write = "write another, or count: 2 for two identical packages"
        yield ("packages", i, "package"), Unreadable(quoted(letters[i]), why, write)
    for i, first in _repeated([*letters, *names]):
        if i >= len(letters):
            why = f"overpack {first - len(letters) + 1}" if first >= len(letters) else f"package {first + 1}"
            yield (
                ("overpacks", i - len(letters), "overpack"),
                Unreadable(quoted(names[i - len(letters)]), f"{why} has that name already", "write another"),
            )
    yield from _legs_without_word(packages, modes)
    yield from _strangers_in_overpacks(overpacks, letters, packages)


def _legs_without_word(packages: list[Any], modes: list[str]) -> Faults:
    """``ship_as`` by mode says a word for every leg: none is assumed."""
    for i, package in enumerate(packages):
        for j, goods in enumerate(_list(package, "goods")):
            by_mode = _get(goods, "ship_as")
            if not isinstance(by_mode, Mapping):
                continue
            said = [str(mode) for mode in by_mode]
            for mode in dict.fromkeys(modes):
                if mode not in said:
                    read = f"a word for {either(said, ' and ')} only"
                    write = f"add {mode}: full, limited or excepted"
                    yield ("packages", i, "goods", j, "ship_as"), Unreadable(read, f"{mode} is a leg too", write)


def _strangers_in_overpacks(overpacks: list[Any], letters: list[str], packages: list[Any]) -> Faults:
    """An overpack holds packages of this record, and no more of each than there are."""
    counts = {letter: str(_get(p, "count") or 1) for letter, p in zip(letters, packages, strict=True) if letter}
    used: Counter[str] = Counter()
    for i, overpack in enumerate(overpacks):
        for j, inside in enumerate(_list(overpack, "packages")):
            loc, letter = ("overpacks", i, "packages", j), " ".join(str(inside).split())
            used[letter] += 1
            if letter not in counts:
                write = f"write {either(list(counts)[:20])}" if counts else "give the packages letters first"
                yield loc, Unreadable(quoted(letter), "no package has that letter", write)
            elif counts[letter].isdigit() and used[letter] > int(counts[letter]):
                why = f"package {letter} is there {counts[letter]} times only"
                yield loc, Unreadable(quoted(letter), why, "take it out, or raise the package's count")


def either(words: Iterable[object], link: str = " or ") -> str:
    """Words as a list in a sentence: ``a, b or c``."""
    *first, last = [str(word) for word in words] or ["nothing"]
    return f"{', '.join(first)}{link}{last}" if first else last


def _repeated(words: list[str]) -> Iterator[tuple[int, int]]:
    """Where a word comes again, and where it came first."""
    seen: dict[str, int] = {}
    for i, word in enumerate(words):
        if word and seen.setdefault(word, i) != i:
            yield i, seen[word]


def _get(item: Any, key: str) -> Any:
    return item.get(key) if isinstance(item, Mapping) else getattr(item, key, None)


def _list(item: Any, key: str) -> list[Any]:
    value = _get(item, key)
    return list(value) if isinstance(value, list | tuple) else []


def _word(item: Any, key: str) -> str:
    value = _get(item, key)
    return " ".join(str(value).split()) if isinstance(value, str | int) else ""
