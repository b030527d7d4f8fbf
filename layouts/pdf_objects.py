"""Objects of a PDF file that say themselves at one go: stored drawings, pages, and what is kept from another file. The library
formats an object entry by entry, each by its kind; ours have the same few."""

from __future__ import annotations

import re
import zlib
from functools import lru_cache
from typing import Any

from reportlab.lib.rl_accel import fp_str
from reportlab.pdfbase import pdfdoc

RESOURCES = "ResourcesOfForms"
#: How hard strokes are deflated: half the time of the usual 6, and a hundredth more bytes in a file.
_LEVEL = 4


def _deflated(content: bytes) -> bytes:
    return zlib.compress(content, _LEVEL)


_deflated_before = lru_cache(maxsize=128)(_deflated)  # drawings come back from file to file


def _stream(entries: str, content: bytes) -> bytes:
    about = f"<< {entries} /Filter [ /FlateDecode ] /Length {len(content)} >>\nstream\n"
    return b"".join((about.encode("ascii"), content, b"\nendstream\n"))


def _said(given: Any, document: Any) -> str:
    said: bytes = pdfdoc.format(given, document)
    return said.decode("ascii")


class _Form(pdfdoc.PDFFormXObject):
    """A form as the library made it."""

    def format(self, document: Any) -> bytes:
        box = fp_str(self.lowerx, self.lowery, self.upperx, self.uppery)
        return _stream(
            f"/Type /XObject /Subtype /Form /FormType 1 /BBox [ {box} ] /Matrix [ 1 0 0 1 0 0 ] "
            f"/Resources {_said(self.Resources, document)}",
            _deflated_before(self.stream),
        )


class _Page(pdfdoc.PDFPage):
    """A page as the library made it."""

    def format(self, document: Any) -> bytes:
        drawn_with = _drawn_with(self._colorsUsed)  # type: ignore[attr-defined]  # the stub leaves it out
        if self.XObjects:
            drawn_with.XObject = self.XObjects
        boxes = "".join(
            f"/{name} [ {fp_str(*getattr(self, name).sequence)} ] " for name in ("CropBox", "BleedBox", "TrimBox")
        )
        return (
            f"<< /Type /Page /Parent {_said(document.Reference(document.Pages), document)} "
            f"/MediaBox [ {fp_str(0, 0, self.pagewidth, self.pageheight)} ] {boxes}"
            f"/Resources {_said(drawn_with, document)} "
            f"/Contents {_said(document.Reference(_Contents(self.stream)), document)} >>"
        ).encode("ascii")


class _Contents(pdfdoc.PDFObject):
    """What is drawn on a page."""

    def __init__(self, code: str) -> None:
        self._code = code

    def format(self, document: Any) -> bytes:
        return _stream("", _deflated(self._code.encode("ascii")))


class Kept(pdfdoc.PDFObject):
    """An object as another file had it. said: what it said there, %s where another object is referred to; names: of those."""

    def __init__(self, said: bytes, names: tuple[str, ...] = ()) -> None:
        self._said, self._names = said, names

    @staticmethod
    def said_in(document: Any, name: str) -> tuple[bytes, tuple[str, ...]]:
        """What is kept of the object of that name in a document."""
        made = document.idToObject[name]
        said: bytes = made.format(document)
        if isinstance(made, pdfdoc.PDFStream):  # which refers to nothing, and may say anything
            return said, ()
        parts = re.split(rb"(\d+) 0 R", said)
        return b"%s".join(parts[::2]), tuple(document.numberToId[int(number)] for number in parts[1::2])

    def format(self, document: Any) -> bytes:
        if not self._names:
            return self._said
        return self._said % tuple(pdfdoc.PDFObjectReference(name).format(document) for name in self._names)


def end_form(canvas: Any, key: str) -> None:
    """The drawing ``key`` on a canvas is complete; from here on it draws on its page again."""
    said = "\n".join((canvas._preamble, *canvas._code)).encode("ascii")
    canvas._code.clear()
    document = canvas._doc
    canvas.endForm(Resources=_resources(document, canvas._colorsUsed))
    form = document.idToObject[pdfdoc.xObjectName(key)]
    form.__class__, form.stream = _Form, said


def end_page(canvas: Any) -> None:
    """The page on a canvas is complete."""
    document = canvas._doc
    name = document.thisPageName()
    canvas.showPage()
    document.idToObject[name].__class__ = _Page


def _resources(document: Any, colours: dict[str, str]) -> Any:
    """What a form draws with: one entry for all of a file; one of its own where it uses separations, which the library
    forgets if left alone. colours: their names in the file."""
    if not colours and RESOURCES in document.idToObject:
        return pdfdoc.PDFObjectReference(RESOURCES)
    own = _drawn_with(colours)
    return own if colours else document.Reference(own, RESOURCES)


def _drawn_with(colours: dict[str, str]) -> Any:
    resources = pdfdoc.PDFResourceDictionary()
    resources.basicFonts()
    resources.basicProcs()
    resources.setColorSpace(colours)
    return resources
