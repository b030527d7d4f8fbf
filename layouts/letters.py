"""Text: how wide it runs, how it wraps, how large it may be, and its outlines.

Four fonts (``pen.FONTS``): ``regular``, ``bold``, ``condensed`` (bold condensed) and ``condensed-regular``: Fira Sans
and Fira Sans Condensed, OFL 1.1, installed as packages of their own. Letters are set by their advance widths alone,
without kerning, so that every writer sets the same line. Widths come from ``letters.json`` (made by ``letters_build``);
only ``outline`` opens a font. With the extra ``fonts`` installed a line with a letter Fira Sans lacks (Georgian, Armenian)
is set as a whole in a wider font: see ``set_in`` and ``wider.py``. A size is an em in mm; the law's letter heights are
heights of capitals and figures: ``size_for_cap`` and ``size_for_least`` turn one into the other.
"""

from __future__ import annotations

import json
import math
import re
import unicodedata
from collections.abc import Sequence
from functools import cache, lru_cache
from pathlib import Path as FilePath
from typing import Any

from msgspec import Struct

from layouts.errors import DoesNotFit, MissingGlyph
from layouts.geometry import Path, Point, Segment, Transform
from layouts.units import number
from layouts.wider import PLAIN_SCRIPTS, STAND_INS, WIDER, wide_file, wider_fonts

METRICS = FilePath(__file__).with_name("letters.json")

_FILES = {
    "regular": ("fontpkg_fira_sans", "FiraSans-Regular.ttf"),
    "bold": ("fontpkg_fira_sans", "FiraSans-Bold.ttf"),
    "condensed": ("fontpkg_fira_sans_condensed", "FiraSansCondensed-Bold.ttf"),
    "condensed-regular": ("fontpkg_fira_sans_condensed", "FiraSansCondensed-Regular.ttf"),
}


class FontMeasures(Struct, frozen=True):
    """The measures of one font, in parts of the em; ``least`` is the height of its lowest capital or figure."""

    name: str
    cap: float
    least: float
    ascent: float
    descent: float
    advances: dict[int, float]


@cache
def _metrics() -> dict[str, Any]:
    return dict(json.loads(METRICS.read_text(encoding="ascii")))


@lru_cache(maxsize=2048)
def set_in(text: str, font: str) -> str:
    """The font a line is really set in: its own, or the first wider one where that alone has every letter of it."""
    if font in WIDER or _has_all(font, text) or not wider_fonts():
        return font
    return next((wider for wider in STAND_INS[font] if _has_all(wider, text)), font)


def _has_all(font: str, text: str) -> bool:
    known = font_measures(font).advances
    return all(ord(ch) in known for ch in text)


def _wide_measures(font: str) -> FontMeasures:
    """As the font file has them, for the scripts that need no shaping, and whatever is no letter."""
    _, cmap, em = opened(font)
    ttf = _opened_file(font)
    widths = ttf["hmtx"].metrics
    advances = {
        code: widths[name][0] / em
        for code, name in cmap.items()
        if unicodedata.category(chr(code))[0] not in "LM" or unicodedata.name(chr(code), "").startswith(PLAIN_SCRIPTS)
    }
    plain = font_measures("bold" if font.endswith("-bold") else "regular")
    name = ttf["name"].getDebugName(6)
    return FontMeasures(name, ttf["OS/2"].sCapHeight / em, plain.least, plain.ascent, plain.descent, advances)


@cache
def font_measures(font: str) -> FontMeasures:
    """The measures of ``font``. KeyError for a font that is none of ours."""
    if font in WIDER:
        return _wide_measures(font)
    m = _metrics()[font]
    em = m["em"]
    advances = {first + i: a / em for first, run in m["advances"] for i, a in enumerate(run)}
    return FontMeasures(m["name"], m["cap"] / em, m["least"] / em, m["ascent"] / em, m["descent"] / em, advances)


def font_file(font: str) -> FilePath:
    """The TrueType file of ``font``, as its package installed it."""
    from importlib.resources import files

    package, name = _FILES[font]
    return FilePath(str(files(package))) / "files" / name


@lru_cache(maxsize=2048)
def check_glyphs(text: str, font: str = "bold") -> None:
    """MissingGlyph, naming the first character of ``text`` that the font cannot draw, or only with letter shaping."""
    known = font_measures(set_in(text, font)).advances
    for at, ch in enumerate(text):
        if " " <= ch <= "~" and ord(ch) in known:
            continue
        shown = f"U+{ord(ch):04X} {unicodedata.name(ch, 'a character without a name')}"
        if ch in "\n\r\t" or unicodedata.category(ch) in ("Cc", "Cf", "Zl", "Zp"):
            raise MissingGlyph(ch, text, f"{text!r}: {shown} (character {at + 1}) is no printed sign; leave it out.")
        if unicodedata.combining(ch):
            why = f"{text!r}: {shown} (character {at + 1}) stands alone; write the accented letter as one character."
            raise MissingGlyph(ch, text, why)
        if ord(ch) not in known:
            more = "" if wider_fonts() else "; for Georgian and Armenian ones install the extra fonts"
            why = f"{text!r}: the font has no {shown} (character {at + 1}); write it in Latin, Greek or Cyrillic letters{more}."
            raise MissingGlyph(ch, text, why)


def width(text: str, font: str, size: float) -> float:
    """How far ``text`` runs, in mm, at an em of ``size`` mm. MissingGlyph as ``check_glyphs``."""
    return _ems(text, font) * size


@lru_cache(maxsize=4096)
def _ems(text: str, font: str) -> float:
    """How far ``text`` runs, in parts of the em: asked again and again while lines are tried."""
    known = font_measures(set_in(text, font)).advances
    try:
        return math.fsum([known[ord(ch)] for ch in text])
    except KeyError:
        check_glyphs(text, font)
        raise


def cap_height(font: str) -> float:
    """The height of a flat capital (H), in parts of the em: what one centres a line by."""
    return font_measures(font).cap


def size_for_cap(font: str, cap: float) -> float:
    """The em in mm at which a flat capital is ``cap`` mm high. Figures are a little lower: see ``size_for_least``."""
    return cap / font_measures(font).cap


def size_for_least(font: str, height: float) -> float:
    """The em in mm at which every capital and every figure is at least ``height`` mm high: the lowest, a 1, exactly so.

    What a legal height of letters asks for where figures count as letters, as in a UN number.
    """
    return height / font_measures(font).least


def _pieces(text: str) -> list[str]:
    """Where a line may turn: after a space; inside a long word after a hyphen, comma, slash, semicolon or ) or ]."""
    return re.findall(r"\s*[^\s\-‐,/;)\]]*(?:[\-‐,/;)\]]+|(?=\s|$))", text)


def _set(words: Sequence[tuple[str, float]], font: str, limit: float, hard: bool = False) -> list[str] | None:
    """Greedy lines no wider than ``limit`` ems: whole words, or pieces of a word too long (``hard``: single letters of it).
    words: each with the ems it runs. Letters stand where the last one ended, so a line runs as far as its words and spaces.

    None if one of those is wider still.
    """
    lines: list[str] = []
    line, long, space = "", 0.0, _ems(" ", font)
    for word, ems in words:
        if not line and ems <= limit:
            line, long = word, ems
            continue
        if line and long + space + ems <= limit:
            line, long = f"{line} {word}", long + space + ems
            continue
        if ems <= limit:
            lines.append(line)
            line, long = word, ems
            continue
        glue = " " if line else ""
        for piece in word if hard else filter(None, _pieces(word)):
            if long + (more := _ems(glue + piece, font)) <= limit:
                line, long = line + glue + piece, long + more
            else:
                if line:
                    lines.append(line)
                line, long = piece, _ems(piece, font)
                if long > limit:
                    return None
            glue = ""
    return [*lines, line] if line else lines


@lru_cache(maxsize=512)
def wrap(
    text: str, font: str, size: float, max_width: float, *, balance: bool = True, hard: bool = False
) -> tuple[str, ...]:
    """``text`` in as few lines as ``max_width`` mm allows; balanced: of nearly equal length.

    A word wider than the line is DoesNotFit; hard (for captions, never for marks): it is broken anywhere instead.
    MissingGlyph as ``check_glyphs``.
    """
    slack = 1e-9
    words = [(word, _ems(word, font)) for word in text.split()]
    lines = _set(words, font, (max_width + slack) / size)
    if lines is None and hard:
        lines = _set(words, font, (max_width + slack) / size, hard)
    if lines is None:
        widest = max((width(p.strip(), font, size) for p in _pieces(text)), default=0.0)
        raise DoesNotFit(
            f"{text!r}: a word of it is {number(widest, 1)} mm wide and the line {number(max_width, 1)} mm; "
            "a wider box, a narrower font or a smaller letter is needed.",
            (widest, size),
            (max_width, size),
        )
    if balance and len(lines) > 1:
        whole = [w for _, ems in words if (w := ems * size) <= max_width]
        low, high = max([max_width / len(lines) / 2, *whole]) - slack, max_width  # no word is broken for balance alone
        for _ in range(24):  # the narrowest column that still makes as many lines
            middle = (low + high) / 2
            trial = _set(words, font, (middle + slack) / size)
            if trial is not None and len(trial) == len(lines):
                lines, high = trial, middle
            else:
                low = middle
    return tuple(lines)


class Fitted(Struct, frozen=True):
    """A text set to fit: its lines top to bottom, font, em and baseline distance in mm, and the box it really takes.

    ``cap`` is the height promised of capitals and figures alike. The first baseline lies ``rise`` below the box's top.
    """

    lines: tuple[str, ...]
    font: str
    size: float
    cap: float
    leading: float
    width: float
    height: float

    @property
    def rise(self) -> float:
        return cap_height(self.font) * self.size


#: Baseline distance in parts of the cap height. Capitals have no descenders; accents and brackets need this much.
LEADING = 1.55


def _fitted(lines: Sequence[str], font: str, cap: float, max_width: float, leading: float) -> Fitted:
    size = size_for_least(font, cap)
    wrapped = tuple(w for line in lines for w in (wrap(line, font, size, max_width) or ("",)))
    step = cap * leading
    wide = max((width(w, font, size) for w in wrapped), default=0.0)
    return Fitted(wrapped, font, size, cap, step, wide, (len(wrapped) - 1) * step + cap_height(font) * size)


def fit(
    lines: Sequence[str],
    box_width: float,
    box_height: float,
    min_cap: float,
    *,
    max_cap: float | None = None,
    fonts: Sequence[str] = ("bold", "condensed"),
    leading: float = LEADING,
) -> Fitted:
    """Set ``lines`` (each may wrap) into a box as large as they go, letters ``min_cap`` to ``max_cap`` mm high.

    The first font in which they fit at all is taken. Never below ``min_cap``, never outside the box, never a lost
    glyph: DoesNotFit says what was needed at the least height in the last font; MissingGlyph names a character.
    """
    best = max(min_cap, max_cap if max_cap is not None else min_cap)

    def attempt(font: str, cap: float) -> Fitted | None:
        try:
            trial = _fitted(lines, font, cap, box_width, leading)
        except DoesNotFit:
            return None
        return trial if trial.height <= box_height + 1e-9 else None

    for font in fonts:
        for line in lines:
            check_glyphs(line, font)
        found = attempt(font, min_cap)
        if found is None:
            continue
        low, high = min_cap, best
        if largest := attempt(font, high):
            return largest
        while high - low > 0.01:
            middle = (low + high) / 2
            if trial := attempt(font, middle):
                found, low = trial, middle
            else:
                high = middle
        return found
    font = fonts[-1]
    size = size_for_least(font, min_cap)
    widest_word = max((width(p.strip(), font, size) for line in lines for p in _pieces(line)), default=0.0)
    needs = _fitted(lines, font, min_cap, max(box_width, widest_word), leading)
    raise DoesNotFit(
        f"{' / '.join(lines)!r} needs {number(needs.width, 1)} x {number(needs.height, 1)} mm with letters "
        f"{number(min_cap, 1)} mm high; there are {number(box_width, 1)} x {number(box_height, 1)} mm.",
        (needs.width, needs.height),
        (box_width, box_height),
    )


@cache
def opened(font: str) -> tuple[Any, Any, int]:
    """The font itself: its glyphs by name, names by character, and units to the em."""
    ttf = _opened_file(font)
    return ttf.getGlyphSet(), ttf.getBestCmap(), ttf["head"].unitsPerEm


@cache
def _opened_file(font: str) -> Any:
    import io

    from fontTools.ttLib import TTFont

    ttf = TTFont(io.BytesIO(wide_file(font)) if font in WIDER else font_file(font), lazy=True)
    # glyphs are asked for by their characters: made-up names spare reading thousands of true ones
    ttf.setGlyphOrder([f"glyph{n}" for n in range(ttf["maxp"].numGlyphs)])
    return ttf


@cache
def glyph(ch: str, font: str) -> Path:
    """The outline of one character, em 1, its quadratics turned into cubics (exact). KeyError where there is none."""
    from fontTools.pens.basePen import BasePen

    glyphs, cmap, em = opened(font)
    out: list[Segment] = []

    class Outline(BasePen):  # type: ignore[misc]  # fontTools states no types
        def _add(self, op: str, *points: tuple[float, float]) -> None:
            out.append(Segment(op, tuple(Point(x / em, y / em) for x, y in points)))

        def _moveTo(self, pt: tuple[float, float]) -> None:
            self._add("M", pt)

        def _lineTo(self, pt: tuple[float, float]) -> None:
            self._add("L", pt)

        def _curveToOne(self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]) -> None:
            self._add("C", pt1, pt2, pt3)

        def _closePath(self) -> None:
            self._add("Z")

    glyphs[cmap[ord(ch)]].draw(Outline(glyphs))
    return Path.of(out)


def outline(text: str, font: str, size: float) -> Path:
    """``text`` as one path, its baseline starting at the origin, em ``size`` mm. Opens the font.

    MissingGlyph as ``check_glyphs``.
    """
    check_glyphs(text, font)
    font = set_in(text, font)
    known = font_measures(font).advances
    letters: list[Path] = []
    x = 0.0
    for ch in text:
        letters.append(glyph(ch, font).transformed(Transform(size, 0, 0, size, x, 0)))
        x += known[ord(ch)] * size
    return Path.joined(letters)
