"""The same package once per mode, side by side: what is common is quiet, what differs is loud.

Above: the standing package once for each mode, at one scale, from the one placement that serves the whole journey.
Below:
a table mark by mode with its paragraph, and for each material the ladder of quantity.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace

from layouts.artwork.catalogue import forms
from layouts.furniture import Page, line, paragraphs
from layouts.geometry import Box, circle, polyline
from layouts.ink import BLACK, grey
from layouts.ladder import ladder_block
from layouts.listing import BODY, LEADING, SMALL, Block, draw_blocks, heading, paged, space, text
from layouts.particulars import Particulars, outer, title
from layouts.pen import Pen, group
from layouts.placement import Placed, Placement
from layouts.sheet import Sheet, drawn
from layouts.standing import Standing
from marks.requirement import Requirement
from marks.terms import Mode, VerdictWord

if TYPE_CHECKING:
    from marks.compare import PackageComparison, Row

#: A mode's picture is so high at most, mm; the column of mark names is so wide.
PICTURE, NAMES = 58.0, 44.0
VERDICTS = {VerdictWord.SHIP: "may travel so", VerdictWord.REFUSE: "REFUSED", VerdictWord.NOT_SUBJECT: "not subject"}


def comparison_sheets(
    comparison: PackageComparison, placement: Placement, about: Particulars, page: Page
) -> tuple[Sheet, ...]:
    """The comparison of one package. placement: that of the union over all its modes; each mode shows its part."""
    page = replace(page, title=f"Package {about.package}", kind="comparison of modes")
    area = page.area
    titles = _mode_names(tuple(comparison.decision.modes), area.width)
    rows = [_row(row, comparison, area.width) for row in sorted(comparison.rows, key=lambda row: not row.differs)]
    blocks = [*_above(comparison, placement, about, area.width), titles, *rows, *_below(comparison, area.width)]
    pages = paged(blocks, area.height, area.height - titles.height)
    # where the table goes on, the names of the modes stand again
    going_on = [[titles, *part] if any(part[0] is row for row in rows) else part for part in pages]
    return tuple(drawn(page, partial(_draw, part), colour=True) for part in going_on)


def _draw(blocks: Sequence[Block], pen: Pen, area: Box) -> None:
    draw_blocks(pen, blocks, area.x, area.top)


def asked(comparison: PackageComparison, mode: Mode) -> frozenset[tuple[str, str | None, tuple[str, ...]]]:
    """The marks a mode asks for, by key."""
    return frozenset(requirement.key for requirement in comparison.decision.modes[mode].marks)


def shared(comparison: PackageComparison) -> frozenset[tuple[str, str | None, tuple[str, ...]]]:
    """The marks that every mode asks for that lets the package travel at all."""
    sets = [asked(comparison, mode) for mode, word in comparison.verdicts.items() if word is VerdictWord.SHIP]
    return frozenset.intersection(*sets) if sets else frozenset()


def _above(comparison: PackageComparison, placement: Placement, about: Particulars, width: float) -> Iterator[Block]:
    """What stands over the table."""
    facts = f"{about.packaging or placement.solid.form.value}, {outer(placement.solid)} · record {about.short_digest}"
    yield text(facts, width, 3.0, after=3)
    yield _pictures(comparison, placement, about, width)
    yield space(3)
    yield heading(
        "Mark by mode",
        width,
        4.2,
        "dot: asked for by its paragraph; ring: not asked for, and why; dash: no rule of the mode speaks of it",
    )


def _below(comparison: PackageComparison, width: float) -> Iterator[Block]:
    """What stands under it: the ladders."""
    if comparison.ladders:
        yield space(4)
        yield heading("Quantities at which an answer changes", width, 4.2, "logarithmic")
        for ladder in comparison.ladders:
            yield ladder_block(ladder, width)


def _pictures(comparison: PackageComparison, placement: Placement, about: Particulars, width: float) -> Block:
    """One panel a mode."""
    modes = tuple(comparison.decision.modes)
    part = width / max(1, len(modes))
    common = shared(comparison)
    panels = []
    whole = Standing.fitting(placement, part - 6, PICTURE, about.code, False)
    for mode in modes:
        mine = shown_by(comparison, placement, mode)
        quiet = frozenset(item.number for item in mine if item.requirement.key in common) | {0}
        panels.append(
            (
                mode,
                replace(whole, placement=replace(placement, items=mine), quiet=quiet),
                _loud(comparison, mode, part - 6),
            )
        )
    high = max((view.size[1] for _, view, _ in panels), default=0.0)
    deep = max((len(rows) for _, _, rows in panels), default=0) * BODY * LEADING
    height = 10 + high + 4 + deep + 2

    def draw(pen: Pen, x: float, top: float) -> None:
        for n, (mode, view, rows) in enumerate(panels):
            left = x + n * part
            with group(pen, f"mode-{mode}", f"Package {comparison.decision.package} by {mode}"):
                at = line(pen, left, top - 5, str(mode), 5.0, "bold")
                word = VERDICTS[comparison.verdicts[mode]]
                line(pen, at + 2.5, top - 5, word, BODY, "bold" if word == "REFUSED" else "regular")
                view.draw(pen, left + (part - 6 - view.size[0]) / 2, top - 9 - high)
                for m, (words, font) in enumerate(rows):
                    line(pen, left, top - 13 - high - BODY - m * BODY * LEADING, words, BODY, font)
            if n:
                pen.stroke(polyline([(left - 3, top), (left - 3, top - height + 2)]), grey(30), 0.12)

    return Block(height, draw)


def shown_by(comparison: PackageComparison, placement: Placement, mode: Mode) -> tuple[Placed, ...]:
    """What a mode asks for of what is placed. The limited quantity mark of road and sea is not printed where the air
    form
    stands for it: in their pictures it stands at the place of that one."""
    keys = asked(comparison, mode)
    mine = [item for item in placement.items if item.requirement.key in keys]
    plain = [r for r in comparison.decision.modes[mode].marks if r.mark == "limited-quantity"]
    if plain and not any(item.requirement.mark == "limited-quantity" for item in mine):
        art = forms(plain[0])[0]
        for item in placement.items:
            if item.requirement.mark == "limited-quantity-air":
                mine.append(replace(item, requirement=plain[0], artwork=art))
    return tuple(mine)


def _loud(comparison: PackageComparison, mode: Mode, width: float) -> list[tuple[str, str]]:
    """What this mode asks for beyond what all ask for, in words."""
    if comparison.verdicts[mode] is VerdictWord.REFUSE:
        reasons = [f.text for f in comparison.decision.modes[mode].findings if f.level == "refuse"]
        return [(row, "regular") for row in paragraphs(reasons[:2], width, BODY)]
    beyond = [r for r in comparison.decision.modes[mode].marks if r.key not in shared(comparison)]
    names = [_named(r) for r in beyond] or ["nothing beyond what all modes ask for"]
    font = "bold" if beyond else "regular"
    return [(row, font) for row in paragraphs(list(dict.fromkeys(names)), width, BODY, font)]


def _named(requirement: Requirement) -> str:
    return title(requirement)


def _mode_names(modes: Sequence[Mode], width: float) -> Block:
    part = (width - NAMES) / len(modes)

    def draw(pen: Pen, x: float, top: float) -> None:
        for n, mode in enumerate(modes):
            line(pen, x + NAMES + n * part, top - 4, str(mode), BODY, "bold")

    return Block(6, draw, keep=True)


def _row(row: Row, comparison: PackageComparison, width: float) -> Block:
    """A mark under each mode: a dot and its paragraph, or a ring and why not. A row that differs is set in bold."""
    modes = tuple(comparison.decision.modes)
    part = (width - NAMES) / len(modes)
    name = row.mark.replace("-", " ").replace("un number", "UN number")
    name = f"{name[:1].upper()}{name[1:]}" + (f" {row.variant}" if row.variant else "")
    if row.words and row.mark in ("un-number", "proper-shipping-name"):  # there may be several
        name = f"{name} {row.words[0].removeprefix('UN ')}" if row.mark == "un-number" else f"{name}: {row.words[0]}"
    font, ink = ("bold", BLACK) if row.differs else ("regular", grey(75))
    names = paragraphs([name], NAMES - 3, BODY, font)
    cells: list[tuple[bool | None, tuple[str, ...]]] = []
    for mode in modes:
        cell = row.cells.get(mode)
        if cell is None:
            cells.append((None, ()))
            continue
        cite = "; ".join(cell.cite)
        words = [cite] if cell.asked else [f"{cell.why} ({cite})" if cite else cell.why]
        cells.append((cell.asked, paragraphs(words, part - 7, SMALL)))
    deep = max(len(names) * BODY * LEADING, *(len(words) * SMALL * LEADING for _, words in cells)) + 2.4

    def draw(pen: Pen, x: float, top: float) -> None:
        for n, part_name in enumerate(names):
            line(pen, x, top - 1 - BODY * 0.95 - n * BODY * LEADING, part_name, BODY, font, ink)
        for n, (is_asked, words) in enumerate(cells):
            left = x + NAMES + n * part
            if is_asked is None:
                line(pen, left, top - 1 - BODY * 0.95, "–", BODY, ink=grey(60))
                continue
            dot = circle(left + 1.3, top - 1 - BODY * 0.62, 1.1)
            if is_asked:
                pen.fill(dot, BLACK)
            else:
                pen.stroke(dot, BLACK, 0.25)
            for m, text_ in enumerate(words):
                shade = BLACK if is_asked and row.differs else grey(75)
                line(pen, left + 3.6, top - 1 - BODY * 0.95 - m * SMALL * LEADING, text_, SMALL, ink=shade)
        pen.stroke(polyline([(x, top - deep), (x + width, top - deep)]), grey(30), 0.12)

    return Block(deep, draw)
