"""Excepted quantities: the square with the hatched edge, and every limit that must hold before it may be used."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.aircraft import LIMIT_SOURCE, limit_of
from marks.case import Case, Content, listed
from marks.quantity import show
from marks.reliefs import excepted_limits, small_units
from marks.rule import Answer, Needs, Spares, note, refuse, rule
from marks.tables import Figure, limit
from marks.terms import Aircraft, Mode, ShipAs

_LIMITS = {Mode.ROAD: "ADR 3.5.1.2", Mode.SEA: "IMDG 3.5.1.2", Mode.AIR: "ICAO TI 3;5.1.2"}
_PACKAGING = {Mode.ROAD: "ADR 3.5.2", Mode.SEA: "IMDG 3.5.2", Mode.AIR: "ICAO TI 3;5.2"}
_LOADING = {Mode.ROAD: "ADR 3.5.5", Mode.SEA: "IMDG 3.5.5"}


@rule("excepted-quantity", cite={Mode.ROAD: "ADR 3.5.4", Mode.SEA: "IMDG 3.5.4", Mode.AIR: "ICAO TI 3;5.4"})
def excepted_quantity(case: Case) -> Iterator[Answer]:
    """In place of all other marks and labels, within the inner limit and the lowest outer limit of the E codes."""
    contents = case.shipped_as(ShipAs.EXCEPTED)
    if not contents:
        codes = ", ".join(dict.fromkeys(content.entry.excepted_quantity or "none" for content in case.contents))
        cite = (_LIMITS[case.mode],)
        yield Spares(f"not shipped as an excepted quantity (code of the entry: {codes})", cite=cite)
        return
    outers: list[Figure] = []
    for content in contents:
        limits = excepted_limits(content, case)
        if limits is None:
            yield _not_allowed(content, case)
            continue
        outers.append(limits[1])
        yield from _by_air(content, case)
        yield from _inner(content, case, limits[0])
    total = sum((small_units(content.net) for content in contents), start=Decimal(0))
    lowest = min(outers, key=lambda figure: figure.value, default=None)
    if lowest is not None and total > lowest.value:
        yield refuse(
            "excepted-outer-over",
            f"{total:f} mL or g in one package, the code allows {lowest.text}; put less into each package",
            _LIMITS[case.mode],
        )
    yield from _notes(contents, total, case)
    classes = dict.fromkeys(content.entry.division or content.entry.hazard_class for content in contents)
    yield Needs(
        f"{listed(content.described_as() for content in contents)} shipped as an excepted quantity",
        words=(", ".join(classes), case.record.shipper.name),
        goods=case.indices(contents),
    )


def _not_allowed(content: Content, case: Case) -> Answer:
    code = content.entry.excepted_quantity or "none"
    known = code in ("E0", "none")
    said = "it may not be shipped as an excepted quantity" if known else "this program does not follow that reference"
    return refuse(
        "excepted-not-allowed" if known else "excepted-open",
        f"{content.described_as()}: the entry's code is {code}; {said}; ship it in full",
        _LIMITS[case.mode],
    )


def _by_air(content: Content, case: Case) -> Iterator[Answer]:
    """By air only what may go on passenger aircraft may be an excepted quantity."""
    if case.mode is not Mode.AIR:
        return
    held = limit_of(content, Aircraft.PASSENGER)
    if held.kind == "forbidden":
        yield refuse(
            "excepted-not-by-air",
            f"{content.described_as()}: forbidden on passenger aircraft, so no excepted quantity by air; ship it in "
            "full",
            "ICAO TI 3;5.1.1",
            "49 CFR 173.4a(b)",
        )
    elif held.kind == "unclear":
        reads = f"reads {held.text!r}, which this program does not follow" if held.text else "is not held"
        yield refuse(
            "aircraft-limit-open",
            f"{content.described_as()}: an excepted quantity by air must be allowed on passenger aircraft, and the "
            f"limit of the entry {reads}; send it by another mode",
            "ICAO TI 3;5.1.1",
            LIMIT_SOURCE,
        )


def _inner(content: Content, case: Case, most: Figure) -> Iterator[Answer]:
    inner = content.goods.inner
    if inner is None:
        yield refuse(
            "excepted-needs-inner",
            f"{content.described_as()}: an excepted quantity stands in inner packagings, the record gives none; write "
            "inner",
            _LIMITS[case.mode],
        )
    elif small_units(inner.holds) > most.value:
        yield refuse(
            "excepted-inner-over",
            f"{content.described_as()}: {show(inner.holds)} in an inner packaging, code "
            f"{content.entry.excepted_quantity} allows {most.text}; use smaller inner packagings",
            _LIMITS[case.mode],
        )


def _notes(contents: tuple[Content, ...], total: Decimal, case: Case) -> Iterator[Answer]:
    yield note(
        "excepted-packaging",
        "three layers, absorbent for all the liquid, drop and stacking tests documented: the packaging of an excepted "
        "quantity is the shipper's to prove",
        _PACKAGING[case.mode],
    )
    if case.mode in _LOADING:
        most = limit("excepted", "packages", case.on)
        yield note(
            "excepted-loading",
            f"at most {most.text} of excepted quantities in one vehicle or container",
            _LOADING[case.mode],
        )
    inner, outer = (limit("excepted", f"least.{name}", case.on) for name in ("inner", "outer"))
    least = all(content.goods.inner and small_units(content.goods.inner.holds) <= inner.value for content in contents)
    if least and total <= outer.value:
        yield note(
            "least-quantity",
            f"up to {inner.text} in an inner packaging and {outer.text} in a package the rules ask for less still, and "
            "for some entries for no mark (from memory); the mark does no harm",
            inner.paragraph(case.mode),
            "49 CFR 173.4b(a)",
        )
