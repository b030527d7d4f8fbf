"""``python -m tests.bench``: measure, print one table, write it to a file.

    python -m tests.bench                       all parts, about ten minutes
    python -m tests.bench --quick               fewer rounds and smaller batches, to see that it runs
    python -m tests.bench cold batch            some parts alone
    python -m tests.bench -o figures.txt        where the table is written

Needs the extra ``bench``. Chromium is looked for on the path; without it that rival is said to be missing.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from tests.bench.records import ROOT
from tests.bench.table import Part, machine, table

OUT = ROOT / "out" / "bench.txt"


def _parts() -> dict[str, Callable[[Path, bool], Part]]:
    from tests.bench import batch, cold, growth, placing

    return {
        "cold": cold.measure,
        "batch": batch.measure,
        "growth": growth.measure,
        "two": growth.measure_two,
        "placing": placing.measure,
        "desk": _desk,
    }


def _desk(scratch: Path, quick: bool) -> Part:
    from tests.desk.speed import measure

    return measure(scratch, quick)


def main() -> None:
    parts = _parts()
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description="Measure, print one table, write it.")
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"of {', '.join(parts)} (default: all)")
    parser.add_argument("--quick", action="store_true", help="fewer rounds, smaller batches: figures for nobody")
    parser.add_argument("-o", "--out", type=Path, default=OUT, metavar="FILE", help=f"(default: {OUT})")
    arguments = parser.parse_args()
    if unknown := sorted(set(arguments.parts) - set(parts)):
        parser.error(f"no such part: {', '.join(unknown)}; there are {', '.join(parts)}")
    head = f"{datetime.now():%Y-%m-%d %H:%M}, {machine()}{', quick' if arguments.quick else ''}"
    measured = []
    for name in arguments.parts or parts:
        print(f"measuring: {name}", file=sys.stderr)
        with tempfile.TemporaryDirectory() as scratch:
            measured.append(parts[name](Path(scratch), arguments.quick))
    made = f"{head}\n\n{table(measured)}\n"
    print(made, end="")
    arguments.out.parent.mkdir(parents=True, exist_ok=True)
    arguments.out.write_text(made, "utf-8")
    print(f"written: {arguments.out}", file=sys.stderr)


if __name__ == "__main__":
    main()
