"""The inks against the central colours of 49 CFR Part 172 Appendix A, Table 1; figures made by ``measure_inks``.

The law judges by eye within charts of tolerance, whose corners are not held here; the five steps of hue allowed below are
ours. A screen and four process inks cannot reach the full chroma of orange, green and blue: hue and lightness are kept and
the difference in chroma is stated in the table.
"""

from __future__ import annotations

import math
import tomllib

import pytest

from layouts.ink import INKS, RED
from tests.published.measure_inks import CENTRES, FILE, hue_steps

HELD = tomllib.loads(FILE.read_text("utf-8"))
LINES = [(ink, way) for ink in CENTRES for way in ("srgb", "cmyk")]
#: White points of the 1931 observer: D65 (IEC 61966-2-1, sRGB), C (CIE 15).
D65, C = (0.3127, 0.3290), (0.31006, 0.31616)
BRADFORD = ((0.8951, 0.2664, -0.1614), (-0.7502, 1.7135, 0.0367), (0.0389, -0.0685, 1.0296))


def xyz_of(x: float, y: float, luminance: float = 1.0) -> tuple[float, float, float]:
    return x / y * luminance, luminance, (1 - x - y) / y * luminance


def lab(xyz: tuple[float, ...]) -> tuple[float, float, float]:
    """CIE L*a*b* under illuminant C (CIE 15)."""
    fx, fy, fz = (
        t ** (1 / 3) if t > (6 / 29) ** 3 else t / 3 / (6 / 29) ** 2 + 4 / 29
        for t in (v / w for v, w in zip(xyz, xyz_of(*C), strict=True))
    )
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def lab_of_srgb(srgb: tuple[int, ...]) -> tuple[float, float, float]:
    """By the standard's own steps (IEC 61966-2-1), then from D65 to C by Bradford."""
    r, g, b = (v / 255 / 12.92 if v <= 10 else ((v / 255 + 0.055) / 1.055) ** 2.4 for v in srgb)
    xyz = (
        0.4124 * r + 0.3576 * g + 0.1805 * b,
        0.2126 * r + 0.7152 * g + 0.0722 * b,
        0.0193 * r + 0.1192 * g + 0.9505 * b,
    )
    cones = [
        [sum(k * v for k, v in zip(row, p, strict=True)) for row in BRADFORD] for p in (xyz, xyz_of(*D65), xyz_of(*C))
    ]
    moved = [seen * c / d for seen, d, c in zip(*cones, strict=True)]
    return lab(_solved(BRADFORD, moved))


def _solved(rows: tuple[tuple[float, ...], ...], right: list[float]) -> tuple[float, ...]:
    """Three equations by Cramer's rule."""

    def det(m: list[list[float]]) -> float:
        (a, b, c), (d, e, f), (g, h, i) = m
        return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)

    whole = [list(row) for row in rows]
    return tuple(
        det([[right[i] if j == k else v for j, v in enumerate(row)] for i, row in enumerate(whole)]) / det(whole)
        for k in range(3)
    )


@pytest.mark.parametrize(("ink", "way"), LINES)
def test_the_table_was_made_from_the_inks_as_they_are(ink: str, way: str) -> None:
    assert HELD[ink][way]["value"] == list(getattr(INKS[ink], way)), "run python -m tests.published.measure_inks"
    assert HELD[ink][way]["centre"] == CENTRES[ink]


@pytest.mark.parametrize(("ink", "way"), LINES)
def test_hues_lie_within_five_steps_of_the_central_colour_and_lightness_near_it(ink: str, way: str) -> None:
    line = HELD[ink][way]
    steps = hue_steps(line["munsell"]) - hue_steps(line["centre"])
    assert line["hue_steps"] == pytest.approx(steps, abs=0.06)
    assert abs(steps) <= 5
    assert abs(line["lightness"]) <= 5  # half a step of Munsell value
    assert line["difference"] <= 5  # CIEDE2000


@pytest.mark.parametrize("ink", CENTRES)
def test_the_library_and_the_standards_own_arithmetic_see_the_same_colour(ink: str) -> None:
    assert lab_of_srgb(INKS[ink].srgb) == pytest.approx(tuple(HELD[ink]["srgb"]["lab"]), abs=0.3)


def test_red_against_the_published_numbers_of_its_central_colour() -> None:
    # 49 CFR Part 172 Appendix A, Table 1, Red, central colour: Y 12.00, x .5959, y .3269 under illuminant C.
    ours, published = lab_of_srgb(RED.srgb), lab(xyz_of(0.5959, 0.3269, 0.12))
    angle = [math.degrees(math.atan2(b, a)) for _, a, b in (ours, published)]
    assert ours[0] == pytest.approx(published[0], abs=3)
    assert angle[0] == pytest.approx(angle[1], abs=3)
    assert math.hypot(*ours[1:]) == pytest.approx(math.hypot(*published[1:]), abs=5)
