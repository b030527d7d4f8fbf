"""By air: inner packagings of liquid withstand a difference of pressure, have a second closure, and stand in absorbent."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING

from marks.case import Case, Content
from marks.check import check
from marks.quantity import is_volume, plain, show, to
from marks.requirement import Finding
from marks.rule import caution, note, refuse
from marks.tables import limit
from marks.terms import Mode, PackingGroup, ShipAs, State

if TYPE_CHECKING:
    from marks.inner import Inner

_PRESSURE = ("ICAO TI 4;1.1.6", "49 CFR 173.27(c)(2)")
_FREED = ("3082",)
_OTHERWISE = ("1", "7")  # classes packed by rules of their own, as are gases, which are no liquid here
_ABSORBED = ("3", "4.1", "4.2", "4.3", "5.1", "6.1", "8")


def _liquids(case: Case) -> Iterator[tuple[Content, Inner]]:
    """The contents that stand as liquids in inner packagings, with these."""
    for content in case.contents:
        inner, entry = content.goods.inner, content.entry
        own_rules = entry.hazard_class in _OTHERWISE or entry.division == "6.2"
        if inner is not None and content.state is State.LIQUID and is_volume(inner.holds) and not own_rules:
            yield content, inner


@check(modes=(Mode.AIR,), spared=(ShipAs.EXCEPTED,))
def pressure_of_inner_packagings(case: Case) -> Iterator[Finding]:
    """95 kPa, 75 kPa for packing group III of class 3 and division 6.1, or more where the vapour pressure asks for more.

    UN 3082 is freed. The figure by vapour pressure from memory: 1.75 times that at 50 °C, or 1.5 times that at 55 °C, less
    100 kPa. An intermediate packaging may carry the pressure instead (49 CFR 173.27(c)(3)(i)).
    """
    for content, inner in _liquids(case):
        if content.entry.un in _FREED:
            continue
        needed = _needed(content, case)
        said, tested = f"{content.described_as()}: its inner packagings ({inner.of})", inner.pressure_tested
        if tested is None:
            yield caution(
                "inner-pressure-open",
                f"{said} must withstand {plain(needed)} kPa, or an intermediate packaging must; ask their maker, and "
                f"write pressure_tested: {plain(needed)} kPa",
                *_PRESSURE,
            )
        elif to(tested, "kPa") < needed:
            yield refuse(
                "inner-pressure-under",
                f"{said} withstand {show(tested)}, by air {plain(needed)} kPa are asked; take others, or an "
                "intermediate packaging that does",
                *_PRESSURE,
            )


def _needed(content: Content, case: Case) -> Decimal:
    hazard = content.entry.division or content.entry.hazard_class
    low = content.group is PackingGroup.III and hazard in ("3", "6.1")
    least = limit("air_inner", "pressure_three" if low else "pressure", case.on, "packagings").value
    held, ways = content.goods.vapour_pressure, []
    if held is not None and held.at_50 is not None:
        ways.append(to(held.at_50, "kPa") * Decimal("1.75") - 100)
    if held is not None and held.at_55 is not None:
        ways.append(to(held.at_55, "kPa") * Decimal("1.5") - 100)
    return max(least, min(ways)) if ways else least


@check(modes=(Mode.AIR,), spared=(ShipAs.EXCEPTED,))
def second_closure(case: Case) -> Iterator[Finding]:
    """A second means holds each closure; for packing groups II and III a leakproof liner may stand for it."""
    for content, inner in _liquids(case):
        if case.package.liner and content.group is not PackingGroup.I:
            continue
        liner = (
            "" if content.group is PackingGroup.I else ", or a leakproof liner holds all of it: then write liner: true"
        )
        yield note(
            "second-closure",
            f"{content.described_as()}: by air each closure of a {inner.of} is held by a second means, such as "
            f"tape{liner}",
            "49 CFR 173.27(d)",
            "ICAO TI 4;1.1.4",
        )


@check(modes=(Mode.AIR,), spared=(ShipAs.EXCEPTED, ShipAs.LIMITED))
def absorbent_for_group_one(case: Case) -> Iterator[Finding]:
    """Liquids of packing group I in inner packagings stand in absorbent for all of it, in a leakproof intermediate."""
    for content, inner in _liquids(case):
        hazard = content.entry.division or content.entry.hazard_class
        if content.group is PackingGroup.I and hazard in _ABSORBED and inner.absorbent != "full":
            yield refuse(
                "absorbent-missing",
                f"{content.described_as()}: by air a liquid of packing group I stands in absorbent for all of it, "
                f"within a leakproof intermediate packaging, and the record says absorbent: {inner.absorbent}; pack "
                "it so and write absorbent: full",
                "49 CFR 173.27(e)",
                "ICAO TI 4;1.1.9",
            )
