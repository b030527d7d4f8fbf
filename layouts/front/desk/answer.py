"""What a plan says, as the page lays it out: for each package, may it go, which marks, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from layouts.front.desk.consider import Considered
from layouts.front.desk.drawing import face_drawing, mark_drawing, standing_drawing
from layouts.job import faces_of
from layouts.particulars import mm, said, says_itself, size, title
from layouts.placement import NOWHERE, Placed, Placement
from layouts.planned import Planned
from marks.requirement import Finding, PackageDecision, Requirement
from marks.terms import Face, Level, Mode, VerdictWord

#: What a verdict is called, as on the command line, and its sign (shape, not colour, tells them apart).
VERDICTS = {VerdictWord.SHIP: "MAY GO", VerdictWord.REFUSE: "MAY NOT GO", VerdictWord.NOT_SUBJECT: "NOT SUBJECT"}
MODE_NAMES = {Mode.ROAD: "Road", Mode.SEA: "Sea", Mode.AIR: "Air", Mode.US_GROUND: "US ground"}
NOTHING_DRAWN = ("shipper", "consignee")


@dataclass(frozen=True)
class Said:
    """A finding and the modes that say it."""

    level: str
    text: str
    cite: str
    where: str


@dataclass(frozen=True)
class Mark:
    """One mark of the journey. picture: markup, or "" where it is not placed. modes: (name, asked) for each leg."""

    name: str
    words: str
    picture: str
    modes: tuple[tuple[str, bool], ...]
    faces: str
    size: str
    why: str
    cite: str
    there: bool


@dataclass(frozen=True)
class Spared:
    """A mark that is not asked for, and why."""

    name: str
    modes: str
    why: str
    cite: str


@dataclass(frozen=True)
class Answer:
    """All of one package or overpack. verdicts: (mode, verdict, words); pictures: markup."""

    what: str
    name: str
    id: str
    verdicts: tuple[tuple[str, str, str], ...]
    journey: tuple[str, str]
    refusals: tuple[Said, ...]
    cautions: tuple[Said, ...]
    notes: tuple[Said, ...]
    marks: tuple[Mark, ...]
    spared: tuple[Spared, ...]
    documents: tuple[tuple[str, str], ...]
    face: str
    standing: str


def answers_of(considered: Considered) -> tuple[Answer, ...]:
    """One for each package and overpack of a record that could be decided."""
    planned = considered.planned
    if planned is None:
        return ()
    pictures = not considered.stood_in
    return tuple(
        _answer(planned, i, what, decision, placement, pictures)
        for i, (what, decision, placement) in enumerate(every_pair(planned), 1)
    )


def every_pair(planned: Planned) -> Iterator[tuple[str, PackageDecision, Placement]]:
    """package or overpack, its decision, its placement."""
    for what, pairs in (("package", planned.pairs()), ("overpack", planned.overpack_pairs())):
        for decision, placement in pairs:
            yield what, decision, placement


def _answer(
    planned: Planned, number: int, what: str, decision: PackageDecision, placement: Placement, pictures: bool
) -> Answer:
    found = list(findings_of(decision, placement))
    drawn = pictures and placement is not NOWHERE and bool(placement.items)
    called = f"{what} {decision.package}"
    journey = planned.verdict_of(decision, placement)
    return Answer(
        what, decision.package, f"answer-{number}",
        tuple((MODE_NAMES[mode], one.verdict.value, VERDICTS[one.verdict]) for mode, one in decision.modes.items()),
        (journey.value, VERDICTS[journey]),
        tuple(one for one in found if one.level == Level.REFUSE),
        tuple(one for one in found if one.level == Level.CAUTION),
        tuple(one for one in found if one.level == Level.NOTE),
        tuple(_mark(one, decision, placement, pictures) for one in decision.marks),
        tuple(spared_of(decision)),
        tuple((MODE_NAMES[mode], line) for mode, one in decision.modes.items() for line in one.descriptions),
        face_drawing(placement, placement.working, face_words(placement, placement.working, called)) if drawn else "",
        standing_drawing(placement, f"The {called} as it stands, from the front right") if drawn else "",
    )  # fmt: skip


def findings_of(decision: PackageDecision, placement: Placement) -> Iterator[Said]:
    """Every finding once, the gravest first, with the modes that say it."""
    modes: dict[Finding, list[str]] = {}
    for mode, one in decision.modes.items():
        for finding in one.findings:
            modes.setdefault(finding, []).append(MODE_NAMES[mode])
    for finding in placement.findings:
        modes.setdefault(finding, []).append("Journey")
    order = list(Level)
    for finding, names in sorted(modes.items(), key=lambda pair: order.index(pair[0].level)):
        yield Said(finding.level.value, finding.text, "; ".join(finding.cite), ", ".join(names))


def mark_name(one: Requirement) -> str:
    """ "Hazard label 3", "UN number"."""
    return title(one)


def mark_words(one: Requirement) -> str:
    """The words printed on a mark; a hazard label is told by its name alone."""
    return "" if one.mark == "hazard-label" else said(one)


def _mark(one: Requirement, decision: PackageDecision, placement: Placement, pictures: bool) -> Mark:
    items = items_for(one, placement)
    hidden = not pictures and one.mark in NOTHING_DRAWN
    words = "" if hidden else mark_words(one)
    return Mark(
        words if words and says_itself(one) else mark_name(one),
        "" if says_itself(one) else words,
        mark_drawing(items[0].artwork) if items and not hidden else "",
        tuple((MODE_NAMES[mode], mode in one.modes) for mode in decision.modes),
        ", ".join(faces_of(one, placement)) or "no place",
        size(items[0]) if items else least_size(one),
        one.why, "; ".join(one.cite), one.preprinted,
    )  # fmt: skip


def items_for(one: Requirement, placement: Placement) -> tuple[Placed, ...]:
    """Where a mark of the journey stands."""
    return tuple(item for item in placement.items if item.requirement.key == one.key)


def least_size(one: Requirement) -> str:
    """The least size the law asks for, in words, mm."""
    if one.size_mm:
        return f"at least {mm(one.size_mm[0])} × {mm(one.size_mm[1])} mm"
    return f"letters at least {one.min_text_mm:g} mm" if one.min_text_mm else "legible"


def spared_of(decision: PackageDecision) -> Iterator[Spared]:
    """What is not asked for, each reason once with its modes."""
    rows: dict[tuple[str, str | None, str], tuple[list[str], list[str]]] = {}
    for mode, one in decision.modes.items():
        for waived in one.waived:
            modes, cite = rows.setdefault((waived.mark, waived.variant, waived.why), ([], []))
            modes.append(MODE_NAMES[mode])
            cite += [paragraph for paragraph in waived.cite if paragraph not in cite]
    for (mark, variant, why), (modes, cite) in rows.items():
        yield Spared(spoken_mark(mark, variant), ", ".join(modes), why, "; ".join(cite))


def spoken_mark(mark: str, variant: str | None) -> str:
    """A mark's name on the page, of its word in the plan."""
    name = {"un-number": "UN number", "ex-number": "EX number"}.get(mark, mark.replace("-", " ").capitalize())
    return f"{name} {variant}" if variant else name


def face_words(placement: Placement, face: Face, called: str) -> str:
    """What a drawing of a face shows, for those who do not see it."""
    return f"The {face} of {called}: {_each(placement.on(face))}"


def _each(items: Iterable[Placed]) -> str:
    parts = [
        f"{item.number}, {title(item.requirement)}, {mm(item.x)} mm from the left and {mm(item.y)} mm from the lower edge"
        for item in items
    ]
    return "; ".join(parts) or "no mark"
