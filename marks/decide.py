"""Step 2, decide: from a record to what every package must show under every mode. Reads like a table of contents.

from marks.reading import read_record
from marks.decide import decide
plan = decide(read_record("examples/isopropanol-three-modes.yaml"))
plan.packages[0].modes[Mode.ROAD].marks
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import marks.rules  # noqa: F401 - fills the register
from marks.case import Case, Content
from marks.description import description
from marks.environment import BY_ENTRY, small
from marks.journey import journey
from marks.requirement import Finding, ModeDecision, PackageDecision, Requirement, Waived
from marks.resolve import resolve
from marks.rule import RELIEF_PARAGRAPHS, RULES, merged, note, refuse
from marks.tables import editions
from marks.terms import Level, Mode, ShipAs, VerdictWord

if TYPE_CHECKING:
    from marks.record import Package, Record

NOT_DECIDED = (
    "not decided here: segregation and stowage, quantities per vehicle or container, placards, State and operator variations; "
    "the regulations in force and the shipper's trained and authorised person decide"
)


@dataclass(frozen=True, slots=True)
class Decided:
    """Step 2's answer: a decision for each package of the record, and the editions it rests on."""

    record: Record
    packages: tuple[PackageDecision, ...]
    cases: tuple[Mapping[Mode, Case], ...] = field(repr=False)
    editions: Mapping[Mode, str] = field(hash=False)
    findings: tuple[Finding, ...] = ()


def decide(record: Record, modes: tuple[Mode, ...] | None = None) -> Decided:
    """Decide every package under every mode of the record (or under ``modes`` instead).

    Raises RecordError where an entry is unknown or open, or the date lies outside the editions held.
    """
    wanted = record.modes if modes is None else modes
    contents = resolve(record, wanted)
    cases = tuple(
        {mode: Case(mode, record.date, record, package, lines) for mode in wanted}
        for package, lines in zip(record.packages, contents, strict=True)
    )
    packages = tuple(decide_package(package, by_mode) for package, by_mode in zip(record.packages, cases, strict=True))
    held = {mode: editions()[mode].name for mode in wanted if mode in editions()}
    return Decided(record, packages, cases, held, tuple(_about_the_record(record)))


def _about_the_record(record: Record) -> Iterator[Finding]:
    if record.overpacks:
        names = ", ".join(overpack.overpack for overpack in record.overpacks)
        yield refuse(
            "overpack-not-held",
            f"overpack {names}: this version does not decide overpacks; its packages are decided one by one, the overpack's own marks are not",
            "ADR 5.1.2",
            "IMDG 5.1.2",
            "ICAO TI 5;2.4.10",
        )


def decide_package(package: Package, cases: Mapping[Mode, Case]) -> PackageDecision:
    """One package under each mode, then the union over the journey."""
    modes = {mode: decide_mode(case) for mode, case in cases.items()}
    verdict, marks = journey(modes)
    return PackageDecision(package.package, package.count, modes, verdict, marks)


def decide_mode(case: Case) -> ModeDecision:
    """One package under one mode: may it go so, what must it show, what is waived, what must a person know."""
    if case.mode not in editions():
        return ModeDecision(
            case.mode,
            VerdictWord.REFUSE,
            findings=(
                refuse(
                    "mode-not-held",
                    f"this version does not decide {case.mode}; it holds {', '.join(editions())}",
                    case.mode.law,
                ),
            ),
        )
    outside = tuple(outside_the_rules(case))
    if outside and all(outside):
        return _not_subject(case, outside)
    findings: list[Finding] = [*_before_the_rules(case)]
    required: list[Requirement] = []
    waived: list[Waived] = []
    for rule in RULES:
        for answer in rule.answers(case):
            if isinstance(answer, Requirement):
                required.append(answer)
            elif isinstance(answer, Waived):
                waived.append(answer)
            else:
                findings.append(answer)
    findings.append(note("not-decided", NOT_DECIDED))
    asked = {(one.mark, one.variant) for one in required}
    kept = tuple(dict.fromkeys(one for one in waived if (one.mark, one.variant) not in asked))
    refused = any(finding.level is Level.REFUSE for finding in findings)
    return ModeDecision(
        case.mode,
        VerdictWord.REFUSE if refused else VerdictWord.SHIP,
        merged(required),
        kept,
        tuple(dict.fromkeys(findings)),
        tuple(description(content, case) for content in case.contents),
    )


def outside_the_rules(case: Case) -> Iterator[tuple[str, str] | None]:
    """For each content: why it is not subject to the rules of the mode at all, with the paragraph; None where it is subject."""
    for content in case.contents:
        entry = content.entry
        if case.mode is Mode.ROAD and entry.road_status == "not-subject":
            yield f"{content.described_as()}: the list says not subject to ADR", "ADR 3.2 Table A"
        elif entry.un in BY_ENTRY and case.relief is ShipAs.FULL and (held := small(content, case)):
            paragraph = {Mode.ROAD: "ADR 3.3.1 SP 375", Mode.SEA: "IMDG 2.10.2.7", Mode.AIR: "ICAO TI A197"}[case.mode]
            yield (
                f"{content.described_as()}: {held} each; not subject to other provisions if well packed (from memory)",
                paragraph,
            )
        else:
            yield None


def _not_subject(case: Case, reasons: tuple[tuple[str, str] | None, ...]) -> ModeDecision:
    said = [reason for reason in reasons if reason is not None]
    why, cite = "; ".join(text for text, _ in said), tuple(dict.fromkeys(paragraph for _, paragraph in said))
    marks = dict.fromkeys(rule.mark for rule in RULES if case.mode in rule.cite and rule.mark != "specification-mark")
    return ModeDecision(
        case.mode,
        VerdictWord.NOT_SUBJECT,
        waived=tuple(Waived(mark, why, cite) for mark in marks),
        findings=(note("not-subject", why, *cite), note("not-decided", NOT_DECIDED)),
    )


def _before_the_rules(case: Case) -> Iterator[Finding]:
    """What stops a package before any mark is asked for."""
    for content in case.contents:
        if case.mode is Mode.ROAD and content.entry.road_status == "forbidden":
            yield refuse(
                "road-forbidden", f"{content.described_as()}: carriage prohibited by the list", "ADR 3.2 Table A"
            )
        if not content.entry.road_source:
            yield refuse(
                "entry-not-held",
                f"{content.described_as()}: the list holds no entry of this number for {case.mode}, only the US one",
                case.mode.law,
            )
    if len(case.reliefs) > 1:
        ways = ", ".join(sorted(case.reliefs))
        yield refuse(
            "reliefs-mixed",
            f"goods in one package are shipped as {ways}; this program does not decide such a package; ship them alike or apart",
            *(paragraphs[case.mode] for relief, paragraphs in RELIEF_PARAGRAPHS.items() if relief in case.reliefs),
        )
    yield from _technical_names(case.contents, case)


def _technical_names(contents: tuple[Content, ...], case: Case) -> Iterator[Finding]:
    if case.relief is ShipAs.EXCEPTED:
        return
    for content in contents:
        if content.entry.technical_name and not content.goods.technical_name:
            paragraph = {
                Mode.ROAD: "ADR 3.1.2.8, SP 274",
                Mode.SEA: "IMDG 3.1.2.8, SP 274",
                Mode.AIR: "ICAO TI 3;1.2.7",
            }[case.mode]
            yield refuse(
                "technical-name-missing",
                f"{content.described_as()}: the entry asks for a technical name and the record gives none; write technical_name, one or two of the substances most responsible for the hazard",
                paragraph,
            )
