"""From a requirement to the ways its mark can be drawn: preferred first, then narrower, then as small as the law lets
it be.

Nothing here is drawn: footprints are arithmetic, so that step 3 can weigh many forms cheaply. Families that few records
ask for are loaded when one does.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache

from layouts import letters
from layouts.artwork.base import Artwork, Scaled, mm
from layouts.artwork.diamonds import EnvironmentallyHazardous, LimitedQuantity, LimitedQuantityAir
from layouts.artwork.handling import (
    CargoAircraftOnly,
    CryogenicLiquid,
    KeepAwayFromHeat,
    MagnetizedMaterial,
    OrientationArrows,
)
from layouts.artwork.hazards import DESIGNS, KINDS, PlainLabel
from layouts.artwork.label import HazardLabel
from layouts.artwork.words import TextBlock, size_of
from layouts.errors import DoesNotFit
from layouts.units import number
from marks.requirement import Requirement

#: Steps of a proportional reduction. The law names none for hazard labels and the environment mark, only that all stays
#: clearly visible; half size is as far as we go.
REDUCTIONS = (0.9, 0.8, 0.7, 0.6, 0.5)

#: Arrows have no size in law; these are ours, width and height, mm.
ARROW_SIZES = ((74.0, 105.0), (62.0, 88.0), (52.0, 74.0), (37.0, 52.0), (26.0, 37.0))


#: The labels of class 7.
RADIOACTIVE = ("7-I", "7-II", "7-III", "7E")


class UnknownMark(KeyError):
    """A mark or variant no artwork is held for."""

    def __str__(self) -> str:
        return str(self.args[0])


@lru_cache(maxsize=128)
def forms(req: Requirement) -> tuple[Artwork, ...]:
    """Every way to draw the mark, preferred first.

    UnknownMark for a mark or variant not held; MissingGlyph or DoesNotFit where its words cannot be set.
    """
    try:
        make = FAMILIES[req.mark]
    except KeyError:
        raise UnknownMark(
            f"no artwork is held for the mark {req.mark!r}; held are: {', '.join(sorted(FAMILIES))}"
        ) from None
    return tuple(make(req))


# --- hazard labels ---------------------------------------------------------------------------------------------------


def hazard_label(variant: str, req: Requirement, dark: bool = False) -> HazardLabel:
    """The full-size label; dark: the symbol black where white is allowed too. UnknownMark for a variant not held."""
    m, words = req.measures, req.words
    if variant in DESIGNS:
        d = DESIGNS[variant]
        colours = d.dark if dark and d.dark else d.colours
        return KINDS.get(variant, PlainLabel)(variant, d.title, colours, d.figure, m, words, d.sign)
    if variant in RADIOACTIVE:
        from layouts.artwork.radioactive import radioactive

        return radioactive(variant, words, m)
    if variant in ("9", "9A"):
        from layouts.artwork.miscellaneous import ON_WHITE, BatteryLabel, MiscellaneousLabel

        if variant == "9A":
            return BatteryLabel(variant, "Lithium or sodium ion batteries", ON_WHITE, "9", m, words)
        return MiscellaneousLabel(variant, "Miscellaneous dangerous substances and articles", ON_WHITE, "9", m, words)
    from layouts.artwork.explosives import ON_ORANGE, BombLabel, DivisionLabel, parsed

    try:
        division, _ = parsed(variant)
    except ValueError as fault:
        raise UnknownMark(f"no hazard label is held for {variant!r}: {fault}") from None
    kind = DivisionLabel if division in ("1.4", "1.5", "1.6") else BombLabel
    title = f"Explosives, division {division}" if division else "Explosives, subsidiary hazard"
    return kind(variant, title, ON_ORANGE, "1", m, words, "" if kind is DivisionLabel else "exploding_bomb")


def _hazard_label(req: Requirement) -> Iterator[Artwork]:
    label = hazard_label(req.variant or "", req)
    yield label
    if "trefoil_radius" not in req.measures or req.variant not in RADIOACTIVE:  # the trefoil's disc has a least radius
        yield from _scaled(label)


def _scaled(whole: Artwork, least: float = 0.0) -> Iterator[Artwork]:
    side = whole.side
    for i, k in enumerate(REDUCTIONS, 1):
        if k >= least:
            shown = (
                f"{number(side * k, 1)} mm side"
                if side
                else f"{number(whole.width * k, 1)} x {number(whole.height * k, 1)} mm"
            )
            yield Scaled(whole, k, f"reduced to {shown}", i)


# --- other drawn marks -----------------------------------------------------------------------------------------------


def _limited(kind: type[LimitedQuantity]) -> Callable[[Requirement], Iterator[Artwork]]:
    def make(req: Requirement) -> Iterator[Artwork]:
        m = {k: mm(v) for k, v in req.measures.items()}
        yield kind(m["side"], m["line"])
        least_side, least_line = m.get("least_side", m["side"]), m.get("least_line", m["line"])
        for i, k in enumerate(REDUCTIONS, 1):
            side = m["side"] * k
            if side < least_side - 1e-9:
                return
            # Between full and least size the line shrinks in step with the side; at the least side it is the least
            # line.
            part = (side - least_side) / (m["side"] - least_side) if m["side"] > least_side else 1.0
            line = least_line + (m["line"] - least_line) * part
            yield kind(side, line, i, f"reduced to {number(side, 1)} mm side", True)

    return make


def _environment(req: Requirement) -> Iterator[Artwork]:
    whole = EnvironmentallyHazardous(mm(req.measures["side"]), mm(req.measures["line"]))
    yield whole
    yield from _scaled(whole)


def _excepted(req: Requirement) -> Iterator[Artwork]:
    from layouts.artwork.squares import ExceptedQuantity

    yield ExceptedQuantity(mm(req.measures["side"]), req.words)


def _biological(req: Requirement) -> Iterator[Artwork]:
    from layouts.artwork.biological import NamedDiamond, NumberedDiamond

    number, *name = req.words
    m = {k: mm(v) for k, v in req.measures.items()}
    diamond = NumberedDiamond(m["side"], m["line"], number=number, lettering=m["lettering"])
    if not name:
        yield diamond
        return
    seen: list[tuple[float, float]] = []
    for font in ("bold", "condensed"):
        size = letters.size_for_least(font, m["lettering"])
        for limit in (60.0, diamond.width, 150.0):
            lines = letters.wrap(" ".join(name), font, size, limit)
            for below in (False, True):
                made = NamedDiamond(diamond, lines, font, below, len(seen))
                if all(made.width < w - 0.05 or made.height < h - 0.05 for w, h in seen):
                    seen.append((made.width, made.height))
                    yield made


def _battery(req: Requirement) -> Iterator[Artwork]:
    from layouts.artwork.squares import BatteryMark

    m = {k: mm(v) for k, v in req.measures.items()}
    yield BatteryMark(m["width"], m["height"], m["hatch"], req.words)
    if (low := m.get("least_height", m["height"])) < m["height"]:
        note = f"reduced to {number(m['width'], 1)} x {number(low, 1)} mm"
        yield BatteryMark(m["width"], low, m["hatch"], req.words, 1, note, True)


def _arrows(req: Requirement) -> Iterator[Artwork]:
    for i, (width, height) in enumerate(ARROW_SIZES):
        yield OrientationArrows(width, height, i)


def _cargo_aircraft_only(req: Requirement) -> Iterator[Artwork]:
    m = req.measures
    yield CargoAircraftOnly(mm(m["width"]), mm(m["height"]), lettering=mm(m["lettering"]))


def _rectangle(
    kind: type[KeepAwayFromHeat | CryogenicLiquid | MagnetizedMaterial],
) -> Callable[[Requirement], Iterator[Artwork]]:
    def make(req: Requirement) -> Iterator[Artwork]:
        whole = kind(mm(req.measures["width"]), mm(req.measures["height"]))
        yield whole
        if "least_width" in req.measures:
            yield from _scaled(whole, mm(req.measures["least_width"]) / whole.width)

    return make


# --- words -----------------------------------------------------------------------------------------------------------

#: Line lengths tried, mm: the first is as wide as a mark ever gets, the rest for narrow faces. Ours.
MEASURES = (150.0, 120.0, 95.0, 75.0, 60.0, 48.0, 38.0)

#: Letter heights tried for text the law fixes no height for, mm. Ours: read at arm's length, down to the size of
#: small print.
HEIGHTS = {
    "proper-shipping-name": (6.0, 5.0, 4.0, 3.0, 2.5),
    "shipper": (3.5, 3.0, 2.5, 2.0),
    "consignee": (3.5, 3.0, 2.5, 2.0),
}
UN_NUMBER_HEIGHTS = (12.0, 8.0, 6.0, 4.5, 3.5)
OTHER_HEIGHTS = (5.0, 4.0, 3.0, 2.5)
#: Where the law does fix a height: first a little above it, last exactly it.
ABOVE_LAW = (1.25, 1.1, 1.0)

ADDRESSES = ("shipper", "consignee")
#: Capitals and figures only, on one line: no room for accents or descenders is kept.
PLAIN = ("un-number", "overpack", "salvage", "package-type", "poison")


def _text(req: Requirement) -> Iterator[Artwork]:
    lines = tuple(t for t in req.words if t.strip())
    if not lines:
        raise ValueError(f"the mark {req.mark} has no words to print")
    if req.mark in ADDRESSES and lines[0].rstrip(":").casefold() != req.mark:
        lines = (req.mark.capitalize(), *lines)
    if "lettering" in req.measures:
        heights = [mm(req.measures["lettering"]) * k for k in ABOVE_LAW]
    else:
        heights = list(UN_NUMBER_HEIGHTS if req.mark == "un-number" else HEIGHTS.get(req.mark, OTHER_HEIGHTS))
    seen: list[tuple[float, float]] = []
    for cap in heights:
        for font in ("bold", "condensed"):
            runs = math.inf
            for limit in MEASURES:
                if runs <= limit:  # on a narrower line it turns at the same places
                    continue
                rows = _rows(req.mark, lines, font, cap, limit, "lettering" in req.measures)
                if rows is None:  # nor does a narrower line take it
                    break
                block = _block(req.mark, rows, cap, len(seen), "lettering" in req.measures)
                wide, high = block.width, block.height
                runs = wide - 2 * block.margin
                if any(wide >= w - 0.05 and high >= h - 0.05 for w, h in seen):
                    continue  # no better than a form already offered
                seen.append((wide, high))
                yield block
    if not seen:
        cap = heights[-1]
        size = size_of("condensed", cap, False)
        widest = max(letters.width(line, "condensed", size) for line in lines)
        raise DoesNotFit(
            f"{' / '.join(lines)!r}: a word of it is wider than {number(MEASURES[0])} mm though set {number(cap, 1)} mm"
            " high in the condensed cut; write it with a hyphen or a space where it may turn.",
            (widest, cap),
            (MEASURES[0], cap),
        )


_Lines = list[tuple[str, str]]


def _rows(mark: str, lines: Iterable[str], font: str, cap: float, limit: float, by_figures: bool) -> _Lines | None:
    """The lines set within ``limit`` mm, each with its font, or None where a word is wider."""
    out: _Lines = []
    light = "regular" if font == "bold" else "condensed-regular"
    for i, line in enumerate(lines):
        # Of an address the name is bold, the rest regular.
        cut = light if mark in ADDRESSES and i != 1 else font
        letters.check_glyphs(line, cut)
        size = size_of(cut, cap, by_figures)
        try:
            wrapped = letters.wrap(line, cut, size, limit)
        except DoesNotFit:
            return None
        if mark in PLAIN and len(wrapped) > 1:
            return None  # a number or a single word of law is never torn apart
        out += [(t, cut) for t in wrapped]
    return out


def _block(mark: str, rows: _Lines, cap: float, step: int, by_figures: bool) -> TextBlock:
    texts, fonts = zip(*rows, strict=True)
    title = mark.replace("-", " ").capitalize().replace("Un ", "UN ")
    plain = mark in PLAIN and not any(ch in "()" for text in texts for ch in text)  # brackets reach above and below
    return TextBlock(mark, title, texts, fonts, cap, step, plain=plain, by_figures=by_figures)


#: What draws each mark.
FAMILIES: dict[str, Callable[[Requirement], Iterator[Artwork]]] = {
    "hazard-label": _hazard_label,
    "limited-quantity": _limited(LimitedQuantity),
    "limited-quantity-air": _limited(LimitedQuantityAir),
    "environmentally-hazardous": _environment,
    "excepted-quantity": _excepted,
    "battery": _battery,
    "biological-substance": _biological,
    "orientation-arrows": _arrows,
    "cargo-aircraft-only": _cargo_aircraft_only,
    "keep-away-from-heat": _rectangle(KeepAwayFromHeat),
    "cryogenic-liquid": _rectangle(CryogenicLiquid),
    "magnetized-material": _rectangle(MagnetizedMaterial),
    "un-number": _text,
    "proper-shipping-name": _text,
    "shipper": _text,
    "consignee": _text,
    "net-quantity": _text,
    "gross-mass": _text,
    "cooling-agent": _text,
    "salvage": _text,
    "overpack": _text,
    "responsible-person": _text,
    "package-type": _text,
    "elevated-temperature": _text,
    "inhalation-hazard": _text,
    "poison": _text,
    "reportable-quantity": _text,
    "ex-number": _text,
    "battery-condition": _text,
    "net-explosive-mass": _text,
}
