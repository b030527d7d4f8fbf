"""Several goods in one outer packaging: which may not share it, and which a person has to look at."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, listed
from marks.check import check
from marks.mixed import obstacles, reacting
from marks.requirement import Finding
from marks.rule import EVERY_MODE, caution, refuse
from marks.terms import Mode, ShipAs

_REACT = {
    Mode.ROAD: "ADR 4.1.1.6",
    Mode.SEA: "IMDG 4.1.1.6",
    Mode.AIR: "ICAO TI 4;1.1.8",
    Mode.US_GROUND: "49 CFR 173.24(e)",
}


def _mixed(case: Case) -> bool:
    return len({content.entry.id for content in case.contents}) > 1


@check(modes=(*EVERY_MODE, Mode.US_GROUND), concerns=_mixed)
def goods_that_react(case: Case) -> Iterator[Finding]:
    """Goods that react dangerously do not share a packaging. The list of pairs is short and from memory."""
    for said in reacting(case.contents):
        yield caution(
            "goods-that-react",
            f"{said}; they may not share a packaging if they can react dangerously: a person who knows them decides",
            _REACT[case.mode],
        )


@check(modes=(Mode.ROAD,), spared=(ShipAs.LIMITED, ShipAs.EXCEPTED), concerns=_mixed)
def mixed_packing_by_road(case: Case) -> Iterator[Finding]:
    """Column 9b of Table A: which goods may stand beside the entry, and how much of it (ADR 4.1.10.4, from memory)."""
    for content in case.contents:
        found = obstacles(content, [other for other in case.contents if other.entry.id != content.entry.id], case.on)
        if found is None:
            continue
        text, forbidden = found
        make = refuse if forbidden else caution
        yield make(
            "mixed-packing-forbidden" if forbidden else "mixed-packing-amount",
            f"{content.described_as()} beside other goods, {text} (mixed packing provision of the list, its words from "
            f"memory); {'pack it apart' if forbidden else 'read the provision, or pack it apart'}",
            "ADR 4.1.10.4",
        )


@check(modes=(Mode.SEA,), spared=(ShipAs.EXCEPTED,), concerns=_mixed)
def segregation_in_a_package(case: Case) -> Iterator[Finding]:
    """At sea goods that must be segregated from each other do not share a packaging; the table is not held here."""
    classes = sorted({content.entry.division or content.entry.hazard_class for content in case.contents})
    if len(classes) > 1:
        yield caution(
            "mixed-segregation",
            f"goods of classes {listed(classes)} share the package: look at the segregation table and the segregation "
            "groups whether they may (from memory; not decided here)",
            "IMDG 7.2.6.1",
        )
