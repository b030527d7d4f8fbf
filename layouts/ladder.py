"""The ladder of one material: on a logarithmic axis of quantity, where an answer turns and where this package stands.

Above the axis what counts for one inner packaging, below it what counts for the whole package.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from layouts import letters
from layouts.furniture import line, line_to
from layouts.geometry import Box, polygon, polyline, rectangle
from layouts.ink import BLACK, WHITE, grey
from layouts.listing import BODY, SMALL, Block
from layouts.pen import Pen, group

if TYPE_CHECKING:
    from marks.compare import Ladder, Rung

INNER, PACKAGE = "inner", "package"
#: Heights on paper, mm: the axis with its figures, a line of labels, the name above.
AXIS, LANE, NAME = 7.0, 7.4, 7.0
#: The axis begins so far from the left edge, mm: half of its first figure stands there.
INSET = 5.0


class Label(NamedTuple):
    """A rung's text where it will stand: x of its tick, left edge of the words, its lane away from the axis."""

    x: float
    left: float
    lane: int
    words: str
    cite: str
    here: bool


def amount(value: Decimal, unit: str) -> str:
    """A decade of the axis: "10 mL", "1 L", "100 g"."""
    small = {"L": "mL", "kg": "g"}.get(unit)
    if small and value < 1:
        value, unit = value * 1000, small
    return f"{value.normalize():f} {unit}"


class Scale(NamedTuple):
    """Powers of ten from ``low`` to ``high`` over ``width`` mm."""

    low: int
    high: int
    width: float

    @classmethod
    def over(cls, values: Sequence[Decimal], width: float) -> Scale:
        """The whole decades that hold all values (all above zero), at least two."""
        low = math.floor(math.log10(min(values)))
        high = math.ceil(math.log10(max(values)))
        return cls(low, max(high, low + 2), width)

    def at(self, value: Decimal) -> float:
        return (math.log10(value) - self.low) / (self.high - self.low) * self.width


def ladder_block(ladder: Ladder, width: float) -> Block:
    """The ladder as a block of a page; a line of words where there is no rung."""
    values = [rung.value for rung in ladder.rungs if rung.value > 0]
    here = {INNER: ladder.inner, PACKAGE: ladder.package}
    values += [value for value in here.values() if value]
    if not ladder.rungs or not values:
        return _without_rungs(ladder, width)
    scale = Scale.over(values, width - 14)
    sides = {per: _labels(ladder, per, scale, width - INSET) for per in (INNER, PACKAGE)}
    up, down = (max((label.lane + 1 for label in sides[per]), default=0) * LANE for per in (INNER, PACKAGE))
    height = NAME + up + AXIS + down + 6

    def draw(pen: Pen, x: float, top: float) -> None:
        with group(pen, "ladder", ladder.name):
            line(pen, x, top - 4.4, ladder.name, 3.4, "bold")
            base, x0 = top - NAME - up - 2, x + INSET
            for per, sign in ((INNER, 1), (PACKAGE, -1)):
                for label in sides[per]:
                    _draw_label(pen, label, x0, base, sign)
            _axis(pen, scale, ladder.unit, x0, base)
            line_to(
                pen, x + width, top - 4.4, "above: one inner packaging; below: the whole package", SMALL, ink=grey(75)
            )

    return Block(height, draw)


def _without_rungs(ladder: Ladder, width: float) -> Block:
    def draw(pen: Pen, x: float, top: float) -> None:
        at = line(pen, x, top - 4.4, ladder.name, 3.4, "bold")
        line(pen, at + 3, top - 4.4, "no quantity changes an answer in the tables held", SMALL)

    return Block(NAME + 2, draw)


def _labels(ladder: Ladder, per: str, scale: Scale, width: float) -> list[Label]:
    """The labels of one side: each rung, and this package; in lanes, so that no two overlap."""
    wanted: list[tuple[float, str, str, bool]] = [
        (scale.at(rung.value), f"{rung.text}  {rung.label}", rung.cite, False) for rung in _merged(ladder.rungs, per)
    ]
    value = ladder.inner if per == INNER else ladder.package
    if value:
        wanted.append((scale.at(value), f"{amount(value, ladder.unit)}  this package", "", True))
    wanted.sort(key=lambda w: (w[0], not w[3], w[1]))
    found: list[Label] = []
    for x, words, cite, here in reversed(wanted):  # from the right: a label reaches to the right of its tick
        font = "bold" if here else "regular"
        wide = max(letters.width(words, font, BODY), letters.width(cite, "regular", SMALL * 0.9))
        left = min(x + (2.4 if here else 1.2), width - wide)  # clear of the hairline, or of the pointer
        lane = 0
        while any(left + wide + 2 > min(f.x, f.left if f.lane == lane else f.x) for f in found if f.lane >= lane):
            lane += 1  # another label stands there, or the hairline of one further out runs through
        found.append(Label(x, left, lane, words, cite, here))
    return found


def _merged(rungs: Sequence[Rung], per: str) -> list[Rung]:
    return [rung for rung in rungs if rung.per == per and rung.value > 0]


def _axis(pen: Pen, scale: Scale, unit: str, x: float, y: float) -> None:
    pen.stroke(polyline([(x, y), (x + scale.width, y)]), BLACK, 0.35)
    for power in range(scale.low, scale.high + 1):
        value = Decimal(10) ** power
        at = x + scale.at(value)
        pen.stroke(polyline([(at, y - 1.6), (at, y + 1.6)]), BLACK, 0.3)
        words = amount(value, unit)
        wide = letters.width(words, "regular", SMALL)
        pen.fill(rectangle(Box(at - wide / 2 - 0.5, y - 4.5, wide + 1, 2.6)), WHITE)
        line(pen, at - wide / 2, y - 4.0, words, SMALL, ink=grey(75))
        if power < scale.high:
            for n in range(2, 10):
                minor = x + scale.at(value * n)
                pen.stroke(polyline([(minor, y - 0.6), (minor, y + 0.6)]), grey(60), 0.12)


def _draw_label(pen: Pen, label: Label, x: float, base: float, sign: int) -> None:
    """One rung: a hairline from the axis to its words; this package: a solid pointer and bold words."""
    start = base + (1.8 if sign > 0 else -4.8 if label.here else -1.0)
    y = base + sign * (label.lane * LANE) + (3.2 if sign > 0 else -(AXIS + 0.6))
    at = x + label.x
    reach = y + (LANE - 2.2 if sign > 0 else 2.4)
    pen.stroke(polyline([(at, start), (at, reach)]), BLACK if label.here else grey(60), 0.45 if label.here else 0.15)
    if label.here:
        tip = base + (0.2 if sign > 0 else -4.6)
        pen.fill(polygon([(at, tip), (at - 1.5, tip + sign * 3), (at + 1.5, tip + sign * 3)][:: sign or 1]), BLACK)
    line(pen, x + label.left, y + 2.6 - 2.4 * (sign < 0), label.words, BODY, "bold" if label.here else "regular")
    if label.cite:
        line(pen, x + label.left, y - 0.2 - 2.4 * (sign < 0), label.cite, SMALL * 0.9, ink=grey(70))
