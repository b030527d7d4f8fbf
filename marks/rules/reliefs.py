"""Limited and excepted quantities: their marks, and every limit that must hold before they may be used."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.aircraft import read_limit
from marks.case import Case, Content, amount, listed
from marks.quantity import show
from marks.reliefs import air_limited, amounts, breakable, excepted_limits, limited_inner, same_kind, small_units
from marks.rule import Answer, Needs, Spares, caution, note, refuse, rule
from marks.tables import limit
from marks.terms import Mode, ShipAs, State

_LIMITED = {Mode.ROAD: "ADR 3.4.7", Mode.SEA: "IMDG 3.4.5"}
_LIMITED_AIR = {Mode.AIR: "ICAO TI 3;4.5"}
_CONDITIONS = {Mode.ROAD: "ADR 3.4.2", Mode.SEA: "IMDG 3.4.2", Mode.AIR: "ICAO TI 3;4.2"}


@rule("limited-quantity", cite=_LIMITED, elsewhere="by air the limited quantity mark bears a Y")
def limited_quantity(case: Case) -> Iterator[Answer]:
    """The square on its point with black corners, in place of number and labels, within column 7a and 30 kg gross."""
    if ShipAs.LIMITED not in case.reliefs:
        yield from _why_not_limited(case)
        return
    yield from _common_conditions(case)
    for content in _shipped(case, ShipAs.LIMITED):
        yield from _inner_within_list(content, case)
    yield Needs(
        f"{listed(c.described_as() for c in case.contents)} shipped as a limited quantity", goods=case.indices()
    )


def _why_not_limited(case: Case) -> Iterator[Answer]:
    for content in case.contents:
        most = limited_inner(content)
        fits = (
            content.goods.inner is not None
            and (one := same_kind(most, content.goods.inner.holds)) is not None
            and amount(content.goods.inner.holds)[0] <= one.value
        )
        text = content.entry.limited_quantity or "none"
        why = (
            "could be one by its inner packagings, but is shipped in full"
            if fits
            else f"not shipped as one (limit of the entry: {text} in each inner packaging)"
        )
        yield Spares(f"{content.described_as()}: {why}", cite=(_CONDITIONS[case.mode],))


@rule(
    "limited-quantity-air",
    cite=_LIMITED_AIR,
    elsewhere="the form with a Y belongs to the air; road and sea accept it in place of the plain one",
)
def limited_quantity_by_air(case: Case) -> Iterator[Answer]:
    """The mark with the Y, together with labels, number, name and addresses; limits by class and packing group."""
    if ShipAs.LIMITED not in case.reliefs:
        yield Spares("not shipped as a limited quantity by air")
        return
    yield from _common_conditions(case)
    lowest = None
    for content in _shipped(case, ShipAs.LIMITED):
        yield from _inner_within_list(content, case)
        held = air_limited(content)
        if held.never:
            yield refuse(
                "limited-not-by-air",
                f"{content.described_as()}: {held.never}; ship it in full",
                "ICAO TI 3;4.1",
                "49 CFR 173.27(f)(2)(i)",
            )
            continue
        yield from _air_inner(content, held)
        if held.outer and "gross" not in held.outer:
            outer = amounts(held.outer)[0]
            lowest = outer if lowest is None or (outer.unit == lowest.unit and outer.value < lowest.value) else lowest
            value, unit = amount(content.net)
            if unit != outer.unit:
                yield refuse(
                    "net-unit",
                    f"{content.described_as()}: the limit by air is {held.outer} in a package, the record gives {content.net_text}; write net in {outer.unit}",
                    "49 CFR 173.27(f)(3)",
                )
            elif value > outer.value:
                yield refuse(
                    "limited-outer-over",
                    f"{content.described_as()}: {content.net_text} in one package, the limit by air is {held.outer}; put less into each package or ship in full",
                    "49 CFR 173.27(f)(3)",
                )
    if len(case.contents) > 1 and lowest is not None:
        yield from _air_total(case, lowest)
    yield Needs(
        f"{listed(c.described_as() for c in case.contents)} shipped as a limited quantity by air", goods=case.indices()
    )


def _air_inner(content: Content, held) -> Iterator[Answer]:  # type: ignore[no-untyped-def]
    inner = content.goods.inner
    text = held.glass if inner is not None and breakable(inner.of) else held.other
    if inner is None or text is None:
        return
    one = same_kind(amounts(text), inner.holds)
    if one is None:
        yield refuse(
            "inner-unit",
            f"{content.described_as()}: the limit by air is {text} in an inner packaging, the record gives {show(inner.holds)}; write holds in the same kind of unit",
            "49 CFR 173.27(f)(3)",
        )
    elif amount(inner.holds)[0] > one.value:
        kind = "glass or the like" if breakable(inner.of) else "metal or plastic"
        yield refuse(
            "limited-inner-over",
            f"{content.described_as()}: {show(inner.holds)} in an inner packaging of {kind}, the limit by air is {text}; use smaller inner packagings or ship in full",
            "49 CFR 173.27(f)(3)",
        )


def _air_total(case: Case, lowest) -> Iterator[Answer]:  # type: ignore[no-untyped-def]
    """Mixed contents: the lowest outer limit governs the total; kilograms where a liquid and a solid share the package."""
    nets = [amount(content.net) for content in case.contents]
    if len({unit for _, unit in nets}) > 1:
        yield caution(
            "limited-mixed-units",
            "liquids and solids share the package: hold their total in kilograms against the lowest outer limit",
            "49 CFR 173.27(f)(2)(i)",
        )
        return
    total = sum(value for value, _ in nets)
    if nets[0][1] == lowest.unit and total > lowest.value:
        yield refuse(
            "limited-outer-over",
            f"{total:f} {lowest.unit} together in one package, the lowest limit by air among them is {lowest.text}; put less into each package",
            "49 CFR 173.27(f)(2)(i)",
        )


def _shipped(case: Case, relief: ShipAs) -> list[Content]:
    return [content for content in case.contents if content.goods.ship_as_for(case.mode) is relief]


def _common_conditions(case: Case) -> Iterator[Answer]:
    """Inner packagings in an outer one, and 30 kg gross."""
    paragraph = _CONDITIONS[case.mode]
    gross = limit("limited", "gross", case.on)
    for content in _shipped(case, ShipAs.LIMITED):
        if content.goods.inner is None and content.state is not State.ARTICLE:
            yield refuse(
                "limited-needs-inner",
                f"{content.described_as()}: a limited quantity stands in inner packagings, the record gives none; write inner, or ship_as: full",
                paragraph,
            )
    if case.gross_kg > gross.value:
        yield refuse(
            "limited-gross-over",
            f"{show(case.package.gross_mass)} gross; a limited quantity package may not weigh more than {gross.text}; make smaller packages or ship in full",
            gross.paragraph(case.mode),
        )
    else:
        yield note(
            "limited-tray",
            "on shrink- or stretch-wrapped trays the limit is 20 kg gross (from memory); this program takes the package as a closed outer packaging",
            paragraph,
        )


def _inner_within_list(content: Content, case: Case) -> Iterator[Answer]:
    """Column 7a: the most one inner packaging may hold."""
    paragraph, text = _CONDITIONS[case.mode], content.entry.limited_quantity or "none"
    most = limited_inner(content)
    if not most:
        known = "0" in text or text == "none"
        said = "it may not be shipped as a limited quantity" if known else "this program does not follow that reference"
        yield refuse(
            "limited-not-allowed" if known else "limited-open",
            f"{content.described_as()}: the entry's limited quantity reads {text}; {said}; ship it in full",
            paragraph,
        )
        return
    if content.goods.inner is None:
        return
    holds = content.goods.inner.holds
    one = same_kind(most, holds)
    if one is None:
        yield refuse(
            "inner-unit",
            f"{content.described_as()}: the limit is {text} in each inner packaging, the record gives {show(holds)}; write holds in the same kind of unit",
            paragraph,
        )
    elif amount(holds)[0] > one.value:
        yield refuse(
            "limited-inner-over",
            f"{content.described_as()}: {show(holds)} in an inner packaging, the limit is {text}; use smaller inner packagings or ship in full",
            paragraph,
        )


@rule("excepted-quantity", cite={Mode.ROAD: "ADR 3.5.4", Mode.SEA: "IMDG 3.5.4", Mode.AIR: "ICAO TI 3;5.4"})
def excepted_quantity(case: Case) -> Iterator[Answer]:
    """The square with the hatched edge, in place of all other marks and labels, within the limits of the E code."""
    paragraph = {Mode.ROAD: "ADR 3.5.1.2", Mode.SEA: "IMDG 3.5.1.2", Mode.AIR: "ICAO TI 3;5.1.2"}[case.mode]
    contents = _shipped(case, ShipAs.EXCEPTED)
    if not contents:
        codes = ", ".join(dict.fromkeys(content.entry.excepted_quantity or "none" for content in case.contents))
        yield Spares(f"not shipped as an excepted quantity (code of the entry: {codes})", cite=(paragraph,))
        return
    lowest = None
    for content in contents:
        limits = excepted_limits(content, case)
        code = content.entry.excepted_quantity or "none"
        if limits is None:
            yield refuse(
                "excepted-not-allowed",
                f"{content.described_as()}: the entry's code is {code}; it may not be shipped as an excepted quantity; ship it in full",
                paragraph,
            )
            continue
        inner_most, outer_most = limits
        lowest = outer_most if lowest is None or outer_most.value < lowest.value else lowest
        if case.mode is Mode.AIR and read_limit(content.entry.passenger or "").kind == "forbidden":
            yield refuse(
                "excepted-not-by-air",
                f"{content.described_as()}: forbidden on passenger aircraft, so no excepted quantity by air",
                "ICAO TI 3;5.1.1",
                "49 CFR 173.4a(b)",
            )
        if content.goods.inner is None:
            yield refuse(
                "excepted-needs-inner",
                f"{content.described_as()}: an excepted quantity stands in inner packagings, the record gives none; write inner",
                paragraph,
            )
        elif small_units(content.goods.inner.holds) > inner_most.value:
            yield refuse(
                "excepted-inner-over",
                f"{content.described_as()}: {show(content.goods.inner.holds)} in an inner packaging, code {code} allows {inner_most.text}; use smaller inner packagings",
                paragraph,
            )
    total = sum((small_units(content.net) for content in contents), start=Decimal(0))
    if lowest is not None and total > lowest.value:
        yield refuse(
            "excepted-outer-over",
            f"{total:f} mL or g in one package, the code allows {lowest.text}; put less into each package",
            paragraph,
        )
    classes = tuple(dict.fromkeys(content.entry.division or content.entry.hazard_class for content in contents))
    yield note(
        "excepted-packaging",
        "three layers, absorbent for all the liquid, drop and stacking tests documented: the packaging of an excepted quantity is the shipper's to prove",
        {Mode.ROAD: "ADR 3.5.2", Mode.SEA: "IMDG 3.5.2", Mode.AIR: "ICAO TI 3;5.2"}[case.mode],
    )
    yield Needs(
        f"{listed(content.described_as() for content in contents)} shipped as an excepted quantity",
        words=(", ".join(classes), case.record.shipper.name),
        goods=case.indices(contents),
    )
