"""Which way is up: two arrows on two opposite upright faces."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content, listed
from marks.quantity import is_volume, show, to
from marks.requirement import Where
from marks.rule import EVERY_MODE, Answer, Needs, Spares, rule
from marks.tables import limit
from marks.terms import Mode, ShipAs, State


@rule(
    "orientation-arrows",
    cite={Mode.ROAD: "ADR 5.2.1.10.1", Mode.SEA: "IMDG 5.2.1.7.1", Mode.AIR: "ICAO TI 5;3.2.12"},
    spared={ShipAs.EXCEPTED: EVERY_MODE},
)
def arrows_for_liquid_inner_packagings(case: Case) -> Iterator[Answer]:
    """A combination packaging with liquid inside shows which way is up, on two opposite upright sides; limited quantities too.

    Not asked for: inner packagings up to 120 mL with absorbent for all of it (US law frees these by air only, 49 CFR
    172.312(c)(3)); gas-tight ones up to 500 mL; articles leak-tight in every position; pressure receptacles; primary
    receptacles of infectious substances up to 50 mL. US law also frees class 3 limited quantities in inner packagings up
    to 1 L on the ground (172.312(c)(2)); the international text does not.
    """
    pointing: list[Content] = []
    for content in case.contents:
        reason = _spared(content, case)
        if reason is None:
            pointing.append(content)
        else:
            why, paragraph = reason
            yield Spares(f"{content.described_as()}: {why}", cite=(paragraph,) if paragraph else ())
    if pointing:
        inside = listed(f"{content.inner_text} of {content.described_as()}" for content in pointing)
        yield Needs(f"liquid in inner packagings: {inside}", where=Where.TWO_OPPOSITE, goods=case.indices(pointing))


def _spared(content: Content, case: Case) -> tuple[str, str] | None:
    """Why this content asks for no arrows, with its own paragraph; None where it does ask."""
    inner, on, mode = content.goods.inner, case.on, case.mode
    if content.state is State.ARTICLE and content.goods.leak_tight:
        return "an article that is leak-tight in every position", limit("arrows", "absorbed", on).paragraph(
            mode
        ).replace("(b)", "(e)")
    if content.state is State.GAS:
        return "a gas in pressure receptacles", limit("arrows", "absorbed", on).paragraph(mode).replace("(b)", "(a)")
    if content.state is State.SOLID:
        return "a solid", ""
    if inner is None:
        if content.state is State.ARTICLE:
            return "an article without liquid in inner packagings", ""
        return "a single packaging, not a combination packaging", ""
    if not is_volume(inner.holds):
        return None if content.state is State.LIQUID else ("no liquid in its inner packagings", "")
    millilitres = to(inner.holds, "mL")
    absorbed, infectious, tight = (limit("arrows", name, on) for name in ("absorbed", "infectious", "gas_tight"))
    if content.entry.division == "6.2" and millilitres <= infectious.value:
        return f"primary receptacles of {show(inner.holds)}, up to {infectious.text}", infectious.paragraph(mode)
    if inner.absorbent == "full" and millilitres <= absorbed.value:
        return (
            f"inner packagings of {show(inner.holds)}, up to {absorbed.text}, with absorbent for all the liquid",
            absorbed.paragraph(mode),
        )
    if inner.gas_tight and millilitres <= tight.value:
        return f"gas-tight inner packagings of {show(inner.holds)}, up to {tight.text}", tight.paragraph(mode)
    return None
