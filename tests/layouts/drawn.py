"""Shared by the tests of artwork: requirements with today's figures of law, and a ruler for recorded drawings.

The ruler flattens recorded paths and scans them with straight lines; it shares nothing with the constructions.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from itertools import pairwise

from layouts.artwork.base import Artwork
from layouts.artwork.catalogue import forms
from layouts.artwork.contact import Sample
from layouts.geometry import Path, Point
from layouts.probe import Begin, End, Fill, RecordingPen, Stroke, Text
from marks.requirement import Requirement
from marks.tables import measure_figures

DAY = date(2026, 11, 25)


def requirement(sample: Sample, **measures: str) -> Requirement:
    """A requirement as a rule would make it, with the figures of law of that day, or others given."""
    try:
        held = {name: figure.value for name, figure in measure_figures(sample.mark, sample.variant, DAY).items()}
    except KeyError:
        held = {}
    figures = held | {name: Decimal(value) for name, value in measures.items()}
    return Requirement(sample.mark, "shown", ("test",), sample.variant, sample.words, measures=figures)


def label(variant: str, words: tuple[str, ...] = (), **measures: str) -> Artwork:
    """The preferred form of a hazard label."""
    return forms(requirement(Sample("hazard-label", variant, words), **measures))[0]


def recorded(artwork: Artwork) -> RecordingPen:
    pen = RecordingPen()
    artwork.draw(pen)
    return pen


def group_of(artwork: Artwork, ident: str) -> list[Fill | Stroke | Text]:
    """What is drawn inside the group of that name, in order."""
    inside, depth, out = 0, 0, []
    for call in recorded(artwork).calls:
        if isinstance(call, Begin):
            depth += 1
            inside = inside or (depth if call.ident == ident else 0)
        elif isinstance(call, End):
            inside = 0 if depth == inside else inside
            depth -= 1
        elif inside:
            out.append(call)
    return out


def rings(path: Path, steps: int = 24) -> list[list[Point]]:
    """A path's sub-paths as corner points, curves by chords."""
    out: list[list[Point]] = []
    for op, points in path:
        if op == "M":
            out.append([points[0]])
        elif op == "L":
            out[-1].append(points[0])
        elif op == "C":
            p = [out[-1][-1], *points]
            for i in range(1, steps + 1):
                t, u = i / steps, 1 - i / steps
                w = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
                out[-1].append(
                    Point(
                        sum(a * q.x for a, q in zip(w, p, strict=True)), sum(a * q.y for a, q in zip(w, p, strict=True))
                    )
                )
    return out


def spans(paths: Iterable[Path], y: float, upright: bool = False) -> list[tuple[float, float]]:
    """Where a level (or upright) line runs inside the paths, filled by the non-zero rule, from left to right."""
    crossings: list[tuple[float, int]] = []
    for path in paths:
        for ring in rings(path):
            for a, b in pairwise([*ring, ring[0]]):
                if upright:
                    a, b = Point(a.y, a.x), Point(b.y, b.x)
                if (a.y <= y) != (b.y <= y):
                    crossings.append((a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x), 1 if b.y > a.y else -1))
    out: list[tuple[float, float]] = []
    winding, start = 0, 0.0
    for x, turn in sorted(crossings):
        if winding == 0:
            start = x
        winding += turn
        if winding == 0:
            if out and start - out[-1][1] < 1e-6:
                out[-1] = (out[-1][0], x)
            elif x - start > 1e-6:
                out.append((start, x))
    return out


def fills(calls: Iterable[Fill | Stroke | Text]) -> list[Path]:
    return [c.path for c in calls if isinstance(c, Fill)]


def from_centre(p: Point, artwork: Artwork) -> float:
    """Distance from the centre as squares on their point count it, along the normal of an edge, mm."""
    return (abs(p.x - artwork.width / 2) + abs(p.y - artwork.height / 2)) / math.sqrt(2)
