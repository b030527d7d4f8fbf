"""What stands on a sheet around the artwork: head, control ruler, footer, cut marks, captions.

All of it is ours; no law fixes it. It is drawn in black and its tints alone, so that no page needs an ink for it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from layouts import letters
from layouts.geometry import Box, Point, Transform, polygon, polyline, rectangle
from layouts.ink import BLACK, WHITE, Ink, grey
from layouts.pen import Pen, group
from layouts.probe import Call, RecordingPen

#: Colour that reaches a label's edge is drawn this much further, mm (common practice in print, no source).
BLEED = 3.0
#: Cut marks begin this far from the corner, mm: clear of the bleed, or closer where there is none; and are this long.
MARK_CLEAR, MARK_NEAR, MARK_LENGTH, MARK_WEIGHT = BLEED + 1.0, 1.5, 4.0, 0.1
RULER = 100.0
QUIET = grey(60)
_SMALL = 2.5  # em of footer and captions, mm: 7 points


def reach(bleeds: bool) -> float:
    """How far cut marks reach beyond an edge, mm."""
    return (MARK_CLEAR if bleeds else MARK_NEAR) + MARK_LENGTH


class Heading(Struct, frozen=True):
    """What every sheet of one record says.

    reference: the shipper's own; editions: the rules held, one text each; cautions: the record's own, one text each;
    not_cleared: the modes the package may not travel by as described ("sea", "sea, air"), or None; read: the file and
    its digest, as the foot says them.
    """

    reference: str
    editions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    not_cleared: str | None = None
    read: str = ""

    @property
    def footer(self) -> tuple[str, ...]:
        """The sentences at the foot, in reading order. What stands there is what the tool may say, and who decides."""
        source = f" ({self.read})" if self.read else ""
        read = f"Read: record {self.reference}{source}." if self.reference else ""
        held = f"Editions held: {'; '.join(self.editions)}." if self.editions else ""
        decides = "The regulations in force and the shipper's trained and authorised person decide."
        return tuple(text for text in (" ".join(filter(None, (read, held))), decides, *self.cautions) if text)


def line(pen: Pen, x: float, y: float, text: str, size: float, font: str = "regular", ink: Ink = BLACK) -> float:
    """One line of text from x, its baseline at y; returns where it ends."""
    pen.text(x, y, text, font, size, ink)
    return x + letters.width(text, font, size)


def line_to(pen: Pen, x: float, y: float, text: str, size: float, font: str = "regular", ink: Ink = BLACK) -> None:
    """One line of text that ends at x."""
    pen.text(x - letters.width(text, font, size), y, text, font, size, ink)


def paragraphs(texts: Sequence[str], width: float, size: float, font: str = "regular") -> tuple[str, ...]:
    """Each text wrapped to ``width`` mm, one after the other."""
    return tuple(row for text in texts for row in letters.wrap(text, font, size, width, balance=False, hard=True))


# --- the page --------------------------------------------------------------------------------------------------------


class Page(Struct, frozen=True):
    """A page of a sheet and what its head says: title ("Package A") and kind ("coloured labels"); number of total.
    bare: labels that are cut already, with neither head nor foot."""

    width: float
    height: float
    margin: float
    heading: Heading
    title: str = ""
    kind: str = ""
    number: int = 1
    total: int = 1
    bare: bool = False

    @property
    def inner(self) -> Box:
        return Box(0, 0, self.width, self.height).grown(-self.margin)

    @property
    def ruler_upright(self) -> bool:
        """The ruler lies at the foot; on a page too narrow for it, it stands at the left side."""
        return self.inner.width < RULER

    @property
    def can_be_ruled(self) -> bool:
        return max(self.inner.width, self.inner.height) >= RULER

    @property
    def _foot(self) -> tuple[float, tuple[str, ...]]:
        """Width and lines of the footer's text: beside the ruler if that leaves a column, else the whole width."""
        beside = self.inner.width - RULER - 8
        width = beside if beside >= 60 and not self.ruler_upright else self.inner.width
        return width, paragraphs(self.heading.footer, width, _SMALL)

    @property
    def foot_height(self) -> float:
        width, rows = self._foot
        text = len(rows) * _SMALL * 1.3
        ruler = 0.0 if self.ruler_upright else 10.0
        return max(text, ruler) if width < self.inner.width else text + ruler

    @property
    def head_height(self) -> float:
        return 9.0 if self.heading.not_cleared is None else 18.0

    @property
    def area(self) -> Box:
        """Where artwork and diagrams may stand."""
        left = 12.0 if self.ruler_upright else 0.0
        i = self.inner
        low, high = self.foot_height + 3.0, self.head_height + 2.0
        return Box(i.x + left, i.y + low, i.width - left, i.height - low - high)

    def draw(self, pen: Pen) -> None:
        if self.bare:
            return
        with group(pen, "head", "Head"):
            self._draw_head(pen)
        if (kept := getattr(pen, "kept", None)) is not None:
            kept(Box(0, 0, self.width, self.height), self._draw_alike)
        else:
            self._draw_alike(pen)

    def _draw_alike(self, pen: Pen) -> None:
        """What stands on every page of a stack alike: a book keeps it once."""
        for call in _alike(replace(self, title="", kind="", number=0, total=0)):
            call.onto(pen)

    def _draw_head(self, pen: Pen) -> None:
        i = self.inner
        y = i.top - 5.0
        count = f"sheet {self.number} of {self.total}" if self.total else ""
        room = i.right - (letters.width(count, "regular", 3.0) + 4 if count else 0)
        parts = [
            (self.heading.reference, "bold", 5.0, BLACK),
            (self.title, "regular" if self.heading.reference else "bold", 5.0, BLACK),
            (self.kind, "regular", 3.4, QUIET),
        ]
        _side_by_side(pen, i.x, y, room, [part for part in parts if part[0]])
        if count:
            line_to(pen, i.right, y, count, 3.0, ink=QUIET)
        pen.stroke(polyline([(i.x, i.top - 7.5), (i.right, i.top - 7.5)]), BLACK, 0.3)
        if self.heading.not_cleared is not None:
            stamp(pen, Box(i.x, i.top - 17.0, i.width, 8.0), self.heading.not_cleared)

    def _draw_foot(self, pen: Pen) -> None:
        i = self.inner
        width, rows = self._foot
        beside = width < i.width
        top = i.y + self.foot_height if beside else i.y + len(rows) * _SMALL * 1.3
        for n, text in enumerate(rows):
            line(pen, i.right - width, top - _SMALL * (0.85 + 1.3 * n), text, _SMALL, ink=grey(80))

    def _draw_ruler(self, pen: Pen) -> None:
        i = self.inner
        width, rows = self._foot
        if self.ruler_upright:
            by = Transform.turned(90).then(Transform.moved(i.x + 8.0, i.y + self.foot_height + 4))
        else:
            foot = 0.0 if width < i.width else len(rows) * _SMALL * 1.3 + 1.5
            by = Transform.moved(i.x, i.y + foot)
        ruler(pen, by)


@lru_cache(maxsize=16)
def _alike(page: Page) -> tuple[Call, ...]:
    pen = RecordingPen()
    with group(pen, "foot", "Foot"):
        page._draw_foot(pen)
    with group(pen, "ruler", "Control ruler, 100 mm"):
        page._draw_ruler(pen)
    return pen.value


def _side_by_side(pen: Pen, x: float, y: float, end: float, parts: Sequence[tuple[str, str, float, Ink]]) -> None:
    """Texts (font, size and ink each) beside each other, ending before ``end``: where they would run over, what is bold is
    condensed, then all are smaller."""
    room = end - x - 4 * (len(parts) - 1)
    for condensed in (False, True):
        fonts = ["condensed" if condensed and font == "bold" else font for _, font, _, _ in parts]
        wide = math.fsum(letters.width(part[0], font, part[2]) for part, font in zip(parts, fonts, strict=True))
        if wide <= room:
            break
    for (text, _, size, ink), font in zip(parts, fonts, strict=True):
        x = line(pen, x, y, text, size * min(1.0, room / wide), font, ink) + 4


def ruler(pen: Pen, by: Transform) -> None:
    """The control ruler along x from the origin of ``by``: exactly 100 mm between the outer edges of its end strokes,
    a tick every 10 mm, 8 mm high in all. Printers scale; this shows it."""
    weight = 0.3
    marks = [polyline([(0, weight / 2), (RULER, weight / 2)])]
    for n in range(11):
        x = {0: weight / 2, 10: RULER - weight / 2}.get(n, n * 10.0)
        marks.append(polyline([(x, 0), (x, 4.0 if n in (0, 5, 10) else 2.4)]))
    for mark in marks:
        pen.stroke(mark.transformed(by), BLACK, weight)
    text, size = "measure me: 100 mm", 2.8
    at = by.point(RULER / 2 - letters.width(text, "bold", size) / 2, 5.2)
    pen.text(at.x, at.y, text, "bold", size, BLACK, turn=90.0 if by.b > 0.5 else 0.0)


def stamp(pen: Pen, box: Box, modes: str) -> None:
    """A black bar, edged in white, that says the goods are not cleared for these modes."""
    pen.fill(rectangle(box.grown(0.8)), WHITE)
    pen.fill(rectangle(box), BLACK)
    text = f"NOT CLEARED FOR {modes}"
    set_ = letters.fit([text], box.width - 4, box.height - 2, 1.0, max_cap=box.height * 0.5)
    y = box.y + (box.height - set_.height) / 2 + set_.height - set_.rise
    for n, row in enumerate(set_.lines):
        x = box.centre.x - letters.width(row, set_.font, set_.size) / 2
        pen.text(x, y - n * set_.leading, row, set_.font, set_.size, WHITE)


# --- one piece -------------------------------------------------------------------------------------------------------


def cut_marks(pen: Pen, corners: Sequence[Point], bleeds: bool) -> None:
    """Two strokes outside each corner of a convex outline, in the run of its edges."""
    start = MARK_CLEAR if bleeds else MARK_NEAR
    for a, b in _edges(corners):
        long = ((b.x - a.x) ** 2 + (b.y - a.y) ** 2) ** 0.5
        ux, uy = (b.x - a.x) / long, (b.y - a.y) / long
        for p, s in ((a, -1), (b, 1)):
            inner, outer = s * start, s * (start + MARK_LENGTH)
            ends = [(p.x + ux * inner, p.y + uy * inner), (p.x + ux * outer, p.y + uy * outer)]
            pen.stroke(polyline(ends), BLACK, MARK_WEIGHT)


def _edges(corners: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    return zip(corners, [*corners[1:], corners[0]], strict=True)


class Caption(Struct, frozen=True):
    """Lines beside a piece, outside the cut: the first in bold. ``width`` is the room they were wrapped to, mm."""

    head: tuple[str, ...]
    rest: tuple[str, ...]
    width: float

    @classmethod
    def of(cls, head: str, rest: Sequence[str], room: float) -> Caption:
        heads = letters.wrap(head, "bold", _SMALL, room, balance=False, hard=True)
        rests = paragraphs(rest, room, _SMALL, "condensed-regular")
        bold = [letters.width(t, "bold", _SMALL) for t in heads]
        plain = [letters.width(t, "condensed-regular", _SMALL) for t in rests]
        return cls(heads, rests, max(bold + plain, default=0.0))

    @property
    def height(self) -> float:
        return (len(self.head) + len(self.rest)) * _SMALL * 1.25

    def draw(self, pen: Pen, x: float, top: float) -> None:
        for n, text in enumerate((*self.head, *self.rest)):
            font = "bold" if n < len(self.head) else "condensed-regular"
            line(pen, x, top - _SMALL * (0.8 + 1.25 * n), text, _SMALL, font, BLACK if n < len(self.head) else grey(80))


def this_corner_up(pen: Pen, x: float, y: float) -> None:
    """The note over the upper left corner of a label printed lying flat; the arrow points to that corner."""
    pen.fill(polygon([(x, y + 2.2), (x, y), (x + 2.2, y + 2.2)]), BLACK)
    line(pen, x + 3.2, y + 0.2, "this corner up", _SMALL, "bold")
