"""The hazard labels of class 7 (UN Model Regulations 5.2.2.2.2, from memory; 49 CFR 172.436 to 172.441), filled in.

Measures besides the frame's: ``trefoil_radius``, the radius of its disc. They are not reduced: the disc has a least
radius.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal

from layouts import letters
from layouts.artwork.base import Dimension
from layouts.artwork.explosives import set_centred
from layouts.artwork.label import Colours, HazardLabel
from layouts.artwork.symbols.trefoil import trefoil_of
from layouts.geometry import Box, Point, polygon, rectangle
from layouts.ink import BLACK, RED, WHITE, YELLOW
from layouts.pen import Pen, group

BARS = {"7-I": 1, "7-II": 2, "7-III": 3}
COLOURS = {
    "7-I": Colours(WHITE, WHITE),
    "7-II": Colours(YELLOW, WHITE, to_edge=False),
    "7-III": Colours(YELLOW, WHITE, to_edge=False),
    "7E": Colours(WHITE, WHITE),
}


class Filled(HazardLabel, frozen=True):
    """What the labels of class 7 share: fields with a heading and a value."""

    @property
    def colour(self) -> bool:
        return True  # red bars, if nothing else; 7E overrides

    def word(self, i: int) -> str:
        return self.words[i] if i < len(self.words) else ""

    def boxed(self, pen: Pen, box: Box, heading: Sequence[str], value: str, cap: float, best: float) -> None:
        """A framed field, its heading (lines of capitals ``cap`` mm high) left, its value, up to ``best``, right.
        Weights are ours."""
        u = self.unit
        line = 0.6 * u
        pen.fill(rectangle(box) + polygon(list(_corners(box.grown(-line)))[::-1]), BLACK)
        size = letters.size_for_cap("condensed", cap)
        x, step = box.x + 2 * u, 1.45 * cap
        y = box.y + (box.height - cap + step * (len(heading) - 1)) / 2
        for i, text in enumerate(heading):
            pen.text(x, y - i * step, text, "condensed", size, BLACK)
        x += max(letters.width(text, "condensed", size) for text in heading) + 2 * u
        self.value(pen, value, Box(x, box.y + line, box.right - line - u - x, box.height - 2 * line), best)

    def value(self, pen: Pen, text: str, room: Box, best: float, least: float = 2.0) -> None:
        """A filled-in value, as large as fits; DoesNotFit below ``least`` mm (ours)."""
        if not text:
            return
        f = letters.fit([text], room.width, room.height, least, max_cap=best)
        y = room.y + (room.height + f.height) / 2 - f.rise
        for i, line in enumerate(f.lines):
            pen.text(room.x, y - i * f.leading, line, f.font, f.size, BLACK)


class TrefoilLabel(Filled, frozen=True):
    """Categories I-WHITE, II-YELLOW, III-YELLOW: trefoil; RADIOACTIVE with its red bars, contents, activity,
    transport index.

    words: contents, activity, transport index (II and III only); an empty one leaves a line to write on.
    """

    def device(self, pen: Pen) -> None:
        u, m = self.unit, self.middle
        with group(pen, "trefoil", "Trefoil"):
            pen.fill(trefoil_of(m, m + 25 * u, self.mm("trefoil_radius")), BLACK)
        self.heading(pen, m - 10.5 * u, 6.5 * u)
        self.field(pen, "CONTENTS", self.word(0), m - 17.5 * u)
        self.field(pen, "ACTIVITY", self.word(1), m - 24.5 * u)
        if BARS[self.variant] > 1:
            box = Box(m - 22.5 * u, m - 34 * u, 45 * u, 7 * u)
            self.boxed(pen, box, ("TRANSPORT INDEX",), self.word(2), 2.5 * u, 4.2 * u)

    def heading(self, pen: Pen, y: float, cap: float) -> None:
        text = "RADIOACTIVE"
        size = letters.size_for_cap("bold", cap)
        width = letters.width(text, "bold", size)
        bars, bar, gap = BARS[self.variant], 0.34 * cap, 0.3 * cap
        x = self.middle - (width + gap + bars * bar + (bars - 1) * gap) / 2
        pen.text(x, y, text, "bold", size, BLACK)
        with group(pen, "category", "Category bars"):
            for i in range(bars):
                pen.fill(rectangle(Box(x + width + gap + i * (bar + gap), y - 0.15 * cap, bar, 1.3 * cap)), RED)

    def field(self, pen: Pen, heading: str, value: str, y: float) -> None:
        u, m = self.unit, self.middle
        half = self.clear - 29.5 * u  # as wide as the lower field's room
        cap = 3 * u
        size = letters.size_for_cap("condensed", cap)
        x = m - half
        pen.text(x, y, heading, "condensed", size, BLACK)
        x += letters.width(heading, "condensed", size) + 1.5 * u
        end = m + half + 2 * u
        if value:
            self.value(pen, value, Box(x, y - 1.2 * u, end - x, 6.4 * u), 4 * u)
        else:
            pen.fill(rectangle(Box(x, y - 0.3 * u, end - x, 0.4 * u)), BLACK)

    def dimensions(self) -> tuple[Dimension, ...]:
        m, u = self.middle, self.unit
        y = m + 25 * u
        return (
            *super().dimensions(),
            Dimension("trefoil_radius", Point(m, y), Point(m + self.mm("trefoil_radius"), y)),
        )


class FissileLabel(Filled, frozen=True):
    """FISSILE above; below, boxed, the criticality safety index. words: the index."""

    @property
    def colour(self) -> bool:
        return False

    def device(self, pen: Pen) -> None:
        u, m = self.unit, self.middle
        set_centred(pen, "FISSILE", m, m + 9 * u, 12 * u)
        box = Box(m - 32 * u, m - 24 * u, 64 * u, 14 * u)
        self.boxed(pen, box, ("CRITICALITY", "SAFETY INDEX"), self.word(0), 3.6 * u, 8 * u)


def radioactive(variant: str, words: tuple[str, ...], measures: Mapping[str, Decimal]) -> Filled:
    """The label of that category; KeyError for a variant that is none of class 7."""
    colours = COLOURS[variant]
    if variant == "7E":
        return FissileLabel(variant, "Fissile material", colours, "7", measures, words)
    return TrefoilLabel(variant, f"Radioactive material, category {variant[2:]}", colours, "7", measures, words)


def _corners(box: Box) -> tuple[tuple[float, float], ...]:
    return ((box.x, box.y), (box.right, box.y), (box.right, box.top), (box.x, box.top))
