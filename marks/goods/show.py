"""Entries of the goods list for reading: a table for the clerk, the same values as plain data for a program."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from textwrap import wrap
from typing import Any

from msgspec.structs import asdict

from marks.goods.lookup import ROAD_STATUS, SOURCES, Entry

CAUTION = (
    "These are values of the editions named here. The regulations in force, and the shipper's trained and authorised "
    "person, decide."
)

LEGEND = (
    "limited: what one inner packaging may hold as a limited quantity (0: none may). excepted: the code of the "
    "excepted quantity (E0: none). passenger, cargo: what one package may hold on that aircraft."
)

#: From this many entries on, each number gets one line instead of a table.
FULL = 40
WIDTH = 100

_HEADS = ("line", "group", "class", "labels", "state", "limited", "excepted", "passenger", "cargo", "road packing")


def describe(entries: Iterable[Entry]) -> list[str]:
    """Lines of text: one table for each number, then the sources and the caution. No entries: no lines."""
    found = list(entries)
    if not found:
        return []
    numbers = [list(lines) for _, lines in groupby(found, key=lambda e: e.number)]
    out: list[str] = []
    for lines in numbers:
        out += [_brief(lines)] if len(found) > FULL else [*_table(lines), ""]
    if len(found) > FULL:
        out += ["", f"{len(found)} lines of {len(numbers)} numbers fit; ask for a number to see its limits.", ""]
    return out + _foot(found)


def as_json(entries: Iterable[Entry]) -> dict[str, Any]:
    """The same for a program: ``goods``, one object an entry with every field, ``sources`` and ``caution``."""
    goods = [{"number": e.number, **asdict(e)} for e in entries]
    return {"goods": goods, "sources": dict(SOURCES), "caution": CAUTION}


def _brief(lines: Sequence[Entry]) -> str:
    first = lines[0]
    groups = ", ".join(dict.fromkeys(e.packing_group for e in lines if e.packing_group))
    return f"{first.number}  {' or '.join(first.names)}" + (f"; packing group {groups}" if groups else "")


def _table(lines: Sequence[Entry]) -> list[str]:
    """Heading, one row for each line of the number, then what has no column."""
    rows = [_HEADS, *(_row(e) for e in lines)]
    widths = [max(len(row[i]) for row in rows) for i in range(len(_HEADS))]
    out = _paragraph("", f"{lines[0].number}  {' or '.join(_names(lines))}")
    for row in rows:
        out.append("  " + "  ".join(cell.ljust(n) for cell, n in zip(row, widths, strict=True)).rstrip())
    for text, numbers in _shared(lines):
        out += _paragraph("  ", f"{_lines(numbers, lines)}{text}")
    return out


def _row(e: Entry) -> tuple[str, ...]:
    air = [limit or "none held" for limit in (e.passenger, e.cargo)]
    labels = " + ".join(e.labels or e.model_labels or e.us_labels) or "none"
    return (
        str(e.line), e.packing_group or "-", e.shown_class or "-", labels, e.state or "-", e.limited_quantity or "-",
        e.excepted_quantity or "-", *air, " ".join(e.packing_instructions) or "-",
    )  # fmt: skip


def _names(lines: Sequence[Entry]) -> list[str]:
    return list(dict.fromkeys(name for e in lines for name in e.names))


def _shared(lines: Sequence[Entry]) -> list[tuple[str, tuple[int, ...]]]:
    """Everything worth saying beside the rows, by subject, each said once with the lines it holds for."""
    said: dict[tuple[int, str], list[int]] = {}
    names = _names(lines)
    for e in lines:
        for subject, text in enumerate((_words(e, names), _road(e), _labels(e), _sea(e), _us(e), e.notes)):
            for part in text:
                said.setdefault((subject, part), []).append(e.line)
    order = sorted(said, key=lambda key: key[0])  # stable: the lines' own order within a subject
    return [(text, tuple(said[subject, text])) for subject, text in order]


def _words(e: Entry, names: Sequence[str]) -> list[str]:
    out = [e.qualifier] if e.qualifier else []
    if len(e.names) < len(names):
        out.append("the name is " + " or ".join(e.names))
    return [*out, "a technical name goes with the name"] if e.technical_name else out


def _road(e: Entry) -> list[str]:
    if e.road_status != "regulated":
        return ["road: " + ROAD_STATUS[e.road_status]]
    codes = {"transport category": e.transport_category, "tunnel code": e.tunnel_code, "hazard number": e.hazard_id}
    text = ", ".join(f"{what} {code}" for what, code in codes.items() if code)
    return [f"road: {text}"] if text else []


def _labels(e: Entry) -> list[str]:
    if not e.labels and e.model_labels:
        return [f"labels: none by ADR; {' + '.join(e.model_labels)} by the UN Model Regulations"]
    if not e.labels and e.us_labels:
        return ["labels: by the US table alone"]
    if e.us_source and set(e.us_labels) != set(e.labels):
        return [f"labels: {' + '.join(e.us_labels) or 'none'} by the US table"]
    return []


def _sea(e: Entry) -> list[str]:
    known = {"yes": "named in the US list of marine pollutants", "severe": "a severe marine pollutant by the US list"}
    return [f"sea: {known[e.marine_pollutant]}"] if e.marine_pollutant in known else []


def _us(e: Entry) -> list[str]:
    if not e.us_source:
        return ["US: not in the table"]
    differs = (e.us_packing_group or "") != (e.packing_group or "")
    return [f"US: {e.us_name}" + (f", packing group {e.us_packing_group or 'none'}" if differs else "")]


def _lines(numbers: tuple[int, ...], lines: Sequence[Entry]) -> str:
    """"line 2: ", "lines 1, 3: ", or nothing where it holds for all."""
    if len(numbers) == len(lines):
        return ""
    return f"line{'s' if len(numbers) > 1 else ''} {', '.join(map(str, numbers))}: "


def _paragraph(indent: str, text: str) -> list[str]:
    return wrap(
        text,
        WIDTH,
        initial_indent=indent,
        subsequent_indent=indent + "    ",
        break_long_words=False,
        break_on_hyphens=False,
    )


def _foot(found: Sequence[Entry]) -> list[str]:
    used = {code for e in found for code in (e.road_source, e.us_source) if code}
    sayings = [LEGEND]
    if "adr-2017" in used:
        sayings.append(f"Names, labels, limited and excepted quantities, road: {SOURCES['adr-2017']}.")
    if "us-2026" in used:
        sayings.append(
            f"Aircraft limits, US: {SOURCES['us-2026']}. Its aircraft limits are mostly, not always, those of the "
            "international air rules."
        )
    if "memory" in used:
        sayings.append("What is said to be from memory must be checked against the edition in force.")
    return [line for text in (*sayings, CAUTION) for line in _paragraph("", text)]
