"""Step 6: strokes to SVG. Millimetre size, one user unit per mm; y runs up everywhere else and is turned over here."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Any

from layouts.geometry import Path, Transform
from layouts.ink import Ink
from layouts.letters import check_glyphs, glyph, outline, width
from layouts.units import number

_FAMILY = {
    "regular": ("Fira Sans", 400),
    "bold": ("Fira Sans", 700),
    "condensed": ("Fira Sans Condensed", 700),
    "condensed-regular": ("Fira Sans Condensed", 400),
}


def _n(value: float) -> str:
    return number(value, 3)


@lru_cache(maxsize=8192)
def _letter(ch: str, font: str, size: float) -> tuple[float, float, str] | None:
    """Where a letter's outline begins, right and down of its origin, and the rest in relative steps; None for a space.

    Steps are differences of rounded places, so that no rounding adds up.
    """
    path = glyph(ch, font).transformed(Transform(size, 0, 0, -size, 0, 0))
    if not path:
        return None
    first = path[0].points[0]
    at = start = (0, 0)
    parts = []
    for op, points in path:
        places = [(round((p.x - first.x) * 1000), round((p.y - first.y) * 1000)) for p in points]
        if op != "M" or parts:
            steps = " ".join(f"{_n((a - at[0]) / 1000)} {_n((b - at[1]) / 1000)}" for a, b in places)
            parts.append(op.lower() + steps)
        if op == "Z":
            at = start
        else:
            at = places[-1]
            start = at if op == "M" else start
    return first.x, first.y, "".join(parts)


class SvgPen:
    """Draws one sheet of ``width`` x ``height`` mm; ``tostring()`` gives the whole file.

    text: ``outlines`` (default: looks the same everywhere, no font needed) or ``live`` (stays text; the fonts must be
    installed where it is opened). Groups carry a unique id and a title. No script, style sheet or reference outside.
    """

    def __init__(
        self, width: float, height: float, *, text: str = "outlines", title: str = "", lang: str = "en"
    ) -> None:
        import svgwrite

        if text not in ("outlines", "live"):
            raise ValueError(f"text is drawn as outlines or live, not {text!r}")
        self._height, self._live = height, text == "live"
        self._drawing = svgwrite.Drawing(
            size=(f"{_n(width)}mm", f"{_n(height)}mm"), viewBox=f"0 0 {_n(width)} {_n(height)}", debug=False
        )
        self._drawing["xml:lang"] = lang
        if title:
            self._drawing.set_desc(title=title)
        self._open: list[Any] = [self._drawing]
        self._idents: set[str] = set()

    def _data(self, path: Path) -> str:
        parts = []
        for op, points in path:
            parts.append(op + " ".join(f"{_n(p.x)} {_n(self._height - p.y)}" for p in points))
        return "".join(parts)

    def _add(self, element: Any) -> None:
        self._open[-1].add(element)

    def fill(self, path: Path, ink: Ink) -> None:
        self._add(self._drawing.path(d=self._data(path), fill=ink.hex))

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
        extra: dict[str, str] = {}
        if cap != "butt":
            extra["stroke_linecap"] = cap
        if join == "miter":
            extra["stroke_miterlimit"] = "10"
        else:
            extra["stroke_linejoin"] = join
        if dash:
            extra["stroke_dasharray"] = " ".join(map(_n, dash))
        self._add(self._drawing.path(d=self._data(path), fill="none", stroke=ink.hex, stroke_width=_n(width), **extra))

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        check_glyphs(text, font)
        if not self._live:
            if turn % 360:
                self.fill(
                    outline(text, font, size).transformed(Transform.turned(turn).then(Transform.moved(x, y))), ink
                )
            else:
                self._add(self._drawing.path(d=self._outlines(x, y, text, font, size), fill=ink.hex))
            return
        family, weight = _FAMILY[font]
        at = (_n(x), _n(self._height - y))
        extra = {"transform": f"rotate({_n(-turn)} {at[0]} {at[1]})"} if turn % 360 else {}
        line = self._drawing.text(
            text,
            x=[at[0]],
            y=[at[1]],
            fill=ink.hex,
            font_family=f"{family}, sans-serif",
            font_weight=weight,
            font_size=_n(size),
            font_kerning="none",
            **extra,
        )
        line["xml:space"] = "preserve"
        self._add(line)

    def _outlines(self, x: float, y: float, text: str, font: str, size: float) -> str:
        """Upright text as path data: each letter begins at its place and goes on in steps worked out once."""
        parts = []
        for ch in text:
            if (drawn := _letter(ch, font, size)) is not None:
                right, down, steps = drawn
                parts.append(f"M{_n(x + right)} {_n(self._height - y + down)}{steps}")
            x += width(ch, font, size)
        return "".join(parts)

    def begin(self, ident: str, title: str = "") -> None:
        """Open a group; an id already taken gets a number: ids stay unique in the file."""
        name = re.sub(r"[^A-Za-z0-9_.-]+", "-", ident).strip("-") or "part"
        if not name[0].isalpha():
            name = f"p-{name}"
        unique, count = name, 1
        while unique in self._idents:
            count += 1
            unique = f"{name}-{count}"
        self._idents.add(unique)
        part = self._drawing.g(id=unique)
        if title:
            part.set_desc(title=title)
        self._add(part)
        self._open.append(part)

    def end(self) -> None:
        if len(self._open) == 1:
            raise ValueError("a group was closed that was never opened")
        self._open.pop()

    def tostring(self) -> str:
        """The file, with its XML declaration. ValueError while a group is open."""
        if len(self._open) > 1:
            raise ValueError(f"{len(self._open) - 1} group(s) still open")
        return '<?xml version="1.0" encoding="utf-8"?>\n' + self._drawing.tostring() + "\n"
