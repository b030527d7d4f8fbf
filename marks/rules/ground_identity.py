"""US highway, who and what: number, name, one address, RQ, EX number (49 CFR 172.301, 172.320, 172.324)."""

from __future__ import annotations

from collections.abc import Iterator

from marks.case import Case, Content, listed
from marks.goods import us
from marks.ground import differences, freed_by_limited
from marks.ground_limits import GROUND
from marks.ground_substance import substance, told_by_name
from marks.lettering import lettering
from marks.rule import Answer, Needs, Spares, caution, note, refuse, rule
from marks.salvage import is_salvage
from marks.terms import ShipAs

_EXCEPTED = {ShipAs.EXCEPTED: (GROUND,)}
_FREED = "the limited quantity mark frees the package of it, as it holds no hazardous substance"
_FREED_CITE = ("49 CFR 172.315(a)",)


@rule("un-number", cite={GROUND: "49 CFR 172.301(a)(1)"}, spared=_EXCEPTED)
def number_in_the_us(case: Case) -> Iterator[Answer]:
    """UN, NA or ID and the number, each once; its letters by what the packaging may hold, 12 mm, 6 mm or as fits."""
    if freed_by_limited(case):
        yield Spares(_FREED, cite=_FREED_CITE)
        return
    measures, why = lettering(case)
    seen: dict[str, list[int]] = {}
    for content in case.contents:
        seen.setdefault(content.number, []).append(content.index)
    for number, indices in seen.items():
        yield Needs(
            f"the number of the entry; {why}", words=(number,), group="hazard", goods=tuple(indices), measures=measures
        )


@rule("proper-shipping-name", cite={GROUND: "49 CFR 172.301(a)(1)"}, spared=_EXCEPTED)
def name_in_the_us(case: Case) -> Iterator[Answer]:
    """The proper shipping name, with the technical name where column 1 reads G; of infectious substances never with it.

    The name printed is the one chosen from the entry, in the spelling of the international list, which US law accepts
    (172.101(c), from memory). Where the US list has another name, a caution says so.
    """
    for content in case.contents:
        for said in differences(content):
            yield caution("lists-differ", f"{content.described_as()}: {said}", "49 CFR 172.101")
        yield from _domestic(content)
    if freed_by_limited(case):
        yield Spares(_FREED, cite=_FREED_CITE)
        return
    for content in case.contents:
        infectious = us.hazards(content.entry)[0] == "6.2"
        words = content.name if infectious else content.marked_name
        if infectious and content.goods.technical_name:
            yield note(
                "technical-name-on-paper",
                f"{content.described_as()}: the technical name stands on the paper, never on the outer packaging",
                "49 CFR 172.301(b)",
            )
        technical = words != content.name
        yield Needs(
            "the name of the entry" + (" with the technical name" if technical else ""),
            words=(words,),
            group="hazard",
            goods=(content.index,),
            also=("49 CFR 172.301(b), 172.203(k)",) if technical else (),
        )


def _domestic(content: Content) -> Iterator[Answer]:
    """What the list says of carriage within the country alone."""
    for said in content.entry.notes:
        if "domestic" in said:
            yield note("domestic-line", f"{content.described_as()}: {said}; not held here", "49 CFR 172.101")
    if content.entry.id in us.COMBUSTIBLE:
        yield note(
            "combustible-liquid",
            f"{content.described_as()}: in a non-bulk packaging a combustible liquid that is no hazardous substance, "
            "waste or marine pollutant is not subject at all (from memory); it is marked here as if it were",
            "49 CFR 173.150(f)(2)",
        )


@rule("shipper", cite={GROUND: "49 CFR 172.301(d)"}, spared=_EXCEPTED)
def one_address_in_the_us(case: Case) -> Iterator[Answer]:
    """Consignor or consignee, one is enough: the shipper, unless the packaging bears the consignee already.

    Not asked for on the highway alone without transfer between motor carriers, or in a full load from one consignor to
    one consignee; neither is told by the record, so the address is always asked for.
    """
    if freed_by_limited(case):
        yield Spares(_FREED, cite=_FREED_CITE)
        return
    if reason := _consignee_instead(case):
        yield Spares(f"{reason}, and one address is enough")
        return
    party = case.record.shipper
    yield Needs(
        "consignor or consignee, one is enough; it may be left out where no other motor carrier takes the package "
        "over, or in a full load from one consignor to one consignee",
        words=(party.name, *party.address, party.country_name.upper()),
        group="address",
    )


def _consignee_instead(case: Case) -> str:
    """Why the consignee's address is the one that is shown; empty where it is the shipper's."""
    if is_salvage(case.package):
        return "a salvage packaging bears the consignee's"
    preprinted = case.preprinted("consignee") and not case.preprinted("shipper")
    return "the packaging bears the consignee's already" if preprinted else ""


@rule("consignee", cite={GROUND: "49 CFR 172.301(d)"}, spared=_EXCEPTED)
def other_address_in_the_us(case: Case) -> Iterator[Answer]:
    """The consignee's address may stand in place of the consignor's; it is asked for only where it is there already."""
    if freed_by_limited(case):
        yield Spares(_FREED, cite=_FREED_CITE)
    elif reason := _consignee_instead(case):
        party = case.record.consignee
        yield Needs(
            f"consignor or consignee, one is enough: {reason}",
            words=(party.name, *party.address, party.country_name.upper()),
            group="address",
            also=("49 CFR 173.3(c)(4)",) if is_salvage(case.package) else (),
        )
    else:
        yield Spares("consignor or consignee, one is enough; the shipper's is printed")


@rule("reportable-quantity", cite={GROUND: "49 CFR 172.324(b)"}, spared=_EXCEPTED)
def reportable_quantity(case: Case) -> Iterator[Answer]:
    """RQ beside the name, with the substance in brackets where the name does not tell it; limited quantities too."""
    silent = []
    for content in case.contents:
        held = substance(content, case.on)
        if held is None:
            silent.append(content)
        elif held.reached is None:
            yield refuse("substance-open", f"{content.described_as()}: {held.why}", "49 CFR 171.8")
        elif not held.reached:
            yield Spares(f"{content.described_as()}: {held.why}", cite=("49 CFR 171.8",))
        else:
            told = told_by_name(held.name, content)
            also = ("49 CFR 171.8",) if told else ("49 CFR 171.8", "49 CFR 172.324(a)")
            words = "RQ" if told else f"RQ ({held.name})"
            yield Needs(held.why, words=(words,), group="hazard", goods=(content.index,), also=also)
    if silent:
        yield caution(
            "substance-not-stated",
            f"{listed(c.described_as() for c in silent)}: the list of hazardous substances (172.101 Appendix A) is "
            "not held here; look the contents up and write hazardous_substance with name and rq, or "
            "hazardous_substance: none",
            "49 CFR 171.8",
            "49 CFR 172.324",
        )
        yield Spares("the record names no hazardous substance", cite=("49 CFR 171.8",))


def _explosives(case: Case) -> list[Content]:
    return [content for content in case.contents if us.hazards(content.entry)[0] == "1"]


@rule(
    "ex-number",
    cite={GROUND: "49 CFR 172.320(a)"},
    spared=_EXCEPTED,
    elsewhere="a mark of US law alone",
    concerns=lambda case: bool(_explosives(case)),
)
def ex_number(case: Case) -> Iterator[Answer]:
    """The EX number of each explosive, of five different ones at the most; none where the shipping paper has them."""
    for content in _explosives(case):
        numbers = content.goods.ex_numbers
        if not numbers:
            yield caution(
                "ex-number-not-stated",
                f"{content.described_as()}: write ex_numbers, or show them with the description on the shipping paper "
                "(172.320(d)); a stock number, a product code or an FC number may stand in their place (172.320(b))",
                "49 CFR 172.320",
            )
            yield Spares(f"{content.described_as()}: the record gives no EX number", cite=("49 CFR 172.320(d)",))
        else:
            more = "; more than five different items: five numbers are enough" if len(numbers) > 5 else ""
            yield Needs(
                f"the approval of each explosive in the package{more}",
                words=tuple(numbers[:5]),
                group="hazard",
                goods=(content.index,),
                also=("49 CFR 172.320(c)",) if more else (),
            )
