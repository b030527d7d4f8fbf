"""The quiz: a package's marks are hidden until they are asked for, and what was ticked is held against them."""

from __future__ import annotations

from dataclasses import dataclass

from layouts.front.desk.answer import MODE_NAMES, VERDICTS, spoken_mark
from layouts.front.desk.folder import Folder
from layouts.front.desk.reply import Asked, Draw, Reply, elsewhere, page
from layouts.front.desk.trainer import compared, opened, picture
from layouts.front.desk.tree import part_text, to_text
from layouts.front.desk.trials import trial
from marks.compare import PackageComparison, Row
from marks.outside import MARK_NAMES
from marks.terms import Mode, VerdictWord

#: Marks a quiz asks about beside those the rules speak of, so that not every box is right somewhere.
ALSO = ("cargo-aircraft-only", "orientation-arrows", "environmentally-hazardous", "limited-quantity", "excepted-quantity",
        "battery", "keep-away-from-heat", "overpack")  # fmt: skip


@dataclass(frozen=True)
class Question:
    """One mark under one mode. ticked: the answer given; asked: the right one; said: how they agree, once shown; nothing
    where it was rightly left alone."""

    key: str
    name: str
    ticked: bool
    asked: bool
    said: str
    why: str
    cite: str
    picture: str


@dataclass(frozen=True)
class Paper:
    """The questions of one mode. may: the answer given to "may it go", yes, no or ""."""

    mode: str
    word: str
    may: str
    verdict: str
    may_right: bool
    questions: tuple[Question, ...]


def quiz(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """GET /quiz: the marks are hidden; POST: what was ticked is held against them."""
    looked_at = opened(folder, asked)
    if looked_at is None:
        return elsewhere("/")
    tree, record, number, line = looked_at
    alone = trial(tree, number, line, {}).tree
    comparison, faults = compared(to_text(alone))
    shown = comparison.packages[0] if comparison else None
    answered = asked.one("do") == "show"
    ticked = set(asked.every("mark"))
    papers = tuple(_paper(shown, mode, ticked, asked, answered) for mode in shown.verdicts) if shown else ()
    return page(
        draw("quiz.html", record=record, tree=tree, number=number, package=alone["packages"][0], papers=papers,
             faults=faults, answered=answered, text=part_text(alone["packages"][0], alone),
             score=_score(papers)),
        200 if shown else 422,
    )  # fmt: skip


def _paper(shown: PackageComparison, mode: Mode, ticked: set[str], asked: Asked, answered: bool) -> Paper:
    drawn = {(one.mark, one.variant): one for one in shown.decision.modes[mode].marks}
    rows: dict[tuple[str, str | None], Row | None] = {}
    for row in shown.rows:  # several names or numbers are one question
        had = rows.get((row.mark, row.variant))
        if had is None or (mode in row.cells and not (mode in had.cells and had.cells[mode].asked)):
            rows[(row.mark, row.variant)] = row
    for mark in ALSO:
        if all(name != mark for name, _ in rows):
            rows[(mark, None)] = None
    order = {name: place for place, name in enumerate(MARK_NAMES)}
    questions = []
    for (mark, variant), one in sorted(rows.items(), key=lambda pair: (order.get(pair[0][0], 99), pair[0][1] or "")):
        cell = one.cells.get(mode) if one else None
        wants = bool(cell and cell.asked)
        key = f"{mode} {mark} {variant or ''}".strip()
        said = ""
        if answered and key in ticked:
            said = "right" if wants else "too many: it is not asked for"
        elif answered and wants:
            said = "missed: it is asked for"
        questions.append(
            Question(key, spoken_mark(mark, variant), key in ticked, wants, said,
                     cell.why if cell else "no rule asks for it here", "; ".join(cell.cite) if cell else "",
                     picture(drawn.get((mark, variant))) if answered and wants else "")
        )  # fmt: skip
    may = asked.one(f"may {mode}")
    goes = shown.verdicts[mode] is not VerdictWord.REFUSE
    may_right = may == ("yes" if goes else "no")
    return Paper(MODE_NAMES[mode], mode.value, may, VERDICTS[shown.verdicts[mode]], may_right, tuple(questions))


def _score(papers: tuple[Paper, ...]) -> str:
    """How the answers stand, in words."""
    questions = [one for paper in papers for one in paper.questions]
    asked, found = sum(one.asked for one in questions), sum(one.asked and one.ticked for one in questions)
    extra = sum(one.ticked and not one.asked for one in questions)
    goes = sum(paper.may_right for paper in papers)
    return f"{found} of {asked} marks found, {extra} too many; {goes} of {len(papers)} verdicts right."
