"""What the page says of a record while it is written: its faults by field, and its plan as soon as there is one.

A record that lacks only who sends and who receives it is decided already: no mark's place or verdict hangs on a name. What
was stood in for is told, nothing of it is shown, and no sheet is made of it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Any

from layouts.errors import LayoutError
from layouts.front.desk.tree import Tree, to_text, value_at
from layouts.job import plan
from layouts.planned import Planned
from marks.errors import Fault, RecordError, SixfaceError
from marks.reading import read_text
from marks.record import Record
from marks.resolve import with_lines
from marks.terms import Mode

#: What a record may still lack while it is decided, and what stands in for it.
_PARTY = {"name": "not said yet", "address": ["not said yet"], "country": "NO"}
_STAND_INS: dict[str, Any] = {"reference": "not-said-yet", "shipper": _PARTY, "consignee": _PARTY}
#: So many packages and goods lines are decided at the desk.
MOST_PACKAGES, MOST_GOODS, MOST_FAULTS = 60, 200, 100


@dataclass(frozen=True)
class Considered:
    """text: as the file would have it. record: where it can be read. planned: where it can be decided. faults: all of
    them, up to MOST_FAULTS; more: how many beyond. stood_in: what the plan was made without. trouble: what no field can mend,
    in words."""

    tree: Tree
    text: str
    faults: tuple[Fault, ...] = ()
    record: Record | None = None
    planned: Planned | None = field(default=None, repr=False)
    stood_in: tuple[str, ...] = ()
    trouble: str = ""
    more: int = 0

    @property
    def whole(self) -> bool:
        """Whether sheets can be made of it."""
        return self.planned is not None and not self.faults


def consider(tree: Tree, name: str) -> Considered:
    """Steps 1 to 3 of what a form says. name: of the file, as faults say it."""
    return consider_text(to_text(tree), name, tree)


def consider_text(text: str, name: str, tree: Tree = None, notation: str = "yaml") -> Considered:
    """The same of a text."""
    if trouble := too_much(tree):
        return Considered(tree, text, trouble=trouble)
    found = _considered(text, name, tree, notation)
    more = max(0, len(found.faults) - MOST_FAULTS)
    return replace(found, faults=found.faults[:MOST_FAULTS], more=more) if more else found


def _considered(text: str, name: str, tree: Tree, notation: str) -> Considered:
    record, planned, faults, trouble = _planned(text, name, notation)
    if planned or trouble or not isinstance(tree, dict):
        return Considered(tree, text, faults, record, planned, trouble=trouble)
    stood_in = tuple(dict.fromkeys(top for fault in faults if (top := re.split(r"[.\[]", fault.path)[0]) in _STAND_INS))
    if not stood_in:
        return Considered(tree, text, faults)
    _, so_far, more, trouble = _planned(to_text({**tree, **{key: _STAND_INS[key] for key in stood_in}}), name, "yaml")
    known = {(fault.path, fault.read) for fault in faults}
    faults = (*faults, *(fault for fault in more if (fault.path, fault.read) not in known))
    return Considered(tree, text, faults, None, so_far, stood_in, trouble)


def too_much(tree: Tree) -> str:
    """Why a record is too large to be decided at the desk, or nothing."""
    packages = tree.get("packages") if isinstance(tree, dict) else None
    if not isinstance(packages, list):
        return ""
    goods = sum(len(one["goods"]) for one in packages if isinstance(one, dict) and isinstance(one.get("goods"), list))
    if len(packages) <= MOST_PACKAGES and goods <= MOST_GOODS:
        return ""
    return (
        f"{len(packages)} kinds of package with {goods} goods lines: the desk decides {MOST_PACKAGES} and {MOST_GOODS} at "
        "most; sixface plan RECORD takes any number"
    )


@lru_cache(maxsize=32)
def _planned(text: str, name: str, notation: str) -> tuple[Record | None, Planned | None, tuple[Fault, ...], str]:
    record = None
    try:
        record = read_text(text, name, notation)
        return record, plan(record), (), ""
    except RecordError as error:
        if not any(fault.line for fault in error.faults):
            error = with_lines(error, text, name, notation)
        return record, None, error.faults, ""
    except (SixfaceError, LayoutError) as error:
        return record, None, (), str(error)


def modes_of(tree: Tree) -> tuple[Mode, ...]:
    """The legs that are ticked and known."""
    said = value_at(tree, ("modes",)) or []
    return tuple(mode for mode in Mode if mode.value in said)
