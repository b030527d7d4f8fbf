"""Which aircraft: the cargo-aircraft-only label, and what may not fly at all."""

from __future__ import annotations

from collections.abc import Iterator

from marks.aircraft import LIMIT_SOURCE, Q_PARAGRAPH, Standing, sources, standing
from marks.case import Case
from marks.rule import EVERY_MODE, Answer, Needs, Spares, caution, note, refuse, rule
from marks.terms import Aircraft, Mode, ShipAs


@rule(
    "cargo-aircraft-only",
    cite={Mode.AIR: "ICAO TI 5;3.2.9"},
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere="a label of the air rules; other modes do not ask for it",
)
def cargo_aircraft_only(case: Case) -> Iterator[Answer]:
    """Over the passenger limit, or forbidden on passenger aircraft, and within the cargo limit: the label."""
    passenger, cargo = standing(case, Aircraft.PASSENGER), standing(case, Aircraft.CARGO)
    also = sources(case) if len(case.contents) == 1 else (*sources(case), Q_PARAGRAPH)
    for one in (passenger, cargo):
        if one.open_because:
            yield refuse("aircraft-limit-open", f"{one.open_because}; without it the aircraft cannot be decided", *also)
            return
    if case.relief is ShipAs.LIMITED:
        yield from _limited(passenger)
    elif passenger.allowed:
        yield from _on_passenger(case, passenger, also)
    elif cargo.allowed:
        yield from _on_cargo_only(case, passenger, cargo, also)
    elif cargo.forbidden:
        yield refuse("air-forbidden", f"{cargo.why}; send it by another mode", *also)
    else:
        yield refuse("air-over-limit", f"{cargo.why}; put less into each package", *also)


def _limited(passenger: Standing) -> Iterator[Answer]:
    """A limited quantity by air has to be allowed on passenger aircraft; its own limits stand in its own rule."""
    if passenger.allowed:
        yield Spares("a limited quantity by air is within the passenger limits", cite=("ICAO TI 3;4",))
    else:
        yield refuse(
            "limited-not-by-air",
            f"{passenger.why}; a limited quantity by air must be allowed on passenger aircraft; ship it in full",
            "ICAO TI 3;4.1",
            LIMIT_SOURCE,
        )


def _on_passenger(case: Case, passenger: Standing, also: tuple[str, ...]) -> Iterator[Answer]:
    yield Spares(passenger.why, also=also)
    yield from _lowest(passenger)
    if case.record.aircraft is Aircraft.CARGO:
        yield caution(
            "cargo-booked-within-passenger",
            f"a cargo aircraft is booked, yet the package is {passenger.why}; the label must not be used to say what "
            "is booked",
            *also,
        )
    instructions = [
        f"{content.number}: {instruction}"
        for content in case.contents
        if (instruction := content.goods.packing_instruction.get(Mode.AIR))
    ]
    if instructions:
        yield note(
            "packing-instruction-not-followed",
            f"packing instruction {', '.join(instructions)} is not followed by this program; what is packed by an "
            "instruction for cargo aircraft alone bears the cargo aircraft only label whatever its quantity",
            "ICAO TI 5;3.2.9",
        )


def _on_cargo_only(case: Case, passenger: Standing, cargo: Standing, also: tuple[str, ...]) -> Iterator[Answer]:
    if case.record.aircraft is Aircraft.PASSENGER:
        yield refuse(
            "booked-on-passenger",
            f"{passenger.why}, yet a passenger aircraft is booked; book a cargo aircraft or put less into each package",
            *also,
        )
    yield Needs(f"{passenger.why}; {cargo.why}", group="hazard", also=also)
    yield from _lowest(cargo)


def _lowest(standing: Standing) -> Iterator[Answer]:
    """US law counts mixed goods otherwise than the Technical Instructions; who flies under it has to know."""
    if standing.over_lowest:
        yield caution(
            "us-lowest-limit",
            f"together the goods are over {standing.over_lowest}, the lowest of their {standing.aircraft} aircraft "
            "limits: allowed by the sum of parts, not by US law; put less into a package that flies under US law",
            "49 CFR 173.24a(c)(1)(iv)",
            Q_PARAGRAPH,
        )
