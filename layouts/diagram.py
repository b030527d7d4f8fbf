"""The face placement diagram: what goes where on a package, to the millimetre.

First the working face, large, beside the package standing; then the net to one stated scale and the other faces that need a
drawing of their own; then the legend, a line for each number. All of it on one page if it fits; else the net and the other
faces have a page of their own; else the legend has, and a short key takes its place. Placement is finished before this is
called; nothing here decides.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from layouts import letters
from layouts.badges import BADGE, badge
from layouts.face import CloseUp
from layouts.faces import ORDER
from layouts.furniture import Page, line, paragraphs
from layouts.geometry import Box
from layouts.ink import grey
from layouts.listing import BODY, READ, SMALL, Block, Column, draw_blocks, head, paged, row, text
from layouts.measured import dashed, hatched, outlined
from layouts.net import Net
from layouts.particulars import Particulars, mm, outer, said, says_itself, size, spoken, title, travels
from layouts.pen import Pen, group
from layouts.placement import Placed, Placement
from layouts.qr import draw_qr
from layouts.sheet import Sheet, drawn
from layouts.standing import Standing
from marks.requirement import Finding
from marks.terms import Face, Level

#: The column at the right of the working face: the package standing, and under it the QR code, mm.
SIDE, CODE = 62.0, 28.0
#: How high on paper the drawing of the working face may be (tall faces by TALL more), the standing view, and the net at
#: least: the first of these with which all goes on one page, the code under the standing view or, to spare height, beside
#: the net; other faces are so high.
SIZES = ((140.0, 58.0, 84.0), (120.0, 58.0, 80.0), (100.0, 56.0, 72.0), (92.0, 54.0, 68.0), (86.0, 50.0, 64.0))
SPARING = ((92.0, 58.0, 72.0), (86.0, 56.0, 66.0), (80.0, 54.0, 60.0), (72.0, 54.0, 56.0))
TALL, OTHERS = 1.15, 56.0
#: A face longer than this, mm, is drawn for itself even for a single mark: in the net it would be too small to be told.
TOO_LARGE = 700.0
#: A net at 1 to so many is large enough to stand beside the working face.
WELL = 20


def diagram_sheets(placement: Placement, about: Particulars, page: Page) -> tuple[Sheet, ...]:
    """The diagram's pages on the size of ``page`` (its title and kind are set here)."""
    page = replace(page, title=about.called, kind="face placement diagram")
    area = page.area
    columns = _columns(area.width)
    lines = [legend_row(columns, items) for items in _together(placement)]
    lines += [text(words, area.width, after=1.2) for words in _areas(placement)]
    lines += [finding_block(f, area.width) for f in placement.findings if f.level is not Level.REFUSE]
    titles = [head(columns)] if placement.items else []
    legend = [*titles, *lines]
    faces = tuple(face for face in ORDER if placement.on(face))
    room = area.height - _height(legend)
    for under, sizes in [*((True, sizes) for sizes in SIZES), *((False, sizes) for sizes in SPARING)]:
        first, others = _drawings(placement, about, area.width, room, *sizes, under)
        if _height([*first, *others]) <= room:
            return (drawn(page, partial(_draw, [*first, *others, *legend]), colour=True, faces=faces),)
    for sizes in SIZES:  # the legend stays with the working face, the other faces have a page of their own
        first, others = _drawings(placement, about, area.width, area.height, *sizes, apart=True)
        if _height(first) <= room and _height(others) <= area.height:
            both = ([*first, *legend], others)
            return tuple(drawn(page, partial(_draw, part), colour=True, faces=faces) for part in both)
    key = _key(placement, area.width)
    for sizes in SIZES[2:]:
        first, others = _drawings(placement, about, area.width, area.height - key.height, *sizes)
        if _height([*first, *others]) <= area.height - key.height:
            break
    pages = paged([*first, *others, key], area.height, area.height)
    # each page of the legend has the titles of its columns
    room = area.height - _height(titles)
    pages += [[*titles, *part] for part in paged(lines, room, room)]
    return tuple(drawn(page, partial(_draw, part), colour=True, faces=faces) for part in pages)


def _draw(blocks: Sequence[Block], pen: Pen, area: Box) -> None:
    draw_blocks(pen, blocks, area.x, area.top)


def _height(blocks: Iterable[Block]) -> float:
    return math.fsum(block.height for block in blocks)


def _drawings(
    placement: Placement, about: Particulars, width: float, room: float, most: float, tall: float, least: float,
    under: bool = True, apart: bool = False,
) -> tuple[list[Block], list[Block]]:  # fmt: skip
    """Facts and the working face beside the standing view; then the net and other faces. room: the height there is for all
    or, ``apart``, for the net and other faces; most: how high the large view may be; tall: the standing view; least: how
    high the net may be in any case, mm; under: the code stands under the standing view, else beside the net."""
    first = [_facts(placement, about, width)]
    first += [finding_block(f, width) for f in placement.findings if f.level is Level.REFUSE]
    twins = {face: _alike(placement, face) for face in placement.solid.faces}
    shown = {placement.working, *twins[placement.working]}
    others = []
    for face in placement.solid.faces:
        crowded = len(placement.on(face)) > 1 or max(placement.solid.size(face)) > TOO_LARGE
        if face not in shown and placement.on(face) and crowded:
            shown |= {face, *twins[face]}
            others.append(face)
    tagged = all(item.face is Face.TAG for item in placement.items) and bool(placement.items)
    under = under or tagged or bool(others)
    look = _FirstLook.of(placement, about, width, most, tall, _also(placement, twins[placement.working]), under)
    if tagged:  # the net has nothing to show
        return [*first, look.block()], []
    left = room if apart else room - _height(first) - look.height
    if not under:
        net = Net.fitting(placement, width - SIDE - 4, max(least, left) - 3, shown, about.code)
        return [*first, look.block()], [_net_and_code(placement, about, net, width)]
    within = Net.fitting(placement, *look.spare, shown, about.code)
    rows: list[list[Net | CloseUp]]
    views: list[_View] = [_View(placement, face, _also(placement, twins[face])) for face in others]
    if len(views) == 1:  # beside the net
        half = (width - 6) / 2
        net = Net.fitting(placement, half, max(least, left) - 3, shown, about.code)
        rows = [[net, views[0].fitting(half, max(net.height, least - 3))]]
    else:
        fitted: list[Net | CloseUp] = [view.fitting((width - 6) / 2, OTHERS) for view in views]
        pairs = [fitted[n : n + 2] for n in range(0, len(fitted), 2)]
        left -= math.fsum(max(view.height for view in pair) + 3 for pair in pairs)
        net = Net.fitting(placement, width, max(least, left) - 3, shown, about.code)
        rows = [[net], *pairs]
        if within.width <= look.spare[0] and within.scale <= max(net.scale, WELL) and not apart:
            look, rows = replace(look, net=within), rows[1:]
    return [*first, look.block()], [_side_by_side(about, row_, width) for row_ in rows]


def _alike(placement: Placement, face: Face) -> tuple[Face, ...]:
    """The faces whose marks stand at the same places as this one's."""
    places = _places(placement, face)
    sizes = placement.solid.size
    return tuple(
        one
        for one in placement.solid.faces
        if one is not face and places and sizes(one) == sizes(face) and _places(placement, one) == places
    )


def _places(placement: Placement, face: Face) -> list[tuple[object, ...]]:
    return [(i.requirement.key, i.x, i.y, i.width, i.height, i.there) for i in placement.on(face)]


def _facts(placement: Placement, about: Particulars, width: float) -> Block:
    """How many of what, by which modes."""
    what = f"{about.packaging or placement.solid.form.value}, {outer(placement.solid)} · {travels(about.modes)}"
    bold = letters.width(about.pieces, "bold", READ) + 4
    rows = paragraphs([what], width - bold, READ - 0.4)

    def draw(pen: Pen, x: float, top: float) -> None:
        line(pen, x, top - READ, about.pieces, READ, "bold")
        for n, words in enumerate(rows):
            line(pen, x + bold, top - READ - n * READ * 1.25, words, READ - 0.4)

    return Block(len(rows) * READ * 1.25 + 2.5, draw)


class _FirstLook(Struct, frozen=True):
    """What the packer sees first: the working face large, and the package standing; under that, where they stand there, the
    QR code and the signs. net: beside the large face, where that is narrow."""

    about: Particulars
    width: float
    large: CloseUp
    view: Standing
    under: bool
    net: Net | None = None

    @classmethod
    def of(
        cls, placement: Placement, about: Particulars, width: float, most: float, tall: float, alike: str, under: bool
    ) -> _FirstLook:
        view = Standing.fitting(placement, SIDE - 4, tall, code=about.code)
        wide, high = placement.solid.size(placement.working)
        high_at_most = max(most * TALL if high > 1.3 * wide else most, view.size[1] + (8 + CODE if under else 0))
        large = CloseUp.fitting(placement, placement.working, width - SIDE - 3, high_at_most, alike)
        return cls(about, width, large, view, under)

    @property
    def height(self) -> float:
        large = self.large.height if self.large.placement.items else 0.0
        return max(large, self.view.size[1] + (8 + CODE if self.under else 0)) + 3

    @property
    def spare(self) -> tuple[float, float]:
        """Width and height of what is free between the large face and the column at the right."""
        used = self.large.width + 5 if self.large.placement.items else 0.0
        return self.width - SIDE - 4 - used, self.height - 3

    def block(self) -> Block:
        return Block(self.height, self.draw)

    def draw(self, pen: Pen, x: float, top: float) -> None:
        placement, view = self.large.placement, self.view
        if placement.items:
            self.large.draw(pen, x, top - self.large.height)
        if self.net is not None:
            _net(pen, self.about, self.net, x + self.width - SIDE - 4 - self.spare[0], top)
        left = x + self.width - SIDE
        view.draw(pen, left + (SIDE - view.size[0]) / 2, top - view.size[1])
        if self.under:
            _code(pen, placement, self.about, left, top - view.size[1] - 6)


def _code(pen: Pen, placement: Placement, about: Particulars, x: float, top: float) -> None:
    """The QR code, and at its right the signs."""
    draw_qr(pen, spoken(placement, about), Box(x, top - CODE, CODE, CODE))
    _signs(pen, x + CODE + 2.5, top, x + SIDE, about, placement.carrier is not None)


def _net_and_code(placement: Placement, about: Particulars, net: Net, width: float) -> Block:
    """The net, and at its right the code."""

    def draw(pen: Pen, x: float, top: float) -> None:
        _net(pen, about, net, x, top)
        _code(pen, placement, about, x + width - SIDE, top - 2)

    return Block(max(net.height, CODE + 8) + 3, draw)


def _also(placement: Placement, alike: Sequence[Face]) -> str:
    """ "and BACK 4 the same: 4, 5, 6"."""
    told = (
        f"{face.value.upper()} {face.iso2206} the same: {', '.join(str(item.number) for item in placement.on(face))}"
        for face in alike
    )
    return f"and {'; '.join(told)}" if alike else ""


def _signs(pen: Pen, x: float, top: float, right: float, about: Particulars, carrier: bool) -> None:
    """What the figures and the signs of the drawings mean. carrier: room is left for the carrier's own label."""
    y = top - 1.5
    for words in paragraphs(["Figures: mm on the package, from the lower left corner • of the face"], right - x, SMALL):
        y -= SMALL * 1.25
        line(pen, x, y, words, SMALL, ink=grey(80))
    y -= 1.4
    signs: list[tuple[str, Callable[[Box], None]]] = [
        ("keep clear", lambda box: hatched(pen, box)),
        ("already there", lambda box: dashed(pen, box, "", box)),
    ]
    if carrier:
        signs.append(("carrier's label", lambda box: outlined(pen, box, "")))
    for words, sign in signs:
        y -= 3.8
        sign(Box(x, y - 0.3, 6, 2.6))
        line(pen, x + 7.5, y, words, SMALL, ink=grey(80))
    y -= 4.2
    line(pen, x + 1.5, y, "2", READ - 0.4)
    line(pen, x + 7.5, y, "face, ISO 2206", SMALL, ink=grey(80))
    line(pen, x, y - 4.2, "record", SMALL, ink=grey(80))
    line(pen, x, y - 4.2 - SMALL * 1.25, about.short_digest, SMALL, ink=grey(80))


def _net(pen: Pen, about: Particulars, net: Net, x: float, top: float) -> None:
    with group(pen, "net", f"Net of {about.what} {about.package}, scale 1 : {mm(net.scale)}"):
        net.draw(pen, x, top - net.height)


class _View(NamedTuple):
    """A face that gets a drawing of its own, and what else its title says."""

    placement: Placement
    face: Face
    alike: str

    def fitting(self, width: float, height: float) -> CloseUp:
        return CloseUp.fitting(self.placement, self.face, width, height, self.alike)


def _side_by_side(about: Particulars, drawings: Sequence[Net | CloseUp], width: float) -> Block:
    """One drawing at the left, or two: the second begins at the middle."""

    def draw(pen: Pen, x: float, top: float) -> None:
        for one, left in zip(drawings, (x, x + (width + 6) / 2), strict=False):
            if isinstance(one, Net):
                _net(pen, about, one, left, top)
            else:
                one.draw(pen, left, top - one.height)

    return Block(max(one.height for one in drawings) + 3, draw)


# --- legend and key --------------------------------------------------------------------------------------------------


def _together(placement: Placement) -> list[list[Placed]]:
    """The marks for each line of the legend: those that are the same mark at the same place of several faces share it."""
    found: dict[tuple[object, ...], list[Placed]] = {}
    for item in placement.items:
        found.setdefault((item.requirement, item.x, item.y, item.width, item.height, item.there), []).append(item)
    return list(found.values())


def _key(placement: Placement, width: float) -> Block:
    """Number, name and face of every mark, in two columns."""
    rows = _together(placement)
    half, pitch = -(-len(rows) // 2), 2 * BADGE + 1.2
    indent = max(len(items) for items in rows) * (2 * BADGE + 0.6) + 2 if rows else 0.0

    def draw(pen: Pen, x: float, top: float) -> None:
        for n, items in enumerate(rows):
            left, y = x + (n // half) * width / 2, top - 2 - (n % half + 1) * pitch
            for m, item in enumerate(items):
                badge(pen, item.number, left + BADGE + m * (2 * BADGE + 0.6), y + 1.4)
            at = line(pen, left + indent, y, _called(items[0], width / 2 - indent - 25), READ - 0.4, "bold")
            faces = ", ".join(item.face.value for item in items) + (", already there" if items[0].there else "")
            line(pen, at + 2.5, y, faces, READ - 0.4)

    return Block(half * pitch + 4 if rows else 0.0, draw)


def _called(item: Placed, room: float) -> str:
    """The mark by its name; a number or a name of goods, of which there may be several, by its words if they go in."""
    words = said(item.requirement)
    told = item.requirement.mark in ("un-number", "proper-shipping-name")
    return words if told and letters.width(words, "bold", READ - 0.4) <= room else title(item.requirement)


def _columns(width: float) -> tuple[Column, ...]:
    part = width / 100
    return (
        Column("No.", 7 * part), Column("Mark", 43 * part, "bold", 3.2), Column("Size", 14 * part),
        Column("Face", 11 * part, "bold", 3.2), Column("→ from\nleft", 7.5 * part, "bold", 3.2, right=True),
        Column("↑ from\nbelow", 7.5 * part, "bold", 3.2, right=True), Column("For", 10 * part, size=SMALL),
    )  # fmt: skip


def _areas(placement: Placement) -> Iterator[str]:
    """What else is on the faces, in words."""
    for area in placement.others:
        stated = "" if not area.assumed else "; place not stated, shown where there is room"
        yield f"Already there: {area.name}, {area.face}{stated}."
    for area in placement.keep_clear:
        box = area.box
        yield (
            f"Keep clear: {area.face}, {mm(box.x)} from the left and {mm(box.y)} from the lower edge, "
            f"{mm(box.width)} × {mm(box.height)} mm: {area.name}."
        )


def legend_row(columns: Sequence[Column], items: Sequence[Placed]) -> Block:
    """The line of a mark, or of the same mark at the same place of several faces: what, where, why, by which paragraph."""
    item = items[0]
    requirement = item.requirement
    words = title(requirement)
    if requirement.mark in ("shipper", "consignee") and requirement.words:
        words = f"{words}: {requirement.words[0]}"  # the address stands on the mark
    elif requirement.words:
        words = said(requirement) if says_itself(requirement) else f"{words}: {said(requirement)}"
    words += " (already there)" if item.there else ""
    already = " Its place is not stated: assumed here." if item.assumed else ""
    cells = (
        "", words, size(item), ", ".join(one.face.value for one in items), mm(item.x), mm(item.y),
        travels(requirement.modes),
    )  # fmt: skip
    cite = f" {'; '.join(requirement.cite)}" if requirement.cite else ""
    why = f"{requirement.why}. {item.why_here}{already}{cite}"

    def numbers(pen: Pen, x: float, y: float) -> None:
        for n, one in enumerate(items):
            badge(pen, one.number, x + 2.3 + n * 4.9, y + 0.7, 2.1)

    return row(columns, cells, why, numbers)


def finding_block(finding: Finding, width: float) -> Block:
    """A finding with its level and paragraphs, ``width`` mm wide."""
    word = {Level.REFUSE: "REFUSED", Level.CAUTION: "Caution", Level.NOTE: "Note"}[finding.level]
    cite = f" ({'; '.join(finding.cite)})" if finding.cite else ""
    grave = finding.level is Level.REFUSE
    return text(
        f"{word}: {finding.text}{cite}", width, READ - 0.6 if grave else BODY, "bold" if grave else "regular", after=1.2
    )
