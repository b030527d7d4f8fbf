"""The inks held against the central colours of 49 CFR Part 172 Appendix A, Table 1: writes ``inks.toml``, printed as a table.

    pip install colour-science scipy
    python -m tests.published.measure_inks [FOGRA39L.ti3]

The colour library is heavy and only needed here; the test beside it reads the figures written. What an ink's CMYK looks
like in print comes from the measured patches of offset on coated paper, FOGRA39 (ISO 12647-2), the file FOGRA39L.ti3 of
Debian's package icc-profiles-free; without it the lines held are kept.
"""

from __future__ import annotations

import sys
import tomllib
import warnings
from pathlib import Path
from typing import Any

from layouts.ink import INKS

FILE = Path(__file__).with_name("inks.toml")
#: Munsell notations of the central colours. Red: 49 CFR Part 172 Appendix A, Table 1; the others from memory.
CENTRES = {"red": "7.5R 4/14", "orange": "5YR 6/15", "yellow": "5Y 8/12", "green": "7.5G 4/9", "blue": "2.5PB 3.5/10"}
FAMILIES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")


def hue_steps(notation: str) -> float:
    """The hue as a number on Munsell's circle of a hundred steps."""
    hue = notation.split()[0]
    family = hue.lstrip("0123456789.")
    return FAMILIES.index(family) * 10 + float(hue.removesuffix(family))


def measured(patches: Path | None) -> dict[str, dict[str, Any]]:
    """For every ink and way: CIE L*a*b* under illuminant C, Munsell notation and the differences from the centre."""
    warnings.filterwarnings("ignore")
    import colour
    import numpy as np

    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]

    def under_c(xyz: Any, light: str) -> Any:
        to_xyz = colour.xy_to_XYZ
        return colour.adaptation.chromatic_adaptation_VonKries(
            xyz, to_xyz(white[light]), to_xyz(white["C"]), transform="Bradford"
        )

    def line(xyz: Any, notation: str) -> dict[str, Any]:
        centre = colour.xyY_to_XYZ(colour.munsell_colour_to_xyY(notation))
        lab, at = (colour.XYZ_to_Lab(v, white["C"]) for v in (xyz, centre))
        seen = str(colour.xyY_to_munsell_colour(colour.XYZ_to_xyY(xyz)))
        chroma = float(np.hypot(*lab[1:]) - np.hypot(*at[1:]))
        return {
            "lab": [round(float(v), 2) for v in lab],
            "munsell": seen,
            "lightness": round(float(lab[0] - at[0]), 1),
            "chroma": round(chroma, 1),
            "hue_steps": round(hue_steps(seen) - hue_steps(notation), 1),
            "difference": round(float(colour.delta_E(lab, at, method="CIE 2000")), 1),
        }

    out: dict[str, dict[str, Any]] = {}
    press = _press(patches) if patches else None
    for name, notation in CENTRES.items():
        ink = INKS[name]
        screen = under_c(colour.sRGB_to_XYZ(np.array(ink.srgb) / 255), "D65")
        out[f"{name}.srgb"] = {"value": list(ink.srgb), "centre": notation, **line(screen, notation)}
        if press:
            printed = under_c(press(ink.cmyk), "D50")
            out[f"{name}.cmyk"] = {"value": list(ink.cmyk), "centre": notation, **line(printed, notation)}
    return out


def _press(file: Path) -> Any:
    """From CMYK (without black) to XYZ under D50, between the measured patches."""
    import numpy as np
    from scipy.interpolate import RegularGridInterpolator

    steps = [0, 10, 20, 30, 40, 55, 70, 85, 100]
    grid = np.full((9, 9, 9, 3), np.nan)
    for row in (text.split() for text in file.read_text("latin1").splitlines() if text[:1].isdigit()):
        c, m, y, k, *xyz = map(float, row[1:8])
        if k == 0 and {c, m, y} <= set(steps):
            grid[steps.index(int(c)), steps.index(int(m)), steps.index(int(y))] = [v / 100 for v in xyz]
    between = RegularGridInterpolator((steps, steps, steps), np.cbrt(grid))
    return lambda cmyk: between([cmyk[:3]])[0] ** 3


def written(lines: dict[str, dict[str, Any]]) -> str:
    """The file: a table for each ink and way."""
    head = "# Made by python -m tests.published.measure_inks; see there. lightness, chroma, hue_steps: ours less the centre's.\n"
    parts = []
    for name, line in lines.items():
        ink, way = name.split(".")
        parts.append(f"\n[{ink}.{way}]\n" + "".join(f"{k} = {_toml(v)}\n" for k, v in line.items()))
    return head + "".join(parts)


def _toml(value: Any) -> str:
    return f'"{value}"' if isinstance(value, str) else str(value)


def table(held: dict[str, dict[str, dict[str, Any]]]) -> str:
    """The differences as a person reads them."""
    rows = ["ink      way    value                   Munsell centre   seen as           L*     C*    hue  CIEDE2000"]
    for ink, ways in held.items():
        for way, one in ways.items():
            value = " ".join(f"{v:g}" for v in one["value"])
            rows.append(
                f"{ink:8} {way:6} {value:23} {one['centre']:16} {one['munsell']:16} {one['lightness']:+5.1f} "
                f"{one['chroma']:+6.1f} {one['hue_steps']:+5.1f} {one['difference']:6.1f}"
            )
    return "\n".join(rows)


if __name__ == "__main__":
    patches = Path(sys.argv[1]) if len(sys.argv) > 1 else None
    before = tomllib.loads(FILE.read_text("utf-8")) if FILE.exists() else {}
    kept = {f"{ink}.{way}": line for ink, ways in before.items() for way, line in ways.items()}
    FILE.write_text(written(kept | measured(patches)), "utf-8")
    print(table(tomllib.loads(FILE.read_text("utf-8"))))
