"""Steps 5 and 6: sheets onto pens, pens into files. Placement is finished before the first stroke; no logic here."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from pathlib import Path

from layouts.artwork.base import Artwork
from layouts.cell import Piece
from layouts.geometry import Box
from layouts.pen import Pen, TransformPen, group
from layouts.probe import RecordingPen
from layouts.sheet import Sheet


class Drawings:
    """Every drawing of a job once: artwork is asked to draw itself a single time, however often it is printed."""

    def __init__(self) -> None:
        self._held: dict[tuple[Artwork, float], tuple[str, RecordingPen]] = {}

    def of(self, artwork: Artwork, bleed: float) -> tuple[str, RecordingPen]:
        """The recorded drawing, bleed first, and a key that is the same for the same strokes."""
        what = artwork, bleed
        if what not in self._held:
            pen = RecordingPen()
            if bleed:
                artwork.draw_bleed(pen, bleed)
            artwork.draw(pen)
            self._held[what] = (f"drawing-{hashlib.sha256(repr(pen.calls).encode()).hexdigest()[:16]}", pen)
        return self._held[what]


def draw(sheet: Sheet, pen: Pen, drawings: Drawings | None = None) -> None:
    """Draw a sheet: the page, then each piece, then what stands around and over the pieces."""
    drawings = drawings or Drawings()
    sheet.page.draw(pen)
    for piece in sheet.pieces:
        _draw_piece(piece, pen, drawings)
    for call in (*sheet.around, *sheet.over):
        call.onto(pen)


def _draw_piece(piece: Piece, pen: Pen, drawings: Drawings) -> None:
    key, recorded = drawings.of(piece.artwork, piece.bleed)
    title = (
        f"{piece.item.spoken}, {piece.item.what} {piece.item.package}, copy {piece.copy} of {piece.item.count}, {piece.item.face}"
    )
    with group(pen, f"{piece.item.package}-{piece.copy}-{piece.item.mark}", title):
        if (stored := getattr(pen, "stored", None)) is not None:
            stored(
                key,
                Box(0, 0, piece.artwork.width, piece.artwork.height).grown(2 * piece.bleed + 1),
                recorded.replay,
                piece.at,
            )
        else:
            recorded.replay(TransformPen(pen, piece.at))


def to_pdf(
    sheets: Sequence[Sheet],
    target: Path | str | None = None,
    *,
    inks: str = "rgb",
    text: str = "embedded",
    title: str,
    subject: str = "",
    keywords: Sequence[str] = (),
    progress: Callable[[int, int], None] | None = None,
) -> bytes:
    """All sheets as one PDF, written to ``target`` if given; its bytes. text: ``embedded`` or ``outlines``.

    progress: called with (done, total) after every page.
    """
    from layouts.pdf import PdfBook

    book = PdfBook(target, inks=inks, text=text, title=title, subject=subject, keywords=keywords)
    drawings = Drawings()
    for n, sheet in enumerate(sheets, 1):
        page = sheet.page
        draw(
            sheet,
            book.page(
                page.width, page.height, trim=sheet.trim, bleed=sheet.bleed, bookmark=sheet.bookmark, within=sheet.faces
            ),
            drawings,
        )
        if progress:
            progress(n, len(sheets))
    return book.close()


def to_svg(sheet: Sheet, *, text: str = "outlines", drawings: Drawings | None = None) -> str:
    """One sheet as SVG. text: ``outlines`` or ``live``."""
    from layouts.svg import SvgPen

    page = sheet.page
    title = " · ".join(filter(None, (page.heading.reference, *sheet.bookmark, f"sheet {page.number} of {page.total}")))
    pen = SvgPen(page.width, page.height, text=text, title=title)
    draw(sheet, pen, drawings)
    return pen.tostring()
