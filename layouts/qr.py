"""A QR code as one path: plain text, nothing to look up."""

from __future__ import annotations

import hashlib
import re
from functools import lru_cache

from layouts.geometry import Box, Path, Transform, rectangle
from layouts.ink import BLACK, WHITE
from layouts.pen import Pen, group
from layouts.probe import Call, RecordingPen, Stored

#: Clear modules round the symbol (ISO/IEC 18004 asks for four).
QUIET = 4


def matrix(text: str) -> list[str]:
    """The modules, top row first, without the quiet zone, dark ones ``1`` and light ones ``0``; error correction M. ValueError:
    empty, or longer than a code holds (about 2300 bytes)."""
    if not text:
        raise ValueError("a QR code of nothing says nothing")
    from layouts.qr_frame import frame, patterns, rows_of
    from layouts.qr_mask import best_mask
    from layouts.qr_words import version_of, words

    data = text.encode()
    version = version_of(len(data))
    said = words(data, version)
    of = frame(version, len(said))
    mask, code = best_mask(of, of.laid_out(said))
    return rows_of(code | patterns(version, mask), of.n)


def draw_qr(pen: Pen, text: str, box: Box) -> None:
    """The code in a square box (its shorter side counts), quiet zone included; modules side by side are one stroke."""
    side = min(box.width, box.height)
    key, modules, calls = _drawing(text)
    at = Transform.scaled(side / modules).then(Transform.moved(box.x, box.top - side))
    with group(pen, "qr", "QR code: " + text.splitlines()[0]):
        Stored(key, Box(0, 0, modules, modules), calls, at).onto(pen)


@lru_cache(maxsize=64)
def _drawing(text: str) -> tuple[str, int, tuple[Call, ...]]:
    """The code with its quiet zone, a module to the mm: what it is called, how many modules wide, its strokes."""
    rows = matrix(text)
    n = len(rows) + 2 * QUIET
    dark: list[float] = []
    for r, row in enumerate(rows, 1):
        y = n - QUIET - r + 0.5
        for run in re.finditer("1+", row):
            dark += (QUIET + run.start(), y, QUIET + run.end(), y)
    pen = RecordingPen()
    pen.fill(rectangle(Box(0, 0, n, n)), WHITE)
    pen.stroke(Path("ML" * (len(dark) // 4), tuple(dark)), BLACK, 1)
    return f"qr-{hashlib.sha256(text.encode()).hexdigest()[:16]}", n, pen.value
