"""What a person with a ruler does on a finished page: finds the cut edges, walks inward, measures letters."""

from __future__ import annotations

import math

import pytest

from tests.draw.measure import XY, Paint, Paper

NEAR = 0.05


def near(value: float) -> object:
    return pytest.approx(value, abs=NEAR)


def middle(paper: Paper) -> XY:
    corners = paper.cut()
    return sum(x for x, _ in corners) / len(corners), sum(y for _, y in corners) / len(corners)


def inward(paper: Paper, edge: int, part: float, before: float = 10.0, after: float = 12.0) -> list[float]:
    """Where the colour changes on a line across an edge at ``part`` of its length, mm inside the cut edge."""
    corners = paper.cut()
    p, q = corners[edge], corners[(edge + 1) % len(corners)]
    x, y = p[0] + (q[0] - p[0]) * part, p[1] + (q[1] - p[1]) * part
    ux, uy = (q[0] - p[0]) / math.dist(p, q), (q[1] - p[1]) / math.dist(p, q)
    met = paper.along((x + uy * before, y - ux * before), (x - uy * after, y + ux * after))
    return [start - before for start, _, _ in met[1:]]


def box_under(paper: Paper, title: str) -> tuple[float, float, float, float]:
    """The box of everything drawn in the SVG group of that title."""
    found = [p.box for p in paper.paints if title in p.where]
    assert found, f"no group is called {title}"
    return min(b[0] for b in found), min(b[1] for b in found), max(b[2] for b in found), max(b[3] for b in found)


def letters(rings: list[list[XY]]) -> list[tuple[float, float]]:
    """Bottom and top of every letter: of every ring that is no hole in another."""
    boxes = [(min(x for x, _ in r), min(y for _, y in r), max(x for x, _ in r), max(y for _, y in r)) for r in rings]
    return [
        (b[1], b[3])
        for b in boxes
        if not any(o[0] < b[0] and o[1] < b[1] and o[2] > b[2] and o[3] > b[3] for o in boxes)
    ]


def of_the_mark(paper: Paper) -> list[Paint]:
    """What belongs to the mark itself: in the SVG its group, in the PDF its form."""
    return [p for p in paper.paints if any(", copy 1" in where or "drawing-" in where for where in p.where)]


def lettering(paper: Paper) -> float:
    """The height of the mark's lowest capital or figure."""
    lines = [p for p in of_the_mark(paper) if p.text]
    return min(
        high - low
        for line in lines
        for (low, high), ch in zip(letters(line.rings), line.text.replace(" ", ""), strict=False)
        if ch.isalnum()
    )
