"""The packer's page: pack, mark face by face in the order of applying, check. Read at arm's length, ticked with a pen.

Nothing relies on colour: what is there already says so in words, and every number is that of the diagram.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from layouts import letters
from layouts.badges import BADGE, badge
from layouts.faces import ORDER
from layouts.furniture import Page, line, line_to, paragraphs
from layouts.geometry import Box, polyline, rectangle
from layouts.ink import BLACK, grey
from layouts.listing import LEADING, READ, Block, draw_blocks, heading, paged, space, text
from layouts.particulars import Particulars, face_title, mm, outer, said, says_itself, size, spoken, title, travels
from layouts.pen import Pen
from layouts.placement import Placed, Placement
from layouts.qr import draw_qr
from layouts.sheet import Sheet, drawn
from marks.packer import Step
from marks.requirement import Finding
from marks.terms import Face, Level

#: The em of what is read while working, mm: capitals of 2.8 mm as ``listing.READ`` says; where the list would run over one
#: page, 3.5, of which capitals are 2.4 mm: the same angle for the eye at 510 mm. And the white between lines, mm.
EMS = ((READ, 1.8), (3.5, 1.8), (3.5, 1.0))
CODE = 28.0
#: So many identical packages get a box each; more share one, and the count is written beside it.
BOXES = 5


#: So many kinds of labels from the shelf go beside the facts, in a column so wide, mm.
_BESIDE, _SHELF = 3, 66.0


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
    faces = tuple(face for face in ORDER if placement.on(face))
    for em, white in (*EMS, EMS[0]):  # on one page if it fits; else in large letters, on several
        blocks = list(_Lines(area.width, em, white).blocks(placement, about, steps, cautions, allow_refused))
        pages = paged(blocks, area.height, area.height)
        if len(pages) == 1:
            break
    return tuple(drawn(page, partial(_draw, part), faces=faces) for part in pages)


def _draw(blocks: Sequence[Block], pen: Pen, area: Box) -> None:
    draw_blocks(pen, blocks, area.x, area.top)


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


def _face_says(placement: Placement, face: Face) -> str:
    """ "FRONT  2   apply 5, already there: 1"."""
    there = sum(item.there for item in placement.on(face))
    fresh = len(placement.on(face)) - there
    told = (f"apply {fresh}" if fresh else "", f"already there: {there}" if there else "")
    return f"{face_title(face)}   {', '.join(filter(None, told))}"


def _face_note(placement: Placement, face: Face) -> str:
    start = "start here; " if face is placement.working and len({i.face for i in placement.items}) > 1 else ""
    edge = "line" if placement.solid.round and face.upright else "edge"
    return f"{start}mm from the face's → left {edge}, ↑ lower edge"


def _told(item: Placed) -> tuple[str, str]:
    """A mark's name and its words, as far as they tell it from others: of an address, whose it is."""
    requirement = item.requirement
    if says_itself(requirement):
        return said(requirement), ""
    if requirement.mark in ("shipper", "consignee"):
        return title(requirement), requirement.words[0] if requirement.words else ""
    return title(requirement), said(requirement)


class _Lines(Struct, frozen=True):
    """The lines of the list, ``width`` mm wide, their letters of ``em`` mm, ``white`` mm between them."""

    width: float
    em: float
    white: float

    def blocks(
        self,
        placement: Placement,
        about: Particulars,
        steps: Sequence[Step],
        cautions: Sequence[Finding],
        allowed: bool,
    ) -> Iterator[Block]:
        findings = list(dict.fromkeys([*cautions, *placement.findings]))
        refused = [f for f in findings if f.level is Level.REFUSE]
        cleared = allowed or not refused
        boxes = about.count if about.count <= BOXES else 1
        found = picks(placement, about.count) if cleared else ()
        beside = self.white < EMS[0][1] and len(found) <= _BESIDE
        yield self.facts(placement, about, found if beside else ())
        for finding in refused:
            yield text(f"REFUSED: {finding.text}", self.width, self.em, "bold", after=2)
        if steps and cleared:
            yield self.heading("Pack", _boxes_say(about.count))
            yield from (self.step(step, boxes) for step in steps)
            yield self.gap
        for face in [placement.working, *(f for f in ORDER if f is not placement.working)]:
            items = placement.on(face)
            if items and cleared:
                yield self.heading(_face_says(placement, face), _face_note(placement, face), f"face-{face}")
                before, after = _tag_steps(placement) if face is Face.TAG else ((), ())
                yield from (self.step(step, boxes) for step in before)
                yield from (self.mark(item, boxes) for item in items)
                yield from (self.step(step, boxes) for step in after)
                yield self.gap
        if not beside:
            yield from self.picks(found, about.count)
        told = list(self.cautions([f for f in findings if f.level is not Level.REFUSE]))
        if cleared:  # names are never asked for on a page of their own
            yield from (block._replace(keep=True) for block in told)
            yield self.signatures()
        else:
            yield from told

    @property
    def gap(self) -> Block:
        return space(0.39 * self.em * self.white)

    @property
    def tick(self) -> float:
        """Side of a box to tick, mm."""
        return 1.35 * self.em

    def left(self, boxes: int) -> float:
        return boxes * (self.tick + 1.6) + 2

    def heading(self, words: str, note: str = "", ident: str = "") -> Block:
        return heading(words, self.width, 1.15 * self.em, note, ident)

    def rows(self, words: Sequence[tuple[str, str]], width: float) -> list[tuple[str, str]]:
        """Texts with their fonts, wrapped one after the other."""
        return [(part, font) for text_, font in words for part in paragraphs([text_], width, self.em, font)]

    def facts(self, placement: Placement, about: Particulars, shelf: Sequence[Pick]) -> Block:
        """Who, what, how many: large; the QR code at the right; before it what is taken from the shelf, if given."""
        right = CODE + 5 + (_SHELF if shelf else 0.0)
        what = [about.packaging or placement.solid.form.value, outer(placement.solid)]
        lines = [
            (about.pieces, 6.0, "bold"), (", ".join(what), READ, "regular"), (travels(about.modes), READ, "regular"),
            (f"record {about.short_digest}", 2.7, "regular"),
        ]  # fmt: skip
        if placement.solid.round and any(item.face.upright for item in placement.items):
            quarter = mm(placement.solid.size(Face.FRONT)[0])
            lines.append(
                (f"Draw the front's upright lines {quarter} mm apart; measure from the left one.", self.em, "bold")
            )
        rows = [
            (part, em, font) for words, em, font in lines for part in paragraphs([words], self.width - right, em, font)
        ]

        def draw(pen: Pen, x: float, top: float) -> None:
            y = top
            for words, em, font in rows:
                line(pen, x, y - em, words, em, font)
                y -= em * 1.4
            self._beside(pen, x + self.width - right + 4, top, shelf, about.count)
            draw_qr(pen, spoken(placement, about), Box(x + self.width - CODE, top - CODE, CODE, CODE))

        return Block(max(CODE, math.fsum(em * 1.4 for _, em, _ in rows)) + 1.5, draw)

    def _beside(self, pen: Pen, x: float, top: float, shelf: Sequence[Pick], count: int) -> None:
        """The labels from the shelf, in a narrow column."""
        told = [(f"{pick.total} × {pick.name}, {pick.size}", "regular") for pick in shelf]
        each = [] if count == 1 else [(f"for all {count} packages", "regular")]
        for n, (words, font) in enumerate([("From the shelf, if ready-made", "bold"), *told, *each] if shelf else []):
            size = min(self.em, self.em * (_SHELF - 6) / letters.width(words, font, self.em))
            line(pen, x, top - self.em * (1.2 + 1.4 * n), words, size, font)

    def ticks(self, pen: Pen, x: float, top: float, boxes: int) -> None:
        for n in range(boxes):
            box = Box(x + n * (self.tick + 1.6), top - self.tick - self.white / 2, self.tick, self.tick)
            pen.stroke(rectangle(box), BLACK, 0.35)
            if boxes > 1:
                line(pen, box.x + 0.6, box.y + 0.7, str(n + 1), 0.75 * self.em, ink=grey(45))

    def step(self, step: Step, boxes: int) -> Block:
        left = self.left(boxes)
        right = 34.0 * boxes if step.field and boxes < 3 else 24.0 * boxes if step.field else 0.0
        stacked = right > self.width / 2
        rows = self.rows([(step.words, "regular")], self.width - left - (0 if stacked else right))
        base = max(self.tick, len(rows) * self.em * LEADING) + self.white
        height = base + (9 if stacked else 0)

        def draw(pen: Pen, x: float, top: float) -> None:
            pen.stroke(polyline([(x, top - height), (x + self.width, top - height)]), grey(30), 0.12)
            self.ticks(pen, x, top, boxes)
            for n, (words, font) in enumerate(rows):
                line(pen, x + left, top - self.white / 2 - 0.1 - self.em * (1 + n * LEADING), words, self.em, font)
            if step.field:
                each = right / boxes if not stacked else self.width / boxes
                y = top - (base + 4 if stacked else self.tick + self.white / 2)
                start = x if stacked else x + self.width - right
                for n in range(boxes):
                    at = start + n * each
                    pen.stroke(polyline([(at + 3, y), (at + each - 7, y)]), BLACK, 0.25)
                    line(pen, at + each - 6, y + 0.3, step.field, self.em)

        return Block(height, draw)

    def mark(self, item: Placed, boxes: int) -> Block:
        """A mark to apply: tick, number, name, size, and the two distances, large."""
        em, left, figures = self.em, self.left(boxes), 13.0 * self.em
        indent = left + 2 * BADGE + 2
        wide = self.width - indent - figures - 8.2 * em
        name, words = _told(item)
        named = letters.width(name, "bold", em) + 2.5
        beside = words if named + letters.width(words, "regular", em) <= wide else ""
        rows = self.rows([(name, "bold"), *([(words, "regular")] if words and not beside else [])], wide)
        height = max(self.tick, len(rows) * em * LEADING) + self.white

        def draw(pen: Pen, x: float, top: float) -> None:
            pen.stroke(polyline([(x, top - height), (x + self.width, top - height)]), grey(30), 0.12)
            base, right = top - self.white / 2 - 0.1 - em, x + self.width
            if not item.there:
                self.ticks(pen, x, top, boxes)
            badge(pen, item.number, x + left + BADGE, top - self.tick / 2 - self.white / 2)
            for n, (part, font) in enumerate(rows):
                line(pen, x + indent, base - n * em * LEADING, part, em, font)
            line(pen, x + indent + named, base, beside, em)
            if item.there:
                line_to(pen, right, base, "already there" + (", place not stated" if item.assumed else ""), em, "bold")
                return
            line_to(pen, right - figures - 2, base, size(item), em)
            for at, sign, value in ((right - 6.7 * em, "→", item.x), (right, "↑", item.y)):
                line_to(pen, at, base, mm(value), 1.2 * em, "bold")
                line_to(pen, at - letters.width(mm(value), "bold", 1.2 * em) - 1.4, base, sign, 1.1 * em, ink=grey(80))

        return Block(height, draw)

    def picks(self, found: Sequence[Pick], count: int) -> Iterator[Block]:
        if not found:
            return
        yield self.heading("From the shelf, where labels are ready-made")
        for pick in found:
            many = f"{pick.total} ×" if count == 1 else f"{pick.total} ×  ({pick.each} a package)"

            def draw(pen: Pen, x: float, top: float, pick: Pick = pick, many: str = many) -> None:
                y = top - self.em * 1.2
                at = line(pen, x, y, pick.name, self.em, "bold")
                line(pen, at + 3, y, pick.size, self.em)
                line_to(pen, x + self.width, y, many, self.em, "bold")

            yield Block(self.em * 1.55, draw, keep=pick is not found[-1])
        yield self.gap

    def cautions(self, findings: Sequence[Finding]) -> Iterator[Block]:
        if not findings:
            return
        yield self.heading("A person decides or checks")
        for finding in findings:
            word = "Note: " if finding.level is Level.NOTE else ""
            cite = f" ({'; '.join(finding.cite)})" if finding.cite else ""
            yield text(f"{word}{finding.text}{cite}", self.width, 3.0, after=1.2)

    def signatures(self) -> Block:
        """Who packed, who checked, when."""

        def draw(pen: Pen, x: float, top: float) -> None:
            y, part = top - 10, self.width / 4
            for n, word in enumerate(("packed by", "checked by", "date and time", "weighed on scale no.")):
                left = x + n * part
                pen.stroke(polyline([(left, y), (left + part - 5, y)]), BLACK, 0.3)
                line(pen, left, y - 3.8, word, 3.2)

        return Block(14.5, draw)
