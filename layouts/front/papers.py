"""The papers of a shipment as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING

from layouts.front.text import WIDTH, table

if TYPE_CHECKING:
    from marks.papers import Paper


def papers_text(papers: Sequence[Paper]) -> list[str]:
    """Mode by mode: the lines of the goods, what else the document carries, what the record lacks."""
    return [line for paper in papers for line in _paper(paper)]


def _paper(paper: Paper) -> Iterator[str]:
    yield f"{paper.mode.upper()}"
    for words in paper.refused:
        yield from _told("REFUSED: ", words)
    if paper.lines:
        rows = [("package", "number and kind", "net quantity", "description")]
        for line in paper.lines:
            rows.append((line.package, line.pieces, line.quantity, "; ".join((line.description, *line.more))))
        yield from table(rows)
        for total in paper.totals:
            yield from _told("in all: ", total)
    if paper.asked:
        yield ""
        asked = [(one.label, one.cite, one.value or "to be written by hand") for one in paper.asked]
        yield from table([("it also carries", "by", ""), *asked])
    for words in paper.said:
        yield from _told("", words)
    for words in paper.open:
        yield from _told("not in the record: ", words)
    if not (paper.lines or paper.said or paper.refused):
        yield "nothing to carry"
    yield ""


def _told(head: str, words: str) -> list[str]:
    return wrap(words, WIDTH, initial_indent=head, subsequent_indent=" " * len(head))
