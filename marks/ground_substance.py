"""Hazardous substances of US law (49 CFR 171.8, 172.324): whether a content is one in this package."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from marks.case import Case, Content
from marks.goods.lookup import fold
from marks.quantity import is_mass, show, to
from marks.tables import dated

if TYPE_CHECKING:
    from datetime import date

    from marks.record import HazardousSubstance


class Substance(Struct, frozen=True):
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
