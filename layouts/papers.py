"""The papers page of a shipment: what each mode's transport document must carry, one section a mode, in plain order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace

from layouts.furniture import Page
from layouts.geometry import Box
from layouts.ink import grey
from layouts.listing import BODY, SMALL, Block, Column, draw_blocks, head, heading, paged, row, space, text
from layouts.pen import Pen
from layouts.sheet import Sheet, drawn, numbered

if TYPE_CHECKING:
    from marks.papers import Paper

_NAMES = {"road": "Road", "sea": "Sea", "air": "Air", "us-ground": "US highway"}
_WRITTEN = "to be written by hand"


def papers_sheets(papers: Sequence[Paper], page: Page) -> tuple[Sheet, ...]:
    """The pages. page: an empty one of the record, its heading says what was read."""
    page = replace(page, title="Transport documents", kind="what they must carry")
    area = page.area
    blocks = list(_blocks(papers, area.width))
    return numbered([drawn(page, partial(_draw, part)) for part in paged(blocks, area.height, area.height)])


def _draw(blocks: Sequence[Block], pen: Pen, area: Box) -> None:
    draw_blocks(pen, blocks, area.x, area.top)


def _blocks(papers: Sequence[Paper], width: float) -> Iterator[Block]:
    lead = "No form: what stands here is written into the document of each leg by a person who has checked it."
    yield text(lead, width, BODY, ink=grey(75), after=3)
    for paper in papers:
        yield heading(_NAMES[paper.mode], width, 4.6)
        yield from _paper(paper, width)
        yield space(5)


def _paper(paper: Paper, width: float) -> Iterator[Block]:
    for words in paper.refused:
        yield text(f"REFUSED: {words}", width, BODY, "bold", after=1)
    if paper.lines:
        columns = (
            Column("package", 17.0, "bold"),
            Column("number and kind", 40.0),
            Column("number, name, class, packing group, added words", width - 17 - 40 - 30),
            Column("net quantity", 30.0),
        )
        yield head(columns)
        for line in paper.lines:
            yield row(columns, (line.package, line.pieces, line.description, line.quantity), "; ".join(line.more))
        yield space(1.5)
        for total in paper.totals:
            yield text(f"In all: {total}", width, BODY, after=0.6)
        yield space(2)
    if paper.asked:
        shares = (Column("it also carries", 62.0), Column("", width - 62.0 - 44.0), Column("by", 44.0, size=SMALL))
        yield head(shares)
        for one in paper.asked:
            yield row(shares, (one.label, one.value or _WRITTEN, one.cite))
        yield space(2)
    for words in paper.said:
        yield text(words, width, BODY, after=1)
    for words in paper.open:
        yield text(f"Not in the record: {words}", width, BODY, "bold", after=1)
    if not (paper.lines or paper.said or paper.refused):
        yield text("nothing to carry", width, BODY)
