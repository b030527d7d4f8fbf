"""What one inner packaging may hold by air: the tables of 49 CFR 173.27(f), read for a content and a kind of aircraft."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from marks.case import Content, amount
from marks.quantity import plain, show
from marks.reliefs import Amount, breakable
from marks.tables import dated
from marks.terms import Aircraft, ShipAs, State

if TYPE_CHECKING:
    from datetime import date

    from marks.case import Case

_UNITS = {State.LIQUID: "L", State.SOLID: "kg"}
_OTHERWISE = ("1", "7")  # classes packed by rules of their own, as are gases, which are neither liquid nor solid here


class InnerLimit(Struct, frozen=True):
    """most: in ``unit``, L or kg; cite: the table it stands in."""

    most: Decimal
    unit: str
    cite: str

    @property
    def text(self) -> str:
        """``0.5 L``."""
        return f"{plain(self.most)} {self.unit}"


def inner_limit(content: Content, aircraft: Aircraft, amounts: tuple[Amount, ...], on: date) -> InnerLimit | None:
    """The most one inner packaging of the content may hold; None where the tables set nothing.

    amounts: what the list lets one package hold on this kind of aircraft; none where it sets no limit.
    """
    inner = content.goods.inner
    unit = _UNITS.get(content.state) if content.state else None
    if inner is None or unit is None or content.entry.hazard_class in _OTHERWISE or content.entry.division == "6.2":
        return None
    for row in dated("inner_air", "class_nine", on):
        if content.entry.un in row["numbers"] and row["unit"] == unit:
            return InnerLimit(Decimal(_of_material(row, inner.of)), unit, row["cite"])
    package = next((one.value for one in amounts if one.unit == unit), None)
    if package is None:
        return None
    for row in dated("inner_air", "row", on):
        within = Decimal(row["over"]) < package <= Decimal(row["up_to"])
        if within and (row["aircraft"], row["unit"]) == (aircraft, unit):
            return InnerLimit(Decimal(row["glass" if breakable(inner.of) else "other"]), unit, row["cite"])
    return None


def _of_material(row: Mapping[str, Any], of: str) -> str:
    """The figure of a row that tells plastics, metal and fibre apart: the stricter where the words leave it open."""
    words = of.casefold()
    if "fibre" in row and re.search(r"fib(re|er)", words):
        return str(row["fibre"])
    if breakable(of):
        return str(row["glass"])
    plastics = re.search(r"plastic|poly|hdpe|ldpe|\bp[ep]\b|\bpet\b", words)
    return str(row["metal" if not plastics and re.search(r"metal|steel|tin|alumini?um|can\b", words) else "plastics"])


def over_inner(content: Content, case: Case, aircraft: Aircraft, amounts: tuple[Amount, ...]) -> str:
    """Why an inner packaging is too large for this kind of aircraft; "" where it is not. Limited and excepted quantities
    have limits of their own."""
    inner = content.goods.inner
    if case.relief is not ShipAs.FULL or inner is None:
        return ""
    most = inner_limit(content, aircraft, amounts, case.on)
    if most is None:
        return ""
    value, unit = amount(inner.holds)
    if unit != most.unit or value <= most.most:
        return ""
    return (
        f"{content.number}: {show(inner.holds)} in one inner packaging ({inner.of}) is over {most.text}, the most on "
        f"{aircraft} aircraft ({most.cite})"
    )
