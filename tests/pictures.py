"""The pictures in README, drawn by the program itself: ``python -m tests.pictures`` writes ``examples/pictures/*.png``.

A test draws them again and compares: they are its golden pictures too, so look at them before they are committed.
"""

from __future__ import annotations

import io
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from layouts import letters
from layouts.artwork.base import Artwork
from layouts.artwork.symbols import NAMES, symbol
from layouts.draw import to_svg
from layouts.geometry import Box, Transform, rectangle
from layouts.ink import BLACK, WHITE, grey
from layouts.job import plan_file
from layouts.output import heading_of, sheets_of, write_comparison
from layouts.packing import packing_sheets
from layouts.pen import Pen, TransformPen
from layouts.placement import Placement
from layouts.specimens import Specimen, last_day, specimen_sheets, specimens
from layouts.standing import Standing
from layouts.stock import read_stock
from layouts.svg import SvgPen
from marks.compare import compare
from marks.reading import read_record

if TYPE_CHECKING:
    from PIL.Image import Image

ROOT = Path(__file__).parents[1]
FOLDER = ROOT / "examples" / "pictures"
EXAMPLE = ROOT / "examples" / "isopropanol-three-modes.yaml"


def rendered(svg: str, dpi: float) -> Image:
    import resvg_py
    from PIL import Image as images

    png = resvg_py.svg_to_bytes(svg_string=svg, dpi=dpi, background="white", skip_system_fonts=True)
    return images.open(io.BytesIO(bytes(png))).convert("RGB")


def grid(
    cells: Sequence[Callable[[Pen, Box], None]], columns: int, width: float, height: float, ground: bool = False
) -> str:
    """Drawings in rows, each in its own box."""
    rows = -(-len(cells) // columns)
    pen = SvgPen(columns * width, rows * height)
    if ground:
        pen.fill(rectangle(Box(0, 0, columns * width, rows * height)), grey(12))
    for n, draw in enumerate(cells):
        draw(pen, Box((n % columns) * width, (rows - 1 - n // columns) * height, width, height))
    return pen.tostring()


def shown(art: Artwork) -> Callable[[Pen, Box], None]:
    """A label or mark in the middle of its box, at true size."""

    def draw(pen: Pen, box: Box) -> None:
        art.draw(TransformPen(pen, Transform.moved(box.centre.x - art.width / 2, box.centre.y - art.height / 2)))

    return draw


def sizes(name: str) -> Callable[[Pen, Box], None]:
    """A symbol 100, 25, 10 and 8 mm wide or high, with its name."""

    def draw(pen: Pen, box: Box) -> None:
        drawn, x, y = symbol(name), box.x + 4, box.y + 12
        pen.fill(rectangle(box), WHITE)
        for size, at, up in ((100.0, x, y), (25.0, x + 106, y), (10.0, x + 106, y + 34), (8.0, x + 122, y + 34)):
            pen.fill(drawn.fitted(Box(at, up, size, size), rise=0.0), BLACK)
        said = drawn.name
        pen.text(box.x + 4 + (100 - letters.width(said, "regular", 7)) / 2, box.y + 3, said, "regular", 7, grey(70))

    return draw


def labels() -> Image:
    found: list[Specimen] = [one for one in specimens(last_day()) if one.variant]
    return rendered(grid([shown(one.forms[0]) for one in found], 7, 150, 150, ground=True), 24)


def symbols() -> Image:
    names = [name for name in NAMES if name != "division_figures"]
    return rendered(grid([sizes(name) for name in names], 6, 142, 120), 40)


def poster() -> Image:
    return rendered(to_svg(specimen_sheets()[1]), 56)


def sheet() -> Image:
    """The first sheet of coloured labels of the ordinary example."""
    planned = plan_file(EXAMPLE)
    pages = sheets_of(planned, read_stock("A4"), heading_of(planned, EXAMPLE.name), False)
    return rendered(to_svg(pages[0]), 80)


def diagram() -> Image:
    """Its face placement diagram."""
    planned = plan_file(EXAMPLE)
    pages = packing_sheets(planned, heading_of(planned, EXAMPLE.name), read_stock("A4"), False)
    return rendered(to_svg(pages[0]), 80)


def checklist() -> Image:
    """Its packing checklist."""
    planned = plan_file(EXAMPLE)
    pages = packing_sheets(planned, heading_of(planned, EXAMPLE.name), read_stock("A4"), False)
    return rendered(to_svg(next(page for page in pages if page.page.kind == "packing checklist")), 64)


def comparison() -> Image:
    """The first page of its modes side by side."""
    with tempfile.TemporaryDirectory() as folder:
        made = write_comparison(compare(read_record(EXAMPLE)), Path(folder) / "page.svg", source=EXAMPLE.name)
        return rendered(made[0].path.read_text("utf-8"), 64)


def faces() -> Image:
    """Four packages as they stand when every mark is on, each to a scale of its own."""
    found = []
    for name in ("isopropanol-three-modes", "xylenes-drum", "biocide-environmentally-hazardous", "drain-acid-ibc"):
        planned = plan_file(ROOT / "examples" / f"{name}.yaml")
        (package,), ((_, placement),) = planned.record.packages, planned.pairs()
        found.append(standing(placement, package.packaging))
    return rendered(grid(found, 4, 88, 92), 86)


def standing(placement: Placement, code: str) -> Callable[[Pen, Box], None]:
    """The package without the diagram's numbers, in the middle of its box."""
    view = Standing.fitting(placement, 74, 80, code=code, numbered=False)
    width, height = view.size

    def draw(pen: Pen, box: Box) -> None:
        view.draw(pen, box.centre.x - width / 2, box.centre.y - height / 2)

    return draw


PICTURES: dict[str, Callable[[], Image]] = {
    "labels": labels,
    "symbols": symbols,
    "poster": poster,
    "sheet": sheet,
    "diagram": diagram,
    "checklist": checklist,
    "comparison": comparison,
    "faces": faces,
}


def packed(picture: Image) -> bytes:
    """As PNG of few colours: small, and the same for the eye."""
    out = io.BytesIO()
    picture.quantize(64, kmeans=1).save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, draw in PICTURES.items():
        data = packed(draw())
        (FOLDER / f"{name}.png").write_bytes(data)
        print(f"examples/pictures/{name}.png: {len(data) / 1000:.0f} kB")
