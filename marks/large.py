"""IBCs and large packagings: which packages they are, and what stands on them twice.

ADR 5.2.1.4 and 5.2.2.1.7, IMDG 5.2.1.4 and 5.2.2.1.7, from memory: IBCs of more than 450 litres capacity and large
packagings are marked and labelled on two opposite sides.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from msgspec.structs import replace

from marks.case import Case
from marks.quantity import show, to
from marks.requirement import Requirement, Where
from marks.tables import limit
from marks.terms import Mode

if TYPE_CHECKING:
    from marks.record import Package

#: What says of the goods what they are; the other marks stand once.
TWICE = ("hazard-label", "un-number", "proper-shipping-name", "environmentally-hazardous")
_MARKED = {Mode.ROAD: "ADR 5.2.1.4", Mode.SEA: "IMDG 5.2.1.4", Mode.AIR: "ICAO TI 5;2.4.1"}
_LABELLED = {Mode.ROAD: "ADR 5.2.2.1.7", Mode.SEA: "IMDG 5.2.2.1.7", Mode.AIR: "ICAO TI 5;3.2.1"}


def is_large(package: Package) -> bool:
    """Whether the package is an IBC or a large packaging."""
    return package.kind.kind in ("ibc", "large")


def twice(requirements: Iterable[Requirement], case: Case) -> Iterator[Requirement]:
    """The same requirements; of an IBC or large packaging: labels, number, name, fish and tree on two opposite sides.

    Not of an IBC that the record says holds 450 L or less. Without a stated capacity it counts as larger.
    """
    why = _why(case) if case.mode in _MARKED and is_large(case.package) else None
    for one in requirements:
        if why is None or one.mark not in TWICE:
            yield one
            continue
        paragraph = (_LABELLED if one.mark == "hazard-label" else _MARKED)[case.mode]
        cite = tuple(dict.fromkeys((*one.cite, paragraph)))
        yield replace(one, where=Where.TWO_OPPOSITE, why=f"{one.why}; {why}: on two opposite sides", cite=cite)


def _why(case: Case) -> str | None:
    package = case.package
    if package.kind.kind == "large":
        return "a large packaging"
    if package.capacity is None:
        return "an IBC whose capacity is not stated"
    over = to(package.capacity, "L") > limit("large", "one_side", case.on, "packagings").value
    return f"an IBC of {show(package.capacity)}" if over else None
