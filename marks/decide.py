"""Step 2, decide: from a record to what every package must show under every mode. Reads like a table of contents.

from marks.reading import read_record
from marks.decide import decide
plan = decide(read_record("examples/isopropanol-three-modes.yaml"))
plan.packages[0].modes[Mode.ROAD].marks
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

import marks.rules  # noqa: F401 - fills the register
from marks import ground
from marks.beyond import outside, provisions, undecided
from marks.case import Case, Content
from marks.check import checked
from marks.description import description
from marks.journey import journey
from marks.large import twice
from marks.overpack import decide_overpack
from marks.requirement import Finding, ModeDecision, PackageDecision, Requirement, Waived
from marks.resolve import resolve
from marks.rule import RELIEF_PARAGRAPHS, RULES, caution, merged, note, refuse
from marks.tables import editions
from marks.terms import Level, Mode, ShipAs, VerdictWord

if TYPE_CHECKING:
    from marks.record import Package, Record

NOT_DECIDED = (
    "not decided here: segregation and stowage, goods that may not share a package but for those named, quantities "
    "per vehicle or container, placards, special provisions of the Technical Instructions, State and operator "
    "variations; the regulations in force and the shipper's trained and authorised person decide"
)


class Decided(Struct, frozen=True):
    """Step 2's answer: a decision for each package and overpack of the record, and the editions it rests on."""

    record: Record
    packages: tuple[PackageDecision, ...]
    cases: tuple[Mapping[Mode, Case], ...]
    editions: Mapping[Mode, str]
    overpacks: tuple[PackageDecision, ...] = ()


def decide(record: Record, modes: tuple[Mode, ...] | None = None) -> Decided:
    """Decide every package, then every overpack, under every mode of the record (or under ``modes`` instead).

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
    letters = [package.package for package in record.packages]
    decisions, by_letter = dict(zip(letters, packages, strict=True)), dict(zip(letters, cases, strict=True))
    overpacks = tuple(decide_overpack(one, record, decisions, by_letter) for one in record.overpacks)
    return Decided(record, packages, cases, held, overpacks)


def decide_package(package: Package, cases: Mapping[Mode, Case]) -> PackageDecision:
    """One package under each mode, then the union over the journey."""
    modes = {mode: decide_mode(case) for mode, case in cases.items()}
    verdict, marks = journey(modes)
    if strays := tuple(_strays(package, modes, marks)):
        modes = {mode: replace(one, findings=(*strays, *one.findings)) for mode, one in modes.items()}
    return PackageDecision(package.package, package.count, modes, verdict, marks)


#: Preprinted marks that say something of the goods: asked for, or to be covered.
_TELLING = ("hazard-label", "cargo-aircraft-only", "limited-quantity", "limited-quantity-air", "excepted-quantity")


def _strays(package: Package, modes: Mapping[Mode, ModeDecision], union: tuple[Requirement, ...]) -> Iterator[Finding]:
    """Preprinted marks that no leg asks for: a mark of a hazard that is not there must not be seen."""
    asked = {(one.mark, one.variant) for one in (*union, *(one for d in modes.values() for one in d.marks))}
    for item in package.preprinted:
        if item.mark in _TELLING and (item.mark, item.variant) not in asked:
            yield caution(
                "preprinted-not-asked",
                f"the packaging bears {item.mark}{f' {item.variant}' if item.variant else ''}, which no leg asks for; "
                "cover or remove it unless the goods have that hazard",
                "49 CFR 172.303(a)",
                "49 CFR 172.401(a)",
            )


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
    reasons = {content.index: reason for content in case.contents if (reason := outside(content, case))}
    subject = replace(case, contents=tuple(content for content in case.contents if content.index not in reasons))
    findings: list[Finding] = [*_before_the_rules(subject), *undecided(case)]
    required: list[Requirement] = []
    waived: list[Waived] = []
    for answer in (*_left_out(case, reasons), *_answers(case, subject)):
        if isinstance(answer, Requirement):
            required.append(answer)
        elif isinstance(answer, Waived):
            waived.append(answer)
        else:
            findings.append(answer)
    if subject.contents:
        findings += [*checked(subject), *provisions(subject)]
    findings.append(note("not-decided", NOT_DECIDED))
    asked = {(one.mark, one.variant) for one in required}
    kept = tuple(dict.fromkeys(one for one in waived if (one.mark, one.variant) not in asked))
    refused = any(finding.level is Level.REFUSE for finding in findings)
    free = not subject.contents and not required
    return ModeDecision(
        case.mode,
        VerdictWord.REFUSE if refused else VerdictWord.NOT_SUBJECT if free else VerdictWord.SHIP,
        merged(twice(required, case)),
        kept,
        tuple(dict.fromkeys(findings)),
        () if free else tuple(_described(subject, required)) or _unasked(case, reasons),
    )


def _answers(case: Case, subject: Case) -> Iterator[Requirement | Waived | Finding]:
    """Every rule's answers: of what is subject to the rules of the mode; of the whole package where always asked."""
    for rule in RULES:
        if rule.always:
            yield from rule.answers(case)
        elif subject.contents:
            yield from rule.answers(subject)


def _described(subject: Case, required: Iterable[Requirement]) -> Iterator[str]:
    """The line of the document for each content, in agreement with the marks."""
    cargo_only = any(one.mark == "cargo-aircraft-only" for one in required)
    return (description(content, subject, cargo_only) for content in subject.contents)


Reasons = Mapping[int, tuple[str, str]]


def _unasked(case: Case, reasons: Reasons) -> tuple[str, ...]:
    """What goes with marks alone: no line of the document is asked for by the rules, and why."""
    return tuple(
        f"{content.described_as()}, not subject to other provisions ({reasons[content.index][1]})"
        for content in case.contents
    )


def _left_out(case: Case, reasons: Reasons) -> Iterator[Finding | Waived]:
    """What is not subject: it is said, and its marks are waived: all of them, or its labels where other goods are."""
    if reasons and len(reasons) == len(case.contents):
        why = "; ".join(text for text, _ in reasons.values())
        cite = tuple(dict.fromkeys(paragraph for _, paragraph in reasons.values()))
        marks = (rule.mark for rule in RULES if case.mode in rule.cite and not rule.always and rule.concerns(case))
        yield note("not-subject", why, *cite)
        yield from (Waived(mark, why, cite) for mark in dict.fromkeys(marks) if mark != "specification-mark")
        return
    for content in case.contents:
        if content.index in reasons:
            why, paragraph = reasons[content.index]
            yield note("content-not-subject", why, paragraph)
            for label in content.labels(case.mode):
                yield Waived("hazard-label", why, (paragraph,), label)


def _before_the_rules(case: Case) -> Iterator[Finding]:
    """What stops a package before any mark is asked for, and what this version leaves to a person."""
    for content in case.contents:
        yield from _entry(content, case)
        yield from _state(content, case)
        yield from _technical_name(content, case)
    if len(case.reliefs) > 1:
        ways = ", ".join(sorted(case.reliefs))
        yield refuse(
            "reliefs-mixed",
            f"goods in one package are shipped as {ways}; this program does not decide such a package; ship them alike "
            "or apart",
            *(paragraphs[case.mode] for relief, paragraphs in RELIEF_PARAGRAPHS.items() if relief in case.reliefs),
        )


def _entry(content: Content, case: Case) -> Iterator[Finding]:
    entry, named = content.entry, content.described_as()
    if case.mode is Mode.US_GROUND:
        yield from ground.entry(content)
        return
    if case.mode is Mode.ROAD and entry.road_status == "forbidden":
        yield refuse(
            "road-forbidden",
            f"{named}: carriage prohibited by the list; it may not go by road as described",
            "ADR 3.2 Table A",
        )
    if not entry.road_source:
        yield refuse(
            "entry-not-held",
            f"{named}: the list holds no entry of this number for {case.mode}, only the US one; choose an entry of the "
            "UN Model Regulations",
            f"{case.mode.law} 3.2" if case.mode is not Mode.AIR else "ICAO TI 3;2",
        )


def _state(content: Content, case: Case) -> Iterator[Finding]:
    """Whether goods are liquid or solid decides arrows, packaging and limits: it has to be known, and to agree."""
    said, named = content.goods.state, content.described_as()
    paragraphs = {Mode.ROAD: "ADR 1.2.1", Mode.SEA: "IMDG 1.2.1", Mode.AIR: "ICAO TI 1;3.1"}
    paragraph = paragraphs.get(case.mode, "49 CFR 171.8")
    if content.state is None:
        yield refuse(
            "state-open",
            f"{named}: neither list nor record says whether it is liquid or solid; write state: liquid, solid, gas or "
            "article",
            paragraph,
        )
    elif said is not None and said != content.state:
        yield refuse(
            "state-contradicts",
            f"{named}: the record says {said}, the entry is {content.state}; choose the entry for {said}, or leave "
            "state out",
            paragraph,
        )


def _technical_name(content: Content, case: Case) -> Iterator[Finding]:
    """An excepted quantity bears no name, so it asks for no technical one."""
    if case.mode is Mode.US_GROUND:
        asked = ground.asks_technical_name(content, case)
    else:
        asked = content.entry.technical_name and case.relief is not ShipAs.EXCEPTED
    if not asked or content.goods.technical_name:
        return
    yield refuse(
        "technical-name-missing",
        f"{content.described_as()}: the entry asks for a technical name and the record gives none; write "
        "technical_name, one or two of the substances most responsible for the hazard",
        {Mode.ROAD: "ADR 3.1.2.8, SP 274", Mode.SEA: "IMDG 3.1.2.8, SP 274", Mode.AIR: "ICAO TI 3;1.2.7"}.get(
            case.mode, "49 CFR 172.203(k)"
        ),
    )
