"""Infectious and biological: the diamond of P650 and P904, addresses and person by air, the least size of the package.

Substances of category B packed by P650 and organisms packed by P904 are free of all other rules (marks.beyond.outside),
so the rules here are always asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.case import Case, Content
from marks.check import check
from marks.outside import DrumSize
from marks.quantity import is_volume, show, to
from marks.requirement import Finding
from marks.rule import EVERY_MODE, Answer, Needs, Spares, caution, refuse, rule
from marks.tables import limit
from marks.terms import Mode

BIOLOGICAL = "3373"
#: What bears a diamond of its own, and what stands beside it: P904 asks for no name (from memory).
DIAMONDS = {BIOLOGICAL: ("UN 3373", "BIOLOGICAL SUBSTANCE, CATEGORY B"), "3245": ("UN 3245",)}
_P620 = ("2814", "2900")
_DIAMOND = {
    Mode.ROAD: "ADR 4.1.4.1 P650, P904",
    Mode.SEA: "IMDG 4.1.4.1 P650, P904",
    Mode.AIR: "ICAO TI packing instructions 650, 959",
}
_BY_AIR = {Mode.AIR: "ICAO TI packing instruction 650"}


def _of(case: Case, *numbers: str) -> tuple[Content, ...]:
    return tuple(content for content in case.contents if content.entry.un in numbers)


def _biological_or_infectious(case: Case) -> bool:
    return bool(_of(case, *DIAMONDS)) or any(content.entry.division == "6.2" for content in case.contents)


def _has_biological(case: Case) -> bool:
    return bool(_of(case, BIOLOGICAL))


@rule("biological-substance", cite=_DIAMOND, concerns=_biological_or_infectious, always=True)
def diamond(case: Case) -> Iterator[Answer]:
    """A square on its point of 50 mm with the number in it, the name beside it in letters of 6 mm (from memory)."""
    for content in case.contents:
        if content.entry.division == "6.2" and content.entry.un not in DIAMONDS:
            yield Spares(f"{content.described_as()}: bears label 6.2; the diamond is for category B, packed by P650")
    for content in _of(case, *DIAMONDS):
        instruction = "P650" if content.entry.un == BIOLOGICAL else "P904"
        yield Needs(
            f"{content.described_as()}: packed by {instruction}",
            words=DIAMONDS[content.entry.un],
            group="hazard",
            goods=(content.index,),
        )
        if content.entry.un == BIOLOGICAL:
            yield from _room(content, case)
            if case.mode is Mode.AIR:
                yield from _quantity(content, case)
    if 0 < len(_of(case, *DIAMONDS)) < len(case.contents):
        yield caution(
            "biological-with-others",
            "other dangerous goods share the package: beside such substances only up to 30 mL of classes 3, 8 and 9 in "
            "each primary receptacle may be, where they keep it alive or undo its danger (from memory)",
            _DIAMOND[case.mode],
        )


def _room(content: Content, case: Case) -> Iterator[Finding]:
    """One face of at least 100 mm x 100 mm."""
    least = limit("infectious", "least_face", case.on, "special")
    if sorted(_sides(case))[-2] < least.value:
        yield refuse(
            "biological-face-small",
            f"{content.described_as()}: no face of the package is {least.value} mm x {least.text}; take a larger outer "
            "packaging",
            least.paragraph(case.mode),
        )


def _sides(case: Case) -> tuple[Decimal, ...]:
    """The package's outer lengths in mm; those of a round one as of the box around it."""
    size = case.package.size
    assert size is not None  # the record is refused otherwise
    lengths = (
        (size.diameter, size.diameter, size.height)
        if isinstance(size, DrumSize)
        else (size.length, size.width, size.height)
    )
    return tuple(to(length, "mm") for length in lengths)


def _quantity(content: Content, case: Case) -> Iterator[Finding]:
    """By air 1 L in a primary receptacle of liquid, 4 L or 4 kg in a package."""
    inner, liquid = content.goods.inner, is_volume(content.net)
    primary = limit("infectious", "primary_air", case.on, "special")
    if inner is not None and is_volume(inner.holds) and to(inner.holds, "L") > primary.value:
        yield refuse(
            "biological-primary-over",
            f"{content.described_as()}: {show(inner.holds)} in a primary receptacle, by air {primary.text} is the "
            "most; use smaller ones",
            primary.paragraph(case.mode),
        )
    most = limit("infectious", "package_air" if liquid else "package_air_solid", case.on, "special")
    if to(content.net, most.unit) > most.value:
        yield refuse(
            "biological-package-over",
            f"{content.described_as()}: {content.net_text} in the package, by air {most.text} is the most (but for "
            "body parts, organs and whole bodies, from memory); put less into each package",
            most.paragraph(case.mode),
        )


@rule("shipper", cite=_BY_AIR, concerns=_has_biological, always=True)
def shipper_of_biological(case: Case) -> Iterator[Answer]:
    """By air the addresses stand on a package of category B, free of other rules though it is (from memory)."""
    party = case.record.shipper
    words = (party.name, *party.address, party.country_name.upper())
    yield Needs("UN 3373 by air: name and address of the shipper", words=words, group="address")


@rule("consignee", cite=_BY_AIR, concerns=_has_biological, always=True)
def consignee_of_biological(case: Case) -> Iterator[Answer]:
    """The same of the consignee."""
    party = case.record.consignee
    words = (party.name, *party.address, party.country_name.upper())
    yield Needs("UN 3373 by air: name and address of the consignee", words=words, group="address")


@rule("responsible-person", cite=_BY_AIR, concerns=_has_biological, always=True)
def person_for_biological(case: Case) -> Iterator[Answer]:
    """By air a responsible person stands on the package or on a document with it (from memory)."""
    person = case.record.responsible_person
    if person is None:
        yield caution(
            "responsible-person-on-paper",
            "UN 3373 by air: name, address and telephone number of a responsible person stand on a document or on the "
            "package, and the record names none; write responsible_person, or put it on the air waybill",
            _BY_AIR[Mode.AIR],
        )
        return
    yield Needs(
        "UN 3373 by air: a responsible person on the package or on a document",
        words=("Responsible person", person.name, person.phone),
    )


@check(modes=EVERY_MODE, concerns=lambda case: bool(_of(case, *_P620)))
def least_size(case: Case) -> Iterator[Finding]:
    """A package by P620 is nowhere smaller than 100 mm (from memory)."""
    least = limit("infectious", "least_side", case.on, "special")
    if min(_sides(case)) < least.value:
        yield refuse(
            "infectious-package-small",
            f"the package is {min(_sides(case)).normalize():f} mm at its smallest; for infectious substances it is at "
            f"least {least.text}",
            least.paragraph(case.mode),
        )
