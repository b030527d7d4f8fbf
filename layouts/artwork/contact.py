"""All labels and marks side by side: the samples a specimen needs its words from, and the contact sheet (the poster).

The lengths come with the requirements that were made from the samples; the words are invented.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from layouts import letters
from layouts.artwork.base import Artwork
from layouts.geometry import Box, Transform
from layouts.ink import BLACK
from layouts.pen import Pen, TransformPen, group


class Sample(NamedTuple):
    """One mark or label to be shown: its name, variant, and words to fill it with."""

    mark: str
    variant: str | None = None
    words: tuple[str, ...] = ()

    @property
    def caption(self) -> str:
        """``3``, ``limited quantity air``."""
        return self.variant or self.mark.replace("-", " ").replace("un ", "UN ")


_NUCLIDE = ("Ir-192", "370 GBq")

LABELS = (
    Sample("hazard-label", "1.1D"),
    Sample("hazard-label", "1"),
    Sample("hazard-label", "1.4S"),
    Sample("hazard-label", "1.5D"),
    Sample("hazard-label", "1.6N"),
    *(Sample("hazard-label", v) for v in ("2.1", "2.2", "2.3", "3", "4.1", "4.2", "4.3", "5.1", "5.2", "6.1", "6.2")),
    Sample("hazard-label", "7-I", ("Ir-192", "0.4 GBq")),
    Sample("hazard-label", "7-II", (*_NUCLIDE, "0.8")),
    Sample("hazard-label", "7-III", (*_NUCLIDE, "3.2")),
    Sample("hazard-label", "7E", ("12.5",)),
    *(Sample("hazard-label", v) for v in ("8", "9", "9A")),
)

MARKS = (
    Sample("limited-quantity"),
    Sample("limited-quantity-air"),
    Sample("environmentally-hazardous"),
    Sample("excepted-quantity", None, ("3", "Nordlys Duft AS")),
    Sample("battery", None, ("UN 3480",)),
    Sample("orientation-arrows"),
    Sample("cargo-aircraft-only"),
    Sample("keep-away-from-heat"),
    Sample("cryogenic-liquid"),
    Sample("magnetized-material"),
)

TEXTS = (
    Sample("un-number", None, ("UN 1266",)),
    Sample("proper-shipping-name", None, ("PERFUMERY PRODUCTS",)),
    Sample("shipper", None, ("Nordlys Duft AS", "Bryggegata 4", "5003 Bergen", "Norway")),
    Sample("consignee", None, ("Atelier Marée", "12 quai du Port", "29200 Brest", "France")),
    Sample("net-quantity", None, ("Net quantity 4 L",)),
    Sample("gross-mass", None, ("Gross mass 11.6 kg",)),
    Sample("cooling-agent", None, ("UN 1845 DRY ICE", "AS COOLANT", "Net mass 6 kg")),
    Sample("salvage", None, ("SALVAGE",)),
    Sample("overpack", None, ("OVERPACK",)),
    Sample("responsible-person", None, ("Responsible person", "Ida Solberg, +47 55 00 00 00")),
    Sample("package-type", None, ("TYPE A",)),
    Sample("elevated-temperature", None, ("ELEVATED TEMPERATURE",)),
    Sample("inhalation-hazard", None, ("INHALATION HAZARD",)),
)

#: Every label and mark there is artwork for: of class 1 one of each design.
SAMPLES = (*LABELS, *MARKS, *TEXTS)


@dataclass(frozen=True)
class ContactSheet:
    """Pieces of artwork in rows, all to one scale, each with its caption below.

    pieces: caption and artwork; width: of the whole sheet, mm; columns: pieces a row. ``height`` follows.
    """

    pieces: Sequence[tuple[str, Artwork]]
    width: float
    columns: int

    @property
    def cell(self) -> float:
        """The width of a cell, mm."""
        return self.width / self.columns

    @property
    def scale(self) -> float:
        """So that the widest fills its cell but for a little air; never larger than life."""
        return min(1.0, 0.94 * self.cell / max(a.width for _, a in self.pieces))

    @property
    def rows(self) -> list[Sequence[tuple[str, Artwork]]]:
        return [self.pieces[i : i + self.columns] for i in range(0, len(self.pieces), self.columns)]

    @property
    def caption(self) -> float:
        """Height of the capitals of captions, mm."""
        return self.cell * 0.035

    def _depth(self, row: Sequence[tuple[str, Artwork]]) -> float:
        return max(a.height for _, a in row) * self.scale + 4.5 * self.caption

    @property
    def height(self) -> float:
        return sum(self._depth(row) for row in self.rows)

    def draw(self, pen: Pen) -> None:
        top = self.height
        for row in self.rows:
            depth = self._depth(row)
            for i, (caption, artwork) in enumerate(row):
                self._cell(pen, Box(i * self.cell, top - depth, self.cell, depth), caption, artwork)
            top -= depth

    def _cell(self, pen: Pen, box: Box, caption: str, artwork: Artwork) -> None:
        k, cap = self.scale, self.caption
        room = box.height - 4.5 * cap
        x = box.x + (box.width - artwork.width * k) / 2
        y = box.y + 4.5 * cap + (room - artwork.height * k) / 2
        artwork.draw(TransformPen(pen, Transform(k, 0, 0, k, x, y)))
        size = letters.size_for_cap("regular", cap)
        with group(pen, "caption", caption):
            at = box.x + (box.width - letters.width(caption, "regular", size)) / 2
            pen.text(at, box.y + 2 * cap, caption, "regular", size, BLACK)
