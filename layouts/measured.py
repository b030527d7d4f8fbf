"""On a drawn face: how far its marks are from its edges, and the areas on which none stands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set
from functools import lru_cache

from layouts import letters
from layouts.artwork.symbols import symbol
from layouts.badges import spread
from layouts.furniture import line, line_to
from layouts.geometry import Box, circle, polyline, rectangle
from layouts.ink import BLACK, WHITE, grey
from layouts.listing import READ, SMALL
from layouts.particulars import mm
from layouts.pen import Pen

HATCH = 1.6  # distance of hatch lines on paper, mm
#: Paper that the figures below a face take, mm, and what those at its left take besides the longest figure.
BELOW, BESIDE = 7.8, 3.8


def room_beside(values: Iterable[float]) -> float:
    """Paper at the left of a face for its heights, mm; 0 where there are none."""
    return _room_beside(tuple(values))


@lru_cache(maxsize=512)
def _room_beside(values: tuple[float, ...]) -> float:
    wide = max((letters.width(mm(value), "regular", READ) for value in values), default=0.0)
    return wide + BESIDE if wide else 0.0


def widths(pen: Pen, box: Box, scale: float, marks: Sequence[tuple[float, float]], corner: bool = True) -> None:
    """Below a face: (distance from its left edge in mm, paper y where the mark begins). corner: of the face, which is dotted."""
    size = READ
    values = _lowest(marks)
    need = {v: letters.width(mm(v), "regular", size) + 1.8 for v in values}
    spots = spread([(box.x + v / scale, need[v]) for v in values])
    for value, spot in zip(values, spots, strict=True):
        x = box.x + value / scale
        pen.stroke(polyline([(x, values[value]), (x, box.y)]), grey(55), 0.1, dash=(0.5, 0.5))
        pen.stroke(polyline([(x, box.y), (x, box.y - 1.0), (spot, box.y - 2.8)]), grey(80), 0.12)
        text = mm(value)
        line(pen, spot - letters.width(text, "regular", size) / 2, box.y - 6.3, text, size)
    if values:
        pen.stroke(polyline([(box.x, box.y - 1.0), (box.x + max(values) / scale, box.y - 1.0)]), grey(80), 0.12)
        if corner:
            pen.fill(circle(box.x, box.y, 0.55), BLACK)


def heights(pen: Pen, box: Box, scale: float, marks: Sequence[tuple[float, float]], low: float = 0.0) -> None:
    """At the left of a face: (distance from its lower edge in mm, paper x where the mark begins). low: where the box
    begins, if not at that edge; then the line at its side begins with a break."""
    size = READ
    values = _lowest(marks)
    spots = spread([(box.y + (v - low) / scale, size * 0.95) for v in values])
    for value, spot in zip(values, spots, strict=True):
        y = box.y + (value - low) / scale
        pen.stroke(polyline([(values[value], y), (box.x, y)]), grey(55), 0.1, dash=(0.5, 0.5))
        pen.stroke(polyline([(box.x, y), (box.x - 1.0, y), (box.x - 2.4, spot)]), grey(80), 0.12)
        line_to(pen, box.x - 2.9, spot - size * 0.345, mm(value), size)
    if values:
        x, top = box.x - 1.0, box.y + (max(values) - low) / scale
        cut = [(x, box.y - 1.2), (x, box.y - 0.6), (x - 0.8, box.y - 0.2), (x + 0.8, box.y + 0.2), (x, box.y + 0.6)]
        pen.stroke(polyline([*(cut if low else [(x, box.y)]), (x, top)]), grey(80), 0.12)
    if values and not low:
        pen.fill(circle(box.x, box.y, 0.55), BLACK)


def _lowest(marks: Sequence[tuple[float, float]]) -> dict[float, float]:
    """Each distance once, rising, with the farthest point its hairline runs to."""
    values: dict[float, float] = {}
    for value, reach in sorted(marks):
        values[round(value, 1)] = max(values.get(round(value, 1), reach), reach)
    return values


def broken(pen: Pen, box: Box, weight: float, dash: tuple[float, ...], cut: Set[str]) -> None:
    """The outline of a face of which a part is shown: waved on the sides of ``cut`` where it goes on, of "below", "above"
    and "right"."""
    if not cut:
        pen.stroke(rectangle(box), BLACK, weight, dash=dash)
        return
    low, high = (box.x, box.y), (box.right, box.top)
    right, left = (box.right, box.y), (box.x, box.top)
    for side, start, end in (("left", low, left), ("below", low, right), ("right", right, high), ("above", left, high)):
        if side not in cut:
            pen.stroke(polyline([start, end]), BLACK, weight, dash=dash)
            continue
        (x, y), (dx, dy) = start, (end[0] - start[0], end[1] - start[1])
        n = max(4, 2 * round((dx + dy) / 8))
        wave = [0.7 * (0, 1, 0, -1)[k % 4] for k in range(n + 1)]
        along = [(x + dx * k / n, y + dy * k / n) for k in range(n + 1)]
        points = [(px + (w if dy else 0), py + (w if dx else 0)) for (px, py), w in zip(along, wave, strict=True)]
        pen.stroke(polyline(points), grey(60), 0.2)


# --- areas ----------------------------------------------------------------------------------------------------------


def hatched(pen: Pen, box: Box, name: str = "") -> None:
    """An area that takes no mark, and why where the words have room."""
    if min(box.width, box.height) <= 0:
        return
    ink, at = grey(70), HATCH
    while at < box.width + box.height:
        x0, y0 = (box.x + at, box.y) if at <= box.width else (box.right, box.y + at - box.width)
        x1, y1 = (box.x, box.y + at) if at <= box.height else (box.x + at - box.height, box.top)
        pen.stroke(polyline([(x0, y0), (x1, y1)]), ink, 0.15)
        at += HATCH
    pen.stroke(rectangle(box), ink, 0.25)
    if name:
        for font in ("regular", "condensed-regular"):
            wide = letters.width(name, font, SMALL)
            if wide + 1.4 <= box.width and box.height >= SMALL * 1.5:
                x, y = box.centre.x - wide / 2, box.centre.y
                pen.fill(rectangle(Box(x - 0.7, y - SMALL * 0.7, wide + 1.4, SMALL * 1.4)), WHITE)
                line(pen, x, y - SMALL * 0.33, name, SMALL, font)
                return


def dashed(pen: Pen, box: Box, name: str, face: Box) -> None:
    """Something the packaging bears already: its outline, and its name inside or, where that is too small, above."""
    if min(box.width, box.height) <= 0:
        return
    code = name.removeprefix("UN specification mark ") if name.startswith("UN specification mark ") else ""
    pen.stroke(rectangle(box.grown(0.5) if code else box), BLACK, 0.15 if code else 0.25, dash=(1.2, 0.8))
    wide = letters.width(name, "condensed-regular", SMALL)
    if code:
        packaging_code(pen, box, code.removeprefix("UN ").strip())
    elif wide + 1 <= box.width and box.height >= SMALL:
        line(pen, box.centre.x - wide / 2, box.centre.y - SMALL * 0.33, name, SMALL, "condensed-regular")
        return
    if wide + 1 <= face.width:
        x = max(face.x + 0.5, min(box.x, face.right - wide - 0.5))
        line(pen, x, box.top + 0.9, name, SMALL, "condensed-regular", grey(80))


def packaging_code(pen: Pen, box: Box, code: str) -> None:
    """The circle and the code in miniature, as the packaging bears them."""
    size = letters.size_for_cap("condensed", box.height / 1.6)
    pen.fill(symbol("packaging").fitted(Box(box.x, box.y, box.height, box.height).grown(-0.06 * box.height)), BLACK)
    pen.text(box.x + 1.15 * box.height, box.y + 0.19 * box.height, code, "condensed", size, BLACK)


def outlined(pen: Pen, box: Box, name: str) -> None:
    """Room that is left for something else: a dotted outline, and what for where the words go in."""
    if min(box.width, box.height) <= 0:
        return
    pen.stroke(rectangle(box), grey(50), 0.2, dash=(0.3, 0.9))
    if not name:
        return
    words = [name, *name.rsplit(" ", 1)]
    for rows in ([name], words[1:]):
        wide = max(letters.width(row, "condensed-regular", SMALL) for row in rows)
        if wide + 1.5 <= box.width and box.height >= SMALL * 1.3 * len(rows):
            for n, row in enumerate(rows):
                x = box.centre.x - letters.width(row, "condensed-regular", SMALL) / 2
                y = box.centre.y + SMALL * (0.6 * (len(rows) - 1) - 1.2 * n - 0.33)
                line(pen, x, y, row, SMALL, "condensed-regular", grey(60))
            return


def taped(pen: Pen, box: Box) -> None:
    """The tape that closes a box."""
    if min(box.width, box.height) <= 0:
        return
    pen.stroke(rectangle(box), grey(35), 0.12)
