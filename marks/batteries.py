"""Lithium and sodium ion batteries: which are small, what a provision frees them of, what is asked of them by air.

Shared by the rules and by ``marks.beyond.outside``; no mark is known here. SP 188 of ADR and the IMDG Code and the
sections of the Technical Instructions' packing instructions are from memory; the figures are those of 49 CFR 173.185.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from msgspec import Struct

from marks.quantity import is_mass, show, to
from marks.tables import Figure, dated, limit
from marks.terms import Mode

if TYPE_CHECKING:
    from marks.case import Case, Content

METAL, ION, SODIUM = ("3090", "3091"), ("3480", "3481"), ("3551", "3552")
NUMBERS = (*METAL, *ION, *SODIUM)
ALONE = ("3090", "3480", "3551")
VEHICLES = ("3171", "3556", "3557", "3558")
#: Packing instructions of the Technical Instructions: alone, packed with equipment, contained in it.
INSTRUCTIONS = {
    **dict.fromkeys(ION, ("965", "966", "967")),
    **dict.fromkeys(METAL, ("968", "969", "970")),
    **dict.fromkeys(SODIUM, ("976", "977", "978")),
}
#: What marks the words of the record as those of the name.
_NAMED = {"packed-with": "PACKED WITH", "contained-in": "CONTAINED IN"}


def figure(name: str, on: date) -> Figure:
    """A figure of batteries on a day. EditionNotHeld for a day no line covers."""
    return limit("batteries", name, on, "special")


def is_battery(content: Content) -> bool:
    """Whether the entry is one of cells or batteries, alone or with equipment."""
    return content.entry.un in NUMBERS


def of(contents: Iterable[Content]) -> tuple[Content, ...]:
    """Those of the contents that are cells or batteries."""
    return tuple(content for content in contents if is_battery(content))


def kind(content: Content) -> str:
    """ "LITHIUM METAL", "LITHIUM ION", "SODIUM ION": as names and words on packages say it."""
    numbers = {METAL: "LITHIUM METAL", ION: "LITHIUM ION", SODIUM: "SODIUM ION"}
    return next(words for those, words in numbers.items() if content.entry.un in those)


def instruction(content: Content) -> str:
    """ "ICAO TI packing instruction 966", by entry and arrangement."""
    place = {"alone": 0, "packed-with": 1, "contained-in": 2}[arrangement(content)]
    return f"ICAO TI packing instruction {INSTRUCTIONS[content.entry.un][place]}"


def arrangement(content: Content) -> str:
    """How they lie: as the number says it of batteries alone, as the name says it of those with or in equipment."""
    if content.entry.un in ALONE:
        return "alone"
    return next((said for said, words in _NAMED.items() if words in content.name), "packed-with")


class Small(Struct, frozen=True):
    """Whether cells or batteries are small enough for relief; None: the record leaves it open. why: with figures."""

    held: bool | None
    why: str


def small(content: Content, on: date) -> Small:
    """20 Wh a cell and 100 Wh a battery; of metal 1 g and 2 g of lithium (49 CFR 173.185(c)(1)(i), (ii))."""
    said, key = content.goods.batteries, "lithium_each" if content.entry.un in METAL else "energy_each"
    if said is None:
        cure = f"write batteries with kind, count, {key} and arrangement"
        return Small(None, f"the record does not say how large its cells or batteries are; {cure}")
    value = said.lithium_each if content.entry.un in METAL else said.energy_each
    if value is None:
        return Small(None, f"the record does not say the {key.removesuffix('_each')} of each; write {key}")
    one = {"cells": "cell", "batteries": "battery"}[said.kind]
    most = figure(f"{one}_{key.removesuffix('_each')}", on)
    held = to(value, most.unit) <= most.value
    return Small(held, f"a {one} of {show(value)}, {'up to' if held else 'over'} {most.text}")


def sound(content: Content) -> bool:
    """Neither damaged nor on its way to disposal or recycling, which the reliefs leave out."""
    return content.goods.batteries is None or content.goods.batteries.condition == "sound"


def relief(content: Content, case: Case) -> tuple[str, str] | None:
    """Why small cells and batteries are free of the rules of the mode but for their own mark, with the paragraph.

    By road and sea SP 188: 30 kg gross where they are alone. By air section II of the packing instructions for those
    with or in equipment: 5 kg net; alone they have no section II since 1 April 2022.
    """
    if not is_battery(content) or not sound(content) or case.mode is Mode.US_GROUND:
        return None
    held = small(content, case.on)
    if not held.held:
        return None
    named, alone = content.described_as(), arrangement(content) == "alone"
    if case.mode is not Mode.AIR:
        if alone and case.gross_kg > figure("gross", case.on).value:
            return None
        return f"{named}: {held.why}: not subject to other provisions (from memory)", f"{case.mode.law} 3.3.1 SP 188"
    if alone or over_section_two(content, case.on):
        return None
    net = f"{content.net_text} net, up to {figure('with_equipment_net', case.on).text}"
    return f"{named}: {held.why}; {net}: section II, no other provisions (from memory)", instruction(content)


def over_section_two(content: Content, on: date) -> bool:
    """Whether the net mass of what is with or in equipment is over 5 kg, or is not given as a mass."""
    return not is_mass(content.net) or to(content.net, "kg") > figure("with_equipment_net", on).value


def section_one_b(content: Content, case: Case) -> bool:
    """By air and alone: small, and up to 10 kg (metal 2.5 kg) net: label 9A and battery mark together."""
    if case.mode is not Mode.AIR or arrangement(content) != "alone" or not sound(content):
        return False
    if not small(content, case.on).held or not is_mass(content.net):
        return False
    most = figure("alone_net_metal" if content.entry.un in METAL else "alone_net_ion", case.on)
    return to(content.net, "kg") <= most.value


def unmarked(contents: tuple[Content, ...], case: Case) -> str | None:
    """Why a package of small batteries needs no battery mark; None where it does.

    All of them contained in equipment, and: button cells alone; or at most 4 cells or 2 batteries, in a consignment of
    at most two packages (49 CFR 173.185(c)(3)). Cells and batteries mixed, and button cells with others, count in full.
    """
    said = [content.goods.batteries for content in contents]
    if any(one is None for one in said) or any(arrangement(content) != "contained-in" for content in contents):
        return None
    known = [one for one in said if one is not None]
    if all(one.button_cells for one in known):
        return "button cells in equipment alone"
    counts = {kind: sum(one.count for one in known if one.kind == kind) for kind in ("cells", "batteries")}
    cells, batteries = figure("free_cells", case.on), figure("free_batteries", case.on)
    packages = sum(package.count for package in case.record.packages)
    few = packages <= figure("free_packages", case.on).value
    if few and not counts["batteries"] and counts["cells"] <= cells.value:
        return f"{counts['cells']} cells in equipment, up to {cells.text}, in a consignment of {packages}"
    if few and not counts["cells"] and counts["batteries"] <= batteries.value:
        return f"{counts['batteries']} batteries in equipment, up to {batteries.text}, in a consignment of {packages}"
    return None


def bears_phone(on: date) -> bool:
    """Whether the battery mark of that day has a telephone number on it."""
    return any(True for _ in dated("special", "battery_phone", on))


def most_charge(content: Content, on: date) -> Decimal | None:
    """How full ion batteries may be by air, in per cent of the rated capacity; None: no figure on that day.

    30 %: alone; from 2026 packed with equipment, over 2.7 Wh each; in vehicles, over 100 Wh each (all from memory).
    """
    if content.entry.un in (*METAL, "3171", "3557"):
        return None
    place = "vehicle" if content.entry.un in VEHICLES else arrangement(content)
    said = content.goods.batteries
    for row in dated("special", "battery_charge", on):
        energy = to(said.energy_each, "Wh") if said is not None and said.energy_each is not None else None
        if row["arrangement"] == place and (energy is None or energy > Decimal(row["over"])):
            return Decimal(row["most"])
    return None
