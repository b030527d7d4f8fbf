"""What each mode's transport document of a shipment must carry, filled from the record, in plain order: a copy of no form.

    from marks.papers import papers
    for paper in papers(decide(record)):
        paper.mode, paper.lines, paper.open

What the record does not say stands under ``open``, never as an invented word; what may not travel so under ``refused``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import TYPE_CHECKING

from msgspec import Struct

from marks.case import Case, amount, listed
from marks.cold import coolant
from marks.decide import Decided
from marks.paper_lines import Line, lines_of, opens_of, subject
from marks.quantity import quantity, show, to
from marks.requirement import ModeDecision
from marks.tables import dated
from marks.terms import Mode, ShipAs, VerdictWord

if TYPE_CHECKING:
    from marks.record import Package, Party

_LIMITED = {Mode.ROAD: "ADR 3.4.12 (from memory)", Mode.US_GROUND: "49 CFR 173.150(b) to 173.155(b)"}
_EXCEPTED = {
    Mode.ROAD: "ADR 3.5.6 (from memory)",
    Mode.SEA: "49 CFR 173.4a(h); IMDG 3.5.6 (from memory)",
    Mode.AIR: "49 CFR 173.4a(h)",
    Mode.US_GROUND: "49 CFR 173.4a(h)",
}

_COOLED = {Mode.ROAD: "ADR 5.5.3.7", Mode.SEA: "IMDG 5.5.3.7", Mode.AIR: "ICAO TI 5;4.1"}


class Asked(Struct, frozen=True):
    """One thing the document carries; ``value`` is empty where a person writes it."""

    label: str
    value: str
    cite: str


class Paper(Struct, frozen=True):
    """One mode's document.

    asked: parties, certificates and the like; lines: the goods, package by package; totals: of each description over all
    packages; said: sentences of reliefs, overpacks, what is not subject; open: what it needs and the record does not say;
    refused: packages and overpacks that may not travel by this mode, so that no line is theirs.
    """

    mode: Mode
    asked: tuple[Asked, ...]
    lines: tuple[Line, ...]
    totals: tuple[str, ...]
    said: tuple[str, ...]
    open: tuple[str, ...]
    refused: tuple[str, ...]


Part = tuple["Package", ModeDecision, Case]


def papers(decided: Decided) -> tuple[Paper, ...]:
    """One paper for each mode decided, in their order."""
    modes = dict.fromkeys(mode for cases in decided.cases for mode in cases)
    return tuple(_paper(mode, decided) for mode in modes)


def _paper(mode: Mode, decided: Decided) -> Paper:
    parts: list[Part] = [
        (package, decision.modes[mode], cases[mode])
        for package, decision, cases in zip(decided.record.packages, decided.packages, decided.cases, strict=True)
    ]
    going = [part for part in parts if part[1].verdict is VerdictWord.SHIP]
    told = [part for part in going if subject(part[2]) and not _without_document(part[2])]
    lines = tuple(line for part in told for line in lines_of(*part))
    return Paper(
        mode,
        tuple(_asked(mode, decided, told)) if told else (),
        lines,
        tuple(_totals(lines)),
        (*_reliefs(mode, going), *_coolants(mode, going), *_overpacks(mode, decided), *_not_subject(parts)),
        tuple(dict.fromkeys((*_phone(mode, decided, told), *(text for part in told for text in opens_of(*part))))),
        tuple(_refused(mode, decided)),
    )


def _refused(mode: Mode, decided: Decided) -> Iterator[str]:
    for what, ones in (("package", decided.packages), ("overpack", decided.overpacks)):
        for one in ones:
            if one.modes[mode].verdict is VerdictWord.REFUSE:
                yield f"{what} {one.package}: may not travel so by {mode}"


def _without_document(case: Case) -> bool:
    """Excepted quantities need words alone, limited quantities by road and on the US highway no document."""
    return case.relief is ShipAs.EXCEPTED or (case.relief is ShipAs.LIMITED and case.mode in _LIMITED)


def _asked(mode: Mode, decided: Decided, parts: list[Part]) -> Iterator[Asked]:
    record = decided.record
    cargo = any(one.mark == "cargo-aircraft-only" for _, decision, _ in parts for one in decision.marks)
    values: Mapping[str, str] = {
        "shipper": _party(record.shipper),
        "consignee": _party(record.consignee),
        "emergency": record.emergency_phone or "",
        "aircraft": "cargo aircraft only" if cargo else "passenger and cargo aircraft",
        "pieces": ", ".join(f"{package.count} x {package.kind.text}" for package, _, _ in parts),
    }
    for row in dated("papers", "item", record.date):
        if row["mode"] == mode:
            yield Asked(row["label"], values.get(row.get("fill", ""), ""), row["cite"])


def _party(party: Party) -> str:
    return ", ".join((party.name, *party.address, party.country_name))


def _totals(lines: tuple[Line, ...]) -> Iterator[str]:
    """The total of each description, in the unit of its quantities."""
    sums: dict[tuple[str, str], Decimal] = {}
    for line in lines:
        value, unit = amount(line.net)
        key = line.description, unit
        sums[key] = sums.get(key, Decimal(0)) + value * line.count
    for (description, unit), total in sums.items():
        yield f"{description}: {show(quantity(total, unit))}"


def _reliefs(mode: Mode, parts: list[Part]) -> Iterator[str]:
    limited = [package for package, _, case in parts if case.relief is ShipAs.LIMITED]
    excepted = [package for package, _, case in parts if case.relief is ShipAs.EXCEPTED]
    if limited and mode in _LIMITED:
        gross = sum((to(package.gross_mass, "kg") * package.count for package in limited), Decimal(0))
        asks = "the carrier is told their total gross mass" if mode is Mode.ROAD else "no shipping paper is asked for"
        yield f"limited quantities in {_pieces(limited)}, {show(quantity(gross, 'kg'))} gross: {asks} [{_LIMITED[mode]}]"
    if excepted:
        asks = {
            Mode.SEA: 'the document says "dangerous goods in excepted quantities" and the number of packages',
            Mode.US_GROUND: "no shipping paper is asked for",
        }.get(
            mode, 'a document that goes along says "dangerous goods in excepted quantities" and the number of packages'
        )
        yield f"excepted quantities in {_pieces(excepted)}: {asks} [{_EXCEPTED[mode]}]"


def _pieces(packages: list[Package]) -> str:
    count = sum(package.count for package in packages)
    return f"{count} package{'s' if count > 1 else ''} ({listed(package.package for package in packages)})"


def _coolants(mode: Mode, parts: list[Part]) -> Iterator[str]:
    """What cools a package stands in the document too (from memory)."""
    for package, _, case in parts:
        entry = coolant(case)
        if entry is None or package.coolant is None:
            continue
        each = f"{package.count} x {show(package.coolant.mass)}" if package.count > 1 else show(package.coolant.mass)
        words = (
            f"{entry.number} {entry.name}, {entry.shown_class}"
            if mode is Mode.AIR
            else f"{entry.number} {entry.name}, AS COOLANT"
        )
        yield f"package {package.package} is cooled: {words}, {each} [{_COOLED.get(mode, mode.law)}, from memory]"


def _overpacks(mode: Mode, decided: Decided) -> Iterator[str]:
    for overpack in decided.overpacks:
        if overpack.modes[mode].verdict is VerdictWord.SHIP:
            yield from overpack.modes[mode].descriptions


def _not_subject(parts: list[Part]) -> Iterator[str]:
    for package, decision, case in parts:
        if decision.verdict is VerdictWord.SHIP and not subject(case):  # it goes with marks alone
            yield from (f"package {package.package}: {one}" for one in decision.descriptions)
        elif decision.verdict is VerdictWord.NOT_SUBJECT:
            why = next((one for one in decision.findings if one.code == "not-subject"), None)
            reason = f": {why.text} [{', '.join(why.cite)}]" if why else ""
            yield f"package {package.package} is not subject to the rules of this mode{reason}"


def _phone(mode: Mode, decided: Decided, parts: list[Part]) -> Iterator[str]:
    if mode is Mode.US_GROUND and parts and not decided.record.emergency_phone:
        yield "an emergency response telephone number: write emergency_phone [49 CFR 172.604, from memory]"
