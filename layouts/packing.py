"""The packer's sheets: each package's and overpack's face placement diagram and checklist, numbered as one stack."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec.structs import replace

from layouts.checklist import checklist_sheets
from layouts.diagram import diagram_sheets
from layouts.furniture import Heading, Page
from layouts.particulars import Particulars
from layouts.placement import NOWHERE, Placement
from layouts.sheet import Sheet, numbered
from layouts.stock import Stock, read_stock
from marks.packer import Step, overpack_steps, packing_steps
from marks.requirement import Finding, PackageDecision
from marks.terms import Level, Mode

if TYPE_CHECKING:
    from layouts.planned import Planned
    from marks.record import Package, Record

#: The packer's pages are read, not stuck on: what is smaller than this, mm, is printed on A4 instead.
_LEAST = (200.0, 270.0)


def packing_sheets(planned: Planned, heading: Heading, stock: Stock, allow_refused: bool = False) -> tuple[Sheet, ...]:
    """All of them. heading: what every sheet of the record says; a refused package's pages also say what it is not
    cleared for. stock: the paper; one too small to be read is exchanged for A4."""
    small = min(stock.width, stock.height) < _LEAST[0] or max(stock.width, stock.height) < _LEAST[1]
    paper = read_stock("A4") if small else stock
    sheets: list[Sheet] = []
    held = heading.editions
    for package, (decision, placement) in zip(planned.record.packages, planned.pairs(), strict=True):
        about = particulars_of(planned.record, package, planned.digest, tuple(decision.modes), held)
        arrows = any(one.mark == "orientation-arrows" for one in decision.marks)
        steps = packing_steps(package, planned.record.date, tuple(decision.modes), arrows)
        sheets += _of_one(planned, about, steps, decision, placement, heading, paper, allow_refused)
    for overpack, (decision, placement) in zip(planned.record.overpacks, planned.overpack_pairs(), strict=True):
        if placement is NOWHERE:
            continue
        about = Particulars(
            planned.record.reference, overpack.overpack, 1, planned.digest, tuple(decision.modes), "overpack", "", held,
            "overpack",
        )  # fmt: skip
        sheets += _of_one(planned, about, overpack_steps(overpack), decision, placement, heading, paper, allow_refused)
    return numbered(sheets)


def particulars_of(
    record: Record, package: Package, digest: str, modes: tuple[Mode, ...], held: tuple[str, ...]
) -> Particulars:
    """What the head of a package's pages says. digest: of the record; held: the editions, one text each."""
    kind = (
        package.kind.text if package.packaging in ("none", "cylinder") else f"{package.packaging} {package.kind.text}"
    )
    return Particulars(
        record.reference, package.package, package.count, digest, modes, kind, package.spec_mark or "", held
    )


def _of_one(
    planned: Planned,
    about: Particulars,
    steps: tuple[Step, ...],
    decision: PackageDecision,
    placement: Placement,
    heading: Heading,
    paper: Stock,
    allow_refused: bool,
) -> Iterator[Sheet]:
    refused = planned.refused_modes(decision, placement)
    head = replace(heading, not_cleared=", ".join(refused) or None)
    width, height = min(paper.width, paper.height), max(paper.width, paper.height)
    page = Page(width, height, paper.margin, head)
    graver = _findings(decision)
    refusals = tuple(one for one in graver if one.level is Level.REFUSE)
    yield from diagram_sheets(replace(placement, findings=(*refusals, *placement.findings)), about, page)
    yield from checklist_sheets(placement, about, page, steps, graver, allow_refused)


def _findings(decision: PackageDecision) -> tuple[Finding, ...]:
    """What the rules found, gravest first, each with the modes that say it."""
    said: dict[tuple[Level, str, str], tuple[Finding, list[Mode]]] = {}
    for mode, one in decision.modes.items():
        for finding in one.findings:
            if finding.level is not Level.NOTE:
                said.setdefault((finding.level, finding.code, finding.text), (finding, []))[1].append(mode)
    found = [replace(finding, text=f"{', '.join(modes)}: {finding.text}") for finding, modes in said.values()]
    return tuple(sorted(found, key=lambda one: list(Level).index(one.level)))
