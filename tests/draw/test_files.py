"""Finished files under foreign readers: pypdf, pikepdf (qpdf), pdfium and resvg."""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys
from functools import cache
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from msgspec.structs import replace
from pypdf import PdfReader

from layouts.draw import to_pdf, to_svg
from layouts.geometry import Transform
from layouts.letters import font_file
from layouts.pdf import PdfBook
from layouts.pen import FONTS, TransformPen
from layouts.sheet import Sheet, impose
from layouts.specimens import Specimen, last_day, specimens
from layouts.stock import read_stock
from layouts.svg import SvgPen
from layouts.units import pt
from tests.draw.measure_pdf import Reader
from tests.draw.printed import HEADING, item, sheet

INKS = ("spot", "cmyk", "rgb")
#: Every kind of drawing once: all inks, curves, hatching, text in every font.
SHEETS = ("hazard-label 3", "hazard-label 5.2", "hazard-label 7-III", "hazard-label 8", "hazard-label 2.2", "battery")


@cache
def stack() -> tuple[Sheet, ...]:
    names = (*SHEETS, "hazard-label 4.3", "cargo-aircraft-only", "un-number", "environmentally-hazardous")
    return impose([item(name, count=2) for name in names], read_stock("A4"), HEADING)


@cache
def book(inks: str) -> bytes:
    return to_pdf(stack(), inks=inks, title="HR-20458 · sheets", subject="sheets", keywords=("one", "two"))


def reader(inks: str) -> PdfReader:
    return PdfReader(io.BytesIO(book(inks)))


@pytest.mark.parametrize("inks", INKS)
def test_media_bleed_and_trim_boxes_stand_on_every_page(inks: str) -> None:
    pages = reader(inks).pages
    assert len(pages) == len(stack())
    for page, made in zip(pages, stack(), strict=True):
        assert [float(v) for v in page.mediabox] == pytest.approx(
            [0, 0, pt(made.page.width), pt(made.page.height)], abs=1e-3
        )
        for key in ("/TrimBox", "/BleedBox", "/CropBox"):
            assert key in page
        trim, bleed = ([float(v) for v in page[key]] for key in ("/TrimBox", "/BleedBox"))
        over = pt(3) if any(p.bleed for p in made.pieces) else 0
        assert bleed == pytest.approx([trim[0] - over, trim[1] - over, trim[2] + over, trim[3] + over], abs=1e-3)


@pytest.mark.parametrize("inks", INKS)
def test_qpdf_finds_nothing_to_repair(inks: str) -> None:
    with pikepdf.open(io.BytesIO(book(inks))) as pdf:
        assert pdf.check_pdf_syntax() == []


@pytest.mark.parametrize("inks", INKS)
def test_every_font_is_embedded_and_none_is_helvetica(inks: str) -> None:
    assert b"Helvetica" not in book(inks)
    fonts = {
        font.get_object()["/BaseFont"]: font.get_object()
        for page in reader(inks).pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert fonts
    for name, font in fonts.items():
        assert "Fira" in name
        assert font["/FontDescriptor"]["/FontFile2"].get_data()[:4] == b"\x00\x01\x00\x00"


#: Operators that set a colour of each space (ISO 32000-1, table 74).
RGB, CMYK, GREY = {"rg", "RG"}, {"k", "K"}, {"g", "G"}


def operators(inks: str) -> set[str]:
    pdf = reader(inks)
    return {op for n in range(len(pdf.pages)) for op, _ in Reader(pdf, n).operators}


def test_no_rgb_in_spot_and_cmyk_files_and_no_cmyk_in_rgb_files() -> None:
    assert not operators("spot") & (RGB | GREY)
    assert not operators("cmyk") & (RGB | GREY | {"scn", "SCN"})
    assert not operators("rgb") & (CMYK | GREY | {"scn", "SCN"})
    for inks in ("spot", "cmyk"):
        assert b"DeviceRGB" not in book(inks)


def test_no_transparency_and_no_bitmaps() -> None:
    for inks in INKS:
        with pikepdf.open(io.BytesIO(book(inks))) as pdf:
            for thing in pdf.objects:
                if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
                    assert thing.get("/Subtype") != "/Image"
                    assert not {"/SMask", "/ca", "/CA", "/BM"} & set(thing.keys())


def test_spot_inks_are_separations_of_their_own() -> None:
    """The separations are named; black stays on the black plate: 0 0 0 1 k, or a tint of it, never a mix."""
    pdf = reader("spot")
    seen, process = set(), set()
    for n in range(len(pdf.pages)):
        for paint in Reader(pdf, n).paper.paints:
            (seen if paint.colour.startswith("spot:") else process).add(paint.colour)
    assert {"spot:Label Red", "spot:Label Yellow", "spot:Label Green", "spot:Label Blue", "spot:Label Orange"} == seen
    assert all(colour.startswith("k:0,0,0,") for colour in process)


@pytest.mark.parametrize("inks", INKS)
def test_process_colours_say_which_printing_they_are_meant_for(inks: str) -> None:
    """ISO 32000-1, 14.11.5; the condition's name as in the ICC's registry of characterisation data. The header's version
    allows the entry (PDF 1.4)."""
    root = reader(inks).trailer["/Root"]
    assert reader(inks).pdf_header >= "%PDF-1.4"
    if inks == "rgb":
        assert "/OutputIntents" not in root
        return
    (intent,) = root["/OutputIntents"]
    assert intent["/Type"] == "/OutputIntent"
    assert (intent["/S"], intent["/OutputConditionIdentifier"]) == ("/GTS_PDFX", "FOGRA39")
    assert intent["/RegistryName"] == "http://www.color.org"


def test_a_drawing_is_stored_once_however_often_it_is_printed() -> None:
    ten = impose([item("hazard-label 6.2", count=40)], read_stock("A4"), HEADING)
    one = impose([item("hazard-label 6.2", count=1)], read_stock("A4"), HEADING)
    many = PdfReader(io.BytesIO(to_pdf(ten, title="t")))
    held = [page["/Resources"]["/XObject"] for page in many.pages]
    assert len({form.indirect_reference.idnum for forms in held for name, form in forms.items() if "drawing" in name}) == 1
    # foot and ruler, too, and what stands around the labels: on the last page, which has fewer of them, less
    assert len({form.indirect_reference.idnum for forms in held for form in forms.values()}) <= 4
    assert len(to_pdf(ten, title="t")) < 10 * len(to_pdf(one, title="t"))


def test_title_language_bookmarks_and_no_scaling() -> None:
    pdf = reader("rgb")
    root = pdf.trailer["/Root"]
    assert pdf.metadata is not None
    assert (pdf.metadata.title, pdf.metadata.subject) == ("HR-20458 · sheets", "sheets")
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    (package, (coloured, on_these, black, on_those)) = pdf.outline
    assert (package.title, coloured.title, black.title) == ("Package A", "coloured labels", "black-only marks")
    assert [face.title for face in (*on_these, *on_those)] == ["front", "front"]


def test_every_face_has_its_bookmark_where_its_first_mark_stands() -> None:
    items = [replace(item("hazard-label 3", count=3), face=face) for face in ("front", "back")]
    made = impose(items, read_stock("A4"), HEADING)
    pdf = PdfReader(io.BytesIO(to_pdf(made, title="t")))
    (_, (_, faces)) = pdf.outline
    assert [face.title for face in faces] == ["front", "back"]
    for face in faces:
        page = pdf.get_destination_page_number(face)
        first = next(piece for piece in made[page].pieces if piece.item.face == face.title)
        assert not any(piece.item.face == face.title for sheet in made[:page] for piece in sheet.pieces)
        assert float(face["/Top"]) == pytest.approx(pt(first.box.top), abs=0.01)


@pytest.mark.parametrize("name", SHEETS)
def test_svg_and_pdf_show_the_same_sheet(name: str) -> None:
    """254 dpi, 10 pixels a mm, pdfium and resvg: mean difference under 0.5 of 255, under 0.05 % of pixels off by 64.

    Text as outlines in both: pdfium sets embedded text on whole pixels, which is its own doing and no drawing of ours.
    """
    made = sheet(name)
    agree(raster_pdf(to_pdf([made], title="t", text="outlines")), raster_svg(to_svg(made)))


@pytest.mark.parametrize("one", tuple(specimens(last_day())), ids=lambda one: one.name)
def test_svg_and_pdf_show_the_same_picture_of_every_specimen(one: Specimen) -> None:
    """The same limits, every label and mark alone on a page of at least 150 x 150 mm."""
    art = one.forms[0]
    width, height = (max(150, 10 * math.ceil(length / 10 + 0.2)) for length in (art.width, art.height))
    book, svg = PdfBook(title="t", text="outlines"), SvgPen(width, height)
    for pen in (book.page(width, height), svg):
        art.draw(TransformPen(pen, Transform.moved(1, 1)))
    agree(raster_pdf(book.close()), raster_svg(svg.tostring()))


def test_letters_that_stay_text_look_the_same_where_the_fonts_are_installed() -> None:
    """``--text live`` against outlines, by one renderer that is given the fonts: the same limits."""
    made = sheet("cargo-aircraft-only")
    live = to_svg(made, text="live")
    assert "<text" in live
    agree(raster_svg(live, [str(font_file(font)) for font in FONTS]), raster_svg(to_svg(made)))


def agree(a: np.ndarray, b: np.ndarray) -> None:
    assert a.shape == b.shape
    off = np.abs(a.astype(int) - b.astype(int)).max(axis=2)
    assert off.mean() < 0.5
    assert (off > 64).mean() < 0.0005
    assert (a < 128).mean() > 0.001, "something is drawn"


def raster_pdf(data: bytes, page: int = 0) -> np.ndarray:
    import pypdfium2

    pdf = pypdfium2.PdfDocument(data)
    # a hair under 254 dpi: pdfium rounds a page up to whole pixels and would stretch it
    return np.asarray(pdf[page].render(scale=254 / 72 * (1 - 1e-6)).to_pil().convert("RGB"))


def raster_svg(text: str, fonts: list[str] | None = None) -> np.ndarray:
    import resvg_py
    from PIL import Image

    png = resvg_py.svg_to_bytes(
        svg_string=text, dpi=254.0, background="white", skip_system_fonts=True, font_files=fonts
    )
    return np.asarray(Image.open(io.BytesIO(bytes(png))).convert("RGB"))


_MAKE = """
import hashlib
from layouts.draw import to_pdf, to_svg
from tests.draw.test_files import stack
made = hashlib.sha256()
for inks in ("spot", "rgb"):
    made.update(to_pdf(stack(), inks=inks, title="t"))
for sheet in stack():
    made.update(to_svg(sheet).encode())
    made.update(to_svg(sheet, text="live").encode())
print(made.hexdigest())
"""


def test_the_same_sheets_are_the_same_bytes_whatever_the_day_folder_and_seed(tmp_path: Path) -> None:
    root = Path(__file__).parents[2]
    said = []
    for seed, zone, folder in (("0", "UTC", root), ("4711", "Pacific/Kiritimati", tmp_path)):
        env = os.environ | {"PYTHONHASHSEED": seed, "TZ": zone, "PYTHONPATH": str(root), "LC_ALL": "C"}
        run = subprocess.run(
            [sys.executable, "-c", _MAKE], cwd=folder, env=env, capture_output=True, text=True, check=True
        )
        said.append(run.stdout)
    assert said[0] == said[1]


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "sheets.pdf"
    target.write_bytes(b"before")

    def fails(*_: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(os, "replace", fails)
    with pytest.raises(OSError, match="no space"):
        to_pdf([sheet("un-number")], target, title="t")
    assert target.read_bytes() == b"before"
    assert [p.name for p in tmp_path.iterdir()] == ["sheets.pdf"]


@pytest.mark.parametrize("inks", ("rainbow", ""))
def test_unknown_inks_are_refused(inks: str) -> None:
    with pytest.raises(ValueError, match="inks are spot, cmyk, rgb"):
        to_pdf([sheet("un-number")], inks=inks, title="t")
