"""Which aircraft: the cargo-aircraft-only label, and what may not fly at all."""

from __future__ import annotations

from collections.abc import Iterator

from marks.aircraft import LIMIT_SOURCE, Q_PARAGRAPH, standing
from marks.case import Case
from marks.rule import EVERY_MODE, Answer, Needs, Spares, caution, refuse, rule
from marks.terms import Aircraft, Mode, ShipAs


@rule(
    "cargo-aircraft-only",
    cite={Mode.AIR: "ICAO TI 5;3.2.9"},
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere="a label of the air rules; other modes do not ask for it",
)
def cargo_aircraft_only(case: Case) -> Iterator[Answer]:
    """Over the passenger limit, or forbidden on passenger aircraft, and within the cargo limit: the label, beside the hazard labels."""
    limited = case.relief is ShipAs.LIMITED
    passenger, cargo = standing(case, Aircraft.PASSENGER), standing(case, Aircraft.CARGO)
    booked = case.record.aircraft
    also = (LIMIT_SOURCE,) if len(case.contents) == 1 else (LIMIT_SOURCE, Q_PARAGRAPH)
    for one in (passenger, cargo):
        if one.open_because:
            yield refuse("aircraft-limit-open", f"{one.open_because}; without it the aircraft cannot be decided", *also)
            return
    if limited:
        if passenger.forbidden:
            yield refuse(
                "limited-not-by-air",
                f"{passenger.why}; a limited quantity by air must be allowed on passenger aircraft",
                "ICAO TI 3;4.1",
                LIMIT_SOURCE,
            )
        else:
            yield Spares("a limited quantity by air is always within the passenger limits", cite=("ICAO TI 3;4",))
        return
    if not cargo.allowed and not passenger.allowed:
        code = "air-forbidden" if cargo.forbidden else "air-over-limit"
        cure = "send it by another mode" if cargo.forbidden else "put less into each package"
        yield refuse(code, f"{cargo.why}; {cure}", *also)
        return
    if not passenger.allowed:
        if booked is Aircraft.PASSENGER:
            yield refuse(
                "booked-on-passenger",
                f"{passenger.why}, yet a passenger aircraft is booked; book a cargo aircraft or put less into each package",
                *also,
            )
        yield Needs(f"{passenger.why}; {cargo.why}", group="hazard", also=also)
        return
    if booked is Aircraft.CARGO:
        yield caution(
            "cargo-booked-within-passenger",
            f"a cargo aircraft is booked, yet the package is {passenger.why}; the label must not be used to say what is booked",
            *also,
        )
    yield Spares(passenger.why, also=also)
