"""What the aircraft limits of the list say about one package: passenger, cargo only, or neither.

The limits are columns 9A and 9B of 49 CFR 172.101 (2026), harmonised with the Technical Instructions in most rows, not
all. For several goods in one outer packaging the parts are summed: n1/M1 + n2/M2 + ... may not exceed 1 ("Q", ICAO TI
4;1.1.9, from memory). US law (49 CFR 173.24a(c)(1)(iv)) holds the total against the lowest limit instead: stricter, so
a package that passes the one and not the other is told of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from msgspec import Struct

from marks.case import Case, Content, amount
from marks.inner_air import over_inner
from marks.radioactive import AIRCRAFT_SOURCE as RADIOACTIVE_SOURCE
from marks.radioactive import aircraft_limit as radioactive_limit
from marks.radioactive import is_radioactive
from marks.reliefs import Amount, amounts, same_kind
from marks.tables import table
from marks.terms import Aircraft

Q_PARAGRAPH = "ICAO TI 4;1.1.9"
LIMIT_SOURCE = "49 CFR 172.101 columns 9A and 9B"


class AircraftLimit(Struct, frozen=True):
    """One column's entry. kind: forbidden, unlimited, amount, gross, or unclear (empty, or a reference not followed).

    strict: the amount itself is too much already ("less than 0.1 kg").
    """

    text: str
    kind: str
    amounts: tuple[Amount, ...] = ()
    strict: bool = False


def read_limit(text: str) -> AircraftLimit:
    """Read "5 L", "30 kg gross", "50 mL or 50 g", "less than 0.1 kg", "No limit", "Forbidden", "See A105"."""
    plain = text.strip().casefold()
    if plain == "forbidden":
        return AircraftLimit(text, "forbidden")
    if plain == "no limit":
        return AircraftLimit(text, "unlimited")
    found = amounts(text)
    kind = "unclear" if not found else "gross" if "gross" in plain else "amount"
    return AircraftLimit(text, kind, found, plain.startswith("less than"))


class Standing(Struct, frozen=True):
    """Whether a package may go on one kind of aircraft. open_because: what keeps the answer from being given.

    over_lowest: the lowest limit the total of mixed goods is over although the sum of parts allows it; "" where not so.
    """

    aircraft: Aircraft
    allowed: bool
    why: str
    forbidden: bool = False
    open_because: str = ""
    over_lowest: str = ""


def limit_of(content: Content, aircraft: Aircraft) -> AircraftLimit:
    """The entry's limit for one package on one kind of aircraft: of the list, or of special.toml where it has none."""
    if is_radioactive(content):
        return read_limit(radioactive_limit(content, aircraft))
    row = _special(content)
    if row is not None:
        return read_limit(row[aircraft.value])
    return read_limit(content.entry.passenger if aircraft is Aircraft.PASSENGER else content.entry.cargo)


def sources(case: Case) -> tuple[str, ...]:
    """Where the limits of the package's contents were read, each once."""
    found = (RADIOACTIVE_SOURCE if is_radioactive(c) else (_special(c) or _LISTED)["source"] for c in case.contents)
    return tuple(dict.fromkeys(found))


_LISTED = {"source": LIMIT_SOURCE}


def _special(content: Content) -> Mapping[str, str] | None:
    """The limits of a number that the list held has none for."""
    return next((row for row in table("special")["aircraft"] if content.entry.un in row["numbers"]), None)


Part = tuple[Decimal, Amount]


def standing(case: Case, aircraft: Aircraft) -> Standing:
    """Hold the package against one column of limits, by the sum of parts where several goods share it.

    What is forbidden outweighs what is open, and that what is over a limit, whatever the order of the goods.
    """
    found = [_held(content, case, aircraft) for content in case.contents]
    said = {kind: "; ".join(text for k, text, _ in found if k == kind) for kind, _, _ in found}
    if "forbidden" in said:
        return Standing(aircraft, False, said["forbidden"], forbidden=True)
    if "open" in said:
        return Standing(aircraft, False, "", open_because=said["open"])
    if "over" in said:
        return Standing(aircraft, False, said["over"])
    parts = [part for _, _, part in found if part is not None]
    q = sum_of_parts(parts)
    if q > 1:  # of several: one alone is over its limit first
        why = f"the sum of parts of the {aircraft} aircraft limits is {as_text(q)}, more than 1 ({said['within']})"
        return Standing(aircraft, False, why)
    within = f"within the {aircraft} aircraft limits ({said['within']})"
    return Standing(aircraft, True, within, over_lowest=over_lowest(parts))


def _held(content: Content, case: Case, aircraft: Aircraft) -> tuple[str, str, Part | None]:
    """One content against its limit: forbidden, open, over or within; in words; its part of the sum, if it has one."""
    held, name, named = limit_of(content, aircraft), content.number, content.described_as()
    words = f"{aircraft} aircraft"
    match held.kind:
        case "forbidden":
            return "forbidden", f"{named}: forbidden on {words}", None
        case "unclear" if held.text:
            return "open", f"{named}: the {words} limit reads {held.text!r}, which this program does not follow", None
        case "unclear":
            return "open", f"{named}: the list holds no {words} limit", None
        case "unlimited" if too_large := over_inner(content, case, aircraft, ()):
            return "over", too_large, None
        case "unlimited":
            return "within", f"{name}: no limit", None
        case "gross" if case.gross_kg > held.amounts[0].value:
            return "over", f"{case.gross_kg:f} kg gross is over the {words} limit of {held.text} for {name}", None
        case "gross":
            return "within", f"{name}: {case.gross_kg:f} kg gross, limit {held.text}", None
    value, most = amount(content.net)[0], same_kind(held.amounts, content.net)
    if most is None:
        cure = f"the record gives {content.net_text}; write net in {held.amounts[0].unit}"
        return "open", f"{named}: the {words} limit is {held.text} and {cure}", None
    if value > most.value or (held.strict and value == most.value):
        return "over", f"{content.net_text} is over the {words} limit of {held.text} for {name}", None
    if too_large := over_inner(content, case, aircraft, held.amounts):
        return "over", too_large, None
    return "within", f"{name}: {content.net_text}, limit {held.text}", (value, most)


def sum_of_parts(parts: Iterable[Part]) -> Fraction:
    """n1/M1 + n2/M2 + ..., exactly: three thirds are 1 and not a shade more or less."""
    return sum((Fraction(value) / Fraction(most.value) for value, most in parts), start=Fraction(0))


def as_text(q: Fraction) -> str:
    """A sum of parts with two decimals, rounded up, so that what is over 1 shows."""
    value = Decimal(q.numerator) / Decimal(q.denominator)
    return f"{value.quantize(Decimal('0.01'), ROUND_CEILING):f}"


def over_lowest(parts: list[Part]) -> str:
    """ "1 L" where several goods in one unit are together over the lowest of their limits (49 CFR 173.24a(c)(1)(iv)).

    "" where not so. Litres and kilograms cannot be added here: the US text then counts everything in kilograms.
    """
    if len(parts) < 2 or len({most.unit for _, most in parts}) > 1:
        return ""
    lowest = min((most for _, most in parts), key=lambda most: most.value)
    return lowest.text if sum(value for value, _ in parts) > lowest.value else ""
