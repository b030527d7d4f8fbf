"""Step 3, the search: every mark on a face, or a refusal that says what is needed and what there is.

Hard: nothing on the bottom, over an edge, over a keep-clear area, over a mark that is there already or over another;
hazard labels beside each other on one face, the cargo aircraft label with them; arrows on two opposite upright faces;
number and name with the labels, unless no face is large enough for both.
Wished for, in this order: one working face (the front), addresses on that face too, tape and hand holes left free, room for
the carrier's label, room around everything, level feet and edges, round distances.

When the front can't take all, the steps of ``steps.py`` follow one another: other upright faces, condensed lettering, and so
on to a tag and the refusal. Whether marks go on a face is told by an exact search (exact.py); where they look best, by
arrangements in rows and columns (arrange.py). The result is checked by code of its own (verify.py) before it is returned.
Same marks, same answer, in whatever order they come.

What is hard is searched for to its end, or to bounds so wide that they are seldom met (``STEPS`` of board.py on one face,
``TRIES`` of plans.py over all faces); where they are, the answer says that the search was ended. Only some arrangements of
squares in each other's gaps are tried. What is wished for is given up sooner: a face is searched for ``FEW`` steps, and not at
all for marks of which some have been searched for so long already without an answer; then the next wish is tried, and after
the last of them whatever goes. Steps are counted, so that no clock and no other work of the computer changes an answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from layouts import contrast, reasons
from layouts.blocks import Item, sorted_items
from layouts.board import Board
from layouts.faces import Area, Solid, There, already_there, kept_clear
from layouts.geometry import Box
from layouts.placement import NOWHERE, Placed, Placement, Tried
from layouts.plans import Plan, Planner
from layouts.setting import laid_out, spec_area
from layouts.steps import steps
from layouts.told import Memory
from layouts.trouble import does_not_fit, said_of
from layouts.verify import verify
from marks.quantity import to
from marks.requirement import Requirement
from marks.terms import Face, Mode

if TYPE_CHECKING:
    from layouts.artwork.base import Artwork


def place(
    solid: Solid,
    requirements: Iterable[Requirement],
    modes: Sequence[Mode] = (),
    *,
    keep_clear: Sequence[Area] = (),
    there: Sequence[There] = (),
    spec_mark: str | None = None,
    forms: Callable[[Requirement], Sequence[Artwork]] | None = None,
    may_hang: bool = True,
) -> Placement:
    """Place every requirement on the solid.

    keep_clear: areas that take no mark. there: marks the packaging bears already (a requirement marked ``preprinted``
    without a stated place takes room at an assumed one). spec_mark: the specification mark, shown where there is room.
    forms: what a requirement may look like, preferred first (default: the artwork catalogue). may_hang: a tag may be tied
    to it, where the law allows one.
    Returns a verified Placement; when something does not fit, one with a ``does-not-fit`` refusal and no items.
    """
    if forms is None:
        from layouts.artwork.catalogue import forms as catalogue_forms

        forms = catalogue_forms
    requirements = tuple(requirements)
    items = sorted_items(requirements, forms, modes, solid)
    known, fixed, others = _already(solid, items, there)
    marked = [*others, *(Area(p.face, p.box, p.requirement.mark) for p in fixed)]
    to_set = [item for item in items if item.index not in known]
    tied = frozenset(p.face for p in fixed if p.requirement.mark == "hazard-label")
    notes = tuple(reasons.about_there(items, fixed, there))
    tried: list[Tried] = []
    board, ended, memory = None, False, Memory()
    for step in steps(solid, to_set, modes, may_hang):
        clear = (*keep_clear, *step.clear)
        if board is None or board.level != step.level or board.solid != step.solid:
            board = Board(step.solid, items, step.level, marked, clear, step.solid.shunned(), tied, memory)
        plan = Planner(board, to_set, tied, step.apart, step.whole).find(step.faces)
        if plan is None:
            ended |= board.unfinished
            tried.append(Tried(step.name, said_of(board, to_set, step, tied), step.cite))
            continue
        if ended:
            notes = (*notes, reasons.search_ended(step.name))
        done, carrier = laid_out(board, plan, to_set)
        placed = [*fixed, *_placed(done, items, plan)]
        placement = Placement(
            step.solid,
            reasons.numbered(placed, plan.working, items),
            clear,
            (*others, *spec_area(done, spec_mark, carrier)),
            (*notes, *reasons.About(placed, step.solid, plan.working, step.cite, carrier is not None).findings()),
            plan.working,
            carrier,
            (*tried, Tried(step.name, "", step.cite)),
        )
        verify(placement, requirements, modes)
        return placement
    refusal = does_not_fit(solid, items, to_set, marked, keep_clear, modes, tied, ended, may_hang, memory)
    return Placement(solid, (), tuple(keep_clear), tuple(others), (*notes, refusal), steps=tuple(tried))


def place_package(package: Any, requirements: Iterable[Requirement], modes: Sequence[Mode] = ()) -> Placement:
    """The same for a package of the record, with its keep-clear areas, preprinted marks, specification mark and colour."""
    from layouts.artwork.catalogue import forms

    placement = place(
        Solid.of(package), requirements, modes, keep_clear=kept_clear(package), there=already_there(package),
        spec_mark=package.spec_mark, forms=contrast.on_ground(forms, package.colour),
    )  # fmt: skip
    return replace(placement, findings=(*placement.findings, *contrast.findings(package, placement)))


def place_overpack(overpack: Any, requirements: Iterable[Requirement], modes: Sequence[Mode] = ()) -> Placement:
    """The same for an overpack of the record: a box with nothing on it yet; NOWHERE without a size."""
    if overpack.size is None:
        return NOWHERE
    length, width, height = (
        float(to(edge, "mm")) for edge in (overpack.size.length, overpack.size.width, overpack.size.height)
    )
    return place(Solid.box(length, width, height), requirements, modes, may_hang=False)


def _already(solid: Solid, items: Sequence[Item], there: Sequence[There]) -> tuple[set[int], list[Placed], list[Area]]:
    """What the packaging bears at a stated place: the items it answers (by index), where they are, and what nothing
    asks for."""
    known: set[int] = set()
    fixed: list[Placed] = []
    others: list[Area] = []
    for mark in sorted(there, key=lambda t: (t.mark, str(t.face), t.box or Box(0, 0, 0, 0))):
        if mark.face is None or mark.box is None:
            continue
        mine = [
            i
            for i in items
            if i.requirement.preprinted
            and (i.requirement.mark, i.requirement.variant) == (mark.mark, mark.variant)
            and (i.paired or i.index not in known)
        ]
        if not mine:
            others.append(Area(mark.face, mark.box, mark.mark))
            continue
        item, box = mine[0], mark.box
        known.add(item.index)
        fixed.append(_there(item, mark.face, box))
    for item in items:
        mine_placed = [p for p in fixed if p.requirement is item.requirement]
        if item.paired and len(mine_placed) == 1:
            one = mine_placed[0]
            box = one.box._replace(x=solid.size(one.face)[0] - one.box.right)
            fixed.append(_there(item, one.face.opposite, box, assumed=True))
    return known, fixed, others


def _there(item: Item, face: Face, box: Box, assumed: bool = False) -> Placed:
    art = item.forms[0]
    return Placed(item.requirement, art, face, *box, there=True, assumed=assumed)


def _placed(board: Board, items: Sequence[Item], plan: Plan) -> list[Placed]:
    out = []
    labels = sum(item.requirement.mark == "hazard-label" for item in items)
    for index, form, face, x, y in board.spots:
        item = items[index]
        art, bare = item.forms[form], item.requirement.preprinted
        why = reasons.why_here(item, face, plan.working, board.solid, Box(x, y, art.width, art.height), labels)
        out.append(
            Placed(item.requirement, art, face, x, y, art.width, art.height, there=bare, assumed=bare, why_here=why)
        )
    return out
