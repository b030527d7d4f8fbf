"""The QR code: the mask is the one the library's own, slower search finds (penalties of ISO/IEC 18004, 7.8.3)."""

from __future__ import annotations

from random import Random

import pytest
from qrcode.constants import ERROR_CORRECT_M
from qrcode.main import QRCode

from layouts.qr import matrix

_LETTERS = "abcdefghij klmnop;:.,0123456789ÄŽΩж\n"


@pytest.mark.parametrize("length", [1, 2, 17, 60, 141, 300, 477, 750])
def test_the_code_is_the_librarys_own_to_the_last_module(length: int) -> None:
    """Texts of one to several hundred letters."""
    r = Random(length)
    for _ in range(4):
        text = "".join(r.choice(_LETTERS) for _ in range(length))
        code = QRCode(error_correction=ERROR_CORRECT_M, border=0)
        code.add_data(text.encode(), optimize=0)
        code.make(fit=True)
        assert matrix(text) == tuple(tuple(map(bool, row)) for row in code.get_matrix())


@pytest.mark.parametrize("text, says", [("x" * 2400, "2400 bytes are more"), ("0" * 300, "noughts"), ("", "nothing")])
def test_what_is_no_code_is_refused_for_what_it_is(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        matrix(text)
