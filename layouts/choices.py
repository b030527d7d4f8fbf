"""Colours the law leaves to whoever prints: they change how a mark is drawn, never which, how large or where."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from layouts.artwork.base import Artwork, Scaled
from layouts.artwork.handling import OrientationArrows
from layouts.artwork.hazards import DESIGNS, PlainLabel
from layouts.artwork.spared import Spared
from layouts.artwork.squares import ExceptedQuantity
from layouts.ink import BLACK, RED
from marks.colours import in_receptacle_colour

if TYPE_CHECKING:
    from layouts.placement import Placement
    from layouts.planned import Planned
    from marks.record import Package

SYMBOLS, EXCEPTED, ARROWS = ("white", "black", "receptacle"), ("red", "black"), ("black", "red")


class Choices(Struct, frozen=True):
    """symbols: ``white`` or ``black`` on red, green and blue (49 CFR 172.407(d)(2)(i), (iii)); ``receptacle``: white, but
    on cylinders of liquefied petroleum gas spared out, so that the receptacle's own colour shows ((d)(2)(iv)).
    excepted: ``red`` or ``black`` (49 CFR 173.4a(g)(2)). arrows: ``black`` or ``red`` (49 CFR 172.312(a)(2)).

    ValueError for any other word.
    """

    symbols: str = "white"
    excepted: str = "red"
    arrows: str = "black"

    def __post_init__(self) -> None:
        for name, allowed in (("symbols", SYMBOLS), ("excepted", EXCEPTED), ("arrows", ARROWS)):
            if (given := getattr(self, name)) not in allowed:
                raise ValueError(f"{name}: {given!r} is no choice the law leaves; write {' or '.join(allowed)}")


#: What is drawn where nothing is chosen.
USUAL = Choices()


def drawn_by(artwork: Artwork, choices: Choices, receptacle: bool = False) -> Artwork:
    """The same mark in the colours chosen. receptacle: it stands where the law lets the receptacle's own colour show."""
    if isinstance(artwork, Scaled):
        return replace(artwork, whole=drawn_by(artwork.whole, choices, receptacle))
    if isinstance(artwork, ExceptedQuantity):
        return replace(artwork, ink=BLACK if choices.excepted == "black" else RED)
    if isinstance(artwork, OrientationArrows):
        return replace(artwork, ink=RED if choices.arrows == "red" else BLACK)
    if isinstance(artwork, PlainLabel):
        dark = DESIGNS[artwork.variant].dark
        if choices.symbols == "black" and dark is not None:
            return replace(artwork, colours=dark)
        if choices.symbols == "receptacle" and receptacle:
            return Spared(artwork)
    return artwork


def in_colours(planned: Planned, choices: Choices) -> Planned:
    """Every placed mark in the colours chosen; places are as they were."""
    if choices == USUAL:
        return planned
    record = planned.record

    def chosen(placement: Placement, packages: tuple[Package, ...]) -> Placement:
        items = (
            replace(one, artwork=drawn_by(one.artwork, choices, may_show(packages, one.requirement.variant)))
            for one in placement.items
        )
        return replace(placement, items=tuple(items))

    def may_show(packages: tuple[Package, ...], label: str | None) -> bool:
        return bool(packages) and all(in_receptacle_colour(one, label, record.date) for one in packages)

    return replace(
        planned,
        placements=tuple(
            chosen(one, (package,)) for one, package in zip(planned.placements, record.packages, strict=True)
        ),
        overpack_placements=tuple(chosen(one, ()) for one in planned.overpack_placements),
    )
