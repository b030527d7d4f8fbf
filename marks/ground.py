"""49 CFR on the highway: what is said of a content or a package before any mark is asked for. Read by step 2."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content
from marks.goods import us
from marks.ground_substance import reportable
from marks.quantity import show
from marks.requirement import Finding
from marks.rule import caution, note, refuse
from marks.terms import ShipAs


def outside(content: Content, case: Case) -> tuple[str, str] | None:
    """Why a content is not subject to 49 CFR on the highway, with the paragraph; None where it is subject."""
    others = us.bound_by(content.entry)
    if others and not reportable(content, case):
        only = " and ".join(others)
        return (
            f"{content.described_as()}: the list binds it by {only} only, unless it is a hazardous substance or waste",
            "49 CFR 172.101(b)",
        )
    return None


def entry(content: Content) -> Iterator[Finding]:
    """What stops a content before any mark is asked for: no US line, a symbol that bars it."""
    if not content.entry.us_source:
        yield refuse(
            "entry-not-held",
            f"{content.described_as()}: the list holds no US line of this entry; choose an entry of the Hazardous "
            "Materials Table, or look it up there",
            "49 CFR 172.101",
        )
    sections = [one for one in us.sections(content.entry) if one not in _READ]
    if sections:
        yield caution(
            "exceptions-not-held",
            f"{content.described_as()}: column 8A names {', '.join(f'173.{one}' for one in sections)}, whose reliefs "
            "are not held; marked as a package without them",
            "49 CFR 172.101 column 8A",
        )


#: Sections of column 8A this program follows: limited quantities by class, 4b (de minimis) as a note.
_READ = ("150", "151", "152", "153", "154", "155", "306", "4b")
#: Special provisions followed: inhalation hazard and its zones (172.102(c)(1)).
_FOLLOWED = (*us.ZONES, us.WITHOUT_ZONE, us.IF_IT_IS)


def provisions(case: Case) -> Iterator[Finding]:
    """The special provisions of column 7 that are not followed: bare numbers, and N (non-bulk packagings)."""
    for content in case.contents:
        left = [
            one
            for one in content.entry.us_provisions
            if (one.isdigit() and one not in _FOLLOWED) or (one[0] == "N" and one[1:].isdigit())
        ]
        if left:
            yield note(
                "special-provisions",
                f"{content.described_as()}: read the special provisions of the entry, which this program does not "
                f"follow: {', '.join(left)}",
                "49 CFR 172.102",
            )


def coolant(case: Case) -> Iterator[Finding]:
    """Dry ice as coolant is bound by aircraft and vessel alone (172.101 column 1, 173.217); others are not decided."""
    held = case.package.coolant
    if held is None:
        return
    if held.un.removeprefix("UN") == "1845":
        yield note(
            "dry-ice-by-highway",
            f"cooled with {show(held.mass)} of dry ice: US law binds dry ice by aircraft and vessel only, so the "
            "highway asks for no mark of it; the packaging must let the gas out",
            "49 CFR 173.217",
        )
    else:
        yield refuse(
            "coolant-not-held",
            f"the package is cooled with UN {held.un}: this version does not decide the marks of that coolant; take "
            "them from the regulations, or write it as goods of its own",
            "49 CFR 172.101",
        )


def asks_technical_name(content: Content, case: Case) -> bool:
    """Symbol G (172.203(k)); not where neither mark nor highway paper names the goods."""
    return content.entry.us_technical_name and case.relief is not ShipAs.EXCEPTED and not freed_by_limited(case)


def freed_by_limited(case: Case) -> bool:
    """Whether the limited quantity mark frees of number, name and address: not with a hazardous substance."""
    return case.relief is ShipAs.LIMITED and not any(reportable(content, case) for content in case.contents)


def differences(content: Content) -> Iterator[str]:
    """Where the US line says other things than the road's: for a person who knows the one and ships by the other."""
    entry = content.entry
    if us.names_differ(entry, content.name):
        yield f"the US list has no name {content.name}; it reads {entry.us_name}"
    if entry.road_source and entry.labels and entry.us_labels and set(us.labels(entry)) != set(entry.labels):
        yield f"labels {', '.join(us.labels(entry))} by column 6, {', '.join(entry.labels)} by the ADR 2017 list"
    group = us.packing_group(entry)
    if entry.road_source and group and entry.packing_group and group != entry.packing_group:
        yield f"packing group {group} in the US list, {entry.packing_group} in the ADR 2017 list"
