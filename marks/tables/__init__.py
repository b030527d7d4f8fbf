"""Dated, cited numbers. A number of law stands in a TOML line with its first day; no line answers for an earlier day.

``measures``: measures.toml, lengths in mm. ``limits``: limits.toml, quantities at which an answer turns.
``editions``: editions.toml, which editions are held and on which days they may be used.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

import tomli
from msgspec import Struct

from marks.errors import EditionNotHeld
from marks.terms import Mode


class Figure(Struct, frozen=True):
    """One number of law on one day. value: Decimal, in ``unit``; cite: paragraph by mode; source: where it was read."""

    name: str
    value: Decimal
    unit: str
    cite: Mapping[str, str]
    source: str
    memory: bool

    def paragraph(self, mode: Mode) -> str:
        """The paragraph under this mode, or the source where the mode has none of its own."""
        return self.cite.get(mode.value, self.source)

    @property
    def text(self) -> str:
        """ "30 kg", "120 mL"."""
        return f"{self.value} {self.unit}"


class Edition(Struct, frozen=True):
    """The rules of one mode that are held, and the days (inclusive) on which they may be used."""

    mode: Mode
    name: str
    first: date
    last: date
    source: str


class Table(Mapping[str, Any]):
    """A table file by its subjects, the first words of its headings: each is parsed when it is asked for, as one record
    needs few of them, by tomli: what the standard library has as tomllib, compiled. KeyError for a subject the file does
    not have."""

    def __init__(self, text: str) -> None:
        first, *parts = _HEADING.split(text)
        self._parsed: dict[str, Any] = tomli.loads(first)
        self._lines: dict[str, str] = dict.fromkeys(self._parsed, "")
        for part in parts:
            subject = _SUBJECT.match(part)
            if subject is None:
                raise ValueError(f"a heading that names nothing: {part.splitlines()[0]}")
            self._lines[subject[1]] = self._lines.get(subject[1], "") + part

    def __getitem__(self, subject: str) -> Any:
        if subject not in self._parsed:
            self._parsed[subject] = tomli.loads(self._lines[subject])[subject]
        return self._parsed[subject]

    def __iter__(self) -> Iterator[str]:
        return iter(self._lines)

    def __len__(self) -> int:
        return len(self._lines)


_HEADING = re.compile(r"(?m)^(?=\[)")
_SUBJECT = re.compile(r"\[\[?([\w-]+)[.\]]")


@cache
def table(name: str) -> Table:
    """A table as it stands in the file ``marks/tables/NAME.toml``."""
    return Table(Path(__file__).with_name(f"{name}.toml").read_text("utf-8"))


def _on(lines: list[dict[str, Any]], on: date, name: str) -> dict[str, Any]:
    for line in lines:
        if line["from"] <= on <= line.get("until", date.max):
            return line
    raise EditionNotHeld(
        f"{name}: no figure is held for {on}; the first day held is {min(line['from'] for line in lines)}"
    )


def limit(subject: str, name: str, on: date, book: str = "limits") -> Figure:
    """A quantity limit, for instance ``limit("arrows", "absorbed", day)``; ``book``: the table it stands in.

    Raises EditionNotHeld for a day no line covers, KeyError for a name the table does not have.
    """
    node: Any = table(book)[subject]
    for part in name.split("."):
        node = node[part]
    line = _on(node, on, f"{subject}.{name}")
    return Figure(
        f"{subject}.{name}",
        Decimal(line["value"]),
        line["unit"],
        line["cite"],
        line["source"],
        line.get("memory", False),
    )


def dated(book: str, name: str, on: date) -> Iterator[Mapping[str, Any]]:
    """The rows ``[[name]]`` of a table that hold on a day, in the table's order."""
    return (row for row in table(book)[name] if row["from"] <= on <= row.get("until", date.max))


@cache
def measure_figures(mark: str, variant: str | None, on: date) -> Mapping[str, Figure]:
    """Every length the law fixes for a mark on a day, by name; empty where it fixes none."""
    found = {}
    for name, lines in table("measures").get(mark, {}).items():
        only = lines[0].get("only")
        if only and not any((variant or "").startswith(start) for start in only):
            continue
        line = _on(lines, on, f"{mark}.{name}")
        found[name] = Figure(
            f"{mark}.{name}", Decimal(line["mm"]), "mm", line["cite"], line["source"], line.get("memory", False)
        )
    return MappingProxyType(found)


@cache
def measures_for(mark: str, variant: str | None, on: date) -> Mapping[str, Decimal]:
    """The same as plain numbers in mm: what artwork takes."""
    return MappingProxyType({name: figure.value for name, figure in measure_figures(mark, variant, on).items()})


@cache
def editions() -> Mapping[Mode, Edition]:
    """The edition held for each mode. A mode that is missing is not decided at all."""
    return MappingProxyType(
        {
            Mode(e["mode"]): Edition(Mode(e["mode"]), e["name"], e["from"], e["until"], e["source"])
            for e in table("editions")["edition"]
        }
    )
