"""What the aircraft limits of the list say about one package: passenger, cargo only, or neither.

The limits are columns 9A and 9B of 49 CFR 172.101 (2026), harmonised with the Technical Instructions in most rows, not all.
For several goods in one outer packaging the parts are summed: n1/M1 + n2/M2 + ... may not exceed 1 (ICAO TI 3;4.1.2, "Q",
from memory). US law (49 CFR 173.24a(c)(1)(iv)) instead holds the total against the lowest limit: stricter, and said so.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from marks.case import Case, Content, amount
from marks.terms import Aircraft

Q_PARAGRAPH = "ICAO TI 4;1.1.9"
LIMIT_SOURCE = "49 CFR 172.101 columns 9A and 9B"

_AMOUNT = re.compile(r"(?P<less>less than )?(?P<value>\d*\.?\d+) ?(?P<unit>kg|g|L|mL)(?P<gross> gross)?", re.IGNORECASE)
_SCALE = {
    "kg": ("kg", Decimal(1)),
    "g": ("kg", Decimal("0.001")),
    "l": ("L", Decimal(1)),
    "ml": ("L", Decimal("0.001")),
}


@dataclass(frozen=True, slots=True)
class AircraftLimit:
    """One column's entry. kind: forbidden, unlimited, amount, gross, or unclear (a reference this program does not follow)."""

    text: str
    kind: str
    amounts: tuple[tuple[Decimal, str], ...] = ()
    strict: bool = False


def read_limit(text: str) -> AircraftLimit:
    """Read "5 L", "30 kg gross", "50 mL or 50 g", "Less than .1 kg", "No limit", "Forbidden", "See A105"."""
    plain = text.strip().casefold()
    if plain == "forbidden":
        return AircraftLimit(text, "forbidden")
    if plain == "no limit":
        return AircraftLimit(text, "unlimited")
    found = list(_AMOUNT.finditer(text))
    if not found:
        return AircraftLimit(text, "unclear")
    amounts = []
    for match in found:
        unit, factor = _SCALE[match["unit"].casefold()]
        amounts.append((Decimal(match["value"]) * factor, unit))
    gross = any(match["gross"] for match in found)
    return AircraftLimit(text, "gross" if gross else "amount", tuple(amounts), any(match["less"] for match in found))


@dataclass(frozen=True, slots=True)
class Standing:
    """Whether a package may go on one kind of aircraft. open_because: what keeps the answer from being given."""

    aircraft: Aircraft
    allowed: bool
    why: str
    forbidden: bool = False
    open_because: str = ""


def _limit_of(content: Content, aircraft: Aircraft) -> AircraftLimit:
    return read_limit(content.entry.passenger if aircraft is Aircraft.PASSENGER else content.entry.cargo)


def standing(case: Case, aircraft: Aircraft) -> Standing:
    """Hold the package against one column of limits, by the sum of parts where several goods share it."""
    words = f"{aircraft} aircraft"
    total = Decimal(0)
    said: list[str] = []
    for content in case.contents:
        held = _limit_of(content, aircraft)
        name = content.number
        if not held.text:
            return Standing(
                aircraft, False, "", open_because=f"{content.described_as()}: the list holds no {words} limit"
            )
        if held.kind == "forbidden":
            return Standing(aircraft, False, f"{content.described_as()}: forbidden on {words}", forbidden=True)
        if held.kind == "unclear":
            return Standing(
                aircraft,
                False,
                "",
                open_because=f"{content.described_as()}: the {words} limit reads {held.text!r}, which this program does not follow",
            )
        if held.kind == "unlimited":
            said.append(f"{name}: no limit")
            continue
        if held.kind == "gross":
            most = held.amounts[0][0]
            if case.gross_kg > most:
                return Standing(
                    aircraft, False, f"{case.gross_kg:f} kg gross is over the {words} limit of {held.text} for {name}"
                )
            said.append(f"{name}: {case.gross_kg:f} kg gross, limit {held.text}")
            continue
        value, unit = amount(content.net)
        fitting = [most for most, limit_unit in held.amounts if limit_unit == unit]
        if not fitting:
            return Standing(
                aircraft,
                False,
                "",
                open_because=f"{content.described_as()}: the {words} limit is {held.text} and the record gives {content.net_text}; write net in {held.amounts[0][1]}",
            )
        if value > fitting[0] or (held.strict and value == fitting[0]):
            return Standing(aircraft, False, f"{content.net_text} is over the {words} limit of {held.text} for {name}")
        said.append(f"{name}: {content.net_text}, limit {held.text}")
        total += value / fitting[0]
    if len(case.contents) > 1 and total > 1:
        return Standing(
            aircraft, False, f"the sum of parts of the {words} limits is {total:.2f}, more than 1 ({'; '.join(said)})"
        )
    return Standing(aircraft, True, f"within the {words} limits ({'; '.join(said)})")
