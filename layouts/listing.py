"""Lists on paper: blocks of a known height, set one below the other and carried on to further pages."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from msgspec import Struct

from layouts.furniture import line, line_to, paragraphs
from layouts.geometry import polyline
from layouts.ink import BLACK, Ink, grey
from layouts.pen import Pen, group

BODY, SMALL = 2.9, 2.35  # em, mm: 8 and 7 points, for what is read with the page in the hand
#: What the packer reads at arm's length has capitals of 2.8 mm: 16 minutes of arc at 600 mm, the least height that
#: ergonomics asks of a character that is read with ease (ISO 9241-303, from memory).
READ = 4.1
LEADING = 1.28


class Block(NamedTuple):
    """height: mm. draw: (pen, x, top). keep: not the last on a page (a heading stays with what follows)."""

    height: float
    draw: Callable[[Pen, float, float], None]
    keep: bool = False


def paged(blocks: Sequence[Block], first: float, later: float) -> list[list[Block]]:
    """The blocks in pages of ``first`` and then ``later`` mm height. A block taller than a page has a page of its
    own."""
    pages: list[list[Block]] = [[]]
    room = first
    for n, block in enumerate(blocks):
        need = block.height
        follower = n
        while blocks[follower].keep and follower + 1 < len(blocks):
            follower += 1
            need += blocks[follower].height
        started_together = n > 0 and blocks[n - 1].keep and bool(pages[-1])
        if need > room + 1e-6 and not started_together and (pages[-1] or room < later):
            pages.append([])
            room = later
        pages[-1].append(block)
        room -= block.height
    return pages


def draw_blocks(pen: Pen, blocks: Iterable[Block], x: float, top: float) -> float:
    """Draw them downwards from ``top``; returns where they end."""
    for block in blocks:
        block.draw(pen, x, top)
        top -= block.height
    return top


def space(height: float) -> Block:
    """An empty block, ``height`` mm."""
    return Block(height, lambda pen, x, top: None)


def text(
    words: str, width: float, size: float = BODY, font: str = "regular", ink: Ink = BLACK, after: float = 0
) -> Block:
    """A paragraph."""
    rows = paragraphs([words], width, size, font)
    step = size * LEADING

    def draw(pen: Pen, x: float, top: float) -> None:
        for n, row in enumerate(rows):
            line(pen, x, top - size * 0.95 - n * step, row, size, font, ink)

    return Block(len(rows) * step + after, draw)


def heading(words: str, width: float, size: float = 3.6, note: str = "", ident: str = "") -> Block:
    """A heading with a hairline under it; ``note`` stands at its right end. ident: of the group it is drawn as."""

    def draw(pen: Pen, x: float, top: float) -> None:
        y = top - size * 1.35
        line(pen, x, y, words, size, "bold")
        if note:
            line_to(pen, x + width, y, note, max(SMALL, 0.7 * size), ink=grey(80))
        pen.stroke(polyline([(x, y - 1.5), (x + width, y - 1.5)]), BLACK, 0.25)

    def grouped(pen: Pen, x: float, top: float) -> None:
        with group(pen, ident, words):
            draw(pen, x, top)

    return Block(size * 1.35 + 2.6, grouped if ident else draw, keep=True)


class Column(Struct, frozen=True):
    """title, width in mm; font and size of its cells; ``right``: figures set to the right."""

    title: str
    width: float
    font: str = "regular"
    size: float = BODY
    right: bool = False


def head(columns: Sequence[Column]) -> Block:
    """The titles of a table."""

    def draw(pen: Pen, x: float, top: float) -> None:
        for column in columns:
            rows = column.title.split("\n")
            for n, row in enumerate(rows):
                y = top - SMALL * 0.95 - (n + 2 - len(rows)) * SMALL * 1.15
                if column.right:
                    line_to(pen, x + column.width - 2, y, row, SMALL, ink=grey(70))
                else:
                    line(pen, x, y, row, SMALL, ink=grey(70))
            x += column.width

    return Block(SMALL * 2.9, draw, keep=True)


def row(
    columns: Sequence[Column],
    cells: Sequence[str],
    under: str = "",
    mark: Callable[[Pen, float, float], None] | None = None,
) -> Block:
    """One line of a table: cells wrap in their columns; ``under`` runs below them from the second column on; ``mark``
    draws into the first cell (its left edge and the first baseline)."""
    wrapped = [
        paragraphs([cell], column.width - 2, column.size, column.font) if cell else ()
        for column, cell in zip(columns, cells, strict=True)
    ]
    tall = max(column.size for column, cell in zip(columns, cells, strict=True) if cell or column is columns[0])
    deep = max(  # all first lines stand on one baseline
        (tall + (len(rows) - 1) * c.size * LEADING for rows, c in zip(wrapped, columns, strict=True) if rows),
        default=tall,
    )
    deep += tall * (LEADING - 1)
    indent = columns[0].width
    below = paragraphs([under], math.fsum(c.width for c in columns) - indent - 2, SMALL) if under else ()
    height = deep + len(below) * SMALL * LEADING + 1.8

    def draw(pen: Pen, x: float, top: float) -> None:
        base = top - 0.8
        pen.stroke(polyline([(x, top), (x + math.fsum(c.width for c in columns), top)]), grey(30), 0.12)
        if mark is not None:
            mark(pen, x, base - tall * 0.95)
        at = x
        for column, rows in zip(columns, wrapped, strict=True):
            for n, words in enumerate(rows):
                y = base - tall * 0.95 - n * column.size * LEADING
                if column.right:
                    line_to(pen, at + column.width - 2, y, words, column.size, column.font)
                else:
                    line(pen, at, y, words, column.size, column.font)
            at += column.width
        for n, words in enumerate(below):
            line(pen, x + indent, base - deep - SMALL * 0.85 - n * SMALL * LEADING, words, SMALL, ink=grey(75))

    return Block(height, draw)
