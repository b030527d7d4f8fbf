"""Self-reactive substances and organic peroxides: the explosive label and the approval that waives it; other labels.

The handling mark against heat by air stands with the other handling marks; temperature control is not decided
(tables/beyond.toml).
"""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content
from marks.check import check
from marks.requirement import Finding
from marks.rule import EVERY_MODE, Answer, Spares, caution, note, refuse, rule
from marks.terms import Mode

_WAIVED = {Mode.ROAD: "ADR 3.3.1 SP 181", Mode.SEA: "IMDG 3.3.1 SP 181", Mode.AIR: "ICAO TI 3;3 A20"}
_LISTED = {Mode.ROAD: "ADR 2.2.52.4", Mode.SEA: "IMDG 2.5.3.2.4", Mode.AIR: "ICAO TI 2;5.3.2.4"}


def _reactive(case: Case) -> tuple[Content, ...]:
    """Of division 4.1 and self-reactive, or of division 5.2."""
    return tuple(
        content
        for content in case.contents
        if content.entry.division == "5.2"
        or (content.entry.division == "4.1" and content.entry.classification_code.startswith("SR"))
    )


@rule("hazard-label", cite=_WAIVED, concerns=lambda case: bool(_reactive(case)))
def explosive_label(case: Case) -> Iterator[Answer]:
    """Type B bears the explosive label, unless the competent authority has approved that it be left out (SP 181)."""
    for content in _reactive(case):
        asked, approval = "1" in content.entry.labels, content.goods.explosive_label_waived_by
        named = content.described_as()
        if approval and not asked:
            yield refuse(
                "explosive-label-not-asked",
                f"{named}: the entry asks for no explosive label, so {approval} has none to waive; choose the entry "
                "the approval is for, or leave explosive_label_waived_by out",
                _WAIVED[case.mode],
            )
        elif approval:
            yield Spares(f"{named}: left out by approval {approval}", variant="1")
        elif asked:
            yield note(
                "explosive-label-waivable",
                f"{named}: the explosive label may be left out where the competent authority has approved it for this "
                "packaging; then write explosive_label_waived_by (from memory)",
                _WAIVED[case.mode],
            )


@check(modes=EVERY_MODE, concerns=lambda case: any(c.entry.division == "5.2" for c in case.contents))
def labels_of_the_formulation(case: Case) -> Iterator[Finding]:
    """The list of assigned peroxides asks for label 8 on some of them, which the entry does not show (from memory)."""
    for content in case.contents:
        if content.entry.division == "5.2" and not content.goods.further_hazards:
            yield caution(
                "formulation-labels",
                f"{content.described_as()}: some formulations of the list of assigned organic peroxides bear label 8 "
                "too (from memory); look yours up and write further_hazards: [8] where so",
                _LISTED[case.mode],
            )
