"""The packaging: does its UN specification mark allow this packing group, this gross mass, this code?"""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case
from marks.quantity import show
from marks.rule import EVERY_MODE, Answer, Spares, caution, refuse, rule
from marks.terms import Mode, ShipAs

_GROUPS = {Mode.ROAD: "ADR 6.1.3.1", Mode.SEA: "IMDG 6.1.3.1", Mode.AIR: "ICAO TI 6;2.1.1"}
#: Packing instructions whose packagings must be of a tested type, so that a missing mark refuses the package.
_TESTED = ("P001", "P002", "P1", "P4", "P520")


@rule(
    "specification-mark",
    cite=_GROUPS,
    spared={ShipAs.LIMITED: EVERY_MODE, ShipAs.EXCEPTED: EVERY_MODE},
)
def packaging_may_hold_it(case: Case) -> Iterator[Answer]:
    """The mark on the packaging itself is never printed here; it is read and held against the goods.

    X covers packing groups I, II and III, Y II and III, Z III alone (49 CFR 178.503(a)(3), from memory). By air goods of
    packing group III in 4.1, 4.2, 4.3, 5.1 and 8 need packagings of group II (49 CFR 173.27(a)).
    """
    package, paragraph, mark = case.package, _GROUPS[case.mode], case.package.spec
    if mark is None:
        yield from _no_mark(case)
        return
    if mark.code != package.packaging:
        yield refuse(
            "spec-mark-code",
            f'the specification mark reads "{mark.code}", the record says packaging {package.packaging}; write what stands on the packaging',
            paragraph,
        )
    if mark.gross_kg is not None and case.gross_kg > mark.gross_kg:
        yield refuse(
            "over-marked-mass",
            f"{show(package.gross_mass)} gross is over the marked gross mass of {mark.gross_kg:f} kg; take a stronger packaging or put less in",
            {Mode.ROAD: "ADR 4.1.1.3", Mode.SEA: "IMDG 4.1.1.3", Mode.AIR: "ICAO TI 4;1.1.2"}[case.mode],
            "49 CFR 173.24a(b)(2)",
        )
    for content in case.contents:
        group = _needed_group(content, case)
        if group and not mark.allows_group(group):
            own = f"packing group {content.group}" if content.group else "goods without a packing group"
            asked = "" if group == content.group else f", for which packagings of group {group} are asked"
            yield refuse(
                "packing-group-not-covered",
                f"{content.described_as()}: {own}{asked}; the mark's letter {mark.performance or '(none)'} does not cover it; take a packaging marked {_letter(group)}",
                paragraph,
            )
    if mark.for_liquid and case.combination:
        yield refuse(
            "spec-mark-form",
            f'the mark "{mark.text}" is that of a packaging tested with liquid in it; inner packagings need the form with a gross mass and S',
            paragraph,
        )
    yield Spares("it stands on the packaging already; it is checked, not printed")


def _needed_group(content, case: Case) -> str | None:  # type: ignore[no-untyped-def]
    """The packing group the packaging must be tested for.

    Explosives, self-reactive substances and organic peroxides have none in the list; packagings of group II are asked for
    (ADR 4.1.5.8 and 4.1.7.1, from memory). Other entries without a group: the packing instruction says, often group II.
    """
    entry = content.entry
    if (
        content.group == "III"
        and case.mode is Mode.AIR
        and content.hazards[:1]
        and content.hazards[0] in ("4.1", "4.2", "4.3", "5.1", "8")
    ):
        return "II"
    if content.group:
        return str(content.group)
    return "II" if entry.hazard_class[:1] == "1" or content.hazards[:1] in (("5.2",), ("4.1",)) else None


def _letter(group: str) -> str:
    return {"I": "X", "II": "X or Y", "III": "X, Y or Z"}[group]


def _no_mark(case: Case) -> Iterator[Answer]:
    """No mark stated: a refusal where the entry's packing instruction asks for a tested packaging, else a caution."""
    asked = [c for c in case.contents if any(i.startswith(_TESTED) for i in c.entry.packing_instructions)]
    kind = case.package.kind.kind
    if kind == "cylinder":
        yield Spares(
            "a gas cylinder bears marks of its own (UN Model Regulations 6.2.2.7, from memory), which are not read here"
        )
    elif asked:
        names = "; ".join(f"{c.described_as()}: {' or '.join(c.entry.packing_instructions)}" for c in asked)
        yield refuse(
            "spec-mark-missing",
            f"{names} asks for a packaging of a tested type and the record gives no mark; write spec_mark as it stands on the packaging",
            _GROUPS[case.mode],
        )
    else:
        instructions = sorted({i for c in case.contents for i in c.entry.packing_instructions}) or ["none listed"]
        yield caution(
            "spec-mark-open",
            f"no specification mark is stated; check the packing instruction ({', '.join(instructions)}) whether the packaging must bear one",
            _GROUPS[case.mode],
        )
