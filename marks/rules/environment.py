"""The fish and the tree: the mark for substances hazardous to the environment."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content
from marks.environment import BY_ENTRY, hazardous, small
from marks.rule import EVERY_MODE, SURFACE, Answer, Needs, Spares, caution, note, rule
from marks.tables import limit
from marks.terms import Mode, ShipAs

_LIST = "49 CFR 172.101 Appendix B"


@rule(
    "environmentally-hazardous",
    cite={Mode.ROAD: "ADR 5.2.1.8.1", Mode.SEA: "IMDG 5.2.1.6.1", Mode.AIR: "ICAO TI 5;2.4.9"},
    spared={ShipAs.LIMITED: SURFACE, ShipAs.EXCEPTED: EVERY_MODE},
)
def fish_and_tree(case: Case) -> Iterator[Answer]:
    """Beside the hazard labels, unless each inner or single packaging holds 5 L or 5 kg or less.

    By air only UN 3077 and UN 3082 must bear it (49 CFR 172.322 asks for it on vessels alone). Whether a substance is
    hazardous to the environment is the shipper's classification; the list held is the US one.
    """
    for content in case.contents:
        yield from _list_and_record(content)
        yield _one(content, case)
        if case.mode is Mode.SEA and hazardous(content) and content.entry.technical_name and not small(content, case):
            yield note(
                "technical-name-of-pollutant",
                f"{content.described_as()}: at sea the technical name names what makes it a marine pollutant",
                "IMDG 3.1.2.9",
                "49 CFR 172.322(a)(1)",
            )


def _one(content: Content, case: Case) -> Answer:
    entry, stated = content.entry, content.goods.environmentally_hazardous
    if not hazardous(content):
        denied = "the record says it is not hazardous to the environment"
        unsaid = "not named by the list and not stated by the record"
        return Spares(f"{content.described_as()}: {denied if stated is False else unsaid}")
    if held := small(content, case):
        paragraph = limit("environment", "liquid", case.on).paragraph(case.mode)
        return Spares(f"{content.described_as()}: {held} each", cite=(paragraph,))
    if case.mode is Mode.AIR and entry.un not in BY_ENTRY:
        return Spares(
            f"{content.described_as()}: by air only UN 3077 and UN 3082 must bear it; it may stay on for the other legs"
        )
    source = "by its entry" if entry.un in BY_ENTRY else "as the record says" if stated else "as the list names it"
    why = f"{content.described_as()} is hazardous to the environment {source}"
    return Needs(why, group="hazard", goods=(content.index,))


def _list_and_record(content: Content) -> Iterator[Answer]:
    """The list and the record's word may differ, or the record may be silent: a person has to know."""
    entry, stated = content.entry, content.goods.environmentally_hazardous
    if entry.un in BY_ENTRY:
        if stated is False:
            yield caution(
                "listed-but-denied",
                f"{content.described_as()}: the record says it is not hazardous to the environment, which is what this "
                "entry is for; choose another entry, or leave environmentally_hazardous out",
                _LIST,
            )
    elif entry.marine_pollutant != "no" and stated is None:
        yield caution(
            "listed-marine-pollutant",
            f"{content.described_as()}: the record does not say, the US list of marine pollutants names it, so it is "
            "taken as hazardous to the environment; confirm by the criteria and write environmentally_hazardous: true "
            "or false",
            _LIST,
        )
    elif entry.marine_pollutant != "no" and stated is False:
        yield caution(
            "listed-but-denied",
            f"{content.described_as()}: the record says it is not hazardous to the environment, the US list of marine "
            "pollutants names it; the shipper's classification must show why",
            _LIST,
        )
