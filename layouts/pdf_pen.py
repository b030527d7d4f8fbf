"""The pen on a page of a PDF: strokes, letters and stored drawings as the file says them.

The library keeps account of pages, fonts, colours and objects; what is said again and again, numbers of a path, a line of
text, an ink, is written here at one go.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from reportlab.lib.rl_accel import escapePDF, fp_str

from layouts.geometry import Box, Path, Transform
from layouts.ink import Ink
from layouts.letters import check_glyphs, set_in
from layouts.pdf_objects import end_form
from layouts.pen import Pen, TransformPen
from layouts.probe import LASTING, RecordingPen, Text
from layouts.units import PT_PER_MM, pt

if TYPE_CHECKING:
    from layouts.pdf import PdfBook

_CAPS = {"butt": 0, "round": 1, "square": 2}
_OPERATORS = {"M": "%s %s m", "L": "%s %s l", "C": "%s %s %s %s %s %s c", "Z": "h"}
_AT_ONCE = 200
_JOINS = {"miter": 0, "round": 1, "bevel": 2}


def _numbers(values: Sequence[float]) -> list[str]:
    said: list[str] = []
    for at in range(0, len(values), _AT_ONCE):
        said += fp_str(*values[at : at + _AT_ONCE]).split(" ")
    return said


def _operators(path: Path) -> str:
    """A path as PDF says it; what is drawn on many pages is found as it was said the first time."""
    return _said(path) if len(path.ops) > _AT_ONCE else _said_before(path)


def _said(path: Path) -> str:
    """The numbers are written at one go, not one by one, and each of a long path once."""
    if len(path.xy) > _AT_ONCE:
        each = dict.fromkeys(path.xy)
        known = dict(zip(each, _numbers([v * PT_PER_MM for v in each]), strict=True))
        numbers: Iterable[str] = map(known.__getitem__, path.xy)
    else:
        numbers = _numbers([v * PT_PER_MM for v in path.xy])
    return _pattern(path.ops) % tuple(numbers)


_said_before = lru_cache(maxsize=2048)(_said)


@lru_cache(maxsize=128)
def _pattern(ops: str) -> str:
    """What stands between the numbers."""
    return " ".join(["n", *map(_OPERATORS.__getitem__, ops)])


@lru_cache(maxsize=256)
def _points(*mm: float) -> str:
    """A width, an em, dashes: the few that are said again and again, in points."""
    said: str = fp_str(*map(pt, mm)) if mm else ""
    return said


@lru_cache(maxsize=4096)
def _line(runs: tuple[tuple[str, bytes], ...], size: float, x: float, y: float, turn: float) -> str:
    """A line of text as PDF says it: the library's text object also keeps account of leading and cursor, which a line that
    is placed by itself has no use for. runs: what a subset is called, and the codes set in it; size: the em; x, y: mm."""
    way = fp_str(*Transform.turned(turn)[:4]) if turn else "1 0 0 1"
    em = _points(size)
    parts = (f"{name} {em} Tf ({escapePDF(codes)}) Tj" for name, codes in runs)
    return " ".join((f"BT {way} {fp_str(pt(x), pt(y))} Tm", *parts, "ET"))


class _Kept(NamedTuple):
    """What a form says, and the fonts it says it in; drawings come back from file to file, and then it is said again."""

    code: tuple[str, ...]
    fonts: tuple[str, ...]


_kept: OrderedDict[tuple[str, str, bool], _Kept] = OrderedDict()  # by key of the drawing, inks and outlines
_MOST_KEPT = 128


class PdfPen:
    """Draws on one page of a book. Beyond a pen's duties it can keep a drawing once and place it often: ``stored``."""

    def __init__(self, book: PdfBook, canvas: Any) -> None:
        self._book, self._canvas = book, canvas
        self._state: dict[str, object] = {}
        self._in_form = False
        self._fonts: dict[str, bool] = {}  # in the form that is being drawn: whether all it says in the font is ASCII

    def _now(self, what: str, value: object) -> bool:
        """Whether a part of the graphics state changes; the state is left unsaid where it already holds."""
        if self._state.get(what) == value:
            return False
        self._state[what] = value
        return True

    def _fill_ink(self, ink: Ink) -> None:
        if self._now("fill", ink):
            self._book.use(ink)

    def fill(self, path: Path, ink: Ink) -> None:
        self._fill_ink(ink)
        self._canvas._code += (_operators(path), "f")

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
        code = self._canvas._code
        if self._now("stroke", ink):
            self._book.use(ink, stroke=True)
        if self._now("width", width):
            code.append(f"{_points(width)} w")
        if self._now("cap", cap):
            code.append(f"{_CAPS[cap]} J")
        if self._now("join", join):
            code.append(f"{_JOINS[join]} j")
        if self._now("dash", dash):
            code.append(f"[{_points(*dash)}] 0 d")
        code += (_operators(path), "S")

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        if self._book.outlines:
            self.fill(Text(x, y, text, font, size, ink, turn).path, ink)
            return
        check_glyphs(text, font)
        font = set_in(text, font)
        self._fill_ink(ink)
        self._fonts[font] = self._fonts.get(font, True) and text.isascii()
        self._canvas._code.append(_line(self._book.in_subsets(text, font), size, x, y, turn))

    def stored(self, key: str, box: Box, draw: Callable[[Pen], None], at: Transform) -> None:
        """Place the drawing ``key`` by ``at``. ``draw`` draws it once, within ``box`` mm; then it is referred to."""
        canvas = self._canvas
        if self._in_form:  # forms do not nest here
            draw(TransformPen(self, at))
            return
        if not canvas.hasForm(key):
            canvas.beginForm(key, pt(box.x), pt(box.y), pt(box.right), pt(box.top))
            self._draw_form(key, draw)
            end_form(canvas, key)
        canvas.saveState()
        canvas.transform(at.a, at.b, at.c, at.d, pt(at.e), pt(at.f))
        canvas.doForm(key)
        canvas.restoreState()

    def _draw_form(self, key: str, draw: Callable[[Pen], None]) -> None:
        canvas, kept_as = self._canvas, (key, self._book.inks, self._book.outlines)
        if (known := _kept.get(kept_as)) is not None:
            _kept.move_to_end(kept_as)
            for font in known.fonts:
                self._book.carried(font)
            canvas._code += known.code
            return
        outside, self._state, self._in_form, self._fonts = self._state, {}, True, {}
        draw(self)
        self._state, self._in_form = outside, False
        # a separation, and a letter beyond ASCII, has a name or code of its own in every file
        if key.startswith(LASTING) and self._book.inks != "spot" and all(self._fonts.values()):
            _kept[kept_as] = _Kept(tuple(canvas._code), tuple(self._fonts))
            if len(_kept) > _MOST_KEPT:
                _kept.popitem(last=False)

    def kept(self, box: Box, draw: Callable[[Pen], None]) -> None:
        """Draw what other pages may have as well: the same strokes are stored once."""
        pen = RecordingPen()
        draw(pen)
        self.stored(self._book.shared(pen.value), box, pen.replay, Transform())

    def begin(self, ident: str, title: str = "") -> None: ...

    def end(self) -> None: ...
