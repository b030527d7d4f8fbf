"""The modes side by side as text."""

from __future__ import annotations

from collections.abc import Iterator

from layouts.front.text import VERDICTS, finding_text, held_text, table
from marks.compare import Comparison, PackageComparison, Row, ladder_lines
from marks.requirement import Finding, ModeDecision
from marks.terms import Level


def comparison_text(comparison: Comparison, source: str) -> str:
    """Mark by mode, differences marked with a star, then each material's ladder of quantities."""
    record = comparison.decided.record
    lines = [f"{record.reference}   the same packages under every mode held", f"read: {source}", ""]
    for one in comparison.packages:
        lines += _compared(one)
    return "\n".join([*lines, *held_text(comparison.decided.editions)])


def _compared(one: PackageComparison) -> Iterator[str]:
    modes = list(one.decision.modes)
    yield f"PACKAGE {one.decision.package}   " + "   ".join(f"{mode}: {VERDICTS[one.verdicts[mode]]}" for mode in modes)
    yield ""
    rows = [("", "mark or label", *modes, "why")]
    for row in one.rows:
        answers = [
            "yes" if mode in row.cells and row.cells[mode].asked else "no" if mode in row.cells else ""
            for mode in modes
        ]
        why = "  ".join(_reasons(row))
        words = (
            f' "{row.words[0]}"' if row.words and not row.variant and row.mark not in ("shipper", "consignee") else ""
        )
        rows.append(("*" if row.differs else "", f"{row.mark} {row.variant or ''}".strip() + words, *answers, why))
    yield from table(rows)
    yield "* the modes differ"
    yield ""
    for mode, decision in one.decision.modes.items():
        for finding in _grave(decision):
            yield from finding_text(finding, mode)
    for ladder in one.ladders:
        yield from ladder_lines(ladder)
        yield ""


def _reasons(row: Row) -> Iterator[str]:
    """Each reason once, with the modes that give it and their paragraphs."""
    found: dict[str, tuple[list[str], list[str]]] = {}
    for mode, cell in row.cells.items():
        modes, cite = found.setdefault(cell.why, ([], []))
        modes.append(mode)
        cite += [one for one in cell.cite if one not in cite]
    for text, (modes, cite) in found.items():
        cited = f" [{', '.join(cite)}]" if cite else ""
        yield f"{', '.join(modes)}: {text}{cited}."


def _grave(decision: ModeDecision) -> list[Finding]:
    return [one for one in decision.findings if one.level is not Level.NOTE]
