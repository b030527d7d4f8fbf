"""One piece of artwork with what it needs around it on a sheet: bleed, cut marks, caption, which corner goes up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from msgspec import Struct

from layouts.artwork.base import SQUARE_ON_POINT, Artwork, placed, turned_square
from layouts.furniture import BLEED, MARK_CLEAR, MARK_NEAR, Caption, cut_marks, reach, this_corner_up
from layouts.geometry import Box, Point, Transform, polyline
from layouts.ink import BLACK
from layouts.pen import Pen
from layouts.probe import Stored

#: A caption gets at least this much width, mm, however narrow the piece.
CAPTION_ROOM = 54.0
#: In the empty corner beside a square on its point a caption is this wide.
CORNER_ROOM = 46.0


class Item(Struct, frozen=True):
    """A mark to print. package: the shipper's letter; count: identical packages, each gets one; face, mark, modes,
    cite: as the caption says them ("front", "hazard label 3", ("road", "sea"), ("ADR 5.2.2.1.1", ...)); what: that it
    is for a package or an overpack."""

    artwork: Artwork
    package: str
    count: int
    face: str
    mark: str
    modes: tuple[str, ...] = ()
    cite: tuple[str, ...] = ()
    what: str = "package"

    def caption(self, reference: str, copy: int, room: float) -> Caption:
        head = f"{self.what} {self.package} · {copy} of {self.count} · {self.face}"
        note = f" ({self.artwork.note})" if self.artwork.note else ""
        rest = (
            f"{self.spoken}{note}",
            " · ".join(filter(None, (reference, ", ".join(self.modes)))),
            "; ".join(self.cite),
        )
        return Caption.of(head, tuple(filter(None, rest)), room)

    @property
    def spoken(self) -> str:
        """The mark's name as a person says it: ``hazard label 7-II``, ``UN number``."""
        mark, *variant = self.mark.split(" ")
        return " ".join((mark.replace("-", " ").replace("un number", "UN number"), *variant))

    @property
    def called(self) -> str:
        return f"{self.what} {self.package}, {self.spoken}"


class Piece(NamedTuple):
    """Artwork placed on a sheet. drawing: its strokes, placed; bleed: how far its colour runs on, mm; box: around its cut
    edges on the sheet, mm; item, copy: which it is."""

    drawing: Stored
    bleed: float
    box: Box
    item: Item
    copy: int

    @classmethod
    def of(cls, item: Item, copy: int, at: Transform, bleed: float, box: Box) -> Piece:
        """The item's artwork. at: from its own origin to the sheet."""
        return cls(placed(item.artwork, at, bleed), bleed, box, item, copy)

    def moved(self, dx: float, dy: float) -> Piece:
        drawing = self.drawing._replace(at=self.drawing.at.then(Transform.moved(dx, dy)))
        return self._replace(drawing=drawing, box=self.box.moved(dx, dy))


class Cell(Struct, frozen=True):
    """The room one piece takes, its lower left corner at the origin. corners: of the cut, anticlockwise, none where
    nothing is cut; cuts: lines to cut along; note: where "this corner up" stands, or None."""

    piece: Piece
    width: float
    height: float
    corners: tuple[Point, ...]
    caption: Caption | None
    caption_at: Point
    note: Point | None = None
    cuts: tuple[tuple[Point, Point], ...] = ()

    def draw(self, pen: Pen) -> None:
        """What stands around the piece; the piece itself is drawn by the sheet."""
        if self.corners:
            cut_marks(pen, self.corners, self.piece.item.artwork.bleeds)
        for ends in self.cuts:
            pen.stroke(polyline(ends), BLACK, 0.15, dash=(2.0, 1.0))
        if self.caption is not None:
            self.caption.draw(pen, *self.caption_at)
        if self.note is not None:
            this_corner_up(pen, *self.note)


def cells(item: Item, reference: str, copy: int) -> Iterator[Cell]:
    """The two ways to print a piece: upright; then a square on its point lying flat, a rectangle turned a quarter."""
    art = item.artwork
    if art.shape == SQUARE_ON_POINT:
        yield _on_point(item, reference, copy)
        yield _upright(
            item, reference, copy, turned_square(art).by, art.side or art.width, art.side or art.height, True
        )
    else:
        yield _upright(item, reference, copy, Transform(), art.width, art.height)
        quarter = Transform.turned(90).then(Transform.moved(art.height, 0))
        yield _upright(item, reference, copy, quarter, art.height, art.width)


def _piece(item: Item, copy: int, at: Transform, box: Box) -> Piece:
    return Piece.of(item, copy, at, BLEED if item.artwork.bleeds else 0.0, box)


def _upright(
    item: Item, reference: str, copy: int, at: Transform, width: float, height: float, flat: bool = False
) -> Cell:
    """A piece cut as an upright rectangle. The caption stands between the lower cut marks, or under them if wider."""
    around = reach(item.artwork.bleeds)
    near = (MARK_CLEAR if item.artwork.bleeds else MARK_NEAR) + 0.3
    caption = item.caption(reference, copy, max(width - 3, CAPTION_ROOM))
    between = caption.width <= width - 3
    gap = near if between else around + 0.5
    below = max(around, gap + caption.height + 0.8)
    x, y = around, below
    box = Box(x, y, width, height)
    across = max(width + 2 * around, around + caption.width)
    return Cell(
        _piece(item, copy, at.then(Transform.moved(x, y)), box),
        across,
        below + height + around,
        (Point(x, y), Point(x + width, y), Point(x + width, y + height), Point(x, y + height)),
        caption,
        Point(x + (1.5 if between else 0.0), y - gap),
        Point(x + 1.5, y + height + near) if flat else None,
    )


def _on_point(item: Item, reference: str, copy: int) -> Cell:
    """A square on its point. Its caption stands in the empty corner at the lower left if it can, else below."""
    art = item.artwork
    size, half = art.width, art.width / 2
    around = reach(art.bleeds) / 2**0.5
    caption = item.caption(reference, copy, CORNER_ROOM)
    in_corner = caption.width + caption.height + (BLEED + 1.5) * 2**0.5 <= half + 2 * around
    if not in_corner:
        caption = item.caption(reference, copy, max(size, CAPTION_ROOM))
    below = around if in_corner else around + 1.0 + caption.height
    x, y = around, below
    return Cell(
        _piece(item, copy, Transform.moved(x, y), Box(x, y, size, size)),
        max(size + 2 * around, caption.width),
        below + size + around,
        (Point(x + half, y), Point(x + size, y + half), Point(x + half, y + size), Point(x, y + half)),
        caption,
        Point(0.0, caption.height),
    )
