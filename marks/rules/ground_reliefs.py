"""US highway, reliefs: limited quantities (172.315, 173.150 to 173.155, 173.306) and excepted quantities (173.4a)."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.case import Case, Content, amount, listed
from marks.goods import us
from marks.ground_limits import GROUND, ExceptedGround, LimitedGround, excepted, figure, limited_inner
from marks.quantity import show
from marks.reliefs import small_units
from marks.rule import Answer, Needs, Spares, note, refuse, rule
from marks.tables import limit
from marks.terms import ShipAs

_MARK = "49 CFR 172.315(a)"
_SQUARE = "49 CFR 173.4a(g)"


@rule("limited-quantity", cite={GROUND: _MARK})
def limited_quantity_in_the_us(case: Case) -> Iterator[Answer]:
    """The square with black corners, within the inner limit of class and packing group and 30 kg gross.

    It frees the package of number, name and address (172.301) and of labels; not of the arrows, nor, with a hazardous
    substance inside, of number, name, address and RQ (172.324(c)). UN and US limits differ: column 7a is not asked.
    """
    contents = case.shipped_as(ShipAs.LIMITED)
    if not contents:
        for content in case.contents:
            held = limited_inner(content, case.on)
            yield Spares(f"{content.described_as()}: not shipped as one ({_limit_in_words(held)})", cite=held.cite)
        return
    gross = figure("limited", "gross", case.on)
    if case.gross_kg > gross.value:
        yield refuse(
            "limited-gross-over",
            f"{show(case.package.gross_mass)} gross; a limited quantity package may not weigh more than {gross.text}; "
            "make smaller packages or ship in full",
            gross.paragraph(GROUND),
        )
    for content in contents:
        yield from _inner_of_limited(content, limited_inner(content, case.on))
    yield note(
        "limited-tray",
        "on shrink- or stretch-wrapped trays the limit is 20 kg gross, without fragile inner packagings; this "
        "program takes the package as a closed outer packaging",
        "49 CFR 173.25(b)",
    )
    yield Needs(
        f"{listed(c.described_as() for c in contents)} shipped as a limited quantity", goods=case.indices(contents)
    )


def _limit_in_words(held: LimitedGround) -> str:
    if held.never:
        return held.never
    return f"limit {held.most.text} in each inner packaging" if held.most else "30 kg gross in a package"


def _inner_of_limited(content: Content, held: LimitedGround) -> Iterator[Answer]:
    inner, said = content.goods.inner, content.described_as()
    if held.never:
        yield refuse("limited-not-allowed", f"{said}: {held.never}; ship it in full", *held.cite)
    elif held.most is None:
        return
    elif inner is None:
        yield refuse(
            "limited-needs-inner",
            f"{said}: a limited quantity stands in inner packagings of at most {held.most.text}, the record gives "
            "none; write inner, or ship_as: full",
            *held.cite,
        )
    elif amount(inner.holds)[1] != held.most.unit:
        yield refuse(
            "inner-unit",
            f"{said}: the limit is {held.most.text} in each inner packaging, the record gives {show(inner.holds)}; "
            "write holds in the same kind of unit",
            *held.cite,
        )
    elif amount(inner.holds)[0] > held.most.value:
        yield refuse(
            "limited-inner-over",
            f"{said}: {show(inner.holds)} in an inner packaging, the limit is {held.most.text}; use smaller inner "
            "packagings or ship in full",
            *held.cite,
        )
    elif content.entry.un == "1950" and "plastic" in inner.of.casefold() and us.hazards(content.entry) != ("2.2",):
        yield refuse(
            "aerosol-of-plastics",
            f"{said}: an aerosol of plastics may be a limited quantity only in division 2.2 without subsidiary "
            "hazard; ship it in full",
            "49 CFR 173.306(a)(5)(i)",
        )


@rule("limited-quantity-air", cite={GROUND: _MARK})
def mark_with_the_y_in_the_us(case: Case) -> Iterator[Answer]:
    """On the highway the plain mark is asked for; the one with the Y may stand in its place (172.315(a))."""
    yield Spares("the mark with the Y is the air's; on the highway it may stand in place of the plain one")


@rule("excepted-quantity", cite={GROUND: _SQUARE})
def excepted_quantity_in_the_us(case: Case) -> Iterator[Answer]:
    """In place of all other marks and labels; limits by class and packing group, the lowest outer one for the package.

    US law bars on the highway too what may not go on passenger aircraft (173.4a(b)); ADR does not.
    """
    contents = case.shipped_as(ShipAs.EXCEPTED)
    held = [(content, excepted(content, case.on)) for content in contents or case.contents]
    if not contents:
        for content, limits in held:
            why = limits.never or f"{limits.inner} mL or g in an inner packaging, {limits.outer} in a package"
            yield Spares(f"{content.described_as()}: not shipped as one ({why})", cite=limits.cite)
        return
    for content, limits in held:
        yield from _inner_of_excepted(content, limits)
    yield from _outer_of_excepted(held)
    yield from _notes(held, case)
    classes = dict.fromkeys(us.shown_class(content.entry) for content in contents)
    yield Needs(
        f"{listed(content.described_as() for content in contents)} shipped as an excepted quantity",
        words=(", ".join(classes), case.record.shipper.name),
        goods=case.indices(contents),
    )


def _inner_of_excepted(content: Content, limits: ExceptedGround) -> Iterator[Answer]:
    inner, said = content.goods.inner, content.described_as()
    if limits.never or limits.inner is None:
        yield refuse("excepted-not-allowed", f"{said}: {limits.never}; ship it in full", *limits.cite)
    elif inner is None:
        yield refuse(
            "excepted-needs-inner",
            f"{said}: an excepted quantity stands in inner packagings, the record gives none; write inner",
            *limits.cite,
        )
    elif small_units(inner.holds) > limits.inner:
        yield refuse(
            "excepted-inner-over",
            f"{said}: {show(inner.holds)} in an inner packaging, the limit is {limits.inner} mL or g; use smaller "
            "inner packagings",
            *limits.cite,
        )


def _outer_of_excepted(held: list[tuple[Content, ExceptedGround]]) -> Iterator[Answer]:
    outers = [limits.outer for _, limits in held if limits.outer is not None]
    total = _total(held)
    if outers and total > min(outers):
        yield refuse(
            "excepted-outer-over",
            f"{total:f} mL or g in one package, the lowest limit of its goods is {min(outers)} mL or g; put less into "
            "each package",
            "49 CFR 173.4a(d)",
        )


def _total(held: list[tuple[Content, ExceptedGround]]) -> Decimal:
    return sum((small_units(content.net) for content, _ in held), start=Decimal(0))


def _notes(held: list[tuple[Content, ExceptedGround]], case: Case) -> Iterator[Answer]:
    yield note(
        "excepted-packaging",
        "three layers, absorbent for all the liquid, drop and stacking tests documented: the packaging of an "
        "excepted quantity is the shipper's to prove",
        "49 CFR 173.4a(e), (f)",
    )
    inner, outer = (limit("excepted", f"least.{name}", case.on) for name in ("inner", "outer"))
    least = all(content.goods.inner and small_units(content.goods.inner.holds) <= inner.value for content, _ in held)
    groups = all(us.packing_group(content.entry) in ("II", "III") for content, _ in held)
    if least and groups and _total(held) <= outer.value:
        yield note(
            "least-quantity",
            f"up to {inner.text} in an inner packaging, {outer.text} in a package and 29 kg gross, packing groups II "
            "and III of most classes are not regulated at all and need no mark; the mark does no harm",
            "49 CFR 173.4b(a)",
        )
