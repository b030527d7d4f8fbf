"""Fonts in PDF files, their subsets kept from one file to the next.

Most files of a batch carry the same letters, so their subsets are the same too: cut out and deflated once, then said again,
byte for byte as the library makes them.
"""

from __future__ import annotations

import io
import zlib
from functools import cache, lru_cache
from typing import Any

from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from layouts.letters import font_file, font_measures
from layouts.wider import WIDER, wide_file

#: Subsets that are kept; a file has one for each of its fonts, three or four, and about 20 kB each.
_KEPT = 24


class _Deflate:
    """The library's deflate filter, for streams that many files share."""

    pdfname = "FlateDecode"

    @staticmethod
    @lru_cache(maxsize=2 * _KEPT)
    def encode(content: bytes | str) -> bytes:
        return zlib.compress(content.encode() if isinstance(content, str) else content)


class _Said(pdfdoc.PDFObject):
    """An object as it stands in the file."""

    def __init__(self, said: bytes) -> None:
        self._said = said

    def format(self, document: Any) -> bytes:
        return self._said


class SubsetFont(TTFont):
    """A font whose subsets the next file most likely asks for again. name: what the library knows it by; font: ours."""

    def __init__(self, name: str, font: str) -> None:
        super().__init__(name, io.BytesIO(wide_file(font)) if font in WIDER else str(font_file(font)))
        self.face.makeSubset = lru_cache(_KEPT)(self.face.makeSubset)  # type: ignore[method-assign]
        self._called = f"F-{font}"
        self._widths = lru_cache(_KEPT)(self._widths_of)

    def _widths_of(self, subset: tuple[int, ...]) -> bytes:
        said: bytes = pdfdoc.PDFArray([self.face.charWidths.get(code, self.face.defaultWidth) for code in subset]).format(None)
        return said

    def getSubsetInternalName(self, subset: int, doc: Any) -> str:
        """Called the same in every file, so that what is said in it can be said again."""
        state = self._assignState(doc)  # type: ignore[attr-defined]  # the stub leaves it out
        if state.internalName is None:
            state.internalName = self._called
            doc.fontMapping[self.fontName] = f"/{self._called}"
            doc.delayedFonts.append(self)
        return f"/{state.internalName}+{subset}"

    def addObjects(self, doc: Any) -> None:
        """As the library does; then what all files share is handed what is kept of it."""
        state = self.state[doc]
        state.subsets = [tuple(subset) for subset in state.subsets]  # complete now, and so a key
        super().addObjects(doc)
        for n, subset in enumerate(state.subsets):
            font = doc.idToObject["BasicFonts"].dict[f"{state.internalName}+{n}"]
            font.Widths = _Said(self._widths(subset))
            for stream in (font.ToUnicode, doc.idToObject[font.FontDescriptor.name].dict["FontFile2"]):
                doc.idToObject[stream.name].filters = [_Deflate]


@cache
def pdf_font(font: str) -> SubsetFont:
    """One of our fonts as the library writes it; it is opened when a line first asks for it."""
    made = SubsetFont(font_measures(font).name, font)
    pdfmetrics.registerFont(made)
    return made
