"""Fonts in PDF files, their subsets kept from one file to the next.

Most files of a batch carry the same letters, so their subsets are the same too: cut out and deflated once, then said again,
byte for byte as the library makes them.
"""

from __future__ import annotations

import io
from functools import cache, lru_cache
from typing import Any

from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from layouts.letters import font_file, font_measures
from layouts.pdf_objects import Kept
from layouts.wider import WIDER, wide_file

#: Subsets that are kept; a file has one for each of its fonts, three or four, and about 20 kB each.
_KEPT = 24


class SubsetFont(TTFont):
    """A font whose subsets the next file most likely asks for again. name: what the library knows it by; font: ours."""

    def __init__(self, name: str, font: str) -> None:
        super().__init__(name, io.BytesIO(wide_file(font)) if font in WIDER else str(font_file(font)))
        self._called = f"F-{font}"
        self._objects = lru_cache(_KEPT)(self._made)

    def getSubsetInternalName(self, subset: int, doc: Any) -> str:
        """Called the same in every file, so that what is said in it can be said again."""
        state = self._assignState(doc)  # type: ignore[attr-defined]  # the stub leaves it out
        if state.internalName is None:
            state.internalName = self._called
            doc.fontMapping[self.fontName] = f"/{self._called}"
            doc.delayedFonts.append(self)
        return f"/{state.internalName}+{subset}"

    def in_first(self, text: str, doc: Any) -> bytes | None:
        """A text as codes of the first subset; None where not all of it has one there yet."""
        known = self.state[doc].assignments  # type: ignore[attr-defined]  # the stub leaves it out
        codes = [known.get(ord(ch), 256) for ch in text]
        return bytes(codes) if max(codes) < 256 else None

    def addObjects(self, doc: Any) -> None:
        """The objects the library makes of the subsets, which are complete now."""
        subsets = self.state[doc].subsets
        del self.state[doc]
        fonts = doc.idToObject["BasicFonts"].dict
        for name, kept in self._objects(tuple(map(tuple, subsets))):
            made = Kept(*kept)
            doc.Reference(made, name)
            if name.startswith(self._called):
                fonts[name] = made

    def _made(self, subsets: tuple[tuple[int, ...], ...]) -> tuple[tuple[str, tuple[bytes, tuple[str, ...]]], ...]:
        """What the library makes of such subsets in a document of its own: names of the objects, and what each says."""
        alone = pdfdoc.PDFDocument(compression=1, invariant=1)
        before = set(alone.idToObject)
        self.getSubsetInternalName(0, alone)
        self.state[alone].subsets = list(map(list, subsets))
        super().addObjects(alone)
        return tuple((name, Kept.said_in(alone, name)) for name in alone.idToObject if name not in before)


@cache
def pdf_font(font: str) -> SubsetFont:
    """One of our fonts as the library writes it; it is opened when a line first asks for it."""
    made = SubsetFont(font_measures(font).name, font)
    pdfmetrics.registerFont(made)
    return made
