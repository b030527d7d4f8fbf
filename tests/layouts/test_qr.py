"""The QR code is the library's own, module by module: its words, its version, its patterns, and the mask that the library's
slower search finds (penalties of ISO/IEC 18004, 7.8.3)."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest
from qrcode.constants import ERROR_CORRECT_M
from qrcode.main import QRCode
from qrcode.util import BIT_LIMIT_TABLE, MODE_8BIT_BYTE, QRData

from layouts.qr import matrix

_LETTERS = "abcdefghij klmnop;:.,0123456789ÄŽΩж\n"


@pytest.mark.parametrize("length", [1, 2, 17, 60, 141, 300, 477, 750])
def test_the_code_is_the_librarys_own_to_the_last_module(length: int) -> None:
    """Texts of one to several hundred letters."""
    r = Random(length)
    for _ in range(4):
        text = "".join(r.choice(_LETTERS) for _ in range(length))
        assert matrix(text) == _librarys(text)


def _librarys(text: str, mask: int | None = None) -> list[str]:
    code: QRCode[Any] = QRCode(error_correction=ERROR_CORRECT_M, border=0, mask_pattern=mask)
    code.add_data(QRData(text.encode(), MODE_8BIT_BYTE))
    code.make(fit=True)
    return ["".join("1" if dark else "0" for dark in row) for row in code.get_matrix()]


@pytest.mark.parametrize("version", range(1, 41))
def test_every_version_when_it_is_full(version: int) -> None:
    """The mask is read from the code, as a reader does: bits 12 to 10 of the format, which is masked itself (7.9.1)."""
    held = BIT_LIMIT_TABLE[ERROR_CORRECT_M][version] // 8 - (2 if version < 10 else 3)
    r = Random(version)
    text = "".join(r.choice(_LETTERS[:20]) for _ in range(held))
    code = matrix(text)
    assert len(code) == 17 + 4 * version
    assert code == _librarys(text, int(code[8][2:5], 2) ^ 0b101)
    if version < 40:
        assert len(matrix(text + "x")) == len(code) + 4


@pytest.mark.parametrize("text, says", [("x" * 2400, "2400 bytes are more"), ("", "nothing")])
def test_what_is_no_code_is_refused_for_what_it_is(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        matrix(text)
