"""V boxes and test certificates: the conditions under which a box may hold inner packagings it was not tested with."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case
from marks.check import check
from marks.inside import Gaps, Inside, inner_mass_kg, mass_kg
from marks.quantity import plain, show, to
from marks.requirement import Finding
from marks.rule import EVERY_MODE, caution, refuse
from marks.terms import Mode, ShipAs, State
from marks.variation import computed, gaps_of, is_variation

_EVERYWHERE = (*EVERY_MODE, Mode.US_GROUND)
_UNTESTED = (ShipAs.LIMITED, ShipAs.EXCEPTED)
_V = {
    Mode.ROAD: "ADR 6.1.5.1.7",
    Mode.SEA: "IMDG 6.1.5.1.7",
    Mode.AIR: "ICAO TI 6;4.1.7",
    Mode.US_GROUND: "49 CFR 178.601(g)(2)",
}
_US = "49 CFR 178.601(g)(2)"


def _cite(case: Case, letter: str) -> tuple[str, ...]:
    """The paragraph of the mode, from memory, and the US one that was read."""
    return tuple(dict.fromkeys((_V[case.mode], f"{_US}({letter})")))


@check(modes=_EVERYWHERE, spared=_UNTESTED, concerns=lambda case: is_variation(case.package))
def conditions_of_a_v_box(case: Case) -> Iterator[Finding]:
    """Inner packagings only; absorbent for all the liquid; a leakproof liner round it; marked X, as tested for group I."""
    mark = case.package.spec
    if mark is not None and mark.performance not in (None, "X"):
        yield caution(
            "v-not-x",
            f"a V box is tested as for packing group I and marked X, the mark reads {mark.performance}: read it again",
            *_cite(case, "vii"),
        )
    for content in case.contents:
        inner, said = content.goods.inner, content.described_as()
        if inner is None and content.state is not State.ARTICLE:
            yield refuse(
                "v-inner-missing",
                f"{said}: a V box holds inner packagings or articles, nothing straight in it; write inner",
                _V[case.mode],
                _US,
            )
        elif inner is not None and content.state is State.LIQUID and inner.absorbent != "full":
            yield refuse(
                "v-absorbent",
                f"{said}: liquid in a V box stands in absorbent for all of it, and the record says absorbent: "
                f"{inner.absorbent}; pack it so and write absorbent: full",
                *_cite(case, "v"),
            )
    yield from _liner(case)
    yield from _certificate(case)


def _liner(case: Case) -> Iterator[Finding]:
    liquid = any(content.state is State.LIQUID for content in case.contents)
    proof = "leakproof" if liquid else "siftproof"
    if case.package.liner:
        return
    make = refuse if case.package.liner is False and liquid else caution
    yield make(
        "v-liner",
        f"unless the box itself is {proof}, a {proof} liner or bag stands in it with the absorbent inside; put it in "
        "and write liner: true",
        *_cite(case, "vi"),
    )


def _certificate(case: Case) -> Iterator[Finding]:
    certificate = case.package.certificate
    if certificate is None or certificate.inner_gross_mass is None or certificate.distances is None:
        yield caution(
            "v-certificate-open",
            "the test certificate says how much the filled inner packagings may weigh together (half of those it was "
            "tested with) and how thick the cushioning must be, usually at least 20 mm under, between, around and "
            "above (common practice, no source); write certificate with inner_gross_mass and distances",
            *_cite(case, "iii"),
        )


@check(
    modes=_EVERYWHERE,
    spared=_UNTESTED,
    concerns=lambda case: bool(case.package.certificate and case.package.certificate.inner_gross_mass),
)
def mass_of_the_inner_packagings(case: Case) -> Iterator[Finding]:
    """The filled inner packagings together weigh no more than the certificate says: the first of the two masses."""
    package = case.package
    assert package.certificate is not None and package.certificate.inner_gross_mass is not None
    most, found = package.certificate.inner_gross_mass, inner_mass_kg(package)
    inners = [content.goods.inner for content in case.contents]
    if found > to(most, "kg"):
        yield refuse(
            "over-inner-mass",
            f"the filled inner packagings weigh {plain(found)} kg, the certificate allows {show(most)}; put fewer in",
            *_cite(case, "ii"),
        )
    elif any(inner is not None and inner.mass_each is None for inner in inners):
        yield caution(
            "inner-mass-open",
            f"the certificate allows {show(most)} of filled inner packagings: weigh them, or write mass_each",
            *_cite(case, "ii"),
        )


@check(modes=_EVERYWHERE, spared=_UNTESTED)
def inside_of_the_box(case: Case) -> Iterator[Finding]:
    """Do they fit with the distances kept; is there enough absorbent; is it as heavy as the record says?"""
    package, gaps = case.package, gaps_of(case.package, case.on)
    inside = computed(package, case.on)
    if inside is None:
        if package.certificate and package.certificate.distances:
            yield caution(
                "inside-open",
                "the certificate's distances can be computed where the record says inside, the clear room in the "
                "box, and the size of each inner packaging",
                *_cite(case, "iii"),
            )
        return
    yield from _room(inside, gaps, case)
    yield from _absorbent(inside, case)
    yield from _mass(inside, case)


def _room(inside: Inside, gaps: Gaps | None, case: Case) -> Iterator[Finding]:
    kept = ""
    if gaps is not None:
        where = zip(("under", "to the sides", "between", "above"), gaps, strict=True)
        kept = " with " + ", ".join(f"{plain(value)} mm {words}" for words, value in where)
        if not (case.package.certificate and case.package.certificate.distances):
            kept += " (what certificates usually ask; the record gives none)"
    if inside.impossible:
        yield refuse(
            "inside-too-small",
            f"the inner packagings do not fit{kept}: {inside.impossible}; take a larger box, or put fewer in",
            *_cite(case, "iii"),
        )
    elif not inside.fits:
        yield caution(
            "inside-not-found",
            f"no arrangement in rows and layers takes the inner packagings{kept}; try it with the box itself, or take "
            "a larger one",
            *_cite(case, "iii"),
        )


def _absorbent(inside: Inside, case: Case) -> Iterator[Finding]:
    """Where absorbent for all the liquid is said: whether what fills the box takes it up."""
    asked = any(one.goods.inner and one.goods.inner.absorbent == "full" for one in case.contents)
    if inside.impossible or not asked or not inside.liquid_ml:
        return
    if not inside.free_ml:
        yield refuse(
            "absorbent-too-little",
            "the inner packagings fill the box and leave no room for absorbent; take a larger box, or put fewer in",
            *_cite(case, "v"),
        )
        return
    filling, litres = case.package.filling, inside.free_ml / 1000
    takes = filling.litre_takes if filling else None
    if takes is None:
        yield caution(
            "absorbent-open",
            f"{litres:.1f} L of absorbent fill the box: a litre of it has to take up {inside.takes_each_litre_ml:.0f} "
            f"mL, so that all {plain(inside.liquid_ml / 1000)} L are held; ask its maker, and write filling with "
            "litre_takes",
            *_cite(case, "v"),
        )
    elif to(takes, "mL") * litres < inside.liquid_ml:
        yield refuse(
            "absorbent-too-little",
            f"{litres:.1f} L of {filling.of if filling else 'absorbent'} fill the box and take up "
            f"{to(takes, 'mL') * litres / 1000:.2f} L of the {plain(inside.liquid_ml / 1000)} L in it; take one that "
            "holds more, or a larger box",
            *_cite(case, "v"),
        )


def _mass(inside: Inside, case: Case) -> Iterator[Finding]:
    mass, mark = mass_kg(case.package, inside.free_ml), case.package.spec
    if inside.impossible or mass is None:
        return
    said = case.gross_kg
    if mark is not None and mark.gross_kg is not None and mass > mark.gross_kg:
        yield caution(
            "mass-over-mark",
            f"box, inner packagings and filling come to {mass:.2f} kg, over the marked {plain(mark.gross_kg)} kg: "
            "weigh it",
            *_cite(case, "vii"),
        )
    elif abs(mass - said) * 10 > said:
        yield caution(
            "mass-differs",
            f"box, inner packagings and filling come to {mass:.2f} kg, the record says "
            f"{show(case.package.gross_mass)}: weigh it",
            *_cite(case, "vii"),
        )
