"""Part 5: deciding and placing alone, for each package by the number of its marks."""

from __future__ import annotations

import re
import time
from pathlib import Path

from layouts.place import place_package
from marks.decide import decide
from marks.reading import read_text
from tests.bench.records import EXAMPLES
from tests.bench.table import Part


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
    return part
