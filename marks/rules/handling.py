"""Handling labels of the air, each for a few goods alone: keep away from heat, cryogenic liquid, magnetized material.

Of every other package these rules say nothing. The paragraphs of the Technical Instructions are from memory and no
closer than the section.
"""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content, listed
from marks.rule import EVERY_MODE, Answer, Needs, rule
from marks.terms import Mode, ShipAs

_ELSEWHERE = "a handling label of the air rules; other modes do not ask for it"


def _named(contents: list[Content]) -> str:
    return listed(content.described_as() for content in contents)


def _kept_from_heat(case: Case) -> list[Content]:
    """Organic peroxides and self-reactive substances."""
    return [
        content
        for content in case.contents
        if content.entry.division == "5.2"
        or (content.entry.division == "4.1" and content.entry.classification_code.startswith("SR"))
    ]


@rule(
    "keep-away-from-heat",
    cite={Mode.AIR: "ICAO TI 5;3.2"},
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere=_ELSEWHERE,
    concerns=lambda case: bool(_kept_from_heat(case)),
)
def keep_away_from_heat(case: Case) -> Iterator[Answer]:
    """On self-reactive substances of 4.1 and organic peroxides of 5.2 (49 CFR 172.317, from memory)."""
    contents = _kept_from_heat(case)
    yield Needs(
        f"{_named(contents)}: self-reactive, or an organic peroxide", group="hazard", goods=case.indices(contents)
    )


def _refrigerated(case: Case) -> list[Content]:
    return [content for content in case.contents if content.refrigerated]


@rule(
    "cryogenic-liquid",
    cite={Mode.AIR: "ICAO TI 5;3.2"},
    spared={ShipAs.EXCEPTED: EVERY_MODE},
    elsewhere=_ELSEWHERE,
    concerns=lambda case: bool(_refrigerated(case)),
)
def cryogenic_liquid(case: Case) -> Iterator[Answer]:
    """On refrigerated liquefied gases (from memory)."""
    contents = _refrigerated(case)
    yield Needs(f"{_named(contents)}: a refrigerated liquefied gas", group="hazard", goods=case.indices(contents))


def _magnetized(case: Case) -> list[Content]:
    return [content for content in case.contents if content.entry.un == "2807"]


@rule(
    "magnetized-material",
    cite={Mode.AIR: "ICAO TI 5;3.2"},
    elsewhere=_ELSEWHERE,
    concerns=lambda case: bool(_magnetized(case)),
)
def magnetized_material(case: Case) -> Iterator[Answer]:
    """On UN 2807, in place of the class 9 label (from memory)."""
    contents = _magnetized(case)
    yield Needs(f"{_named(contents)}: magnetized material", goods=case.indices(contents))
