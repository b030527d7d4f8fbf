"""A QR code as one path: plain text, nothing to look up."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from functools import lru_cache

from layouts.geometry import Box, Path, Point, Segment, Transform, rectangle
from layouts.ink import BLACK, WHITE
from layouts.pen import Pen, group
from layouts.probe import Call, RecordingPen, Stored
from layouts.qr_mask import best_mask, remasked

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
    from qrcode.util import MODE_8BIT_BYTE, BitBuffer, QRData

    class Bytes(QRData):
        """The library's data; bytes are laid down whole, not bit by bit."""

        def write(self, buffer: BitBuffer) -> None:
            if self.mode != MODE_8BIT_BYTE:
                super().write(buffer)
                return
            for byte in self.data:  # what stands before them ends in the middle of a byte: 12 or 20 bits
                buffer.buffer[-1] |= byte >> 4
                buffer.buffer.append(byte << 4 & 0xF0)
            buffer.length += 8 * len(self.data)

    class Code(QRCode):  # type: ignore[type-arg]
        """The library's code, its mask found our way, which is the same mask sooner."""

        def map_data(self, data: Sequence[int], mask_pattern: int) -> None:
            self.free = [[module is None for module in row] for row in self.modules]
            super().map_data(data, mask_pattern)

        def best_mask_pattern(self) -> int:
            self.makeImpl(True, 0)
            return best_mask(self.modules, self.free)

        def makeImpl(self, test: bool, mask_pattern: int) -> None:
            if test:
                super().makeImpl(test, mask_pattern)
                return
            self.modules = remasked(self.modules, self.free, mask_pattern)  # not laid out anew
            self.setup_type_info(test, mask_pattern)
            if self.version >= 7:
                self.setup_type_number(test)

    code = Code(error_correction=ERROR_CORRECT_M, border=0)
    code.add_data(Bytes(text.encode("utf-8")))
    try:
        code.make(fit=True)
    except (DataOverflowError, ValueError) as fault:
        if str(fault) == "glog(0)":  # the library cannot divide what is nothing but zeros, as a text of noughts may be
            raise ValueError("the text cannot be made a QR code: too much of it is noughts") from fault
        raise ValueError(f"{len(text.encode())} bytes are more than one QR code holds") from fault
    return tuple(tuple(map(bool, row)) for row in code.get_matrix())


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
    begin, end = _ends(len(rows))
    dark: list[Segment] = []
    for r, row in enumerate(rows):
        for run in re.finditer(b"\1+", bytes(row)):
            dark += (begin[r][run.start()], end[r][run.end()])
    pen = RecordingPen()
    pen.fill(rectangle(Box(0, 0, n, n)), WHITE)
    pen.stroke(Path(dark), BLACK, 1)
    return f"qr-{hashlib.sha256(text.encode()).hexdigest()[:16]}", n, pen.value


@lru_cache(maxsize=8)
def _ends(modules: int) -> tuple[list[list[Segment]], list[list[Segment]]]:
    """Where a run of dark modules may begin and end, row by row, of all codes of so many modules."""
    high = modules + QUIET
    begin, end = (
        [[Segment(op, (Point(QUIET + x, high - r - 0.5),)) for x in range(modules + 1)] for r in range(modules)]
        for op in "ML"
    )
    return begin, end
