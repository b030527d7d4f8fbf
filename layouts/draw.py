"""Steps 5 and 6: sheets onto pens, pens into files. Placement is finished before the first stroke; no logic here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from msgspec import Struct

from layouts.cell import Piece
from layouts.geometry import Box
from layouts.pen import Pen, group
from layouts.probe import Begin, Call, End, RecordingPen
from layouts.sheet import Sheet

#: Among so many sheets before and after it is looked for the one most like a sheet.
_NEAR = 8


def draw(sheet: Sheet, pen: Pen, shared: frozenset[Call] = frozenset()) -> None:
    """Draw a sheet: the page, then each piece, then what stands around and over the pieces. shared: what of that around it
    other sheets of the book have as well; the pen of a book keeps it once."""
    sheet.page.draw(pen)
    for piece in sheet.pieces:
        _draw_piece(piece, pen)
    around: Sequence[Call] = sheet.around
    if shared and (kept := getattr(pen, "kept", None)) is not None:
        alike = RecordingPen([call for call in around if call in shared])
        kept(Box(0, 0, sheet.page.width, sheet.page.height), alike.replay)
        around = [call for call in around if call not in shared]
    for call in (*around, *sheet.over):
        call.onto(pen)


def in_common(sheets: Sequence[Sheet]) -> list[frozenset[Call]]:
    """For each sheet of a stack the cut marks and caption lines that it has in the same place as the one most like it of the
    sheets near by: copies come round again and again, and differ in little but their number. Diagrams and checklists share
    nothing."""
    around = [
        frozenset(call for call in sheet.around if not isinstance(call, Begin | End)) if sheet.pieces else frozenset()
        for sheet in sheets
    ]
    return [
        max(
            (one & other for other in around[max(0, n - _NEAR) : n] + around[n + 1 : n + 1 + _NEAR]),
            key=len,
            default=frozenset(),
        )
        for n, one in enumerate(around)
    ]


def _draw_piece(piece: Piece, pen: Pen) -> None:
    item = piece.item
    title = f"{item.spoken}, {item.what} {item.package}, copy {piece.copy} of {item.count}, {item.face}"
    with group(pen, f"{item.package}-{piece.copy}-{item.mark}", title):
        piece.drawing.onto(pen)


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
    for n, (sheet, shared) in enumerate(zip(sheets, in_common(sheets), strict=True), 1):
        page = sheet.page
        draw(
            sheet,
            book.page(
                page.width, page.height, trim=sheet.trim, bleed=sheet.bleed, bookmark=sheet.bookmark, within=sheet.faces
            ),
            shared,
        )
        if progress:
            progress(n, len(sheets))
    return book.close()


class Draft(Struct, frozen=True):
    """A file before it is drawn. name: its own; sheets: one of an SVG; title, inks: of a PDF; text: of an SVG."""

    name: str
    sheets: tuple[Sheet, ...]
    title: str = ""
    inks: str = "rgb"
    text: str = "outlines"

    def drawn(self, told: Callable[[], None]) -> bytes:
        """What the file will hold. told: called after every sheet."""
        if self.name.endswith(".pdf"):
            return to_pdf(self.sheets, inks=self.inks, title=self.title, progress=lambda *_: told())
        (sheet,) = self.sheets
        content = to_svg(sheet, text=self.text).encode()
        told()
        return content


#: What draws files: it takes them all, then gives back what each will hold, in turn; it calls the other after every sheet.
Drawing = Callable[[Iterable[Draft], Callable[[], None]], Iterator[bytes]]


def one_by_one(drafts: Iterable[Draft], told: Callable[[], None]) -> Iterator[bytes]:
    """Each is drawn when it is asked for."""
    taken = list(drafts)
    return (one.drawn(told) for one in taken)


def to_svg(sheet: Sheet, *, text: str = "outlines") -> str:
    """One sheet as SVG. text: ``outlines`` or ``live``."""
    from layouts.svg import SvgPen

    page = sheet.page
    title = " · ".join(filter(None, (page.heading.reference, *sheet.bookmark, f"sheet {page.number} of {page.total}")))
    pen = SvgPen(page.width, page.height, text=text, title=title)
    draw(sheet, pen)
    return pen.tostring()
