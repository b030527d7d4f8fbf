"""Cold: the words on a package cooled with dry ice or another coolant, and what such a package shows by air.

By road and sea a coolant is marked by name with AS COOLANT (5.5.3.4 of ADR and the IMDG Code, from memory); by air it
is goods of its own entry: number, name, label and net mass (ICAO TI packing instruction 954, from memory; 49 CFR
173.217(c)(1)). All these rules are always asked: the coolant stands beside goods of any kind.
"""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, amount
from marks.cold import DRY_ICE, coolant, has_coolant, labels, limit_by_air, refrigerated
from marks.goods.lookup import Entry
from marks.lettering import lettering
from marks.quantity import show
from marks.reliefs import same_kind
from marks.requirement import Where
from marks.rule import Answer, Needs, Spares, caution, note, refuse, rule
from marks.terms import Aircraft, Mode

_WORDS = {Mode.ROAD: "ADR 5.5.3.4.1", Mode.SEA: "IMDG 5.5.3.4.1"}
_AIR = {Mode.AIR: "ICAO TI packing instruction 954"}
_ARROWS = {Mode.ROAD: "ADR 5.2.1.10.1", Mode.SEA: "IMDG 5.2.1.7.1", Mode.AIR: "ICAO TI 5;3.2.12"}
_VENTED = {Mode.ROAD: "ADR 5.5.3.3", Mode.SEA: "IMDG 5.5.3.3", Mode.AIR: "49 CFR 173.217(a)"}


def _cools(case: Case) -> str:
    assert case.package.coolant is not None  # every rule here concerns such packages alone
    return show(case.package.coolant.mass)


@rule(
    "cooling-agent",
    cite=_WORDS,
    elsewhere="by air a coolant is marked and labelled as goods of its own entry",
    concerns=has_coolant,
    always=True,
)
def as_coolant(case: Case) -> Iterator[Answer]:
    """CARBON DIOXIDE, SOLID AS COOLANT, or the name of another coolant so."""
    entry = coolant(case)
    if entry is None:
        yield _unknown(case)
        return
    yield Needs(f"the package is cooled with {_cools(case)} of {entry.number}", words=(f"{entry.name} AS COOLANT",))
    yield note(
        "coolant-vents",
        "the packaging lets the gas of its coolant out; vehicles and containers that are not well aired bear a warning "
        "mark of their own (from memory)",
        _VENTED[case.mode],
        _WORDS[case.mode],
    )


def _unknown(case: Case) -> Answer:
    assert case.package.coolant is not None
    return refuse(
        "coolant-unknown",
        f"the package is cooled with UN {case.package.coolant.un}, of which the list has no one entry; write the "
        "number of the coolant, 1845 for dry ice",
        (_WORDS | _AIR)[case.mode],
    )


@rule("un-number", cite=_AIR, concerns=has_coolant, always=True)
def number_of_the_coolant(case: Case) -> Iterator[Answer]:
    """By air the coolant's own number stands on the package, in the letters that the package asks for."""
    entry = coolant(case)
    if entry is None:
        yield _unknown(case)
        return
    measures, why = lettering(case)
    yield Needs(f"the number of the coolant; {why}", words=(entry.number,), group="hazard", measures=measures)


@rule("proper-shipping-name", cite=_AIR, concerns=has_coolant, always=True)
def name_of_the_coolant(case: Case) -> Iterator[Answer]:
    """And its name, to which AS COOLANT may but need not be added by air (from memory)."""
    if entry := coolant(case):
        yield Needs("the name of the coolant", words=(entry.name,), group="hazard")


@rule("net-quantity", cite=_AIR, concerns=has_coolant, always=True)
def mass_of_the_coolant(case: Case) -> Iterator[Answer]:
    """By air the net mass of dry ice always stands on the package (49 CFR 173.217(c)(1))."""
    if entry := coolant(case):
        words = (f"Net quantity of {entry.number} {_cools(case)}",)
        yield Needs("the net mass of the coolant stands on the package", words=words, group="hazard")


@rule("hazard-label", cite=_AIR, concerns=has_coolant, always=True)
def label_of_the_coolant(case: Case) -> Iterator[Answer]:
    """And its labels: class 9 for dry ice, by the UN Model Regulations."""
    if entry := coolant(case):
        for label in labels(entry):
            yield Needs(f"the package is cooled with {entry.number}", variant=label, group="hazard")


@rule("cargo-aircraft-only", cite=_AIR, concerns=has_coolant, always=True)
def aircraft_of_the_coolant(case: Case) -> Iterator[Answer]:
    """Columns 9A and 9B of 49 CFR 172.101 hold the mass of the coolant too: 200 kg of dry ice on either aircraft."""
    entry = coolant(case)
    if entry is None:
        return
    within = [aircraft for aircraft in Aircraft if _within(entry, case, aircraft)]
    said = f"{_cools(case)} of {entry.number} as coolant"
    if Aircraft.CARGO not in within:
        yield refuse(
            "coolant-over-limit",
            f"{said}; the limit is {limit_by_air(entry, Aircraft.CARGO).text or 'not held'}; put less into a package",
            "49 CFR 172.101 columns 9A and 9B",
        )
    elif Aircraft.PASSENGER not in within:
        yield Needs(f"{said}, over what a passenger aircraft may carry", group="hazard")
    else:
        yield Spares(f"{said}, within the limits of both aircraft")


def _within(entry: Entry, case: Case, aircraft: Aircraft) -> bool:
    assert case.package.coolant is not None
    held, mass = limit_by_air(entry, aircraft), case.package.coolant.mass
    most = same_kind(held.amounts, mass)
    return held.kind == "unlimited" or (most is not None and amount(mass)[0] <= most.value)


def _with_cold_gas(case: Case) -> bool:
    entry = coolant(case)
    return entry is not None and refrigerated(entry)


@rule("cryogenic-liquid", cite={Mode.AIR: "ICAO TI 5;3.2"}, concerns=_with_cold_gas, always=True)
def cryogenic_coolant(case: Case) -> Iterator[Answer]:
    """The handling label of refrigerated liquefied gases, for a coolant too (from memory)."""
    yield Needs("a refrigerated liquefied gas as coolant", group="hazard")


@rule("orientation-arrows", cite=_ARROWS, concerns=_with_cold_gas, always=True)
def upright_coolant(case: Case) -> Iterator[Answer]:
    """Receptacles of refrigerated liquefied gas stay upright (49 CFR 172.312(a): open cryogenic receptacles)."""
    yield Needs("a refrigerated liquefied gas as coolant", where=Where.TWO_OPPOSITE)


def _has_dry_ice(case: Case) -> bool:
    return any(content.entry.un == DRY_ICE for content in case.contents)


@rule("proper-shipping-name", cite={Mode.ROAD: "ADR 5.5.3.4.1"}, concerns=_has_dry_ice, always=True)
def dry_ice_as_goods(case: Case) -> Iterator[Answer]:
    """By road dry ice is free of ADR but for 5.5.3, which asks for its name on the package (from memory)."""
    for content in case.contents:
        if content.entry.un == DRY_ICE:
            yield Needs(
                "dry ice, free of ADR but for the rules against asphyxiation (from memory)",
                words=(content.name,),
                goods=(content.index,),
            )
            yield caution(
                "dry-ice-vehicle",
                f"{content.described_as()}: vehicles and containers that are not well aired bear a warning mark and "
                "are aired before anyone enters; the document says so; this program does not decide them",
                "ADR 5.5.3.6",
            )
