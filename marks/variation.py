"""V boxes: packagings tested once for inner packagings of any kind (selective testing, variation 2; 49 CFR 178.601(g)(2)).

What the conditions are lies in marks.rules.variation; here stands which packages they concern and with what distances the
inside of one is computed.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from marks.inside import Gaps, Inside, inside_of
from marks.tables import limit

if TYPE_CHECKING:
    from marks.record import Package

_NONE = Gaps(Decimal(0), Decimal(0), Decimal(0), Decimal(0))


def is_variation(package: Package) -> bool:
    """By the V behind its code."""
    return package.kind.letter == "V"


def gaps_of(package: Package, on: date) -> Gaps | None:
    """The distances its certificate asks; of a V box without them what certificates usually ask; of others None."""
    if package.certificate and package.certificate.distances:
        return Gaps.of(package.certificate.distances)
    if is_variation(package):
        usual = limit("v_box", "distance", on, "packagings").value
        return Gaps(usual, usual, usual, usual)
    return None


def computed(package: Package, on: date) -> Inside | None:
    """The inside with these distances (none for a box without V and certificate); None where sizes are not stated."""
    return inside_of(package, gaps_of(package, on) or _NONE)
