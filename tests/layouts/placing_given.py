"""Requirements and plain stand-in artwork for the placement tests: sizes only, so that a test's numbers can be checked
by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import sqrt

from layouts.pen import Pen
from marks.requirement import Requirement, Where
from marks.terms import Mode

SURFACE = (Mode.ROAD, Mode.SEA)
AIR = (Mode.ROAD, Mode.SEA, Mode.AIR)


@dataclass(frozen=True)
class Plain:
    """A rectangle or a square on its point; ``side`` is the square's edge."""

    width: float
    height: float
    side: float | None = None
    reduced: bool = False
    note: str = ""
    step: int = 0
    fonts: tuple[str, ...] = ()
    colour: bool = False
    bleeds: bool = False

    @property
    def shape(self) -> str:
        return "square-on-point" if self.side else "rectangle"

    def draw(self, pen: Pen) -> None:
        raise AssertionError("placement is finished before the first stroke")


MEASURES = {
    "hazard-label": {"side": 100},
    "environmentally-hazardous": {"side": 100},
    "limited-quantity": {"side": 100, "least_side": 50},
    "cargo-aircraft-only": {"width": 120, "height": 110},
    "battery": {"width": 100, "height": 100, "least_height": 70},
}
GROUPS = {"hazard-label": "hazard", "un-number": "hazard", "proper-shipping-name": "hazard"}


def need(
    mark: str, variant: str | None = None, *words: str, modes: tuple[Mode, ...] = AIR, preprinted: bool = False,
    goods: tuple[int, ...] = (), twice: bool = False,
) -> Requirement:  # fmt: skip
    """A requirement as step 2 makes them."""
    where = Where.TWO_OPPOSITE if twice or mark == "orientation-arrows" else Where.ONE
    measures = {name: Decimal(value) for name, value in MEASURES.get(mark, {}).items()}
    group = "address" if mark in ("shipper", "consignee") else GROUPS.get(mark)
    return Requirement(
        mark, "for the test", ("a paragraph",), variant, words, where, group, measures, preprinted, goods, modes
    )


def label(variant: str, **how: object) -> Requirement:
    return need("hazard-label", variant, **how)  # type: ignore[arg-type]


#: The marks of an ordinary package with everything air asks for.
NUMBER, NAME = need("un-number", None, "UN 1219"), need("proper-shipping-name", None, "ISOPROPANOL")
SHIPPER, CONSIGNEE = need("shipper", None, "A", "B"), need("consignee", None, "C", "D")
ARROWS, CARGO, FISH = need("orientation-arrows"), need("cargo-aircraft-only"), need("environmentally-hazardous")
NET = need("net-quantity", None, "Net quantity 4 L")


def square(edge: float, reduced: bool = False, step: int = 0) -> Plain:
    across = edge * sqrt(2)
    return Plain(across, across, edge, reduced, f"reduced to {edge:g} mm side" if reduced else "", step)


def forms(requirement: Requirement) -> Sequence[Plain]:
    """Round stand-in sizes: texts 90 x 15 or 45 x 30 mm, condensed 60 x 15 mm; addresses 60 x 40 mm; arrows 74 x 105
    mm."""
    measures = {name: float(value) for name, value in requirement.measures.items()}
    if requirement.mark in ("hazard-label", "environmentally-hazardous", "limited-quantity"):
        return [square(100), square(80, True, 1), square(60, True, 2)]
    if requirement.mark == "battery":
        return [Plain(100, 100), Plain(100, 70, reduced=True, note="reduced to 100 x 70 mm", step=1)]
    if "width" in measures:
        return [Plain(measures["width"], measures["height"])]
    if requirement.mark == "orientation-arrows":
        return [Plain(74, 105), Plain(37, 52, step=1)]
    if requirement.group == "address":
        return [Plain(60, 40)]
    return [Plain(90, 15), Plain(45, 30, step=1), Plain(60, 15, step=2, fonts=("condensed",))]
