"""How full a receptacle of liquid may be: room for what the liquid expands by, at 55 °C and by the tables of ADR."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from msgspec import Struct

from marks.case import Case, Content
from marks.check import check
from marks.quantity import Quantity, is_volume, plain, show, to
from marks.requirement import Finding
from marks.rule import EVERY_MODE, caution, refuse
from marks.salvage import is_salvage
from marks.tables import dated
from marks.terms import Mode, ShipAs, State

_FULL = {
    Mode.ROAD: "ADR 4.1.1.4",
    Mode.SEA: "IMDG 4.1.1.4",
    Mode.AIR: "ICAO TI 4;1.1.5",
    Mode.US_GROUND: "49 CFR 173.24a(d)",
}
_EVERYWHERE = (*EVERY_MODE, Mode.US_GROUND)
_MOST = Decimal(98)


class Filled(Struct, frozen=True):
    """One receptacle: what it holds of a liquid and what it could hold to the brim; of: in words."""

    content: Content
    holds: Quantity
    capacity: Quantity | None
    of: str

    @property
    def percent(self) -> Decimal:
        """How full it is, in percent of the capacity."""
        assert self.capacity is not None  # asked of those alone whose capacity is known
        return to(self.holds, "mL") / to(self.capacity, "mL") * 100

    @property
    def expansion(self) -> Decimal | None:
        """By what its volume grows from 15 to 50 °C: the ratio of the two densities; None where one is not known."""
        goods = self.content.goods
        if goods.density is None or goods.density_50 is None or not goods.density_50:
            return None
        return goods.density / goods.density_50

    @property
    def said(self) -> str:
        """What is in what, in words."""
        return f"{self.content.described_as()}: {show(self.holds)} in {self.of}"


def receptacles(case: Case) -> Iterator[Filled]:
    """Every receptacle of liquid in the package: of a combination packaging the inner ones."""
    for content in case.contents:
        inner, package = content.goods.inner, case.package
        if content.state is not State.LIQUID:
            continue
        if inner is not None and is_volume(inner.holds) and inner.capacity is not None:
            yield Filled(content, inner.holds, inner.capacity, f"a {inner.of} of {show(inner.capacity)}")
        elif inner is None and is_volume(content.net) and package.kind.kind not in ("none", "cylinder"):
            size = f" of {show(package.capacity)}" if package.capacity is not None else ""
            yield Filled(content, content.net, package.capacity, f"packaging {package.packaging}{size}")


@check(modes=_EVERYWHERE, spared=(ShipAs.EXCEPTED,), concerns=lambda case: not is_salvage(case.package))
def room_for_expansion(case: Case) -> Iterator[Finding]:
    """At 55 °C no receptacle is full of liquid (49 CFR 173.24a(d)).

    From memory: by road a packaging filled at 15 °C is no fuller than a table by boiling point allows (ADR 4.1.1.4 (a)), or
    than 98 % at 50 °C (b); an IBC in every mode 98 % at 50 °C. Filled at 15 °C is taken for granted.
    """
    for one in receptacles(case):
        if one.capacity is None:
            yield _unknown(one, case, "the record does not give its capacity", "capacity")
        elif one.percent > 100:
            yield refuse(
                "filled-too-full", f"{one.said}: it does not hold so much; write what is in it", _FULL[case.mode]
            )
        else:
            yield from _at_55(one, case)
            yield from _degree(one, case)


def _at_55(one: Filled, case: Case) -> Iterator[Finding]:
    """Expansion is counted evenly from 15 °C on: 40 degrees to 55 °C, 35 to 50 °C."""
    if one.expansion is None:
        return
    at_55 = one.percent * (1 + (one.expansion - 1) * 40 / 35)
    if at_55 >= 100:
        yield refuse(
            "filled-too-full",
            f"{one.said}, {one.percent:.1f} % of its capacity, fills it at 55 °C by the densities in the record; "
            "leave more room",
            _FULL[case.mode],
        )


def _degree(one: Filled, case: Case) -> Iterator[Finding]:
    """The degree of filling by road, and of an IBC: by the boiling point or by the densities, whichever allows more."""
    ibc = case.package.kind.kind == "ibc"
    if case.mode is not Mode.ROAD and not ibc:
        return
    allowed = dict(_allowed(one, case, ibc))
    if not allowed:
        least = Decimal(next(dated("packagings", "filling", case.on))["percent"])
        if one.percent > (_MOST if ibc else least):
            keys = "density and density_50" if ibc else "density and density_50, or boiling_point"
            yield _unknown(one, case, f"{one.percent:.1f} % of its capacity", keys)
        return
    most = max(allowed.values())
    if one.percent > most:
        ways = " or ".join(f"{value:.1f} % {way}" for way, value in allowed.items())
        yield refuse(
            "filled-too-full",
            f"{one.said} is {one.percent:.1f} % of its capacity; filled at 15 °C it may be {ways} (from memory); fill "
            "in less",
            _FULL[case.mode],
        )


def _allowed(one: Filled, case: Case, ibc: bool) -> Iterator[tuple[str, Decimal]]:
    boiling = one.content.goods.boiling_point
    if boiling is not None and case.mode is Mode.ROAD:
        for row in dated("packagings", "filling", case.on):
            if "under" not in row or boiling < Decimal(row["under"]):
                yield f"by its boiling point of {plain(boiling)} °C", Decimal(row["percent"])
                break
    if one.expansion is not None:
        yield "by its densities", _MOST / one.expansion


def _unknown(one: Filled, case: Case, what: str, keys: str) -> Finding:
    return caution(
        "ullage-open",
        f"{one.said}: {what}; room must stay for what it expands by, so that it is not full at 55 °C; fill by its "
        f"maker's degree of filling, or write {keys}",
        _FULL[case.mode],
    )
