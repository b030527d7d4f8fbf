"""The fish and the tree: the mark for substances hazardous to the environment."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case
from marks.environment import BY_ENTRY, hazardous, small
from marks.rule import EVERY_MODE, SURFACE, Answer, Needs, Spares, caution, rule
from marks.tables import limit
from marks.terms import Mode, ShipAs


@rule(
    "environmentally-hazardous",
    cite={Mode.ROAD: "ADR 5.2.1.8.1", Mode.SEA: "IMDG 5.2.1.6.1", Mode.AIR: "ICAO TI 5;2.4.9"},
    spared={ShipAs.LIMITED: SURFACE, ShipAs.EXCEPTED: EVERY_MODE},
)
def fish_and_tree(case: Case) -> Iterator[Answer]:
    """Beside the hazard labels, unless each inner or single packaging holds 5 L or 5 kg or less.

    By air only UN 3077 and UN 3082 must bear it (49 CFR 172.322 asks for it on vessels alone). Whether a substance is
    hazardous to the environment is the shipper's classification; the list held is the US one (49 CFR 172.101 Appendix B).
    """
    for content in case.contents:
        entry, stated = content.entry, content.goods.environmentally_hazardous
        listed = entry.marine_pollutant != "no" and entry.un not in BY_ENTRY
        if listed and stated is None:
            yield caution(
                "listed-marine-pollutant",
                f"{content.described_as()}: the record does not say, the US list of marine pollutants names it, so it is taken as hazardous to the "
                "environment; confirm by the criteria and write environmentally_hazardous: true or false",
                "49 CFR 172.101 Appendix B",
            )
        if listed and stated is False:
            yield caution(
                "listed-but-denied",
                f"{content.described_as()}: the record says it is not hazardous to the environment, the US list of marine pollutants names it; the shipper's "
                "classification must show why",
                "49 CFR 172.101 Appendix B",
            )
        if not hazardous(content):
            why = (
                "the record says it is not hazardous to the environment"
                if stated is False
                else "not named by the list and not stated by the record"
            )
            yield Spares(f"{content.described_as()}: {why}")
            continue
        held = small(content, case)
        if held:
            yield Spares(
                f"{content.described_as()}: {held} each",
                cite=(limit("environment", "liquid", case.on).paragraph(case.mode),),
            )
            continue
        if case.mode is Mode.AIR and entry.un not in BY_ENTRY:
            yield Spares(
                f"{content.described_as()}: by air only UN 3077 and UN 3082 must bear it; it may stay on for the other legs"
            )
            continue
        source = "by its entry" if entry.un in BY_ENTRY else "as the record says" if stated else "as the list names it"
        yield Needs(
            f"{content.described_as()} is hazardous to the environment {source}", group="hazard", goods=(content.index,)
        )
