"""The stops of a slider: round quantities over the decades of a ladder, each limit exactly, and just over it."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from marks.quantity import plain

_ROUND = tuple(Decimal(n) for n in ("1", "1.5", "2", "3", "4", "5", "6", "8"))
_SMALL = {"L": "mL", "kg": "g"}


def said(value: Decimal, unit: str) -> str:
    """ "250 mL", "1.001 L", "12 kg"."""
    small = _SMALL.get(unit)
    if small and value < 1:
        return f"{plain(value * 1000)} {small}"
    return f"{plain(value)} {unit}"


def stops(limits: Iterable[Decimal], here: Decimal, unit: str) -> tuple[tuple[str, Decimal], ...]:
    """Rising (words, value); limits: in ``unit``; here: where the package stands, a stop of its own."""
    marked = {one for one in limits if one > 0}
    if here <= 0:
        return ()
    low, high = min((here, *marked)) / 3, max((here, *marked)) * 3
    values = marked | {one + _over(one) for one in marked} | {here}
    decade = Decimal(10) ** (low.adjusted())
    while decade <= high:
        values |= {decade * n for n in _ROUND if low <= decade * n <= high}
        decade *= 10
    return tuple((said(one.normalize(), unit), one) for one in sorted(values))


def _over(limit: Decimal) -> Decimal:
    """A step that a scale or a measuring glass would show: a thousandth of the decade."""
    return Decimal(10) ** (limit.adjusted() - 2)


def nearest(found: tuple[tuple[str, Decimal], ...], value: Decimal) -> int:
    """The place of the stop nearest to a value, 0 where there is none."""
    return min(range(len(found)), key=lambda i: abs(found[i][1] - value)) if found else 0
