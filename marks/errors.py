"""What can go wrong between a record and its plan.

SixfaceError
├── Unreadable       one text that can't stand (also a ValueError): what was read, why not, what to write instead
├── RecordError      the record can't be read or is incomplete: every Fault of it at once, each with file and line
├── UnknownEntry     no entry of the goods list answers to this number or name
├── EntryOpen        several entries do: what is asked for, and the choices
└── EditionNotHeld   no edition of the regulations, or no figure of a table, is held for this day

Layouts has its own family (a text too large for its box, a font without the letter). Every message is for reading.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec import Struct


class SixfaceError(Exception):
    """Any refusal of marks; ``str()`` is for reading."""


class Unreadable(SixfaceError, ValueError):
    """A text that can't stand as what it should be. A ValueError, so that a model's validator may raise it."""

    def __init__(self, read: str, why: str, write: str) -> None:
        self.read, self.why, self.write = read, why, write
        super().__init__(f"{read}; {why}; {write}")


class Fault(Struct, frozen=True, order=True):
    """One fault of a record.

    ``line`` counts from 1; 0 means that no line can be named (no such file, no text behind it).
    ``path`` leads to the place from the top, counting from 1: ``packages[1].goods[2].net``.
    """

    file: str
    line: int
    path: str
    read: str
    why: str
    write: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.path}: {self.read}; {self.why}; {self.write}"


class RecordError(SixfaceError):
    """``faults``: all of them, in the order of their lines; ``str()`` has one line for each."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(sorted(faults))
        super().__init__("\n".join(map(str, self.faults)))


class UnknownEntry(SixfaceError):
    """``asked``: the number or name that was looked for."""

    def __init__(self, message: str, asked: str = "") -> None:
        self.asked = asked
        super().__init__(message)


class EntryOpen(SixfaceError):
    """``choices``: the entries that remain; ``asks``: the keys of a goods line that would settle it."""

    def __init__(self, message: str, choices: tuple[Any, ...] = (), asks: tuple[str, ...] = ()) -> None:
        self.choices, self.asks = choices, asks
        super().__init__(message)


class EditionNotHeld(SixfaceError):
    """The day lies outside every edition, or outside every line of a dated table."""
