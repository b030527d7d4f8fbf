"""What steps 1 to 3 leave for the rest of the road: the decision, and where every mark of each package stands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from layouts.placement import Placement
from marks.decide import Decided
from marks.requirement import PackageDecision
from marks.terms import Mode, VerdictWord

if TYPE_CHECKING:
    from marks.record import Record


class Planned(Struct, frozen=True):
    """Steps 1 to 3 of one record: what was decided, and where every mark of each package stands.

    digest: sha256 of the normalised record. placements: one for each package, in the record's order; of overpacks apart,
    NOWHERE for one without a size.
    """

    decided: Decided
    digest: str
    placements: tuple[Placement, ...]
    overpack_placements: tuple[Placement, ...] = ()

    @property
    def record(self) -> Record:
        """The record that was read."""
        return self.decided.record

    def verdict_of(self, package: PackageDecision, placement: Placement) -> VerdictWord:
        """The journey's verdict; marks that do not fit refuse it too."""
        return VerdictWord.REFUSE if placement.refused else package.verdict

    @property
    def verdict(self) -> VerdictWord:
        """The worst over all packages and overpacks: one that is refused refuses the record."""
        verdicts = {self.verdict_of(*pair) for pair in (*self.pairs(), *self.overpack_pairs())}
        if VerdictWord.REFUSE in verdicts:
            return VerdictWord.REFUSE
        return VerdictWord.SHIP if VerdictWord.SHIP in verdicts else VerdictWord.NOT_SUBJECT

    def pairs(self) -> Iterator[tuple[PackageDecision, Placement]]:
        """Each package, decided and placed."""
        yield from zip(self.decided.packages, self.placements, strict=True)

    def overpack_pairs(self) -> Iterator[tuple[PackageDecision, Placement]]:
        """Each overpack, decided and placed."""
        yield from zip(self.decided.overpacks, self.overpack_placements, strict=True)

    def refused_modes(self, package: PackageDecision, placement: Placement) -> tuple[Mode, ...]:
        """The modes by which a package may not travel as described; all of them where its marks do not fit."""
        if placement.refused:
            return tuple(package.modes)
        return tuple(mode for mode, decision in package.modes.items() if decision.verdict is VerdictWord.REFUSE)
