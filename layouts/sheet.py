"""Step 4, impose: the marks of a record laid out on the stock at true size, as sheets that are data.

Coloured labels and black-only marks never share a sheet. Sheets follow the packages in order, coloured ones first, and
within a package one copy follows the other, so that a stack of sheets follows the line. Nothing is scaled.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from layouts.cell import Cell, Item, Piece, cells
from layouts.errors import Misfit, StockTooSmall
from layouts.furniture import BLEED, Heading, Page, stamp
from layouts.geometry import Box, Transform
from layouts.pen import Pen, TransformPen, group
from layouts.probe import Call, RecordingPen
from layouts.stock import Stock

COLOURED, BLACK_ONLY = "coloured labels", "black-only marks"
#: Squares on their point: printed upright unless lying flat saves sheets; or always upright; or always flat.
FLAT = ("auto", "never", "always")


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page, ready to be drawn. page: its size, head, foot and ruler; pieces: the artwork; around: cut marks,
    captions and other drawing; over: what is printed across the artwork; colour: it needs more than black ink."""

    page: Page
    pieces: tuple[Piece, ...] = ()
    around: tuple[Call, ...] = ()
    over: tuple[Call, ...] = ()
    colour: bool = False

    @property
    def bookmark(self) -> tuple[str, ...]:
        return tuple(filter(None, (self.page.title, self.page.kind)))

    @property
    def trim(self) -> Box:
        """The box around all cut edges; the whole page where nothing is cut."""
        if not self.pieces:
            return Box(0, 0, self.page.width, self.page.height)
        x, y = min(p.box.x for p in self.pieces), min(p.box.y for p in self.pieces)
        return Box(x, y, max(p.box.right for p in self.pieces) - x, max(p.box.top for p in self.pieces) - y)

    @property
    def bleed(self) -> Box:
        """The trim box and how far colour runs beyond it."""
        return self.trim.grown(BLEED) if any(p.bleed for p in self.pieces) else self.trim


def drawn(page: Page, draw: Callable[[Pen, Box], None], *, colour: bool = False) -> Sheet:
    """A sheet with a drawing of one's own (a diagram, a checklist) in the page's free area."""
    pen = RecordingPen()
    draw(pen, page.area)
    return Sheet(page, around=pen.value, colour=colour)


def numbered(sheets: Sequence[Sheet]) -> tuple[Sheet, ...]:
    """The sheets counted as one stack: "sheet 3 of 7"."""
    total = len(sheets)
    return tuple(replace(s, page=replace(s.page, number=n, total=total)) for n, s in enumerate(sheets, 1))


def impose(
    items: Sequence[Item],
    stock: Stock,
    heading: Heading,
    *,
    flat: str = "auto",
    not_cleared: Mapping[str, str] | None = None,
) -> tuple[Sheet, ...]:
    """Lay out all copies of all items. flat: one of ``FLAT``. not_cleared: for a package that may not travel as
    described, the modes in words ("sea, air"): every sheet of it and every piece then says so.

    StockTooSmall names every item that no page of the stock can take at true size, and a stock too small for the ruler.
    """
    if flat not in FLAT:
        raise ValueError(f"flat is one of {', '.join(FLAT)}, not {flat!r}")
    if any(item.count < 1 for item in items):
        raise ValueError("an item is printed at least once")
    refused = not_cleared or {}
    sheets: list[Sheet] = []
    misfits: list[Misfit] = []
    for package in dict.fromkeys(item.package for item in items):
        head = replace(heading, not_cleared=refused.get(package))
        for kind, colour in ((COLOURED, True), (BLACK_ONLY, False)):
            group_ = [i for i in items if i.package == package and i.artwork.colour is colour]
            if not group_:
                continue
            ways = [Page(w, h, stock.margin, head, f"Package {package}", kind) for w, h in stock.ways]
            if not ways[0].can_be_ruled:
                least = 100 + 2 * stock.margin
                raise StockTooSmall(
                    [Misfit("the control ruler of 100 mm", (least, least), (stock.width, stock.height))], stock.name
                )
            pages, wrong = _best(_copies(group_), head, ways, flat)
            misfits += wrong
            sheets += [_sheet(page, placed, colour) for page, placed in pages]
    if misfits:
        raise StockTooSmall(misfits, stock.name)
    return numbered(sheets)


Copy = tuple[Item, int]
Spot = tuple[Cell, float, float]


def _copies(items: Iterable[Item]) -> list[Copy]:
    """Copy 1 of every item, then copy 2, ...; within a copy the tallest first, as they pack best."""
    items = sorted(items, key=lambda i: -i.artwork.height)
    return [(item, n) for n in range(1, max(i.count for i in items) + 1) for item in items if n <= item.count]


def _best(
    copies: list[Copy], heading: Heading, ways: list[Page], flat: str
) -> tuple[list[tuple[Page, list[Spot]]], list[Misfit]]:
    """The pages with the fewest sheets: upright where that costs none."""
    tries = {"auto": (False, True), "never": (False,), "always": (True,)}[flat]
    found = []
    for lying in tries:
        chosen, misfits = _chosen(copies, heading, ways, lying, flat != "never")
        if misfits:
            return [], misfits
        found.append(_paged(chosen, ways))
    return min(found, key=len), []


def _chosen(
    copies: list[Copy], heading: Heading, ways: list[Page], lying: bool, may_turn: bool
) -> tuple[list[Cell], list[Misfit]]:
    """One cell for each copy: the preferred one that some page can take; and what none can take."""
    chosen: list[Cell] = []
    misfits: dict[Item, Misfit] = {}
    areas = [page.area for page in ways]
    for item, n in copies:
        upright, turned = cells(item, heading.reference, n)
        on_point = item.artwork.side is not None
        order = (
            [upright] if on_point and not may_turn else [turned, upright] if on_point and lying else [upright, turned]
        )
        for cell in order:
            if any(cell.width <= a.width + 1e-9 and cell.height <= a.height + 1e-9 for a in areas):
                chosen.append(cell)
                break
        else:
            least = min(order, key=lambda c: c.width * c.height)
            area = max(areas, key=lambda a: min(a.width / least.width, a.height / least.height))
            misfits.setdefault(item, Misfit(item.called, (least.width, least.height), (area.width, area.height)))
    return chosen, list(misfits.values())


def _paged(todo: list[Cell], ways: list[Page]) -> list[tuple[Page, list[Spot]]]:
    """Page after page, each turned the way that takes more of what comes next."""
    pages = []
    while todo:
        page, spots = max(((page, _filled(todo, page.area)) for page in ways), key=lambda found: len(found[1]))
        pages.append((page, spots))
        todo = todo[len(spots) :]
    return pages


def _filled(todo: list[Cell], area: Box) -> list[Spot]:
    """Shelves from the top; each cell on the first shelf with room, else on a new one; one that finds none ends it."""
    shelves: list[list[float]] = []  # top, height, used width
    spots: list[Spot] = []
    floor = area.top
    for cell in todo:
        for shelf in shelves:
            if cell.height <= shelf[1] + 1e-9 and shelf[2] + cell.width <= area.width + 1e-9:
                break
        else:
            if floor - cell.height < area.y - 1e-9 or cell.width > area.width + 1e-9:
                break
            shelves.append(shelf := [floor, cell.height, 0.0])
            floor -= cell.height
        spots.append((cell, area.x + shelf[2], shelf[0] - cell.height))
        shelf[2] += cell.width
    return spots


def _sheet(page: Page, spots: list[Spot], colour: bool) -> Sheet:
    """The cells on a page, the whole of them centred from side to side."""
    area = page.area
    spare = (area.right - max(x + cell.width for cell, x, _ in spots)) / 2
    around, over = RecordingPen(), RecordingPen()
    pieces = []
    for n, (cell, x, y) in enumerate(spots, 1):
        piece = cell.piece.moved(x + spare, y)
        pieces.append(piece)
        with group(around, f"around-{n}", f"{piece.item.mark}: cut marks and caption"):
            cell.draw(TransformPen(around, Transform.moved(x + spare, y)))
        if page.heading.not_cleared is not None:
            b = piece.box
            tall = min(9.0, b.height * 0.4)
            stamp(over, Box(b.x, b.centre.y - tall / 2, b.width, tall), page.heading.not_cleared)
    return Sheet(page, tuple(pieces), around.value, over.value, colour)


def pick_list(items: Sequence[Item]) -> tuple[tuple[str, int], ...]:
    """Which coloured labels the record takes and how many of each, for a shop that has them ready printed."""
    counts: dict[str, int] = {}
    for item in items:
        if item.artwork.colour:
            name = f"{item.mark} ({item.artwork.note})" if item.artwork.note else item.mark
            counts[name] = counts.get(name, 0) + item.count
    return tuple(sorted(counts.items()))
