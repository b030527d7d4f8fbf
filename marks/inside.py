"""The inside of a box, computed: do the inner packagings fit with the distances kept, how much absorbent fills the rest,
and how heavy does it become.

They stand upright, in rows and layers: a deterministic arrangement that is found is one that fits. That none is found
proves nothing by itself (round ones may stand closer than in rows); two things do: an inner packaging that has no room
alone, and volumes that exceed the box.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from msgspec import Struct

from marks.outside import DrumSize
from marks.quantity import is_volume, to

if TYPE_CHECKING:
    from marks.inner import Distances, Inner
    from marks.record import Package

_PI = Decimal("3.14159265358979")
_ML = Decimal(1000)  # mm3 in a millilitre


class Body(Struct, frozen=True):
    """One inner packaging standing upright: its lengths in mm; round: width and depth are its diameter."""

    width: Decimal
    depth: Decimal
    height: Decimal
    round: bool = False

    @classmethod
    def of(cls, inner: Inner) -> Body:
        """Of an inner packaging whose size is stated."""
        size = inner.size
        if isinstance(size, DrumSize):
            across = to(size.diameter, "mm")
            return cls(across, across, to(size.height, "mm"), True)
        assert size is not None
        return cls(to(size.length, "mm"), to(size.width, "mm"), to(size.height, "mm"))

    @property
    def millilitres(self) -> Decimal:
        """The room it takes, as a cylinder or a block: a bottle's shoulders leave a little more to the absorbent."""
        ground = _PI / 4 * self.width**2 if self.round else self.width * self.depth
        return ground * self.height / _ML

    def turned(self) -> Body:
        """The same turned by a quarter about its axis."""
        return Body(self.depth, self.width, self.height, self.round)


class Gaps(NamedTuple):
    """The distances to keep, mm: under, to each side wall, between, above."""

    bottom: Decimal
    sides: Decimal
    between: Decimal
    top: Decimal

    @classmethod
    def of(cls, distances: Distances) -> Gaps:
        """The distances of a certificate, mm."""
        return cls(*(to(getattr(distances, key), "mm") for key in cls._fields))


class Spot(Struct, frozen=True):
    """Where one stands: its lower left front corner from that of the clear room, mm; layer and row count from 1."""

    body: Body
    x: Decimal
    y: Decimal
    z: Decimal
    layer: int
    row: int


class Inside(Struct, frozen=True):
    """spots: an arrangement, empty where none was found; impossible: why there can be none, or "".

    free_ml: what is left of the room round the inner packagings. liquid_ml: the liquid in them.
    """

    spots: tuple[Spot, ...]
    impossible: str
    free_ml: Decimal
    liquid_ml: Decimal

    @property
    def fits(self) -> bool:
        """Whether an arrangement was found."""
        return bool(self.spots)

    @property
    def layers(self) -> tuple[tuple[int, ...], ...]:
        """How many stand in each row of each layer, from below: ((2, 2),) is one layer of two rows of two."""
        counts: dict[int, dict[int, int]] = {}
        for spot in self.spots:
            rows = counts.setdefault(spot.layer, {})
            rows[spot.row] = rows.get(spot.row, 0) + 1
        return tuple(tuple(rows.values()) for rows in counts.values())

    @property
    def takes_each_litre_ml(self) -> Decimal:
        """What one litre of the absorbent that fills the rest must take up, mL, so that all the liquid is held.

        There has to be a rest.
        """
        return self.liquid_ml * 1000 / self.free_ml


def inside_of(package: Package, gaps: Gaps) -> Inside | None:
    """The inside of a package; None where the room or the size of an inner packaging is not stated."""
    inners = [goods.inner for goods in package.goods if goods.inner is not None]
    if package.inside is None or not inners or any(one.size is None for one in inners):
        return None
    room = tuple(to(getattr(package.inside, key), "mm") for key in ("length", "width", "height"))
    bodies = [Body.of(one) for one in inners for _ in range(one.count)]
    liquid = sum((to(one.total, "mL") for one in inners if is_volume(one.holds)), Decimal(0))
    volume = room[0] * room[1] * room[2] / _ML
    taken = sum((body.millilitres for body in bodies), Decimal(0))
    clear = (room[0] - 2 * gaps.sides, room[1] - 2 * gaps.sides, room[2] - gaps.bottom - gaps.top)
    impossible = _impossible(bodies, clear, volume - taken)
    spots = () if impossible else _arranged(bodies, clear, gaps.between)
    return Inside(spots, impossible, volume - taken, liquid)


def _impossible(bodies: Sequence[Body], clear: tuple[Decimal, Decimal, Decimal], free: Decimal) -> str:
    for body in dict.fromkeys(bodies):
        lying = max(body.width, body.depth) > max(clear[:2]) or min(body.width, body.depth) > min(clear[:2])
        if lying or body.height > clear[2]:
            room = " x ".join(f"{max(side, Decimal(0)):f}" for side in clear)
            return f"one of {body.width:f} x {body.depth:f} x {body.height:f} mm does not go into {room} mm"
    if free < 0:
        return f"together they take {-free:.0f} mL more than the box holds"
    return ""


def _arranged(bodies: Sequence[Body], clear: tuple[Decimal, Decimal, Decimal], gap: Decimal) -> tuple[Spot, ...]:
    """The arrangement with the fewest layers of four: rows along either side, each body lying along it or across."""
    found = []
    for across, along in ((clear[0], clear[1]), (clear[1], clear[0])):
        for turn in (False, True):
            placed = tuple(_rows([body.turned() if turn else body for body in bodies], (across, along, clear[2]), gap))
            if len(placed) == len(bodies):
                found.append(placed)
    return min(found, key=lambda spots: spots[-1].layer, default=())


def _rows(bodies: Sequence[Body], clear: tuple[Decimal, Decimal, Decimal], gap: Decimal) -> Iterator[Spot]:
    """Row by row, layer by layer, the tallest first; ends where there is no more room."""
    x = y = z = deep = high = Decimal(0)
    layer = row = 1
    for body in sorted(bodies, key=lambda one: (-one.height, -one.depth, -one.width)):
        if x and x + body.width > clear[0]:
            x, y, deep, row = Decimal(0), y + deep + gap, Decimal(0), row + 1
        if y and y + body.depth > clear[1]:
            x, y, z, deep, high = Decimal(0), Decimal(0), z + high + gap, Decimal(0), Decimal(0)
            layer, row = layer + 1, 1
        if body.width > clear[0] or body.depth > clear[1] or z + body.height > clear[2]:
            return
        yield Spot(body, x, y, z, layer, row)
        x += body.width + gap
        deep, high = max(deep, body.depth), max(high, body.height)


def mass_kg(package: Package, free_ml: Decimal) -> Decimal | None:
    """What the finished package weighs, kg: box, filled inner packagings and what fills the rest; None where one of
    these is not stated."""
    inners = [goods.inner for goods in package.goods]
    filling = package.filling.litre_weighs if package.filling else None
    if package.empty_mass is None or filling is None or any(one is None or one.mass_each is None for one in inners):
        return None
    return to(package.empty_mass, "kg") + inner_mass_kg(package) + to(filling, "kg") * free_ml / 1000


def inner_mass_kg(package: Package) -> Decimal:
    """What the filled inner packagings weigh whose mass is stated, kg."""
    inners = (goods.inner for goods in package.goods)
    return sum((one.count * to(one.mass_each, "kg") for one in inners if one and one.mass_each is not None), Decimal(0))
