"""The packer's page: pack, mark face by face in the order of applying, check. Read at arm's length, ticked with a pen.

Nothing relies on colour: what is there already says so in words, and every number is that of the diagram.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from layouts import letters
from layouts.badges import badge
from layouts.faces import ORDER
from layouts.furniture import Page, line, line_to, paragraphs
from layouts.geometry import Box, polyline, rectangle
from layouts.ink import BLACK, grey
from layouts.listing import LEADING, SMALL, Block, draw_blocks, heading, paged, space, text
from layouts.particulars import Particulars, face_title, mm, outer, said, says_itself, size, spoken, title, travels
from layouts.pen import Pen
from layouts.placement import Placed, Placement
from layouts.qr import draw_qr
from layouts.sheet import Sheet, drawn
from marks.packer import Step
from marks.requirement import Finding
from marks.terms import Face, Level

READ = 3.5  # em of what is read while working, mm: 10 points
TICK = 4.6  # side of a box to tick, mm
CODE = 30.0
#: So many identical packages get a box each; more share one, and the count is written beside it.
BOXES = 5


class Pick(Struct, frozen=True):
    """A ready-made label to take from the shelf."""

    name: str
    size: str
    each: int
    total: int


def picks(placement: Placement, count: int) -> tuple[Pick, ...]:
    """The labels of a package that a shop takes ready-made (hazard labels, and what else needs colour), and how many
    for
    all its copies."""
    found: dict[tuple[str, str], int] = {}
    for item in placement.items:
        if not item.there and (item.artwork.colour or item.requirement.mark == "hazard-label"):
            key = title(item.requirement), size(item)
            found[key] = found.get(key, 0) + 1
    return tuple(Pick(name, measure, each, each * count) for (name, measure), each in found.items())


def checklist_sheets(
    placement: Placement,
    about: Particulars,
    page: Page,
    steps: Sequence[Step] = (),
    cautions: Sequence[Finding] = (),
    allow_refused: bool = False,
) -> tuple[Sheet, ...]:
    """The checklist's pages. steps: before marking; cautions: what the rules found (the placement's own are added).
    A refused package has only the reasons on its page, nothing to tick, unless ``allow_refused``."""
    page = replace(page, title=about.called, kind="packing checklist")
    area = page.area
    blocks = list(_blocks(placement, about, area.width, steps, cautions, allow_refused))
    pages = paged(blocks, area.height, area.height)
    return tuple(drawn(page, partial(_draw, part)) for part in pages)


def _draw(blocks: Sequence[Block], pen: Pen, area: Box) -> None:
    draw_blocks(pen, blocks, area.x, area.top)


def _blocks(
    placement: Placement,
    about: Particulars,
    width: float,
    steps: Sequence[Step],
    cautions: Sequence[Finding],
    allow_refused: bool,
) -> Iterator[Block]:
    findings = list(dict.fromkeys([*cautions, *placement.findings]))
    refused = [f for f in findings if f.level is Level.REFUSE]
    yield _facts(placement, about, width)
    for finding in refused:
        yield text(f"REFUSED: {finding.text}", width, READ, "bold", after=2)
    boxes = about.count if about.count <= BOXES else 1
    cleared = allow_refused or not refused
    if steps and cleared:
        yield heading("Pack", width, 4.2, _boxes_say(about.count))
        for step in steps:
            yield _step(step, width, boxes)
        yield space(3)
    for face in [placement.working, *(f for f in ORDER if f is not placement.working)]:
        items = placement.on(face)
        if items and cleared:
            yield heading(face_title(face), width, 4.2, _face_note(placement, face))
            before, after = _tag_steps(placement) if face is Face.TAG else ((), ())
            for step in before:
                yield _step(step, width, boxes)
            for item in items:
                yield _mark(item, width, boxes)
            for step in after:
                yield _step(step, width, boxes)
            yield space(3)
    if cleared:
        yield from _picks(picks(placement, about.count), about.count, width)
    yield from _cautions([f for f in findings if f.level is not Level.REFUSE], width)
    if cleared:
        yield _signatures(width)


def _tag_steps(placement: Placement) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """What is done with a tag before its marks are set and after."""
    width, height = placement.solid.size(Face.TAG)
    eyelet = next(area.box for area in placement.keep_clear if area.face is Face.TAG)
    cut = f"A tag of {mm(width)} × {mm(height)} mm that weather does not harm, with an eyelet in its upper {mm(eyelet.height)} mm"
    return (Step(cut),), (Step("Tied to the package so that it can't come off, tear or turn its face away"),)


def _boxes_say(count: int) -> str:
    if count == 1:
        return ""
    return "a box for each package" if count <= BOXES else f"tick when done on all {count}"


def _face_note(placement: Placement, face: Face) -> str:
    start = "start here; " if face is placement.working else ""
    edge = "line" if placement.solid.round and face.upright else "edge"
    return f"{start}→ mm from the left {edge}, ↑ mm from the lower edge of this face to the mark"


def _facts(placement: Placement, about: Particulars, width: float) -> Block:
    """Who, what, how many: large; the QR code at the right."""
    what = [about.packaging or placement.solid.form.value, outer(placement.solid)]
    rows = [
        (f"{about.pieces}", 6.0, "bold"), (", ".join(what), 4.2, "regular"), (travels(about.modes), 4.2, "regular"),
        (f"record {about.short_digest}", 3.0, "regular"),
    ]  # fmt: skip
    if placement.solid.round and placement.items:
        quarter = placement.solid.size(Face.FRONT)[0]
        rows.append((f"Draw the front's upright lines {mm(quarter)} mm apart; measure from the left one.", 3.4, "bold"))

    def draw(pen: Pen, x: float, top: float) -> None:
        y = top
        for words, em, font in rows:
            for part in paragraphs([words], width - CODE - 5, em, font):
                line(pen, x, y - em, part, em, font)
                y -= em * 1.45
        draw_qr(pen, spoken(placement, about), Box(x + width - CODE, top - CODE, CODE, CODE))

    return Block(CODE + 3, draw)


def _ticks(pen: Pen, x: float, top: float, boxes: int) -> None:
    for n in range(boxes):
        box = Box(x + n * (TICK + 1.6), top - TICK - 0.9, TICK, TICK)
        pen.stroke(rectangle(box), BLACK, 0.35)
        if boxes > 1:
            line(pen, box.x + 0.5, box.y + 0.6, str(n + 1), 1.9, ink=grey(60))


def _row(words: Sequence[tuple[str, str]], width: float) -> list[tuple[str, str]]:
    """Texts with their fonts, wrapped one after the other."""
    return [(part, font) for text_, font in words for part in paragraphs([text_], width, READ, font)]


def _step(step: Step, width: float, boxes: int) -> Block:
    left = boxes * (TICK + 1.6) + 2
    right = 34.0 * boxes if step.field and boxes < 3 else 24.0 * boxes if step.field else 0.0
    stacked = right > width / 2
    rows = _row([(step.words, "regular")], width - left - (0 if stacked else right))
    base = max(TICK + 2.4, len(rows) * READ * LEADING + 2.2)
    height = base + (9 if stacked else 0)

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.stroke(polyline([(x, top - height), (x + width, top - height)]), grey(30), 0.12)
        _ticks(pen, x, top, boxes)
        for n, (words, font) in enumerate(rows):
            line(pen, x + left, top - 1.2 - READ - n * READ * LEADING + 0.4, words, READ, font)
        if step.field:
            each = right / boxes if not stacked else width / boxes
            y = top - (base + 4 if stacked else TICK + 0.9)
            start = x if stacked else x + width - right
            for n in range(boxes):
                at = start + n * each
                pen.stroke(polyline([(at + 3, y), (at + each - 7, y)]), BLACK, 0.25)
                line(pen, at + each - 6, y + 0.3, step.field, READ)

    return Block(height, draw)


def _mark(item: Placed, width: float, boxes: int) -> Block:
    """A mark to apply: tick, number, name, size, and the two distances, large."""
    left, figures = boxes * (TICK + 1.6) + 2, 46.0
    words = "" if says_itself(item.requirement) else said(item.requirement)
    wide = width - left - 7 - figures - 27
    name = said(item.requirement) if says_itself(item.requirement) else title(item.requirement)
    named = letters.width(name, "bold", READ) + 2.5
    beside = words if named + letters.width(words, "regular", READ) <= wide else ""
    rows = _row([(name, "bold"), *([(words, "regular")] if words and not beside else [])], wide)
    height = max(TICK + 2.4, len(rows) * READ * LEADING + 2.4)

    def draw(pen: Pen, x: float, top: float) -> None:
        pen.stroke(polyline([(x, top - height), (x + width, top - height)]), grey(30), 0.12)
        base = top - 1.2 - READ + 0.4
        if item.there:
            line(pen, x, base, "there", SMALL, "bold")
        else:
            _ticks(pen, x, top, boxes)
        badge(pen, item.number, x + left + 2, top - TICK / 2 - 0.9, 2.2)
        for n, (part, font) in enumerate(rows):
            line(pen, x + left + 7, base - n * READ * LEADING, part, READ, font)
        line(pen, x + left + 7 + named, base, beside, READ)
        right = x + width
        if item.there:
            note = "already there" + (", place not stated" if item.assumed else "")
            line_to(pen, right, base, note, READ, "bold")
        else:
            line_to(pen, right - figures - 2, base, size(item), READ)
            for at, sign, value in ((right - 24, "→", item.x), (right, "↑", item.y)):
                line_to(pen, at, base - 0.3, mm(value), 4.6, "bold")
                line_to(pen, at - letters.width(mm(value), "bold", 4.6) - 1.4, base - 0.3, sign, 4.2, ink=grey(75))

    return Block(height, draw)


def _picks(found: Sequence[Pick], count: int, width: float) -> Iterator[Block]:
    if not found:
        return
    yield heading("From the shelf, where labels are ready-made", width, 4.2)
    for pick in found:
        last = pick is found[-1]
        many = f"{pick.total} ×" if count == 1 else f"{pick.total} ×  ({pick.each} a package)"

        def draw(pen: Pen, x: float, top: float, pick: Pick = pick, many: str = many) -> None:
            y = top - READ * 1.2
            at = line(pen, x, y, pick.name, READ, "bold")
            line(pen, at + 3, y, pick.size, READ)
            line_to(pen, x + width, y, many, READ, "bold")

        yield Block(READ * 1.6, draw, keep=not last)
    yield space(3)


def _cautions(findings: Sequence[Finding], width: float) -> Iterator[Block]:
    if not findings:
        return
    yield heading("A person decides or checks", width, 4.2)
    for finding in findings:
        word = "Note: " if finding.level is Level.NOTE else ""
        cite = f" ({'; '.join(finding.cite)})" if finding.cite else ""
        yield text(f"{word}{finding.text}{cite}", width, 3.0, after=1.4)
    yield space(2)


def _signatures(width: float) -> Block:
    """Who packed, who checked, when."""

    def draw(pen: Pen, x: float, top: float) -> None:
        y, part = top - 11, width / 4
        for n, word in enumerate(("packed by", "checked by", "date and time", "weighed on scale no.")):
            left = x + n * part
            pen.stroke(polyline([(left, y), (left + part - 5, y)]), BLACK, 0.3)
            line(pen, left, y - 3.4, word, 2.7, ink=grey(80))

    return Block(15.5, draw)
