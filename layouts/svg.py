"""Step 6: strokes to SVG. Millimetre size, one user unit per mm; y runs up everywhere else and is turned over here.

What is drawn often is kept once, in the file's ``defs``, and referred to: each letter in its font's own units, and each
drawing a sheet places by ``stored``.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any

from layouts.geometry import Box, Path, Transform
from layouts.ink import Ink
from layouts.letters import check_glyphs, font_measures, opened, set_in
from layouts.pen import Pen
from layouts.units import number

_FAMILY = {
    "regular": ("Fira Sans", 400),
    "bold": ("Fira Sans", 700),
    "condensed": ("Fira Sans Condensed", 700),
    "condensed-regular": ("Fira Sans Condensed", 400),
    "wide": ("FiraGO", 400),
    "wide-bold": ("FiraGO", 700),
    "wide-armenian": ("Noto Sans Armenian", 400),
    "wide-armenian-bold": ("Noto Sans Armenian", 700),
}
#: Ids of letters begin with ``_``, which no group's id does.
_SHORT = {
    "regular": "_r", "bold": "_b", "condensed": "_c", "condensed-regular": "_n",
    "wide": "_w", "wide-bold": "_x", "wide-armenian": "_y", "wide-armenian-bold": "_z",
}  # fmt: skip

#: Between two of these the tree says which line of letters stands there: they make four elements of five, and are written
#: as they are kept. No XML file may hold this sign.
_LINE = "\0"


def _n(value: float) -> str:
    return number(value, 3)


def _steps(*thousandths: int) -> str:
    """Thousandths of a mm as mm, no character wasted: ``12.5-.25 3``."""
    out = ""
    for value in thousandths:
        text = _step(value)
        out += text if not out or text[0] == "-" else f" {text}"
    return out


@lru_cache(maxsize=8192)
def _step(thousandths: int) -> str:
    text = number(thousandths / 1000, 3)
    return text.replace("0.", ".", 1) if abs(thousandths) < 1000 else text


def _matrix(a: float, b: float, c: float, d: float, e: float, f: float) -> str:
    return f"matrix({' '.join(number(v, 7) for v in (a, b, c, d))} {_n(e)} {_n(f)})"


@cache
def _letter(ch: str, font: str) -> str:
    """A letter's outline as path data in the font's units, y up; empty for a space."""
    from fontTools.pens.svgPathPen import SVGPathPen

    glyphs, cmap, _ = opened(font)
    pen = SVGPathPen(glyphs)
    glyphs[cmap[ord(ch)]].draw(pen)
    return str(pen.getCommands())


@lru_cache(maxsize=4096)
def _set_out(text: str, font: str) -> tuple[str, dict[str, str]]:
    """What refers to the letters of a line, as the file says it; and those that are seen, by the ids they are kept under."""
    em, advances, at = opened(font)[2], font_measures(font).advances, 0.0
    said, seen = "", {}
    for ch in text:
        if _letter(ch, font):
            name = f"{_SHORT[font]}{ord(ch):x}"
            seen[name] = ch
            said += f'<use xlink:href="#{name}" x="{number(at, 1)}" />' if at else f'<use xlink:href="#{name}" />'
        at += advances[ord(ch)] * em
    return said, seen


class _Element:
    """An element made without svgwrite's help, for there are thousands of letters on a page."""

    def __init__(self, xml: ET.Element) -> None:
        self._xml = xml

    def get_xml(self) -> ET.Element:
        return self._xml


class SvgPen:
    """Draws one sheet of ``width`` x ``height`` mm; ``tostring()`` gives the whole file.

    text: ``outlines`` (default: looks the same everywhere, no font needed) or ``live`` (stays text; the fonts must be
    installed where it is opened). Groups carry a unique id and a title. No script, style sheet or reference outside the
    file.
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
        self._kept: set[str] = set()
        self._lines: list[str] = []

    def _data(self, path: Path) -> str:
        """Path data in steps from point to point; each is a difference of rounded places, so no rounding adds up."""
        parts: list[str] = []
        x = y = first_x = first_y = at = 0
        xs = [round(v * 1000) for v in path.xy[::2]]
        ys = [round((self._height - v) * 1000) for v in path.xy[1::2]]
        for op in path.ops:
            if op == "Z":
                parts.append("z")
                x, y = first_x, first_y
                continue
            to = at + (3 if op == "C" else 1)
            if op == "M":
                first_x, first_y = xs[at], ys[at]
                parts.append(f"M{_steps(first_x, first_y)}")
            elif op == "C":
                (x1, x2, x3), (y1, y2, y3) = xs[at:to], ys[at:to]
                parts.append(f"c{_steps(x1 - x, y1 - y, x2 - x, y2 - y, x3 - x, y3 - y)}")
            elif ys[at] == y:
                parts.append(f"h{_steps(xs[at] - x)}")
            elif xs[at] == x:
                parts.append(f"v{_steps(ys[at] - y)}")
            else:
                parts.append(f"l{_steps(xs[at] - x, ys[at] - y)}")
            x, y, at = xs[to - 1], ys[to - 1], to
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
        font = set_in(text, font)
        if not self._live:
            self._add(self._outlines(x, y, text, font, size, ink, turn))
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
            style="font-kerning:none;font-variant-ligatures:none",  # set by advances alone, as all measuring is
            **extra,
        )
        line["xml:space"] = "preserve"
        self._add(line)

    def _outlines(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, turn: float) -> _Element:
        """A line of text as references to letters kept once; they stand by their advances, in the font's units."""
        k = size / opened(font)[2]
        a, b, c, d, _, _ = Transform.turned(turn)
        line = ET.Element("g", fill=ink.hex)
        line.set("transform", _matrix(a * k, -b * k, c * k, -d * k, x, self._height - y))
        said, seen = _set_out(text, font)
        for name, ch in seen.items():
            if name not in self._kept:
                self._kept.add(name)
                self._drawing.defs.add(_Element(ET.Element("path", id=name, d=_letter(ch, font))))
        if said:
            line.text = f"{_LINE}{len(self._lines)}{_LINE}"
            self._lines.append(said)
        return _Element(line)

    def stored(self, key: str, box: Box, draw: Callable[[Pen], None], at: Transform) -> None:
        """Place the drawing ``key`` by ``at``. ``draw`` draws it once; then it is referred to."""
        if key not in self._kept:
            self._kept.add(key)
            kept = self._drawing.g(id=key)
            held, self._height = self._height, 0.0
            self._open.append(kept)
            draw(self)
            self._open.pop()
            self._height = held
            self._drawing.defs.add(kept)
        placed = ET.Element("use", {"xlink:href": f"#{key}"})
        placed.set("transform", _matrix(at.a, -at.b, -at.c, at.d, at.e, self._height - at.f))
        self._add(_Element(placed))

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
        # svgwrite's own tostring goes by way of bytes: an encoder asked for every attribute
        tree = ET.tostring(self._drawing.get_xml(), encoding="unicode")
        drawing = re.sub(f"{_LINE}([0-9]+){_LINE}", lambda found: self._lines[int(found[1])], tree)
        return f'<?xml version="1.0" encoding="utf-8"?>\n{drawing}\n'
