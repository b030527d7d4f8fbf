"""What all QR codes of a version have alike: where their patterns stand, and where each bit of the data goes.

All modules of a code are one number, a bit each, so that a mask is laid on, and a feature counted everywhere, in a few steps.
The patterns and the bits that name version and mask are the library's; where the data goes is ISO/IEC 18004, 7.7.3.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from operator import itemgetter
from typing import NamedTuple

from qrcode.constants import ERROR_CORRECT_M
from qrcode.main import QRCode

#: Bits from one row to the next that belong to no module: nothing runs on from a row into the following one.
APART = 11


class Frame(NamedTuple):
    """The modules row by row and, ``turned``, column by column. n: how many a side has; free: which are data, and so turned
    over by a mask; taken: of the data's bits, a light and a dark one, that which each module takes."""

    n: int
    free: tuple[int, int]
    taken: tuple[Callable[[str], tuple[str, ...]], Callable[[str], tuple[str, ...]]]

    def laid_out(self, words: bytes) -> tuple[int, int]:
        """The code of so many words, without mask and format; row by row, and turned."""
        bits = f"{int.from_bytes(words):0{8 * len(words)}b}01"
        return int("".join(self.taken[0](bits)), 2), int("".join(self.taken[1](bits)), 2)


class _Patterns(QRCode):  # type: ignore[type-arg]
    """A code of the library's before its data."""

    def __init__(self, version: int, mask: int | None = None) -> None:
        super().__init__(version, ERROR_CORRECT_M)
        self.data_cache = []
        self.makeImpl(mask is None, mask or 0)

    def map_data(self, data: Sequence[int], mask_pattern: int) -> None:
        """None is laid out: what is free stays None."""


@lru_cache(maxsize=40)
def frame(version: int, words: int) -> Frame:
    """The frame of a version that has so many words."""
    rows = _Patterns(version).modules
    n, light = len(rows), 8 * words
    take = [[light + bool(dark) for dark in row] for row in rows]
    way = [(i, j) for i, j in _way(n) if rows[i][j] is None]
    for bit, (i, j) in enumerate(way[: 8 * words]):
        take[i][j] = bit
    blank = (light,) * APART
    take_across, take_down = (
        itemgetter(*[at for row in turned for at in (*row, *blank)][::-1]) for turned in (take, zip(*take, strict=True))
    )
    free = [["1" if dark is None else "0" for dark in row] for row in rows]
    return Frame(
        n,
        (number(map("".join, free)), number(map("".join, zip(*free, strict=True)))),
        (take_across, take_down),
    )


@lru_cache(maxsize=64)
def patterns(version: int, mask: int) -> int:
    """All of a code that is not data, its format and version too."""
    return number("".join("1" if dark else "0" for dark in row) for row in _Patterns(version, mask).modules)


def number(rows: Iterable[str]) -> int:
    """Modules as one number: column j of row i is bit i * (n + APART) + j."""
    blank = "0" * APART
    return int("".join([row + blank for row in rows])[::-1], 2)


def rows_of(bits: int, n: int) -> list[str]:
    """Such a number as rows of ``1`` (dark) and ``0``."""
    said = f"{bits:0{n * (n + APART)}b}"[::-1]
    return [said[at : at + n] for at in range(0, len(said), n + APART)]


def _way(n: int) -> Iterator[tuple[int, int]]:
    """Row and column of all modules in the order in which data is laid out: up and down, two columns wide, from the right;
    the timing pattern's column is left out."""
    up = True
    for right in (*range(n - 1, 6, -2), *range(5, 0, -2)):
        for i in reversed(range(n)) if up else range(n):
            yield i, right
            yield i, right - 1
        up = not up
