"""Labels from the shelf: those a shop has ready-made are not printed but picked, and a list says which and how many.

A ready-made label has its full size, and bears no stamp: a label reduced for want of room is printed all the same, and so is
every label of a package that may not travel as described.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from msgspec import Struct

from layouts.artwork.base import Artwork
from layouts.artwork.catalogue import RADIOACTIVE
from layouts.artwork.hazards import DESIGNS
from layouts.cell import Item
from layouts.errors import ShelfError
from layouts.furniture import Heading, Page, line, line_to, paragraphs
from layouts.geometry import Box, Transform, polyline, rectangle
from layouts.ink import BLACK, grey
from layouts.listing import LEADING, SMALL, Block, draw_blocks, paged, space, text
from layouts.particulars import mm, title
from layouts.pen import Pen, TransformPen
from layouts.placement import Placed
from layouts.planned import Planned
from layouts.sheet import Sheet, drawn, numbered
from layouts.stock import read_stock

ALL = "all"
#: Marks besides hazard labels that are drawn alike for every package.
MARKS = (
    "cargo-aircraft-only", "orientation-arrows", "environmentally-hazardous", "limited-quantity", "limited-quantity-air",
    "keep-away-from-heat", "cryogenic-liquid", "magnetized-material",
)  # fmt: skip
_READ, _TICK, _ROW, _SHOWN = 3.5, 4.6, 19.0, 16.0


class Shelf(Struct, frozen=True):
    """names: of hazard labels by their class or division ("3", "6.1", "9A"), of other marks; or "all": every hazard label."""

    names: tuple[str, ...] = ()

    def named(self, mark: str) -> str | None:
        """The name by which a mark ("hazard-label 3") is on the shelf, or None."""
        name = mark.removeprefix("hazard-label ")
        if name in self.names:
            return name
        return ALL if ALL in self.names and name != mark else None

    def has(self, item: Item) -> bool:
        return not item.artwork.reduced and self.named(item.mark) is not None


NOTHING = Shelf()


def read_shelf(given: str) -> Shelf:
    """``3,8,9A``; ``cargo-aircraft-only``; ``all``. ShelfError names everything that is no label."""
    names = tuple(dict.fromkeys(name.strip() for name in given.split(",") if name.strip()))
    wrong = [name for name in names if not _known(name)]
    if wrong or not names:
        read = ", ".join(map(repr, wrong)) or "nothing"
        raise ShelfError(
            f"--ready-made {given}: {read}: no label is called so; write classes and divisions as in 3,6.1,1.4S,7-II,9A, "
            f"or {', '.join(MARKS)}, or all for every hazard label"
        )
    return Shelf(names)


def _known(name: str) -> bool:
    if name in (ALL, "9", "9A", *MARKS) or name in DESIGNS or name in RADIOACTIVE:
        return True
    from layouts.artwork.explosives import parsed

    try:
        parsed(name)
    except ValueError:
        return False
    return True


class Picked(Struct, frozen=True):
    """One kind of label to take. write: what is written into its blanks by hand; count: how many in all; where: for which
    packages, in the order of the line, and on which faces."""

    artwork: Artwork
    name: str
    write: str
    count: int
    where: tuple[str, ...]


class PickList(Struct, frozen=True):
    """picks; printed: labels of the shelf's kinds that are printed all the same, and why; unused: names nothing asks for."""

    picks: tuple[Picked, ...]
    printed: tuple[str, ...] = ()
    unused: tuple[str, ...] = ()

    @property
    def spare(self) -> str:
        return f"on the shelf, and nothing asks for it: {', '.join(self.unused)}"

    @property
    def told(self) -> Iterator[str]:
        """Lines for a person."""
        yield f"from the shelf, not printed: {'' if self.picks else 'nothing'}".rstrip()
        for one in self.picks:
            by_hand = f", written into each: {one.write}" if one.write else ""
            yield f"  {one.count} x {one.name}{by_hand}: {'; '.join(one.where)}"
        yield from self.printed
        if self.unused:
            yield self.spare


def picked(planned: Planned, shelf: Shelf) -> PickList:
    """What to take from the shelf for all packages and overpacks of a record."""
    found: dict[tuple[str, str], list[tuple[str, int, Placed]]] = {}
    printed: dict[str, None] = {}
    kinds = (("package", planned.pairs()), ("overpack", planned.overpack_pairs()))
    for what, package, placement in ((what, *pair) for what, pairs in kinds for pair in pairs):
        refused = bool(planned.refused_modes(package, placement))
        for one in placement.items:
            wanted = one.requirement
            mark = f"{wanted.mark} {wanted.variant}" if wanted.variant else wanted.mark
            if one.there or shelf.named(mark) is None:
                continue
            called = f"{what} {package.package}"
            if refused:
                printed[f"{called} may not travel as described: nothing is picked for it"] = None
            elif one.artwork.reduced:
                printed[
                    f"{called}, {title(wanted)} {one.artwork.note}: printed, a ready-made one has its full size"
                ] = None
            else:
                key = mark, ", ".join(wanted.words)
                found.setdefault(key, []).append((called, package.count, one))
    used = {shelf.named(mark) for mark, _ in found} | ({ALL} if printed else set())
    picks = tuple(
        Picked(
            where[0][2].artwork,
            title(where[0][2].requirement),
            words,
            sum(count for _, count, _ in where),
            tuple(_where(where)),
        )
        for (_, words), where in found.items()
    )
    return PickList(picks, tuple(printed), tuple(name for name in shelf.names if name not in used and name != ALL))


def _where(of: Sequence[tuple[str, int, Placed]]) -> Iterator[str]:
    """``2 for package A, front``; ``3 each for package B, front, back``."""
    for called in dict.fromkeys(called for called, _, _ in of):
        mine = [(count, one.face.value) for name, count, one in of if name == called]
        faces = ", ".join(face for _, face in mine)
        yield f"{mine[0][0]} {'each ' if len(mine) > 1 else ''}for {called}, {faces}"


# --- the page --------------------------------------------------------------------------------------------------------


def pick_sheets(listed: PickList, heading: Heading) -> tuple[Sheet, ...]:
    """The pick list, on A4: what the label looks like, what it is for, how many."""
    a4 = read_stock("A4")
    page = Page(a4.width, a4.height, a4.margin, heading, "Pick list", "labels taken from the shelf, not printed")
    area = page.area
    blocks = [_row(one, area.width) for one in listed.picks] or [
        text("Nothing is taken from the shelf.", area.width, 4.2)
    ]
    notes = [*listed.printed, *([listed.spare] if listed.unused else [])]
    if notes:
        blocks += [space(4), *(text(note, area.width, _READ, after=1.5) for note in notes)]
    colour = any(one.artwork.colour for one in listed.picks)
    return numbered(
        [drawn(page, partial(_draw, part), colour=colour) for part in paged(blocks, area.height, area.height)]
    )


def _draw(blocks: Sequence[Block], pen: Pen, area: Box) -> None:
    draw_blocks(pen, blocks, area.x, area.top)


def _row(one: Picked, width: float) -> Block:
    left = _TICK + 4 + _SHOWN + 5
    told = paragraphs([*one.where, *([f"write into each: {one.write}"] if one.write else [])], width - left - 24, _READ)
    height = max(_ROW, 9 + len(told) * _READ * LEADING + 2)
    art = one.artwork
    large = f"{mm(art.side)} x {mm(art.side)} mm" if art.side else f"{mm(art.width)} x {mm(art.height)} mm"

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.stroke(polyline([(x, top - height), (x + width, top - height)]), grey(30), 0.12)
        pen.stroke(rectangle(Box(x, top - 2.2 - _TICK, _TICK, _TICK)), BLACK, 0.35)
        scale = _SHOWN / max(art.width, art.height)
        at = Transform.moved(
            x + _TICK + 4 + (_SHOWN - art.width * scale) / 2, top - 1.5 - _SHOWN + (_SHOWN - art.height * scale) / 2
        )
        art.draw(TransformPen(pen, Transform.scaled(scale).then(at)))
        end = line(pen, x + left, top - 6, one.name, 4.2, "bold")
        line(pen, end + 3, top - 6, large, SMALL, ink=grey(70))
        for n, words in enumerate(told):
            line(pen, x + left, top - 11.5 - n * _READ * LEADING, words, _READ)
        line_to(pen, x + width, top - 8, f"{one.count} ×", 6.5, "bold")

    return Block(height, draw)
