"""The packing log: a line for every tick, with its time; what is ticked is what the last line about it says.

Columns parted by tabs: time (of this machine's clock), digest of the record, what and which, copy, key, what was done,
words. A record that has changed has another digest: its packages are packed anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from layouts.front.desk.folder import Folder

DONE, UNDONE, WEIGHED = "done", "undone", "weighed"


@dataclass(frozen=True)
class Packed:
    """One package of those alike. digest: the record's, 16 figures; what: package or overpack."""

    record: str
    digest: str
    what: str
    name: str
    copy: int

    def columns(self) -> tuple[str, ...]:
        return self.digest, f"{self.what} {self.name}", str(self.copy)


@dataclass(frozen=True)
class Ticks:
    """done: key to the time it was ticked, as logged; weighed: what the scale said, or ""."""

    done: Mapping[str, str]
    weighed: str = ""


def ticks_of(folder: Folder, packed: Packed, words: Mapping[str, str]) -> Ticks:
    """What is ticked on one package. words: of every key there is; a line whose words are others does not count."""
    return _ticks(folder.read_log(packed.record), packed, words)


def _ticks(log: str, packed: Packed, words: Mapping[str, str]) -> Ticks:
    done: dict[str, str] = {}
    weighed = ""
    for line in log.split("\n"):
        columns = line.split("\t")
        if len(columns) != 7 or tuple(columns[1:4]) != packed.columns():
            continue
        time, key, deed, said = columns[0], *columns[4:]
        if deed == WEIGHED:
            weighed = said
        elif deed == DONE and words.get(key) == said:
            done[key] = time
        elif deed == UNDONE:
            done.pop(key, None)
    return Ticks(done, weighed)


def progress(folder: Folder, packed: Packed, count: int, words: Mapping[str, str]) -> list[int]:
    """How many things are ticked on each copy, first to last."""
    log = folder.read_log(packed.record)
    mine = [line for line in log.split("\n") if f"\t{packed.what} {packed.name}\t" in line]
    text = "\n".join(mine)
    return [
        len(_ticks(text, Packed(packed.record, packed.digest, packed.what, packed.name, copy), words).done)
        for copy in range(1, count + 1)
    ]


def write_ticks(
    folder: Folder, packed: Packed, changes: Iterable[tuple[str, str, str]], now: datetime | None = None
) -> None:
    """Log what was done: (key, deed, words) each."""
    time = (now or datetime.now().astimezone()).isoformat(timespec="seconds")
    lines = ["\t".join((time, *packed.columns(), key, deed, words)) for key, deed, words in changes]
    if lines:
        folder.append_log(packed.record, lines)
