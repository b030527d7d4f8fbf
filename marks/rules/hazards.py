"""Hazard labels: the diamond of every class the entry names, once each."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content
from marks.rule import EVERY_MODE, SURFACE, Answer, Needs, Spares, caution, rule
from marks.terms import Mode, ShipAs


@rule(
    "hazard-label",
    cite={Mode.ROAD: "ADR 5.2.2.1.1", Mode.SEA: "IMDG 5.2.2.1.1", Mode.AIR: "ICAO TI 5;3.2.1"},
    spared={ShipAs.LIMITED: SURFACE, ShipAs.EXCEPTED: EVERY_MODE},
)
def labels_of_the_entries(case: Case) -> Iterator[Answer]:
    """The primary and subsidiary hazard labels of every entry in the package, each once.

    Differences of law: the US table (49 CFR 172.101 column 6) gives other labels for some entries; where the two lists
    held differ, a caution says both. The labels of class 7 stand in rules of their own.
    """
    wanted: dict[str, list[tuple[int, str]]] = {}
    for content in case.contents:
        for place, label in enumerate(_labels(content, case)):
            role = "primary hazard" if place == 0 else "subsidiary hazard"
            wanted.setdefault(label, []).append((content.index, f"{content.described_as()}: {role}"))
        yield from _without_label(content, case)
        yield from _list_differences(content, case)
    explosive = any(label.startswith("1.") for label in wanted)
    for label in sorted(wanted, key=lambda label: min(_rank(case, label))):
        entries = wanted[label]
        if label == "1" and explosive:
            yield Spares("the class 1 label of another entry in the package shows the explosive hazard", variant=label)
            continue
        yield Needs(
            "; ".join(dict.fromkeys(why for _, why in entries)),
            variant=label,
            group="hazard",
            goods=tuple(index for index, _ in entries),
        )


def _labels(content: Content, case: Case) -> tuple[str, ...]:
    """All but those of class 7, which have rules of their own: they hang on dose rate and transport index."""
    if case.mode is Mode.AIR and content.entry.un == "2807":
        return ()
    return tuple(label for label in content.labels(case.mode) if label[0] != "7")


def _rank(case: Case, label: str) -> Iterator[tuple[int, int]]:
    """Primary labels first, then subsidiary ones, each in the order of the goods."""
    for content in case.contents:
        labels = _labels(content, case)
        if label in labels:
            yield labels.index(label), content.index


def _without_label(content: Content, case: Case) -> Iterator[Answer]:
    if case.mode is Mode.AIR and content.entry.un == "2807":
        yield Spares(
            f"{content.described_as()}: the magnetized material label stands in place of the class 9 label",
            variant="9",
            cite=("ICAO TI 5;3.2",),
        )
    elif not content.labels(case.mode):
        yield Spares(f"{content.described_as()}: the list names no hazard label for this entry")


def _list_differences(content: Content, case: Case) -> Iterator[Answer]:
    """Column 6 of the US list says 9 of batteries too; their label there is that of 49 CFR 172.447, which is our 9A.

    It leaves the fissile label to 172.402(d)(2). What the record adds to the entry's hazards is no difference.
    """
    entry, labels = content.entry, content.labels(case.mode)
    added = set(content.goods.further_hazards) - set(entry.labels) - set(entry.model_labels)
    american = {"9A" if label == "9" and "9A" in labels else label for label in entry.us_labels}
    if american and labels and american != set(labels) - added - {"7E"}:
        yield caution(
            "lists-differ",
            f"{content.described_as()}: labels {', '.join(labels)} by the ADR 2017 list, "
            f"{', '.join(entry.us_labels)} by the US list of 2026; look the entry up in the edition in force",
            "ADR 3.2 Table A column 5",
            "49 CFR 172.101 column 6",
        )
