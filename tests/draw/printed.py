"""One mark on one sheet, printed the way the product prints it, for the tests that look at finished files."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import cache

from layouts.artwork.catalogue import forms
from layouts.cell import Item
from layouts.draw import to_pdf, to_svg
from layouts.furniture import Heading
from layouts.sheet import Sheet, impose
from layouts.stock import read_stock
from marks.requirement import Requirement
from marks.tables import measures_for
from tests.draw.measure import Paper, read_pdf, read_svg

DAY = date(2026, 11, 25)
HEADING = Heading("HR-20458", ("an edition",), ("a caution",))

#: What the marks carry as words, where they carry any. Invented.
WORDS = {
    "hazard-label 7-I": ("Ir-192", "370 GBq"),
    "hazard-label 7-II": ("Ir-192", "370 GBq", "0.8"),
    "hazard-label 7-III": ("Ir-192", "370 GBq", "1.4"),
    "hazard-label 7E": ("0.5",),
    "un-number": ("UN 1219",),
    "excepted-quantity": ("3", ""),
    "battery": ("UN 3480",),
    "biological-substance": ("UN 3373", "BIOLOGICAL SUBSTANCE, CATEGORY B"),
    "overpack": ("OVERPACK",),
    "salvage": ("SALVAGE",),
    "package-type": ("TYPE B(U)",),
    "proper-shipping-name": ("ISOPROPANOL",),
}


def requirement(name: str, **measures: str) -> Requirement:
    """``hazard-label 3``, ``un-number``: as the plan would ask for it on DAY; measures: more or other lengths, mm."""
    mark, _, variant = name.partition(" ")
    held = dict(measures_for(mark, variant or None, DAY)) | {k: Decimal(v) for k, v in measures.items()}
    words = WORDS.get(name, WORDS.get(mark, ()))
    return Requirement(mark, "why", ("cite",), variant or None, words, measures=held)


def item(name: str, form: int = 0, *, count: int = 1, package: str = "A", **measures: str) -> Item:
    req = requirement(name, **measures)
    return Item(forms(req)[form], package, count, "front", name, ("road", "sea"), ("ADR 5.2.2.1.1",))


@cache
def sheet(name: str, form: int = 0, flat: str = "never", stock: str = "A4", **measures: str) -> Sheet:
    """The mark alone on a sheet."""
    (made,) = impose([item(name, form, **measures)], read_stock(stock), HEADING, flat=flat)
    return made


@cache
def svg_paper(name: str, form: int = 0, flat: str = "never", **measures: str) -> Paper:
    return read_svg(to_svg(sheet(name, form, flat, **measures)))


@cache
def pdf_paper(name: str, form: int = 0, flat: str = "never", **measures: str) -> Paper:
    return read_pdf(to_pdf([sheet(name, form, flat, **measures)], title="measured"))


PAPERS = {"svg": svg_paper, "pdf": pdf_paper}
