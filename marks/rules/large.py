"""IBCs and large packagings: is the mark on it enough, may these goods go in one, what must a person look at."""

from __future__ import annotations

from collections.abc import Iterator

from marks.bulk_mark import BulkMark
from marks.case import Case, Content
from marks.dates import later
from marks.large import is_large
from marks.packaging import GROUPS
from marks.quantity import show, to
from marks.rule import Answer, Spares, caution, note, refuse, rule
from marks.tables import limit
from marks.terms import Mode, PackingGroup, State

_MARK = {Mode.ROAD: "ADR 6.5.2.1", Mode.SEA: "IMDG 6.5.2.1", Mode.AIR: "ICAO TI 6;2.4"}
_LARGE_MARK = {Mode.ROAD: "ADR 6.6.3.1", Mode.SEA: "IMDG 6.6.3.1", Mode.AIR: "ICAO TI 6;2.4"}
_LIST = {Mode.ROAD: "ADR 3.2 Table A (8)", Mode.SEA: "IMDG 3.2 (8), (10)", Mode.AIR: "ICAO TI 3;2"}
_GROSS = {Mode.ROAD: "ADR 4.1.1.3", Mode.SEA: "IMDG 4.1.1.3", Mode.AIR: "ICAO TI 4;1.1.2"}
_BY_AIR = "3077"  # the one entry that may fly in an IBC (from memory)


@rule("specification-mark", cite=_MARK, concerns=lambda case: is_large(case.package))
def large_packaging_may_hold_it(case: Case) -> Iterator[Answer]:
    """The mark is read and held against the goods, never printed; the list has to name a packing instruction for it.

    From memory: IBC and LP instructions; X for IBCs of solids alone; liquids into a large packaging in inner packagings
    only; by air no IBC but for UN 3077, and no large packaging.
    """
    if case.mode is Mode.AIR:
        yield from _by_air(case)
    for content in case.contents:
        yield from _instruction(content, case)
        yield from _state(content, case)
    mark = case.package.bulk_spec
    if mark is None:
        yield refuse(
            "spec-mark-missing",
            f"packaging {case.package.packaging}: an IBC or large packaging is of a tested type and bears its mark; "
            "write spec_mark as it stands on it",
            _paragraph(case),
        )
    else:
        yield from _mark(mark, case)
        yield Spares("it stands on the packaging already; it is checked, not printed", cite=(_paragraph(case),))
    yield from _capacity(case)
    if case.package.kind.kind == "ibc":
        yield from _inspected(case)


def _paragraph(case: Case) -> str:
    return (_MARK if case.package.kind.kind == "ibc" else _LARGE_MARK)[case.mode]


def _by_air(case: Case) -> Iterator[Answer]:
    others = [content for content in case.contents if content.entry.un != _BY_AIR]
    if case.package.kind.kind == "large" or others:
        kind = case.package.kind.text
        yield refuse(
            "large-not-by-air",
            f"packaging {case.package.packaging}: by air goods do not go in {'an' if kind[0] == 'i' else 'a'} {kind}, "
            f"UN {_BY_AIR} in an IBC aside (from memory); take smaller packagings or another mode",
            "ICAO TI 4;1.1.1",
        )


def _instruction(content: Content, case: Case) -> Iterator[Answer]:
    """Column (8) of Table A names the packing instructions by which goods may go in such a packaging, or names none."""
    start = "IBC" if case.package.kind.kind == "ibc" else "LP"
    if case.mode is Mode.AIR or not content.entry.road_source:
        return
    named = [one for one in content.entry.packing_instructions if one.startswith(start)]
    if named:
        yield note(
            "large-instruction",
            f"{content.described_as()}: read {' and '.join(named)}, whether it names {case.package.packaging}; this "
            "program does not follow packing instructions",
            _LIST[case.mode],
        )
    else:
        held = ", ".join(content.entry.packing_instructions) or "none"
        yield refuse(
            "large-not-allowed",
            f"{content.described_as()}: the list names no {start} packing instruction ({held}), so it may not go in "
            f"packaging {case.package.packaging}; take a packaging that it names",
            _LIST[case.mode],
        )


def _state(content: Content, case: Case) -> Iterator[Answer]:
    code = case.package.kind.code
    into = content.goods.inner is None and content.state is State.LIQUID
    if into and (case.package.kind.kind == "large" or not code.startswith("31")):
        kind = "a large packaging" if case.package.kind.kind == "large" else f"an IBC of type {code[:2]}"
        yield refuse(
            "large-not-for-liquid",
            f"{content.described_as()}: {kind} is not for liquid straight in it (from memory); take an IBC whose code "
            "begins with 31, or write inner",
            {Mode.ROAD: "ADR 6.5.1.4.1", Mode.SEA: "IMDG 6.5.1.4.1"}.get(case.mode, "ICAO TI 6;2.4"),
        )


def _mark(mark: BulkMark, case: Case) -> Iterator[Answer]:
    package, paragraph = case.package, _paragraph(case)
    if mark.code != package.packaging:
        yield refuse(
            "spec-mark-code",
            f'the specification mark reads "{mark.code}", the record says packaging {package.packaging}; write what '
            "stands on the packaging",
            paragraph,
        )
    if case.gross_kg > mark.gross_kg:
        yield refuse(
            "over-marked-mass",
            f"{show(package.gross_mass)} gross is over the marked gross mass of {mark.gross_kg:f} kg; put less in",
            _GROSS[case.mode],
        )
    if mark.performance == "X" and mark.code.startswith("31"):
        yield refuse(
            "spec-mark-form",
            f'"{mark.text}": X is for IBCs of solids alone (from memory), {mark.code} holds liquids; write the mark '
            "as it stands",
            paragraph,
        )
    for content in case.contents:
        yield from _group(mark, content, paragraph)
    yield from _stacking(mark, case, paragraph)


def _group(mark: BulkMark, content: Content, paragraph: str) -> Iterator[Answer]:
    group = content.group
    if group is None:
        yield caution(
            "packing-group-open",
            f"{content.described_as()}: the entry has no packing group; its packing instruction says for which the "
            f"packaging must be tested, and the mark's letter is {mark.performance}",
            paragraph,
        )
    elif not mark.allows_group(group):
        letters = " or ".join(letter for letter, groups in GROUPS.items() if group in groups)
        yield refuse(
            "packing-group-not-covered",
            f"{content.described_as()}: packing group {PackingGroup(group)}; the mark's letter {mark.performance} "
            f"does not cover it; take a packaging marked {letters}",
            paragraph,
        )


def _stacking(mark: BulkMark, case: Case, paragraph: str) -> Iterator[Answer]:
    """The symbol is the maker's mark; it is looked for, not printed (6.5.2.2.2, 6.6.3.3: from memory)."""
    if mark.stacking_kg:
        text = f"tested with {mark.stacking_kg:f} kg on it: its stacking symbol says the most that may stand on it"
    else:
        text = "not tested for stacking: its stacking symbol says so; nothing may stand on it"
    where = {"ibc": "6.5.2.2.2", "large": "6.6.3.3"}[case.package.kind.kind]
    law = {Mode.ROAD: "ADR", Mode.SEA: "IMDG"}.get(case.mode)
    yield caution(
        "stacking-symbol",
        f"{text}. The maker prints it (at least 100 x 100 mm, from memory); see that it is there and can be read",
        f"{law} {where}" if law else paragraph,
    )


def _capacity(case: Case) -> Iterator[Answer]:
    package, most = case.package, limit("large", "most", case.on, "packagings")
    if package.capacity is not None and to(package.capacity, "L") > most.value:
        yield refuse(
            "over-bulk-capacity",
            f"a capacity of {show(package.capacity)} is over {most.text}, the most of an IBC or large packaging: it "
            "is a tank or container, which this program does not decide",
            most.paragraph(case.mode),
        )


def _inspected(case: Case) -> Iterator[Answer]:
    """Metal, rigid plastics and composite IBCs are inspected, and tested for tightness, every two and a half years."""
    life = limit("life", "inspection", case.on, "packagings")
    if case.package.kind.code.startswith("13") or case.package.kind.code[2] in "CDFG":
        return  # flexible, fibreboard and wooden ones are not tested again
    day = case.package.inspected
    if day is None:
        yield caution(
            "inspection-open",
            f"the record does not say when the IBC was last inspected; it may be filled within {life.text} of it "
            "(from memory); write inspected: the day that stands on it",
            life.paragraph(case.mode),
        )
    elif later(day, life.value) < case.on:
        yield refuse(
            "inspection-overdue",
            f"the IBC was last inspected on {day}, more than {life.text} before {case.on}; have it inspected and "
            "tested",
            life.paragraph(case.mode),
        )
    elif day > case.on:
        yield refuse(
            "inspection-overdue",
            f"the record says inspected {day}, after the day it is offered; write the last inspection before {case.on}",
            life.paragraph(case.mode),
        )
