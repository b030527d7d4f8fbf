"""The hazard labels of class 1 (UN Model Regulations 5.2.2.2.2, from memory; 49 CFR 172.411): all black on orange."""

from __future__ import annotations

import re

from layouts.artwork.base import Dimension
from layouts.artwork.label import Colours, HazardLabel
from layouts.artwork.symbols.division_figures import FLAG, HEIGHT, division_figure
from layouts.artwork.symbols.outline import extent
from layouts.geometry import Path, Point, Transform
from layouts.ink import BLACK, ORANGE
from layouts.pen import Pen

ON_ORANGE = Colours(ORANGE, ORANGE)

_VARIANT = re.compile(r"1(?:\.([1-6])([A-HJKLNS])?)?")


def parsed(variant: str) -> tuple[str, str]:
    """Division and compatibility letter of ``1.4S``; both empty for ``1``, the label of a subsidiary hazard.

    ValueError for any other text. Letters: UN Model Regulations 2.1.2 (from memory): A to H, J, K, L, N, S.
    """
    found = _VARIANT.fullmatch(variant)
    if found is None:
        raise ValueError(
            f"{variant!r} is no hazard label of class 1; write for instance 1.1D, 1.4S, or 1 for a subsidiary hazard"
        )
    division, letter = found.groups()
    return (f"1.{division}" if division else "", letter or "")


class BombLabel(HazardLabel, frozen=True):
    """Divisions 1.1, 1.2, 1.3: the bomb, division and compatibility letter, neither for a subsidiary hazard."""

    def device(self, pen: Pen) -> None:
        super().device(pen)
        division, letter = parsed(self.variant)
        if division:
            # Height of division and letter is ours: the law fixes none, only that both are alike (49 CFR 172.411(b)).
            set_centred(pen, f"{division}{letter}", self.middle, self.middle - 19 * self.unit, 15 * self.unit)


class DivisionLabel(HazardLabel, frozen=True):
    """Divisions 1.4, 1.5, 1.6: the division in large figures for a symbol, the compatibility letter below.

    Measures besides the frame's: ``division_figure`` (their height) and ``division_stroke`` (their stroke).
    """

    def device(self, pen: Pen) -> None:
        pen.fill(self.numerals(), BLACK)
        _, letter = parsed(self.variant)
        if letter:
            set_centred(pen, letter, self.middle, self.middle - 19 * self.unit, 15 * self.unit)

    def numerals(self) -> Path:
        """The division's figures, their foot 5 mm above the middle (ours)."""
        division, _ = parsed(self.variant)
        k = self.mm("division_figure") / HEIGHT
        drawn = division_figure(division, self.mm("division_stroke") / k)
        return drawn.path.transformed(Transform(k, 0, 0, k, self.middle - drawn.axis * k, self.middle + 5 * self.unit))

    def dimensions(self) -> tuple[Dimension, ...]:
        box = extent(self.numerals())
        high, stroke = self.mm("division_figure"), self.mm("division_stroke")
        stem = box.x + FLAG * high / HEIGHT  # the stem of the 1 begins beside its flag
        return (
            *super().dimensions(),
            Dimension("division_figure", Point(box.right, box.y), Point(box.right, box.y + high)),
            Dimension("division_stroke", Point(stem, box.y + high / 4), Point(stem + stroke, box.y + high / 4)),
        )


def set_centred(pen: Pen, text: str, x: float, y: float, cap: float, font: str = "bold") -> None:
    """A line of text about x, its letters ``cap`` mm high."""
    from layouts import letters

    size = letters.size_for_cap(font, cap)
    pen.text(x - letters.width(text, font, size) / 2, y, text, font, size, BLACK)
