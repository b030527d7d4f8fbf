"""The lines of a transport document: one for each entry in each kind of package, and what each of them still needs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from marks.beyond import outside
from marks.case import Case, Content
from marks.quantity import Quantity, plain, show
from marks.reliefs import by_gross
from marks.requirement import ModeDecision
from marks.terms import Mode

if TYPE_CHECKING:
    from marks.record import Package


class Line(Struct, frozen=True):
    """package: its letter; count: of identical packages; pieces: "2 x fibreboard box (4G)"; description: of the entry; net:
    of it in one package; quantity: in words; more: what else stands with the line."""

    package: str
    count: int
    pieces: str
    description: str
    net: Quantity
    quantity: str
    more: tuple[str, ...]


def subject(case: Case) -> list[Content]:
    """The contents that are subject to the rules of the mode; what goes with marks alone has none."""
    return [content for content in case.contents if outside(content, case) is None]


def lines_of(package: Package, decision: ModeDecision, case: Case) -> Iterator[Line]:
    """One line for each content that is subject to the rules of the mode."""
    contents = subject(case)
    kind = package.kind
    code = "" if kind.kind in ("none", "cylinder") else f" ({package.packaging})"
    pieces = f"{package.count} x {kind.text}{code}"
    for content, description in zip(contents, decision.descriptions, strict=True):
        more = (*_together(contents, package, case), *_of_goods(content, decision, case))
        quantity = _quantity(content, package, case)
        yield Line(package.package, package.count, pieces, description, content.net, quantity, more)


def _quantity(content: Content, package: Package, case: Case) -> str:
    each = content.net_text
    if case.mode is Mode.AIR and by_gross(content, case.relief):
        each = f"{show(package.gross_mass)} G"
    return f"{package.count} x {each}" if package.count > 1 else each


def _together(contents: list[Content], package: Package, case: Case) -> Iterator[str]:
    """By air it is told that several goods are packed in one outer packaging (from memory)."""
    if case.mode is Mode.AIR and len(contents) > 1:
        yield f"all packed in one {package.kind.text}"


def _of_goods(content: Content, decision: ModeDecision, case: Case) -> Iterator[str]:
    goods = content.goods
    instruction = goods.packing_instruction.get(case.mode)
    if case.mode is Mode.AIR and instruction:
        yield f"packing instruction {instruction}"
    if goods.net_explosive_mass is not None:
        yield f"net explosive mass {show(goods.net_explosive_mass)}"
    if content.entry.hazard_class == "7":
        yield from _radioactive(content, decision)
    if case.mode is Mode.US_GROUND and goods.ex_numbers:
        yield ", ".join(goods.ex_numbers)
    if case.mode is Mode.SEA:
        yield f"gross mass {show(case.package.gross_mass)} each"


def _radioactive(content: Content, decision: ModeDecision) -> Iterator[str]:
    """Nuclide, form, activity, category, indices, type: 49 CFR 172.203(d)."""
    goods = content.goods
    categories = [
        one.variant for one in decision.marks if one.mark == "hazard-label" and (one.variant or "")[:2] == "7-"
    ]
    words = {"7-I": "category I-WHITE", "7-II": "category II-YELLOW", "7-III": "category III-YELLOW"}
    said = (
        goods.nuclide,
        f"{goods.form} form" if goods.form else None,
        show(goods.activity) if goods.activity is not None else None,
        *(words[one] for one in categories if one in words),
        f"transport index {plain(goods.transport_index)}" if goods.transport_index is not None else None,
        f"criticality safety index {plain(goods.criticality_safety_index)}" if goods.criticality_safety_index else None,
        f"type {goods.package_type}" if goods.package_type else None,
        "exclusive use" if goods.exclusive_use else None,
    )
    yield from (one for one in said if one)


def opens_of(package: Package, decision: ModeDecision, case: Case) -> Iterator[str]:
    """What the lines of a package need and the record does not say."""
    for content in subject(case):
        named, goods = content.described_as(), content.goods
        if case.mode is Mode.AIR and case.mode not in goods.packing_instruction and content.entry.hazard_class != "7":
            yield f"{named}: its packing instruction by air; write packing_instruction: {{air: ...}} [ICAO TI 5;4.1.5]"
        if case.mode is Mode.SEA and "3" in content.hazards and goods.flash_point is None:
            yield f"{named}: its flash point, closed cup, where it is 60 °C or below; write flash_point [IMDG 5.4.1.4.3.6]"
        if content.entry.hazard_class == "1" and goods.net_explosive_mass is None:
            yield f"{named}: its net explosive mass; write net_explosive_mass [{_explosive(case.mode)}]"
        if (
            content.entry.division == "6.2"
            and case.record.responsible_person is None
            and case.mode is not Mode.US_GROUND
        ):
            yield f"{named}: a responsible person with telephone number; write responsible_person [{case.mode.law} 5.4.1]"


def _explosive(mode: Mode) -> str:
    return {Mode.ROAD: "ADR 5.4.1.2.1", Mode.SEA: "IMDG 5.4.1.5.2", Mode.AIR: "ICAO TI 5;4.1.5"}.get(
        mode, "49 CFR 172.202"
    )
