"""What stands in an overpack under one mode: its packages, and how much they hold in all, as it is marked by air."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import TYPE_CHECKING

from msgspec import Struct

from marks.case import Case, Content, amount
from marks.quantity import quantity, show
from marks.reliefs import by_gross
from marks.requirement import ModeDecision, Requirement, Waived
from marks.terms import Mode, ShipAs, VerdictWord

if TYPE_CHECKING:
    from marks.record import Overpack, Record

_CITE = "ICAO TI 5;2.4.10"


class Inside(Struct, frozen=True):
    """The packages of an overpack under one mode: letter and count, decision, case."""

    mode: Mode
    counts: Mapping[str, int]
    decisions: Mapping[str, ModeDecision]
    cases: Mapping[str, Case]

    @property
    def subject(self) -> tuple[str, ...]:
        """The letters of those that are subject to the rules of the mode."""
        return tuple(one for one in self.counts if self.decisions[one].verdict is not VerdictWord.NOT_SUBJECT)

    @property
    def contents(self) -> Iterator[Content]:
        """Every content of the packages that are subject to the rules."""
        return (content for letter in self.subject for content in self.cases[letter].contents)

    def goods(self, letter: str, indices: tuple[int, ...]) -> tuple[int, ...]:
        """Positions of goods in a package as positions among all entries of the overpack: each number and name once."""
        entries = list(dict.fromkeys((one.number, one.marked_name) for one in self.contents))
        held = {one.index: entries.index((one.number, one.marked_name)) for one in self.cases[letter].contents}
        return tuple(sorted({held[index] for index in indices if index in held}))

    def all_are(self, relief: ShipAs) -> bool:
        """Whether all of them go by one relief."""
        return all(self.cases[letter].relief is relief for letter in self.subject)


def total(overpack: Overpack, record: Record, inside: Inside) -> Iterator[Requirement | Waived]:
    """Its name and the total net quantity of each entry, where the consignment is more than this overpack.

    From memory. An entry whose limit is a gross mass counts with the gross mass of its packages, and the letter G.
    """
    if inside.mode is not Mode.AIR:
        yield Waived("net-quantity", "only by air does an overpack show its total quantity", (_CITE,))
        return
    loose = sum(package.count for package in record.packages) - sum(len(one.packages) for one in record.overpacks)
    if len(record.overpacks) == 1 and not loose:
        yield Waived("net-quantity", "the overpack is the whole consignment (from memory)", (_CITE,))
        return
    lines = list(_lines(inside))
    if not lines:
        yield Waived("net-quantity", "excepted quantities alone: their packages show none", (_CITE,))
        return
    summed = (f"Total {lines[0]}",) if len(lines) == 1 else ("Total", *lines)
    why = "the consignment is more than this overpack, which is told by its name and total quantity (from memory)"
    words = (f"Overpack {overpack.overpack}", *summed)
    yield Requirement("net-quantity", why, (_CITE,), words=words, group="hazard", modes=(Mode.AIR,))


def _lines(inside: Inside) -> Iterator[str]:
    """ "UN 1219: 12 L", one for each entry and kind of unit."""
    sums: dict[tuple[str, str], Decimal] = {}
    for letter in inside.subject:
        case, count = inside.cases[letter], inside.counts[letter]
        if case.relief is ShipAs.EXCEPTED:
            continue
        for content in case.contents:
            gross = by_gross(content, case.relief)
            value, unit = (case.gross_kg, "kg") if gross else amount(content.net)
            key = content.number, f"{unit} G" if gross else unit
            sums[key] = sums.get(key, Decimal(0)) + value * count
    for (number, unit), value in sums.items():
        yield f"{number}: {show(quantity(value, unit.split()[0]))}{' G' if unit.endswith('G') else ''}"
