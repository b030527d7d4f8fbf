"""What the mark's figures allow of a liquid: density and vapour pressure; and how much a packaging may hold at all."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.case import Case, Content
from marks.check import check
from marks.large import is_large
from marks.packaging import SpecMark
from marks.quantity import is_mass, plain, show, to
from marks.requirement import Finding
from marks.rule import EVERY_MODE, SURFACE, caution, refuse
from marks.tables import dated, limit
from marks.terms import Mode, ShipAs, State

_UNTESTED = (ShipAs.LIMITED, ShipAs.EXCEPTED)
_DENSITY = {Mode.ROAD: "ADR 6.1.3.1 (c)", Mode.SEA: "IMDG 6.1.3.1 (c)", Mode.AIR: "ICAO TI 6;2.1.1"}
_PRESSURE = {Mode.ROAD: "ADR 4.1.1.10", Mode.SEA: "IMDG 4.1.1.10", Mode.AIR: "ICAO TI 4;1.1.6"}


def _of_liquid(case: Case) -> bool:
    """Whether the packaging bears the mark of one tested with liquid in it."""
    return case.package.spec is not None and case.package.spec.for_liquid


def straight_in(case: Case) -> Iterator[Content]:
    """The liquids that stand in the packaging itself."""
    return (one for one in case.contents if one.goods.inner is None and one.state is State.LIQUID)


@check(modes=EVERY_MODE, spared=_UNTESTED, concerns=_of_liquid)
def density_and_pressure_of_the_liquid(case: Case) -> Iterator[Finding]:
    """The liquid is no denser than the mark says, and its vapour pressure stays within what the test pressure allows.

    49 CFR 173.24a(b)(1) lets a higher letter carry a denser liquid of a lower packing group: X marked 1.2 one of group
    II up to 1.8. ADR, IMDG and the Technical Instructions state the tests that this follows from, not the rule itself
    (from memory); between mark and step a person decides.
    """
    mark = case.package.spec
    assert mark is not None  # the check concerns marked packagings
    for content in straight_in(case):
        yield from _density(mark, content, case)
        yield from _pressure(mark, content, case)
        if content.goods.density is None or content.goods.vapour_pressure is None:
            yield _open(mark, content, case)


def _density(mark: SpecMark, content: Content, case: Case) -> Iterator[Finding]:
    density, marked = content.goods.density, _marked(mark)
    if density is None or density <= marked:
        return
    step = _step(mark, content, case)
    said = f"{content.described_as()}: a relative density of {plain(density)} is over the marked {plain(marked)}"
    if density > step:
        yield refuse("density-over", f"{said}; take a packaging marked for a denser liquid", _DENSITY[case.mode])
    else:
        yield caution(
            "density-by-step",
            f"{said}, and within {plain(step)}, up to which US law lets {mark.performance} carry packing group "
            f"{content.group}",
            _DENSITY[case.mode],
            "49 CFR 173.24a(b)(1)",
        )


def _step(mark: SpecMark, content: Content, case: Case) -> Decimal:
    """The density a letter above the packing group allows."""
    marked = _marked(mark)
    for row in dated("ground", "density", case.on):
        if (row["letter"], row["group"]) == (mark.performance, content.group):
            return max(Decimal(row["least"]), Decimal(row["factor"]) * marked)
    return marked


def _marked(mark: SpecMark) -> Decimal:
    """The relative density of the mark."""
    assert mark.density is not None  # of every mark in the liquid form, which the check concerns
    return mark.density


def _tested(mark: SpecMark) -> Decimal:
    """Test pressure and 100 kPa."""
    assert mark.pressure_kpa is not None  # as above
    return Decimal(mark.pressure_kpa) + 100


def _most(mark: SpecMark) -> tuple[Decimal, Decimal]:
    """The vapour pressures in kPa that the test pressure stays above: at 50 °C and at 55 °C."""
    return _tested(mark) * 4 / 7, _tested(mark) * 2 / 3


def _pressure(mark: SpecMark, content: Content, case: Case) -> Iterator[Finding]:
    """Under four sevenths of test pressure and 100 kPa at 50 °C, or under two thirds of them at 55 °C."""
    held = content.goods.vapour_pressure
    if held is None:
        return
    most_50, most_55 = _most(mark)
    tested = _tested(mark)  # held as products: four sevenths have no end in decimals
    fits_50 = held.at_50 is not None and to(held.at_50, "kPa") * 7 < tested * 4
    fits_55 = held.at_55 is not None and to(held.at_55, "kPa") * 3 < tested * 2
    if not fits_50 and not fits_55:
        given = " and ".join(
            f"{show(value)} at {degrees} °C"
            for value, degrees in ((held.at_50, 50), (held.at_55, 55))
            if value is not None
        )
        yield refuse(
            "vapour-pressure-over",
            f"{content.described_as()}: a vapour pressure of {given}; a test pressure of {mark.pressure_kpa} kPa "
            f"allows less than {most_50:.1f} kPa at 50 °C or {most_55:.1f} kPa at 55 °C; take a packaging tested at a "
            "higher pressure",
            _PRESSURE[case.mode],
            "49 CFR 173.24a(b)(4)",
        )


def _open(mark: SpecMark, content: Content, case: Case) -> Finding:
    most_50, _ = _most(mark)
    density = [f"relative density up to {plain(_marked(mark))}"] if content.goods.density is None else []
    pressure = [f"vapour pressure under {most_50:.1f} kPa at 50 °C"] if content.goods.vapour_pressure is None else []
    keys = " and ".join(["density"] * bool(density) + ["vapour_pressure"] * bool(pressure))
    return caution(
        "liquid-figures-open",
        f"{content.described_as()}: the mark allows {' and '.join([*density, *pressure])}; the record does not say: "
        f"look at the safety data sheet, or write {keys}",
        (_DENSITY if density else _PRESSURE)[case.mode],
    )


@check(modes=SURFACE, concerns=lambda case: case.package.kind.kind == "ibc" and case.package.kind.code[2] in "ABN")
def pressure_in_a_metal_ibc(case: Case) -> Iterator[Finding]:
    """Metal IBCs take no liquid of a vapour pressure over 110 kPa at 50 °C or 130 kPa at 55 °C (from memory)."""
    for content in straight_in(case):
        held = content.goods.vapour_pressure
        for value, name in ((held.at_50, "50"), (held.at_55, "55")) if held else ():
            most = limit("pressure", f"metal_ibc_{name}", case.on, "packagings")
            if value is not None and to(value, "kPa") > most.value:
                yield refuse(
                    "vapour-pressure-over",
                    f"{content.described_as()}: {show(value)} at {name} °C is over {most.text}, the most in a metal "
                    "IBC; take another packaging",
                    most.paragraph(case.mode),
                )


@check(
    modes=EVERY_MODE,
    concerns=lambda case: not is_large(case.package) and case.package.kind.kind not in ("none", "cylinder"),
)
def not_larger_than_its_kind(case: Case) -> Iterator[Finding]:
    """Drums, boxes, bags and the like hold 450 L or 400 kg at most; what holds more is an IBC or a large packaging."""
    package = case.package
    volume, mass = (limit("nonbulk", name, case.on, "packagings") for name in ("volume", "mass"))
    if package.capacity is not None and to(package.capacity, "L") > volume.value:
        yield refuse(
            "over-non-bulk",
            f"a capacity of {show(package.capacity)} is over {volume.text}, the most of a packaging "
            f"{package.packaging}",
            volume.paragraph(case.mode),
            "49 CFR 171.8",
        )
    solids = sum((to(one.net, "kg") for one in case.contents if is_mass(one.net)), Decimal(0))
    if solids > mass.value:
        yield refuse(
            "over-non-bulk",
            f"{plain(solids)} kg net is over {mass.text}, the most of a packaging {package.packaging}",
            mass.paragraph(case.mode),
            "49 CFR 171.8",
        )
