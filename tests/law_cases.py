"""Law cases: a sentence, its source, a fragment of a record, and what must come out of it.

    [[case]]
    name = "bottles of 121 mL point up though absorbent surrounds them"     # a sentence, unique
    source = "UN Model Regulations 5.2.1.7.2 (b), from memory"              # or "common practice, no source"
    goods = { un = 1219, inner = { count = 12, holds = "121 mL", of = "glass bottle" } }    # or a list of them
    packed = "box"                       # one of PACKED below; box is meant where nothing is said
    package = { gross_mass = "12 kg" }   # keys of the package that differ from it
    without = ["spec_mark"]              # keys of it that are left out
    record = { aircraft = "cargo" }      # keys of the record that differ
    beside = true                        # another package, Z, unlike this one, is in the consignment
    overpack = { packages = ["A", "Z"] } # the case is about this overpack
    road = { must = ["hazard-label 3", "orientation-arrows"], not = ["proper-shipping-name"] }

A mode that is named is decided, and its verdict asserted: ``ship`` where nothing else is said, ``refuse`` where
``refuse`` lists the codes of its refusals (all of them). The other keys of a mode:

must, not, waived: marks ("hazard-label 3", or "hazard-label" for any). preprinted: marks that are not printed again.
caution, note: codes that come out, all of them but for those of USUAL, which may and need not be named; silent: codes
that do not, or their first words ("inside" for "inside-open").
words: a mark's lines. lettering: the least height of the UN number in mm, 0 for none. opposite: marks on two opposite
faces, all of them but arrows and labels of class 7, which always stand so; single: marks on one; count: how many of a
mark there are. cite: a paragraph given for or against a mark, or for a finding by its code. why: words of the reason of
a mark (asked for or waived) or of a finding, by its code; after "=" all of them. unsaid: marks that are neither asked
for nor waived.
description: the line for the document. journey: the same for the union over the modes named.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from marks.decide import decide
from marks.reading import record_from
from marks.record import Record
from marks.requirement import Finding, ModeDecision, PackageDecision, Requirement, Waived, Where
from marks.terms import Level

LAW = Path(__file__).with_name("law")
MODES = ("road", "sea", "air", "us-ground")
KEYS = {"name", "source", "goods", "packed", "package", "without", "record", "beside", "overpack", "journey", *MODES}
EXPECTED = {
    "verdict", "must", "not", "waived", "preprinted", "refuse", "caution", "note", "silent", "words", "lettering",
    "opposite", "single", "count", "cite", "description", "why", "unsaid",
}  # fmt: skip

#: What comes with many packages, as a fragment of a record leaves so much open, or as a reminder of their kind.
USUAL = {
    "not-decided", "special-provisions", "substance-not-stated", "packing-group-open", "spec-mark-open",
    "inner-pressure-open", "liquid-figures-open", "ullage-open", "stacking-symbol", "approval-marks", "inside-open",
    "inner-mass-open", "limited-tray", "second-closure", "excepted-packaging", "excepted-loading", "large-instruction",
    "small-battery-conditions", "maker-of-package", "overpack-upright", "overpack-language", "cylinder-labels",
}  # fmt: skip

BOX = {"length": "400 mm", "width": "300 mm", "height": "300 mm"}
DRUM = {"diameter": "585 mm", "height": "880 mm"}
#: Packages to begin with. The specification marks cover everything a case does not mean to test.
PACKED: dict[str, dict[str, Any]] = {
    "box": {"packaging": "4G", "spec_mark": "4G/X50/S/26/N/Fjellkasse", "size": BOX, "gross_mass": "20 kg"},
    "bare": {"packaging": "none", "form": "box", "size": BOX, "gross_mass": "20 kg"},
    "drum": {
        "packaging": "1A1", "spec_mark": "1A1/X1.8/300/26/N/Fjellkasse", "size": DRUM, "capacity": "216 L",
        "gross_mass": "240 kg",
    },
    "open drum": {
        "packaging": "1A2", "spec_mark": "1A2/X250/S/26/N/Fjellkasse", "size": DRUM, "gross_mass": "120 kg",
    },
    "jerrican": {
        "packaging": "3H1", "spec_mark": "3H1/X1.9/250/26/N/Fjellkasse", "capacity": "22 L", "gross_mass": "25 kg",
        "size": {"length": "290 mm", "width": "245 mm", "height": "390 mm"},
    },
    "cylinder": {
        "packaging": "cylinder", "size": {"diameter": "230 mm", "height": "1500 mm"}, "water_capacity": "50 L",
        "gross_mass": "90 kg",
    },
    "v box": {
        "packaging": "4GV", "spec_mark": "4GV/X12/S/26/N/Fjellkasse", "size": BOX, "gross_mass": "9 kg", "liner": "true",
        "certificate": {
            "inner_gross_mass": "6 kg",
            "distances": {"bottom": "20 mm", "sides": "20 mm", "between": "20 mm", "top": "20 mm"},
        },
    },
    "ibc": {
        "packaging": "31HA1", "spec_mark": "31HA1/Y/05 25/N/Fjellkasse/3600/1950", "capacity": "1000 L",
        "size": {"length": "1200 mm", "width": "1000 mm", "height": "1160 mm"}, "gross_mass": "1000 kg",
        "inspected": "2025-05-20",
    },
    "dry ibc": {
        "packaging": "11A", "spec_mark": "11A/Y/05 25/N/Fjellkasse/3600/1950", "capacity": "1000 L",
        "size": {"length": "1200 mm", "width": "1000 mm", "height": "1160 mm"}, "gross_mass": "1200 kg",
        "inspected": "2025-05-20",
    },
    "large": {
        "packaging": "50G", "spec_mark": "50G/Y/05 25/N/Fjellkasse 1200/600", "gross_mass": "500 kg",
        "size": {"length": "1200 mm", "width": "800 mm", "height": "1000 mm"},
    },
}  # fmt: skip
BESIDE = {
    "package": "Z", "packaging": "4G", "spec_mark": "4G/X50/S/26/N/Fjellkasse", "size": BOX, "gross_mass": "6 kg",
    "goods": [{"un": "1294", "inner": {"count": 2, "holds": "1 L", "of": "glass bottle"}}],
}  # fmt: skip
RECORD: dict[str, Any] = {
    "record": "sixface/1",
    "reference": "LAW",
    "date": "2026-11-25",
    "shipper": {"name": "Havdur Kjemi AS", "address": ["Sandviksveien 9", "5003 Bergen"], "country": "NO"},
    "consignee": {"name": "Lindholm Laborbedarf", "address": ["Am Speicher 4", "24103 Kiel"], "country": "DE"},
}


@dataclass(frozen=True, eq=False)
class LawCase:
    """One case of tests/law; ``file`` is its subject."""

    file: str
    name: str
    source: str
    given: dict[str, Any]

    @property
    def modes(self) -> tuple[str, ...]:
        return tuple(mode for mode in MODES if mode in self.given)

    def record(self) -> Record:
        """The record the fragment stands for."""
        goods = self.given["goods"]
        package = PACKED[self.given.get("packed", "box")] | self.given.get("package", {})
        package |= {"package": "A", "goods": goods if isinstance(goods, list) else [goods]}
        package = {key: value for key, value in package.items() if key not in self.given.get("without", ())}
        beside = [BESIDE] if self.given.get("beside") else []
        over = [{"overpack": "P"} | self.given["overpack"]] if "overpack" in self.given else []
        whole = {"modes": list(self.modes), "packages": [package, *beside], "overpacks": over}
        return record_from(RECORD | whole | self.given.get("record", {}))

    def decision(self) -> PackageDecision:
        decided = decide(self.record())
        return decided.overpacks[0] if "overpack" in self.given else decided.packages[0]


def cases() -> Iterator[LawCase]:
    """Every case, file by file."""
    for path in sorted(LAW.glob("*.toml")):
        for given in tomllib.loads(path.read_text("utf-8"))["case"]:
            yield LawCase(path.stem, given.get("name", ""), given.get("source", ""), given)


def shown(one: Requirement | Waived) -> str:
    """ "hazard-label 3"."""
    return f"{one.mark} {one.variant}" if one.variant else one.mark


def fits(wanted: str, one: Requirement | Waived) -> bool:
    """Whether "hazard-label 3" or "hazard-label" speaks of a mark."""
    return wanted in (one.mark, shown(one))


def faults(expected: dict[str, Any], decided: ModeDecision, whole: bool = True) -> Iterator[str]:
    """What differs from the expectation; nothing where all is as it must be. whole: every caution and note is named."""
    if unknown := set(expected) - EXPECTED:
        yield f"the case has unknown keys: {unknown}"
    codes = {level: {one.code for one in decided.findings if one.level is level} for level in Level}
    refused = set(expected.get("refuse", ()))
    verdict = expected.get("verdict", "refuse" if refused else "ship")
    if decided.verdict != verdict:
        yield f"verdict {decided.verdict}, expected {verdict}"
    if codes[Level.REFUSE] != refused:
        yield f"refusals {sorted(codes[Level.REFUSE])}, expected {sorted(refused)}"
    for level in (Level.CAUTION, Level.NOTE):
        named = set(expected.get(level.value, ()))
        yield from (f"no {level} {code}" for code in sorted(named - codes[level]))
        more = codes[level] - named - USUAL if whole else ()
        yield from (f"{level} {code}, which the case does not name" for code in sorted(more))
    for code in expected.get("silent", ()):
        if any(one == code or one.startswith(f"{code}-") for found in codes.values() for one in found):
            yield f"{code} must not come out"
    yield from _marks(expected, decided.marks, decided.waived, decided.findings)
    for one in decided.marks if whole else ():
        twice = one.mark == "orientation-arrows" or (one.mark, one.variant) in _CLASS_SEVEN
        twice = twice or any(fits(named, one) for named in expected.get("opposite", ()))
        if (one.where is Where.TWO_OPPOSITE) != twice:
            yield f"{shown(one)} stands on faces: {one.where}, which the case does not say"
    for unwanted in expected.get("unsaid", ()):
        if any(fits(unwanted, one) for one in (*decided.marks, *decided.waived)):
            yield f"{unwanted} is spoken of"
    if "description" in expected and expected["description"] not in decided.descriptions:
        yield f"described as {decided.descriptions}, expected {expected['description']}"


#: On two opposite sides of package and overpack: ADR 5.2.2.1.11.1, from memory.
_CLASS_SEVEN = {("hazard-label", variant) for variant in ("7-I", "7-II", "7-III", "7E")}


def _marks(
    expected: dict[str, Any], marks: Iterable[Requirement], waived: Iterable[Waived], findings: Iterable[Finding] = ()
) -> Iterator[str]:
    for wanted in expected.get("must", ()):
        if not any(fits(wanted, one) for one in marks):
            yield f"{wanted} is not asked for"
    for wanted in expected.get("not", ()):
        if any(fits(wanted, one) for one in marks):
            yield f"{wanted} is asked for"
    for wanted in expected.get("waived", ()):
        if not any(fits(wanted, one) for one in waived) or any(fits(wanted, one) for one in marks):
            yield f"{wanted} is not waived"
    for one in marks:
        if one.preprinted != any(fits(wanted, one) for wanted in expected.get("preprinted", ())):
            yield f"{shown(one)}: preprinted is {one.preprinted}"
    for wanted, words in expected.get("words", {}).items():
        if not any(fits(wanted, one) and list(one.words) == words for one in marks):
            yield f"{wanted} does not read {words}, but {[one.words for one in marks if fits(wanted, one)]}"
    for key, where in (("opposite", Where.TWO_OPPOSITE), ("single", Where.ONE)):
        for wanted in expected.get(key, ()):
            if not any(fits(wanted, one) and one.where is where for one in marks):
                yield f"{wanted} stands otherwise than {key}"
    for wanted, number in expected.get("count", {}).items():
        if (found := sum(fits(wanted, one) for one in marks)) != number:
            yield f"{wanted} is asked for {found} times, expected {number}"
    if "lettering" in expected:
        heights = {float(one.measures.get("lettering", 0)) for one in marks if one.mark == "un-number"}
        if heights != {float(expected["lettering"])}:
            yield f"the UN number has {heights} mm, expected {expected['lettering']}"
    for wanted, paragraph in expected.get("cite", {}).items():
        cited = [one.cite for one in (*marks, *waived) if fits(wanted, one)]
        cited += [one.cite for one in findings if one.code == wanted]
        if not any(paragraph in cite for cite in cited):
            yield f"{wanted} cites {cited}, expected {paragraph}"
    for wanted, words in expected.get("why", {}).items():
        said = [one.why for one in (*marks, *waived) if fits(wanted, one)]
        said += [one.text for one in findings if one.code == wanted]
        if not any(words[1:] == one if words[0] == "=" else words in one for one in said):
            yield f"{wanted} is because of {said}, expected {words}"


def journey_faults(expected: dict[str, Any], decided: PackageDecision) -> Iterator[str]:
    """The same for the union over the legs."""
    if unknown := set(expected) - {"verdict", "must", "not", "words", "preprinted", "cite", "why"}:
        yield f"the journey has unknown keys: {unknown}"
    if decided.verdict != expected.get("verdict", "ship"):
        yield f"verdict {decided.verdict}, expected {expected.get('verdict', 'ship')}"
    yield from _marks(expected, decided.marks, ())


def told(decided: ModeDecision) -> str:
    """A decision in full, for the message of a failing case."""
    lines = [f"{decided.mode}: {decided.verdict}"]
    lines += [f"  must    {shown(one)} {list(one.words)}: {one.why} {list(one.cite)}" for one in decided.marks]
    lines += [f"  waived  {shown(one)}: {one.why} {list(one.cite)}" for one in decided.waived]
    lines += [f"  {one.level:<7} {one.code}: {one.text} {list(one.cite)}" for one in decided.findings]
    return "\n".join(lines)


def uncited(decided: ModeDecision) -> Iterator[str]:
    """Answers of safety without a paragraph: none may be."""
    for one in (*decided.marks, *decided.waived):
        if not one.cite or not all(paragraph.strip() for paragraph in one.cite):
            yield f"{shown(one)}: {one.why}"
    for finding in decided.findings:
        if _needs_paragraph(finding) and not finding.cite:
            yield f"{finding.code}: {finding.text}"


def misplaced(case: LawCase, decided: ModeDecision) -> Iterator[str]:
    """Marks of a package that name goods which are not there; the first line of goods has place 0."""
    goods = case.given["goods"]
    count = len(goods) if isinstance(goods, list) else 1
    if "overpack" not in case.given:
        yield from (
            f"{shown(one)} is of goods {one.goods}" for one in decided.marks if not set(one.goods) <= set(range(count))
        )


def _needs_paragraph(finding: Finding) -> bool:
    return finding.level is not Level.NOTE or finding.code != "not-decided"
