"""Stored drawings in PDF files, said at one go. The library formats a form entry by entry; all of ours have the same few,
and drawings that come back from file to file are deflated once."""

from __future__ import annotations

import zlib
from functools import lru_cache
from typing import Any

from reportlab.lib.rl_accel import fp_str
from reportlab.pdfbase import pdfdoc

RESOURCES = "ResourcesOfForms"


@lru_cache(maxsize=128)
def _deflated(content: bytes) -> bytes:
    return zlib.compress(content)


class Form(pdfdoc.PDFFormXObject):
    """A form as the library made it, which now says itself."""

    def format(self, document: Any) -> bytes:
        """The object's dictionary and its stream."""
        content = _deflated(self.stream)
        resources = pdfdoc.format(self.Resources, document).decode("ascii")
        box = fp_str(self.lowerx, self.lowery, self.upperx, self.uppery)
        about = (
            f"<< /Type /XObject /Subtype /Form /FormType 1 /BBox [ {box} ] /Matrix [ 1 0 0 1 0 0 ] "
            f"/Resources {resources} /Filter [ /FlateDecode ] /Length {len(content)} >>\nstream\n"
        )
        return b"".join((about.encode("ascii"), content, b"\nendstream\n"))


def said_at_once(document: Any, key: str) -> None:
    """The form ``key`` of a document, which is complete, will say itself."""
    document.idToObject[pdfdoc.xObjectName(key)].__class__ = Form


def resources(document: Any, colours: dict[str, str]) -> Any:
    """What a form draws with: one entry for all of a file; one of its own where it uses separations, which the library
    forgets if left alone. colours: their names in the file."""
    if not colours and RESOURCES in document.idToObject:
        return pdfdoc.PDFObjectReference(RESOURCES)
    own = pdfdoc.PDFResourceDictionary()
    own.basicFonts()
    own.basicProcs()
    own.setColorSpace(colours)
    return own if colours else document.Reference(own, RESOURCES)
