"""Step 6: strokes to PDF, ready for a printer: true size, page boxes, named inks, embedded fonts, stored drawings.

A book is one file. The same drawing gives the same bytes: no clock, no random id. Inks go out in one of three ways:

spot  each coloured ink is a separation of its own under its spot name; black is the black plate alone
cmyk  every ink by its four process values; black is the black plate alone
rgb   for screens and office printers

Spot and CMYK files name the printing their process values are meant for. No conformance to a PDF/X part is claimed.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path as FilePath
from typing import Any

from layouts.files import write_whole
from layouts.geometry import Box
from layouts.ink import Ink
from layouts.pdf_fonts import pdf_font
from layouts.pdf_objects import end_page
from layouts.pdf_pen import PdfPen
from layouts.probe import Call
from layouts.units import pt

INKS = ("spot", "cmyk", "rgb")
_GUARD = {"spot": "sep_cmyk", "cmyk": "cmyk", "rgb": "rgb"}


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
        self._target, self.inks = target, inks
        self._canvas = Canvas(
            "",
            invariant=1,
            pageCompression=1,
            lang=lang,
            enforceColorSpace=_GUARD[inks],
            initialFontName=pdf_font("regular").fontName,  # type: ignore[arg-type]  # the stub takes it for a size
            pdfVersion=(1, 4),
        )
        if inks != "rgb":
            _with_output_intent(self._doc.Catalog)
        self._canvas.setTitle(title)
        self._canvas.setAuthor(author)
        self._canvas.setSubject(subject or title)
        self._canvas.setKeywords(", ".join(keywords))
        self._canvas.setCreator("sixface")
        self._canvas.setProducer("sixface, reportlab")
        # true size: a reader that obeys sets its print dialogue to no scaling
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._colours: dict[Ink, Any] = {}
        self._inks_said: dict[tuple[Ink, bool], list[str]] = {}
        self._fonts: dict[str, str] = {}
        self._shared: dict[tuple[Call, ...], str] = {}
        self._pages = 0
        self._outline: tuple[str, ...] = ()
        self._within: set[str] = set()

    def colour(self, ink: Ink) -> Any:
        if ink not in self._colours:
            self._colours[ink] = _colour(ink, self.inks)
        return self._colours[ink]

    def use(self, ink: Ink, *, stroke: bool = False) -> None:
        """What is filled (or stroked) from here on is so in this ink. A process colour is said as it was the first time; of
        a separation the library keeps account page by page."""
        code = self._canvas._code  # type: ignore[attr-defined]  # the stub leaves it out
        if (said := self._inks_said.get((ink, stroke))) is not None:
            code += said
            return
        before = len(code)
        (self._canvas.setStrokeColor if stroke else self._canvas.setFillColor)(self.colour(ink))
        if self.inks != "spot":
            self._inks_said[ink, stroke] = code[before:]

    def carried(self, font: str) -> str:
        """What the font's first subset is called in the file, which carries it from now on."""
        if font not in self._fonts:
            self._fonts[font] = pdf_font(font).getSubsetInternalName(0, self._doc)
        return self._fonts[font]

    def in_subsets(self, text: str, font: str) -> tuple[tuple[str, bytes], ...]:
        """A text as codes, each run with the name of the subset it is in."""
        if text.isascii():  # in the first subset such a letter is its own code
            return ((self.carried(font), text.encode()),)
        kept, first = pdf_font(font), self.carried(font)
        if (codes := kept.in_first(text, self._doc)) is not None:
            return ((first, codes),)
        return tuple(
            (kept.getSubsetInternalName(subset, self._doc), codes)
            for subset, codes in kept.splitString(text, self._doc)
        )

    @property
    def _doc(self) -> Any:
        return self._canvas._doc  # type: ignore[attr-defined]  # the stub leaves it out

    def shared(self, calls: tuple[Call, ...]) -> str:
        """What a drawing that several pages have is called in this book."""
        return self._shared.setdefault(calls, f"page-{len(self._shared) + 1}")

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
            end_page(canvas)
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
        end_page(self._canvas)
        held, rl_config.useA85 = rl_config.useA85, 0  # a fifth smaller; every reader takes binary streams
        try:
            data: bytes = self._canvas.getpdfdata()  # type: ignore[no-untyped-call]
        finally:
            rl_config.useA85 = held
        if self._target is not None:
            write_whole(self._target, data)
        return data
