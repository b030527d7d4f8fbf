"""The register of rules. A rule is one small generator with declared metadata; it says what a package needs and why.

    @rule("orientation-arrows", cite={Mode.ROAD: "ADR 5.2.1.10.1", ...}, spared={ShipAs.EXCEPTED: EVERY_MODE})
    def arrows(case):
        yield Needs("bottles of liquid stand in the box", where=Where.TWO_OPPOSITE)

The register adds mark name, measures, paragraph and mode, so a rule's body speaks of law alone. ``spared`` names the
reliefs under which the mark is not asked for at all: the register then answers with the waiver and its paragraph.
A rule whose mark the mode does not know (no paragraph under ``cite``) answers with ``elsewhere`` as a waiver.
A mark that exists for a few goods alone has ``concerns``: of every other package such a rule says nothing at all.
A rule that is asked ``always`` speaks also of goods that a provision takes out of the other rules (``marks.freed``,
``marks.beyond.outside``): the battery mark of small batteries, the words on a package cooled with dry ice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal

from msgspec import Struct, field
from msgspec.structs import replace

from marks.case import Case
from marks.freed import freed
from marks.requirement import Finding, Requirement, Waived, Where
from marks.tables import measures_for
from marks.terms import Level, Mode, ShipAs

EVERY_MODE = (Mode.ROAD, Mode.SEA, Mode.AIR)
SURFACE = (Mode.ROAD, Mode.SEA)

RELIEF_PARAGRAPHS: Mapping[ShipAs, Mapping[Mode, str]] = {
    ShipAs.LIMITED: {
        Mode.ROAD: "ADR 3.4.1",
        Mode.SEA: "IMDG 3.4.1",
        Mode.AIR: "ICAO TI 3;4",
        Mode.US_GROUND: "49 CFR 173.150(b) to 173.155(b), 173.306",
    },
    ShipAs.EXCEPTED: {
        Mode.ROAD: "ADR 3.5.1.1",
        Mode.SEA: "IMDG 3.5.1.1",
        Mode.AIR: "ICAO TI 3;5.1",
        Mode.US_GROUND: "49 CFR 173.4a(a)",
    },
}
RELIEF_WORDS = {
    ShipAs.LIMITED: "shipped as a limited quantity: the limited quantity mark stands in its place",
    ShipAs.EXCEPTED: "shipped as an excepted quantity: the excepted quantity mark stands in its place",
}


class Needs(Struct, frozen=True):
    """The mark is asked for.

    measures: replaces the table's lengths where the rule has to choose among them. cite: replaces the rule's paragraph
    where this reason has one of its own; ``also`` adds to it.
    """

    why: str
    variant: str | None = None
    words: tuple[str, ...] = ()
    where: Where = Where.ONE
    group: str | None = None
    goods: tuple[int, ...] = ()
    also: tuple[str, ...] = ()
    measures: Mapping[str, Decimal] | None = None
    cite: tuple[str, ...] = ()


class Spares(Struct, frozen=True):
    """The mark is not asked for, and why."""

    why: str
    variant: str | None = None
    also: tuple[str, ...] = ()
    cite: tuple[str, ...] = ()


Answer = Needs | Spares | Finding


def every_package(case: Case) -> bool:
    """What ``concerns`` is where a rule speaks of every package."""
    return True


class Rule(Struct, frozen=True):
    """A registered rule: which mark it decides, by which paragraph of each mode."""

    name: str
    mark: str
    cite: Mapping[Mode, str]
    decide: Callable[[Case], Iterable[Answer]]
    spared: Mapping[ShipAs, tuple[Mode, ...]] = field(default_factory=dict)
    elsewhere: str = ""
    concerns: Callable[[Case], bool] = every_package
    always: bool = False

    def answers(self, case: Case) -> Iterator[Requirement | Waived | Finding]:
        """The rule's answers for one package under one mode, complete with paragraphs, measures and mode."""
        mode = case.mode
        if not self.concerns(case):
            return
        if mode in self.spared.get(case.relief, ()):
            yield Waived(self.mark, RELIEF_WORDS[case.relief], (RELIEF_PARAGRAPHS[case.relief][mode],))
            return
        if mode not in self.cite:
            if self.elsewhere and not _decided_by_another(self, case):
                yield Waived(self.mark, self.elsewhere, tuple(sorted(set(self.cite.values()))))
            return
        if not self.always:
            free = {content.index: reason for content in case.contents if (reason := freed(self.mark, content, case))}
            yield from (Waived(self.mark, why, cite) for why, cite in free.values())
            case = replace(case, contents=tuple(content for content in case.contents if content.index not in free))
            if not case.contents:
                return
        for answer in self.decide(case):
            if isinstance(answer, Needs):
                yield self._requirement(answer, case)
            elif isinstance(answer, Spares):
                cite = answer.cite or (self.cite[mode], *answer.also)
                yield Waived(self.mark, answer.why, cite, answer.variant)
            else:
                yield answer

    def _requirement(self, answer: Needs, case: Case) -> Requirement:
        measures = answer.measures
        return Requirement(
            mark=self.mark,
            why=answer.why,
            cite=(*(answer.cite or (self.cite[case.mode],)), *answer.also),
            variant=answer.variant,
            words=answer.words,
            where=answer.where,
            group=answer.group,
            measures=measures_for(self.mark, answer.variant, case.on) if measures is None else measures,
            preprinted=case.preprinted(self.mark, answer.variant),
            goods=answer.goods or case.indices(),
            modes=(case.mode,),
        )


RULES: list[Rule] = []


def _decided_by_another(one: Rule, case: Case) -> bool:
    """Whether the mode has a rule of its own for the mark on this package, as US law has for most."""
    return any(other.mark == one.mark and case.mode in other.cite and other.concerns(case) for other in RULES)


def rule(
    mark: str,
    *,
    cite: Mapping[Mode, str],
    spared: Mapping[ShipAs, tuple[Mode, ...]] | None = None,
    elsewhere: str = "",
    concerns: Callable[[Case], bool] = every_package,
    always: bool = False,
) -> Callable[[Callable[[Case], Iterable[Answer]]], Rule]:
    """Register a generator of answers as the rule for ``mark``; ``elsewhere`` is why other modes do without it."""

    def register(decide: Callable[[Case], Iterable[Answer]]) -> Rule:
        made = Rule(decide.__name__, mark, cite, decide, spared or {}, elsewhere, concerns, always)
        RULES.append(made)
        return made

    return register


def refuse(code: str, text: str, *cite: str) -> Finding:
    """A finding by which the package may not travel so; cite: paragraphs."""
    return Finding(Level.REFUSE, code, text, cite)


def caution(code: str, text: str, *cite: str) -> Finding:
    """A finding a person must decide or verify."""
    return Finding(Level.CAUTION, code, text, cite)


def note(code: str, text: str, *cite: str) -> Finding:
    """A finding that is good to know."""
    return Finding(Level.NOTE, code, text, cite)


def merged(requirements: Iterable[Requirement]) -> tuple[Requirement, ...]:
    """One requirement for each printed mark: what asks for a mark twice is joined, reasons and paragraphs kept."""
    found: dict[tuple[str, str | None, tuple[str, ...]], Requirement] = {}
    for one in requirements:
        had = found.get(one.key)
        if had is None:
            found[one.key] = one
            continue
        stricter = {k: max(had.measures.get(k, v), v) for k, v in one.measures.items()}
        found[one.key] = replace(
            had,
            why=had.why if one.why in had.why else f"{had.why}; {one.why}",
            cite=tuple(dict.fromkeys((*had.cite, *one.cite))),
            where=Where.TWO_OPPOSITE if Where.TWO_OPPOSITE in (had.where, one.where) else Where.ONE,
            group=had.group or one.group,
            measures={**had.measures, **stricter},
            goods=tuple(sorted({*had.goods, *one.goods})),
            modes=tuple(mode for mode in Mode if mode in (*had.modes, *one.modes)),
        )
    return tuple(found.values())
