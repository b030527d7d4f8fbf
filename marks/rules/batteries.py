"""Batteries: the battery mark, its numbers and days; words on damaged ones and on those for disposal; charge by air.

Small cells and batteries are free of the other rules (``marks.batteries.relief``), so these rules are always asked.
"""

from __future__ import annotations

from collections.abc import Iterator

from marks import batteries
from marks.case import Case, Content, listed
from marks.check import check
from marks.quantity import is_mass, plain
from marks.requirement import Finding
from marks.rule import Answer, Needs, Spares, caution, note, refuse, rule
from marks.tables import dated
from marks.terms import Mode

_MARK = {Mode.ROAD: "ADR 5.2.1.9", Mode.SEA: "IMDG 5.2.1.10", Mode.AIR: "ICAO TI 5;2.4.16"}
_SMALL = {Mode.ROAD: "ADR 3.3.1 SP 188", Mode.SEA: "IMDG 3.3.1 SP 188"}
_SURFACE_LABEL = {Mode.ROAD: "ADR 3.3.1 SP 230", Mode.SEA: "IMDG 3.3.1 SP 230"}
_DAMAGED = {Mode.ROAD: "ADR 3.3.1 SP 376", Mode.SEA: "IMDG 3.3.1 SP 376"}
_WASTE = {Mode.ROAD: "ADR 3.3.1 SP 377", Mode.SEA: "IMDG 3.3.1 SP 377"}


def _has_batteries(case: Case) -> bool:
    return bool(batteries.of(case.contents))


@rule("battery", cite=_MARK, concerns=_has_batteries, always=True)
def battery_mark(case: Case) -> Iterator[Answer]:
    """On small cells and batteries: alone in place of number, name and label; by air and packed alone beside them.

    One mark shows every number (49 CFR 173.185(c)(3)(i)). Until 2022 it bore a telephone number.
    """
    contents = batteries.of(case.contents)
    for content in contents:
        yield from _record_agrees(content, case)
        if case.mode is Mode.AIR:
            yield from _charge(content, case)
    free = tuple(content for content in contents if batteries.relief(content, case))
    beside_label = tuple(content for content in contents if batteries.section_one_b(content, case))
    for content in contents:
        if content not in (*free, *beside_label):
            yield Spares(_why_in_full(content, case), cite=_in_full(content, case))
    why_not = batteries.unmarked(free, case) if free and not beside_label else None
    if why_not:
        yield Spares(why_not, cite=_relieved(free[0], case))
    elif free or beside_label:
        yield from _mark(free, beside_label, case)


def _relieved(content: Content, case: Case) -> tuple[str, ...]:
    return (_SMALL.get(case.mode) or batteries.instruction(content), "49 CFR 173.185(c)(3)")


def _in_full(content: Content, case: Case) -> tuple[str, ...]:
    return (_SURFACE_LABEL.get(case.mode) or batteries.instruction(content),)


def _why_in_full(content: Content, case: Case) -> str:
    """Why the label 9A stands there and no battery mark."""
    named, held = content.described_as(), batteries.small(content, case.on)
    if not batteries.sound(content):
        return f"{named}: not sound, so no relief of small batteries: label 9A"
    if held.held is None:
        return f"{named}: {held.why}; taken as fully regulated, label 9A"
    if not held.held:
        return f"{named}: {held.why}: fully regulated, label 9A"
    if case.mode is not Mode.AIR:
        most = batteries.figure("gross", case.on)
        return f"{named}: {held.why}, but {case.gross_kg:f} kg gross is over {most.text}: fully regulated, label 9A"
    if not is_mass(content.net):
        return f"{named}: the net mass of the batteries is not given as a mass: fully regulated, label 9A"
    return f"{named}: {held.why}, but {content.net_text} net is over what the relief by air allows: label 9A"


def _mark(free: tuple[Content, ...], beside_label: tuple[Content, ...], case: Case) -> Iterator[Answer]:
    contents = sorted((*free, *beside_label), key=lambda content: content.index)
    words = tuple(dict.fromkeys(content.number for content in contents))
    if batteries.bears_phone(case.on):
        phone = case.record.emergency_phone or case.record.shipper.phone
        if phone is None:
            yield refuse(
                "battery-phone-missing",
                f"on {case.on} the battery mark bears a telephone number (until 2022, from memory), and the record has "
                "none; write emergency_phone",
                _MARK[case.mode],
            )
        words = (*words, phone) if phone else words
    elif last := next(iter(dated("special", "battery_phone_used_up", case.on)), None):
        yield note(
            "battery-phone-used-up",
            f"battery marks with a telephone number may be used up until {last['until']} (from memory)",
            last["cite"][case.mode.value],
        )
    reasons = [f"{content.described_as()}: {batteries.small(content, case.on).why}" for content in contents]
    also = tuple(dict.fromkeys(paragraph for content in contents for paragraph in _relieved(content, case)))
    label = "; section IB: together with label 9A" if beside_label else ""
    yield Needs(f"{'; '.join(reasons)}{label}", words=words, goods=case.indices(contents), also=also)
    yield note(
        "small-battery-conditions",
        "tested by 38.3, against short circuit, in a strong outer packaging that stands a drop of 1.2 m: the other "
        "conditions of small cells and batteries are the shipper's to prove (from memory)",
        *also[:1],
    )
    if beside_label and any(True for _ in dated("special", "battery_alone_section_two", case.on)):
        yield note(
            "battery-section-two",
            "up to 31 March 2022 a few small cells or batteries alone could go by section II with the battery mark "
            "alone (from memory); this program marks them by section IB, which asks for more",
            also[0],
        )


def _record_agrees(content: Content, case: Case) -> Iterator[Finding]:
    """The arrangement of the record and the entry's name must not contradict; what is not said is taken in full."""
    said, named = content.goods.batteries, content.described_as()
    if said is None or batteries.small(content, case.on).held is None:
        yield caution(
            "battery-size-open",
            f"{named}: {batteries.small(content, case.on).why}; taken as fully regulated",
            _SMALL.get(case.mode) or batteries.instruction(content),
        )
    if said is not None and said.arrangement != batteries.arrangement(content):
        yield refuse(
            "arrangement-contradicts",
            f"{named}: the record says {said.arrangement}, the entry is for batteries "
            f"{batteries.arrangement(content)}; choose the entry, or its name, for {said.arrangement}",
            _MARK[case.mode],
        )


def _charge(content: Content, case: Case) -> Iterator[Finding]:
    """By air ion batteries are hardly charged: 30 % (from memory)."""
    most, said = batteries.most_charge(content, case.on), content.goods.batteries
    if most is None:
        return
    named, paragraph = content.described_as(), batteries.instruction(content)
    if said is None or said.state_of_charge is None:
        yield refuse(
            "charge-missing",
            f"{named}: by air at most {plain(most)} % charged (from memory), and the record does not say; write "
            f"state_of_charge: {plain(most)} under batteries, as it is",
            paragraph,
        )
    elif said.state_of_charge > most:
        yield refuse(
            "charge-over",
            f"{named}: {plain(said.state_of_charge)} % charged, by air {plain(most)} % is the most without an approval "
            "(from memory); discharge them",
            paragraph,
        )


def _unsound(case: Case) -> tuple[Content, ...]:
    return tuple(content for content in batteries.of(case.contents) if not batteries.sound(content))


@rule(
    "battery-condition",
    cite=_DAMAGED,
    elsewhere="batteries that are not sound do not fly",
    concerns=lambda case: bool(_unsound(case)),
)
def words_on_unsound(case: Case) -> Iterator[Answer]:
    """DAMAGED/DEFECTIVE ... BATTERIES, ... FOR DISPOSAL or FOR RECYCLING (from memory; 49 CFR 173.185(f)(4))."""
    for content in _unsound(case):
        assert content.goods.batteries is not None  # what is not described is taken as sound
        condition, kind = content.goods.batteries.condition, batteries.kind(content)
        if condition == "damaged":
            words, paragraph = f"DAMAGED/DEFECTIVE {kind} BATTERIES", _DAMAGED[case.mode]
            yield caution(
                "damaged-batteries",
                f"{content.described_as()}: packed by P908; those that may fall apart, burn or gas dangerously on the "
                "way go by P911 or an approval (from memory)",
                paragraph,
            )
        else:
            words, paragraph = f"{kind.split()[0]} BATTERIES FOR {condition.upper()}", _WASTE[case.mode]
        yield Needs(f"{content.described_as()}: {condition}", words=(words,), goods=(content.index,), cite=(paragraph,))


@check(modes=(Mode.AIR,), concerns=lambda case: bool(_unsound(case)))
def unsound_by_air(case: Case) -> Iterator[Finding]:
    """Damaged batteries do not fly, nor those for disposal or recycling without an approval (from memory)."""
    named = listed(content.described_as() for content in _unsound(case))
    yield refuse(
        "unsound-batteries-by-air",
        f"{named}: damaged or defective, or for disposal or recycling: not by air; send them by road or sea",
        "ICAO TI 3;3 A154, A183",
        "49 CFR 173.185(f)",
    )


def _vehicles(case: Case) -> tuple[Content, ...]:
    return tuple(content for content in case.contents if content.entry.un in batteries.VEHICLES)


@rule("battery", cite=_MARK, concerns=lambda case: bool(_vehicles(case)), always=True)
def vehicles(case: Case) -> Iterator[Answer]:
    """No battery mark on vehicles; by air their ion batteries are hardly charged from 2026 (from memory)."""
    for content in _vehicles(case):
        yield Spares(f"{content.described_as()}: a vehicle; the battery mark is for small cells and batteries")
        if case.mode is Mode.AIR:
            yield from _vehicle_charge(content, case)
        apart = next(iter(dated("special", "vehicles_apart", case.on)), None)
        if content.entry.un == "3171" and apart:
            yield caution(
                "vehicle-entry",
                f"UN 3171: from {apart['from']} vehicles powered by lithium ion, lithium metal or sodium ion batteries "
                "are UN 3556, 3557 and 3558 (from memory); UN 3171 stays for wet, sodium metal and sodium alloy ones",
                apart["cite"][case.mode.value],
            )


def _vehicle_charge(content: Content, case: Case) -> Iterator[Finding]:
    most, said = batteries.most_charge(content, case.on), content.goods.batteries
    if most is None:
        return
    named, paragraph = content.described_as(), "ICAO TI packing instruction 952"
    if said is None or said.state_of_charge is None:
        yield caution(
            "vehicle-charge-open",
            f"{named}: with batteries over 100 Wh at most {plain(most)} % charged by air (from memory), and the record "
            "does not say; write batteries with energy_each and state_of_charge",
            paragraph,
        )
    elif said.state_of_charge > most:
        yield refuse(
            "charge-over",
            f"{named}: {plain(said.state_of_charge)} % charged, by air {plain(most)} % is the most without an approval "
            "(from memory); discharge it",
            paragraph,
        )
