"""What limited and excepted quantities allow: the limits of an entry, and whether a content stays within them.

Shared by the rules and by the quantity ladder of the comparison; nothing here knows a mark.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from msgspec import Struct

from marks.case import Case, Content, amount
from marks.quantity import Quantity, is_volume, to
from marks.tables import Figure, limit, table
from marks.terms import ShipAs

_AMOUNT = r"(?i)(\d*\.?\d+) ?(kg|g|L|mL)\b"
_TO_LARGE = {
    "kg": ("kg", Decimal(1)),
    "g": ("kg", Decimal("0.001")),
    "l": ("L", Decimal(1)),
    "ml": ("L", Decimal("0.001")),
}


class Amount(Struct, frozen=True):
    """A limit in litres or kilograms; ``text`` as the table writes it."""

    value: Decimal
    unit: str
    text: str


def amounts(text: str) -> tuple[Amount, ...]:
    """ "1 L", "500 mL or 500 g" as limits in litres and kilograms; empty for "0" and for references."""
    found = []
    for value, unit in re.findall(_AMOUNT, text):
        large, factor = _TO_LARGE[unit.casefold()]
        found.append(Amount(Decimal(value) * factor, large, f"{value} {unit}"))
    return tuple(found)


def same_kind(limits: tuple[Amount, ...], quantity: Quantity) -> Amount | None:
    """The limit that is written in the quantity's kind of unit, or None."""
    unit = amount(quantity)[1]
    return next((one for one in limits if one.unit == unit), None)


def limited_inner(content: Content) -> tuple[Amount, ...]:
    """The most one inner packaging may hold as a limited quantity on the surface: column 7a of the entry."""
    return amounts(content.entry.limited_quantity or "")


class AirLimited(Struct, frozen=True):
    """Limits of one content as a limited quantity by air. None: no figure for it. ``never``: why it may not be one."""

    glass: str | None = None
    other: str | None = None
    outer: str | None = None
    never: str | None = None

    def inner(self, of: str) -> str | None:
        """The limit of one inner packaging of a material: "0.5 L"."""
        return self.glass if breakable(of) else self.other


def air_limited(content: Content) -> AirLimited:
    """Look the content up in air_limited.toml: by number first, then by class, packing group and state.

    State and packing group have to be known: without a state the answer is the one for which there is no figure.
    """
    entry, rules = content.entry, table("air_limited")
    hazard, subsidiary = entry.division or entry.hazard_class, content.hazards[1:]
    for barred in rules["never"]:
        if entry.un in barred["numbers"]:
            return AirLimited(never=barred["why"])
    for row in rules["row"]:
        if entry.un in row.get("numbers", ()) and row.get("group") in (None, entry.packing_group):
            if entry.un in row.get("without_subsidiary", ()) and subsidiary:
                return AirLimited(never=f"UN {entry.un} with a subsidiary hazard is never a limited quantity by air")
            return AirLimited(row.get("glass"), row.get("other"), row.get("outer"))
    self_reactive = hazard == "4.1" and entry.classification_code.startswith("SR")
    if entry.packing_group != "I" and "4.2" not in content.hazards and not self_reactive:
        for row in rules["row"]:
            if (row.get("class"), row.get("group")) != (hazard, entry.packing_group) or "numbers" in row:
                continue
            if row.get("state") in (None, content.state):
                return _lowered(row, subsidiary)
    return AirLimited(never=rules["no_row"]["why"])


def _lowered(row: Mapping[str, Any], subsidiary: tuple[str, ...]) -> AirLimited:
    """A row's figures, each lowered where a subsidiary hazard of the content lowers it."""
    held = {key: row[key] for key in ("glass", "other", "outer")}
    for lower in row.get("with", ()):
        if lower["hazard"] in subsidiary:
            for key in held:
                if key in lower and amounts(lower[key])[0].value < amounts(held[key])[0].value:
                    held[key] = lower[key]
    return AirLimited(held["glass"], held["other"], held["outer"])


#: An inner packaging whose words name a metal or a plastic and nothing fragile is one of metal or plastics.
_TOUGH = r"\b(metals?|steel|tins?|tinplate|cans?|alumini?um|plastics?|polyethylene|polypropylene|hdpe|ldpe|pe|pet|pp|aerosols?)\b"
_FRAGILE = r"glass|earthenware|stoneware|porcelain|ceramic|fib(re|er)"


def breakable(of: str) -> bool:
    """Whether an inner packaging counts as glass, earthenware or fibre, for which the limits by air are lower.

    What is not plainly metal or plastics counts so: the stricter column.
    """
    words = of.casefold()
    return bool(re.search(_FRAGILE, words)) or not re.search(_TOUGH, words)


def by_gross(content: Content, relief: ShipAs) -> bool:
    """Whether the limit by air is written as a gross mass: of the aircraft, or of a limited quantity."""
    if relief is ShipAs.LIMITED:
        return "gross" in (air_limited(content).outer or "")
    return "gross" in content.entry.passenger + content.entry.cargo


def excepted_limits(content: Content, case: Case) -> tuple[Figure, Figure] | None:
    """The inner and the outer limit (in mL or g) of the entry's E code; None where the code allows none."""
    code = content.entry.excepted_quantity or "E0"
    if code not in ("E1", "E2", "E3", "E4", "E5"):
        return None
    return limit("excepted", f"inner.{code}", case.on), limit("excepted", f"outer.{code}", case.on)


def small_units(quantity: Quantity) -> Decimal:
    """A quantity in mL or g, the units of the E codes."""
    return to(quantity, "mL") if is_volume(quantity) else to(quantity, "g")
