"""Marks with a hatched edge: excepted quantities, batteries."""

from __future__ import annotations

from functools import cache

from msgspec import Struct

from layouts import letters
from layouts.artwork.base import RECTANGLE, Dimension
from layouts.artwork.symbols import symbol
from layouts.artwork.symbols.solid import box, polygon
from layouts.geometry import Box, Path, Point, rectangle
from layouts.ink import BLACK, RED, WHITE, Ink
from layouts.pen import Pen, group


@cache
def hatching(width: float, height: float, band: float, pitch: float) -> Path:
    """Slanting stripes round the inside of a rectangle's edge, ``band`` mm wide; ``pitch`` mm along the edge from one
    to the next, half ink, half ground, stretched so that whole stripes fill both edges: two corners are met alike, as
    are the others.
    """
    px, py = width / round(width / pitch), height / round(height / pitch)
    frame = box(0, 0, width, height) - box(band, band, width - band, height - band)
    beyond = 1.0

    def at(value: float, y: float) -> tuple[float, float]:
        """The point of height y on the line x / px + y / py = value."""
        return (value - y / py) * px, y

    out = Path()
    for k in range(round(width / px) + round(height / py)):
        low, high = at(k + 0.25, -beyond), at(k + 0.75, -beyond)
        stripe = polygon(low, high, at(k + 0.75, height + beyond), at(k + 0.25, height + beyond))
        out += (stripe & frame).path()
    return out


class ExceptedQuantity(Struct, frozen=True):
    """The excepted quantity mark (UN Model Regulations 3.5.4.2, from memory; 49 CFR 173.4a(g)): hatching and sign of
    one colour, black or red. words: the class or classes; a name or nothing. Weights, and the sign's size, are
    ours."""

    side_mm: float
    words: tuple[str, ...]
    ink: Ink = RED
    step: int = 0
    note: str = ""

    shape = RECTANGLE
    side = None
    bleeds = False
    reduced = False

    @property
    def width(self) -> float:
        return self.side_mm

    height = width

    @property
    def colour(self) -> bool:
        return self.ink is not BLACK

    def draw(self, pen: Pen) -> None:
        s = self.side_mm
        u = s / 100
        name = letters.fit([self.name], 76 * u, 14 * u, 2.0, max_cap=5 * u) if self.name else None
        classes = letters.fit([self.words[0]], 76 * u, 9 * u, 2.0, max_cap=8 * u)
        foot = (15.5 if name else 22) * u + (name.height + 4.5 * u if name else 0.0)
        top = s - 14 * u
        size = min(48 * u, top - foot - classes.height - 5 * u)
        with group(pen, "excepted-quantity", "Excepted quantity"):
            pen.fill(rectangle(Box(0, 0, s, s)), WHITE)
            with group(pen, "hatching", "Hatched edge"):
                pen.fill(hatching(s, s, 8 * u, 10 * u), self.ink)
            with group(pen, "sign", "Sign"):
                pen.fill(symbol("excepted").fitted(Box((s - size) / 2, top - size, size, size)), self.ink)
            with group(pen, "words", "Class and name"):
                self._set(pen, classes, foot)
                if name:
                    self._set(pen, name, 15.5 * u)

    @property
    def name(self) -> str:
        return self.words[1] if len(self.words) > 1 else ""

    def _set(self, pen: Pen, text: letters.Fitted, foot: float) -> None:
        """Lines about the middle, the last one's baseline at ``foot``."""
        for i, line in enumerate(text.lines):
            x = (self.width - letters.width(line, text.font, text.size)) / 2
            y = foot + (len(text.lines) - 1 - i) * text.leading
            pen.text(x, y, line, text.font, text.size, BLACK)

    def draw_bleed(self, pen: Pen, by: float) -> None:
        """Nothing runs over the edge."""

    def dimensions(self) -> tuple[Dimension, ...]:
        return (Dimension("side", Point(0, 0), Point(self.side_mm, 0)),)


class BatteryMark(Struct, frozen=True):
    """The battery mark (UN Model Regulations 5.2.1.9, from memory; 49 CFR 173.185(c)(3)): red hatching, the rest black.

    words: the UN number or numbers, then nothing or a telephone number. hatch: the least width of the hatching, mm.
    """

    width: float
    height: float
    hatch: float
    words: tuple[str, ...]
    step: int = 0
    note: str = ""
    reduced: bool = False

    shape = RECTANGLE
    side = None
    colour = True
    bleeds = False

    def draw(self, pen: Pen) -> None:
        w, h, edge = self.width, self.height, self.hatch
        with group(pen, "battery", "Battery mark"):
            pen.fill(rectangle(Box(0, 0, w, h)), WHITE)
            with group(pen, "hatching", "Hatched edge"):
                pen.fill(hatching(w, h, edge, 2 * edge), RED)
            text_height = 0.13 * h
            foot = edge + 0.07 * h
            lines = [t for t in self.words if t]
            fitted = letters.fit(lines, w - 2 * edge - 10, 0.32 * h, 2.5, max_cap=text_height)
            y = foot + (len(fitted.lines) - 1) * fitted.leading
            with group(pen, "words", "UN numbers"):
                for i, line in enumerate(fitted.lines):
                    x = w / 2 - letters.width(line, fitted.font, fitted.size) / 2
                    pen.text(x, y - i * fitted.leading, line, fitted.font, fitted.size, BLACK)
            bottom = y + fitted.rise + 0.06 * h
            room = Box(edge + 6, bottom, w - 2 * edge - 12, h - edge - 0.06 * h - bottom)
            with group(pen, "battery-group", "Battery group, one broken and burning"):
                pen.fill(symbol("battery_group").fitted(room, rise=0.5), BLACK)

    def draw_bleed(self, pen: Pen, by: float) -> None:
        """Nothing runs over the edge."""

    def dimensions(self) -> tuple[Dimension, ...]:
        return (
            Dimension("width", Point(0, 0), Point(self.width, 0)),
            Dimension("height", Point(self.width, 0), Point(self.width, self.height)),
            Dimension("hatch", Point(0, self.height / 2), Point(self.hatch, self.height / 2)),
        )
