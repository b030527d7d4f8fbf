"""The symbols: mirrored where they should be, no sliver, told from each other when small; and their geometry."""

from __future__ import annotations

import io
import math
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from layouts.artwork.catalogue import forms
from layouts.artwork.symbols import NAMES, symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import Solid, band, box, disc, plate, polygon, rod, rounded
from layouts.geometry import Box, Path, rectangle
from layouts.ink import BLACK, WHITE
from layouts.svg import SvgPen
from tests.layouts.drawn import LABELS, MARKS, Sample, fills, group_of, requirement, rings, spans

#: Symbols with an upright axis; of the bomb all but the light on its shell.
MIRRORED = ("aircraft", "arrows", "crescents", "cryogenic", "heat_rays", "packaging", "skull", "trefoil")


@pytest.mark.parametrize("name", MIRRORED)
def test_what_has_an_axis_is_the_same_on_both_sides(name: str) -> None:
    drawn = symbol(name)
    for i in range(1, 60):
        y = drawn.bounds.y + drawn.bounds.height * i / 60.37
        found = spans([drawn.path], y)
        there = [(2 * drawn.axis - b, 2 * drawn.axis - a) for a, b in reversed(found)]
        assert [v for s in found for v in s] == pytest.approx([v for s in there for v in s], abs=0.01), y


def test_the_crescents_are_the_same_after_a_third_of_a_turn() -> None:
    path = symbol("crescents").path
    points = {(round(math.hypot(p.x, p.y), 2)) for ring in rings(path) for p in ring}
    assert len(rings(path)) == 6  # three horns, three pieces of the circle
    for k in (1, 2):
        a = math.radians(120 * k)
        for degrees in range(5, 120, 17):
            for r in (6, 14, 22, 30):
                x, y = r * math.cos(math.radians(degrees)), r * math.sin(math.radians(degrees))
                u, v = x * math.cos(a) - y * math.sin(a), x * math.sin(a) + y * math.cos(a)
                assert covers(path, x, y) == covers(path, u, v)
    assert points


def covers(path: Path, x: float, y: float) -> bool:
    return any(a < x < b for a, b in spans([path], y))


def test_an_unknown_symbol_is_refused() -> None:
    with pytest.raises(KeyError):
        symbol("unicorn")


# --- by raster -------------------------------------------------------------------------------------------------------


def raster(paths: list[Path], window: Box, per_mm: float) -> np.ndarray:
    """Where there is ink (True), rendered by a foreign renderer."""
    resvg_py = pytest.importorskip("resvg_py")
    image = pytest.importorskip("PIL.Image")
    from layouts.geometry import Transform

    pen = SvgPen(window.width, window.height)
    pen.fill(rectangle(Box(0, 0, window.width, window.height)), WHITE)
    for path in paths:
        pen.fill(path.transformed(Transform.moved(-window.x, -window.y)), BLACK)
    png = resvg_py.svg_to_bytes(svg_string=pen.tostring(), dpi=25.4 * per_mm, skip_system_fonts=True)
    return np.asarray(image.open(io.BytesIO(bytes(png))).convert("L")) < 128


def opened(ink: np.ndarray, radius: float) -> np.ndarray:
    """What is left of a shape when only a disc of that radius (pixels) may draw it."""
    n = math.floor(radius)
    offsets = [(i, j) for i in range(-n, n + 1) for j in range(-n, n + 1) if i * i + j * j <= radius * radius]

    def moved(a: np.ndarray, grow: bool) -> np.ndarray:
        out = np.full_like(a, not grow)
        for i, j in offsets:
            shifted = np.roll(a, (i, j), (0, 1))
            out = out | shifted if grow else out & shifted
        return out

    return moved(moved(ink, False), True)


SIGNED = [
    s for s in LABELS if s.variant not in ("1", "1.5D", "1.6N", "3", "4.1", "4.2", "4.3", "5.2", "2.3", "7-II", "9")
]


@pytest.mark.parametrize("sample", [*SIGNED, *MARKS], ids=lambda s: s.caption)
def test_no_part_or_gap_of_a_symbol_is_under_0_4_mm(sample: Sample) -> None:
    """Common practice in print, no source: nothing is thinner on a full-size label, so nothing fills in or breaks."""
    made = forms(requirement(sample))[0]
    names = {
        "hazard-label": ("symbol",),
        "environmentally-hazardous": ("fish-and-tree",),
        "excepted-quantity": ("sign",),
        "battery": ("battery-group",),
        "orientation-arrows": ("arrows",),
        "cargo-aircraft-only": ("aircraft",),
        "keep-away-from-heat": ("rays", "package"),
        "cryogenic-liquid": ("receptacle",),
        "magnetized-material": ("magnet",),
    }.get(sample.mark, ())
    if sample.variant == "6.1-inhalation":
        return  # white on black: measured in 6.1 already, at a larger scale; here the gaps between teeth are 0.5 mm
    if sample.variant == "9A":
        names = ("battery-group",)  # its stripes, and those of 9, run to a point in the line on purpose
    for name in names:
        paths = fills(group_of(made, name))
        if not paths:
            continue
        per_mm = 20.0
        for ink in (raster(paths, Box(0, 0, made.width, made.height), per_mm),):
            for part in (ink, ~ink):
                lost = part & ~opened(part, 0.38 / 2 * per_mm)
                # Corners lose a little; a sliver loses a run of pixels together.
                thick = opened(lost, 1.5)
                assert thick.sum() / per_mm**2 < 0.1, (name, thick.sum() / per_mm**2)


def test_each_symbol_is_told_from_the_others_at_10_mm() -> None:
    """Nearest template: drawn 10 mm wide at 254 dpi, slightly turned, it is still nearest to itself."""
    names = [n for n in NAMES if n != "division_figures"]
    window = Box(0, 0, 12, 12)

    def drawn(name: str, turn: float) -> np.ndarray:
        from layouts.geometry import Transform

        fit = symbol(name).fitted(Box(1, 1, 10, 10), rise=0.5)
        by = Transform.moved(-6, -6).then(Transform.turned(turn)).then(Transform.moved(6.1, 5.9))
        return raster([fit.transformed(by)], window, 10).astype(float)

    templates = {n: drawn(n, 0) for n in names}
    for name in names:
        seen = drawn(name, 4)
        nearest = min(names, key=lambda n: float(np.abs(templates[n] - seen).mean()))
        assert nearest == name


def test_every_two_labels_differ_in_symbol_colour_or_figure() -> None:
    """By raster, 2 pixels a mm: at least 20 mm² look different. A figure alone is so much (2.3 and 6.1).

    The designs and their kin: UN Model Regulations 5.2.2.2.2, from memory.
    """
    resvg_py, image = pytest.importorskip("resvg_py"), pytest.importorskip("PIL.Image")
    seen = {}
    for sample in LABELS:
        made = forms(requirement(sample))[0]
        pen = SvgPen(142, 142)
        made.draw(pen)
        png = resvg_py.svg_to_bytes(svg_string=pen.tostring(), dpi=50.8, background="white", skip_system_fonts=True)
        seen[sample.variant] = np.asarray(image.open(io.BytesIO(bytes(png))).convert("RGB")).astype(int)
    for (one, a), (other, b) in combinations(seen.items(), 2):
        differing = (np.abs(a - b).max(axis=2) > 64).sum() / 4
        assert differing >= 20, (one, other, differing)


# --- the algebra of solids -------------------------------------------------------------------------------------------


def area(shape: Solid) -> float:
    """By the shoelace formula over fine chords."""
    total = 0.0
    for ring in rings(shape.path(), 96):
        total += sum(a.x * b.y - b.x * a.y for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)) / 2
    return total


def test_areas_known_from_geometry_books() -> None:
    # Euclid's plane geometry: circle, lens of two circles, stadium, rounded rectangle.
    assert area(disc(3, 4, 5)) == pytest.approx(25 * math.pi, rel=1e-3)
    d, r = 6.0, 5.0
    lens = 2 * r * r * math.acos(d / (2 * r)) - d / 2 * math.sqrt(4 * r * r - d * d)
    assert area(disc(0, 0, r) & disc(d, 0, r)) == pytest.approx(lens, rel=1e-3)
    assert area(disc(0, 0, r) | disc(d, 0, r)) == pytest.approx(2 * math.pi * r * r - lens, rel=1e-3)
    assert area(disc(0, 0, r) - disc(d, 0, r)) == pytest.approx(math.pi * r * r - lens, rel=1e-3)
    assert area(rod(0, 0, 10, 0, 4)) == pytest.approx(40 + 4 * math.pi, rel=1e-3)
    assert area(plate(0, 0, 10, 6, 2)) == pytest.approx(60 - (4 - math.pi) * 4, rel=1e-3)
    assert area(band(0, 0, 10, 2, 0, 90)) == pytest.approx(math.pi * 10 + math.pi, rel=1e-3)


@given(st.floats(-8, 8), st.floats(-8, 8), st.floats(2, 7), st.floats(1, 9), st.floats(1, 9), st.sampled_from("|&-"))
def test_joined_common_and_left_parts_add_up(x: float, y: float, r: float, w: float, h: float, op: str) -> None:
    one, two = disc(x, y, r), box(-w, -h, w, h)
    whole, common = area(one | two), area(one & two)
    assert whole + common == pytest.approx(area(one) + area(two), rel=2e-3)
    assert area(one - two) + common == pytest.approx(area(one), rel=2e-3, abs=1e-3)
    made = {"|": one | two, "&": one & two, "-": one - two}[op]
    assert area(made.mirrored()) == pytest.approx(area(made), rel=1e-4)
    assert area(made.moved(3, -2, 33, 2)) == pytest.approx(4 * area(made), rel=1e-4)


def test_shapes_that_share_an_edge_become_one() -> None:
    joined = box(0, 0, 5, 5) | box(5, 0, 10, 5)
    assert area(joined) == pytest.approx(50)
    assert len(rings(joined.path())) == 1
    assert (box(0, 0, 5, 5) - box(0, 0, 5, 5)).edges == ()


def test_softened_corners_touch_both_edges_with_the_radius_given() -> None:
    square = softened(polygon((0, 0), (10, 0), (10, 10), (0, 10)), 2)
    assert area(square) == pytest.approx(100 - (4 - math.pi) * 4, rel=1e-3)
    assert area(square) == pytest.approx(area(rounded([(0, 0), (10, 0), (10, 10), (0, 10)], 2)), rel=1e-5)
    for e, f in zip(square.edges, (*square.edges[1:], square.edges[0]), strict=True):
        assert e.left(1.0) == pytest.approx(f.left(0.0), abs=1e-9)
    # An L: five corners outward, one inward, which gains what a rounded corner of its radius loses.
    ell = softened(polygon((0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)), 0, 2)
    assert area(ell) == pytest.approx(64 + (4 - math.pi), rel=1e-3)


def test_corners_too_close_for_the_radius_get_a_smaller_one() -> None:
    thin = softened(polygon((0, 0), (10, 0), (10, 1), (0, 1)), 3)
    assert 9 < area(thin) < 10


@pytest.mark.parametrize("name", NAMES)
def test_no_border_breaks_off_and_no_ring_is_degenerate(name: str) -> None:
    for ring in rings(symbol(name).path):
        assert len(ring) >= 3
        total = sum(a.x * b.y - b.x * a.y for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)) / 2
        assert abs(total) > 0.5 or name == "trefoil", total
