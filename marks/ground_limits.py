"""49 CFR on the highway: hazards, labels and limits of one content, as US law counts them.

Nothing here knows a mark. Every figure is a line of tables/ground.toml.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from marks.aircraft import read_limit
from marks.case import Content
from marks.goods import us
from marks.reliefs import Amount, amounts
from marks.tables import Figure, dated, limit, table
from marks.terms import Mode, State

if TYPE_CHECKING:
    from datetime import date

GROUND = Mode.US_GROUND


def figure(subject: str, name: str, on: date) -> Figure:
    """A limit of ground.toml, as ``marks.tables.limit`` reads those of every mode."""
    return limit(subject, name, on, "ground")


def hazards(content: Content) -> tuple[str, ...]:
    """Class and subsidiary hazards, those the record adds too, as bare divisions: "1" for every explosive."""
    own = us.hazards(content.entry)
    return *own, *(one for one in content.goods.further_hazards if one not in own)


def labels(content: Content, on: date) -> tuple[str, ...]:
    """The labels of column 6, then those of the hazards the record adds (172.402(a)(2)), but not the one spared."""
    spared = spared_flammable(content, on)
    return tuple(label for label in content.labels(GROUND) if not (spared and label == "3"))


def spared_flammable(content: Content, on: date) -> Figure | None:
    """The flash point from which a subsidiary hazard of class 3, not named by column 6, has no label by highway."""
    flash, added = content.goods.flash_point, "3" in content.goods.further_hazards
    least = figure("labels", "flash_point", on)
    named = "3" in us.labels(content.entry)
    return least if added and not named and flash is not None and flash >= least.value else None


# --- limited quantities


class LimitedGround(Struct, frozen=True):
    """What one inner packaging may hold. most: the limit, None: there is none to hold; never: why it may not be one."""

    most: Amount | None
    cite: tuple[str, ...]
    never: str = ""


def limited_inner(content: Content, on: date) -> LimitedGround:
    """The limit by class, packing group and state, if column 8A names the section that it stands in."""
    entry = content.entry
    if us.inhalation(entry) is not None:
        return LimitedGround(None, ("49 CFR 173.153(b)",), "poisonous by inhalation, so never a limited quantity")
    hazard, group = us.hazards(entry)[0], us.packing_group(entry)
    for row in dated("ground", "inner", on):
        if row["class"] not in (hazard, hazard[0] if hazard[0] == "2" else hazard):
            continue
        if row.get("group") not in (None, group):
            continue
        if ("numbers" in row and content.number not in row["numbers"]) or content.number in row.get("not_numbers", ()):
            continue
        if row["section"] not in us.sections(entry):
            named = entry.us_exceptions or "nothing"
            why = f"column 8A names {named}, not 173.{row['section']}, so it may not be a limited quantity"
            return LimitedGround(None, (row["cite"], "49 CFR 172.101 column 8A"), why)
        return _of_row(row, content)
    said = f"class {us.shown_class(entry)}" + (f", packing group {group}" if group else ", without a packing group")
    return LimitedGround(None, ("49 CFR 173.150 to 173.155, 173.306",), f"there is no limited quantity for {said}")


def _of_row(row: Mapping[str, Any], content: Content) -> LimitedGround:
    cite = (row["cite"],)
    if row.get("package_only"):
        return LimitedGround(None, cite)
    kind = {State.LIQUID: "liquid", State.SOLID: "solid"}.get(content.state or State.ARTICLE, "container")
    held = row.get(kind) or (row.get("liquid") if kind == "container" else None)
    if held is None:
        return LimitedGround(None, cite, f"there is no limited quantity of it as a {content.state}")
    most = amounts(held)[0]
    return LimitedGround(Amount(most.value, most.unit, row.get("text", most.text)), cite)


# --- excepted quantities


class ExceptedGround(Struct, frozen=True):
    """What one inner packaging and the outer packaging may hold, in mL or g; never: why it may not be one."""

    inner: Decimal | None
    outer: Decimal | None
    cite: tuple[str, ...]
    never: str = ""


def excepted(content: Content, on: date) -> ExceptedGround:
    """By class and packing group (173.4a(b) to (d)): US law has no codes E0 to E5, so the list's code is not asked."""
    entry, cite = content.entry, ("49 CFR 173.4a(b)",)
    found, group = hazards(content), us.packing_group(entry)
    if content.number in table("ground")["excepted_never"]["numbers"]:
        return ExceptedGround(None, None, cite, f"{content.number} is named among those that may not be one")
    if found[0] == "6.1" and group == "I" and us.inhalation(entry) is not None:  # liquids of 6.1 have no other zones
        return ExceptedGround(None, None, cite, "of packing group I and poisonous by inhalation in zone A or B")
    if read_limit(entry.passenger).kind == "forbidden":
        return ExceptedGround(None, None, cite, "forbidden on passenger aircraft, which bars it on the highway too")
    if found[0] == "2.2" and len(found) > 1:
        return ExceptedGround(None, None, cite, "a gas of 2.2 with a subsidiary hazard")
    for row in dated("ground", "excepted", on):
        toxic_enough = not row.get("toxic") or "6.1" in found
        if found[0] in row["classes"] and row.get("group") in (None, group) and toxic_enough:
            return ExceptedGround(Decimal(row["inner"]), Decimal(row["outer"]), (row["cite"],))
    said = f"class {us.shown_class(entry)}" + (f", packing group {group}" if group else ", without a packing group")
    return ExceptedGround(None, None, cite, f"there is no excepted quantity for {said}")
