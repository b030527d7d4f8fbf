"""Gases in aerosols and small receptacles: what is so small that the rules leave it out. No mark is known here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from marks.quantity import is_volume, show, to
from marks.tables import limit
from marks.terms import Mode, ShipAs

if TYPE_CHECKING:
    from marks.case import Case, Content

#: Aerosols; small receptacles containing gas (gas cartridges).
SMALL_RECEPTACLES = ("1950", "2037")


def relief(content: Content, case: Case) -> tuple[str, str] | None:
    """Up to 50 mL each: on the surface what is not toxic, by air gases of 2.2 without subsidiary hazard.

    SP 190 and 191 of ADR and the IMDG Code, and A98 of the Technical Instructions, from memory. US law has the figure
    for gases of 2.2 in 49 CFR 173.306(j).
    """
    inner, entry = content.goods.inner, content.entry
    if entry.un not in SMALL_RECEPTACLES or inner is None or not is_volume(inner.holds):
        return None
    most = limit("gases", "unregulated", case.on, "special")
    harmless = entry.labels == ("2.2",) if case.mode is Mode.AIR else "T" not in entry.classification_code
    if case.mode.value not in most.cite or content.goods.ship_as_for(case.mode) is not ShipAs.FULL:
        return None
    if not harmless or to(inner.holds, "mL") > most.value:
        return None
    named = content.described_as()
    return f"{named}: receptacles of {show(inner.holds)}, up to {most.text} (from memory)", most.paragraph(case.mode)
