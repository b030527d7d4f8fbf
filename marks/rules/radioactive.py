"""Radioactive material: the labels of its category, filled in, and the fissile label, on two opposite sides."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal

from marks.case import Case, Content, listed
from marks.quantity import plain, to
from marks.radioactive import (
    Category,
    activity_text,
    category,
    contents_text,
    is_fissile,
    labelled,
)
from marks.requirement import Where
from marks.rule import Answer, Needs, Spares, caution, note, refuse, rule
from marks.tables import limit
from marks.terms import Aircraft, Mode

_LABEL = {Mode.ROAD: "ADR 5.2.2.1.11.1", Mode.SEA: "IMDG 5.2.2.1.12.1", Mode.AIR: "ICAO TI 5;3.2.6"}
_FILLED = {Mode.ROAD: "ADR 5.2.2.1.11.2", Mode.SEA: "IMDG 5.2.2.1.12.2", Mode.AIR: "ICAO TI 5;3.2.6"}
_FISSILE = {Mode.ROAD: "ADR 5.2.2.1.11.3", Mode.SEA: "IMDG 5.2.2.1.12.3", Mode.AIR: "ICAO TI 5;3.2.7"}
_EXCLUSIVE = {Mode.ROAD: "ADR 4.1.9.1.9", Mode.SEA: "IMDG 4.1.9.1.9", Mode.AIR: "ICAO TI 4;9.1.9"}


def _has_labelled(case: Case) -> bool:
    return bool(labelled(case))


@rule("hazard-label", cite=_LABEL, concerns=_has_labelled)
def category_labels(case: Case) -> Iterator[Answer]:
    """The label of the category on two opposite sides: contents, activity and transport index are written in it.

    49 CFR 172.403(b), (c), (f), (g): the higher of the two categories that transport index and dose rate give.
    """
    contents = labelled(case)
    index = _one(contents, lambda content: content.goods.transport_index)
    dose = _one(contents, _dose)
    yield from _missing(contents, index, dose, case)
    if index is None or dose is None:
        return
    held = category(index, dose, case.on)
    yield from _exclusive(contents, held, dose, case)
    words = [contents_text(contents) or "", activity_text(contents) or ""]
    if held.label != "7-I":
        words.append(plain(held.index))
    yield Needs(
        f"{listed(content.described_as() for content in contents)}: {held.why}",
        variant=held.label,
        words=tuple(words),
        where=Where.TWO_OPPOSITE,
        group="hazard",
        goods=case.indices(contents),
        also=(_FILLED[case.mode], "49 CFR 172.403"),
    )
    for lower in ("7-I", "7-II", "7-III"):
        if lower != held.label:
            yield Spares(f"{held.why}: another category", variant=lower)


def _one(contents: tuple[Content, ...], of: Callable[[Content], Decimal | None]) -> Decimal | None:
    """What the package has once and its lines of goods may say: the highest that is said."""
    return max((value for content in contents if (value := of(content)) is not None), default=None)


def _dose(content: Content) -> Decimal | None:
    rate = content.goods.surface_dose_rate
    return None if rate is None else to(rate, "mSv/h")


def _missing(
    contents: tuple[Content, ...], index: Decimal | None, dose: Decimal | None, case: Case
) -> Iterator[Answer]:
    """What the label must say, or its category hangs on, and the record does not."""
    named = listed(content.described_as() for content in contents)
    asked = (
        (index, "transport-index-missing", "its category hangs on the transport index", "transport_index: 0.8"),
        (dose, "dose-rate-missing", "its category hangs on its surface dose rate", "surface_dose_rate: 0.6 mSv/h"),
        (contents_text(contents), "nuclide-missing", "the label names the nuclide", "nuclide: Ir-192"),
        (activity_text(contents), "activity-missing", "the label states the activity", "activity: 370 GBq"),
    )
    for value, code, why, cure in asked:
        if value is None:
            paragraph = (_LABEL if "category" in why else _FILLED)[case.mode]
            yield refuse(code, f"{named}: {why}, which the record does not say; write {cure}", paragraph)


def _exclusive(contents: tuple[Content, ...], held: Category, dose: Decimal, case: Case) -> Iterator[Answer]:
    """Over index 10 or 2 mSv/h a package goes under exclusive use only, over 10 mSv/h not at all."""
    named, stated = contents[0].described_as(), any(content.goods.exclusive_use for content in contents)
    most = limit("radioactive", "dose_most", case.on, "special")
    ordinary = limit("radioactive", "dose_yellow_three", case.on, "special")
    if dose > most.value:
        yield refuse(
            "dose-rate-over",
            f"{named}: {plain(dose)} mSv/h at the surface, {most.text} is the most; shield it better",
            most.paragraph(case.mode),
        )
    elif dose > ordinary.value and case.mode is Mode.AIR:
        yield refuse(
            "dose-rate-by-air",
            f"{named}: {plain(dose)} mSv/h at the surface; over {ordinary.text} it flies by special arrangement only "
            "(from memory); shield it better",
            "ICAO TI 4;9.1.11",
        )
    elif held.exclusive and not stated:
        yield refuse(
            "exclusive-use-missing",
            f"{named}: {held.why}; it may go under exclusive use only; write exclusive_use: true where the vehicle, or "
            "the hold, is for this shipper alone",
            _EXCLUSIVE[case.mode],
            "49 CFR 173.441(b)",
        )
    elif stated:
        yield note(
            "exclusive-use",
            f"{named}: under exclusive use: one shipper has the vehicle or the hold, loaded and unloaded by his own "
            "directions",
            _EXCLUSIVE[case.mode],
        )
    us = limit("radioactive", "us_passenger_index", case.on, "special")
    if case.mode is Mode.AIR and case.record.aircraft is not Aircraft.CARGO and held.index > us.value:
        yield caution(
            "us-passenger-index",
            f"{named}: transport index {plain(held.index)}; under US law a package over {plain(us.value)} goes on "
            "cargo aircraft only (from memory)",
            us.paragraph(case.mode),
        )


@rule("hazard-label", cite=_FISSILE, concerns=_has_labelled)
def fissile_label(case: Case) -> Iterator[Answer]:
    """The fissile label with its criticality safety index beside each label of the category (49 CFR 172.402(d)(2))."""
    fissile = [content for content in labelled(case) if is_fissile(content)]
    if not fissile:
        yield Spares("no entry of fissile material", variant="7E")
        return
    index = _one(tuple(fissile), lambda content: content.goods.criticality_safety_index)
    named = listed(content.described_as() for content in fissile)
    if index is None:
        yield refuse(
            "criticality-index-missing",
            f"{named}: the fissile label states the criticality safety index of the approval; write "
            "criticality_safety_index",
            _FISSILE[case.mode],
            "49 CFR 172.403(e)",
        )
        return
    most = limit("radioactive", "criticality", case.on, "special")
    if index > most.value and not any(content.goods.exclusive_use for content in fissile):
        yield refuse(
            "exclusive-use-missing",
            f"{named}: criticality safety index {plain(index)}, over {plain(most.value)} under exclusive use only; "
            "write exclusive_use: true where that is so",
            most.paragraph(case.mode),
        )
    yield Needs(
        f"{named}: fissile",
        variant="7E",
        words=(plain(index),),
        where=Where.TWO_OPPOSITE,
        group="hazard",
        goods=case.indices(fissile),
        also=("49 CFR 172.402(d)(2)",),
    )
