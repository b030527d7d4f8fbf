"""The pen: how artwork draws without knowing a file format.

A pen MUST take fills, strokes, text and groups; it MAY ignore groups; it NEVER changes what it is given. Lengths are mm,
y runs up. SVG, PDF, recording and bounds are pens; so is a pen that transforms and hands on.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

from layouts.geometry import Path, Transform
from layouts.ink import Ink

#: The fonts text may be set in: ``regular``, ``bold``, ``condensed`` (bold condensed), ``condensed-regular``.
FONTS = ("regular", "bold", "condensed", "condensed-regular")


class Pen(Protocol):
    """What artwork draws on. Lengths and places in mm, y up; every pen takes these strokes and no others."""

    def fill(self, path: Path, ink: Ink) -> None:
        """Fill by the non-zero rule."""

    def stroke(
        self,
        path: Path,
        ink: Ink,
        width: float,
        *,
        cap: str = "butt",
        join: str = "miter",
        dash: tuple[float, ...] = (),
    ) -> None:
        """Stroke a path ``width`` mm wide; cap butt, round or square; join miter, round or bevel."""

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        """One line of text, its baseline starting at x, y; ``size`` is the em in mm; turned anticlockwise by ``turn`` degrees."""

    def begin(self, ident: str, title: str = "") -> None:
        """Open a named group (an SVG group with an id and a title)."""

    def end(self) -> None:
        """Close the group opened last."""


@contextmanager
def group(pen: Pen, ident: str, title: str = "") -> Iterator[Pen]:
    """``with group(pen, "inner-line", "Inner line"): ...``"""
    pen.begin(ident, title)
    try:
        yield pen
    finally:
        pen.end()


class TransformPen:
    """Hands everything on to another pen, transformed; line widths scale with it, and so do letters, which become paths where
    they are sheared."""

    def __init__(self, pen: Pen, by: Transform) -> None:
        import math

        self.pen, self.by, self._scale = pen, by, by.scale
        self._turn = math.degrees(math.atan2(by.b, by.a))

    def fill(self, path: Path, ink: Ink) -> None:
        self.pen.fill(path.transformed(self.by), ink)

    def stroke(
        self,
        path: Path,
        ink: Ink,
        width: float,
        *,
        cap: str = "butt",
        join: str = "miter",
        dash: tuple[float, ...] = (),
    ) -> None:
        k = self._scale
        self.pen.stroke(path.transformed(self.by), ink, width * k, cap=cap, join=join, dash=tuple(d * k for d in dash))

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        if not self.by.similar:
            from layouts.letters import outline

            self.fill(outline(text, font, size).transformed(Transform.turned(turn).then(Transform.moved(x, y))), ink)
            return
        p = self.by.point(x, y)
        self.pen.text(p.x, p.y, text, font, size * self._scale, ink, turn=turn + self._turn)

    def begin(self, ident: str, title: str = "") -> None:
        self.pen.begin(ident, title)

    def end(self) -> None:
        self.pen.end()
