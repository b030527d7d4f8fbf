"""What the aircraft limits of the list say about one package: passenger, cargo only, or neither.

The limits are columns 9A and 9B of 49 CFR 172.101 (2026), harmonised with the Technical Instructions in most rows, not
all. For several goods in one outer packaging the parts are summed: n1/M1 + n2/M2 + ... may not exceed 1 ("Q", ICAO TI
4;1.1.9, from memory). US law (49 CFR 173.24a(c)(1)(iv)) holds the total against the lowest limit instead: stricter, so
a package that passes the one and not the other is told of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

from marks.case import Case, Content, amount
from marks.reliefs import Amount, amounts, same_kind
from marks.terms import Aircraft

Q_PARAGRAPH = "ICAO TI 4;1.1.9"
LIMIT_SOURCE = "49 CFR 172.101 columns 9A and 9B"


@dataclass(frozen=True, slots=True)
class AircraftLimit:
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


@dataclass(frozen=True, slots=True)
class Standing:
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
    """The entry's limit for one package on one kind of aircraft."""
    return read_limit(content.entry.passenger if aircraft is Aircraft.PASSENGER else content.entry.cargo)


def standing(case: Case, aircraft: Aircraft) -> Standing:
    """Hold the package against one column of limits, by the sum of parts where several goods share it."""
    words = f"{aircraft} aircraft"
    parts: list[Part] = []
    said: list[str] = []

    def still_open(why: str) -> Standing:
        return Standing(aircraft, False, "", open_because=why)

    for content in case.contents:
        held, name = limit_of(content, aircraft), content.number
        match held.kind:
            case "forbidden":
                return Standing(aircraft, False, f"{content.described_as()}: forbidden on {words}", forbidden=True)
            case "unclear":
                reads = f"the {words} limit reads {held.text!r}, which this program does not follow"
                none = f"the list holds no {words} limit"
                return still_open(f"{content.described_as()}: {reads if held.text else none}")
            case "unlimited":
                said.append(f"{name}: no limit")
            case "gross":
                if case.gross_kg > held.amounts[0].value:
                    why = f"{case.gross_kg:f} kg gross is over the {words} limit of {held.text} for {name}"
                    return Standing(aircraft, False, why)
                said.append(f"{name}: {case.gross_kg:f} kg gross, limit {held.text}")
            case _:
                value, most = amount(content.net)[0], same_kind(held.amounts, content.net)
                if most is None:
                    return still_open(
                        f"{content.described_as()}: the {words} limit is {held.text} and the record gives "
                        f"{content.net_text}; write net in {held.amounts[0].unit}"
                    )
                if value > most.value or (held.strict and value == most.value):
                    why = f"{content.net_text} is over the {words} limit of {held.text} for {name}"
                    return Standing(aircraft, False, why)
                said.append(f"{name}: {content.net_text}, limit {held.text}")
                parts.append((value, most))
    q = sum_of_parts(parts)
    if len(parts) > 1 and q > 1:
        why = f"the sum of parts of the {words} limits is {as_text(q)}, more than 1 ({'; '.join(said)})"
        return Standing(aircraft, False, why)
    within = f"within the {words} limits ({'; '.join(said)})"
    return Standing(aircraft, True, within, over_lowest=over_lowest(parts))


Part = tuple[Decimal, Amount]


def sum_of_parts(parts: Iterable[Part]) -> Fraction:
    """n1/M1 + n2/M2 + ..., exactly: three thirds are 1 and not a shade more or less."""
    return sum((Fraction(value) / Fraction(most.value) for value, most in parts), start=Fraction(0))


def as_text(q: Fraction) -> str:
    """A sum of parts with two decimals, rounded up; with as many more as show that it is over 1."""
    value = Decimal(q.numerator) / Decimal(q.denominator)
    text = value.quantize(Decimal("0.01"), ROUND_CEILING)
    return f"{text:f}"


def over_lowest(parts: list[Part]) -> str:
    """ "1 L" where several goods in one unit are together over the lowest of their limits (49 CFR 173.24a(c)(1)(iv)).

    "" where not so. Litres and kilograms cannot be added here: the US text then counts everything in kilograms.
    """
    if len(parts) < 2 or len({most.unit for _, most in parts}) > 1:
        return ""
    lowest = min((most for _, most in parts), key=lambda most: most.value)
    return lowest.text if sum(value for value, _ in parts) > lowest.value else ""
