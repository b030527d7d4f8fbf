"""Salvage packagings: the word SALVAGE, and what a person sees to before it travels."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case
from marks.check import check
from marks.large import is_large
from marks.requirement import Finding
from marks.rule import EVERY_MODE, Answer, Needs, caution, refuse, rule
from marks.salvage import is_salvage
from marks.terms import Mode, ShipAs, State

_MARK = {Mode.ROAD: "ADR 5.2.1.3", Mode.SEA: "IMDG 5.2.1.3", Mode.AIR: "ICAO TI 5;2.4.11"}
_USE = {Mode.ROAD: "ADR 4.1.1.19", Mode.SEA: "IMDG 4.1.1.18", Mode.AIR: "ICAO TI 4;1.4"}
#: Removable head drums: what US law takes for salvage without the T (49 CFR 173.3(c)(1)).
_DRUMS = ("1A2", "1B2", "1N2", "1H2")


def _salvage(case: Case) -> bool:
    return is_salvage(case.package)


@rule("salvage", cite=_MARK, spared={ShipAs.EXCEPTED: EVERY_MODE}, concerns=_salvage)
def salvage(case: Case) -> Iterator[Answer]:
    """A salvage packaging bears the word SALVAGE, 12 mm high, besides the marks and labels of what is in it."""
    said = "T stands behind its code" if case.package.kind.letter == "T" else "the record says so"
    yield Needs(f"{case.package.packaging} is a salvage packaging: {said}", words=("SALVAGE",))


@check(modes=EVERY_MODE, concerns=_salvage)
def salvage_conditions(case: Case) -> Iterator[Finding]:
    """Of the type tested for salvage, or larger than what is in it and strong enough; nothing free, nothing loose.

    ADR 4.1.1.19, IMDG 4.1.1.18 and ICAO TI 4;1.4 from memory; the drums from 49 CFR 173.3(c)(1).
    """
    package, paragraph = case.package, _USE[case.mode]
    if package.kind.letter != "T":
        drum = f"packaging {package.packaging}, one of the drums US law takes," if package.packaging in _DRUMS else None
        yield caution(
            "salvage-not-tested",
            f"{drum or f'packaging {package.packaging}'} bears no T behind its code: it takes a damaged package only "
            "if it is larger than that, of an appropriate type and of the performance its goods ask for; a person "
            "decides",
            paragraph,
            "49 CFR 173.3(c)(1)",
        )
    liquid = any(content.state is State.LIQUID for content in case.contents)
    inert = ", inert absorbent for all the free liquid" if liquid else ""
    yield caution(
        "salvage-conditions",
        f"what is in it does not move{inert}, and no pressure can build up; look at the damaged package before it is "
        "closed",
        paragraph,
    )
    if is_large(package) and case.mode is Mode.AIR:
        yield refuse(
            "salvage-not-by-air",
            "a large salvage packaging does not travel by air; take a drum, or another mode",
            "49 CFR 173.3(f)",
        )
