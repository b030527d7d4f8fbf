"""Specimens: every label and mark the program can draw, one page each at true size, and a poster of all of them.

A page shows the mark with an arrow for every length the law fixes, the paragraphs those lengths stand in, the inks, and
the smallest form it is ever printed in. For trainers, and as the program's own proof.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from layouts import letters
from layouts.arrows import BEYOND, Outline, arrow
from layouts.artwork.base import SQUARE_ON_POINT, Artwork
from layouts.artwork.catalogue import forms
from layouts.draw import to_pdf, to_svg
from layouts.files import write_whole
from layouts.furniture import Heading, Page, line, paragraphs
from layouts.geometry import Box, Point, Transform, polyline, rectangle
from layouts.ink import BLACK, WHITE, Ink, grey
from layouts.pen import Pen, TransformPen, group
from layouts.probe import RecordingPen
from layouts.sheet import Sheet, drawn, numbered
from layouts.stock import read_stock
from layouts.units import number
from marks.requirement import Requirement
from marks.tables import Figure, editions, measure_figures

#: The hazard labels: every variant the law draws on its own, one compatibility group standing for all.
LABELS = (
    *("1.1D", "1.2G", "1.3C", "1.4S", "1.5D", "1.6N", "1", "2.1", "2.2", "2.3", "3", "4.1", "4.2", "4.3"),
    *("5.1", "5.2", "6.1", "6.2", "2.3-inhalation", "6.1-inhalation", "7-I", "7-II", "7-III", "7E", "8", "9", "9A"),
)
#: The other marks with what they say; all words are invented but those the law gives.
MARKS: dict[str, tuple[str, ...]] = {
    "cargo-aircraft-only": (),
    "orientation-arrows": (),
    "environmentally-hazardous": (),
    "limited-quantity": (),
    "limited-quantity-air": (),
    "excepted-quantity": ("3", "Hollmund Farver AS"),
    "battery": ("UN 3480",),
    "biological-substance": ("UN 3373", "BIOLOGICAL SUBSTANCE, CATEGORY B"),
    "battery-condition": ("DAMAGED/DEFECTIVE LITHIUM ION BATTERIES",),
    "keep-away-from-heat": (),
    "cryogenic-liquid": (),
    "magnetized-material": (),
    "un-number": ("UN 1219",),
    "proper-shipping-name": ("FLAMMABLE LIQUID, TOXIC, N.O.S. (METHANOL, ETHANOL)",),
    "shipper": ("Hollmund Farver AS", "Kverndalsvegen 12", "7630 Åsenfjord", "Norway"),
    "consignee": ("Atelier Brossolette", "14 rue des Tanneurs", "69009 Lyon", "France"),
    "net-quantity": ("Net quantity 4 L",),
    "gross-mass": ("Gross mass 62 kg",),
    "cooling-agent": ("DRY ICE AS COOLANT", "Net quantity 6 kg"),
    "overpack": ("OVERPACK",),
    "salvage": ("SALVAGE",),
    "responsible-person": ("Responsible person", "A. Lindqvist", "+47 00 00 00 00"),
    "package-type": ("TYPE A",),
    "elevated-temperature": ("HOT",),
    "inhalation-hazard": ("Inhalation Hazard",),
    "reportable-quantity": ("RQ",),
    "poison": ("POISON",),
    "ex-number": ("EX2009010101",),
    "net-explosive-mass": ("Net explosive mass 1.8 kg",),
}
#: What is written into the labels of class 7.
FILLED = {
    "7-I": ("Co-60", "1.1 MBq"),
    "7-II": ("Co-60", "37 MBq", "0.8"),
    "7-III": ("Co-60", "1.1 GBq", "3.2"),
    "7E": ("0.5",),
}

_NAMES = {
    "inset": "edge to line", "figure_low": "figure", "figure_high": "figure",
    "lettering": "letters at least", "lettering_medium": "letters, small package", "hatch": "hatching at least",
    "division_figure": "division", "division_stroke": "division's stroke", "trefoil_radius": "trefoil's disc, radius",
    "least_side": "reduced side", "least_line": "reduced line", "least_height": "reduced height",
    "least_width": "reduced width", "point_above": "point above the middle",
}  # fmt: skip
#: When the smallest form may be printed, where the law ties it to more than want of room.
_SMALLER = {
    "hazard-label": "by road and sea, where a package is too small for more (UN Model Regulations 5.2.2.2.1.1.3, from "
    "memory); the law names no least size, half is ours",
}
#: The em of the text below the mark, mm: the first at which it keeps off the foot.
_TEXT = (2.8, 2.6, 2.4, 2.2)
_COLUMN, _CAPTION = 43.0, 48.0
#: Colours the law leaves to whoever prints, by variant or mark; chosen with ``sixface sheets``.
_WHITE_OR_BLACK = "symbol, figure and line white or black (49 CFR 172.407(d)(2)(i)): --symbols"
_COLOURS = {
    **dict.fromkeys(("2.2", "3", "4.3"), _WHITE_OR_BLACK),
    "2.1": f"{_WHITE_OR_BLACK}; of liquefied petroleum gas on cylinders the receptacle's own colour ((d)(2)(iv))",
    "5.2": "symbol and upper line white or black (49 CFR 172.407(d)(2)(iii)): --symbols",
    "excepted-quantity": "hatching and sign red or black (49 CFR 173.4a(g)(2)): --excepted",
    "orientation-arrows": "black or red (49 CFR 172.312(a)(2)): --arrows",
}
#: Lengths drawn to one side of where they lie, mm: clear of the length before them, or of what they measure.
_ASIDE = {"line": 11.0, "figure_high": 4.0, "point_above": 32.0}


class Specimen(Struct, frozen=True):
    """A mark as it is shown. figures: the lengths the law fixes, by name; cite: the paragraphs that ask for it."""

    mark: str
    variant: str | None
    words: tuple[str, ...]
    figures: dict[str, Figure]
    cite: tuple[str, ...]

    @property
    def name(self) -> str:
        """As a person calls it: ``Hazard label 3``, ``UN number``."""
        plain = self.mark.replace("-", " ").capitalize().replace("Un n", "UN n").replace("Ex n", "EX n")
        return f"{plain} {self.variant}" if self.variant else plain

    @property
    def requirement(self) -> Requirement:
        measures = {name: figure.value for name, figure in self.figures.items()}
        return Requirement(self.mark, "", self.cite, self.variant, self.words, measures=measures)

    @property
    def forms(self) -> tuple[Artwork, ...]:
        return forms(self.requirement)


def specimens(on: date) -> Iterator[Specimen]:
    """Every label and mark, as the rules of that day ask for it."""
    for variant in LABELS:
        yield _specimen("hazard-label", variant, FILLED.get(variant, ()), on)
    for mark, words in MARKS.items():
        yield _specimen(mark, None, words, on)


def _specimen(mark: str, variant: str | None, words: tuple[str, ...], on: date) -> Specimen:
    import marks.rules  # noqa: F401 - fills the register
    from marks.rule import RULES

    cite = dict.fromkeys(text for rule in RULES if rule.mark == mark for text in rule.cite.values())
    return Specimen(mark, variant, words, dict(measure_figures(mark, variant, on)), tuple(cite))


def last_day() -> date:
    """The last day all editions held may be used: specimens show the newest rules, and no clock is read."""
    return min(edition.last for edition in editions().values())


# --- one page --------------------------------------------------------------------------------------------------------


def specimen_sheet(specimen: Specimen, page: Page) -> Sheet:
    """One mark at true size on a page of its own."""
    art = specimen.forms[0]
    title = str(getattr(art, "title", "") or "")
    told = title if title.casefold() != specimen.name.casefold() else ""
    made = replace(page, title=specimen.name, kind=" · ".join(filter(None, (told, "specimen at true size"))))
    return drawn(made, lambda pen, area: _draw(specimen, art, pen, area), colour=art.colour)


def _draw(specimen: Specimen, art: Artwork, pen: Pen, area: Box) -> None:
    on_point = art.shape == SQUARE_ON_POINT
    lengths = art.dimensions()
    wide = any(d.name in ("width", "side") for d in lengths) and not on_point  # a long length lies under it
    x, y = area.x + (area.width - art.width) / 2, area.top - (8.0 if on_point else 10.0) - art.height
    with group(pen, "specimen", specimen.name):
        art.draw(TransformPen(pen, Transform.moved(x, y)))
    with group(pen, "measures", "Measures"):
        outline = Outline(Box(x, y, art.width, art.height), on_point)
        for d in lengths:
            a, b = Point(d.start.x + x, d.start.y + y), Point(d.end.x + x, d.end.y + y)
            aside = -d.start.x - 4.0 if d.name == "lettering" else _ASIDE.get(d.name, 0.0)
            arrow(pen, a, b, _said(d.name, d.value), outline, aside, 13.0 if wide else BEYOND)
    _below(specimen, pen, Box(area.x, area.y, area.width, y - (20.0 if wide else 12.0 - 6.0 * on_point) - area.y))


def _said(name: str, value: float) -> str:
    short = {"figure_high": "figure", "lettering": "letters", "inset": "to line", "trefoil_radius": "radius"}
    return f"{short.get(name, _NAMES.get(name, name.replace('_', ' ')))} {number(value, 1)} mm"


def _below(specimen: Specimen, pen: Pen, area: Box) -> None:
    """Under the mark: what the law fixes and where, the inks, and the smallest form at true size on the right."""
    held = specimen.forms
    art = held[0]
    smallest = min(reversed(held), key=lambda form: form.width * form.height)
    smaller = smallest.width * smallest.height < 0.9 * art.width * art.height
    beside = smaller and smallest.width < 0.52 * area.width
    wide = area.width - (max(smallest.width, _CAPTION) + 8 if beside else 0)
    for size in _TEXT:
        text = Column(RecordingPen(), area.x, area.top, wide, size)
        _say(specimen, text, smaller, art)
        if text.y >= area.y:
            break
    text.pen.replay(pen)
    if smaller:
        with group(pen, "smallest", "Smallest form"):
            at = Point(area.x + wide + 8, area.top) if beside else Point(area.x, text.y - 2)
            _smallest(smallest, pen, at)


def _say(specimen: Specimen, text: Column, smaller: bool, art: Artwork) -> None:
    with group(text.pen, "law", "What the law fixes"):
        _figures(specimen, text)
        text.y -= 1
        text.row("asked for by", by_law(specimen.cite) or "no rule held: printed where a person asks for it")
        if left := _COLOURS.get(specimen.variant or specimen.mark):
            text.row("colours left open", left)
        if specimen.mark in _SMALLER and smaller:
            text.row("smaller", _SMALLER[specimen.mark])
    with group(text.pen, "inks", "Inks"):
        text.y -= 1
        _inks(text, art)


@dataclass(slots=True)
class Column:
    """Rows of a heading and a text, from y down; size: the em, mm."""

    pen: RecordingPen
    x: float
    y: float
    wide: float
    size: float

    @property
    def step(self) -> float:
        return self.size * 1.36

    @property
    def inner(self) -> float:
        return self.x + _COLUMN

    def head(self, text: str) -> None:
        line(self.pen, self.x, self.y - self.size, text, self.size, "bold")

    def row(self, head: str, text: str, source: str = "") -> None:
        """A heading, and to its right a text in black and its source in grey."""
        self.head(head)
        for said, size, ink in ((text, self.size, BLACK), (source, self.size * 0.9, grey(65))):
            for row in paragraphs([said] if said else [], self.wide - _COLUMN, size):
                line(self.pen, self.inner, self.y - self.size, row, size, ink=ink)
                self.y -= self.step
        self.y -= 0.4


def by_law(cite: Sequence[str]) -> str:
    """Paragraphs with each law named once: ``ADR 5.2.1.1, 5.2.2.1; IMDG 5.2.1.1``."""
    laws: dict[str, list[str]] = {}
    for text in cite:
        law = next((law for law in ("ADR", "IMDG", "ICAO TI", "49 CFR") if text.startswith(law)), "")
        laws.setdefault(law, []).append(text.removeprefix(law).strip())
    return "; ".join(f"{law} {', '.join(texts)}".strip() for law, texts in laws.items())


def _figures(specimen: Specimen, text: Column) -> None:
    """One row a length. A paragraph that is the same as in the row above is not said again."""
    if not specimen.figures:
        text.row("lengths", "the law fixes none")
    above = ""
    for name, figure in specimen.figures.items():
        if name == "figure_high":
            continue  # said with the least height
        most = f" to {specimen.figures['figure_high'].text}" if name == "figure_low" else ""
        said = f"{_NAMES.get(name, name.replace('_', ' '))} {figure.value if most else figure.text}{most}"
        where = "; ".join(figure.cite.values())
        text.row(said, "" if where == above else where, figure.source)
        above = where


def _used(art: Artwork) -> tuple[Ink, ...]:
    pen = RecordingPen()
    art.draw(pen)
    return pen.inks


def _inks(text: Column, art: Artwork) -> None:
    pen, size, x = text.pen, text.size, text.inner
    text.head("inks")
    for ink in sorted(_used(art), key=lambda i: (i == WHITE, i == BLACK, i.name)):
        swatch = Box(x, text.y - size - 0.7, 6, 3.2)
        pen.fill(rectangle(swatch), ink)
        pen.stroke(rectangle(swatch), grey(60), 0.1)
        said = (
            "the bare stock"
            if ink == WHITE
            else f"{ink.spot}: C {ink.cmyk[0]:g} M {ink.cmyk[1]:g} Y {ink.cmyk[2]:g} K {ink.cmyk[3]:g}"
        )
        screen = "" if ink in (WHITE, BLACK) else f", sRGB {ink.hex}"
        whole = _COLUMN + 8 + letters.width(said + screen, "regular", size) <= text.wide
        line(pen, x + 8, text.y - size, said + screen if whole else said, size)
        text.y -= max(text.step, 3.6)


def _smallest(art: Artwork, pen: Pen, at: Point) -> None:
    """The smallest form at true size, hung from ``at``."""
    text = Column(RecordingPen(), at.x, at.y, max(art.width, _CAPTION), _TEXT[0])
    for row in paragraphs([f"smallest form: {art.note or 'as small as it is printed'}"], text.wide, text.size):
        text.head(row)
        text.y -= text.step
    text.pen.replay(pen)
    art.draw(TransformPen(pen, Transform.moved(at.x, text.y - 2 - art.height)))


# --- the poster ------------------------------------------------------------------------------------------------------

_COLUMNS, _NAME = 8, 3.2
#: A row of texts alone is this much lower than one of labels.
_TEXT_ROW = 0.45
#: ISO 216: A2 on its side.
_POSTER = (594.0, 420.0)


def poster(shown: Sequence[Specimen], page: Page) -> Sheet:
    """All of them in one picture, to one scale, which the head says."""
    rows = [shown[n : n + _COLUMNS] for n in range(0, len(shown), _COLUMNS)]
    parts = [1.0 if any(s.forms[0].height > 60 for s in row) else _TEXT_ROW for row in rows]
    wide, high = page.area.width / _COLUMNS, page.area.height / math.fsum(parts)
    largest = max(max(s.forms[0].width, s.forms[0].height) for s in shown if s.variant)
    scale = int(100 * min(wide - 6, high - 14) / largest) / 100
    kind = f"{len(shown)} specimens to the scale {number(scale)}; long texts smaller"

    def draw(pen: Pen, area: Box) -> None:
        y = area.top
        for row, part in zip(rows, parts, strict=True):
            y -= part * high
            for n, specimen in enumerate(row):
                _miniature(pen, specimen, Box(area.x + n * wide, y, wide, part * high), scale)

    return drawn(replace(page, kind=kind), draw, colour=True)


def _miniature(pen: Pen, specimen: Specimen, cell: Box, scale: float) -> None:
    art = specimen.forms[0]
    k = min(scale, (cell.width - 6) / art.width)
    x, y = cell.centre.x - art.width * k / 2, cell.y + 9 + (cell.height - 12 - art.height * k) / 2
    with group(pen, specimen.name, specimen.name):
        art.draw(TransformPen(pen, Transform.scaled(k).then(Transform.moved(x, y))))
    text = specimen.name.removeprefix("Hazard label ") if specimen.variant else specimen.name
    font = "bold" if specimen.variant else "regular"
    line(pen, cell.centre.x - letters.width(text, font, _NAME) / 2, cell.y + 3.5, text, _NAME, font)
    pen.stroke(polyline([(cell.x + 5, cell.y), (cell.right - 5, cell.y)]), grey(25), 0.1)


# --- files -----------------------------------------------------------------------------------------------------------


def specimen_sheets(on: date | None = None) -> tuple[tuple[Sheet, ...], Sheet]:
    """The pages of a day, numbered, and the poster."""
    on = on or last_day()
    held = tuple(f"{e.mode}: {e.name}" for e in editions().values())
    heading = Heading("", (*held, f"as of {on.isoformat()}"))
    a4 = read_stock("A4")
    shown = tuple(specimens(on))
    pages = numbered([specimen_sheet(s, Page(a4.width, a4.height, a4.margin, heading)) for s in shown])
    return pages, poster(shown, Page(*_POSTER, a4.margin, heading, "Labels and marks", total=0))


def make_specimens(
    out: Path, *, inks: str = "rgb", on: date | None = None, progress: Callable[[int, int, str], None] | None = None
) -> Iterator[Path]:
    """Write ``specimens.pdf``, ``poster.pdf``, ``poster.svg`` and one SVG a page into ``out``; yields each path."""
    out.mkdir(parents=True, exist_ok=True)
    pages, all_of_them = specimen_sheets(on)
    tell = progress or (lambda done, of, what: None)
    total = len(pages) + 3
    yield _written(out / "specimens.pdf", to_pdf(pages, inks=inks, title="Specimens of labels and marks"))
    tell(1, total, "specimens.pdf")
    yield _written(out / "poster.pdf", to_pdf([all_of_them], inks=inks, title="Labels and marks"))
    yield _written(out / "poster.svg", to_svg(all_of_them))
    for n, sheet in enumerate(pages):
        name = sheet.page.title.casefold().replace(" ", "-") + ".svg"
        yield _written(out / name, to_svg(sheet))
        tell(n + 4, total, name)


def _written(path: Path, data: bytes | str) -> Path:
    write_whole(path, data)
    return path
