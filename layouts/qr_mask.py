"""Which of its eight masks a QR code takes: that with the fewest penalty points of ISO/IEC 18004, 7.8.3."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from layouts.qr_frame import APART, Frame, number

#: Whether a mask turns the module of row i and column j over (table 10).
_MASKS: tuple[Callable[[int, int], bool], ...] = (
    lambda i, j: (i + j) % 2 == 0,
    lambda i, j: i % 2 == 0,
    lambda i, j: j % 3 == 0,
    lambda i, j: (i + j) % 3 == 0,
    lambda i, j: (i // 2 + j // 3) % 2 == 0,
    lambda i, j: (i * j) % 2 + (i * j) % 3 == 0,
    lambda i, j: ((i * j) % 2 + (i * j) % 3) % 2 == 0,
    lambda i, j: ((i * j) % 3 + (i + j) % 2) % 2 == 0,
)
_LIKE_A_FINDER = ("10111010000", "00001011101")


def best_mask(of: Frame, laid_out: tuple[int, int]) -> tuple[int, int]:
    """The mask, 0 to 7, that costs least, of equals the first, and the code under it, row by row. laid_out: the code without
    mask and format, as of ``Frame.laid_out``."""
    n, best = of.n, (-1, 0, 0)
    for mask, (rows, columns) in enumerate(zip(masks(n, False), masks(n, True), strict=True)):
        across, down = laid_out[0] ^ (of.free[0] & rows), laid_out[1] ^ (of.free[1] & columns)
        cost = _along(across, n) + _along(down, n) + _blocks(across, n) + _balance(across, n)
        if mask == 0 or cost < best[0]:
            best = cost, mask, across
    return best[1:]


@lru_cache(maxsize=64)
def masks(n: int, turned: bool) -> tuple[int, ...]:
    """Every mask over all modules; turned: column by column. All repeat themselves after twelve modules either way."""
    twelve, times = range(12), n // 12 + 1
    tiles = [
        ["".join("1" if (mask(j, i) if turned else mask(i, j)) else "0" for j in twelve) for i in twelve]
        for mask in _MASKS
    ]
    return tuple(number((tile[i % 12] * times)[:n] for i in range(n)) for tile in tiles)


@lru_cache(maxsize=256)
def _within(n: int, columns: int, rows: int) -> int:
    """The bits of the first so many columns and rows."""
    return number(["1" * columns + "0" * (n - columns)] * rows)


def _along(bits: int, n: int) -> int:
    """Runs of one colour of five modules (3 points) and more (1 for each further); what looks like a finder pattern, 40."""
    same = ~(bits ^ bits >> 1) & _within(n, n - 1, n)
    five = same & same >> 1 & same >> 2 & same >> 3
    runs = five & ~(five << 1)
    light = ~bits
    alike = 0
    for pattern in _LIKE_A_FINDER:
        found = _within(n, n - 10, n)
        for k, dark in enumerate(pattern):
            found &= (bits if dark == "1" else light) >> k
        alike += found.bit_count()
    return five.bit_count() + 2 * runs.bit_count() + 40 * alike


def _blocks(bits: int, n: int) -> int:
    """Squares of two by two modules of one colour, 3 points each."""
    down = n + APART
    beside = ~(bits ^ bits >> 1)
    return 3 * (beside & beside >> down & ~(bits ^ bits >> down) & _within(n, n - 1, n - 1)).bit_count()


def _balance(bits: int, n: int) -> int:
    """10 points for every five per cent that the dark modules are away from half."""
    return 10 * int(abs(bits.bit_count() / (n * n) * 100 - 50) / 5)
