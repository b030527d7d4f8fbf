"""What limited and excepted quantities allow: the limits of an entry, and whether a content stays within them.

Shared by the rules and by the quantity ladder of the comparison; nothing here knows a mark.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from marks.case import Case, Content, amount
from marks.quantity import is_volume, to
from marks.tables import limit, table
from marks.terms import PackingGroup

_AMOUNT = re.compile(r"(\d*\.?\d+) ?(kg|g|L|mL)\b", re.IGNORECASE)
_TO_LARGE = {
    "kg": ("kg", Decimal(1)),
    "g": ("kg", Decimal("0.001")),
    "l": ("L", Decimal(1)),
    "ml": ("L", Decimal("0.001")),
}


@dataclass(frozen=True, slots=True)
class Amount:
    """A limit in litres or kilograms; ``text`` as the table writes it."""

    value: Decimal
    unit: str
    text: str


def amounts(text: str) -> tuple[Amount, ...]:
    """ "1 L", "500 mL or 500 g" as limits in litres and kilograms; empty for "0" and for references."""
    found = []
    for value, unit in _AMOUNT.findall(text):
        large, factor = _TO_LARGE[unit.casefold()]
        found.append(Amount(Decimal(value) * factor, large, f"{value} {unit}"))
    return tuple(found)


def same_kind(limits: tuple[Amount, ...], quantity: Any) -> Amount | None:
    """The limit that is written in the quantity's kind of unit, or None."""
    unit = amount(quantity)[1]
    return next((one for one in limits if one.unit == unit), None)


def limited_inner(content: Content) -> tuple[Amount, ...]:
    """The most one inner packaging may hold as a limited quantity on the surface: column 7a of the entry."""
    return amounts(content.entry.limited_quantity or "")


@dataclass(frozen=True, slots=True)
class AirLimited:
    """Limits of one content as a limited quantity by air. None: no figure for it. ``never``: why it may not be one."""

    glass: str | None = None
    other: str | None = None
    outer: str | None = None
    never: str | None = None


def air_limited(content: Content) -> AirLimited:
    """Look the content up in air_limited.toml: by number first, then by class, packing group and state."""
    entry, rules = content.entry, table("air_limited")
    hazard, subsidiary = entry.division or entry.hazard_class, set(content.hazards[1:])
    for row in rules["row"]:
        if entry.un in row.get("numbers", ()) and row.get("group") in (None, entry.packing_group):
            if entry.un in row.get("without_subsidiary", ()) and subsidiary:
                return AirLimited(never=f"UN {entry.un} with a subsidiary hazard")
            return AirLimited(row.get("glass"), row.get("other"), row.get("outer"))
    never = rules["never"]["why"]
    barred = (
        entry.un in rules["never"]["numbers"]
        or entry.packing_group == PackingGroup.I
        or hazard[0] in "127"
        or "4.2" in content.hazards
        or (hazard == "4.1" and entry.classification_code.startswith("SR"))
    )
    if barred:
        return AirLimited(never=never)
    for row in rules["row"]:
        if row.get("class") != hazard or row.get("group") != entry.packing_group:
            continue
        if row.get("state") not in (None, content.state):
            continue
        held = {key: row.get(key) for key in ("glass", "other", "outer")}
        for lower in row.get("with", ()):
            if lower["hazard"] in subsidiary:
                for key in held:
                    if key in lower and amounts(lower[key])[0].value < amounts(held[key] or "")[0].value:
                        held[key] = lower[key]
        return AirLimited(held["glass"], held["other"], held["outer"])
    return AirLimited(never=never)


def breakable(of: str) -> bool:
    """Whether an inner packaging counts as glass, earthenware or fibre, for which the air limits are lower.

    What is not plainly metal or plastic counts as glass: the stricter column.
    """
    words = of.casefold()
    return not any(
        word in words for word in ("metal", "steel", "tin", "can", "alumin", "plastic", "polyethylene", "hdpe", "pe ")
    )


def excepted_limits(content: Content, case: Case) -> tuple[Any, Any] | None:
    """The inner and the outer limit (Figures, in mL or g) of the entry's E code; None where the code allows none."""
    code = content.entry.excepted_quantity or "E0"
    if code not in ("E1", "E2", "E3", "E4", "E5"):
        return None
    return limit("excepted", f"inner.{code}", case.on), limit("excepted", f"outer.{code}", case.on)


def small_units(quantity: Any) -> Decimal:
    """A quantity in mL or g, the units of the E codes."""
    return to(quantity, "mL") if is_volume(quantity) else to(quantity, "g")
