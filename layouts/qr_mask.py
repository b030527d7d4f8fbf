"""Which of its eight masks a QR code takes: that with the fewest penalty points of ISO/IEC 18004, 7.8.3.

The library's own search lays the data out anew for each mask and counts module by module, which is most of the time a code
takes. Here all modules are one number, a bit each, so that a mask is laid on, and a feature counted everywhere, in a few steps.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache

Rows = Sequence[Sequence[bool | None]]
#: Bits from one row to the next that belong to no module: nothing runs on from a row into the following one.
_APART = 11

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


def best_mask(modules: Rows, data: Rows) -> int:
    """The mask, 0 to 7, that costs least; of equals the first. modules: the code under mask 0; data: which of its modules
    a mask turns over."""
    n = len(modules)
    ways = [
        (_bits(map(_text, modules)), _bits(map(_text, data)), _masks(n, False)),
        (_bits(map(_text, zip(*modules, strict=True))), _bits(map(_text, zip(*data, strict=True))), _masks(n, True)),
    ]
    costs = []
    for mask in range(len(_MASKS)):
        across, down = (bits ^ (free & (masks[0] ^ masks[mask])) for bits, free, masks in ways)
        costs.append(_along(across, n) + _along(down, n) + _blocks(across, n) + _balance(across, n))
    return costs.index(min(costs))


def remasked(modules: Rows, data: Rows, mask: int) -> list[list[bool | None]]:
    """The code under a mask. modules, data: as of ``best_mask``."""
    turns = _turns(len(modules), mask)
    return [
        [(dark != turn) if free else dark for dark, free, turn in zip(*row, strict=True)]
        for row in zip(modules, data, turns, strict=True)
    ]


@lru_cache(maxsize=64)
def _turns(n: int, mask: int) -> tuple[tuple[bool, ...], ...]:
    """Where a mask differs from mask 0."""
    zero, other = _MASKS[0], _MASKS[mask]
    return tuple(tuple(zero(i, j) != other(i, j) for j in range(n)) for i in range(n))


def _text(row: Iterable[bool | None]) -> str:
    return "".join(["1" if dark else "0" for dark in row])


def _bits(rows: Iterable[str]) -> int:
    """All modules as one number: column j of row i is bit i * (n + _APART) + j."""
    blank = "0" * _APART
    return int("".join([row + blank for row in rows])[::-1], 2)


@lru_cache(maxsize=64)
def _masks(n: int, turned: bool) -> tuple[int, ...]:
    """Every mask as such a number; turned: columns for rows. All repeat themselves after twelve modules either way."""
    twelve, times = range(12), n // 12 + 1
    tiles = [[_text((mask(j, i) if turned else mask(i, j)) for j in twelve) for i in twelve] for mask in _MASKS]
    return tuple(_bits([(tile[i % 12] * times)[:n] for i in range(n)]) for tile in tiles)


@lru_cache(maxsize=256)
def _within(n: int, columns: int, rows: int) -> int:
    """The bits of the first so many columns and rows."""
    return _bits(["1" * columns + "0" * (n - columns)] * rows)


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
    down = n + _APART
    beside = ~(bits ^ bits >> 1)
    return 3 * (beside & beside >> down & ~(bits ^ bits >> down) & _within(n, n - 1, n - 1)).bit_count()


def _balance(bits: int, n: int) -> int:
    """10 points for every five per cent that the dark modules are away from half."""
    return 10 * int(abs(bits.bit_count() / (n * n) * 100 - 50) / 5)
