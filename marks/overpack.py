"""Step 2 for overpacks: what of the packages inside has to be seen again outside, and the word OVERPACK.

49 CFR 173.25(a) for the US highway; ADR and IMDG 5.1.2, ICAO TI 5;2.4.10 from memory. An overpack is decided after its
packages and answers in the same form; it is drawn and placed like a package.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from msgspec.structs import replace

from marks.case import Case, listed
from marks.journey import journey
from marks.mixed import reacting
from marks.overpacked import Inside, total
from marks.requirement import Finding, ModeDecision, PackageDecision, Requirement, Waived, Where
from marks.rule import caution, merged, note, refuse
from marks.tables import measures_for
from marks.terms import Level, Mode, PackingGroup, ShipAs, VerdictWord

if TYPE_CHECKING:
    from marks.record import Overpack, Record

_CITE = {
    Mode.ROAD: "ADR 5.1.2.1",
    Mode.SEA: "IMDG 5.1.2.1",
    Mode.AIR: "ICAO TI 5;2.4.10",
    Mode.US_GROUND: "49 CFR 173.25(a)",
}
_ARROWS = {
    Mode.ROAD: "ADR 5.1.2.1 (b)",
    Mode.SEA: "IMDG 5.1.2.1",
    Mode.AIR: "ICAO TI 5;3.2.12",
    Mode.US_GROUND: "49 CFR 173.25(a)(3)",
}
_LIMITED = {
    Mode.ROAD: "ADR 3.4.11",
    Mode.SEA: "IMDG 3.4.5.4",
    Mode.AIR: "ICAO TI 3;4.5",
    Mode.US_GROUND: "49 CFR 173.25(a)(6)",
}
_EXCEPTED = {
    Mode.ROAD: "ADR 3.5.4.3",
    Mode.SEA: "IMDG 3.5.4.3",
    Mode.AIR: "ICAO TI 3;5.4.3",
    Mode.US_GROUND: "49 CFR 173.4a(g)(4)",
}
_APART = {Mode.SEA: "IMDG 5.1.2.4", Mode.AIR: "ICAO TI 5;1.1"}
#: What says how much one package holds is not repeated: an overpack shows its own total, by air.
_OF_ONE = ("net-quantity", "gross-mass")


def decide_overpack(
    overpack: Overpack,
    record: Record,
    decisions: Mapping[str, PackageDecision],
    cases: Mapping[str, Mapping[Mode, Case]],
) -> PackageDecision:
    """One overpack under each mode, then the union over the journey. decisions, cases: of the packages, by letter."""
    counts = {letter: overpack.packages.count(letter) for letter in dict.fromkeys(overpack.packages)}
    modes = {
        mode: _decide(
            overpack,
            record,
            Inside(
                mode,
                counts,
                {one: decisions[one].modes[mode] for one in counts},
                {one: cases[one][mode] for one in counts},
            ),
        )
        for mode in next(iter(cases.values()))
    }
    verdict, marks = journey(modes)
    return PackageDecision(overpack.overpack, 1, modes, verdict, marks)


def _decide(overpack: Overpack, record: Record, inside: Inside) -> ModeDecision:
    if not inside.subject:
        why = "nothing in it is subject to the rules of this mode"
        return ModeDecision(
            inside.mode, VerdictWord.NOT_SUBJECT, waived=(Waived("overpack", why, (_CITE[inside.mode],)),)
        )
    answers = [*_repeated(overpack, inside), *_word(overpack, inside), *total(overpack, record, inside)]
    required = merged(a for a in answers if isinstance(a, Requirement))
    findings = tuple(dict.fromkeys(_findings(overpack, record, inside, bool(required))))
    asked = {(one.mark, one.variant) for one in required}
    waived = tuple(dict.fromkeys(a for a in answers if isinstance(a, Waived) and (a.mark, a.variant) not in asked))
    refused = any(one.level is Level.REFUSE for one in findings)
    verdict = VerdictWord.REFUSE if refused else VerdictWord.SHIP
    return ModeDecision(inside.mode, verdict, required, waived, findings, _described(overpack, inside))


def _repeated(overpack: Overpack, inside: Inside) -> Iterator[Requirement | Waived]:
    """Every mark and label of the packages once, unless all of them can be read from outside."""
    bearers: dict[tuple[str, str | None, tuple[str, ...]], list[str]] = {}
    for letter in inside.subject:
        for one in inside.decisions[letter].marks:
            bearers.setdefault(one.key, []).append(letter)
    for letter in inside.subject:
        for one in inside.decisions[letter].marks:
            cite = (_ARROWS if one.mark == "orientation-arrows" else _CITE)[inside.mode]
            if one.mark in _OF_ONE:
                yield Waived(one.mark, "it tells of one package, not of the overpack", (cite,))
            elif overpack.marks_visible:
                yield Waived(one.mark, "it can be read on the packages inside", (cite,), one.variant)
            else:
                yield _again(one, listed(bearers[one.key]), cite, inside.goods(letter, one.goods))


def _again(one: Requirement, bearers: str, cite: str, goods: tuple[int, ...]) -> Requirement:
    """A package's mark as the overpack bears it: printed, once; arrows on two opposite sides, and labels of class 7, of
    which ADR 5.2.2.1.11.1 says so of overpacks too (from memory)."""
    seven = one.mark == "hazard-label" and (one.variant or "").startswith("7")
    where = Where.TWO_OPPOSITE if one.mark == "orientation-arrows" or seven else Where.ONE
    why = f"borne by package {bearers} and not to be seen from outside"
    paragraphs = tuple(dict.fromkeys((cite, *one.cite)))
    return replace(one, why=why, cite=paragraphs, where=where, preprinted=False, goods=goods)


def _word(overpack: Overpack, inside: Inside) -> Iterator[Requirement | Waived]:
    """OVERPACK, 12 mm high; not where all marks can be read, and not round excepted quantities alone.

    Round limited quantities alone ADR, IMDG and the Technical Instructions ask for it (from memory), US law does not.
    """
    mode = inside.mode
    if overpack.marks_visible:
        yield Waived("overpack", "the marks of every kind of package inside can be read from outside", (_CITE[mode],))
    elif inside.all_are(ShipAs.EXCEPTED):
        yield Waived(
            "overpack", "excepted quantities alone: the mark is repeated, the word is not asked for", (_EXCEPTED[mode],)
        )
    elif inside.all_are(ShipAs.LIMITED) and mode is Mode.US_GROUND:
        yield Waived("overpack", "limited quantities need no packagings of the UN standards", ("49 CFR 173.25(a)(4)",))
    else:
        cite = (_CITE[mode], _LIMITED[mode]) if inside.all_are(ShipAs.LIMITED) else (_CITE[mode],)
        measures = measures_for("overpack", None, next(iter(inside.cases.values())).on)
        why = "the marks of the packages inside cannot be read from outside"
        yield Requirement("overpack", why, cite, words=("OVERPACK",), measures=measures, modes=(mode,))


def _findings(overpack: Overpack, record: Record, inside: Inside, marked: bool) -> Iterator[Finding]:
    mode = inside.mode
    refused = [letter for letter, one in inside.decisions.items() if one.verdict is VerdictWord.REFUSE]
    if refused:
        yield refuse(
            "overpack-package-refused",
            f"package {listed(refused)} may not travel so; each package of an overpack fulfils the rules by itself",
            {Mode.ROAD: "ADR 5.1.2.2", Mode.SEA: "IMDG 5.1.2.2"}.get(mode, _CITE[mode]),
        )
    yield from _radioactive(inside)
    yield from _alone(inside)
    if overpack.size is None and marked:
        yield caution(
            "overpack-size-open",
            "the record gives no size, so its marks are listed and not placed or printed; write size",
            _CITE[mode],
        )
    if mode is Mode.AIR:
        yield from _cargo_only(inside)
    if mode in _APART:
        yield from _reacting(inside)
    if mode is Mode.ROAD and not overpack.marks_visible:
        yield note(
            "overpack-language",
            "the word OVERPACK stands in an official language of the country of origin "
            f"({record.shipper.country_name}) and, where that is not English, French or German, in one of these too "
            "(from memory); it is printed in English",
            "ADR 5.1.2.1 (a)",
        )
    if any(one.mark == "orientation-arrows" for letter in inside.subject for one in inside.decisions[letter].marks):
        text = "packages with arrows stand in it as their arrows point; its own arrows point the same way"
        yield note(
            "overpack-upright", text, {Mode.ROAD: "ADR 5.1.2.3", Mode.SEA: "IMDG 5.1.2.3"}.get(mode, _ARROWS[mode])
        )


def _radioactive(inside: Inside) -> Iterator[Finding]:
    """An overpack of radioactive material has labels of its own, by the sum of transport indices; excepted ones not."""
    marks = (one for letter in inside.subject for one in inside.decisions[letter].marks)
    if any(one.mark == "hazard-label" and (one.variant or "").startswith("7") for one in marks):
        yield refuse(
            "overpack-radioactive",
            "it holds radioactive material: the category of its labels follows from the sum of the transport indices "
            "and the dose rate at its own surface, which this program does not decide; mark it by hand, or send the "
            "packages loose",
            {Mode.ROAD: "ADR 5.1.5.3.3", Mode.SEA: "IMDG 5.1.5.3.3", Mode.AIR: "ICAO TI 5;1.2.3"}.get(
                inside.mode, "49 CFR 172.403(h)"
            ),
        )


def _alone(inside: Inside) -> Iterator[Finding]:
    """49 CFR 173.25(a)(5): class 8 and division 5.1 of packing group I are overpacked with nothing else."""
    if inside.mode is not Mode.US_GROUND or len({content.entry.id for content in inside.contents}) < 2:
        return
    for content in inside.contents:
        hazard = content.entry.division or content.entry.hazard_class
        if content.group is PackingGroup.I and hazard in ("8", "5.1"):
            yield refuse(
                "overpack-alone",
                f"{content.described_as()}: class {hazard} of packing group I is not overpacked with other materials",
                "49 CFR 173.25(a)(5)",
            )


def _reacting(inside: Inside) -> Iterator[Finding]:
    """Goods that must be kept apart from each other do not stand in one overpack (from memory; the table is not held)."""
    entries = {content.entry.id: content for content in inside.contents}
    for said in reacting(tuple(entries.values())):
        yield caution(
            "overpack-together",
            f"{said}; goods that must be kept apart do not stand in one overpack (from memory): look at the "
            "segregation table",
            _APART[inside.mode],
        )


def _cargo_only(inside: Inside) -> Iterator[Finding]:
    """Packages for cargo aircraft alone must be seen and reached in flight (ICAO TI 5;1.1, 7;2.4.1, from memory)."""
    marked = [
        one for one in inside.subject if any(m.mark == "cargo-aircraft-only" for m in inside.decisions[one].marks)
    ]
    if marked and sum(inside.counts.values()) > 1:
        yield caution(
            "overpack-cargo-only",
            f"package {listed(marked)} is for cargo aircraft only: several packages stand in such an overpack only so "
            "that each can be seen and reached (from memory; some classes are excepted); a person decides",
            "ICAO TI 7;2.4.1",
        )


def _described(overpack: Overpack, inside: Inside) -> tuple[str, ...]:
    """By air the declaration says that an overpack is used and what it holds (ICAO TI 5;4.1.5, from memory)."""
    held = listed(f"{count} x package {letter}" for letter, count in inside.counts.items())
    return (f"Overpack used: {overpack.overpack}, {held}",) if inside.mode is Mode.AIR else ()
