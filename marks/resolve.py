"""Step 2's first half: each line of goods is tied to one entry of the list; what the list leaves open is asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from msgspec.structs import replace

from marks.case import Content
from marks.errors import EntryOpen, Fault, RecordError, UnknownEntry
from marks.goods.lookup import choose
from marks.record import Goods, Record
from marks.tables import editions
from marks.terms import Mode


def resolve(record: Record, modes: tuple[Mode, ...]) -> tuple[tuple[Content, ...], ...]:
    """The contents of every package, each with its entry.

    Raises RecordError with every fault at once: an unknown number, an open entry (with its choices), a date outside the
    editions held. The faults name paths; marks.reading.with_lines adds file and lines.
    """
    faults = list(_dates(record.date, modes))
    packages = []
    for i, package in enumerate(record.packages, 1):
        contents = []
        for j, goods in enumerate(package.goods, 1):
            path = f"packages[{i}].goods[{j}]"
            try:
                contents.append(Content(j - 1, goods, choose(goods.un, goods.name, goods.packing_group, goods.line)))
            except EntryOpen as error:
                faults.append(_open(path, goods, error))
            except UnknownEntry as error:
                faults.append(
                    Fault(
                        "record",
                        0,
                        f"{path}.un",
                        f'"{goods.un}"',
                        str(error),
                        "write a number of the list; sixface goods NUMBER_OR_NAME finds it",
                    )
                )
        packages.append(tuple(contents))
    if faults:
        raise RecordError(faults)
    return tuple(packages)


def _dates(on: date, modes: tuple[Mode, ...]) -> Iterator[Fault]:
    for mode in modes:
        held = editions().get(mode)
        if held and not held.first <= on <= held.last:
            yield Fault(
                "record",
                0,
                "date",
                f"{on}",
                f"no edition for {mode} is held for that day ({held.name})",
                f"write a day from {held.first} to {held.last}, or take {mode} out of modes",
            )


def _open(path: str, goods: Goods, error: EntryOpen) -> Fault:
    said = [
        f'{key} "{value}"'
        for key, value in (("name", goods.name), ("packing_group", goods.packing_group), ("line", goods.line))
        if value
    ]
    read = f'un "{goods.un}"' + (f" with {', '.join(said)}" if said else "")
    return Fault("record", 0, path, read, "the list has several entries for that", str(error))


def with_lines(error: RecordError, data: str | bytes, name: str, notation: str) -> RecordError:
    """The same faults with the file's name and the lines of the record's text, found again by their paths."""
    from marks.source import parse

    root, _ = parse(data, notation)

    def line_of(path: str) -> int:
        node, line = root, getattr(root, "line", 0)
        for step in re.findall(r"[^.\[\]]+", path):
            inside = getattr(node, "value", None)
            if isinstance(inside, list) and step.isdigit() and int(step) <= len(inside):
                node = inside[int(step) - 1]
            elif isinstance(inside, dict) and step in inside:
                node = inside[step]
            else:
                break
            line = node.key_line or node.line
        return line

    return RecordError(replace(fault, file=name, line=fault.line or line_of(fault.path)) for fault in error.faults)
