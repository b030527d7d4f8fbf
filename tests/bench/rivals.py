"""What the batch is held against: three other ways to make the same pages.

floor     a program by hand on reportlab. It is handed every stroke of the finished pages, in the order in which they are
          drawn, draws nothing else and writes its file: no record is read, nothing is decided, placed or checked. A drawing
          that is used twice in a file is a stored form, as in ours.
chromium  the same pages as SVG, set one below the other in one HTML page, printed by headless Chromium.
svglib    the same pages as SVG, read by svglib and drawn by reportlab.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from layouts.draw import to_svg
from layouts.geometry import Path as Outline
from layouts.ink import Ink
from layouts.job import plan_file
from layouts.letters import font_file, font_measures
from layouts.output import heading_of, sheets_of
from layouts.packing import packing_sheets
from layouts.pen import FONTS
from layouts.probe import Call, Fill, RecordingPen, Stroke, Text
from layouts.sheet import Sheet
from layouts.stock import read_stock

MM = 72 / 25.4


def books_of(record: Path) -> Iterator[tuple[Sheet, ...]]:
    """The sheets of a record, file by file, as the job makes them."""
    planned, paper = plan_file(record), read_stock("A4")
    heading = heading_of(planned, str(record))
    printed = sheets_of(planned, paper, heading, False)
    yield tuple(sheet for sheet in printed if sheet.colour)
    yield tuple(sheet for sheet in printed if not sheet.colour)
    yield packing_sheets(planned, heading, paper, False)


# --- the floor ---------------------------------------------------------------------------------------------------------

#: A page: its size, and what is drawn: strokes, or a stored drawing by its key at a place.
Strokes = tuple[Call, ...]
Page = tuple[float, float, list[Strokes | tuple[str, tuple[float, ...]]]]


class _Stored(RecordingPen):
    """Remembers what is drawn as the PDF writer is given it: drawings by key, the rest stroke by stroke."""

    def __init__(self, forms: dict[str, Strokes]) -> None:
        super().__init__()
        self.forms, self.page = forms, []

    def stored(self, key: str, box: Any, draw: Callable[[Any], None], at: Any) -> None:
        if key not in self.forms:
            inner = RecordingPen()
            draw(inner)
            self.forms[key] = tuple(inner.calls)
        self.cut()
        self.page.append((key, tuple(at)))

    def kept(self, box: Any, draw: Callable[[Any], None]) -> None:
        inner = RecordingPen()
        draw(inner)
        self.stored(f"page-{hash(inner.value)}", box, draw, (1, 0, 0, 1, 0, 0))

    def cut(self) -> None:
        if self.calls:
            self.page.append(tuple(self.calls))
            self.calls = []


def strokes_of(sheets: Sequence[Sheet]) -> tuple[list[Page], dict[str, Strokes]]:
    """The finished pages of one file as strokes, and its stored drawings."""
    from layouts.draw import draw, in_common

    forms: dict[str, Strokes] = {}
    pages: list[Page] = []
    for sheet, shared in zip(sheets, in_common(sheets), strict=True):
        pen = _Stored(forms)
        draw(sheet, pen, shared)
        pen.cut()
        pages.append((sheet.page.width, sheet.page.height, pen.page))
    return pages, forms


def floor(pages: Sequence[Page], forms: dict[str, Strokes]) -> bytes:
    """One file of pages, drawn by reportlab and nothing else."""
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    names = {font: f"{font_measures(font).name}-plain" for font in FONTS}  # the library's own, not ours under that name
    for font, name in names.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(font_file(font))))
    rl_config.useA85 = 0
    canvas = Canvas("", invariant=1, pageCompression=1)
    for width, height, parts in pages:
        canvas.setPageSize((width * MM, height * MM))
        for part in parts:
            if len(part) == 2 and isinstance(part[0], str):
                key, at = part
                if not canvas.hasForm(key):
                    canvas.beginForm(key, -MM, -MM, 400 * MM, 400 * MM)
                    _draw(canvas, forms[key], names)
                    canvas.endForm()
                canvas.saveState()
                canvas.transform(*at[:4], at[4] * MM, at[5] * MM)
                canvas.doForm(key)
                canvas.restoreState()
            else:
                _draw(canvas, part, names)
        canvas.showPage()
    data: bytes = canvas.getpdfdata()
    return data


def _draw(canvas: Any, calls: Iterable[Any], names: dict[str, str]) -> None:
    for call in calls:
        if isinstance(call, Fill):
            _colour(canvas.setFillColorRGB, call.ink)
            canvas.drawPath(_path(canvas, call.path), stroke=0, fill=1, fillMode=1)
        elif isinstance(call, Stroke):
            _colour(canvas.setStrokeColorRGB, call.ink)
            canvas.setLineWidth(call.width * MM)
            canvas.setLineCap({"butt": 0, "round": 1, "square": 2}[call.cap])
            canvas.setLineJoin({"miter": 0, "round": 1, "bevel": 2}[call.join])
            canvas.setDash([d * MM for d in call.dash])
            canvas.drawPath(_path(canvas, call.path), stroke=1, fill=0)
        elif isinstance(call, Text):
            _colour(canvas.setFillColorRGB, call.ink)
            if call.turn % 360:
                canvas.saveState()
                canvas.translate(call.x * MM, call.y * MM)
                canvas.rotate(call.turn)
                canvas.setFont(names[call.font], call.size * MM)
                canvas.drawString(0, 0, call.text)
                canvas.restoreState()
            else:
                canvas.setFont(names[call.font], call.size * MM)
                canvas.drawString(call.x * MM, call.y * MM, call.text)


def _colour(setter: Callable[..., None], ink: Ink) -> None:
    setter(*(v / 255 for v in ink.srgb))


def _path(canvas: Any, path: Outline) -> Any:
    out, xy, at = canvas.beginPath(), [v * MM for v in path.xy], 0
    for op in path.ops:
        if op == "M":
            out.moveTo(xy[at], xy[at + 1])
            at += 2
        elif op == "L":
            out.lineTo(xy[at], xy[at + 1])
            at += 2
        elif op == "C":
            out.curveTo(*xy[at : at + 6])
            at += 6
        else:
            out.close()
    return out


# --- the same pages as SVG ---------------------------------------------------------------------------------------------


def svgs_of(sheets: Sequence[Sheet]) -> list[str]:
    return [to_svg(sheet) for sheet in sheets]


def html_of(pages: Iterable[str]) -> str:
    """The pages one below the other, each on a sheet of its own; ids are made its own, as they may repeat."""
    out = ["<!doctype html><meta charset='utf-8'><style>@page{size:210mm 297mm;margin:0}body{margin:0}"]
    out.append("svg{display:block;width:210mm;height:297mm;page-break-after:always}</style>")
    for n, page in enumerate(pages):
        body = page[page.index("<svg") :]
        out.append(re.sub(r'(\bid="|"#)', rf"\g<1>p{n}-", body))
    return "".join(out)


class Chromium:
    """A browser that is running already: its start, the better part of a second, is not counted against it."""

    def __init__(self, executable: str) -> None:
        from playwright.sync_api import sync_playwright

        self._play = sync_playwright().start()
        self._browser = self._play.chromium.launch(executable_path=executable, args=["--no-sandbox", "--disable-gpu"])
        self._page = self._browser.new_page()

    def printed(self, pages: Sequence[str]) -> bytes:
        self._page.set_content(html_of(pages), timeout=120_000)
        return bytes(self._page.pdf(prefer_css_page_size=True, print_background=True))

    def close(self) -> None:
        self._browser.close()
        self._play.stop()


def by_svglib(pages: Sequence[str]) -> bytes:
    from reportlab.graphics import renderPDF
    from reportlab.pdfgen.canvas import Canvas
    from svglib.svglib import svg2rlg

    canvas = Canvas("", invariant=1, pageCompression=1)
    for page in pages:
        drawing = svg2rlg(io.BytesIO(page.encode()))
        canvas.setPageSize((drawing.width, drawing.height))
        renderPDF.draw(drawing, canvas, 0, 0)
        canvas.showPage()
    data: bytes = canvas.getpdfdata()
    return data
