"""How a stack of sheets uses its stock: how many, how few it could be at all, and how much of their area is printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from layouts.bound import Least, least
from layouts.cell import Piece
from layouts.programme import at_least
from layouts.sheet import Sheet, areas_of, due
from layouts.stock import Stock
from layouts.units import number


class Use(Struct, frozen=True):
    """One stack. kind: coloured labels or black-only marks; sheets: with labels on them, control sheets apart; labels: how
    many of a stock's labels are used, 0 on paper; least: how few sheets it could be; share: of the sheets' area that is
    label or mark, within the cut edges, 0 to 1."""

    kind: str
    stock: str
    sheets: int
    control: int
    labels: int
    least: Least
    share: float

    @property
    def told(self) -> Iterator[str]:
        """Lines for a person."""
        sheets = f"{self.sheets} sheet{'s' if self.sheets != 1 else ''}"
        if self.labels > self.sheets:
            sheets += f" ({self.labels} labels)"
        control = f" and {self.control} control sheet{'s' if self.control > 1 else ''}" if self.control else ""
        yield f"{self.kind}: {sheets}{control}, {number(self.share * 100, 0)} % of their area printed"
        if self.least.by_places > self.least.by_area:
            yield (
                f"  by area alone {self.least.by_area} would do; by what fits beside and below each other it takes at least "
                f"{self.least.by_places}"
            )
        else:
            yield f"  by area it takes at least {self.least.by_area}"


def usage(sheets: Sequence[Sheet], stock: Stock) -> tuple[Use, ...]:
    """Every stack among the sheets; those that are not cleared for some mode are stacks of their own."""
    stacks: dict[tuple[str, str | None], list[Sheet]] = {}
    for sheet in sheets:
        stacks.setdefault((sheet.page.kind, sheet.page.heading.not_cleared), []).append(sheet)
    return tuple(_use(kind, stack, stock) for (kind, _), stack in stacks.items())


def _use(kind: str, stack: Sequence[Sheet], stock: Stock) -> Use:
    with_labels = [sheet for sheet in stack if sheet.pieces]
    pieces = [piece for sheet in with_labels for piece in sheet.pieces]
    heading = stack[0].page.heading
    asked, areas = [due(one.item, heading.reference, one.copy, stock) for one in pieces], areas_of(stock, heading)
    found, on_one = least(asked, areas), len(stock.boxes()) or 1
    sheet_least = Least(-(-found.by_area // on_one), -(-found.by_places // on_one))
    labels = sum(_labels(sheet, stock) for sheet in with_labels)
    if len(with_labels) > sheet_least.by_places + 1:
        closer = at_least(asked, areas, found.by_places, labels or len(with_labels))
        sheet_least = Least(sheet_least.by_area, -(-closer // on_one))
    return Use(
        kind,
        str(stock),
        len(with_labels),
        len(stack) - len(with_labels),
        labels,
        sheet_least,
        sum(map(_area, pieces)) / (len(with_labels) * stock.width * stock.height),
    )


def _labels(sheet: Sheet, stock: Stock) -> int:
    """How many of a label sheet's labels bear something."""
    return sum(any(box.overlaps(piece.box) for piece in sheet.pieces) for box in stock.boxes())


def _area(piece: Piece) -> float:
    """Within the cut edges; of a square on its point the square, not the box around it."""
    side = piece.item.artwork.side
    return side * side if side else piece.box.width * piece.box.height
