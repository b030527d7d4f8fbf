"""Step 6: strokes to SVG. Millimetre size, one user unit per mm; y runs up everywhere else and is turned over here.

What is drawn often is kept once, in the file's ``defs``, and referred to: each letter in its font's own units, and each
drawing a sheet places by ``stored``.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from functools import cache, lru_cache
from xml.sax.saxutils import escape

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
def _set_out(text: str, font: str) -> tuple[tuple[tuple[str, str], ...], str]:
    """The letters of a line that are seen, each once with the id under which it is kept; and what refers to them in turn."""
    em, advances, at = opened(font)[2], font_measures(font).advances, 0.0
    letters: dict[str, str] = {}
    uses = []
    for ch in text:
        if _letter(ch, font):
            letters[ch] = name = f"{_SHORT[font]}{ord(ch):x}"
            uses.append(f'<use xlink:href="#{name}" x="{number(at, 1)}" />' if at else f'<use xlink:href="#{name}" />')
        at += advances[ord(ch)] * em
    return tuple(letters.items()), "".join(uses)


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
        self._defs: list[str] = []
        self._open: list[list[str]] = [[]]
        self._idents: set[str] = set()
        self._kept: set[str] = set()

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

    def _add(self, element: str) -> None:
        self._open[-1].append(element)

    def fill(self, path: Path, ink: Ink) -> None:
        self._add(f'<path d="{self._data(path)}" fill="{ink.hex}" />')

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
        dashes = f' stroke-dasharray="{" ".join(map(_n, dash))}"' if dash else ""
        ends = f' stroke-linecap="{cap}"' if cap != "butt" else ""
        corners = ' stroke-miterlimit="10"' if join == "miter" else f' stroke-linejoin="{join}"'
        self._add(
            f'<path d="{self._data(path)}" fill="none" stroke="{ink.hex}"{dashes}{ends}{corners} stroke-width="{_n(width)}" />'
        )

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        check_glyphs(text, font)
        font = set_in(text, font)
        if not self._live:
            if text.strip():
                self._add(self._outlines(x, y, text, font, size, ink, turn))
            return
        family, weight = _FAMILY[font]
        at_x, at_y = _n(x), _n(self._height - y)
        turned = f' transform="rotate({_n(-turn)} {at_x} {at_y})"' if turn % 360 else ""
        # set by advances alone, as all measuring is
        plain = "font-kerning:none;font-variant-ligatures:none"
        self._add(
            f'<text fill="{ink.hex}" font-family="{family}, sans-serif" font-size="{_n(size)}" font-weight="{weight}" '
            f'style="{plain}"{turned} x="{at_x}" xml:space="preserve" y="{at_y}">{escape(text)}</text>'
        )

    def _outlines(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, turn: float) -> str:
        """A line of text as references to letters kept once; they stand by their advances, in the font's units."""
        k = size / opened(font)[2]
        a, b, c, d, _, _ = Transform.turned(turn)
        at = _matrix(a * k, -b * k, c * k, -d * k, x, self._height - y)
        letters, uses = _set_out(text, font)
        for ch, name in letters:
            if name not in self._kept:
                self._kept.add(name)
                self._defs.append(f'<path id="{name}" d="{_letter(ch, font)}" />')
        return f'<g fill="{ink.hex}" transform="{at}">{uses}</g>'

    def stored(self, key: str, box: Box, draw: Callable[[Pen], None], at: Transform) -> None:
        """Place the drawing ``key`` by ``at``. ``draw`` draws it once; then it is referred to."""
        if key not in self._kept:
            self._kept.add(key)
            held, self._height = self._height, 0.0
            self._open.append([f'<g id="{key}">'])
            draw(self)
            self._defs.append(_closed(self._open.pop()))
            self._height = held
        to = _matrix(at.a, -at.b, -at.c, at.d, at.e, self._height - at.f)
        self._add(f'<use xlink:href="#{key}" transform="{to}" />')

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
        self._open.append([f'<g id="{unique}">'])
        if title:
            self._add(f"<title>{escape(title)}</title>")

    def end(self) -> None:
        if len(self._open) == 1:
            raise ValueError("a group was closed that was never opened")
        part = _closed(self._open.pop())
        self._add(part)

    def tostring(self) -> str:
        """The file, with its XML declaration. ValueError while a group is open."""
        if len(self._open) > 1:
            raise ValueError(f"{len(self._open) - 1} group(s) still open")
        # svgwrite's own tostring goes by way of bytes, and it would hold an object for each of thousands of letters
        before, empty, after = ET.tostring(self._drawing.get_xml(), encoding="unicode").rpartition("<defs />")
        kept = f"<defs>{''.join(self._defs)}</defs>" if self._defs else empty
        return f'<?xml version="1.0" encoding="utf-8"?>\n{before}{kept}{"".join(self._open[0])}{after}\n'


def _closed(parts: list[str]) -> str:
    """A group from its opening tag on."""
    if len(parts) == 1:
        return parts[0].removesuffix(">") + " />"
    return "".join((*parts, "</g>"))
