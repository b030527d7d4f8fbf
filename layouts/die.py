"""Labels that are cut already: how a piece lies alone on one, and the control sheet that goes before them.

A label takes one piece as it is, without cut marks; or several, each with its own, where they fit beside each other. A
square on its point that fits only lying flat is cut from the rest of the label along the dashed lines.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from layouts.artwork.base import SQUARE_ON_POINT, turned_square
from layouts.cell import CAPTION_ROOM, Cell, Item, Piece
from layouts.furniture import BLEED, Caption, line, paragraphs
from layouts.geometry import Box, Point, Transform, rectangle
from layouts.ink import grey
from layouts.pen import Pen
from layouts.stock import Places, Stock

#: A piece that ends this close to the label's edge, mm, counts as reaching it: colour runs on over the edge.
_FLUSH = 1.0
#: White beside a piece that is left standing, mm; what is wider is cut off where the piece is turned.
_RIM = 3.0
_GAP, _NOTE = 2.0, 3.6
_BODY = 2.9


def alone(item: Item, reference: str, copy: int, places: Places) -> Iterator[Cell]:
    """The ways a piece lies alone on a label: upright; then a square flat, a rectangle turned a quarter. Only those that
    fit; the cell is the whole label."""
    art = item.artwork
    whole, inside = Box(0, 0, places.width, places.height), places.usable
    if art.shape == SQUARE_ON_POINT:
        side = art.side or art.width
        if art.width <= whole.width + 1e-9 and art.height <= whole.height + 1e-9:
            yield _laid(item, reference, copy, places, whole, Transform(), art.width, art.height)
        if side <= inside.width + 1e-9 and side <= inside.height + 1e-9:
            yield _laid(item, reference, copy, places, inside, turned_square(art).by, side, side, flat=True)
        return
    quarter = Transform.turned(90).then(Transform.moved(art.height, 0))
    for by, width, height in ((Transform(), art.width, art.height), (quarter, art.height, art.width)):
        if width <= inside.width + 1e-9 and height <= inside.height + 1e-9:
            yield _laid(item, reference, copy, places, inside, by, width, height)


def _laid(
    item: Item, reference: str, copy: int, places: Places, room: Box, by: Transform, width: float, height: float,
    flat: bool = False,
) -> Cell:  # fmt: skip
    """Hung from the top, its caption below, or in the middle; what is cut out, in the lower left corner, so that fewest
    edges are cut, its note and caption above it."""
    spare_w, spare_h = room.width - width, room.height - height
    full = Box(0, 0, places.width, places.height)
    cut = flat and (full.width - width > 2 * _RIM or full.height - height > 2 * _RIM)
    least = _RIM if cut else math.inf
    x = max(room.x, min((full.width - width) / 2, least))
    y = max(room.y, min((full.height - height) / 2, least))
    noted = flat and room.top - y - height >= _NOTE
    below = item.caption(reference, copy, max(room.width - 2 * _GAP, 10.0))
    beside = item.caption(reference, copy, spare_w - 2 * _GAP) if spare_w - 2 * _GAP >= CAPTION_ROOM * 0.6 else None
    corner = _corner(item, reference, copy, width) if item.artwork.shape == SQUARE_ON_POINT and not flat else None
    need = below.height + 2 * _GAP + (_NOTE + _RIM) * noted
    caption, at = None, Point(0, 0)
    if spare_h >= need:
        y = y if flat else room.top - height - min(_GAP * 2, spare_h - need)
        left = min(max(x, room.x + _GAP), room.right - _GAP - below.width)
        caption, at = below, Point(left, room.top - _GAP if flat else y - _GAP)
    elif beside is not None and beside.height <= room.height:
        x = room.x
        caption, at = beside, Point(x + width + _GAP, y + height - _GAP / 2)
    elif corner is not None:
        caption, at = corner, Point(x - min(spare_w / 2, 3.0), y - min(spare_h / 2, 3.0) + corner.height)
    flush = min(full.width - width, full.height - height) <= 2 * _FLUSH
    bleed = min(BLEED, places.gutter) if item.artwork.bleeds and flush and not cut else 0.0
    piece = Piece.of(item, copy, by.then(Transform.moved(x, y)), bleed, Box(x, y, width, height))
    return Cell(
        piece, full.width, full.height, (), caption, at,
        Point(x + 1.5, y + height + 1.0) if noted else None,
        tuple(_cuts(piece.box, full)) if cut else (),
    )  # fmt: skip


def _corner(item: Item, reference: str, copy: int, size: float) -> Caption | None:
    """A caption for the empty corner beside a square on its point, if it fits there."""
    caption = item.caption(reference, copy, 46.0)
    return caption if caption.width + caption.height + 2.5 <= size / 2 else None


def _cuts(piece: Box, label: Box) -> Iterator[tuple[Point, Point]]:
    """Along the piece's edges across the whole label, a hair outside them, where more than a rim lies beyond."""
    by, most = 0.1, _RIM + 0.5
    for x, away in ((piece.x - by, piece.x - label.x), (piece.right + by, label.right - piece.right)):
        if away > most:
            yield Point(x, label.y), Point(x, label.top)
    for y, away in ((piece.y - by, piece.y - label.y), (piece.top + by, label.top - piece.top)):
        if away > most:
            yield Point(label.x, y), Point(label.right, y)


# --- the control sheet -----------------------------------------------------------------------------------------------


def control(pen: Pen, area: Box, stock: Stock, order: Sequence[str]) -> None:
    """What a person checks before the labels are printed, and in which order they come; the outlines of the labels where
    there are several on a sheet."""
    several = len(stock.boxes()) > 1
    if several:
        for box in stock.boxes():
            pen.stroke(rectangle(box, stock.places.corner if stock.places else 0.0), grey(35), 0.2, dash=(2.0, 1.0))
    told = ["Measure the ruler: where it is not 100 mm long, print at 100 %, nothing fitted to the page."]
    if several:
        told.append("Print this sheet on plain paper and hold it against a label sheet: the dashed outlines lie on the "
                    "labels' edges.")  # fmt: skip
    told.append("Package by package, copy by copy, are printed:")
    rows = [*paragraphs(told, area.width - 8, _BODY)]
    listed = paragraphs(order, area.width - 8, _BODY)
    room = int((area.height - 4) / (_BODY * 1.35)) - len(rows)
    if len(listed) > room:
        listed = (*listed[: max(room - 1, 0)], "and so on, in the order of the record")
    for n, text in enumerate((*rows, *listed)):
        line(pen, area.x + 2, area.top - _BODY * (1.2 + 1.35 * n), text, _BODY)
