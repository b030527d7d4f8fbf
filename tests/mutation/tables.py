"""Wrongs done to the tables of marks and to the goods list: a figure nudged, a member or a line left out, a flag or a day moved.

Words of the tables (paragraphs, sources, sentences) stay as they are: that a paragraph is the right one only a person who
reads the law can say.
"""

from __future__ import annotations

import copy
import csv
import io
import re
import tomllib
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any

from tests.mutation.trial import Candidate, Mutant

MARKS = Path(__file__).parents[2] / "marks"
#: Keys whose text is for a reader.
WORDS = {"cite", "source", "says", "why", "text", "name", "memory", "label", "note"}
#: Columns of the goods list that decide marks, and what may stand in them instead.
COLUMNS = (
    "packing_group",
    "labels",
    "technical_name",
    "state",
    "limited_quantity",
    "excepted_quantity",
    "passenger",
    "cargo",
)
#: The first days of editions: before them nothing is decided at all, so that an earlier day is no wrong.
FIRST = {date(2017, 1, 1), date(2023, 1, 26)}
Way = tuple[str | int, ...]
_FIGURE = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def files() -> list[Path]:
    """Every table of marks but for distances on a face, which step 3 asks: the tests of placement hold these."""
    return sorted(path for path in (MARKS / "tables").glob("*.toml") if path.stem != "placing")


def candidates(path: Path) -> Iterator[Candidate]:
    """Every wrong of one table, not made yet."""
    text = path.read_text("utf-8")
    whole = tomllib.loads(text)
    where = str(path.relative_to(MARKS.parent))
    for way, what, change in _wrongs(whole, ()):
        place = f"{where} {'.'.join(map(str, way))}"
        yield partial(_made, place, what, text, whole, way, change)


def _made(place: str, what: str, text: str, whole: dict[str, Any], way: Way, change: Any) -> Mutant:
    changed = copy.deepcopy(whole)
    _apply(changed, way, change)
    return Mutant(place, what, table=text, data=changed)


def list_candidates() -> Iterator[Candidate]:
    """One wrong for each filled cell of the goods list that decides a mark: the cell of the line below that differs."""
    path = MARKS / "goods" / "entries.csv"
    text = path.read_text("utf-8")
    lines = text.splitlines()
    head, *rows = list(csv.reader(lines, strict=True))
    for number, row in enumerate(rows, 1):
        for column in COLUMNS:
            at = head.index(column)
            other = next((later[at] for later in rows[number:] if later[at] != row[at]), "")
            yield partial(_made_in_list, lines, number, row, at, column, other)


def _made_in_list(lines: list[str], number: int, row: list[str], at: int, column: str, other: str) -> Mutant:
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow([*row[:at], other, *row[at + 1 :]])
    new = "\n".join([*lines[:number], out.getvalue(), *lines[number + 1 :]]) + "\n"
    return Mutant(f"marks/goods/entries.csv {row[0]} {column}", f"{row[at]!r} becomes {other!r}", goods=new)


_DROP = object()


def _wrongs(node: Any, way: Way) -> Iterator[tuple[Way, str, Any]]:
    if isinstance(node, dict):
        for key, value in node.items():
            if key not in WORDS:
                yield from _wrongs(value, (*way, key))
    elif isinstance(node, list):
        for place, value in enumerate(node):
            at = (*way, place)
            if len(node) > 1 or isinstance(value, dict):
                yield at, f"{_short(value)} left out", _DROP
            if isinstance(value, dict):
                yield from _wrongs(value, at)
    else:
        yield from ((way, f"{node} becomes {changed}", changed) for changed in _instead(node))


def _instead(value: Any) -> Iterator[Any]:
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, date):
        yield value + timedelta(days=1)
        if value not in FIRST:
            yield value - timedelta(days=1)
    elif isinstance(value, int):
        yield value + 1
        yield value - 1
    elif isinstance(value, str) and (found := _FIGURE.search(value)) and len(value.split()) < 4:
        figure = Decimal(found[0])
        step = Decimal(1).scaleb(int(figure.as_tuple().exponent))
        for changed in (figure + step, figure - step):
            if changed >= 0:
                yield f"{value[: found.start()]}{changed:f}{value[found.end() :]}"


def _short(value: Any) -> str:
    if isinstance(value, dict):
        return next((f"{key} {one}" for key, one in value.items() if isinstance(one, str)), "a line")
    return str(value)


def _apply(node: Any, way: Way, change: Any) -> None:
    for step in way[:-1]:
        node = node[step]
    if change is _DROP:
        del node[way[-1]]
    else:
        node[way[-1]] = change
