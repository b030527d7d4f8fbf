"""Who and what: UN number, proper shipping name, shipper and consignee, net and gross quantity, responsible person."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content, listed
from marks.lettering import lettering
from marks.quantity import show
from marks.reliefs import by_gross
from marks.rule import EVERY_MODE, SURFACE, Answer, Needs, Spares, caution, refuse, rule
from marks.terms import Mode, PackageForm, ShipAs


@rule(
    "un-number",
    cite={Mode.ROAD: "ADR 5.2.1.1", Mode.SEA: "IMDG 5.2.1.1", Mode.AIR: "ICAO TI 5;2.4.1"},
    spared={ShipAs.LIMITED: SURFACE, ShipAs.EXCEPTED: EVERY_MODE},
)
def number_of_every_entry(case: Case) -> Iterator[Answer]:
    """The UN number of every entry, preceded by its letters, each number once."""
    measures, why = lettering(case)
    seen: dict[str, list[int]] = {}
    for content in case.contents:
        seen.setdefault(content.number, []).append(content.index)
    for number, indices in seen.items():
        yield Needs(
            f"the number of the entry; {why}", words=(number,), group="hazard", goods=tuple(indices), measures=measures
        )


@rule(
    "proper-shipping-name",
    cite={Mode.ROAD: "ADR 5.2.1", Mode.SEA: "IMDG 5.2.1.1", Mode.AIR: "ICAO TI 5;2.4.1"},
    spared={ShipAs.LIMITED: SURFACE, ShipAs.EXCEPTED: EVERY_MODE},
)
def name_of_every_entry(case: Case) -> Iterator[Answer]:
    """The proper shipping name, by sea and air always; by road only where class 1 or 7, gas or aerosol asks for it."""
    for content in case.contents:
        technical = " with the technical name" if content.goods.technical_name else ""
        if case.mode is not Mode.ROAD:
            yield _name(content, f"the name of the entry{technical}")
            continue
        why, paragraph = _named_by_road(content, case)
        if not why:
            yield Spares(
                f"{content.described_as()}: by road only goods of classes 1 and 7, refillable receptacles of gas and "
                "aerosols bear the name",
                cite=("ADR 5.2.1.5", "ADR 5.2.1.6"),
            )
            continue
        yield _name(content, f"{why}{technical}", paragraph)
        if paragraph == "ADR 5.2.1.6":
            yield from _gas_receptacle(content, case)


def _name(content: Content, why: str, *cite: str) -> Needs:
    """With the technical name; not of infectious substances (SP 318, from memory; 49 CFR 172.301(b) forbids it)."""
    words = content.name if content.entry.division == "6.2" else content.marked_name
    return Needs(why, words=(words,), group="hazard", goods=(content.index,), cite=cite)


def _named_by_road(content: Content, case: Case) -> tuple[str, str]:
    """Why the name is marked by road, and the paragraph; ("", "") where it is not."""
    hazard = content.entry.hazard_class
    if hazard == "1":
        return "goods of class 1 bear their name on the road", "ADR 5.2.1.5"
    if hazard == "7":
        return "radioactive material bears its name on the road", "ADR 5.2.1.7.2"
    if "625" in content.entry.road_provisions:
        return "packages of aerosols bear UN 1950 AEROSOLS on the road (from memory)", "ADR 3.3.1 SP 625"
    if hazard == "2" and case.package.refillable:
        return "refillable receptacles of gas bear the gas's name on the road", "ADR 5.2.1.6"
    if hazard == "2" and case.package.form_derived is PackageForm.CYLINDER and case.package.refillable is None:
        return "the record does not say that the receptacle is not refillable", "ADR 5.2.1.6"
    return "", ""


def _gas_receptacle(content: Content, case: Case) -> Iterator[Answer]:
    if case.package.refillable is None:
        yield caution(
            "refillable-not-stated",
            f"{content.described_as()}: a refillable receptacle bears the name on the road; say refillable: true or "
            "false",
            "ADR 5.2.1.6",
        )
    yield caution(
        "gas-receptacle-marks",
        f"{content.described_as()}: a refillable receptacle also shows filling masses and the date of its next "
        "inspection (from memory); this program does not print them",
        "ADR 5.2.1.6",
    )


_ADDRESS_CITE = {Mode.AIR: "ICAO TI 5;2.4.2"}
_ADDRESS_ELSEWHERE = "only by air does a package of this kind bear both addresses"


@rule("shipper", cite=_ADDRESS_CITE, spared={ShipAs.EXCEPTED: EVERY_MODE}, elsewhere=_ADDRESS_ELSEWHERE)
def shipper_address(case: Case) -> Iterator[Answer]:
    """By air the shipper's name and full address, on the face of the proper shipping name when its size allows."""
    party = case.record.shipper
    words = (party.name, *party.address, party.country_name.upper())
    yield Needs("name and full address of the shipper", words=words, group="address")


@rule("consignee", cite=_ADDRESS_CITE, spared={ShipAs.EXCEPTED: EVERY_MODE}, elsewhere=_ADDRESS_ELSEWHERE)
def consignee_address(case: Case) -> Iterator[Answer]:
    """By air the consignee's name and full address stand on the package."""
    party = case.record.consignee
    words = (party.name, *party.address, party.country_name.upper())
    yield Needs("name and full address of the consignee", words=words, group="address")


_ALIKE = "the consignment is one package, or packages all identical (from memory)"


def _always_shows_net(content: Content) -> bool:
    """Explosives and dry ice show their net quantity whatever else is in the consignment (from memory)."""
    return content.entry.hazard_class == "1" or content.entry.un == "1845"


@rule(
    "net-quantity",
    cite={Mode.AIR: "ICAO TI 5;2.4.3"},
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere="only by air does the package show its net quantity",
)
def net_quantity(case: Case) -> Iterator[Answer]:
    """The net quantity of every entry, when the consignment has packages that differ; explosives and dry ice always.

    From memory: a consignment of one package, or of identical packages, need not show it, and where the limit is
    written as a gross mass the gross mass stands in its place.
    """
    shown = [content for content in case.contents if not by_gross(content, case.relief)]
    always = [content for content in shown if _always_shows_net(content)]
    differ = len(case.record.packages) > 1
    if not shown:
        yield Spares("the limit of the entry is written as a gross mass: the gross mass stands in its place")
        return
    if not differ and not always:
        yield Spares(_ALIKE)
        return
    always_shown = f"{listed(content.described_as() for content in always)}: always shown, from memory"
    why = "packages of the consignment differ" if differ else always_shown
    words: tuple[str, ...] = (f"Net quantity {shown[0].net_text}",)
    if len(case.contents) > 1:
        words = ("Net quantity", *(f"{content.number}: {content.net_text}" for content in shown))
    yield Needs(why, words=words, group="hazard", goods=case.indices(shown))


@rule(
    "gross-mass",
    cite={Mode.AIR: "ICAO TI 5;2.4.3"},
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere="only by air do packages of some entries show their gross mass",
)
def gross_mass(case: Case) -> Iterator[Answer]:
    """By air: the gross mass of explosives, and where the limit of aircraft or limited quantity is a gross mass (G)."""
    explosive = any(content.entry.hazard_class == "1" for content in case.contents)
    held_by_gross = [content for content in case.contents if by_gross(content, case.relief)]
    if explosive:
        why, suffix = "explosives show net and gross mass (from memory)", ""
    elif held_by_gross and len(case.record.packages) > 1:
        why, suffix = "the limit of the entry is a gross mass, shown with the letter G (from memory)", " G"
    else:
        yield Spares(_ALIKE if held_by_gross else "no explosive, and no limit that is written as a gross mass")
        return
    yield Needs(why, words=(f"Gross mass {show(case.package.gross_mass)}{suffix}",), group="hazard")


def _infectious(case: Case) -> bool:
    return any(content.entry.un in ("2814", "2900") for content in case.contents)


@rule(
    "responsible-person",
    cite={Mode.AIR: "ICAO TI 5;2.4"},
    elsewhere="only by air does a package of infectious substances name a person",
    concerns=_infectious,
)
def responsible_person(case: Case) -> Iterator[Answer]:
    """By air a package of UN 2814 or UN 2900 names a person who knows of it, with telephone number (from memory)."""
    person = case.record.responsible_person
    if person is None:
        yield refuse(
            "responsible-person-missing",
            "a package of infectious substances names a responsible person and a telephone number by air, and the "
            "record names none; write responsible_person with name and phone",
            "ICAO TI 5;2.4",
        )
        return
    yield Needs(
        "a package of infectious substances names a person who knows of it (from memory)",
        words=("Responsible person", person.name, person.phone),
    )
