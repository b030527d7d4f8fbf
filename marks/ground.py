"""49 CFR on the highway: what US law's own limits say of one content. Shared by the rules, by step 2 and by the paper.

Nothing here knows a mark. Every figure is a line of tables/ground.toml.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any, Literal

from marks.aircraft import read_limit
from marks.case import Case, Content
from marks.goods import us
from marks.goods.lookup import fold
from marks.quantity import is_mass, show, to
from marks.reliefs import Amount, amounts
from marks.requirement import Finding
from marks.rule import caution, note, refuse
from marks.tables import Figure, dated, limit, table
from marks.terms import Mode, ShipAs, State

if TYPE_CHECKING:
    from datetime import date

    from marks.record import HazardousSubstance

GROUND = Mode.US_GROUND


def figure(subject: str, name: str, on: date) -> Figure:
    """A limit of ground.toml, as ``marks.tables.limit`` reads those of every mode."""
    return limit(subject, name, on, "ground")


# --- hazards


def hazards(content: Content) -> tuple[str, ...]:
    """Class and subsidiary hazards, those the record adds too, as bare divisions: "1" for every explosive."""
    own = us.hazards(content.entry)
    return *own, *(one for one in content.goods.further_hazards if one not in own)


def labels(content: Content, on: date) -> tuple[str, ...]:
    """The labels of column 6, then those of the hazards the record adds (172.402(a)(2)), but not the one spared."""
    spared = spared_flammable(content, on)
    return tuple(label for label in content.labels(GROUND) if not (spared and label == "3"))


def spared_flammable(content: Content, on: date) -> Figure | None:
    """The flash point from which a subsidiary hazard of class 3, not named by column 6, has no label by highway."""
    flash, added = content.goods.flash_point, "3" in content.goods.further_hazards
    least = figure("labels", "flash_point", on)
    named = "3" in us.labels(content.entry)
    return least if added and not named and flash is not None and flash >= least.value else None


# --- limited quantities


@dataclass(frozen=True, slots=True)
class LimitedGround:
    """What one inner packaging may hold. most: the limit, None where there is none to hold; never: why it may not "
    "be one."""

    most: Amount | None
    cite: tuple[str, ...]
    never: str = ""


def limited_inner(content: Content, on: date) -> LimitedGround:
    """The limit by class, packing group and state, if column 8A names the section it stands in (173.150(b) and the "
    "like)."""
    entry = content.entry
    if us.inhalation(entry) is not None:
        return LimitedGround(None, ("49 CFR 173.153(b)",), "poisonous by inhalation, so never a limited quantity")
    hazard, group = us.hazards(entry)[0], us.packing_group(entry)
    for row in dated("ground", "inner", on):
        if row["class"] not in (hazard, hazard[0] if hazard[0] == "2" else hazard):
            continue
        if row.get("group") not in (None, group):
            continue
        if ("numbers" in row and content.number not in row["numbers"]) or content.number in row.get("not_numbers", ()):
            continue
        if row["section"] not in us.sections(entry):
            named = entry.us_exceptions or "nothing"
            why = f"column 8A names {named}, not 173.{row['section']}, so it may not be a limited quantity"
            return LimitedGround(None, (row["cite"], "49 CFR 172.101 column 8A"), why)
        return _of_row(row, content)
    said = f"class {us.shown_class(entry)}" + (f", packing group {group}" if group else ", without a packing group")
    return LimitedGround(None, ("49 CFR 173.150 to 173.155, 173.306",), f"there is no limited quantity for {said}")


def _of_row(row: Mapping[str, Any], content: Content) -> LimitedGround:
    cite = (row["cite"],)
    if row.get("package_only"):
        return LimitedGround(None, cite)
    kind = {State.LIQUID: "liquid", State.SOLID: "solid"}.get(content.state or State.ARTICLE, "container")
    held = row.get(kind) or (row.get("liquid") if kind == "container" else None)
    if held is None:
        return LimitedGround(None, cite, f"there is no limited quantity of it as a {content.state}")
    most = amounts(held)[0]
    return LimitedGround(Amount(most.value, most.unit, row.get("text", most.text)), cite)


# --- excepted quantities


@dataclass(frozen=True, slots=True)
class ExceptedGround:
    """What one inner packaging and the outer packaging may hold, in mL or g; never: why it may not be one."""

    inner: Decimal | None
    outer: Decimal | None
    cite: tuple[str, ...]
    never: str = ""


def excepted(content: Content, on: date) -> ExceptedGround:
    """By class and packing group (173.4a(b) to (d)): US law has no codes E0 to E5, so the list's code is not asked."""
    entry, cite = content.entry, ("49 CFR 173.4a(b)",)
    found, group = hazards(content), us.packing_group(entry)
    if content.number in table("ground")["excepted_never"]["numbers"]:
        return ExceptedGround(None, None, cite, f"{content.number} is named among those that may not be one")
    if read_limit(entry.passenger).kind == "forbidden":
        return ExceptedGround(None, None, cite, "forbidden on passenger aircraft, which bars it on the highway too")
    if found[0] == "6.1" and group == "I" and us.inhalation(entry) in ("A", "B", ""):
        return ExceptedGround(None, None, cite, "of packing group I and poisonous by inhalation in zone A or B")
    if found[0] == "2.2" and len(found) > 1:
        return ExceptedGround(None, None, cite, "a gas of 2.2 with a subsidiary hazard")
    for row in dated("ground", "excepted", on):
        toxic_enough = not row.get("toxic") or "6.1" in found
        if found[0] in row["classes"] and row.get("group") in (None, group) and toxic_enough:
            return ExceptedGround(Decimal(row["inner"]), Decimal(row["outer"]), (row["cite"],))
    said = f"class {us.shown_class(entry)}" + (f", packing group {group}" if group else ", without a packing group")
    return ExceptedGround(None, None, cite, f"there is no excepted quantity for {said}")


# --- hazardous substances


@dataclass(frozen=True, slots=True)
class Substance:
    """Whether a content is a hazardous substance in this package. reached: None where the record leaves it open."""

    reached: bool | None
    why: str
    name: str = ""


def substance(content: Content, on: date) -> Substance | None:
    """Hold what the record says of a hazardous substance against its reportable quantity (171.8); None: nothing said.

    Appendix A of 172.101, which tells the substances and their quantities, is not held: both come from the record.
    """
    said: HazardousSubstance | Literal["none"] | None = content.goods.hazardous_substance
    if said is None:
        return None
    if said == "none":
        return Substance(False, "the record says that it is no hazardous substance")
    rq, name = to(said.rq, "kg"), said.name
    if said.percent is not None:
        least = _least_percent(rq, on)
        if least is None:
            return Substance(
                None,
                f"{name}: {show(said.rq)} is not a reportable quantity of Appendix A; write rq as it stands there, "
                "100 lb or 45.4 kg",
            )
        if said.percent < least:
            return Substance(
                False, f"{name}: {said.percent:f} per cent by weight, a mixture counts from {least:f} per cent"
            )
    mass = _mass_of(said, content)
    if mass is None:
        return Substance(
            None,
            f"{name}: the record gives {content.net_text}, neither mass nor density; write density, or mass under "
            "hazardous_substance",
        )
    if mass < rq:
        return Substance(
            False, f"{name}: {mass.normalize():f} kg in one package, under its reportable quantity of {show(said.rq)}"
        )
    why = f"{name}: {mass.normalize():f} kg in one package, reportable quantity {show(said.rq)}"
    return Substance(True, why, name)


def _mass_of(said: HazardousSubstance, content: Content) -> Decimal | None:
    """Kilograms of the substance in one package: as stated, else its share of the net mass, of litres by density."""
    if said.mass is not None:
        return to(said.mass, "kg")
    if is_mass(content.net):
        net = to(content.net, "kg")
    elif content.goods.density is not None:
        net = to(content.net, "L") * content.goods.density
    else:
        return None
    return net * (Decimal(1) if said.percent is None else said.percent / 100)


def _least_percent(rq: Decimal, on: date) -> Decimal | None:
    """From which share by weight a mixture counts; the quantity in kilograms, as Appendix A rounds it, or in pounds."""
    pound = Decimal("0.45359237")
    for row in dated("ground", "share", on):
        if rq in (Decimal(row["rq_kg"]), Decimal(row["rq_lb"]) * pound):
            return Decimal(row["percent"])
    return None


def reportable(content: Content, case: Case) -> str:
    """The name of the hazardous substance that a content is in this package, as far as the record tells; else empty."""
    held = substance(content, case.on)
    return held.name if held is not None and held.reached else ""


def told_by_name(substance_name: str, content: Content) -> bool:
    """Whether the proper shipping name, technical name included, tells the substance (172.324(a), 172.203(c))."""
    return set(fold(substance_name).split()) <= set(fold(content.marked_name).split())


# --- before the rules


def outside(content: Content, case: Case) -> tuple[str, str] | None:
    """Why a content is not subject to 49 CFR on the highway, with the paragraph; None where it is subject."""
    others = us.bound_by(content.entry)
    if others and not reportable(content, case):
        only = " and ".join(others)
        return (
            f"{content.described_as()}: the list binds it by {only} only, unless it is a hazardous substance or waste",
            "49 CFR 172.101(b)",
        )
    return None


def entry(content: Content) -> Iterator[Finding]:
    """What stops a content before any mark is asked for: no US line, a symbol that bars it."""
    if not content.entry.us_source:
        yield refuse(
            "entry-not-held",
            f"{content.described_as()}: the list holds no US line of this entry; choose an entry of the Hazardous "
            "Materials Table, or look it up there",
            "49 CFR 172.101",
        )
    sections = [one for one in us.sections(content.entry) if one not in _READ]
    if sections:
        yield caution(
            "exceptions-not-held",
            f"{content.described_as()}: column 8A names {', '.join(f'173.{one}' for one in sections)}, whose reliefs "
            "are not held; marked as a package without them",
            "49 CFR 172.101 column 8A",
        )


#: Sections of column 8A this program follows: limited quantities by class, 4b (de minimis) as a note.
_READ = ("150", "151", "152", "153", "154", "155", "306", "4b")
#: Special provisions followed: inhalation hazard and its zones (172.102(c)(1)).
_FOLLOWED = (*us.ZONES, us.WITHOUT_ZONE, us.IF_IT_IS)


def provisions(case: Case) -> Iterator[Finding]:
    """The special provisions of column 7 for every mode (bare numbers) and non-bulk packagings (N) that are not "
    "followed."""
    for content in case.contents:
        left = [
            one
            for one in content.entry.us_provisions
            if (one.isdigit() and one not in _FOLLOWED) or (one[0] == "N" and one[1:].isdigit())
        ]
        if left:
            yield note(
                "special-provisions",
                f"{content.described_as()}: read the special provisions of the entry, which this program does not "
                f"follow: {', '.join(left)}",
                "49 CFR 172.102",
            )


def coolant(case: Case) -> Iterator[Finding]:
    """Dry ice as coolant is bound by aircraft and vessel alone (172.101 column 1, 173.217); others are not decided."""
    held = case.package.coolant
    if held is None:
        return
    if held.un.removeprefix("UN") == "1845":
        yield note(
            "dry-ice-by-highway",
            f"cooled with {show(held.mass)} of dry ice: US law binds dry ice by aircraft and vessel only, so the "
            "highway asks for no mark of it; the packaging must let the gas out",
            "49 CFR 173.217",
        )
    else:
        yield refuse(
            "coolant-not-held",
            f"the package is cooled with UN {held.un}: this version does not decide the marks of that coolant; take "
            "them from the regulations, or write it as goods of its own",
            "49 CFR 172.101",
        )


def asks_technical_name(content: Content, case: Case) -> bool:
    """Symbol G (172.203(k)); not where neither mark nor highway paper names the goods."""
    return content.entry.us_technical_name and case.relief is not ShipAs.EXCEPTED and not freed_by_limited(case)


def freed_by_limited(case: Case) -> bool:
    """Whether the limited quantity mark frees the package of number, name and address: not with a hazardous "
    "substance."""
    return case.relief is ShipAs.LIMITED and not any(reportable(content, case) for content in case.contents)


def differences(content: Content) -> Iterator[str]:
    """Where the US line says other things than the road's: for a person who knows the one and ships by the other."""
    entry = content.entry
    if us.names_differ(entry, content.name):
        yield f"the US list has no name {content.name}; it reads {entry.us_name}"
    if entry.road_source and entry.labels and entry.us_labels and set(us.labels(entry)) != set(entry.labels):
        yield f"labels {', '.join(us.labels(entry))} by column 6, {', '.join(entry.labels)} by the ADR 2017 list"
    group = us.packing_group(entry)
    if entry.road_source and group and entry.packing_group and group != entry.packing_group:
        yield f"packing group {group} in the US list, {entry.packing_group} in the ADR 2017 list"
