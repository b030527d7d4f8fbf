"""The face placement diagram: what goes where on a package, to the millimetre.

First page: the net to one stated scale, the standing view, the QR code; then the legend, a line for each number,
carried on to further pages where it is long. Placement is finished before this is called; nothing here decides.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from msgspec.structs import replace

from layouts.badges import BADGE, badge
from layouts.furniture import Page, line
from layouts.geometry import Box
from layouts.ink import grey
from layouts.listing import BODY, SMALL, Block, Column, draw_blocks, head, paged, row, text
from layouts.measured import dashed, hatched
from layouts.net import CloseUp, Net
from layouts.particulars import Particulars, mm, outer, said, says_itself, size, spoken, title, travels
from layouts.pen import Pen, group
from layouts.placement import Placed, Placement
from layouts.qr import draw_qr
from layouts.sheet import Sheet, drawn
from layouts.standing import Standing
from marks.requirement import Finding
from marks.terms import Face, Level

#: The column at the right of the drawings: standing view, short key, QR code, mm.
SIDE, VIEW, CODE = 62.0, 52.0, 30.0
#: How high on paper the large view of the working face may be (tall faces by TALL more), the net, other faces.
LARGE, SMALLER, TALL, NET, OTHERS = 98.0, 72.0, 1.2, 62.0, 60.0


def diagram_sheets(placement: Placement, about: Particulars, page: Page) -> tuple[Sheet, ...]:
    """The diagram's pages on the size of ``page`` (its title and kind are set here)."""
    page = replace(page, title=about.called, kind="face placement diagram")
    area = page.area
    columns = _columns(area.width)
    lines = [legend_row(columns, item) for item in placement.items]
    lines += [text(words, area.width, after=1.2) for words in _areas(placement)]
    lines += [finding_block(f, area.width) for f in placement.findings if f.level is not Level.REFUSE]
    titles = [head(columns)] if placement.items else []
    legend = [*titles, *lines]
    for large in (LARGE, SMALLER):  # all on one page, if need be with the drawings a little smaller
        drawings = list(_drawings(placement, about, area, large, sum(block.height for block in legend)))
        if sum(block.height for block in [*drawings, *legend]) <= area.height:
            return (drawn(page, partial(_draw, [*drawings, *legend]), colour=True),)
    pages = paged(list(_drawings(placement, about, area, LARGE, 0.0)), area.height, area.height)
    # the legend has pages of its own, each with the titles of its columns
    room = area.height - sum(block.height for block in titles)
    pages += [[*titles, *part] for part in paged(lines, room, room)]
    return tuple(drawn(page, partial(_draw, part), colour=True) for part in pages)


def _draw(blocks: Sequence[Block], pen: Pen, area: Box) -> None:
    draw_blocks(pen, blocks, area.x, area.top)


def _drawings(placement: Placement, about: Particulars, area: Box, large: float, legend: float) -> Iterator[Block]:
    """Facts; the working face large beside the standing view and the short key; the net beside the QR code; then other
    faces. large: how high the large view may be; legend: the height to leave for it on this page, mm.
    """
    facts = " · ".join((
        about.pieces, f"{about.packaging or placement.solid.form.value}, {outer(placement.solid)}",
        travels(about.modes), f"record {about.short_digest}",
    ))  # fmt: skip
    first = [text(facts, area.width, 3.0, after=2)]
    first += [finding_block(f, area.width) for f in placement.findings if f.level is Level.REFUSE]
    main = area.width - SIDE - 4
    if placement.items:
        first.append(_first_look(placement, area.width, main, large))
    yield from first
    others = [face for face in placement.solid.faces if face is not placement.working and len(placement.on(face)) > 1]
    left = area.height - sum(block.height for block in first) - legend - 4
    beside = left - OTHERS - 3 if others else left
    yield _net(placement, about, area.width, beside if beside >= NET else max(left, NET))
    for face in others:
        yield _close_up(placement, face, main)


def _first_look(placement: Placement, width: float, main: float, most: float) -> Block:
    """What the packer sees first: the working face, and the package standing."""
    width_mm, height_mm = placement.solid.size(placement.working)
    large = CloseUp.fitting(placement, placement.working, main, most * TALL if height_mm > 1.3 * width_mm else most)
    view = Standing.fitting(placement, SIDE - 4, VIEW)
    key = [
        f"{title(i.requirement)}" + (f"  {i.requirement.words[0]}" if i.requirement.mark == "un-number" else "")
        for i in placement.items
    ]
    pitch = 4.3
    height = max(large.height, view.size[1] + 6 + pitch * len(key)) + 3

    def draw(pen: Pen, x: float, top: float) -> None:
        large.draw(pen, x, top - large.height)
        left = x + width - SIDE
        view.draw(pen, left + (SIDE - view.size[0]) / 2, top - view.size[1])
        y = top - view.size[1] - 7
        for item, words in zip(placement.items, key, strict=True):
            badge(pen, item.number, left + 2, y + 1, 1.7)
            at = line(pen, left + 5.2, y, words, BODY)
            line(pen, at + 1.8, y, item.face.value, SMALL, ink=grey(75))
            y -= pitch

    return Block(height, draw)


def _net(placement: Placement, about: Particulars, width: float, most: float) -> Block:
    net = Net.fitting(placement, width - CODE - 8, most)
    bears = not placement.items or any(placement.on(face) for face in net.boxes)  # else all hangs on a tag
    height = max(net.height if bears else 0.0, CODE + 24) + 3

    def draw(pen: Pen, x: float, top: float) -> None:
        if bears:
            with group(pen, "net", f"Net of {about.what} {about.package}, scale 1 : {mm(net.scale)}"):
                net.draw(pen, x, top - net.height)
        left = x + width - CODE
        draw_qr(pen, spoken(placement, about), Box(left, top - CODE, CODE, CODE))
        y = top - CODE - 3
        said_of_it = (
            f"Net, scale 1 : {mm(net.scale)}." if bears else "",
            "All figures are mm on the",
            "package, from the corner •",
            "of the face.",
        )
        for words in said_of_it:
            line(pen, left, y, words, SMALL, ink=grey(80))
            y -= SMALL * 1.25
        y -= 1.2
        hatched(pen, Box(left, y - 0.4, 6, 2.8))
        line(pen, left + 7.5, y, "keep clear", SMALL, ink=grey(80))
        dashed(pen, Box(left, y - 4.6, 6, 2.8), "", Box(left, y - 4.6, 6, 2.8))
        line(pen, left + 7.5, y - 4.2, "already there", SMALL, ink=grey(80))
        line(pen, left, y - 8.4, "2", 3.0)
        line(pen, left + 7.5, y - 8.4, "face, ISO 2206", SMALL, ink=grey(80))

    return Block(height, draw)


def _close_up(placement: Placement, face: Face, width: float) -> Block:
    view = CloseUp.fitting(placement, face, width, OTHERS)
    return Block(view.height + 3, lambda pen, x, top: view.draw(pen, x, top - view.height))


def _columns(width: float) -> tuple[Column, ...]:
    part = width / 100
    return (
        Column("No.", 4.5 * part), Column("Mark", 31 * part, "bold"), Column("Size", 12.5 * part),
        Column("Face", 8 * part, "bold"), Column("from left\nedge", 8 * part, "bold", right=True),
        Column("from lower\nedge", 8.5 * part, "bold", right=True), Column("For", 9 * part, size=SMALL),
        Column("Paragraph", 18.5 * part, size=SMALL),
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


def legend_row(columns: Sequence[Column], item: Placed) -> Block:
    requirement = item.requirement
    words = title(requirement)
    if requirement.words:
        words = said(requirement) if says_itself(requirement) else f"{words}: {said(requirement)}"
    already = " Already there: not applied." if item.there else ""
    if item.assumed:
        already = " Already there; place not stated: assumed here."
    cells = (
        "", words, size(item), item.face.value, mm(item.x), mm(item.y), travels(requirement.modes),
        "; ".join(requirement.cite),
    )  # fmt: skip
    why = f"{requirement.why}. {item.why_here}{already}"
    return row(columns, cells, why, lambda pen, x, y: badge(pen, item.number, x + BADGE + 0.2, y + 1.0))


def finding_block(finding: Finding, width: float) -> Block:
    word = {Level.REFUSE: "REFUSED", Level.CAUTION: "Caution", Level.NOTE: "Note"}[finding.level]
    cite = f" ({'; '.join(finding.cite)})" if finding.cite else ""
    return text(
        f"{word}: {finding.text}{cite}", width, BODY, "bold" if finding.level is Level.REFUSE else "regular", after=1.2
    )
