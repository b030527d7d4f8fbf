"""What this version does not decide, said for each entry it concerns; and what lies outside the rules of a mode.

The lines stand in tables/beyond.toml. Nothing here is silent: goods a line fits are refused, or come with a caution.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from marks import batteries, gases, ground
from marks.case import Case, Content
from marks.environment import BY_ENTRY, small
from marks.requirement import Finding
from marks.rule import note, refuse
from marks.tables import table
from marks.terms import Level, Mode, ShipAs

_SMALL = {Mode.ROAD: "ADR 3.3.1 SP 375", Mode.SEA: "IMDG 2.10.2.7", Mode.AIR: "ICAO TI A197"}
#: From this number on a special provision belongs to the road alone; below it the sea has the same (from memory).
_ROAD_ALONE = 500
#: The special provisions this program follows wherever it meets them.
_FOLLOWED = ("172", "181", "188", "190", "191", "219", "274", "318", "319", "375", "376", "377", "625")


def undecided(case: Case) -> Iterator[Finding]:
    """A finding for each line of the table that fits a content, for entries of a later edition, for a US coolant."""
    for content in case.contents:
        for line in table("beyond")["goods"]:
            if _fits(line, content, case.mode):
                paragraph = line["cite"].get(case.mode.value, case.mode.law)
                text = f"{content.described_as()}: {line['says']}"
                yield Finding(Level(line["level"]), line["code"], text, (paragraph,))
        yield from _too_early(content, case)
    if case.mode is Mode.US_GROUND:
        yield from ground.coolant(case)


def _too_early(content: Content, case: Case) -> Iterator[Finding]:
    """Entries that came with an edition after that of 2017 have their first day."""
    for line in table("special")["since"]:
        if case.mode.value in line["cite"] and case.on < line["from"] and _fits(line, content, case.mode):
            yield refuse(
                "entry-not-yet",
                f"{content.described_as()}: the entry holds from {line['from']} (from memory), the record is of "
                f"{case.on}; choose the entry of that day",
                line["cite"][case.mode.value],
            )


def provisions(case: Case) -> Iterator[Finding]:
    """The special provisions of the list that this program does not follow: by road all, at sea those it shares."""
    if case.mode is Mode.US_GROUND:
        yield from ground.provisions(case)
        return
    for content in case.contents:
        numbers = [
            one
            for one in content.entry.road_provisions
            if one not in _FOLLOWED and (case.mode is Mode.ROAD or (one.isdigit() and int(one) < _ROAD_ALONE))
        ]
        if numbers and case.mode is not Mode.AIR:
            yield note(
                "special-provisions",
                f"{content.described_as()}: read the special provisions of the entry, which this program does not "
                f"follow: {', '.join(numbers)}",
                f"{case.mode.law} 3.3.1",
            )


def outside(content: Content, case: Case) -> tuple[str, str] | None:
    """Why a content is not subject to the rules of the mode at all, with the paragraph; None where it is subject."""
    entry, named = content.entry, content.described_as()
    if case.mode is Mode.US_GROUND:
        return ground.outside(content, case)
    if not entry.road_source:  # an entry of the US list alone: refused, not freed
        return None
    if case.mode is Mode.ROAD and entry.road_status == "not-subject":
        return f"{named}: the list says not subject to ADR", "ADR 3.2 Table A"
    for line in table("beyond")["outside"]:
        if _fits(line, content, case.mode):
            return f"{named}: {line['says']} (from memory)", line["cite"][case.mode.value]
    return batteries.relief(content, case) or gases.relief(content, case) or _small(content, case)


def _small(content: Content, case: Case) -> tuple[str, str] | None:
    """UN 3077 and UN 3082 in packagings of up to 5 L or 5 kg."""
    if content.entry.un not in BY_ENTRY or content.goods.ship_as_for(case.mode) is not ShipAs.FULL:
        return None
    held = small(content, case)
    if not held:
        return None
    why = f"{content.described_as()}: {held} each; not subject to other provisions if well packed (from memory)"
    return why, _SMALL[case.mode]


def _fits(line: Mapping[str, Any], content: Content, mode: Mode) -> bool:
    entry = content.entry
    if mode not in line.get("modes", (mode,)) or entry.prefix != "UN":
        return False
    if entry.hazard_class in line.get("classes", ()) or set(line.get("provisions", ())) & set(entry.road_provisions):
        return True
    return any(_within(entry.un, numbers) for numbers in line.get("numbers", ()))


def _within(number: str, numbers: str) -> bool:
    """ "3111" is within "3111" and within "3111-3120"."""
    first, _, last = numbers.partition("-")
    return first <= number <= (last or first)
