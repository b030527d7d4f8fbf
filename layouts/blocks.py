"""What stands together on a face: the requirements sorted into blocks, and every block's possible shapes.

lead       hazard labels with the cargo aircraft label; without labels, the leading mark
beside     the environmentally hazardous mark, in the rows of the labels while there is room
names      UN numbers and names, the words that belong beside them
pictures   other marks of a fixed shape
texts      other words
addresses  shipper and consignee
arrows     one for each of two opposite faces
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from layouts.arrange import Comfort, Piece, Shape, cell, clusters, columns, interlocked, rows, undominated
from layouts.artwork.base import SQUARE_ON_POINT, Scaled
from layouts.faces import Solid
from layouts.units import number
from marks import small
from marks.requirement import Requirement, Where
from marks.terms import Mode, PackageForm

if TYPE_CHECKING:
    from layouts.artwork.base import Artwork

LEAD, BESIDE, NAMES = "lead", "beside", "names"
PICTURES, TEXTS, ADDRESSES, ARROWS = "pictures", "texts", "addresses", "arrows"
BLOCKS = (LEAD, BESIDE, PICTURES, NAMES, TEXTS, ADDRESSES, ARROWS)

#: Words that stand with the number and the name.
WITH_NAMES = ("un-number", "proper-shipping-name", "reportable-quantity", "inhalation-hazard")
#: Closer than this, mm, and up to so many pictures, any cluster will do where rows do not fit: with one picture between
#: them labels are still within the distance that counts as together.
CLOSE, MANY = 10.0, 6
#: The order inside a block, in which a packer applies them; marks not named here follow by name.
IN_ORDER = (
    "hazard-label", "environmentally-hazardous", "cargo-aircraft-only", "limited-quantity-air", "limited-quantity",
    "excepted-quantity", "battery", "keep-away-from-heat", "cryogenic-liquid", "magnetized-material",
    "un-number", "proper-shipping-name", "reportable-quantity", "inhalation-hazard", "net-quantity", "gross-mass",
    "shipper", "consignee",
)  # fmt: skip


#: Sides of labels tried on the shoulder of a cylinder, mm; the law has the least (marks/tables/small.toml).
SHOULDER_SIDES = (50.0, 40.0, 32.0, 25.0, 20.0, 15.0, 10.0)


class Level(Struct, frozen=True):
    """Which forms may be used for want of room: condensed lettering; squares on their point set into each other's gaps;
    labels for the shoulder of a cylinder; labels and, before them, other pictures reduced so many steps (0: not; of labels
    for the shoulder, which of their sizes)."""

    condensed: bool = False
    interlocked: bool = False
    shoulder: bool = False
    reduced: int = 0
    others_reduced: int = 0


class Item(Struct, frozen=True):
    """A requirement with its forms (those the law allows here, preferred first) and the block it belongs to. The last
    ``shoulder`` of the forms are for the shoulder of a cylinder alone."""

    index: int
    requirement: Requirement
    forms: tuple[Artwork, ...]
    block: str
    shoulder: int = 0

    @property
    def paired(self) -> bool:
        return self.requirement.where is Where.TWO_OPPOSITE

    def pieces(self, level: Level) -> tuple[Piece, ...]:
        """The forms this level allows. A picture has one; a text may wrap, so it has several."""
        ordinary = self.forms[: len(self.forms) - self.shoulder]
        if level.shoulder and self.shoulder:
            numbers = [len(ordinary) + min(level.reduced, self.shoulder - 1)]
        elif any(form.reduced for form in ordinary):
            full = [n for n, form in enumerate(ordinary) if not form.reduced]
            less = [n for n, form in enumerate(ordinary) if form.reduced]
            steps = level.reduced if self.requirement.mark == "hazard-label" else level.others_reduced
            numbers = full if steps == 0 or level.shoulder else [less[min(steps, len(less)) - 1]]
        else:
            numbers = [n for n, form in enumerate(ordinary) if level.condensed or not condensed(form)] or [0]
        return tuple(
            Piece(self.index, n, self.forms[n].width, self.forms[n].height, self.forms[n].step) for n in numbers
        )


def condensed(form: Artwork) -> bool:
    """Whether it is lettering set in a condensed font (only words have fonts)."""
    return any(font.startswith("condensed") for font in getattr(form, "fonts", ()))


def on_point(form: Artwork) -> bool:
    """Whether it is a square standing on its point."""
    return form.side is not None and form.shape == SQUARE_ON_POINT


def sorted_items(
    requirements: Iterable[Requirement],
    forms: Callable[[Requirement], Sequence[Artwork]],
    modes: Sequence[Mode],
    solid: Solid,
) -> tuple[Item, ...]:
    """The requirements in one order whatever order they come in, each with its block."""
    requirements = sorted(requirements, key=_order)
    labels = any(r.mark == "hazard-label" for r in requirements)
    leader = next((r for r in requirements if r.size_mm is not None), None)
    found: list[Item] = []
    for requirement in _beside_their_number(requirements):
        legs, label = requirement.modes or tuple(modes), requirement.mark == "hazard-label"
        may = not label or small.reduced(legs) is not None
        allowed = tuple(form for form in forms(requirement) if may or not form.reduced)
        shoulder = tuple(_for_shoulder(allowed[0], solid)) if label and small.shoulder(legs) is not None else ()
        block = _block(requirement, labels, leader)
        found.append(Item(len(found), requirement, (*allowed, *shoulder), block, len(shoulder)))
    return tuple(found)


def _for_shoulder(full: Artwork, solid: Solid) -> Iterator[Artwork]:
    """A label as it may stand on the shoulder of a cylinder of gas, largest first."""
    if solid.form is not PackageForm.CYLINDER or full.side is None:
        return
    least = small.least_on_shoulder(solid.length)
    for step, side in enumerate((s for s in SHOULDER_SIDES if least <= s < full.side), 1):
        yield Scaled(full, side / full.side, f"reduced to {number(side, 1)} mm side for the shoulder", step)


def _block(requirement: Requirement, labels: bool, leader: Requirement | None) -> str:
    mark = requirement.mark
    if mark == "orientation-arrows":
        return ARROWS
    if mark == "hazard-label" or (labels and mark == "cargo-aircraft-only") or (not labels and requirement is leader):
        return LEAD
    if labels and mark == "environmentally-hazardous":
        return BESIDE
    if requirement.size_mm is not None:
        return PICTURES
    if mark in WITH_NAMES:
        return NAMES
    return ADDRESSES if requirement.group == "address" or mark in ("shipper", "consignee") else TEXTS


def _order(requirement: Requirement) -> tuple[object, ...]:
    mark = requirement.mark
    place = IN_ORDER.index(mark) if mark in IN_ORDER else len(IN_ORDER)
    variant = [int(part) if part.isdigit() else 0 for part in re.split(r"\D+", requirement.variant or "")]
    return place, mark, variant, requirement.variant or "", requirement.words, requirement.cite, requirement.why


def _beside_their_number(requirements: Sequence[Requirement]) -> list[Requirement]:
    """Each name directly after the number of the same goods; a name without a number of its own after the last
    number."""
    names = [r for r in requirements if r.mark in WITH_NAMES and r.mark != "un-number"]
    numbers = [r for r in requirements if r.mark == "un-number"]
    paired: list[Requirement] = []
    for one in numbers:
        mine = [n for n in names if set(n.goods) & set(one.goods)]
        paired += [one, *mine]
        names = [n for n in names if n not in mine]
    first = [r for r in requirements if _order(r) < (IN_ORDER.index("un-number"),)]
    return [*first, *paired, *names, *(r for r in requirements if r.mark not in WITH_NAMES and r not in first)]


def shapes(items: Sequence[Item], level: Level, comfort: Comfort) -> list[Shape]:
    """A block's shapes: rows of pictures on one foot line, or texts in a column."""
    pieces = [item.pieces(level) for item in items]
    if items[0].block == ARROWS:
        return undominated(cell(piece, comfort.step) for piece in pieces[0])
    if items[0].block in (LEAD, BESIDE, PICTURES):
        pictures = [p[0] for p in pieces]
        squares = interlocking(items, level)
        if squares:
            others = [cell(p, comfort.step) for n, p in enumerate(pictures) if n not in squares]
            return interlocked([pictures[n] for n in squares], others, comfort)
        if comfort.gap > CLOSE or len(pictures) > MANY:
            return rows(pictures, comfort)
        return undominated([*rows(pictures, comfort), *clusters(pictures, comfort)])
    return columns(pieces, replace(comfort, gap=min(comfort.gap, 8.0)))


def interlocking(items: Sequence[Item], level: Level) -> list[int]:
    """Which of these are equal squares on their point that this level sets into each other's gaps; two or more, or none."""
    if not level.interlocked:
        return []
    forms = [item.forms[item.pieces(level)[0].form] for item in items]
    squares = [n for n, form in enumerate(forms) if on_point(form) and form.side == forms[0].side]
    return squares if len(squares) > 1 else []
