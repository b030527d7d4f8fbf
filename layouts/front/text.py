"""Answers as plain text for a terminal: tables a clerk reads without a manual, in lines of fewer than 120 letters."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from textwrap import wrap
from typing import TYPE_CHECKING

from layouts.job import faces_of
from layouts.placement import Placement
from layouts.planned import Planned
from marks.outside import BoxSize
from marks.quantity import show
from marks.requirement import Finding, PackageDecision, Requirement
from marks.tables import editions
from marks.terms import Level, Mode, VerdictWord

if TYPE_CHECKING:
    from layouts.batch import Outcome
    from layouts.output import Made
    from layouts.shelf import Shelf
    from marks.record import Overpack, Package

WIDTH = 118
VERDICTS = {VerdictWord.SHIP: "MAY GO", VerdictWord.REFUSE: "MAY NOT GO", VerdictWord.NOT_SUBJECT: "NOT SUBJECT"}
CAUTION = (
    "sixface decides by the rules and editions named here, from what the record says. The regulations in force and the "
    "shipper's trained and authorised person decide."
)


def plan_text(planned: Planned, source: str, explain: bool = False) -> str:
    """The plan as text: per package a table of marks by mode, then waivers, findings, document lines, cautions."""
    record = planned.record
    lines = [
        f"{record.reference}   offered {record.date}   {', '.join(record.modes)}",
        f"read: {source} (sha256 {planned.digest[:16]})",
        "",
    ]
    if explain:
        count = sum(package.count for package in record.packages)
        lines[1:1] = [
            f"1 read      {len(record.packages)} kind(s) of package, {count} in all; every quantity exact, every key known"
        ]
    for package, (decision, placement) in zip(record.packages, planned.pairs(), strict=True):
        lines += _answers(_package_head(package), planned, decision, placement, explain)
    for overpack, (decision, placement) in zip(record.overpacks, planned.overpack_pairs(), strict=True):
        lines += _answers(_overpack_head(overpack), planned, decision, placement, explain)
    lines += held_text(planned.decided.editions)
    return "\n".join(lines)


def held_text(held: Mapping[Mode, str]) -> list[str]:
    """The editions by mode, and the caution, as lines."""
    lines = ["editions held:"]
    for mode, name in held.items():
        lines += _wrapped(f"{mode}: ", name, "  ")
    return [*lines, *wrap(CAUTION, WIDTH)]


def _package_head(package: Package) -> str:
    size = package.size
    assert size is not None  # the record is refused otherwise
    shape = (
        f"{show(size.length)} x {show(size.width)} x {show(size.height)}"
        if isinstance(size, BoxSize)
        else f"{show(size.diameter)} across, {show(size.height)} high"
    )
    return f"PACKAGE {package.package}   {package.count} x {package.packaging}   {shape}   {show(package.gross_mass)} gross"


def _overpack_head(overpack: Overpack) -> str:
    size = overpack.size
    shape = f"{show(size.length)} x {show(size.width)} x {show(size.height)}" if size else "no size"
    visible = "   its marks can be read from outside" if overpack.marks_visible else ""
    return f"OVERPACK {overpack.overpack}   of {', '.join(overpack.packages)}   {shape}{visible}"


def _answers(
    head: str, planned: Planned, decision: PackageDecision, placement: Placement, explain: bool
) -> Iterator[str]:
    yield head
    yield (
        "   ".join(f"{mode}: {VERDICTS[one.verdict]}" for mode, one in decision.modes.items())
        + f"   journey: {VERDICTS[planned.verdict_of(decision, placement)]}"
    )
    yield ""
    if explain:
        yield "2 decide    the entry of each line of goods, then rule by rule, then the union over the legs"
    yield from _marks(decision, placement)
    findings = list(
        dict.fromkeys(one for mode in decision.modes.values() for one in mode.findings if one.level is not Level.NOTE)
    )
    shown = [
        *((_modes_saying(one, decision), one) for one in findings),
        *(("journey", one) for one in placement.findings),
    ]
    for where, finding in sorted(shown, key=lambda pair: list(Level).index(pair[1].level)):
        yield from finding_text(finding, where)
    if shown:
        yield ""
    yield from _waived(decision, explain)
    if explain:
        yield from _placed(placement)
    yield "on the transport document:"
    for mode, one in decision.modes.items():
        for line in one.descriptions or (
            (VERDICTS[one.verdict].lower(),) if one.verdict is VerdictWord.NOT_SUBJECT else ()
        ):
            yield from _wrapped(f"{mode}: ", line, "  ")
    notes = list(
        dict.fromkeys(one for mode in decision.modes.values() for one in mode.findings if one.level is Level.NOTE)
    )
    for finding in notes:
        yield from finding_text(finding, _modes_saying(finding, decision))
    yield ""


def _placed(placement: Placement) -> Iterator[str]:
    """Step 3: what was tried and why it was not enough, what was taken, why each mark stands where it does."""
    yield "3 place     what was tried, one after the other; why each mark stands where it does"
    for why_not, found in groupby(placement.steps, key=lambda step: step.why_not):
        steps = list(found)
        cites = list(dict.fromkeys(one for step in steps for one in step.cite))
        cite = f" [{', '.join(cites)}]" if cites else ""
        yield from _wrapped("  -  ", f"{'; '.join(step.name for step in steps)}{cite}: {why_not or 'taken'}", "")
    for item in placement.items:
        where = f"{item.x:.0f} mm from the left, {item.y:.0f} mm from below"
        yield from _wrapped(f"{item.number:>3}  ", f"{_name(item.requirement)}: {item.why_here} ({where})", "  ")
    if numbered := [f"{face} {face.iso2206}" for face in placement.solid.faces if face.iso2206]:
        yield from _wrapped("     ", f"faces as ISO 2206 numbers them: {', '.join(numbered)}", "")
    if placement.carrier is not None:
        yield from _wrapped("     ", f"{placement.carrier.name}: {placement.carrier.face}", "")
    yield ""


def _modes_saying(finding: Finding, decision: PackageDecision) -> str:
    return ", ".join(mode for mode, one in decision.modes.items() if finding in one.findings)


def _marks(decision: PackageDecision, placement: Placement) -> Iterator[str]:
    modes = list(decision.modes)
    if not decision.marks:
        yield "no mark or label is asked for"
        yield ""
        return
    rows = [("mark or label", *modes, "least size", "faces")]
    for one in decision.marks:
        rows.append(
            (
                _name(one) + (" (preprinted)" if one.preprinted else ""),
                *("yes" if mode in one.modes else "-" for mode in modes),
                _size(one),
                ", ".join(faces_of(one, placement)) or "no place",
            )
        )
    yield from table(rows)
    yield ""
    yield "why:"
    yield from table([(_name(one), f"{one.why}; {', '.join(one.cite)}") for one in decision.marks], head=False)
    yield ""


def _name(one: Requirement) -> str:
    words = f' "{one.words[0]}"' if one.words and one.mark not in ("shipper", "consignee") else ""
    return f"{one.mark} {one.variant}" if one.variant else f"{one.mark}{words}"


def _size(one: Requirement) -> str:
    if one.size_mm:
        return f"{one.size_mm[0]:.0f} x {one.size_mm[1]:.0f} mm"
    return f"letters {one.min_text_mm:g} mm" if one.min_text_mm else "legible"


def _waived(decision: PackageDecision, explain: bool) -> Iterator[str]:
    rows: dict[tuple[str, str | None, str], tuple[list[str], tuple[str, ...]]] = {}
    for mode, one in decision.modes.items():
        for waived in one.waived:
            key = (waived.mark, waived.variant, waived.why)
            modes, cite = rows.setdefault(key, ([], ()))
            modes.append(mode)
            rows[key] = modes, tuple(dict.fromkeys((*cite, *waived.cite)))
    if not rows:
        return
    yield "not asked for:"
    yield from table(
        [
            (f"{mark} {variant or ''}".strip(), ", ".join(modes), f"{why}" + (f"; {', '.join(cite)}" if cite else ""))
            for (mark, variant, why), (modes, cite) in rows.items()
        ],
        head=False,
    )
    yield ""


def finding_text(finding: Finding, where: str) -> Iterator[str]:
    """How grave, where, what, and the paragraphs, as lines."""
    head = {Level.REFUSE: "REFUSED", Level.CAUTION: "caution", Level.NOTE: "note"}[finding.level]
    cite = f" [{', '.join(finding.cite)}]" if finding.cite else ""
    yield from _wrapped(f"{head}{f' ({where})' if where else ''}: ", finding.text + cite, "")


def _wrapped(head: str, text: str, indent: str) -> list[str]:
    return wrap(text, WIDTH, initial_indent=indent + head, subsequent_indent=indent + " " * min(len(head), 20)) or [
        indent + head
    ]


def table(rows: Sequence[Sequence[str]], head: bool = True) -> list[str]:
    """Columns two spaces apart; the last one wraps in what room is left; a rule under the head."""
    columns = len(rows[0])
    widths = [min(max(1, *(len(row[i]) for row in rows)), 40) for i in range(columns - 1)]
    room = max(WIDTH - sum(widths) - 2 * (columns - 1), 30)
    lines: list[str] = []
    for number, row in enumerate(rows):
        cells = [wrap(row[i], widths[i]) or [""] for i in range(columns - 1)] + [wrap(row[-1], room) or [""]]
        for k in range(max(len(cell) for cell in cells)):
            parts = [
                (cell[k] if k < len(cell) else "").ljust(width) for cell, width in zip(cells, [*widths, 0], strict=True)
            ]
            lines.append("  ".join(parts).rstrip())
        if head and number == 0:
            lines.append("  ".join("-" * width for width in [*widths, min(room, 14)]))
    return lines


# --- sheets -------------------------------------------------------------------------------------------------------------


def sheets_text(planned: Planned, made: Sequence[Made], source: str, shelf: Shelf | None = None) -> str:
    """What was written, how many pages each, how the stock is used, what is taken from the shelf, and every refusal."""
    lines = [f"{planned.record.reference}   read: {source} (sha256 {planned.digest[:16]})"]
    lines += written_text(made)
    uses = [use for one in made for use in one.uses]
    lines += [f"stock: {stock}" for stock in dict.fromkeys(use.stock for use in uses)]
    lines += [line for use in uses for line in use.told]
    if shelf is not None and shelf.names:
        from layouts.shelf import picked

        lines += picked(planned, shelf).told
    for decision, placement in (*planned.pairs(), *planned.overpack_pairs()):
        refused = [one for mode in decision.modes.values() for one in mode.findings if one.level is Level.REFUSE]
        for one in dict.fromkeys(refused):
            lines += finding_text(one, f"package {decision.package}, {_modes_saying(one, decision)}")
        for one in placement.findings:
            if one.level is not Level.NOTE:
                lines += finding_text(one, f"package {decision.package}")
    return "\n".join([*lines, *held_text(planned.decided.editions)])


def batch_text(outcomes: Sequence[Outcome], source: str, out: str) -> list[str]:
    """The summary of a batch: one row a record, then the sums."""
    rows = [("record", "reference", "verdict", "pages", "files", "not cleared for")]
    rows += [
        (
            one.name,
            one.reference or "-",
            one.verdict + (", unchanged" if one.unchanged else ""),
            str(one.pages or "-"),
            str(len(one.files) or "-"),
            one.said if one.verdict != "faulty" else "",
        )
        for one in outcomes
    ]
    verdicts = [one.verdict for one in outcomes]
    counts = ", ".join(f"{verdicts.count(word)} {word}" for word in dict.fromkeys(verdicts))
    return [
        f"read: {source}; written to: {out}",
        "",
        *table(rows),
        "",
        f"{len(outcomes)} records: {counts}; {sum(one.pages for one in outcomes)} pages",
        *held_text({mode: one.name for mode, one in editions().items()}),
    ]


def written_text(made: Iterable[Made]) -> list[str]:
    """One line a file."""
    return [f"written: {one.path} ({one.pages} page{'s' if one.pages != 1 else ''})" for one in made]
