"""One package under one mode: everything a rule reads. Made of the record and the goods list; nothing here decides."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING

from msgspec import Struct

from marks.goods import us
from marks.quantity import Quantity, is_mass, is_volume, show, to
from marks.terms import Mode, PackingGroup, ShipAs, State

if TYPE_CHECKING:
    from marks.goods.lookup import Entry
    from marks.record import Goods, Package, Record


class Content(Struct, frozen=True, dict=True):
    """One line of goods with its entry of the list."""

    index: int
    goods: Goods
    entry: Entry

    @property
    def number(self) -> str:
        """ "UN 1219", "ID 8000"."""
        return self.entry.number

    @cached_property
    def name(self) -> str:
        """The proper shipping name that was chosen, in the list's own spelling, without technical name."""
        wanted = (self.goods.name or "").casefold()
        for offered in self.entry.names:
            if offered.casefold() == wanted:
                return offered
        return self.entry.name

    @cached_property
    def marked_name(self) -> str:
        """The name as it is marked: with the technical name in brackets where one is given."""
        return f"{self.name} ({self.goods.technical_name})" if self.goods.technical_name else self.name

    @property
    def group(self) -> PackingGroup | None:
        """The packing group of the entry; None where it has none."""
        return PackingGroup(self.entry.packing_group) if self.entry.packing_group else None

    @property
    def state(self) -> State | None:
        """As the entry settles it, else as the record says, else by the unit: litres mean a liquid, kilograms nothing.

        None is refused before any rule is asked (``state-open``).
        """
        if self.entry.state:
            return State(self.entry.state)
        if self.goods.state:
            return State(self.goods.state)
        quantity = self.goods.inner.holds if self.goods.inner else self.net
        return State.LIQUID if is_volume(quantity) else None

    def labels(self, mode: Mode) -> tuple[str, ...]:
        """Hazard labels, primary first: by ADR on the road, by the UN Model Regulations at sea and in the air.

        The two differ where ADR takes the goods out of its rules and the other modes do not. On the US highway: by
        column 6 of the US list. The hazards that the record adds to those of the entry follow; an explosive label
        that an approval waives is left out.
        """
        if mode is Mode.US_GROUND:
            own = us.labels(self.entry)
        else:
            own = self.entry.labels if mode is Mode.ROAD else self.entry.model_labels or self.entry.labels
        if self.goods.explosive_label_waived_by:
            own = tuple(label for label in own if label != "1")
        bare = {"1" if label[0] == "1" else label for label in own}
        return *own, *(hazard for hazard in self.goods.further_hazards if hazard not in bare)

    @property
    def hazards(self) -> tuple[str, ...]:
        """The bare classes of its labels in the UN Model Regulations, primary first: "1.4G" counts as "1"."""
        return tuple("1" if label[0] == "1" else label for label in self.labels(Mode.SEA))

    @property
    def refrigerated(self) -> bool:
        """A refrigerated liquefied gas: its classification code begins with 3 (ADR 2.2.2.1.3)."""
        return self.entry.hazard_class == "2" and self.entry.classification_code.startswith("3")

    @property
    def net(self) -> Quantity:
        """Net quantity of this line in one package, a pint quantity."""
        return self.goods.net_total

    @property
    def net_text(self) -> str:
        """Its net quantity in words: ``4 L``."""
        return show(self.net)

    @property
    def inner_text(self) -> str:
        """Its inner packagings in words: ``4 x 1 L glass bottle``."""
        inner = self.goods.inner
        return "no inner packagings" if inner is None else f"{inner.count} x {show(inner.holds)} {inner.of}".rstrip()

    def described_as(self) -> str:
        """ "UN 1219 ISOPROPANOL", for sentences."""
        return f"{self.number} {self.name}"


class Case(Struct, frozen=True, dict=True):
    """One package under one mode on one day."""

    mode: Mode
    on: date
    record: Record
    package: Package
    contents: tuple[Content, ...]

    @cached_property
    def reliefs(self) -> frozenset[ShipAs]:
        """How the goods are shipped under this mode: full, limited, excepted; more than one only in a faulty mix."""
        return frozenset(content.goods.ship_as_for(self.mode) for content in self.contents)

    @cached_property
    def relief(self) -> ShipAs:
        """The one way they are shipped; a faulty mix counts as full, so that no mark is lost."""
        return next(iter(self.reliefs)) if len(self.reliefs) == 1 else ShipAs.FULL

    @cached_property
    def combination(self) -> bool:
        """Whether anything in it is in inner packagings."""
        return any(content.goods.inner for content in self.contents)

    @cached_property
    def gross_kg(self) -> Decimal:
        """The gross mass of one package, kg."""
        return to(self.package.gross_mass, "kg")

    def preprinted(self, mark: str, variant: str | None = None) -> bool:
        """Whether the packaging bears this very mark already; a label of another class is not this one."""
        return any((item.mark, item.variant) == (mark, variant) for item in self.package.preprinted)

    def shipped_as(self, relief: ShipAs) -> tuple[Content, ...]:
        """The contents that are shipped so under this mode."""
        return tuple(content for content in self.contents if content.goods.ship_as_for(self.mode) is relief)

    def indices(self, contents: Iterable[Content] | None = None) -> tuple[int, ...]:
        """The places of the contents in the record, of all where none are named."""
        return tuple(content.index for content in (self.contents if contents is None else contents))


def amount(quantity: Quantity) -> tuple[Decimal, str]:
    """A net quantity in the unit limits are written in: litres for volumes, kilograms for masses."""
    if is_volume(quantity):
        return to(quantity, "L"), "L"
    if is_mass(quantity):
        return to(quantity, "kg"), "kg"
    raise ValueError(f"{show(quantity)} is neither a volume nor a mass")


def listed(words: Iterable[str]) -> str:
    """ "A", "A and B", "A, B and C"."""
    items = list(words)
    return items[0] if len(items) == 1 else ", ".join(items[:-1]) + " and " + items[-1] if items else ""
