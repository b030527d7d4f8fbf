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
    def faces(self) -> tuple[tuple[str, float], ...]:
        """The faces whose marks are on the page, and how high the first of each begins, mm."""
        highest: dict[str, float] = {}
        for piece in self.pieces:
            highest.setdefault(piece.item.face, piece.box.top)
        return tuple(highest.items())

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
            name = f"{group_[0].what.capitalize()} {package}"
            ways = [Page(w, h, stock.margin, head, name, kind) for w, h in stock.ways]
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


Copies = list[list[tuple[Item, int]]]
Spot = tuple[Cell, float, float]  # a cell and the lower left corner of its place, mm
Pages = list[tuple[Page, list[Spot]]]


def _copies(items: Iterable[Item]) -> Copies:
    """All items of copy 1, then all of copy 2, ..."""
    items = list(items)
    return [[(item, n) for item in items if n <= item.count] for n in range(1, max(i.count for i in items) + 1)]


def _best(copies: Copies, heading: Heading, ways: list[Page], flat: str) -> tuple[Pages, list[Misfit]]:
    """The fewest pages. Of equals: labels upright before flat, then all pages upright, all on their side, mixed."""
    found: list[Pages] = []
    for lying in {"auto": (False, True), "never": (False,), "always": (True,)}[flat]:
        chosen, misfits = _chosen(copies, heading, ways, lying, flat != "never")
        if misfits:
            return [], misfits
        turns = [[way] for way in ways] + [ways] if len(ways) > 1 else [ways]
        found += [pages for turn in turns if (pages := _paged(chosen, turn)) is not None]
    return min(found, key=len), []


def _chosen(
    copies: Copies, heading: Heading, ways: list[Page], lying: bool, may_turn: bool
) -> tuple[list[Cell], list[Misfit]]:
    """One cell for each piece, the preferred one that some page can take, within a copy the tallest first, as they pack
    best; and what no page can take."""
    chosen: list[Cell] = []
    misfits: dict[Item, Misfit] = {}
    areas = [page.area for page in ways]
    for copy in copies:
        of_copy: list[Cell] = []
        for item, n in copy:
            upright, turned = cells(item, heading.reference, n)
            on_point = item.artwork.side is not None
            order = [turned, upright] if on_point and lying else [upright, turned]
            if on_point and not may_turn:
                order = [upright]
            fits = (c for c in order if any(_takes(area, c.width, c.height) for area in areas))
            if (cell := next(fits, None)) is not None:
                of_copy.append(cell)
            elif item not in misfits:
                least = min(order, key=lambda c: c.width * c.height)
                spare = [min(a.width / least.width, a.height / least.height) for a in areas]
                area = areas[spare.index(max(spare))]
                misfits[item] = Misfit(item.called, (least.width, least.height), (area.width, area.height))
        chosen += sorted(of_copy, key=lambda cell: -cell.height)
    return chosen, list(misfits.values())


def _takes(area: Box, width: float, height: float) -> bool:
    return width <= area.width + 1e-9 and height <= area.height + 1e-9


def _paged(todo: list[Cell], ways: list[Page]) -> Pages | None:
    """Page after page, each turned the way that takes more; None if a piece fits on no such page."""
    pages: Pages = []
    while todo:
        page, spots = max(((page, _filled(todo, page.area)) for page in ways), key=lambda found: len(found[1]))
        if not spots:
            return None
        pages.append((page, spots))
        todo = todo[len(spots) :]
    return pages


def _filled(todo: list[Cell], area: Box) -> list[Spot]:
    """Cells in order, each hung as high as it goes, then as far left; the first that finds no room ends the page.

    The skyline is kept as steps (x, depth), from x up to the next step; depth is measured from the area's top.
    """
    steps = [(0.0, 0.0)]
    spots: list[Spot] = []
    for cell in todo:
        best: tuple[float, float] | None = None
        for x, _ in steps:
            right = x + cell.width
            if right > area.width + 1e-9:
                break
            depth = max(
                d
                for (left, d), (end, _) in zip(steps, [*steps[1:], (area.width, 0.0)], strict=True)
                if end > x + 1e-9 and left < right - 1e-9
            )
            if depth + cell.height <= area.height + 1e-9 and (best is None or (depth, x) < best):
                best = depth, x
        if best is None:
            break
        depth, x = best
        right, low = x + cell.width, depth + cell.height
        spots.append((cell, area.x + x, area.top - low))
        after = [d for left, d in steps if left <= right + 1e-9][-1]
        steps = (
            [s for s in steps if s[0] < x - 1e-9]
            + [(x, low)]
            + [(right, after)] * (right < area.width - 1e-9)
            + [s for s in steps if s[0] > right + 1e-9]
        )
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
        with group(around, f"around-{n}", f"{piece.item.spoken}: cut marks and caption"):
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
            name = f"{item.spoken} ({item.artwork.note})" if item.artwork.note else item.spoken
            counts[name] = counts.get(name, 0) + item.count
    return tuple(sorted(counts.items()))
