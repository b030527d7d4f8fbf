"""Step 6: strokes to PDF, ready for a printer: true size, page boxes, named inks, embedded fonts, stored drawings.

A book is one file. The same drawing gives the same bytes: no clock, no random id. Inks go out in one of three ways:

spot  each coloured ink is a separation of its own under its spot name; black is the black plate alone
cmyk  every ink by its four process values; black is the black plate alone
rgb   for screens and office printers

Spot and CMYK files name the printing their process values are meant for. No conformance to a PDF/X part is claimed.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Sequence
from functools import cache, lru_cache
from pathlib import Path as FilePath
from typing import Any

from layouts.files import write_whole
from layouts.geometry import Box, Path, Transform
from layouts.ink import Ink
from layouts.letters import check_glyphs, font_measures, outline, set_in
from layouts.pen import Pen, TransformPen
from layouts.probe import Call, RecordingPen
from layouts.units import PT_PER_MM, pt

INKS = ("spot", "cmyk", "rgb")
_GUARD = {"spot": "sep_cmyk", "cmyk": "cmyk", "rgb": "rgb"}
_CAPS = {"butt": 0, "round": 1, "square": 2}
_OPERATORS = {"M": "m", "L": "l", "C": "c", "Z": "h"}
_AT_ONCE = 200
_JOINS = {"miter": 0, "round": 1, "bevel": 2}


@cache
def _registered(font: str) -> str:
    """The name reportlab knows a font by; it is opened when a line first asks for it."""
    from reportlab.pdfbase import pdfmetrics

    from layouts.pdf_fonts import SubsetFont

    name = font_measures(font).name
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(SubsetFont(name, font))
    return name


def _colour(ink: Ink, inks: str) -> Any:
    """The ink as the file will carry it. In ``spot`` only black, its tints and bare stock stay process colours."""
    from reportlab.lib.colors import CMYKColor, CMYKColorSep, Color

    if inks == "rgb":
        return Color(*(v / 255 for v in ink.srgb))
    c, m, y, k = (v / 100 for v in ink.cmyk)
    if inks == "spot" and (c or m or y):
        return CMYKColorSep(c, m, y, k, spotName=ink.spot, density=1)
    return CMYKColor(c, m, y, k)


#: The printing the process values are meant for: a condition in the ICC's registry, named there, so no profile is embedded.
PRINTING = ("FOGRA39", "Offset on coated paper, ISO 12647-2", "http://www.color.org")


def _with_output_intent(catalog: Any) -> None:
    """Say in the file which printing its process colours are meant for. reportlab's catalogue leaves the entry out unless
    it is listed, so the catalogue gets a class that lists it."""
    from reportlab.pdfbase import pdfdoc

    name, condition, registry = PRINTING

    class Catalogue(pdfdoc.PDFCatalog):
        __NoDefault__ = [*pdfdoc.PDFCatalog.__NoDefault__, "OutputIntents"]

    catalog.__class__ = Catalogue
    catalog.OutputIntents = pdfdoc.PDFArray(
        [
            pdfdoc.PDFDictionary(
                {
                    "Type": pdfdoc.PDFName("OutputIntent"),
                    "S": pdfdoc.PDFName("GTS_PDFX"),
                    "OutputConditionIdentifier": pdfdoc.PDFString(name),
                    "OutputCondition": pdfdoc.PDFString(condition),
                    "RegistryName": pdfdoc.PDFString(registry),
                }
            )
        ]
    )


class PdfBook:
    """One PDF file. ``page`` gives a pen for each page in turn; ``close`` ends the file and returns its bytes.

    target: where to write it when closed (whole or not at all), or None. inks: ``spot``, ``cmyk`` or ``rgb``.
    text: ``embedded`` (stays text, in subsets of the fonts) or ``outlines``. Nothing outside the chosen colour space
    can be drawn: reportlab's guard raises.
    """

    def __init__(
        self,
        target: FilePath | str | None = None,
        *,
        inks: str = "rgb",
        text: str = "embedded",
        title: str,
        author: str = "sixface",
        subject: str = "",
        keywords: Sequence[str] = (),
        lang: str = "en-GB",
    ) -> None:
        from reportlab.pdfgen.canvas import Canvas

        if inks not in INKS:
            raise ValueError(f"inks are {', '.join(INKS)}, not {inks!r}")
        if text not in ("embedded", "outlines"):
            raise ValueError(f"text is embedded or outlines, not {text!r}")
        self.outlines = text == "outlines"
        self._target, self._inks = target, inks
        self._canvas = Canvas(
            "",
            invariant=1,
            pageCompression=1,
            lang=lang,
            enforceColorSpace=_GUARD[inks],
            initialFontName=_registered("regular"),  # type: ignore[arg-type]  # the stub takes it for a size
            pdfVersion=(1, 4),
        )
        if inks != "rgb":
            _with_output_intent(self._canvas._doc.Catalog)  # type: ignore[attr-defined]  # the stub leaves it out
        self._canvas.setTitle(title)
        self._canvas.setAuthor(author)
        self._canvas.setSubject(subject or title)
        self._canvas.setKeywords(", ".join(keywords))
        self._canvas.setCreator("sixface")
        self._canvas.setProducer("sixface, reportlab")
        # true size: a reader that obeys sets its print dialogue to no scaling
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._colours: dict[Ink, Any] = {}
        self._pages = 0
        self._outline: tuple[str, ...] = ()
        self._within: set[str] = set()

    def colour(self, ink: Ink) -> Any:
        if ink not in self._colours:
            self._colours[ink] = _colour(ink, self._inks)
        return self._colours[ink]

    def page(
        self,
        width: float,
        height: float,
        *,
        trim: Box | None = None,
        bleed: Box | None = None,
        bookmark: Sequence[str] = (),
        within: Sequence[tuple[str, float]] = (),
    ) -> PdfPen:
        """Begin a page of ``width`` x ``height`` mm. trim: what remains when cut; bleed: how far colour runs.

        Both are boxes in mm and default to the page. bookmark: titles from the outside in, e.g.
        ``("Package A", "coloured labels")``; what a page shares with the page before is not repeated. within: what is
        found on the page, below those titles, and how high it begins, mm; said once, on the first page that has it.
        """
        canvas = self._canvas
        if self._pages:
            canvas.showPage()
        self._pages += 1
        canvas.setPageSize((pt(width), pt(height)))
        whole = Box(0, 0, width, height)
        trim = trim or whole
        for name, box in (("crop", whole), ("bleed", bleed or trim), ("trim", trim)):
            # boxes persist to later pages, so they are set on every page
            canvas.setCropBox((pt(box.x), pt(box.y), pt(box.right), pt(box.top)), name=name)
        shared = 0
        while shared < min(len(bookmark), len(self._outline)) and bookmark[shared] == self._outline[shared]:
            shared += 1
        for level in range(shared, len(bookmark)):
            key = f"page-{self._pages}-{level}"
            canvas.bookmarkPage(key)
            canvas.addOutlineEntry(bookmark[level], key, level)
            canvas.showOutline()
        if shared < len(bookmark):
            self._within.clear()
        self._outline = tuple(bookmark)
        for title, top in within:
            if title not in self._within:
                self._within.add(title)
                key = f"page-{self._pages}-{title}"
                canvas.bookmarkPage(key, fit="FitH", top=pt(top))
                canvas.addOutlineEntry(title, key, len(bookmark))
        return PdfPen(self, canvas)

    def close(self) -> bytes:
        """End the file, write it to the target if there is one, and return its bytes. ValueError without a page."""
        from reportlab import rl_config

        if not self._pages:
            raise ValueError("a book without a page is no file")
        self._canvas.showPage()
        held, rl_config.useA85 = rl_config.useA85, 0  # a fifth smaller; every reader takes binary streams
        try:
            data: bytes = self._canvas.getpdfdata()  # type: ignore[no-untyped-call]
        finally:
            rl_config.useA85 = held
        if self._target is not None:
            write_whole(self._target, data)
        return data


class _Operators:
    """A path as PDF says it: what reportlab's canvas asks of one."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def getCode(self) -> str:
        return _operators(self._path)


def _operators(path: Path) -> str:
    """A path's numbers are written at one go, not one by one."""
    from reportlab.lib.rl_accel import fp_str

    said = ["n"]
    flat = [v * PT_PER_MM for _, points in path for p in points for v in p]
    numbers: list[str] = []
    for at in range(0, len(flat), _AT_ONCE):
        numbers += fp_str(*flat[at : at + _AT_ONCE]).split(" ")
    at = 0
    for op, points in path:
        upto = at + 2 * len(points)
        said += numbers[at:upto]
        said.append(_OPERATORS[op])
        at = upto
    return " ".join(said)


def _said(text: str, font: str, size: float, doc: Any, x: float, y: float, turn: float) -> str:
    """A line of text as PDF says it. The library's text object also keeps account of leading and cursor, which a line that
    is placed by itself has no use for. size: in points; x, y: mm."""
    from reportlab.lib.rl_accel import escapePDF, fp_str
    from reportlab.pdfbase.pdfmetrics import getFont

    kept: Any = getFont(_registered(font))
    a, b, c, d, _, _ = Transform.turned(turn)
    said, em = [f"BT {fp_str(a, b, c, d, pt(x), pt(y))} Tm"], fp_str(size)
    for subset, codes in kept.splitString(text, doc):
        said.append(f"{kept.getSubsetInternalName(subset, doc)} {em} Tf ({escapePDF(codes)}) Tj")
    said.append("ET")
    return " ".join(said)


@lru_cache(maxsize=16)
def _digest(calls: tuple[Call, ...]) -> str:
    return hashlib.sha256(repr(calls).encode()).hexdigest()[:16]


class PdfPen:
    """Draws on one page of a book. Beyond a pen's duties it can keep a drawing once and place it often: ``stored``."""

    def __init__(self, book: PdfBook, canvas: Any) -> None:
        self._book, self._canvas = book, canvas
        self._state: dict[str, object] = {}
        self._in_form = False

    def _now(self, what: str, value: object) -> bool:
        """Whether a part of the graphics state changes; the state is left unsaid where it already holds."""
        if self._state.get(what) == value:
            return False
        self._state[what] = value
        return True

    def _fill_ink(self, ink: Ink) -> None:
        if self._now("fill", ink):
            self._canvas.setFillColor(self._book.colour(ink))

    def fill(self, path: Path, ink: Ink) -> None:
        self._fill_ink(ink)
        self._canvas.drawPath(_Operators(path), stroke=0, fill=1, fillMode=1)

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
        canvas = self._canvas
        if self._now("stroke", ink):
            canvas.setStrokeColor(self._book.colour(ink))
        if self._now("width", width):
            canvas.setLineWidth(pt(width))
        if self._now("cap", cap):
            canvas.setLineCap(_CAPS[cap])
        if self._now("join", join):
            canvas.setLineJoin(_JOINS[join])
        if self._now("dash", dash):
            canvas.setDash([pt(d) for d in dash])
        canvas.drawPath(_Operators(path), stroke=1, fill=0)

    def text(self, x: float, y: float, text: str, font: str, size: float, ink: Ink, *, turn: float = 0.0) -> None:
        if self._book.outlines:
            self.fill(outline(text, font, size).transformed(Transform.turned(turn).then(Transform.moved(x, y))), ink)
            return
        check_glyphs(text, font)
        self._fill_ink(ink)
        self._canvas._code.append(_said(text, set_in(text, font), pt(size), self._canvas._doc, x, y, turn))

    def stored(self, key: str, box: Box, draw: Callable[[Pen], None], at: Transform) -> None:
        """Place the drawing ``key`` by ``at``. ``draw`` draws it once, within ``box`` mm; then it is referred to."""
        canvas = self._canvas
        if self._in_form:  # forms do not nest here
            draw(TransformPen(self, at))
            return
        if not canvas.hasForm(key):
            outside, self._state, self._in_form = self._state, {}, True
            canvas.beginForm(key, pt(box.x), pt(box.y), pt(box.right), pt(box.top))
            draw(self)
            canvas.endForm(Resources=self._resources())
            self._state, self._in_form = outside, False
        canvas.saveState()
        canvas.transform(at.a, at.b, at.c, at.d, pt(at.e), pt(at.f))
        canvas.doForm(key)
        canvas.restoreState()

    def kept(self, box: Box, draw: Callable[[Pen], None]) -> None:
        """Draw what other pages may have as well: the same strokes are stored once, under their own digest."""
        pen = RecordingPen()
        draw(pen)
        self.stored(f"page-{_digest(pen.value)}", box, pen.replay, Transform())

    def _resources(self) -> Any:
        """The form's own resources: left alone, reportlab forgets the colour spaces a form uses."""
        from reportlab.pdfbase.pdfdoc import PDFResourceDictionary

        resources = PDFResourceDictionary()
        resources.basicFonts()
        resources.basicProcs()
        resources.setColorSpace(self._canvas._colorsUsed)
        return resources

    def begin(self, ident: str, title: str = "") -> None: ...

    def end(self) -> None: ...
