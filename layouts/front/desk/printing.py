"""The clerk's downloads: sheets, papers, plan and record, as the command line makes them."""

from __future__ import annotations

import io
import json
import tempfile
import zipfile
from pathlib import Path

from layouts.choices import Choices
from layouts.errors import LayoutError
from layouts.front.desk.clerk import desk_of
from layouts.front.desk.consider import Considered
from layouts.front.desk.folder import Folder
from layouts.front.desk.prints import PRINTS, SHEETS
from layouts.front.desk.reply import Asked, Draw, Reply, download, plain
from layouts.job import plan_json
from layouts.output import make_sheets, stem_of, write_papers
from marks.terms import VerdictWord


def sheets(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """POST /sheets: one file of what the form says: ``print.what`` is one of PRINTS."""
    desk = desk_of(asked)
    considered = desk.considered()
    what = asked.one("print.what")
    planned = considered.planned
    if planned is None or not considered.whole:
        return plain("".join(f"{fault}\n" for fault in considered.faults) or f"{considered.trouble}\n", 422)
    stem = stem_of(planned.record.reference)
    if what == "plan":
        body = json.dumps(plan_json(planned), ensure_ascii=False, indent=1).encode()
        return download(body, f"{stem}-plan.json", "application/json")
    if what == "record":
        return download(desk.text.encode(), f"{stem}.yaml", "application/yaml")
    if what == "papers":
        with tempfile.TemporaryDirectory(prefix="sixface-desk-") as out:
            (made,) = write_papers(planned.decided, Path(out) / f"{stem}-papers.pdf", source=desk.name)
            return download(made.path.read_bytes(), made.path.name, "application/pdf")
    if what not in SHEETS:
        return plain(f"write one of {', '.join(what for what, _ in PRINTS)}\n", 400)
    how = desk.printing
    with tempfile.TemporaryDirectory(prefix="sixface-desk-") as out:
        try:
            sheets = make_sheets(
                planned,
                Path(out),
                source=desk.name,
                stock=how["stock_free"].strip() or how["stock"],
                formats=(SHEETS[what],),
                inks=how["inks"],
                choices=Choices(how["symbols"], how["excepted"], how["arrows"]),
                allow_refused=asked.one("print.allow_refused") == "yes",
            )  # fmt: skip
        except (LayoutError, ValueError) as error:
            return plain(f"{error}\n", 422)
        if what == "svg":
            return download(_zipped([one.path for one in sheets]), f"{stem}-svg.zip", "application/zip")
        wanted = Path(out) / f"{stem}-{what}.pdf"
        if not wanted.is_file():
            return plain(f"There is nothing to print as {what}: {_why_nothing(considered)}\n", 422)
        return download(wanted.read_bytes(), wanted.name, "application/pdf")


def _why_nothing(considered: Considered) -> str:
    assert considered.planned is not None
    if considered.planned.verdict is VerdictWord.REFUSE:
        return "the record is refused; its findings say why"
    return "the packages bear no such mark, or bear it already"


def _zipped(paths: list[Path]) -> bytes:
    """The files in one; without their times, so that the same record gives the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bundle:
        for path in sorted(paths):
            bundle.writestr(zipfile.ZipInfo(path.name, (1980, 1, 1, 0, 0, 0)), path.read_bytes(), zipfile.ZIP_DEFLATED)
    return out.getvalue()
