"""Which way is up: two arrows on two opposite upright faces."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content, listed
from marks.quantity import is_volume, show, to
from marks.requirement import Where
from marks.rule import EVERY_MODE, Answer, Needs, Spares, caution, rule
from marks.tables import limit
from marks.terms import Mode, ShipAs, State

_ASKED = {Mode.ROAD: "ADR 5.2.1.10.1", Mode.SEA: "IMDG 5.2.1.7.1", Mode.AIR: "ICAO TI 5;3.2.12"}
_EXEMPT = {Mode.ROAD: "ADR 5.2.1.10.2", Mode.SEA: "IMDG 5.2.1.7.2", Mode.AIR: "ICAO TI 5;3.2.12"}
#: Aerosols; small receptacles of gas; what may hold liquids as a machine does (dangerous goods in machinery, engines,
#: articles containing dangerous goods).
_AEROSOLS = ("1950",)
_GAS_CARTRIDGES = ("2037",)
_MACHINERY = ("3363", "3528", "3529", "3530", *(str(number) for number in range(3537, 3549)))


@rule(
    "orientation-arrows",
    cite=_ASKED,
    spared={ShipAs.EXCEPTED: EVERY_MODE},
)
def arrows_for_liquid_inner_packagings(case: Case) -> Iterator[Answer]:
    """A combination packaging with liquid inside shows which way is up, on two opposite upright sides.

    Limited quantities too; and receptacles of refrigerated liquefied gas. Not asked for: inner packagings up to 120 mL
    with absorbent for all of it (US law frees these by air only, 49 CFR 172.312(c)(3)); gas-tight ones up to 500 mL;
    articles leak-tight in every position; pressure receptacles; primary receptacles of infectious substances up to
    50 mL. US law also frees class 3 limited quantities in inner packagings up to 1 L on the ground (172.312(c)(2)); the
    international text does not.
    """
    pointing: list[Content] = []
    for content in case.contents:
        reason = _spared(content, case)
        if reason is None:
            pointing.append(content)
        else:
            why, cite = reason
            yield Spares(f"{content.described_as()}: {why}", cite=cite)
        if content.entry.un in _MACHINERY:
            yield caution(
                "arrows-of-machinery",
                f"{content.described_as()}: machinery or an article bears arrows where the liquid in it must stay "
                "upright; this program cannot tell, the shipper must",
                _ASKED[case.mode],
            )
    if pointing:
        inside = listed(_holds(content) for content in pointing)
        yield Needs(f"liquid in inner packagings: {inside}", where=Where.TWO_OPPOSITE, goods=case.indices(pointing))


def _holds(content: Content) -> str:
    if content.refrigerated:
        return f"a cryogenic receptacle of {content.described_as()}"
    return f"{content.inner_text} of {content.described_as()}"


def _spared(content: Content, case: Case) -> tuple[str, tuple[str, ...]] | None:
    """Why this content asks for no arrows, with its own paragraphs; None where it does ask."""
    inner, on, mode = content.goods.inner, case.on, case.mode
    exempt = _EXEMPT[mode]

    def letter(of: str) -> tuple[str, ...]:
        return (exempt if mode is Mode.AIR else f"{exempt} ({of})",)

    if content.refrigerated:
        return None
    if content.state is State.ARTICLE and (content.goods.leak_tight or content.entry.un in _AEROSOLS):
        return "an article that is leak-tight in every position", letter("e")
    if content.state is State.GAS or content.entry.un in _GAS_CARTRIDGES:
        return "a gas in pressure receptacles", letter("a")
    if content.state is State.SOLID:
        return "a solid", ()
    if inner is None:
        if content.state is State.ARTICLE:
            return "an article without liquid in inner packagings", ()
        return "a single packaging, not a combination packaging (a single packaging with vents would show them)", ()
    if not is_volume(inner.holds):
        return None if content.state is State.LIQUID else ("no liquid in its inner packagings", ())
    millilitres = to(inner.holds, "mL")
    absorbed, infectious, tight = (limit("arrows", name, on) for name in ("absorbed", "infectious", "gas_tight"))
    if content.entry.division == "6.2" and millilitres <= infectious.value:
        return f"primary receptacles of {show(inner.holds)}, up to {infectious.text}", (infectious.paragraph(mode),)
    if inner.absorbent == "full" and millilitres <= absorbed.value:
        return (
            f"inner packagings of {show(inner.holds)}, up to {absorbed.text}, with absorbent for all the liquid",
            (absorbed.paragraph(mode),),
        )
    if inner.gas_tight and millilitres <= tight.value:
        return f"gas-tight inner packagings of {show(inner.holds)}, up to {tight.text}", (tight.paragraph(mode),)
    return None
