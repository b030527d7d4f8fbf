"""What keeps a package cold: dry ice or another coolant beside the goods. No mark is known here."""

from __future__ import annotations

from marks.aircraft import AircraftLimit, read_limit
from marks.case import Case
from marks.errors import EntryOpen, UnknownEntry
from marks.goods.lookup import Entry, choose
from marks.terms import Aircraft

DRY_ICE = "1845"
#: Dry ice has two names; as a coolant it goes by the first (ADR 5.5.3.4.1, from memory).
DRY_ICE_NAME = "CARBON DIOXIDE, SOLID"


def has_coolant(case: Case) -> bool:
    """Whether the record says what keeps the package cold."""
    return case.package.coolant is not None


def coolant(case: Case) -> Entry | None:
    """The entry of the package's coolant; None where the list has no one entry of that number."""
    if case.package.coolant is None:
        return None
    number = case.package.coolant.un
    try:
        return choose(number, DRY_ICE_NAME if number == DRY_ICE else None)
    except (UnknownEntry, EntryOpen):
        return None


def refrigerated(entry: Entry) -> bool:
    """A refrigerated liquefied gas: its classification code begins with 3 (ADR 2.2.2.1.3)."""
    return entry.hazard_class == "2" and entry.classification_code.startswith("3")


def labels(entry: Entry) -> tuple[str, ...]:
    """Its hazard labels by the UN Model Regulations, as the air takes them."""
    return entry.model_labels or entry.labels


def limit_by_air(entry: Entry, aircraft: Aircraft) -> AircraftLimit:
    """How much of it one package may hold on one kind of aircraft."""
    return read_limit(entry.passenger if aircraft is Aircraft.PASSENGER else entry.cargo)
