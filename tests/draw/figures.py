"""Every length the law fixes, measured from finished files: ``python -m tests.draw.figures`` prints the table.

The expected figures stand here as the law's text gives them, not as the product's tables do. "49 CFR" figures were read in
the published text; those marked (m) are from memory. Lengths in mm; counts and angles as they are.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from tests.draw.measure import XY, Paper, edges
from tests.draw.printed import PAPERS
from tests.draw.ruler import NEAR, inward, lettering, middle, of_the_mark

LABELS = (
    *("1.1D", "1.2G", "1.3C", "1.4S", "1.5D", "1.6N", "1", "2.1", "2.2", "2.3", "3", "4.1", "4.2", "4.3"),
    *("5.1", "5.2", "6.1", "6.2", "7-I", "7-II", "7-III", "7E", "8", "9", "9A", "2.3-inhalation", "6.1-inhalation"),
)
BLACK, RED = "#000000", "#be2024"
#: Colours as each file says them; the PDF measured is the one for screens.
Measure = Callable[[Paper], float]


@dataclass(frozen=True)
class Figure:
    """mark: as ``printed`` calls it; law: its paragraph; least, most: what the law allows; form, measures: which form of
    the mark is printed, with which lengths asked for."""

    mark: str
    what: str
    law: str
    least: float
    most: float
    measure: Measure
    form: int = 0
    measures: tuple[tuple[str, str], ...] = ()

    def measured(self, made: str) -> float:
        return self.measure(PAPERS[made](self.mark, self.form, **dict(self.measures)))

    def holds(self, value: float) -> bool:
        return self.least - NEAR <= value <= self.most + NEAR


def exactly(mark: str, what: str, law: str, value: float, measure: Measure, form: int = 0, **measures: str) -> Figure:
    return Figure(mark, what, law, value, value, measure, form, tuple(measures.items()))


# --- how each is measured --------------------------------------------------------------------------------------------


def worst(values: list[float], due: float) -> float:
    """The value furthest from what is due."""
    return max(values, key=lambda v: abs(v - due))


def side(due: float) -> Measure:
    return lambda paper: worst(edges(paper.cut()), due)


def edge(n: int) -> Measure:
    """The length of an edge, counted from the lowest one."""
    return lambda paper: edges(paper.cut())[n]


def line(before: float, after: float, inner: bool) -> Measure:
    """Where the line's outside lies, or how thick it is: the worst of all places where both its sides are seen."""

    def measure(paper: Paper) -> float:
        found = []
        for e in range(4):
            for part in (0.3, 0.41, 0.5, 0.62):
                changes = [c for c in inward(paper, e, part) if before < c < after]
                if len(changes) == 2:
                    found.append(changes)
        if len(found) < 4:
            raise ValueError("the line was seen in fewer than four places")
        thick = [b - a for a, b in found]
        return worst(thick, 2.0) if inner else worst([a for a, _ in found], 5.0)

    return measure


def class_figure(text: str) -> Measure:
    def measure(paper: Paper) -> float:
        low, high = min((b[1], b[3]) for p in of_the_mark(paper) if p.text == text for b in [p.box])
        return high - low

    return measure


def runs(paper: Paper, a: XY, b: XY, colour: str = BLACK) -> list[tuple[float, float]]:
    return [(start, end) for start, end, seen in paper.along(a, b) if seen == colour]


def division(stroke: bool) -> Measure:
    def measure(paper: Paper) -> float:
        x, y = middle(paper)
        tall = [p for p in paper.paints if 25 < p.box[3] - p.box[1] < 40 and p.box[1] > y and p.colour == BLACK]
        low, high = min(p.box[1] for p in tall), max(p.box[3] for p in tall)
        first = runs(paper, (x - 40, low + 9), (x + 40, low + 9))[0]
        return first[1] - first[0] if stroke else high - low

    return measure


def stripes(up: float, colour: str, reach: float, what: str) -> Measure:
    """count: how many; spread: the widest stripe or gap less the narrowest."""

    def measure(paper: Paper) -> float:
        x, y = middle(paper)
        found = runs(paper, (x - reach, y + up), (x + reach, y + up), colour)
        if what == "count":
            return len(found)
        whole = found[1:-1]  # a label's edge may cut the outer ones
        widths = [b - a for a, b in whole] + [b[0] - a[1] for a, b in pairwise(found)][1:-1]
        return max(widths) - min(widths)

    return measure


def trefoil(what: str) -> Measure:
    def measure(paper: Paper) -> float:
        x, y = middle(paper)
        (blade_from, blade_to), (disc_from, disc_to) = runs(paper, (x, y + 1), (x, y + 52))[:2]
        radius, centre = (disc_to - disc_from) / 2, (disc_from + disc_to) / 2
        if what == "angle":
            return blade_angle(paper, (x, y + 1 + centre), 3 * radius)
        return {"disc": radius, "inner": centre - blade_to, "outer": centre - blade_from}[what]

    return measure


def blade_angle(paper: Paper, centre: XY, reach: float) -> float:
    """How wide the lower blade is, in degrees: from straight down to either side until the black ends."""
    total = 0.0
    for way in (-1, 1):
        black, white = 0.0, 59.0
        while white - black > 1e-3:
            at = (black + white) / 2
            a = math.radians(270 + way * at)
            seen = paper.colour_at(centre[0] + reach * math.cos(a), centre[1] + reach * math.sin(a))
            black, white = (at, white) if seen == BLACK else (black, at)
        total += black
    return total


def reds(paper: Paper) -> float:
    return len([p for p in of_the_mark(paper) if p.colour == RED])


def corner_above(paper: Paper) -> float:
    x, y = middle(paper)
    return runs(paper, (x, y), (x, y + 30))[0][0]


def hatching(paper: Paper) -> float:
    """How deep the red reaches from the edge."""
    x0, y0 = paper.cut()[0]
    long, high = edges(paper.cut())[:2]
    points = [(x - x0, y - y0) for p in of_the_mark(paper) if p.colour == RED for ring in p.rings for x, y in ring]
    return max(min(x, y, long - x, high - y) for x, y in points)


def bleed(paper: Paper) -> float:
    return worst([-inward(paper, e, 0.3)[0] for e in range(4)], 3.0)


def arrows(paper: Paper) -> float:
    """Upright shafts at half height, border left out."""
    (x, y), high = paper.cut()[0], edges(paper.cut())[1]
    found = runs(paper, (x, y + 0.45 * high), (x + edges(paper.cut())[0], y + 0.45 * high))
    return len([1 for a, b in found if b - a > 4])


def border(paper: Paper) -> float:
    """The thickness of a line along the edge."""
    return worst([inward(paper, e, 0.5)[1] - inward(paper, e, 0.5)[0] for e in range(4)], 2.0)


def diamond_in(paper: Paper, what: str) -> float:
    """A square on its point within a rectangle that is cut: its side, or its line at the middle of an edge."""
    x0, y0 = paper.cut()[0]
    high = edges(paper.cut())[1]
    (left, right) = runs(paper, (x0 - 1, y0 + high / 2), (x0 + 80, y0 + high / 2))[0][0], high
    if what == "side":
        tip = runs(paper, (x0 + left - 1 + right / 2, y0 - 1), (x0 + left - 1 + right / 2, y0 + high + 1))
        return (tip[-1][1] - tip[0][0]) / math.sqrt(2)
    q = high / 4
    a, b = (x0 + q - 3, y0 + 3 * q + 3), (x0 + q + 5, y0 + 3 * q - 5)
    start, end = runs(paper, a, b)[0]
    return end - start


# --- the table -------------------------------------------------------------------------------------------------------


def table() -> Iterator[Figure]:
    for variant in LABELS:
        name = f"hazard-label {variant}"
        yield exactly(name, "side", "49 CFR 172.407(c)(1)", 100, side(100))
        if variant != "4.1":  # its stripes change colour with the line; measured in test_real_size
            law = "49 CFR 172.407(c)(1)"
            yield exactly(name, "edge to line", law, 5, line(4, 8, False))
            yield Figure(name, "line", law, 2, 2, line(4, 8, True))
        text = variant if variant in ("5.1", "5.2") else variant[0]
        yield Figure(name, "class figure", "49 CFR 172.407(c)(3)", 6.3, 12.7, class_figure(text))
    for variant in ("1.4S", "1.5D", "1.6N"):
        name = f"hazard-label {variant}"
        yield Figure(name, "division's height", "49 CFR 172.411(d) (m)", 30, 31, division(False))
        yield exactly(name, "division's stroke", "49 CFR 172.411(d) (m)", 5, division(True))
    yield exactly("hazard-label 4.1", "red stripes", "UN MR 5.2.2.2.2 (m)", 7, stripes(-1, RED, 80, "count"))
    yield exactly("hazard-label 4.1", "stripes' spread", "49 CFR 172.420(b)", 0, stripes(-1, RED, 80, "spread"))
    for variant in ("9", "9A"):
        name = f"hazard-label {variant}"
        yield exactly(name, "black stripes", "49 CFR 172.446(b)", 7, stripes(6, BLACK, 54, "count"))
        yield exactly(name, "stripes' spread", "49 CFR 172.446(b)", 0, stripes(6, BLACK, 54, "spread"))
    for variant, bars in (("7-I", 1), ("7-II", 2), ("7-III", 3)):
        name, law = f"hazard-label {variant}", "49 CFR 172 App. B (m)"
        yield Figure(name, "trefoil's disc, radius", law, 4, 4, trefoil("disc"))
        yield exactly(name, "blades from 1.5 radii", law, 6, trefoil("inner"))
        yield exactly(name, "blades to 5 radii", law, 20, trefoil("outer"))
        yield exactly(name, "blade's angle", law, 60, trefoil("angle"))
        yield exactly(name, "red bars", "49 CFR 172.436 to 172.440", bars, reds)
    for variant in ("2.3-inhalation", "6.1-inhalation"):
        name = f"hazard-label {variant}"
        yield exactly(name, "corner above the middle", "49 CFR 172.416(b), 172.429(b) (m)", 14, corner_above)
    for variant in ("1.1D", "2.1", "2.2", "3", "4.3", "5.1", "5.2"):
        yield exactly(f"hazard-label {variant}", "bleed", "common practice", 3, bleed)
    for name, wide, high, law in (
        ("cargo-aircraft-only", 120, 110, "49 CFR 172.407(c)(2)"),
        ("excepted-quantity", 100, 100, "49 CFR 173.4a(g)(2)"),
        ("battery", 100, 100, "49 CFR 173.185(c)(3)(i)"),
        ("keep-away-from-heat", 74, 105, "49 CFR 172.317 (m)"),
        ("cryogenic-liquid", 75, 105, "ICAO TI 5;3.5 (m)"),
        ("magnetized-material", 110, 90, "ICAO TI 5;3.5 (m)"),
    ):
        yield exactly(name, "width", law, wide, edge(0))
        yield exactly(name, "height", law, high, edge(1))
    for name, law in (
        ("limited-quantity", "49 CFR 172.315(a)(2)"),
        ("limited-quantity-air", "49 CFR 172.315(b)(2)"),
        ("environmentally-hazardous", "49 CFR 172.322(e)(2)"),
    ):
        yield exactly(name, "side", law, 100, side(100))
        yield exactly(name, "line", law, 2, border)
    for name in ("limited-quantity", "limited-quantity-air"):
        yield exactly(name, "least side", "49 CFR 172.315", 50, side(50), 5)
        yield exactly(name, "least line", "49 CFR 172.315", 1, border, 5)
    yield exactly("battery", "hatching", "49 CFR 173.185(c)(3)(i)", 5, hatching)
    yield exactly("battery", "least height", "49 CFR 173.185(c)(3)(i)", 70, edge(1), 1)
    yield exactly("battery", "least form's hatching", "49 CFR 173.185(c)(3)(i)", 5, hatching, 1)
    law = "UN MR 4.1.4.1 P650 (m)"
    yield exactly("biological-substance", "side", law, 50, lambda paper: diamond_in(paper, "side"))
    yield exactly("biological-substance", "line", law, 2, lambda paper: diamond_in(paper, "line"))
    yield Figure("biological-substance", "letters", law, 6, 9, lettering)
    yield Figure("cargo-aircraft-only", "letters", "49 CFR 172.407(c)(2)", 6.3, 10, lettering)
    yield exactly("orientation-arrows", "arrows", "49 CFR 172.312(a)(2)", 2, arrows)
    for name, height, law in (
        ("un-number", "12", "49 CFR 172.301(a)(1)"),
        ("un-number", "6", "49 CFR 172.301(a)(1)"),
        ("overpack", "12", "49 CFR 173.25(a)(4)"),
        ("salvage", "12", "49 CFR 173.3(c)(3)"),
        ("package-type", "13", "49 CFR 172.310(b)"),
    ):
        asked = (("lettering", height),)
        yield Figure(name, f"letters of {height}", law, float(height), 1.4 * float(height), lettering, 0, asked)
        yield Figure(name, f"least letters of {height}", law, float(height), 1.05 * float(height), lettering, -1, asked)


def rows() -> Iterator[str]:
    for one in table():
        svg, pdf = one.measured("svg"), one.measured("pdf")
        due = f"{one.least:g}" if one.least == one.most else f"{one.least:g} to {one.most:g}"
        good = "" if one.holds(svg) and one.holds(pdf) else "  OFF"
        yield f"{one.mark:32} {one.what:24} {due:>12} {svg:9.3f} {pdf:9.3f}  {one.law}{good}"


if __name__ == "__main__":
    print(f"{'mark':32} {'what':24} {'law':>12} {'SVG':>9} {'PDF':>9}  paragraph; (m): from memory")
    found = []
    for row in rows():
        print(row)
        found.append(row)
    print(f"{len(found)} figures, each from two files; {sum(row.endswith('OFF') for row in found)} off")
