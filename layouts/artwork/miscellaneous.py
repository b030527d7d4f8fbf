"""The hazard labels of class 9: black on white (49 CFR 172.446 f.; UN Model Regulations 5.2.2.2.2, from memory)."""

from __future__ import annotations

from layouts.artwork.base import diamond, part
from layouts.artwork.label import Colours, HazardLabel, NoPen
from layouts.artwork.symbols import symbol
from layouts.geometry import Box, Transform, polygon, rectangle
from layouts.ink import BLACK, WHITE
from layouts.pen import Pen, group

ON_WHITE = Colours(WHITE, WHITE)

#: Seven stripes, six gaps alike (49 CFR 172.446(b)), and as much again outside: no width is given in mm.
STRIPES, BANDS = 7, 15


class MiscellaneousLabel(HazardLabel, frozen=True):
    """Seven upright stripes in the upper half, the 9 underlined."""

    def stripes(self) -> tuple[tuple[float, float], ...]:
        """Left and right of each stripe."""
        band = 2 * self.clear / BANDS
        start = self.middle - self.clear
        return tuple((start + band * (2 * i + 1), start + band * (2 * i + 2)) for i in range(STRIPES))

    def device(self, pen: Pen) -> None:
        m = self.middle
        # Up to the middle of the line's thickness, so that no hairline of white parts stripe and line.
        field = diamond(self.side, (m, m), self.mm("inset") + self.mm("line") / 2)
        with group(pen, "stripes", "Seven stripes"):
            for left, right in self.stripes():
                pen.fill(polygon(part(field, left, m, right, self.width)), BLACK)

    def class_figure(self, pen: Pen) -> None:
        u = self.unit
        box = self.nine(pen)
        pen.fill(rectangle(Box(box.x - 0.6 * u, box.y - 3.4 * u, box.width + 1.2 * u, 1.7 * u)), BLACK)

    def nine(self, pen: Pen) -> Box:
        """Raised to make room for the line under it; its weight and distance are ours."""
        return self.set_figure(pen, self.figure, raised=3.2 * self.unit)


class BatteryLabel(MiscellaneousLabel, frozen=True):
    """Class 9 for lithium or sodium ion batteries: below the stripes a battery group, one broken and burning."""

    def device(self, pen: Pen) -> None:
        super().device(pen)
        u, drawn = self.unit, symbol("battery_group")
        foot, top = self.nine(NoPen()).top + 4 * u, self.middle - 4 * u  # between the stripes and the figure
        k = min((top - foot) / drawn.bounds.height, self.room(4.0) / drawn.reach(below=True))
        at = Transform(k, 0, 0, k, self.middle - drawn.axis * k, top - drawn.bounds.top * k)
        with group(pen, "battery-group", "Battery group, one broken and burning"):
            pen.fill(drawn.path.transformed(at), BLACK)
