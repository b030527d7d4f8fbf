"""Who and what: UN number, proper shipping name, shipper and consignee, net quantity."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.case import Case, listed
from marks.quantity import show, to
from marks.rule import EVERY_MODE, SURFACE, Answer, Needs, Spares, caution, rule
from marks.tables import limit, measure_figures
from marks.terms import Mode, PackageForm, ShipAs


def lettering(case: Case) -> tuple[dict[str, Decimal], str]:
    """The least letter height of the UN number, mm, and the sentence that says why.

    The test is what the packaging may hold, not what is in it: its stated capacity or largest net mass; failing these, the
    marked gross mass bounds the net mass. Nothing known: the full 12 mm.
    """
    package, on = case.package, case.on
    figures = measure_figures("un-number", None, on)
    full, medium = figures["lettering"].value, figures["lettering_medium"].value

    def within(name: str, value: Decimal) -> bool:
        return value <= limit("lettering", name, on).value

    if package.form_derived is PackageForm.CYLINDER and package.water_capacity is not None:
        litres = to(package.water_capacity, "L")
        if within("medium_cylinder", litres):
            return {"lettering": medium}, f"a cylinder of {litres:f} L water capacity: letters of at least {medium} mm"
        return {"lettering": full}, f"a cylinder of {litres:f} L water capacity: letters of at least {full} mm"
    sizes: list[tuple[str, Decimal, str]] = []
    if package.capacity is not None:
        sizes.append(("capacity", to(package.capacity, "L"), f"capacity {show(package.capacity)}"))
    if package.max_net is not None:
        sizes.append(("mass", to(package.max_net, "kg"), f"largest net mass {show(package.max_net)}"))
    mark = package.spec
    if not sizes and mark is not None and mark.gross_kg is not None:
        sizes.append(("mass", mark.gross_kg, f"marked gross mass {mark.gross_kg:f} kg, so its net mass is less"))
    for kind, value, words in sizes:
        if within(f"small_{kind}", value):
            return {}, f"{words}: letters of a size that fits the package"
    for kind, value, words in sizes:
        if within(f"medium_{kind}", value):
            return {"lettering": medium}, f"{words}: letters of at least {medium} mm"
    why = sizes[0][2] if sizes else "neither capacity nor largest net mass is stated"
    return {"lettering": full}, f"{why}: letters of at least {full} mm"


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
    cite={Mode.ROAD: "ADR 5.2.1.5, 5.2.1.6", Mode.SEA: "IMDG 5.2.1.1", Mode.AIR: "ICAO TI 5;2.4.1"},
    spared={ShipAs.LIMITED: SURFACE, ShipAs.EXCEPTED: EVERY_MODE},
)
def name_of_every_entry(case: Case) -> Iterator[Answer]:
    """The proper shipping name, by sea and air always; by road only for class 1 and on refillable receptacles of gas."""
    seen: dict[str, list[int]] = {}
    for content in case.contents:
        hazard = content.entry.hazard_class[:1]
        if case.mode is not Mode.ROAD:
            why = "the name of the entry"
        elif hazard == "1":
            why = "goods of class 1 bear their name on the road"
        elif hazard == "2" and case.package.refillable:
            why = "refillable receptacles of gas bear the gas's name on the road"
        elif hazard == "2" and case.package.form_derived is PackageForm.CYLINDER and case.package.refillable is None:
            yield caution(
                "refillable-not-stated",
                f"{content.described_as()}: a refillable receptacle bears the name on the road; say refillable: true or false",
                "ADR 5.2.1.6",
            )
            why = "the record does not say that the receptacle is not refillable"
        else:
            yield Spares(
                f"{content.described_as()}: by road only goods of class 1 and refillable receptacles of gas bear the name"
            )
            continue
        technical = " with the technical name the entry asks for" if content.goods.technical_name else ""
        seen.setdefault(content.marked_name, []).append(content.index)
        yield Needs(f"{why}{technical}", words=(content.marked_name,), group="hazard", goods=(content.index,))


_ADDRESS_CITE = {Mode.AIR: "ICAO TI 5;2.4.2"}
_ADDRESS_ELSEWHERE = "only by air does a package of this kind bear both addresses"


@rule(
    "shipper",
    cite=_ADDRESS_CITE,
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere=_ADDRESS_ELSEWHERE,
)
def shipper_address(case: Case) -> Iterator[Answer]:
    """By air the shipper's name and full address stand on the package, on the face of the name when its size allows."""
    party = case.record.shipper
    yield Needs(
        "name and full address of the shipper",
        words=(party.name, *party.address, party.country_name.upper()),
        group="address",
    )


@rule(
    "consignee",
    cite=_ADDRESS_CITE,
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere=_ADDRESS_ELSEWHERE,
)
def consignee_address(case: Case) -> Iterator[Answer]:
    """By air the consignee's name and full address stand on the package."""
    party = case.record.consignee
    yield Needs(
        "name and full address of the consignee",
        words=(party.name, *party.address, party.country_name.upper()),
        group="address",
    )


@rule(
    "net-quantity",
    cite={Mode.AIR: "ICAO TI 5;2.4.3"},
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere="only by air does the package show its net quantity",
)
def net_quantity(case: Case) -> Iterator[Answer]:
    """The net quantity of every entry, when the consignment has packages that differ; explosives and dry ice always.

    From memory: a consignment of one package, or of identical packages, need not show it.
    """
    always = [c for c in case.contents if c.entry.hazard_class.startswith("1") or c.entry.un == "1845"]
    differ = len(case.record.packages) > 1
    if not differ and not always:
        yield Spares("the consignment is one package, or packages all identical (from memory)")
        return
    parts = []
    for content in case.contents:
        words = show(content.net)
        parts.append(words if len(case.contents) == 1 else f"{content.number}: {words}")
    why = (
        "packages of the consignment differ"
        if differ
        else f"{listed(c.described_as() for c in always)} always shows it"
    )
    head = (
        "Net quantity" if not any(c.entry.hazard_class.startswith("1") for c in case.contents) else "Net explosive mass"
    )
    lines = (f"{head} {parts[0]}",) if len(parts) == 1 else (head, *parts)
    yield Needs(why, words=lines, group="hazard")


@rule("gross-mass", cite={Mode.AIR: "ICAO TI 5;2.4.3"}, spared={ShipAs.EXCEPTED: EVERY_MODE})
def gross_mass(case: Case) -> Iterator[Answer]:
    """By air: the gross mass of explosives, and where the aircraft limit or the limited quantity is written as gross mass."""
    explosive = any(c.entry.hazard_class.startswith("1") for c in case.contents)
    by_gross = any("gross" in (c.entry.passenger + c.entry.cargo) for c in case.contents)
    if not explosive and not by_gross:
        return
    why = (
        "explosives show net and gross mass"
        if explosive
        else "the limit for this entry is a gross mass, shown with the letter G"
    )
    suffix = "" if explosive else " G"
    if not explosive and len(case.record.packages) == 1:
        yield Spares("the consignment is one package, or packages all identical (from memory)")
        return
    yield Needs(why, words=(f"Gross mass {show(case.package.gross_mass)}{suffix}",), group="hazard")
