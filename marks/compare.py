"""The same packages under every mode: mark by mark what each asks and why, and for each material the quantities at
which an answer turns, with this package's place among them."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from msgspec import Struct

from marks import ground_limits
from marks.aircraft import LIMIT_SOURCE, read_limit
from marks.case import Case, Content, amount
from marks.decide import Decided, decide
from marks.quantity import show
from marks.record import Record
from marks.reliefs import air_limited, amounts, excepted_limits, limited_inner, same_kind
from marks.requirement import PackageDecision
from marks.tables import editions
from marks.terms import Mode, VerdictWord


class Cell(Struct, frozen=True):
    """What one mode says of one mark. asked: it must be there; why and cite as the rule gave them."""

    asked: bool
    why: str
    cite: tuple[str, ...]


class Row(Struct, frozen=True):
    """One mark under every mode; a mode that is silent about it has no cell."""

    mark: str
    variant: str | None
    words: tuple[str, ...]
    cells: dict[Mode, Cell]

    modes: tuple[Mode, ...] = ()

    @property
    def differs(self) -> bool:
        """Whether one of the modes laid side by side asks for it and another does not."""
        return len({mode in self.cells and self.cells[mode].asked for mode in self.modes}) > 1


class Rung(Struct, frozen=True):
    """A quantity at which an answer turns. per: ``inner`` packaging or ``package``."""

    label: str
    per: str
    value: Decimal
    text: str
    cite: str


class Ladder(Struct, frozen=True):
    """The rungs of one material in one unit (L or kg), lowest first, and where this package stands."""

    name: str
    unit: str
    rungs: tuple[Rung, ...]
    inner: Decimal | None
    package: Decimal | None


class PackageComparison(Struct, frozen=True):
    """One package under every mode: its marks row by row, and the quantities at which an answer turns."""

    decision: PackageDecision
    verdicts: dict[Mode, VerdictWord]
    rows: tuple[Row, ...]
    ladders: tuple[Ladder, ...]


class Comparison(Struct, frozen=True):
    """A record's packages, each under every mode held."""

    decided: Decided
    packages: tuple[PackageComparison, ...]


def compare(record: Record) -> Comparison:
    """Decide the record under every mode held on its day, whatever its own modes are; lay the answers side by side.

    Raises RecordError where no mode is held on that day, or where the goods list leaves the record open.
    """
    held = tuple(mode for mode, edition in editions().items() if edition.first <= record.date <= edition.last)
    decided = decide(record, held or tuple(editions()))
    return Comparison(
        decided,
        tuple(
            PackageComparison(
                package,
                {mode: decision.verdict for mode, decision in package.modes.items()},
                rows(package),
                tuple(ladder for content in next(iter(cases.values())).contents for ladder in ladders(content, cases)),
            )
            for package, cases in zip(decided.packages, decided.cases, strict=True)
        ),
    )


def rows(package: PackageDecision) -> tuple[Row, ...]:
    """One row a mark, in the order the modes name them; a waiver without a variant speaks for the whole mark."""
    found: dict[tuple[str, str | None, tuple[str, ...]], Row] = {}
    modes = tuple(package.modes)
    for mode, decision in package.modes.items():
        for one in decision.marks:
            row = found.setdefault(one.key, Row(one.mark, one.variant, one.words, {}, modes))
            row.cells[mode] = Cell(True, one.why, one.cite)
    for mode, decision in package.modes.items():
        for waived in decision.waived:
            same = [row for row in found.values() if row.mark == waived.mark and waived.variant in (None, row.variant)]
            if not same:
                key = (waived.mark, waived.variant, ())
                same = [found.setdefault(key, Row(waived.mark, waived.variant, (), {}, modes))]
            for row in same:
                had = row.cells.get(mode)
                if had is None:
                    row.cells[mode] = Cell(False, waived.why, waived.cite)
                elif not had.asked and waived.why not in had.why:
                    row.cells[mode] = Cell(
                        False, f"{had.why}; {waived.why}", tuple(dict.fromkeys((*had.cite, *waived.cite)))
                    )
    return tuple(found.values())


def ladders(content: Content, cases: Mapping[Mode, Case]) -> tuple[Ladder, ...]:
    """The ladder of one material, in the unit of its net quantity."""
    unit = amount(content.net)[1]
    found = [*_surface_rungs(content, unit, cases), *_air_rungs(content), *_ground_rungs(content, unit, cases)]
    inner = (
        amount(content.goods.inner.holds)[0]
        if content.goods.inner and amount(content.goods.inner.holds)[1] == unit
        else None
    )
    ordered = tuple(sorted(found, key=lambda rung: (rung.value, rung.label)))
    return (Ladder(content.described_as(), unit, ordered, inner, amount(content.net)[0]),)


def _surface_rungs(content: Content, unit: str, cases: Mapping[Mode, Case]) -> list[Rung]:
    found = []
    case = next(iter(cases.values()))
    excepted = excepted_limits(content, case)
    if excepted:
        small = "mL" if unit == "L" else "g"
        for figure, per in zip(excepted, ("inner", "package"), strict=True):
            label = f"excepted quantity {content.entry.excepted_quantity}"
            found.append(
                Rung(
                    label,
                    per,
                    figure.value / 1000,
                    f"{figure.value} {small}",
                    "ADR 3.5.1.2; IMDG 3.5.1.2; ICAO TI 3;5.1.2",
                )
            )
    held = same_kind(limited_inner(content), content.net)
    if held:
        found.append(
            Rung("limited quantity, road and sea", "inner", held.value, held.text, "ADR 3.2 Table A column 7a")
        )
    return found


def _ground_rungs(content: Content, unit: str, cases: Mapping[Mode, Case]) -> list[Rung]:
    """US law's own: limited and excepted quantities by class and packing group, and the reportable quantity."""
    case, found = cases.get(Mode.US_GROUND), []
    if case is None or not content.entry.us_source:
        return []
    limited, excepted = ground_limits.limited_inner(content, case.on), ground_limits.excepted(content, case.on)
    if limited.most is not None and limited.most.unit == unit:
        found.append(
            Rung("limited quantity, us-ground", "inner", limited.most.value, limited.most.text, limited.cite[0])
        )
    small = "mL" if unit == "L" else "g"
    for value, per in ((excepted.inner, "inner"), (excepted.outer, "package")):
        if value is not None:
            found.append(Rung("excepted quantity, us-ground", per, value / 1000, f"{value} {small}", excepted.cite[0]))
    said = content.goods.hazardous_substance
    if said is not None and said != "none" and unit == "kg":
        found.append(Rung("reportable quantity", "package", amount(said.rq)[0], show(said.rq), "49 CFR 171.8"))
    return found


def _air_rungs(content: Content) -> list[Rung]:
    found = []
    limited = air_limited(content)
    inner = content.goods.inner
    text = limited.inner(inner.of) if inner is not None else limited.other
    for words, per in ((text, "inner"), (limited.outer, "package")):
        held = same_kind(amounts(words or ""), content.net) if words and "gross" not in words else None
        if held:
            found.append(Rung("limited quantity by air", per, held.value, held.text, "49 CFR 173.27(f)(3)"))
    for label, column in (("passenger aircraft", content.entry.passenger), ("cargo aircraft", content.entry.cargo)):
        limit = read_limit(column)
        held = same_kind(limit.amounts, content.net) if limit.kind == "amount" else None
        if held:
            found.append(Rung(label, "package", held.value, held.text, LIMIT_SOURCE))
    return found


def ladder_lines(ladder: Ladder) -> list[str]:
    """The ladder as text, lowest rung first, this package in its place."""
    here = [
        (value, f"{f'{value:f} {ladder.unit}':>10}  <- this package: {what}")
        for value, what in ((ladder.inner, "one inner packaging"), (ladder.package, "whole package"))
        if value is not None
    ]
    steps = [(rung.value, f"{rung.text:>10}  {rung.label}, per {rung.per} ({rung.cite})") for rung in ladder.rungs]
    return [ladder.name, *(line for _, line in sorted([*steps, *here], key=lambda pair: pair[0]))]
