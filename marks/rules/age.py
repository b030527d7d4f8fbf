"""How old the packaging is: plastics may be used for five years, counted from the month their mark or clock shows."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from marks.case import Case
from marks.check import check
from marks.dates import later
from marks.requirement import Finding
from marks.rule import EVERY_MODE, caution, refuse
from marks.tables import limit
from marks.terms import Mode, ShipAs

_MARK = {Mode.ROAD: "ADR 6.1.3.1 (e)", Mode.SEA: "IMDG 6.1.3.1 (e)", Mode.AIR: "ICAO TI 6;2.1.1"}
_UNTESTED = (ShipAs.LIMITED, ShipAs.EXCEPTED)


def _year(case: Case) -> int | None:
    """The two figures of the year in the specification mark."""
    mark = case.package.spec or case.package.bulk_spec
    return mark.year if mark else None


def of_plastics(case: Case) -> bool:
    """Plastics drums and jerricans, rigid plastics and composite IBCs with plastics inside (4.1.1.15, from memory)."""
    kind = case.package.kind
    if kind.kind == "ibc":
        return kind.code[2] == "H" and not kind.code.startswith("13")
    return kind.code[:2] in ("1H", "3H")


@check(modes=EVERY_MODE, spared=_UNTESTED, concerns=lambda case: _year(case) is not None)
def year_of_making(case: Case) -> Iterator[Finding]:
    """What the record says of the month agrees with the mark, and neither lies after the day of the shipment."""
    year, made, paragraph = _year(case), case.package.made, _MARK[case.mode]
    if made is not None and made > case.on:
        yield refuse(
            "made-after-offered",
            f"made: {made:%Y-%m} is after {case.on}, the day the package is offered; write the month as it stands on "
            "it",
            paragraph,
        )
    elif made is not None and made.year % 100 != year:
        yield refuse(
            "made-contradicts",
            f"the record says made: {made:%Y-%m}, the mark's year is {year:02}; write both as they stand on the "
            "packaging",
            paragraph,
        )
    elif year is not None and 0 < (year - case.on.year) % 100 < 50:
        yield caution(
            "year-after-offered",
            f"the mark's year {year:02} is after that of the shipment, {case.on.year}: read it again on the packaging",
            paragraph,
        )


@check(modes=EVERY_MODE, spared=_UNTESTED, concerns=of_plastics)
def five_years_of_plastics(case: Case) -> Iterator[Finding]:
    """Five years from the month of making, that month itself five years on included (our own reading of "five years").

    The mark shows the year; the month stands in it on an IBC, else on the packaging beside it, often as a clock.
    """
    life = limit("life", "plastics", case.on, "packagings")
    paragraph, made, year = life.paragraph(case.mode), _month(case), _year(case)
    code = case.package.packaging
    if made is not None:
        last = later(made, life.value)
        if (case.on.year, case.on.month) > (last.year, last.month):
            yield refuse(
                "plastics-too-old",
                f"packaging {code} was made {made:%Y-%m}: its {life.text} ended with {last:%Y-%m}, and the package is "
                f"offered on {case.on}; take a newer one",
                paragraph,
            )
        return
    age = None if year is None else (case.on.year - year) % 100
    if age is None or age > 50:  # no mark, or one that speaks of a year to come: told elsewhere
        return
    if age > life.value / 12:
        yield refuse(
            "plastics-too-old",
            f"packaging {code} was made in {case.on.year - age}, more than {life.text} before {case.on}; take a newer "
            "one",
            paragraph,
        )
    elif age == life.value / 12:
        yield refuse(
            "plastics-month-open",
            f"packaging {code} was made in {case.on.year - age}: whether its {life.text} are over hangs on the month, "
            "which stands on the packaging beside the mark; write made, as in 2021-11",
            paragraph,
        )


def _month(case: Case) -> date | None:
    """The first of the month of making: of the record, else of an IBC's mark."""
    mark = case.package.bulk_spec
    if case.package.made is not None or mark is None:
        return case.package.made
    year = case.on.year - (case.on.year - mark.year) % 100
    return date(year, mark.month, 1)


@check(
    modes=EVERY_MODE,
    spared=_UNTESTED,
    concerns=lambda case: case.package.spec is not None and case.package.spec.reconditioned is not None,
)
def reconditioned_for_liquid(case: Case) -> Iterator[Finding]:
    """A reconditioned packaging of liquid has passed the leakproofness test again: its R is followed by L.

    ADR 4.1.1.12 and 6.1.3.8 (j), IMDG and ICAO TI alike, from memory; 49 CFR 173.28(c) tells the same (from memory).
    """
    mark = case.package.spec
    assert mark is not None and mark.reconditioned is not None  # the check concerns these
    if mark.for_liquid and not mark.leak_tested:
        yield refuse(
            "reconditioned-not-tested",
            f'the mark "{mark.text}" says reconditioned in {mark.reconditioned:02} and not tested for tightness (no L): liquid '
            "does not go in; take one marked RL",
            {Mode.ROAD: "ADR 4.1.1.12", Mode.SEA: "IMDG 4.1.1.12", Mode.AIR: "ICAO TI 4;1.1.12"}[case.mode],
        )
    if 0 < (mark.reconditioned - case.on.year) % 100 < 50:
        yield caution(
            "year-after-offered",
            f"the year of reconditioning {mark.reconditioned:02} is after that of the shipment, {case.on.year}: read "
            "it again",
            _MARK[case.mode],
        )
