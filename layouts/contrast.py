"""A label on a ground of its own colour: it gets a line at its edge, as the law has it, and the record is told.

A ground of contrasting colour, or a dotted or solid line at the label's edge: 49 CFR 172.406(d); UN Model Regulations
5.2.2.2.1.1.1 (from memory). How much colours must differ no law says; which of them are too near is our own choice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from layouts.artwork.base import Artwork, Scaled
from layouts.artwork.label import HazardLabel
from layouts.reasons import names, start
from marks.requirement import Finding, Requirement
from marks.terms import Colour, Level

if TYPE_CHECKING:
    from layouts.placement import Placed, Placement

CITE = ("49 CFR 172.406(d)", "UN Model Regulations 5.2.2.2.1.1.1 (from memory)")
#: Colours of labels that do not stand out from a package of this colour; from others every label does.
NEAR = {
    Colour.RED: {"red", "orange"}, Colour.ORANGE: {"red", "orange", "yellow"}, Colour.YELLOW: {"orange", "yellow"},
    Colour.GREEN: {"green", "blue"}, Colour.BLUE: {"green", "blue"},
}  # fmt: skip
#: Letters of materials of a colour every label stands out from: wood, plywood, reconstituted wood, fibreboard, paper.
#: Common practice, no source.
PLAIN = frozenset("CDFGM")


def at_edge(form: Artwork) -> set[str]:
    """The colours a hazard label has at its edge, where no line parts it from what it stands on."""
    if isinstance(form, Scaled):
        return at_edge(form.whole)
    if not isinstance(form, HazardLabel) or form.needs_boundary:
        return set()
    return {form.colours.upper.name, form.colours.lower.name}


def lined(form: Artwork) -> Artwork:
    """The same label with a line at its edge."""
    if isinstance(form, Scaled):
        return replace(form, whole=lined(form.whole))
    return replace(form, lined=True) if isinstance(form, HazardLabel) else form


def on_ground(
    forms: Callable[[Requirement], Sequence[Artwork]], colour: Colour | None
) -> Callable[[Requirement], Sequence[Artwork]]:
    """The forms of a mark on a package of this colour."""
    near = NEAR.get(colour, set()) if colour else set()
    if not near:
        return forms
    return lambda requirement: [lined(form) if at_edge(form) & near else form for form in forms(requirement)]


def findings(package: Any, placement: Placement) -> Iterator[Finding]:
    """What a person must know of the ground of this package's labels."""
    labels = [p for p in placement.items if p.requirement.mark == "hazard-label"]
    if package.colour is None:
        plain = package.kind.code == "none" or PLAIN & set(package.kind.code)
        open_ones = [] if plain else [p for p in labels if at_edge(p.artwork)]
        if open_ones:
            text = (
                f"{start(names(open_ones))}: its colour runs to the edge, and the record does not say what colour the package "
                f"is. On {_colours(open_ones)} it needs a line at its edge or another ground: write colour, and such a line "
                "is printed where it is needed."
            )
            yield Finding(Level.NOTE, "contrast", text, CITE)
        return
    on_its_own = [p for p in labels if _is_lined(p.artwork)]
    there, drawn = [p for p in on_its_own if p.there], [p for p in on_its_own if not p.there]
    if there:
        text = (
            f"{start(names(there))}: already there, on {package.colour}; a person must see that it has a line at its edge or "
            "stands out from its ground."
        )
        yield Finding(Level.CAUTION, "contrast", text, CITE)
    if drawn:
        text = (
            f"{start(names(drawn))}: printed with a line at the edge, because the package is {package.colour}. A label from "
            "the shelf needs one too, or a ground of another colour that shows all round it."
        )
        yield Finding(Level.NOTE, "contrast", text, CITE)


def _is_lined(form: Artwork) -> bool:
    return _is_lined(form.whole) if isinstance(form, Scaled) else isinstance(form, HazardLabel) and form.lined


def _colours(labels: Sequence[Placed]) -> str:
    return " or ".join(sorted(set().union(*(at_edge(p.artwork) for p in labels))))
