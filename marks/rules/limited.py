"""Limited quantities: the plain mark and the one with the Y, and every limit that must hold before they may be used."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.aircraft import as_text, over_lowest, sum_of_parts
from marks.case import Case, Content, amount, listed
from marks.quantity import show
from marks.reliefs import AirLimited, Amount, air_limited, amounts, breakable, limited_inner, same_kind
from marks.rule import Answer, Needs, Spares, caution, note, refuse, rule
from marks.tables import limit
from marks.terms import Mode, ShipAs, State

_CONDITIONS = {Mode.ROAD: "ADR 3.4.2", Mode.SEA: "IMDG 3.4.2", Mode.AIR: "ICAO TI 3;4.2"}
_TABLE_3 = "49 CFR 173.27(f)(3)"
_TO_AIR = "49 CFR 173.27(f)(2)(i)"


@rule(
    "limited-quantity",
    cite={Mode.ROAD: "ADR 3.4.7", Mode.SEA: "IMDG 3.4.5"},
    elsewhere="by air the limited quantity mark bears a Y",
)
def limited_quantity(case: Case) -> Iterator[Answer]:
    """The square on its point with black corners, in place of number and labels, within column 7a and 30 kg gross."""
    contents = case.shipped_as(ShipAs.LIMITED)
    if not contents:
        for content in case.contents:
            yield Spares(f"{content.described_as()}: {_why_not(content)}", cite=(_CONDITIONS[case.mode],))
        return
    yield from _common_conditions(contents, case)
    yield _mark(contents, case, "shipped as a limited quantity")


def _why_not(content: Content) -> str:
    inner, most = content.goods.inner, limited_inner(content)
    one = same_kind(most, inner.holds) if inner is not None else None
    if inner is not None and one is not None and amount(inner.holds)[0] <= one.value:
        return "could be one by its inner packagings, but is shipped in full"
    text = content.entry.limited_quantity or "none"
    return f"not shipped as one (limit of the entry: {text} in each inner packaging)"


def _mark(contents: tuple[Content, ...], case: Case, shipped: str) -> Needs:
    return Needs(f"{listed(c.described_as() for c in contents)} {shipped}", goods=case.indices(contents))


@rule(
    "limited-quantity-air",
    cite={Mode.AIR: "ICAO TI 3;4.5"},
    elsewhere="the form with a Y belongs to the air; road and sea accept it in place of the plain one",
)
def limited_quantity_by_air(case: Case) -> Iterator[Answer]:
    """The mark with the Y, together with labels, number, name and addresses; limits by class and packing group.

    The figures are those of US law. For goods together in one package the Technical Instructions sum the parts (from
    memory), US law takes the lowest limit for the total: what is within the one and not the other is told so.
    """
    contents = case.shipped_as(ShipAs.LIMITED)
    if not contents:
        yield Spares("not shipped as a limited quantity by air")
        return
    yield from _common_conditions(contents, case)
    parts: list[tuple[Decimal, Amount]] = []
    for content in contents:
        held = air_limited(content)
        if held.never:
            yield refuse(
                "limited-not-by-air",
                f"{content.described_as()}: {held.never}; ship it in full",
                "ICAO TI 3;4.1",
                _TO_AIR,
            )
            continue
        yield from _air_inner(content, held)
        if held.outer and "gross" not in held.outer:
            outer = amounts(held.outer)[0]
            yield from _air_outer(content, outer)
            if amount(content.net)[1] == outer.unit:
                parts.append((amount(content.net)[0], outer))
    yield from _air_together(parts)
    yield _mark(contents, case, "shipped as a limited quantity by air")


def _air_inner(content: Content, held: AirLimited) -> Iterator[Answer]:
    inner = content.goods.inner
    text = held.inner(inner.of) if inner is not None else None
    if inner is None or text is None:
        return
    one = same_kind(amounts(text), inner.holds)
    if one is None:
        yield refuse(
            "inner-unit",
            f"{content.described_as()}: the limit by air is {text} in an inner packaging, the record gives "
            f"{show(inner.holds)}; write holds in the same kind of unit",
            _TABLE_3,
        )
    elif amount(inner.holds)[0] > one.value:
        kind = "glass or the like" if breakable(inner.of) else "metal or plastic"
        yield refuse(
            "limited-inner-over",
            f"{content.described_as()}: {show(inner.holds)} in an inner packaging of {kind}, the limit by air is "
            f"{text}; use smaller inner packagings or ship in full",
            _TABLE_3,
        )


def _air_outer(content: Content, outer: Amount) -> Iterator[Answer]:
    value, unit = amount(content.net)
    if unit != outer.unit:
        yield refuse(
            "net-unit",
            f"{content.described_as()}: the limit by air is {outer.text} in a package, the record gives "
            f"{content.net_text}; write net in {outer.unit}",
            _TABLE_3,
        )
    elif value > outer.value:
        yield refuse(
            "limited-outer-over",
            f"{content.described_as()}: {content.net_text} in one package, the limit by air is {outer.text}; put less "
            "into each package or ship in full",
            _TABLE_3,
        )


def _air_together(parts: list[tuple[Decimal, Amount]]) -> Iterator[Answer]:
    """Several goods in one package, each within its own limit: the sum of parts, and the lowest limit of US law."""
    if len(parts) < 2 or any(value > most.value for value, most in parts):
        return
    q = sum_of_parts(parts)
    if q > 1:
        yield refuse(
            "limited-outer-over",
            f"the sum of parts of the limits by air is {as_text(q)}, more than 1; put less into each package or ship "
            "in full",
            "ICAO TI 3;4.3",
        )
    elif lowest := over_lowest(parts):
        yield caution(
            "us-lowest-limit",
            f"together the goods are over {lowest}, the lowest of their limits by air: allowed by the sum of parts, "
            "not by US law; put less into a package that flies under US law",
            _TO_AIR,
            "ICAO TI 3;4.3",
        )
    elif len({most.unit for _, most in parts}) > 1:
        yield caution(
            "limited-mixed-units",
            "liquids and solids share the package: US law holds their total in kilograms against the lowest outer "
            "limit, which this program cannot",
            _TO_AIR,
        )


def _common_conditions(contents: tuple[Content, ...], case: Case) -> Iterator[Answer]:
    """Inner packagings in an outer one, each within column 7a, and 30 kg gross together."""
    paragraph, gross = _CONDITIONS[case.mode], limit("limited", "gross", case.on)
    if case.gross_kg > gross.value:
        yield refuse(
            "limited-gross-over",
            f"{show(case.package.gross_mass)} gross; a limited quantity package may not weigh more than {gross.text}; "
            "make smaller packages or ship in full",
            gross.paragraph(case.mode),
        )
    else:
        yield note(
            "limited-tray",
            "on shrink- or stretch-wrapped trays the limit is 20 kg gross (from memory); this program takes the "
            "package as a closed outer packaging",
            paragraph,
        )
    for content in contents:
        yield from _inner_within_list(content, paragraph)


def _inner_within_list(content: Content, paragraph: str) -> Iterator[Answer]:
    """Column 7a: the most one inner packaging, or one article, may hold."""
    text, inner = content.entry.limited_quantity or "none", content.goods.inner
    most = limited_inner(content)
    if not most:
        known = text in ("0", "none")
        said = "it may not be shipped as a limited quantity" if known else "this program does not follow that reference"
        yield refuse(
            "limited-not-allowed" if known else "limited-open",
            f"{content.described_as()}: the entry's limited quantity reads {text}; {said}; ship it in full",
            paragraph,
        )
        return
    if inner is None:
        article = " (of an article: how many, and what each holds)" if content.state is State.ARTICLE else ""
        yield refuse(
            "limited-needs-inner",
            f"{content.described_as()}: a limited quantity stands in inner packagings of at most {text}, the record "
            f"gives none; write inner{article}, or ship_as: full",
            paragraph,
        )
        return
    one = same_kind(most, inner.holds)
    if one is None:
        yield refuse(
            "inner-unit",
            f"{content.described_as()}: the limit is {text} in each inner packaging, the record gives "
            f"{show(inner.holds)}; write holds in the same kind of unit",
            paragraph,
        )
    elif amount(inner.holds)[0] > one.value:
        yield refuse(
            "limited-inner-over",
            f"{content.described_as()}: {show(inner.holds)} in an inner packaging, the limit is {text}; use smaller "
            "inner packagings or ship in full",
            paragraph,
        )
