"""The line for the transport document, so that paper and package agree."""

from __future__ import annotations

from marks import ground_paper
from marks.case import Case, Content
from marks.environment import BY_ENTRY, hazardous, small
from marks.quantity import plain
from marks.salvage import is_salvage
from marks.tables import limit
from marks.terms import Mode, ShipAs


def description(content: Content, case: Case, cargo_only: bool = False) -> str:
    """Number, name, class with subsidiary hazards in brackets, packing group, and the words the mode adds, in order.

    ADR 5.4.1.1.1 (a) to (d), (k), 5.4.1.1.5, 5.4.1.1.6.1 and 5.4.1.1.18; IMDG 5.4.1.4; ICAO TI 5;4.1.4 (from memory). An
    excepted quantity needs no such line: ADR and IMDG ask for other words only (ADR 3.5.6, from memory).
    cargo_only: the package bears the cargo aircraft only label (49 CFR 172.203(f)).
    """
    if case.mode is Mode.US_GROUND:
        return ground_paper.description(content, case)
    relief = content.goods.ship_as_for(case.mode)
    if relief is ShipAs.EXCEPTED:
        return f"dangerous goods in excepted quantities ({content.described_as()})"
    entry = content.entry
    subsidiary = [label for label in content.labels(case.mode)[1:] if label != "7E"]
    hazards = f"{entry.shown_class} ({', '.join(subsidiary)})" if subsidiary else entry.shown_class
    parts = [f"{content.number} {content.marked_name}", hazards]
    if content.group:
        parts.append(content.group if case.mode is Mode.ROAD else f"PG {content.group}")
    if case.mode is Mode.ROAD and entry.tunnel_code and relief is ShipAs.FULL:
        parts.append(f"({entry.tunnel_code.strip('()')})")
    parts += [words for words in (_flash_point(content, case), _environment(content, case)) if words]
    if relief is ShipAs.LIMITED and case.mode is not Mode.ROAD:
        parts.append("LIMITED QUANTITY" if case.mode is Mode.SEA else "limited quantity")
    if is_salvage(case.package):
        parts.append("SALVAGE PACKAGING")
    if case.mode is Mode.AIR and cargo_only:
        parts.append("cargo aircraft only")
    return _residue(content, case) + ", ".join(parts)


def _residue(content: Content, case: Case) -> str:
    """What stands before the line of a packaging that is empty and uncleaned."""
    if not content.goods.residue:
        return ""
    return "RESIDUE, LAST CONTAINED " if case.mode is Mode.ROAD else "RESIDUE LAST CONTAINED "


def _flash_point(content: Content, case: Case) -> str:
    """By sea the flash point, closed cup, where it is 60 °C or below (49 CFR 172.203(i); IMDG 5.4.1.4.3.6, from memory)."""
    point = content.goods.flash_point
    if case.mode is not Mode.SEA or point is None or point > limit("document", "flash_point", case.on).value:
        return ""
    return f"({plain(point)} °C c.c.)"


def _environment(content: Content, case: Case) -> str:
    """By road the words are not asked for where the entry itself says so much (ADR 5.4.1.1.18, from memory)."""
    if case.mode is Mode.AIR or not hazardous(content):
        return ""
    if content.entry.un in BY_ENTRY:
        return "MARINE POLLUTANT" if case.mode is Mode.SEA else ""
    if small(content, case):
        return ""
    return "ENVIRONMENTALLY HAZARDOUS" if case.mode is Mode.ROAD else "MARINE POLLUTANT"
