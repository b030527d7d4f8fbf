"""Shared by the tests of artwork: requirements with today's figures of law, and a ruler for recorded drawings.

The ruler flattens recorded paths and scans them with straight lines; it shares nothing with the constructions.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from itertools import pairwise
from typing import NamedTuple

from layouts.artwork.base import Artwork
from layouts.artwork.catalogue import forms
from layouts.geometry import Box, Path, Point
from layouts.probe import Begin, BoundsPen, End, Fill, RecordingPen, Stroke, Text
from marks.requirement import Requirement
from marks.tables import measure_figures

DAY = date(2026, 11, 25)


class Sample(NamedTuple):
    """One mark or label to be shown: its name, variant, and words to fill it with."""

    mark: str
    variant: str | None = None
    words: tuple[str, ...] = ()

    @property
    def caption(self) -> str:
        """``3``, ``limited quantity air``."""
        return self.variant or self.mark.replace("-", " ").replace("un ", "UN ")


_NUCLIDE = ("Ir-192", "370 GBq")

LABELS = (
    Sample("hazard-label", "1.1D"),
    Sample("hazard-label", "1"),
    Sample("hazard-label", "1.4S"),
    Sample("hazard-label", "1.5D"),
    Sample("hazard-label", "1.6N"),
    *(Sample("hazard-label", v) for v in ("2.1", "2.2", "2.3", "3", "4.1", "4.2", "4.3", "5.1", "5.2", "6.1", "6.2")),
    Sample("hazard-label", "7-I", ("Ir-192", "0.4 GBq")),
    Sample("hazard-label", "7-II", (*_NUCLIDE, "0.8")),
    Sample("hazard-label", "7-III", (*_NUCLIDE, "3.2")),
    Sample("hazard-label", "7E", ("12.5",)),
    *(Sample("hazard-label", v) for v in ("8", "9", "9A", "2.3-inhalation", "6.1-inhalation")),
)

MARKS = (
    Sample("limited-quantity"),
    Sample("limited-quantity-air"),
    Sample("environmentally-hazardous"),
    Sample("excepted-quantity", None, ("3", "Nordlys Duft AS")),
    Sample("battery", None, ("UN 3480",)),
    Sample("biological-substance", None, ("UN 3373", "BIOLOGICAL SUBSTANCE, CATEGORY B")),
    Sample("orientation-arrows"),
    Sample("cargo-aircraft-only"),
    Sample("keep-away-from-heat"),
    Sample("cryogenic-liquid"),
    Sample("magnetized-material"),
)

TEXTS = (
    Sample("un-number", None, ("UN 1266",)),
    Sample("proper-shipping-name", None, ("PERFUMERY PRODUCTS",)),
    Sample("shipper", None, ("Nordlys Duft AS", "Bryggegata 4", "5003 Bergen", "Norway")),
    Sample("consignee", None, ("Atelier Marée", "12 quai du Port", "29200 Brest", "France")),
    Sample("net-quantity", None, ("Net quantity 4 L",)),
    Sample("gross-mass", None, ("Gross mass 11.6 kg",)),
    Sample("cooling-agent", None, ("UN 1845 DRY ICE", "AS COOLANT", "Net mass 6 kg")),
    Sample("salvage", None, ("SALVAGE",)),
    Sample("overpack", None, ("OVERPACK",)),
    Sample("responsible-person", None, ("Responsible person", "Ida Solberg, +47 55 00 00 00")),
    Sample("package-type", None, ("TYPE A",)),
    Sample("elevated-temperature", None, ("ELEVATED TEMPERATURE",)),
    Sample("inhalation-hazard", None, ("INHALATION HAZARD",)),
    Sample("poison", None, ("POISON",)),
    Sample("reportable-quantity", None, ("RQ",)),
    Sample("ex-number", None, ("EX-2001120001",)),
    Sample("net-explosive-mass", None, ("Net explosive mass 1.8 kg",)),
    Sample("battery-condition", None, ("DAMAGED/DEFECTIVE LITHIUM ION BATTERIES",)),
)

#: Every label and mark there is artwork for: of class 1 one of each design.
SAMPLES = (*LABELS, *MARKS, *TEXTS)


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


def figure_box(artwork: Artwork) -> Box:
    """The black (or white) of the bottom figure."""
    (text,) = [c for c in group_of(artwork, "figure") if isinstance(c, Text)]
    pen = BoundsPen()
    text.onto(pen)
    return pen.box
