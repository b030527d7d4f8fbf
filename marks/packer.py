"""What the packer does before marking a package or an overpack: the steps of a checklist, in words."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING

from msgspec import Struct

from marks.inside import Gaps, mass_kg
from marks.quantity import is_volume, plain, show, to
from marks.salvage import is_salvage
from marks.terms import Mode, ShipAs
from marks.variation import computed, gaps_of, is_variation

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from marks.inside import Inside
    from marks.record import Goods, Overpack, Package


class Step(Struct, frozen=True):
    """Something to do before marking. ``field``: the unit of a figure to be written in, as in "kg"."""

    words: str
    field: str = ""


def packing_steps(package: Package, on: date, modes: Sequence[Mode], arrows: bool = False) -> tuple[Step, ...]:
    """What the packer does before marking a package of the record that is offered on that day.

    arrows: its closures have to stand upwards.
    """
    return (
        *_lining(package),
        *_contents(package),
        *_round_them(package, modes),
        *_inside(package, on),
        *_closing(package, arrows),
        *_mark(package),
    )


def overpack_steps(overpack: Overpack) -> tuple[Step, ...]:
    """What the packer does before marking an overpack."""
    held = [f"{overpack.packages.count(one)} × package {one}" for one in dict.fromkeys(overpack.packages)]
    return (
        Step(f"Put in: {', '.join(held)}; each packed, marked and labelled by its own page"),
        Step("Packages with arrows stand as their arrows point; none is damaged or leaks"),
        Step("Secured, so that no package moves or is crushed"),
    )


def _with_absorbent(package: Package) -> bool:
    return any(goods.inner and goods.inner.absorbent == "full" for goods in package.goods)


def _lining(package: Package) -> Iterator[Step]:
    if is_salvage(package):
        yield Step("Salvage: look at the damaged package; nothing presses on it, nothing in it can react")
    if package.liner or (is_variation(package) and package.liner is None and _with_absorbent(package)):
        yield Step("A leakproof bag lines the box, whole and high enough to be closed over the absorbent")


def _number(goods: Goods) -> str:
    return goods.un if goods.un[:2].isalpha() else f"UN {goods.un}"


def _contents(package: Package) -> Iterator[Step]:
    """What goes in, a step for each of the goods."""
    for goods in package.goods:
        number, inner = _number(goods), goods.inner
        if goods.residue:
            yield Step(f"{number}: empty and uncleaned, closed as when full, nothing on its outside")
        elif inner is None:
            yield Step(f"{number}: {show(goods.net_total)}, closed as the packaging's maker says")
        else:
            each = f"{inner.count} × {inner.of}, {show(inner.holds)} each, {show(goods.net_total)} in all"
            yield Step(f"{number}: {each}; every closure tight and secured")


def _round_them(package: Package, modes: Sequence[Mode]) -> Iterator[Step]:
    """What is done to the inner packagings, once for all goods it is done for."""
    found: dict[str, dict[str, None]] = {}
    for goods in package.goods:
        for words in _round(goods, package, modes):
            found.setdefault(words, {})[_number(goods)] = None
    yield from (Step(f"{', '.join(numbers)}: {words}") for words, numbers in found.items())


def _round(goods: Goods, package: Package, modes: Sequence[Mode]) -> Iterator[str]:
    inner = goods.inner
    if goods.residue or inner is None:
        return
    liquid = is_volume(inner.holds)
    if Mode.AIR in modes and liquid and goods.ship_as_for(Mode.AIR) is not ShipAs.EXCEPTED:
        yield "a second means, such as tape, holds each closure (by air)"
    if is_variation(package) and liquid:
        yield "a plastic bag round each is advised, though no rule asks for it"
    absorbent = {"full": "for all of the liquid", "some": "for some of the liquid"}.get(inner.absorbent)
    if absorbent:
        yield f"absorbent material round the inner packagings, {absorbent}"


def _inside(package: Package, on: date) -> Iterator[Step]:
    """The first of two masses, the distances, the arrangement, what fills the rest."""
    certificate, gaps, inside = package.certificate, gaps_of(package, on), computed(package, on)
    if certificate and certificate.inner_gross_mass is not None:
        most = show(certificate.inner_gross_mass)
        yield Step(f"Weigh the filled inner packagings together: {most} at most by the certificate", "kg")
    if gaps is not None:
        usual = "" if certificate and certificate.distances else "; usual, look at the certificate"
        yield Step(f"Keep {_distances(gaps)}{usual}")
    if inside is None or inside.impossible:
        return
    if inside.fits:
        yield Step(f"They fit {_arrangement(inside)}")
    if _with_absorbent(package) and inside.free_ml:
        yield Step(f"Fill the rest to the top: {_filling(package, inside.free_ml)}")
    mass = mass_kg(package, inside.free_ml)
    if mass is not None:
        yield Step(f"Box, inner packagings and filling come to about {mass:.1f} kg")


def _distances(gaps: Gaps) -> str:
    if len(set(gaps)) == 1:
        return f"{plain(gaps.bottom)} mm under, to each side, between and above the inner packagings"
    where = zip(("under", "to each side", "between", "above"), gaps, strict=True)
    return ", ".join(f"{plain(value)} mm {words}" for words, value in where)


def _arrangement(inside: Inside) -> str:
    """ "in one layer, in rows of 2 and 2", "in 2 layers, in rows of 3 and 3 each"."""
    layers = inside.layers
    alike = len(set(layers)) == 1
    count = "one layer" if len(layers) == 1 else f"{len(layers)} layers"
    told = [_rows_of(rows) for rows in (layers[:1] if alike else layers)]
    each = " each" if alike and len(layers) > 1 else ""
    return f"in {count}, {'; then '.join(told)}{each}"


def _rows_of(rows: tuple[int, ...]) -> str:
    if len(rows) == 1:
        return f"in a row of {rows[0]}"
    return f"in rows of {', '.join(map(str, rows[:-1]))} and {rows[-1]}"


def _filling(package: Package, free_ml: Decimal) -> str:
    litres, filling = free_ml / 1000, package.filling
    if filling is None:
        return f"about {litres:.1f} L of absorbent"
    weighs = ""
    if filling.litre_weighs is not None:
        weighs = f", about {to(filling.litre_weighs, 'kg') * litres:.1f} kg"
    return f"about {litres:.1f} L of {filling.of}{weighs}"


def _closing(package: Package, arrows: bool) -> Iterator[Step]:
    if is_variation(package) and _with_absorbent(package):
        yield Step("The bag is taped shut over the absorbent")
    if package.coolant is not None:
        yield Step(f"Coolant UN {package.coolant.un}: {show(package.coolant.mass)}; the gas can get out")
    if arrows:
        yield Step("Closures upwards; no arrow on the packaging says otherwise")


def _mark(package: Package) -> Iterator[Step]:
    """The mark on the packaging, and the second of two masses."""
    if package.spec_mark:
        yield Step(f"The packaging bears the specification mark {package.spec_mark}")
    else:
        yield Step("No specification mark is in the record: check that none is asked for")
    gross = f"the record says {show(package.gross_mass)}"
    mark = package.spec or package.bulk_spec
    marked = mark.gross_kg if mark is not None else None
    if marked is not None:
        gross += f", the packaging is marked for {plain(marked)} kg at most"
        if to(package.gross_mass, "kg") > marked:
            gross += ": TOO HEAVY"
    yield Step(f"Closed as its maker says. Weigh: {gross}", "kg")
