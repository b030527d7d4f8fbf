"""A QR code as one path: plain text, nothing to look up."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from layouts.geometry import Box, lines, rectangle
from layouts.ink import BLACK, WHITE
from layouts.pen import Pen, group
from layouts.qr_mask import best_mask

#: Clear modules round the symbol (ISO/IEC 18004 asks for four).
QUIET = 4


@lru_cache(maxsize=64)
def matrix(text: str) -> tuple[tuple[bool, ...], ...]:
    """The modules, top row first, without the quiet zone; error correction M. ValueError: empty, or longer than a code
    holds (about 2300 bytes)."""
    if not text:
        raise ValueError("a QR code of nothing says nothing")
    from qrcode.constants import ERROR_CORRECT_M
    from qrcode.exceptions import DataOverflowError
    from qrcode.main import QRCode

    class Code(QRCode):  # type: ignore[type-arg]
        """The library's code, its mask found our way, which is the same mask sooner."""

        def map_data(self, data: Sequence[int], mask_pattern: int) -> None:
            self.free = [[module is None for module in row] for row in self.modules]
            super().map_data(data, mask_pattern)

        def best_mask_pattern(self) -> int:
            self.makeImpl(True, 0)
            return best_mask(self.modules, self.free)

    code = Code(error_correction=ERROR_CORRECT_M, border=0)
    code.add_data(text.encode("utf-8"), optimize=0)
    try:
        code.make(fit=True)
    except (DataOverflowError, ValueError) as fault:
        if str(fault) == "glog(0)":  # the library cannot divide what is nothing but zeros, as a text of noughts may be
            raise ValueError("the text cannot be made a QR code: too much of it is noughts") from fault
        raise ValueError(f"{len(text.encode())} bytes are more than one QR code holds") from fault
    return tuple(tuple(map(bool, row)) for row in code.get_matrix())


def draw_qr(pen: Pen, text: str, box: Box) -> None:
    """The code in a square box (its shorter side counts), quiet zone included; modules side by side are one stroke."""
    n, dark = _dark(text)
    side = min(box.width, box.height)
    module = side / (n + 2 * QUIET)
    x0, y1 = box.x + QUIET * module, box.top - QUIET * module
    runs = [
        ((x0 + start * module, y), (x0 + end * module, y))
        for r, spans in enumerate(dark)
        for y in (y1 - (r + 0.5) * module,)
        for start, end in spans
    ]
    with group(pen, "qr", "QR code: " + text.splitlines()[0]):
        pen.fill(rectangle(Box(box.x, box.top - side, side, side)), WHITE)
        pen.stroke(lines(runs), BLACK, module)


@lru_cache(maxsize=64)
def _dark(text: str) -> tuple[int, tuple[tuple[tuple[int, int], ...], ...]]:
    """How many modules a row has; of each row, where dark modules lie side by side: the first, and the one after the last."""
    rows = matrix(text)
    return len(rows), tuple(tuple(run.span() for run in re.finditer(b"\1+", bytes(row))) for row in rows)
