"""US highway, the packaging: which way is up (172.312), the specification mark (178.503, 173.24a), salvage (173.3)."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from marks.case import Case, Content, listed
from marks.goods import us
from marks.ground_limits import GROUND, figure
from marks.packaging import SpecMark
from marks.quantity import is_volume, show, to
from marks.requirement import Where
from marks.rule import Answer, Needs, Spares, caution, refuse, rule
from marks.salvage import is_salvage
from marks.tables import dated
from marks.terms import PackingGroup, ShipAs, State

_ARROWS = "49 CFR 172.312(a)"
_MARK = "49 CFR 178.503(a)"
#: The reliefs under which a packaging need not be of a tested type, with their paragraphs.
_RELIEVED = {ShipAs.LIMITED: "49 CFR 173.150(b) to 173.155(b), 173.306", ShipAs.EXCEPTED: "49 CFR 173.4a(e)"}
#: Sections of column 8B whose packagings are of the UN standards, so that a missing mark refuses the package.
_TESTED = ("201", "202", "203", "211", "212", "213")


@rule("orientation-arrows", cite={GROUND: _ARROWS}, spared={ShipAs.EXCEPTED: (GROUND,)})
def arrows_in_the_us(case: Case) -> Iterator[Answer]:
    """On two opposite upright sides where liquid stands in inner packagings, limited quantities too.

    UN and US text disagree: inner packagings up to 120 mL with absorbent for all the liquid are freed by air alone
    (172.312(c)(3)), by the UN text in every mode; class 3 limited quantities in inner packagings up to 1 L are freed
    (172.312(c)(2)), by the UN text not.
    """
    pointing: list[Content] = []
    for content in case.contents:
        reason = _freed(content, case)
        if reason is None:
            pointing.append(content)
        else:
            yield Spares(f"{content.described_as()}: {reason[0]}", cite=(reason[1],))
    if pointing:
        inside = listed(_holds(content) for content in pointing)
        yield Needs(f"liquid in inner packagings: {inside}", where=Where.TWO_OPPOSITE, goods=case.indices(pointing))


def _holds(content: Content) -> str:
    if content.refrigerated:
        return f"an open cryogenic receptacle of {content.described_as()}"
    return f"{content.inner_text} of {content.described_as()}"


def _freed(content: Content, case: Case) -> tuple[str, str] | None:
    """Why this content asks for no arrows, with its paragraph; None where it does ask."""
    inner = content.goods.inner
    if content.refrigerated:
        if case.package.kind.kind == "cylinder":
            return "a closed receptacle; an open cryogenic receptacle would show them", _ARROWS
        return None
    if content.state is State.ARTICLE and (content.goods.leak_tight or content.entry.un == "1950"):
        return "an article that is leak-tight in every position", "49 CFR 172.312(c)(4)"
    if content.state is State.GAS or content.entry.un == "2037":
        return "inner packagings that are cylinders, or gas in a receptacle of its own", "49 CFR 172.312(c)(1)"
    if content.state is State.SOLID:
        return "a solid", _ARROWS
    if inner is None:
        return "no combination packaging (a single packaging fitted with vents would show them)", _ARROWS
    if not is_volume(inner.holds):
        return None if content.state is State.LIQUID else ("no liquid in its inner packagings", _ARROWS)
    return _freed_by_size(content, to(inner.holds, "mL"), case)


def _freed_by_size(content: Content, millilitres: Decimal, case: Case) -> tuple[str, str] | None:
    inner, hazard = content.goods.inner, us.hazards(content.entry)[0]
    assert inner is not None  # the caller has asked
    infectious, tight, limited = (figure("arrows", name, case.on) for name in ("infectious", "gas_tight", "limited"))
    if hazard == "6.2" and millilitres <= infectious.value:
        why = f"primary receptacles of {show(inner.holds)}, up to {infectious.text}"
        return why, infectious.paragraph(GROUND)
    if inner.gas_tight and millilitres <= tight.value:
        why = f"hermetically sealed inner packagings of {show(inner.holds)}, up to {tight.text}"
        return why, tight.paragraph(GROUND)
    is_limited = content.goods.ship_as_for(GROUND) is ShipAs.LIMITED
    if hazard == "3" and is_limited and to(inner.holds, "L") <= limited.value:
        why = f"a limited quantity of class 3 in inner packagings of {show(inner.holds)}, up to {limited.text}"
        return why, limited.paragraph(GROUND)
    return None


@rule("specification-mark", cite={GROUND: _MARK})
def packaging_in_the_us(case: Case) -> Iterator[Answer]:
    """Read and held against the goods, never printed: code, gross mass, letter, form, density and pressure."""
    package, mark = case.package, case.package.spec
    if package.kind.kind in ("ibc", "large"):
        yield refuse(
            "large-not-held",
            f"packaging {package.packaging}: IBCs and large packagings are bulk packagings, marked and labelled on "
            "two sides; not decided here by 49 CFR",
            "49 CFR 172.302(a)",
            "49 CFR 172.406(e)",
        )
    elif case.relief in _RELIEVED:
        why = f"a package of goods in {case.relief} quantity need not be of a tested type"
        yield Spares(why, cite=(_RELIEVED[case.relief],))
    elif mark is None:
        yield from _no_mark(case)
    else:
        yield from _package(mark, case)
        for content in () if is_salvage(case.package) else case.contents:  # damaged packages stand in it, not liquid
            yield from _content(mark, content)
            yield from _liquid(mark, content, case)
        yield Spares("it stands on the packaging already; it is checked, not printed")


def _package(mark: SpecMark, case: Case) -> Iterator[Answer]:
    if mark.code != case.package.packaging:
        yield refuse(
            "spec-mark-code",
            f'the specification mark reads "{mark.code}", the record says packaging {case.package.packaging}; write '
            "what stands on the packaging",
            "49 CFR 178.503(a)(2)",
        )
    if mark.gross_kg is not None and case.gross_kg > mark.gross_kg:
        yield refuse(
            "over-marked-mass",
            f"{show(case.package.gross_mass)} gross is over the marked gross mass of {mark.gross_kg:f} kg; take a "
            "stronger packaging or put less in",
            "49 CFR 173.24a(b)(2)",
        )


def _content(mark: SpecMark, content: Content) -> Iterator[Answer]:
    said, group, combination = content.described_as(), _needed_group(content), content.goods.inner is not None
    if group is not None and mark.performance is not None and not mark.allows_group(group):
        covers = {"I": "X", "II": "X or Y", "III": "X, Y or Z"}[group]
        yield refuse(
            "packing-group-not-covered",
            f"{said}: packagings of group {group} are asked for; the mark's letter {mark.performance} does not cover "
            f"it; take a packaging marked {covers}",
            "49 CFR 178.503(a)(3)",
        )
    if mark.for_liquid and combination:
        yield refuse(
            "spec-mark-form",
            f'{said}: the mark "{mark.text}" is that of a packaging tested with liquid in it; inner packagings need '
            "the form with a gross mass and S",
            "49 CFR 178.503(a)(5)",
        )
    if not mark.for_liquid and not combination and content.state is State.LIQUID and mark.performance is not None:
        yield refuse(
            "spec-mark-form",
            f'{said}: the mark "{mark.text}" is that of a packaging tested for solids and inner packagings, and the '
            "record puts liquid straight into it; write inner, or take a packaging tested with liquid",
            "49 CFR 178.503(a)(4), (5)",
        )


def _liquid(mark: SpecMark, content: Content, case: Case) -> Iterator[Answer]:
    """Density and vapour pressure of a liquid in a packaging tested with liquid, where the record gives them."""
    goods, said = content.goods, content.described_as()
    if goods.inner is not None or mark.density is None or mark.pressure_kpa is None:
        return
    most = _densest(mark, content, case)
    if goods.density is not None and goods.density > most:
        yield refuse(
            "density-over",
            f"{said}: density {goods.density:f} is over {most.normalize():f}, the most this packaging may hold of it "
            "by its mark; take one marked for a higher density",
            "49 CFR 173.24a(b)(1)",
        )
    held = goods.vapour_pressure
    if held is None:
        return
    tested = mark.pressure_kpa + 100
    at_50 = held.at_50 is not None and to(held.at_50, "kPa") * 7 < 4 * tested
    at_55 = held.at_55 is not None and to(held.at_55, "kPa") * 3 < 2 * tested
    if not at_50 and not at_55:
        yield refuse(
            "vapour-pressure-over",
            f"{said}: its vapour pressure must be under four sevenths, at 50 °C, or two thirds, at 55 °C, of the "
            f"marked test pressure and 100 kPa ({mark.pressure_kpa} kPa marked); take a packaging tested at a higher "
            "pressure",
            "49 CFR 173.24a(b)(4)",
        )


def _densest(mark: SpecMark, content: Content, case: Case) -> Decimal:
    """The relative density a packaging may hold of goods of a packing group: more where its letter says more."""
    assert mark.density is not None  # of every mark in the liquid form, of which alone this is asked
    for row in dated("ground", "density", case.on):
        if (row["letter"], row["group"]) == (mark.performance, us.packing_group(content.entry)):
            return max(Decimal(row["least"]), Decimal(row["factor"]) * mark.density)
    return mark.density


def _needed_group(content: Content) -> str | None:
    """The packing group of column 5; explosives, self-reactive substances and organic peroxides: II (from memory)."""
    group = us.packing_group(content.entry)
    if group is not None:
        return str(PackingGroup(group))
    return "II" if us.hazards(content.entry)[0] in ("1", "4.1", "5.2") or us.is_lithium(content.entry) else None


def _no_mark(case: Case) -> Iterator[Answer]:
    """A refusal where column 8B names packagings of the UN standards, else a caution."""
    asked = [content for content in case.contents if content.entry.us_packaging in _TESTED]
    if case.package.kind.kind == "cylinder":
        yield Spares("a cylinder bears marks of its own, which are not read here")
    elif asked:
        names = "; ".join(f"{c.described_as()}: 173.{c.entry.us_packaging}" for c in asked)
        yield refuse(
            "spec-mark-missing",
            f"{names} asks for a packaging of the UN standards and the record gives no mark; write spec_mark as it "
            "stands on the packaging",
            "49 CFR 172.101 column 8B",
        )
    else:
        named = listed(dict.fromkeys(c.entry.us_packaging or "none" for c in case.contents))
        yield caution(
            "spec-mark-open",
            f"no specification mark is stated; column 8B names {named}: check there whether the packaging must bear "
            "one",
            "49 CFR 172.101 column 8B",
        )


@rule(
    "salvage",
    cite={GROUND: "49 CFR 173.3(c)(3)"},
    spared={ShipAs.EXCEPTED: (GROUND,)},
    concerns=lambda case: is_salvage(case.package),
)
def salvage_in_the_us(case: Case) -> Iterator[Answer]:
    """A salvage packaging bears the word, 12 mm high, and the consignee's address (rule of the addresses)."""
    yield Needs(f"{case.package.packaging} is a salvage packaging", words=("SALVAGE",))
