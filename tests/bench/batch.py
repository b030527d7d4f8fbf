"""Part 2, a batch of 1,000 records, PDF: the whole road, and the drawing alone, beside three other ways to make the pages."""

from __future__ import annotations

import re
import shutil
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from layouts.batch import Options, make_batch
from layouts.draw import to_pdf
from layouts.job import plan_file
from layouts.output import make_sheets
from tests.bench.records import EXAMPLES, MIXED, write_records
from tests.bench.rivals import Chromium, books_of, by_svglib, floor, strokes_of, svgs_of
from tests.bench.table import Part

CHROMIUM = next((path for name in ("chromium", "chromium-browser") if (path := shutil.which(name))), None)
_PDF = Options(formats=("pdf",))


def _seconds(work: Callable[[], Any]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def whole_road(folder: Path, out: Path, jobs: int = 1) -> tuple[float, int]:
    """Seconds and pages of a batch: read, decide, place, impose, draw, write."""
    began = time.perf_counter()
    outcomes = make_batch(folder, out, _PDF, jobs=jobs)
    took = time.perf_counter() - began
    if wrong := [one.said for one in outcomes if one.verdict != "ship"]:
        raise SystemExit(f"a record of the batch was not made: {wrong[0]}")
    shutil.rmtree(out)
    return took, sum(one.pages for one in outcomes)


def measure(scratch: Path, quick: bool) -> Part:
    rounds, many, some = (3, 18, 9) if quick else (5, 200, 27)
    part = Part(f"2 batch: {rounds * many:,} records in {rounds} rounds, PDF")
    write_records(scratch / "warm", len(MIXED), first=900_001)
    whole_road(scratch / "warm", scratch / "out")  # loads what is loaded once
    rate: dict[str, list[float]] = {}

    browser = Chromium(CHROMIUM) if CHROMIUM else None
    few = 4 if quick else 12
    for n in range(rounds):
        folder = write_records(scratch / f"batch-{n}", many, first=n * many + 1)
        took, pages = whole_road(folder, scratch / "out")
        rate.setdefault("sixface, whole road", []).append(pages / took)
        books = [book for file in sorted(folder.iterdir())[:some] for book in books_of(file) if book]

        sheets = sum(map(len, books))
        strokes = [strokes_of(book) for book in books]
        pairs: dict[str, Callable[[], Any]] = {
            "sixface, draw and write alone": lambda books=books: [
                to_pdf(book, scratch / f"alone-{n}.pdf", title="batch") for n, book in enumerate(books)
            ],
            "floor: reportlab by hand": lambda strokes=strokes: [
                (scratch / f"floor-{n}.pdf").write_bytes(floor(*one)) for n, one in enumerate(strokes)
            ],
        }
        for name, work in pairs.items():
            rate.setdefault(name, []).append(sheets / _seconds(work))
        pages_svg = [svg for book in books for svg in svgs_of(book)][:few]
        if browser:
            rate.setdefault("Chromium's print to PDF", []).append(few / _seconds(partial(browser.printed, pages_svg)))
        rate.setdefault("svglib with reportlab", []).append(few / _seconds(partial(by_svglib, pages_svg)))
    if browser:
        browser.close()
    for name, values in rate.items():
        part.row(name, "pages/s", values)
    ours, alone, by_hand = (
        rate["sixface, whole road"],
        rate["sixface, draw and write alone"],
        rate["floor: reportlab by hand"],
    )
    part.ratio("whole road against the floor", ours, by_hand, least=0.7)
    part.ratio("draw and write alone against the floor", alone, by_hand, least=0.7)
    for name in ("Chromium's print to PDF", "svglib with reportlab"):
        if name in rate:
            part.ratio(f"whole road against {name}", ours, rate[name], least=10)
        else:
            part.notes.append(f"{name}: not installed here, not measured.")
    part.row("one further page of labels or marks", "bytes", further_pages(scratch), most=1500)
    part.notes += [
        f"Floor and drawing alone: the pages of the first {some} records of every round ({sheets} pages), the strokes given.",
        f"Chromium (its start not counted) and svglib: {few} pages a round, they are slow.",
    ]
    return part


def further_pages(scratch: Path) -> list[float]:
    """What one page more of the same label or mark adds to a file, for five records."""
    found = []
    for name in MIXED[-5:]:
        text = (EXAMPLES / f"{name}.yaml").read_text("utf-8")
        sizes: list[dict[str, tuple[int, int]]] = []
        for count in (2, 42):
            with tempfile.TemporaryDirectory(dir=scratch) as place:
                file = Path(place) / "record.yaml"
                file.write_text(_counted(text, count), "utf-8")
                made = make_sheets(plan_file(file), Path(place) / "out", source="record.yaml", formats=("pdf",))
                sizes.append({one.path.name: (one.path.stat().st_size, one.pages) for one in made})
        few, many = sizes
        for file_name, (size, pages) in few.items():
            if "packing" not in file_name and many[file_name][1] > pages:
                more, further = many[file_name]
                found.append((more - size) / (further - pages))
    return found


def _counted(text: str, count: int) -> str:
    """The record with so many of its first package."""
    bare = re.sub(r"(?m)^    count: .*\n", "", text)
    return re.sub(r"(?m)^(  - package: .*\n)", rf"\g<1>    count: {count}\n", bare, count=1)
