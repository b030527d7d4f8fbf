"""A package: a box with its flaps closed and taped.

Grid: 76 wide, 46 high, axis x = 0. Corners 2.
"""

from __future__ import annotations

from layouts.artwork.symbols.outline import Symbol
from layouts.artwork.symbols.rounding import softened
from layouts.artwork.symbols.solid import box, plate


def heated_package() -> Symbol:
    body = plate(-38, 0, 38, 46, 2)
    seam = box(-40, 33, 40, 36)
    tape = (box(-9.5, 19, -6.5, 50) | box(6.5, 19, 9.5, 50)) | box(-9.5, 19, 9.5, 22)
    return Symbol.of("package", softened(body - seam - tape, 0.8))
