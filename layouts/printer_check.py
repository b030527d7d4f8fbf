"""The printer check: whether a printer prints labels at true size and legibly.

One page, three on small stock, four on the smallest.
Rulers both ways, nested squares with their diagonals, the seven inks by name, the smallest letters, and what to do. Each
page names the editions held where it has room for them: above the foot, or beside the squares; a longer foot would take it
from the rulers.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from datetime import date
from functools import partial
from pathlib import Path

from layouts import letters
from layouts.artwork.catalogue import ADDRESSES, HEIGHTS
from layouts.draw import to_pdf, to_svg
from layouts.errors import StockError
from layouts.files import write_whole
from layouts.furniture import Heading, Page, line, line_to, paragraphs
from layouts.geometry import Box, Point, Transform, polyline, rectangle
from layouts.ink import BLACK, INKS, WHITE, Ink, grey
from layouts.listing import SMALL
from layouts.pen import Pen, group
from layouts.probe import BoundsPen, Stroke
from layouts.qr import draw_qr
from layouts.sheet import Sheet, drawn, numbered
from layouts.stock import Stock
from layouts.units import number
from marks.tables import Figure, editions, measure_figures

#: Sides of the squares, mm. The first is a label's edge; on small stock the first is what fits.
SQUARES = (100.0, 80.0, 60.0, 40.0, 20.0, 10.0, 5.0)
#: Room for a ruler with its figures, mm; the em of its figures and of what is read.
_RULER, _FIGURE, _READ = 9.0, 2.2, 2.9
#: Side of the code, and room for a row to be written on, mm.
_CODE, _ROW = 30.0, 9.0
#: Widths of lines, mm, from a cut mark's to that of a label's inner line.
_LINES = ((0.1, "0.1 mm"), (0.2, "0.2 mm"), (0.3, "0.3 mm"), (1.0, "1 mm"), (2.0, "2 mm"))
#: A page from this width on, mm, has room for what to do beside the large square; beside it a column is at least this wide.
_WHOLE, _COLUMN = 180.0, 60.0
_EDITIONS = "condensed-regular"


def check_sheets(stock: Stock, inks: str, on: date) -> tuple[Sheet, ...]:
    """inks: what the file prints with, as ``sixface sheets`` says it; on: the day whose rules hold for the letters.
    StockError where a page does not hold its part."""
    page = Page(stock.width, stock.height, stock.margin, Heading(""), "Printer check", "before labels are printed")
    if page.area.width >= _WHOLE and _held(whole := drawn(page, partial(_whole, stock, inks, on), colour=True)):
        return numbered([whole])
    seen = [drawn(page, partial(_seen, inks, on), colour=True)]
    if not _held(seen[0]):
        seen = [
            drawn(page, partial(_inks_alone, inks), colour=True),
            drawn(page, partial(_letters_alone, on)),
        ]
    made = [drawn(page, partial(_lengths, stock)), drawn(page, partial(_to_do, on)), *seen]
    if not page.can_be_ruled or not all(map(_held, made)):
        raise StockError(
            f"stock {stock.name}: the printer check does not go on a sheet of {number(stock.width)} x "
            f"{number(stock.height)} mm, and nothing is scaled down; check the printer on A6 or larger"
        )
    return numbered(made)


def _held(sheet: Sheet) -> bool:
    """Whether all that is drawn stays between head, foot and margins, but for outlines of labels, which lie where they lie."""
    pen = BoundsPen()
    for call in sheet.around:
        if not (isinstance(call, Stroke) and call.dash):
            call.onto(pen)
    inner = sheet.page.inner
    return inner.contains(pen.box, slack=0.2) and pen.box.y >= sheet.page.area.y - 0.2


def make_check(stock: Stock, out: Path, *, inks: str = "rgb", formats: Sequence[str], on: date) -> Iterator[Path]:
    """Write ``printer-check.pdf`` and ``printer-check-01.svg``, ... into ``out``; yields each path."""
    sheets = check_sheets(stock, inks, on)
    out.mkdir(parents=True, exist_ok=True)
    made: dict[str, bytes | str] = {}
    if "pdf" in formats:
        made["printer-check.pdf"] = to_pdf(sheets, inks=inks, title="Printer check")
    if "svg" in formats:
        made |= {f"printer-check-{n:02}.svg": to_svg(sheet) for n, sheet in enumerate(sheets, 1)}
    for name, data in made.items():
        write_whole(out / name, data)
        yield out / name


# --- the whole page, or its two halves -------------------------------------------------------------------------------


def _whole(stock: Stock, inks: str, on: date, pen: Pen, area: Box) -> None:
    inside = _frame(pen, area, stock)
    square = _squares(pen, inside)
    beside = Box(square.right + 6, square.y, inside.right - square.right - 6, square.height)
    _instructions(pen, beside, on)
    low = square.y - 7
    low = _inks(pen, Box(inside.x, inside.y, inside.width, low - inside.y), inks) - 3
    low = _letters(pen, Box(inside.x, inside.y, inside.width, low - inside.y), on) - 5
    room = _above_editions(pen, inside, low)
    _code(pen, room, low)
    _written(pen, Box(room.x + _CODE + 8, room.y, room.width - _CODE - 8, room.height), low)


def _lengths(stock: Stock, pen: Pen, area: Box) -> None:
    """The squares with the editions below them or beside them, whichever leaves the squares larger."""
    inside = _frame(pen, area, stock)
    below = inside.height - _height_of_editions(inside.width)
    if below >= min(inside.width - _COLUMN - 4, inside.height):
        square = _squares(pen, Box(inside.x, inside.top - below, inside.width, below))
        _above_editions(pen, inside, square.y)
    else:
        square = _squares(pen, Box(inside.x, inside.y, inside.width - _COLUMN - 4, inside.height))
        left = square.right + 4
        _editions(pen, Box(left, inside.y, inside.right - left, inside.height), inside.top)


def _to_do(on: date, pen: Pen, area: Box) -> None:
    room = _above_editions(pen, area, area.top)
    _written(pen, room, _instructions(pen, room, on, spare=2 * _ROW + 3) - 3)


def _seen(inks: str, on: date, pen: Pen, area: Box) -> None:
    low = _inks(pen, area, inks) - 4
    low = _letters(pen, Box(area.x, area.y, area.width, low - area.y), on) - 4
    _code(pen, _above_editions(pen, area, low), low)


def _inks_alone(inks: str, pen: Pen, area: Box) -> None:
    _above_editions(pen, area, _inks(pen, area, inks))


def _letters_alone(on: date, pen: Pen, area: Box) -> None:
    _above_editions(pen, area, _letters(pen, area, on))


def _said_of_editions(width: float) -> tuple[str, ...]:
    said = "; ".join(f"{one.mode}: {one.name}" for one in editions().values())
    return paragraphs([f"Editions held: {said}."], width, SMALL, _EDITIONS)


def _height_of_editions(width: float) -> float:
    return len(_said_of_editions(width)) * SMALL * 1.3 + 2.0


def _above_editions(pen: Pen, area: Box, low: float) -> Box:
    """The editions at the foot of the area, or from ``low`` where what stands there ends lower; returns the room above."""
    high = _height_of_editions(area.width)
    _editions(pen, area, min(low, area.y + high) - 2.0)
    return Box(area.x, area.y + high, area.width, area.height - high)


def _editions(pen: Pen, room: Box, top: float) -> None:
    with group(pen, "editions", "Editions held"):
        for n, said in enumerate(_said_of_editions(room.width)):
            line(pen, room.x, top - SMALL * (0.85 + 1.3 * n), said, SMALL, _EDITIONS, grey(80))


def _frame(pen: Pen, area: Box, stock: Stock) -> Box:
    """Both rulers from the upper left corner of the area, and on die-cut stock the labels' outlines; returns what is left
    inside them."""
    corner = Point(area.x + _RULER, area.top - _RULER)
    with group(pen, "ruler-across", "Ruler across"):
        _ruler(pen, Transform.moved(*corner), area.right - corner.x, upright=False)
    with group(pen, "ruler-down", "Ruler down"):
        by = Transform(a=0.0, b=-1.0, c=-1.0, d=0.0, e=corner.x, f=corner.y)
        _ruler(pen, by, corner.y - area.y, upright=True)
    if len(stock.boxes()) > 1 and stock.places is not None:
        for box in stock.boxes():
            pen.stroke(rectangle(box, stock.places.corner), grey(40), 0.2, dash=(2.0, 1.0))
    gap = 5.0
    return Box(corner.x + gap, area.y, area.right - corner.x - gap, corner.y - gap - area.y)


def _ruler(pen: Pen, by: Transform, room: float, upright: bool) -> None:
    """A tick each millimetre from the origin of ``by``; its edge is the line, its ticks stand away from what is inside."""
    last = int((room - 2.0) // 10) * 10  # the last figure has room too
    pen.stroke(polyline([(0, 0), (last, 0)]).transformed(by), BLACK, 0.15)
    for mm in range(last + 1):
        long = 4.0 if mm % 10 == 0 else 2.8 if mm % 5 == 0 else 1.6
        pen.stroke(polyline([(mm, 0), (mm, long)]).transformed(by), BLACK, 0.2 if mm % 10 == 0 else 0.1)
        if mm % 10 == 0:
            text = f"{mm}" + (" mm" if mm == 0 and not upright else "")
            wide, at = letters.width(text, "regular", _FIGURE), by.point(mm, 4.6)
            if upright:
                pen.text(at.x - wide, at.y - _FIGURE * 0.35, text, "regular", _FIGURE, BLACK)
            else:
                pen.text(at.x - (wide / 2 if mm else 0.2), at.y + 0.2, text, "regular", _FIGURE, BLACK)


def _squares(pen: Pen, inside: Box) -> Box:
    """Squares about one middle, their sides written on them; returns the largest."""
    room = min(inside.width, inside.height)
    most = min(SQUARES[0], room // 5 * 5)
    sides = [most, *(side for side in SQUARES if side < most - 8)]
    large = Box(inside.x, inside.top - sides[0], sides[0], sides[0])
    middle = large.centre
    with group(pen, "squares", "Nested squares"):
        for ends in (((large.x, large.y), (large.right, large.top)), ((large.x, large.top), (large.right, large.y))):
            pen.stroke(polyline(ends), grey(45), 0.1)
        for side in sides:
            square = Box(middle.x - side / 2, middle.y - side / 2, side, side)
            pen.stroke(rectangle(square.grown(-0.1)), BLACK, 0.2)  # measured from outer edge to outer edge
            if side >= 20:
                said = f"{number(side)} mm"
                wide = letters.width(said, "bold", SMALL)
                pen.fill(rectangle(Box(middle.x - wide / 2 - 0.8, square.y + 0.9, wide + 1.6, SMALL)), WHITE)
                line(pen, middle.x - wide / 2, square.y + 1.4, said, SMALL, "bold")
        said = f"corner to corner {number(sides[0] * 2**0.5, 1)} mm, both ways"
        wide = letters.width(said, "regular", SMALL)
        line(pen, middle.x - wide / 2, large.top - 4.5, said, SMALL, ink=grey(75))
    return large


# --- what to do ------------------------------------------------------------------------------------------------------


def _side_of_law(on: date) -> str:
    figure = measure_figures("hazard-label", "3", on)["side"]
    return f"{figure.value} mm ({'; '.join(dict.fromkeys(figure.cite.values()))})"


def _steps(on: date) -> tuple[tuple[str, str], ...]:
    return (
        ("Print", "as labels are printed: same printer, same stock, at 100 %, nothing fitted to the page."),
        ("Measure", "both rulers and the large square with a steel rule: 100 must be 100, within 0.5 mm."),
        (
            "Too short",
            f"then labels come out smaller than the law's {_side_of_law(on)}: print no label. Turn off all fitting, "
            "shrinking and margin scaling in the print dialogue, then measure again.",
        ),
        ("Too long", "up to 1 mm in 100 does no harm on paper cut by hand; on label stock it misses the label's edge."),
        ("One way only", "the printer feeds unevenly: correct its feed length, or print on another."),
        ("Diagonals differ", "the sheet runs askew: set its guides, then measure again."),
        ("Inks", "even patches without stripes, each told from the other at arm's length; white is the bare stock."),
        ("Letters", "every word of the samples is read without effort, no letter filled in or broken."),
    )


def _instructions(pen: Pen, room: Box, on: date, spare: float = 0.0) -> float:
    """Head words and sentences, from the top of the room, in two columns where it is wide; the largest em that holds them
    and spares some height below if an em does that is read easily. Returns where they end."""
    many = 2 if room.width >= 2 * _COLUMN + 4 else 1
    wide = (room.width - 4 * (many - 1)) / many
    easily = (_READ, 2.6, SMALL)
    for em, height in [(em, room.height - spare) for em in easily] + [(em, room.height) for em in (*easily, 2.1, 1.9)]:
        rows = [(head, paragraphs([said], wide, em)) for head, said in _steps(on)]
        highs = [em * 1.28 * (1 + len(said)) + 0.9 for _, said in rows]
        split = next(n for n in range(len(rows) + 1) if many * math.fsum(highs[:n]) >= math.fsum(highs))
        columns = [(rows[:split], highs[:split]), (rows[split:], highs[split:])][:many]
        if max(math.fsum(of) for _, of in columns) <= height:
            break
    with group(pen, "what-to-do", "What to do"):
        for n, (column, _) in enumerate(columns):
            x, y = room.x + n * (wide + 4), room.top
            for head, said in column:
                y -= em * 1.28
                line(pen, x, y + em * 0.25, head, em, "bold")
                for text in said:
                    y -= em * 1.28
                    line(pen, x, y + em * 0.25, text, em)
                y -= 0.9
    return room.top - max(math.fsum(of) for _, of in columns)


# --- inks and letters ------------------------------------------------------------------------------------------------


def _inks(pen: Pen, room: Box, inks: str) -> float:
    """Seven patches in one row or two; returns where they end."""
    columns = 7 if room.width >= 150 else 4
    wide = (room.width + 3) / columns - 3
    high = 13.0 if columns == 7 else 7.0
    each = high + 3 * SMALL * 1.25 + 2.0
    y = room.top
    with group(pen, "inks", "The seven inks"):
        for n, ink in enumerate(INKS.values()):
            x, top = room.x + n % columns * (wide + 3), y - n // columns * each
            patch = Box(x, top - high, wide, high)
            pen.fill(rectangle(patch), ink)
            pen.stroke(rectangle(patch), grey(60), 0.1)
            line(pen, x, top - high - SMALL * 1.25, ink.name, SMALL, "bold")
            for row, said in enumerate(_made_of(ink, inks), 2):
                size = min(SMALL, SMALL * wide / letters.width(said, "condensed-regular", SMALL))
                line(pen, x, top - high - row * SMALL * 1.25, said, size, "condensed-regular", grey(75))
    return y - -(-len(INKS) // columns) * each


def _made_of(ink: Ink, inks: str) -> tuple[str, ...]:
    if ink == WHITE:
        return ("the bare stock",)
    if inks == "spot":
        return (f"spot {ink.spot}",)
    if inks == "cmyk":
        return ("C {:g} M {:g} Y {:g} K {:g}".format(*ink.cmyk),)
    return (f"sRGB {ink.hex}",)


def _letters(pen: Pen, room: Box, on: date) -> float:
    """The smallest letters and the thinnest lines that are ever printed; returns where they end."""
    y = room.top
    with group(pen, "letters", "The smallest letters"):
        for text, font, em, said in _samples(on):
            high = max(em, SMALL) * 1.3
            y -= high
            base = y + em * 0.22
            end = line(pen, room.x, base, text, em, font)
            if letters.width(said, "regular", SMALL) > room.right - end - 3:
                y -= SMALL * 1.3
                line(pen, room.x, y + SMALL * 0.22, said, SMALL, ink=grey(75))
            else:
                line_to(pen, room.right, base, said, SMALL, ink=grey(75))
            pen.stroke(polyline([(room.x, y - 0.6), (room.right, y - 0.6)]), grey(30), 0.12)
            y -= 1.2
        y -= 6.0
        each = room.width / len(_LINES)
        for n, (weight, said) in enumerate(_LINES):
            x = room.x + n * each
            pen.stroke(polyline([(x, y + 2.2), (x + each - 4, y + 2.2)]), BLACK, weight)
            line(pen, x, y - 2.6, said, SMALL, "condensed-regular", grey(75))
    return y - 3.0


def _code(pen: Pen, area: Box, top: float) -> None:
    """A QR code of the size the checklists bear, where there is room for it."""
    if top - _CODE - 6 < area.y:
        return
    with group(pen, "code", "QR code"):
        draw_qr(pen, "sixface printer check", Box(area.x, top - _CODE, _CODE, _CODE))
        for n, said in enumerate(("A scanner reads:", "sixface printer check")):
            line(pen, area.x + 4, top - _CODE - 1 - n * SMALL * 1.3, said, SMALL, ink=grey(75))


def _written(pen: Pen, area: Box, top: float) -> None:
    """Lines for what was measured, by whom, where there is room for them."""
    y = top
    if y - _ROW < area.y:
        return
    with group(pen, "measured", "Measured"):
        for words in (
            ("100 mm across:", "100 mm down:"),
            ("diagonals:", "and:"),
            ("printer and stock:",),
            ("by, on:",),
        ):
            y -= _ROW
            if y < area.y:
                return
            part = area.width / len(words)
            for n, said in enumerate(words):
                end = line(pen, area.x + n * part, y, said, _READ)
                pen.stroke(polyline([(end + 2, y - 0.6), (area.x + (n + 1) * part - 4, y - 0.6)]), BLACK, 0.25)


def _samples(on: date) -> Iterator[tuple[str, str, float, str]]:
    """Text, font, em in mm, and what it is the least of."""
    unit: Figure = measure_figures("un-number", None, on)["lettering_medium"]
    cites = "; ".join(unit.cite.values())
    cap = float(unit.value)
    yield (
        "UN 1219",
        "bold",
        letters.size_for_least("bold", cap),
        f"letters of {unit.value} mm, the law's least ({cites})",
    )
    least = min(HEIGHTS[ADDRESSES[0]])
    em = letters.size_for_cap("condensed-regular", least)
    yield (
        "Make-Believe Laboratories Inc., Åsenfjord",
        "condensed-regular",
        em,
        f"letters of {number(least)} mm: addresses",
    )
    yield (
        "380 mm from the left edge, ADR 5.2.2.1.1",
        "regular",
        SMALL,
        f"em of {number(SMALL)} mm: diagrams, checklists",
    )
    yield "package A · 1 of 2 · front · hazard label 6.1", "condensed-regular", SMALL, "the same, condensed"
