"""Measure arrows: a length shown beside the drawing it belongs to, the way a working drawing shows it.

Long lengths get a line of their own outside the drawing, between two witness lines. Short ones (an inset, a line's
thickness) get two arrows that point at them from outside, and a tail that leads out to the figure.
"""

from __future__ import annotations

import math

from msgspec import Struct

from layouts import letters
from layouts.geometry import Box, Point, polygon, polyline, rectangle
from layouts.ink import BLACK, WHITE
from layouts.pen import Pen

SIZE = 3.0  # em of a figure, mm
_WEIGHT, _HALO = 0.2, 0.8
_LONG = 20.0  # mm: a shorter length has no room for its figure between the arrows
_OFFSET = 7.0  # from the drawing to a long length's line
BEYOND = 5.0  # how far a short length's tail leads out of the drawing


class Outline(Struct, frozen=True):
    """The edge of a drawing: an upright rectangle, or the square on its point inside it."""

    box: Box
    on_point: bool

    def holds(self, p: Point) -> bool:
        if not self.on_point:
            return self.box.contains(Box(p.x, p.y, 0, 0))
        c = self.box.centre
        return abs(p.x - c.x) + abs(p.y - c.y) <= self.box.width / 2 + 1e-6

    def way_out(self, p: Point, ux: float, uy: float) -> float:
        """How far from p in the direction (ux, uy) the drawing ends, mm; 0 if p is outside."""
        far = 0.0
        while self.holds(Point(p.x + ux * far, p.y + uy * far)) and far < 1000:
            far += 0.25
        return far


def arrow(pen: Pen, a: Point, b: Point, text: str, outline: Outline, aside: float = 0.0, beyond: float = BEYOND) -> Box:
    """Draw the length from a to b with its figure; returns the box of the figure.

    aside: a short length is drawn this far to the right of the way from a to b, mm. beyond: how far its tail leads out.
    """
    if math.dist(a, b) >= _LONG:
        return _long(pen, a, b, text, outline)
    return _short(pen, a, b, text, outline, aside, beyond)


def _long(pen: Pen, a: Point, b: Point, text: str, outline: Outline) -> Box:
    long = math.dist(a, b)
    ux, uy = (b.x - a.x) / long, (b.y - a.y) / long
    c = outline.box.centre
    nx, ny = -uy, ux
    if ((a.x + b.x) / 2 - c.x) * nx + ((a.y + b.y) / 2 - c.y) * ny < 0:
        nx, ny = uy, -ux
    p, q = (Point(e.x + nx * _OFFSET, e.y + ny * _OFFSET) for e in (a, b))
    for e in (a, b):
        ends = [(e.x + nx * k, e.y + ny * k) for k in (1.5, _OFFSET + 1.5)]
        pen.stroke(polyline(ends), BLACK, _WEIGHT)
    pen.stroke(polyline([p, q]), BLACK, _WEIGHT)
    _head(pen, p, -ux, -uy)
    _head(pen, q, ux, uy)
    turn = math.degrees(math.atan2(uy, ux))
    if turn > 90 or turn <= -90:
        turn -= math.copysign(180, turn)
    r = math.radians(turn)
    wide, up = letters.width(text, "bold", SIZE), 1.2
    # above the line as one reads it: on whichever side that lies
    x = (p.x + q.x) / 2 - math.cos(r) * wide / 2 - math.sin(r) * up
    y = (p.y + q.y) / 2 - math.sin(r) * wide / 2 + math.cos(r) * up
    pen.text(x, y, text, "bold", SIZE, BLACK, turn=turn)
    return Box(min(x, x + math.cos(r) * wide), min(y, y + math.sin(r) * wide), wide, wide)


def _short(pen: Pen, a: Point, b: Point, text: str, outline: Outline, aside: float, beyond: float) -> Box:
    long = math.dist(a, b)
    ux, uy = (b.x - a.x) / long, (b.y - a.y) / long
    sx, sy = (uy * aside, -ux * aside)
    for p in (a, b) if aside else ():
        pen.stroke(polyline([p, (p.x + sx, p.y + sy)]), BLACK, _WEIGHT / 2)
    a, b = Point(a.x + sx, a.y + sy), Point(b.x + sx, b.y + sy)
    away = aside and not outline.holds(a)  # beside the drawing: no tail, the figure to the left
    ahead, behind = outline.way_out(b, ux, uy), outline.way_out(a, -ux, -uy)
    if behind <= ahead:  # the tail leads out the shorter way
        a, b, ux, uy, ahead = b, a, -ux, -uy, behind
    tail = 4.5 if away else ahead + beyond
    end = Point(b.x + ux * tail, b.y + uy * tail)
    start = Point(a.x - ux * 4.5, a.y - uy * 4.5)
    for ink, width in ((WHITE, _HALO), (BLACK, _WEIGHT)):
        pen.stroke(polyline([start, a]), ink, width)
        pen.stroke(polyline([b, end]), ink, width)
        for e in (a, b):
            pen.stroke(polyline([(e.x - uy * 2, e.y + ux * 2), (e.x + uy * 2, e.y - ux * 2)]), ink, width)
    _head(pen, a, ux, uy)
    _head(pen, b, -ux, -uy)
    wide, cap = letters.width(text, "bold", SIZE), letters.cap_height("bold") * SIZE
    if away:
        x, y = a.x - 3 - wide, (a.y + b.y - cap) / 2
    elif abs(ux) > 0.3:
        x = end.x + 1 if ux > 0 else end.x - 1 - wide
        y = end.y - cap / 2
    else:
        off_centre = outline.on_point and end.x > outline.box.centre.x
        x = end.x - (1 if off_centre else wide / 2)  # beside a slanting edge the figure stands clear of it
        y = end.y + 1.2 if uy > 0 else end.y - 1.2 - cap
    box = Box(x, y, wide, cap)
    pen.fill(rectangle(box.grown(0.8)), WHITE)
    pen.text(x, y, text, "bold", SIZE, BLACK)
    return box


def _head(pen: Pen, tip: Point, ux: float, uy: float) -> None:
    """An arrowhead whose tip lies at ``tip`` and which points along (ux, uy)."""
    long, half = 2.4, 0.55
    base = Point(tip.x - ux * long, tip.y - uy * long)
    corners = [tip, (base.x - uy * half, base.y + ux * half), (base.x + uy * half, base.y - ux * half)]
    pen.stroke(polygon(corners), WHITE, 0.5)
    pen.fill(polygon(corners), BLACK)
