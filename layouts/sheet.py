"""Step 4, impose: the marks of a record laid out on the stock at true size, as sheets that are data.

Coloured labels and black-only marks never share a sheet. Sheets follow the packages in order, coloured ones first, and
within a package one copy follows the other, so that a stack of sheets follows the line. Packages share a sheet only where
that saves one. Nothing is scaled.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from layouts.bound import least
from layouts.cell import Item, Piece, cells
from layouts.die import alone, control
from layouts.errors import Misfit, StockTooSmall
from layouts.fill import SPARE, TIDY, Due, Filled, fewest, takes
from layouts.furniture import BLEED, Heading, Page, stamp
from layouts.geometry import Box, Transform
from layouts.letters import font_measures, set_in
from layouts.pen import Pen, TransformPen, group
from layouts.probe import Begin, Call, End, Fill, RecordingPen, Stroke, Text
from layouts.programme import at_least, by_programme
from layouts.stock import OFFERED, Stock, read_stock

COLOURED, BLACK_ONLY = "coloured labels", "black-only marks"
#: Squares on their point: printed upright unless lying flat saves sheets; or always upright; or always flat.
FLAT = ("auto", "never", "always")
#: A stack of more pieces is very large.
_LARGE = 400


class Sheet(Struct, frozen=True):
    """One page, ready to be drawn. page: its size, head, foot and ruler; pieces: the artwork; around: cut marks,
    captions and other drawing; over: what is printed across the artwork; colour: it needs more than black ink; starts: the
    faces that a drawing is about and how high each begins, mm."""

    page: Page
    pieces: tuple[Piece, ...] = ()
    around: tuple[Call, ...] = ()
    over: tuple[Call, ...] = ()
    colour: bool = False
    starts: tuple[tuple[str, float], ...] = ()

    @property
    def bookmark(self) -> tuple[str, ...]:
        return tuple(filter(None, (self.page.title, self.page.kind)))

    @property
    def faces(self) -> tuple[tuple[str, float], ...]:
        """The faces whose marks are on the page, and how high the first of each begins, mm."""
        highest: dict[str, float] = dict(self.starts)
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


def drawn(
    page: Page,
    draw: Callable[[Pen, Box], object],
    *,
    colour: bool = False,
    faces: Sequence[str] = (),
) -> Sheet:
    """A sheet with a drawing of one's own (a diagram, a checklist) in the page's free area. faces: those it is about; each
    begins where its first group ("close-up-front", "face-front") is drawn."""
    pen = RecordingPen()
    draw(pen, page.area)
    starts = ((face, _top(pen.calls, {f"close-up-{face}", f"face-{face}"})) for face in faces)
    return Sheet(
        page, around=pen.value, colour=colour, starts=tuple((face, top) for face, top in starts if top is not None)
    )


def _top(calls: Sequence[Call], idents: Set[str]) -> float | None:
    """How high the first group of one of these names reaches, mm; None where there is none. Where a reader is sent to: to a
    curve's handles and a font's ascent, which is near enough and asks for no letter's outline."""
    first = next((n for n, call in enumerate(calls) if isinstance(call, Begin) and call.ident in idents), None)
    if first is None:
        return None
    tops, depth = [0.0], 0
    for call in calls[first:]:  # what is stored, a mark, lies within its face; what is turned stands beside it
        if isinstance(call, Fill):
            tops.append(call.path.bounds.top)
        elif isinstance(call, Stroke):
            tops.append(call.path.bounds.top + call.width / 2)
        elif isinstance(call, Text) and not call.turn:
            tops.append(call.y + font_measures(set_in(call.text, call.font)).ascent * call.size)
        depth += isinstance(call, Begin) - isinstance(call, End)
        if depth == 0:
            break
    return max(tops)


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
    """Lay out all copies of all items, coloured labels first. flat: one of ``FLAT``. not_cleared: for a package that may
    not travel as described, the modes in words ("sea, air"): its sheets, which no other package shares, and every piece
    then say so.

    StockTooSmall names every item that no page of the stock can take at true size, and a stock too small for the ruler.
    """
    if flat not in FLAT:
        raise ValueError(f"flat is one of {', '.join(FLAT)}, not {flat!r}")
    if any(item.count < 1 for item in items):
        raise ValueError("an item is printed at least once")
    refused = not_cleared or {}
    if items and not Page(stock.width, stock.height, stock.margin, heading).can_be_ruled:
        need = 100 + 2 * stock.margin
        raise StockTooSmall(
            [Misfit("the control ruler of 100 mm", (need, need), (stock.width, stock.height))], stock.name
        )
    sheets: list[Sheet] = []
    misfits: list[Misfit] = []
    for kind, colour in ((COLOURED, True), (BLACK_ONLY, False)):
        for said in dict.fromkeys(refused.get(item.package) for item in items):
            stack = [i for i in items if i.artwork.colour is colour and refused.get(i.package) == said]
            if stack:
                head = replace(heading, not_cleared=said)
                line = waiting(stack, head.reference, stock)
                if flat == "never":
                    line = [_upright(one) for one in line]
                areas = areas_of(stock, head)
                wrong = _misfits(line, areas, stock)
                misfits += wrong
                if not wrong:
                    sheets += _stack(line, areas, stock, head, kind, flat)
    if misfits:
        raise StockTooSmall(misfits, stock.name, _instead(items, heading))
    return numbered(sheets)


def _instead(items: Sequence[Item], heading: Heading) -> str | None:
    """The smallest stock on offer that takes every item."""
    once = [replace(item, count=1) for item in items]
    for name in OFFERED:
        stock = read_stock(name)
        if not _misfits(waiting(once, heading.reference, stock), areas_of(stock, heading), stock):
            return name
    return None


def areas_of(stock: Stock, heading: Heading) -> tuple[Box, ...]:
    """Where pieces may lie: the free area of a page in each way it may be turned; of label stock, one label."""
    if stock.places is not None:
        return (stock.places.usable,)
    return tuple(Page(w, h, stock.margin, heading).area for w, h in stock.ways)


def waiting(items: Iterable[Item], reference: str, stock: Stock) -> list[Due]:
    """Every copy of every item in the order of the line: package by package; all marks of copy 1, then of copy 2, ...; of
    one copy the tallest first, as they pack best."""
    packages: dict[str, list[Item]] = {}
    for item in items:
        packages.setdefault(item.package, []).append(item)
    found: list[Due] = []
    for of_package in packages.values():
        for n in range(1, max(item.count for item in of_package) + 1):
            found += sorted(
                (due(item, reference, n, stock) for item in of_package if n <= item.count),
                key=lambda one: -one.cells[0].height,
            )
    return found


@lru_cache(maxsize=512)
def due(item: Item, reference: str, copy: int, stock: Stock) -> Due:
    """One copy of an item with all the ways to print it on this stock."""
    lone = () if stock.places is None else tuple(alone(item, reference, copy, stock.places))
    return Due(item.package, tuple(cells(item, reference, copy)), lone)


def _misfits(line: Iterable[Due], areas: Sequence[Box], stock: Stock) -> list[Misfit]:
    """What no page can take, each item once, with the least it needs and the page that comes nearest."""
    found: dict[Item, Misfit] = {}
    for one in line:
        item = one.cells[0].piece.item
        if one.alone or item in found or any(takes(area, *size) for area in areas for size in one.sizes):
            continue
        least = min(one.sizes, key=lambda size: size[0] * size[1])
        if stock.places is not None:
            art = item.artwork
            least = (art.side, art.side) if art.side else (art.width, art.height)
        spare = [min(area.width / least[0], area.height / least[1]) for area in areas]
        area = areas[spare.index(max(spare))]
        found[item] = Misfit(item.called, least, (area.width, area.height), stock.places is not None)
    return list(found.values())


def _ways(line: Sequence[Due], flat: str) -> list[Sequence[Due]]:
    """The same pieces in the manners ``flat`` allows: squares on their point upright first, lying flat first."""
    lying: Sequence[Due] = [_lying(one) for one in line]
    ways: dict[str, list[Sequence[Due]]] = {"auto": [line, lying], "never": [line], "always": [lying]}
    return ways[flat] if lying != line else [line]


def _on_point(one: Due) -> bool:
    return one.cells[0].piece.item.artwork.side is not None


def _lying(one: Due) -> Due:
    return one._replace(cells=one.cells[::-1], alone=one.alone[::-1]) if _on_point(one) else one


def _upright(one: Due) -> Due:
    """Without the ways in which a square on its point lies flat."""
    if not _on_point(one):
        return one
    size = one.cells[0].piece.box.width
    return one._replace(cells=one.cells[:1], alone=tuple(c for c in one.alone if c.piece.box.width == size))


def _stack(
    line: Sequence[Due], areas: Sequence[Box], stock: Stock, heading: Heading, kind: str, flat: str
) -> Iterator[Sheet]:
    """One stack: on paper a sheet for each area; on label stock the control sheet, then sheets full of labels."""
    filled = _filled(line, areas, flat)
    if stock.places is None:
        for one in filled:
            width, height = stock.ways[one.way]
            yield _sheet(Page(width, height, stock.margin, heading), kind, [(one, 0.0, 0.0)])
        return
    boxes = stock.boxes()
    page = Page(stock.width, stock.height, stock.margin, heading, "Control", kind)
    yield drawn(page, lambda pen, area: control(pen, area, stock, _order(line)), colour=kind == COLOURED)
    page = replace(page, bare=True)
    for n in range(0, len(filled), len(boxes)):
        yield _sheet(page, kind, [(one, box.x, box.y) for one, box in zip(filled[n:], boxes, strict=False)])


def _filled(line: Sequence[Due], areas: Sequence[Box], flat: str) -> list[Filled]:
    """The pieces on areas. One area more than the least is preferred to disorder; where it takes yet more, disorder spares
    what it can (of a very large stack only the programme does, in good time)."""
    ways, few = _ways(line, flat), least(line, areas).by_places
    turns = [[area] for area in areas] + [list(areas)] if len(areas) > 1 else [list(areas)]
    best = fewest(ways, turns, few, TIDY)
    if len(best) > few + 1 and len(line) <= _LARGE:
        best = min(best, fewest(ways, turns, few, SPARE), key=len)
    few = at_least(ways[0], areas, few, len(best))
    return by_programme(ways[0], areas, few, best)


def _order(line: Iterable[Due]) -> list[str]:
    """The pieces package by package, as the control sheet lists them."""
    rows: dict[str, dict[str, None]] = {}
    for one in line:
        item = one.cells[0].piece.item
        said = f"{item.what} {item.package}, {item.count} cop{'ies' if item.count > 1 else 'y'}: "
        rows.setdefault(said, {})[item.spoken] = None
    return [said + ", ".join(marks) for said, marks in rows.items()]


def _sheet(page: Page, kind: str, filled: Sequence[tuple[Filled, float, float]]) -> Sheet:
    """What was filled, each moved to its place; on paper the whole is centred from side to side."""
    around, over = RecordingPen(), RecordingPen()
    pieces: list[Piece] = []
    for one, dx, dy in filled:
        if not page.bare:
            dx = (page.area.right - max(spot.x + spot.cell.width for spot in one.spots)) / 2
        for _, cell, x, y in one.spots:
            piece = cell.piece.moved(x + dx, y + dy)
            pieces.append(piece)
            with group(around, f"around-{len(pieces)}", f"{piece.item.spoken}: cut marks and caption"):
                cell.draw(TransformPen(around, Transform.moved(x + dx, y + dy)))
            if page.heading.not_cleared is not None:
                b = piece.box
                tall = min(9.0, b.height * 0.4)
                stamp(over, Box(b.x, b.centre.y - tall / 2, b.width, tall), page.heading.not_cleared)
    names = dict.fromkeys((piece.item.what, piece.item.package) for piece in pieces)
    titled = replace(page, title=_title(list(names)), kind=kind)
    return Sheet(titled, tuple(pieces), around.value, over.value, kind == COLOURED)


def _title(names: Sequence[tuple[str, str]]) -> str:
    """``Package A``; ``Packages A, B``; ``Packages A to F``."""
    said = []
    for what in dict.fromkeys(what for what, _ in names):
        of = [name for kind, name in names if kind == what]
        plural = what.capitalize() + "s" * (len(of) > 1)
        said.append(f"{plural} {', '.join(of)}" if len(of) <= 4 else f"{plural} {of[0]} to {of[-1]}")
    return ", ".join(said)
