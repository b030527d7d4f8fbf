"""The packaging: does its UN specification mark allow these goods, this mass, this code?"""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content
from marks.large import is_large
from marks.packaging import SpecMark
from marks.quantity import show
from marks.rule import Answer, Spares, caution, refuse, rule
from marks.salvage import is_salvage
from marks.tables import limit
from marks.terms import Mode, PackingGroup, ShipAs, State

_MARK = {Mode.ROAD: "ADR 6.1.3.1", Mode.SEA: "IMDG 6.1.3.1", Mode.AIR: "ICAO TI 6;2.1.1"}
_GROSS = {Mode.ROAD: "ADR 4.1.1.3", Mode.SEA: "IMDG 4.1.1.3", Mode.AIR: "ICAO TI 4;1.1.2"}
_RELIEVED = {
    ShipAs.LIMITED: {Mode.ROAD: "ADR 3.4.1", Mode.SEA: "IMDG 3.4.1", Mode.AIR: "ICAO TI 3;4.2"},
    ShipAs.EXCEPTED: {Mode.ROAD: "ADR 3.5.2", Mode.SEA: "IMDG 3.5.2", Mode.AIR: "ICAO TI 3;5.2"},
}
#: Packing instructions whose packagings must be of a tested type: a missing mark refuses the package (from memory).
_TESTED = ("P001", "P002", "P010", "P1", "P4", "P5", "P600", "P601", "P602", "P620", "P802", "P804")
_STRICTER_BY_AIR = ("4.1", "4.2", "4.3", "5.1", "8")
_INFECTIOUS = ("2814", "2900")


@rule("specification-mark", cite=_MARK, concerns=lambda case: not is_large(case.package))
def packaging_may_hold_it(case: Case) -> Iterator[Answer]:
    """The mark on the packaging itself is never printed here; it is read and held against the goods.

    X covers packing groups I, II and III, Y II and III, Z III alone (49 CFR 178.503(a)(3), from memory).
    """
    mark = case.package.spec
    if case.relief in _RELIEVED:
        paragraph = _RELIEVED[case.relief][case.mode]
        yield Spares(f"a package of goods in {case.relief} quantity need not be of a tested type", cite=(paragraph,))
    elif mark is None:
        yield from _no_mark(case)
    else:
        yield from _package(mark, case)
        for content in () if is_salvage(case.package) else case.contents:  # salvage has conditions of its own
            yield from _group(mark, content, case)
            yield from _form(mark, content, case)
        yield Spares("it stands on the packaging already; it is checked, not printed")


def _package(mark: SpecMark, case: Case) -> Iterator[Answer]:
    package = case.package
    if mark.code != package.packaging:
        yield refuse(
            "spec-mark-code",
            f'the specification mark reads "{mark.code}", the record says packaging {package.packaging}; write what '
            "stands on the packaging",
            _MARK[case.mode],
        )
    if mark.gross_kg is not None and case.gross_kg > mark.gross_kg:
        yield refuse(
            "over-marked-mass",
            f"{show(package.gross_mass)} gross is over the marked gross mass of {mark.gross_kg:f} kg; take a stronger "
            "packaging or put less in",
            _GROSS[case.mode],
            "49 CFR 173.24a(b)(2)",
        )


def _group(mark: SpecMark, content: Content, case: Case) -> Iterator[Answer]:
    """X, Y or Z against the packing group; packagings for infectious substances bear CLASS 6.2 instead."""
    if content.entry.un in _INFECTIOUS:
        if mark.performance is not None:
            yield refuse(
                "packaging-not-infectious",
                f"{content.described_as()}: asks for a packaging marked CLASS 6.2, and the mark reads "
                f"{mark.performance}; take one tested for infectious substances",
                {Mode.ROAD: "ADR 6.3.4", Mode.SEA: "IMDG 6.3.4", Mode.AIR: "ICAO TI 6;6.4"}[case.mode],
            )
        return
    group = _needed_group(content, case)
    if group is None:
        yield caution(
            "packing-group-open",
            f"{content.described_as()}: the entry has no packing group; its packing instruction says for which the "
            f"packaging must be tested, and the mark's letter is {mark.performance or '(none)'}",
            _MARK[case.mode],
        )
    elif not mark.allows_group(group):
        own = f"packing group {content.group}" if content.group else "goods without a packing group"
        raised = group != content.group
        asked = f", for which packagings of group {group} are asked" if raised else ""
        also = ("49 CFR 173.27(a)",) if raised and content.group else ()
        yield refuse(
            "packing-group-not-covered",
            f"{content.described_as()}: {own}{asked}; the mark's letter {mark.performance or '(none)'} does not cover "
            f"it; take a packaging marked {_letter(group)}",
            _MARK[case.mode],
            *also,
        )


def _needed_group(content: Content, case: Case) -> PackingGroup | None:
    """The packing group the packaging must be tested for; None where only the packing instruction says.

    By air group III of some classes is packed as group II (49 CFR 173.27(a)). Explosives, self-reactive substances,
    organic peroxides and batteries have no group; packagings of group II are asked for (ADR 4.1.5.8, 4.1.7.1 and P903,
    from memory).
    """
    entry = content.entry
    hazard = entry.division or entry.hazard_class
    if content.group is PackingGroup.III and case.mode is Mode.AIR and hazard in _STRICTER_BY_AIR:
        return PackingGroup.II
    if content.group is not None:
        return content.group
    if entry.hazard_class == "1" or hazard in ("4.1", "5.2") or "9A" in content.labels(case.mode):
        return PackingGroup.II
    return None


def _letter(group: PackingGroup) -> str:
    return {"I": "X", "II": "X or Y", "III": "X, Y or Z"}[group]


def _form(mark: SpecMark, content: Content, case: Case) -> Iterator[Answer]:
    """The liquid form of the mark is for liquid in the packaging itself, the form with S for solids and inner ones."""
    combination = content.goods.inner is not None
    if mark.for_liquid and combination:
        yield refuse(
            "spec-mark-form",
            f'{content.described_as()}: the mark "{mark.text}" is that of a packaging tested with liquid in it; inner '
            "packagings need the form with a gross mass and S",
            _MARK[case.mode],
        )
    if not mark.for_liquid and not combination and content.state is State.LIQUID and mark.performance is not None:
        yield refuse(
            "spec-mark-form",
            f'{content.described_as()}: the mark "{mark.text}" is that of a packaging tested for solids and inner '
            "packagings, and the record puts liquid straight into it; write inner, or take a packaging tested with "
            "liquid",
            _MARK[case.mode],
        )
    if case.mode is Mode.AIR and mark.pressure_kpa is not None and not combination and content.state is State.LIQUID:
        yield from _pressure(mark, content, case)


def _pressure(mark: SpecMark, content: Content, case: Case) -> Iterator[Answer]:
    """By air a single packaging of liquid bears a least test pressure; vapour pressure may ask for more."""
    group, hazard = content.group, content.entry.division or content.entry.hazard_class
    if group is PackingGroup.I:
        name = "group_one"
    elif group is PackingGroup.III and hazard in ("3", "6.1"):
        name = "group_three"
    else:
        name = "others"
    least = limit("air_pressure", name, case.on)
    if mark.pressure_kpa is not None and mark.pressure_kpa < least.value:
        yield refuse(
            "test-pressure-under",
            f"{content.described_as()}: by air a single packaging of this liquid is tested at {least.text} or more, "
            f"the mark says {mark.pressure_kpa} kPa; take a packaging tested at a higher pressure",
            least.paragraph(case.mode),
            "49 CFR 173.27(c)(3)(ii)",
        )


def _no_mark(case: Case) -> Iterator[Answer]:
    """No mark stated: a refusal where the entry's packing instruction asks for a tested packaging, else a caution."""
    asked = [c for c in case.contents if any(i.startswith(_TESTED) for i in c.entry.packing_instructions)]
    if case.package.kind.kind == "cylinder":
        yield Spares(
            "a gas cylinder bears marks of its own (UN Model Regulations 6.2.2.7, from memory), which are not read here"
        )
    elif asked:
        names = "; ".join(f"{c.described_as()}: {' or '.join(c.entry.packing_instructions)}" for c in asked)
        yield refuse(
            "spec-mark-missing",
            f"{names} asks for a packaging of a tested type and the record gives no mark; write spec_mark as it stands "
            "on the packaging",
            _MARK[case.mode],
        )
    else:
        instructions = sorted({i for c in case.contents for i in c.entry.packing_instructions}) or ["none listed"]
        yield caution(
            "spec-mark-open",
            f"no specification mark is stated; check the packing instruction ({', '.join(instructions)}) whether the "
            "packaging must bear one",
            _MARK[case.mode],
        )
