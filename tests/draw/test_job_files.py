"""The PDF files of a whole job under foreign readers: sheets, packing pages, comparison, specimens and poster."""

from __future__ import annotations

import io
import logging
from functools import cache
from pathlib import Path

import pikepdf
import pytest
from pypdf import PdfReader

from layouts.job import compare_file, plan_file
from layouts.output import make_sheets, write_comparison
from layouts.specimens import make_specimens

EXAMPLE = Path(__file__).parents[2] / "examples" / "isopropanol-three-modes.yaml"
INKS = ("spot", "cmyk", "rgb")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[Path]]:
    """All PDF files of the job, by inks."""
    out = {}
    for inks in INKS:
        folder = tmp_path_factory.mktemp(inks)
        make_sheets(plan_file(EXAMPLE), folder, source=str(EXAMPLE), formats=("pdf",), inks=inks)
        list(make_specimens(folder, inks=inks))
        out[inks] = sorted(folder.glob("*.pdf"))
    write_comparison(compare_file(EXAMPLE), folder / "comparison.pdf", source=str(EXAMPLE))
    out["rgb"].append(folder / "comparison.pdf")
    return out


@cache
def data(path: Path) -> bytes:
    return path.read_bytes()


@pytest.mark.parametrize("inks", INKS)
def test_pdfium_and_pypdf_open_every_file_without_repairing_it(
    made: dict[str, list[Path]], inks: str, caplog: pytest.LogCaptureFixture
) -> None:
    import pypdfium2

    assert len(made[inks]) >= 5
    for path in made[inks]:
        with caplog.at_level(logging.DEBUG, logger="pypdf"):
            pages = PdfReader(io.BytesIO(data(path)), strict=True).pages
            assert all(page.extract_text() is not None for page in pages)
        assert not caplog.records, path.name
        pdf = pypdfium2.PdfDocument(data(path))
        assert len(pdf) == len(pages)
        assert all(pdf[n].render(scale=0.1).to_pil().getextrema() for n in range(len(pdf)))


@pytest.mark.parametrize("inks", INKS)
def test_every_file_passes_qpdfs_check(made: dict[str, list[Path]], inks: str) -> None:
    for path in made[inks]:
        job = pikepdf.Job(["qpdf", "--check", str(path)])
        job.run()
        assert job.exit_code == 0, path.name
        with pikepdf.open(path) as pdf:
            assert pdf.get_warnings() == []


@pytest.mark.parametrize("inks", INKS)
def test_every_font_of_every_file_is_embedded(made: dict[str, list[Path]], inks: str) -> None:
    for path in made[inks]:
        with pikepdf.open(path) as pdf:
            held = [o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/Font"]
            assert held
            assert all("/FontFile2" in font.FontDescriptor for font in held), path.name


@pytest.mark.parametrize("inks", ("spot", "cmyk"))
def test_no_page_or_form_for_print_sets_a_colour_by_red_green_and_blue(made: dict[str, list[Path]], inks: str) -> None:
    """Operators of ISO 32000-1, table 74; process colours come as CMYK alone, tints of black included."""
    for path in made[inks]:
        with pikepdf.open(path) as pdf:
            streams = [*pdf.pages, *(o for o in pdf.objects if isinstance(o, pikepdf.Stream) and "/BBox" in o)]
            used = {str(op.operator) for stream in streams for op in pikepdf.parse_content_stream(stream)}
        assert not used & {"rg", "RG", "g", "G", "sh"}
        assert "k" in used
        assert inks == "spot" or not used & {"scn", "SCN"}
        assert b"DeviceRGB" not in data(path)


def test_qr_codes_are_read_from_a_raster_of_150_dpi(made: dict[str, list[Path]]) -> None:
    """By an independent decoder; each says in plain text which record and package it belongs to."""
    pdfium, zxing = pytest.importorskip("pypdfium2"), pytest.importorskip("zxingcpp")
    (path,) = [path for path in made["spot"] if "packing" in path.name]
    pdf = pdfium.PdfDocument(data(path))
    found = [code.text for page in pdf for code in zxing.read_barcodes(page.render(scale=150 / 72).to_pil())]
    assert found
    assert all("HD-26-0101" in text for text in found)
