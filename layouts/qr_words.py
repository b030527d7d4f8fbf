"""The words of a QR code: what a text is before its modules are laid out (ISO/IEC 18004, 7.4 to 7.6), at error correction M.

How much a version holds, its blocks and the polynomials are the library's tables. Its own division goes coefficient by
coefficient; here the remainder is one number, and a word moves it on by one step.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import zip_longest

from qrcode.base import gexp, glog, rs_blocks
from qrcode.constants import ERROR_CORRECT_M
from qrcode.LUT import rsPoly_LUT
from qrcode.util import BIT_LIMIT_TABLE, MODE_8BIT_BYTE, PAD0, PAD1


def version_of(many: int) -> int:
    """The smallest version that holds so many bytes. ValueError: none does."""
    for version, limit in enumerate(BIT_LIMIT_TABLE[ERROR_CORRECT_M]):
        if version and 4 + _count(version) + 8 * many <= limit:
            return version
    raise ValueError(f"{many} bytes are more than one QR code holds")


def _count(version: int) -> int:
    """In how many bits the number of bytes is said."""
    return 8 if version < 10 else 16


def words(data: bytes, version: int) -> bytes:
    """The words in the order in which they are laid out: of each block the first, then the second, ..."""
    blocks = rs_blocks(version, ERROR_CORRECT_M)
    stream = _stream(data, version, sum(block.data_count for block in blocks))
    of = []
    for block in blocks:
        first, stream = stream[: block.data_count], stream[block.data_count :]
        of.append((first, _correction(first, block.total_count - block.data_count)))
    return b"".join(
        bytes(word for column in zip_longest(*part) for word in column if word is not None)
        for part in zip(*of, strict=True)
    )


def _stream(data: bytes, version: int, many: int) -> bytes:
    """The data as so many words: byte mode, how many bytes, the bytes, four noughts to end them, padding."""
    head = _count(version)
    bits = (MODE_8BIT_BYTE << head | len(data)) << 8 * len(data) | int.from_bytes(data)
    said = (bits << 4).to_bytes((4 + head + 4) // 8 + len(data))  # head is 8 or 16, so the noughts fill the last word
    return said + (bytes((PAD0, PAD1)) * many)[: many - len(said)]


def _correction(data: bytes, many: int) -> bytes:
    """The remainder of a block by the polynomial of so many coefficients below its first, which is 1."""
    steps = _steps(many)
    top, rest, kept = 8 * (many - 1), 0, (1 << 8 * many) - 1
    for word in data:
        rest = (rest << 8 & kept) ^ steps[word ^ rest >> top]
    return rest.to_bytes(many)


@lru_cache(maxsize=16)
def _steps(many: int) -> tuple[int, ...]:
    """What each word adds to the remainder: the polynomial times it, as a number."""
    polynomial = rsPoly_LUT[many][1:]
    return 0, *(
        int.from_bytes(bytes(gexp(glog(factor) + glog(word)) for factor in polynomial)) for word in range(1, 256)
    )
