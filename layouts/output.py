"""Steps 4 to 6 of a job: what was placed becomes sheets, sheets become files, and the files appear whole or not at all.

Files of a record, named by its reference: ``REF-labels`` (coloured labels), ``REF-marks`` (black-only marks), ``REF-packing``
(pick list, face placement diagrams, checklists); each as PDF, and as one SVG a page. What an earlier run left under those
names is taken away first, so that no old label lies among the new ones.
"""

from __future__ import annotations

import re
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from layouts.cell import Item
from layouts.choices import USUAL, Choices, in_colours
from layouts.draw import Draft, Drawing, one_by_one, to_pdf, to_svg
from layouts.errors import StockError
from layouts.files import write_whole
from layouts.furniture import Heading, Page
from layouts.packing import packing_sheets, particulars_of
from layouts.place import place_package
from layouts.placement import Placement
from layouts.sheet import Sheet, impose, numbered
from layouts.shelf import NOTHING, Shelf, pick_sheets, picked
from layouts.stock import Stock, read_stock
from layouts.usage import Use, usage
from marks.reading import digest
from marks.requirement import PackageDecision
from marks.terms import Level, Mode

if TYPE_CHECKING:
    from layouts.planned import Planned
    from marks.compare import Comparison
    from marks.decide import Decided
    from marks.record import Record

Progress = Callable[[int, int, str], None]
#: How the folders begin in which files are made before they go out: those of one record, and of a batch.
PART, PART_OF_BATCH = ".sixface-part-", ".sixface-batch-"


class Made(Struct, frozen=True):
    """A file that was written, how many pages it has, and (of labels and marks, once) how they use their stock."""

    path: Path
    pages: int
    uses: tuple[Use, ...] = ()


def stem_of(reference: str) -> str:
    """The reference as the beginning of a file name: letters, figures, point, dash; all else an underscore."""
    return re.sub(r"[^\w.-]", "_", reference, flags=re.ASCII).strip(".") or "record"


def heading_of(planned: Planned, source: str) -> Heading:
    """What every sheet of the record says: what was read, the editions, the record's own cautions."""
    held = _held(planned.decided.editions)
    read = f"{Path(source).name}, sha256 {planned.digest[:16]}"
    return Heading(planned.record.reference, held, _cautions(planned), read=read)


def _held(editions: Mapping[Mode, str]) -> tuple[str, ...]:
    return tuple(f"{mode}: {name}" for mode, name in editions.items())


def _cautions(planned: Planned) -> tuple[str, ...]:
    """How many cautions there are, and where they stand in full: a sheet has no room for each."""
    count = len(
        {
            one.text
            for package in (*planned.decided.packages, *planned.decided.overpacks)
            for mode in package.modes.values()
            for one in mode.findings
            if one.level is Level.CAUTION
        }
    )
    return (f"{count} caution{'s' if count > 1 else ''} for this record: see the checklist.",) if count else ()


def items_of(package: PackageDecision, placement: Placement, what: str = "package") -> Iterator[Item]:
    """What is printed for one package or overpack: every placed mark the packaging does not bear already."""
    for one in placement.items:
        if not one.there:
            wanted = one.requirement
            name = f"{wanted.mark} {wanted.variant}" if wanted.variant else wanted.mark
            yield Item(
                one.artwork,
                package.package,
                package.count,
                one.face.value,
                name,
                tuple(wanted.modes),
                wanted.cite,
                what,
            )


def sheets_of(
    planned: Planned, stock: Stock, heading: Heading, allow_refused: bool, shelf: Shelf = NOTHING
) -> tuple[Sheet, ...]:
    """The label and mark sheets, without what is taken from the shelf. A refused package has none, unless they are asked
    for: then each says NOT CLEARED FOR."""
    items: list[Item] = []
    not_cleared: dict[str, str] = {}
    kinds = (("package", planned.pairs()), ("overpack", planned.overpack_pairs()))
    for what, package, placement in ((what, *pair) for what, pairs in kinds for pair in pairs):
        refused = planned.refused_modes(package, placement)
        if refused and not allow_refused:
            continue
        if refused:
            not_cleared[package.package] = ", ".join(refused)
        items += (item for item in items_of(package, placement, what) if refused or not shelf.has(item))
    return impose(items, stock, heading, not_cleared=not_cleared) if items else ()


def make_sheets(
    planned: Planned,
    out: Path,
    *,
    source: str,
    stock: str | Stock = "A4",
    formats: Sequence[str] = ("pdf", "svg"),
    inks: str = "rgb",
    text: str = "outlines",
    choices: Choices = USUAL,
    allow_refused: bool = False,
    shelf: Shelf = NOTHING,
    progress: Progress | None = None,
    prefix: str | None = None,
    drawing: Drawing = one_by_one,
) -> tuple[Made, ...]:
    """Make all files of a record in ``out``. formats: pdf, svg. inks: of the PDF. text: of the SVG, ``outlines`` or
    ``live``. choices: of the colours the law leaves. shelf: labels that are not printed but picked. progress: called with
    (done, of, what). prefix: ``out`` is a folder that nobody looks into before all is made, and there the names begin so until
    they are settled. drawing: what draws the files.

    Raises StockError, StockTooSmall, OSError; then no file has been written and no older file touched.
    """
    paper = read_stock(stock) if isinstance(stock, str) else stock
    planned = in_colours(planned, choices)
    heading = heading_of(planned, source)
    stem, reference = stem_of(planned.record.reference), planned.record.reference
    drafts: list[Draft] = []
    uses: dict[str, tuple[Use, ...]] = {}
    made: list[Made] = []
    done = 0

    def laid_out() -> Iterator[Draft]:
        for name, sheets in _stacks(planned, paper, heading, allow_refused, shelf):
            found = list(_drafts(f"{stem}-{name}", sheets, formats, f"{reference}: {name}", inks, text))
            if found and name != "packing":
                uses[found[0].name] = usage(sheets, paper)
            drafts.extend(found)
            yield from found

    def told() -> None:
        nonlocal done
        done += 1
        if progress:
            progress(done, todo, drafts[len(made)].name)

    contents = drawing(laid_out(), told)  # all is laid out before anything is written
    todo = sum(len(one.sheets) for one in drafts)

    def write(into: Path) -> None:
        for draft, content in zip(drafts, contents, strict=True):
            (into / f"{prefix or ''}{draft.name}").write_bytes(content)
            made.append(Made(out / draft.name, len(draft.sheets), uses.get(draft.name, ())))

    if prefix is not None:
        write(out)
        return tuple(made)
    out.mkdir(parents=True, exist_ok=True)
    sweep(out)
    part = Path(tempfile.mkdtemp(prefix=PART, dir=out))
    try:
        write(part)
        settle(part, out, [one.path.name for one in made], of_earlier_runs(out).get(stem, ()))
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return tuple(made)


def _stacks(
    planned: Planned, paper: Stock, heading: Heading, allow_refused: bool, shelf: Shelf
) -> Iterator[tuple[str, Sequence[Sheet]]]:
    """The sheets by what they are, each stack when it is laid out."""
    printed = sheets_of(planned, paper, heading, allow_refused, shelf)
    yield "labels", [sheet for sheet in printed if sheet.colour]
    yield "marks", [sheet for sheet in printed if not sheet.colour]
    packing = packing_sheets(planned, heading, paper, allow_refused)
    yield "packing", numbered([*pick_sheets(picked(planned, shelf), heading), *packing]) if shelf.names else packing


def _drafts(
    stem: str, sheets: Sequence[Sheet], formats: Sequence[str], title: str, inks: str, text: str
) -> Iterator[Draft]:
    if "pdf" in formats and sheets:
        yield Draft(f"{stem}.pdf", tuple(sheets), title=title, inks=inks)
    if "svg" in formats:
        yield from (Draft(f"{stem}-{n:02}.svg", (sheet,), text=text) for n, sheet in enumerate(sheets, 1))


_OURS = re.compile(r"(.+)-(labels|marks|packing)(-\d+)?\.(pdf|svg)")


def sweep(out: Path) -> None:
    """Take away what earlier runs, of one record or a batch, left in the folder when they were ended in the middle."""
    for begins in (PART, PART_OF_BATCH):
        for left in out.glob(f"{begins}*"):
            shutil.rmtree(left, ignore_errors=True)


def of_earlier_runs(out: Path) -> dict[str, list[str]]:
    """The names of all sheets that lie in a folder, by the stem they begin with."""
    found: dict[str, list[str]] = {}
    for one in out.iterdir():
        if ours := _OURS.fullmatch(one.name):
            found.setdefault(ours[1], []).append(one.name)
    return found


def settle(part: Path, out: Path, names: Sequence[str], left: Sequence[str], prefix: str = "") -> None:
    """What an earlier run ``left`` under this reference goes out, the files ``names`` come in from ``part``, where they
    begin with ``prefix``, each in one step."""
    for name in left:
        if name not in names:
            (out / name).unlink(missing_ok=True)
    for name in names:
        (part / f"{prefix}{name}").replace(out / name)


def write_comparison(comparison: Comparison, target: Path, *, source: str) -> tuple[Made, ...]:
    """The comparison's pages: one PDF, or one SVG a page (``NAME-01.svg``, ...). Raises StockError for another ending."""
    title = f"{comparison.decided.record.reference}: comparison of modes"
    return _write_pages(lambda: _comparison_sheets(comparison, source), target, title)


def write_papers(decided: Decided, target: Path, *, source: str) -> tuple[Made, ...]:
    """What the transport documents must carry, in the same way."""
    from layouts.papers import papers_sheets
    from marks.papers import papers

    page = _page_of(decided.record, decided.editions, source)
    title = f"{decided.record.reference}: transport documents"
    return _write_pages(lambda: papers_sheets(papers(decided), page), target, title)


def _write_pages(make: Callable[[], Sequence[Sheet]], target: Path, title: str) -> tuple[Made, ...]:
    ending = target.suffix.lower()
    if ending not in (".pdf", ".svg"):
        raise StockError(f"{target}: the pages are written as PDF or SVG; write a name that ends in .pdf or .svg")
    sheets = make()
    target.parent.mkdir(parents=True, exist_ok=True)
    if ending == ".pdf":
        to_pdf(sheets, target, title=title)
        return (Made(target, len(sheets)),)
    names = (
        [target]
        if len(sheets) == 1
        else [target.with_name(f"{target.stem}-{n:02}.svg") for n in range(1, len(sheets) + 1)]
    )
    pages = [to_svg(sheet) for sheet in sheets]
    for path, page in zip(names, pages, strict=True):
        write_whole(path, page)
    return tuple(Made(path, 1) for path in names)


def _page_of(record: Record, editions: Mapping[Mode, str], source: str) -> Page:
    """An empty A4 page that says what was read and what is held."""
    read = f"{Path(source).name}, sha256 {digest(record)[:16]}"
    return Page(210.0, 297.0, 6.0, Heading(record.reference, _held(editions), read=read))


def _comparison_sheets(comparison: Comparison, source: str) -> tuple[Sheet, ...]:
    from layouts.comparison import comparison_sheets

    record, digest_ = comparison.decided.record, digest(comparison.decided.record)
    held = _held(comparison.decided.editions)
    page = _page_of(record, comparison.decided.editions, source)
    found: list[Sheet] = []
    for package, one in zip(record.packages, comparison.packages, strict=True):
        modes = tuple(one.decision.modes)
        placement = place_package(package, one.decision.marks, modes)
        found += comparison_sheets(one, placement, particulars_of(record, package, digest_, modes, held), page)
    return numbered(found)
