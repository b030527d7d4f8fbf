"""Drawings for the page: the same strokes that print, as SVG within the page."""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape
from typing import Any, cast

from msgspec.structs import replace

from layouts.artwork.base import Artwork
from layouts.face import CloseUp
from layouts.geometry import Box, Transform, rectangle
from layouts.ink import BLACK, WHITE, grey
from layouts.ladder import ladder_block
from layouts.pen import Pen, TransformPen
from layouts.placement import Placement
from layouts.probe import RecordingPen
from layouts.standing import Standing
from layouts.svg import SvgPen
from marks.compare import Ladder
from marks.terms import Face

#: Widths of drawings on the imagined paper, mm: the narrower one is for a telephone, so that figures can be read there.
WIDE, NARROW, LEAST = 112.0, 68.0, 60.0


class PagePen(SvgPen):
    """Writes into a page: text stays text, in the page's own fonts; groups have no ids, which would clash."""

    def __init__(self, width: float, height: float) -> None:
        super().__init__(width, height, text="live")

    def begin(self, ident: str, title: str = "") -> None:
        self._open.append(["<g>"])

    def markup(self, label: str, kind: str) -> str:
        """The drawing as an element. label: what it shows, in words, or "" where the page says it beside it."""
        text = self.tostring().partition("?>")[2].strip()
        text = re.sub(r' style="[a-z:;-]*"', "", text)  # the page's style sheet says it
        head, rest = text.split(">", 1)
        head = re.sub(r' (?:width|height|xml:lang|baseProfile|version|xmlns:\w+)="[^"]*"', "", head)
        said = f'role="img" aria-label="{escape(label)}"' if label else 'aria-hidden="true"'
        left = ' preserveAspectRatio="xMinYMid meet"' if "words" in kind else ""
        return f'{head} class="{kind}"{left} {said} focusable="false">{rest}'


@lru_cache(maxsize=512)
def _strokes(artwork: Artwork) -> RecordingPen:
    """All of its strokes: a mark is worked out once, however often its package is drawn."""
    pen = RecordingPen()
    artwork.draw(pen)
    return pen


class _Known:
    """The same artwork, its strokes repeated."""

    def __init__(self, whole: Artwork) -> None:
        self._whole = whole

    def __getattr__(self, name: str) -> Any:
        return getattr(self._whole, name)

    def draw(self, pen: Pen) -> None:
        _strokes(self._whole).replay(pen)


def _known(placement: Placement) -> Placement:
    items = (replace(item, artwork=cast(Artwork, _Known(item.artwork))) for item in placement.items)
    return replace(placement, items=tuple(items))


@lru_cache(maxsize=512)
def mark_drawing(artwork: Artwork) -> str:
    """One mark, for a line of a list; the words beside it say what it is."""
    pen = PagePen(artwork.width + 2, artwork.height + 2)
    _strokes(artwork).replay(TransformPen(pen, Transform.moved(1, 1)))
    if artwork.side is None and not artwork.colour:
        pen.stroke(rectangle(Box(0.5, 0.5, artwork.width + 1, artwork.height + 1)), grey(60), 0.4)
    return pen.markup("", "mark words" if artwork.side is None and artwork.height < 22 else "mark")


@lru_cache(maxsize=64)
def face_drawing(placement: Placement, face: Face, label: str, kind: str = "", width: float = NARROW) -> str:
    """A face with its marks, their numbers and distances. width: of the imagined paper; kind: further classes."""
    view = CloseUp.fitting(_known(placement), face, width, width * 1.25)
    pen = PagePen(max(view.width, LEAST), view.height)  # its name and measures stand above it
    view.draw(pen, 0, 0)
    return pen.markup(label, f"face {kind}".strip())


def face_drawings(placement: Placement, face: Face, label: str) -> tuple[str, str]:
    """The same for a wide page and for a narrow one."""
    return face_drawing(placement, face, label, "wide", WIDE), face_drawing(placement, face, label, "narrow")


@lru_cache(maxsize=64)
def standing_drawing(placement: Placement, label: str) -> str:
    """The package as it stands."""
    view = Standing.fitting(_known(placement), 60, 60)
    pen = PagePen(view.size[0] + 2, view.size[1] + 2)
    view.draw(pen, 1, 1)
    return pen.markup(label, "standing")


def ladder_drawings(ladder: Ladder) -> tuple[str, str]:
    """The ladder for a wide page and for a narrow one; the list beside it says the same."""
    found = []
    for width, kind in ((190.0, "ladder wide"), (84.0, "ladder narrow")):
        block = ladder_block(ladder, width)
        pen = PagePen(width, block.height)
        block.draw(pen, 0, block.height)
        found.append(pen.markup("", kind))
    return found[0], found[1]


def cross_drawing(full: Face | None) -> str:
    """The six faces unfolded, one of them filled: where the packer stands."""
    places = {Face.LEFT: (0, 1), Face.FRONT: (1, 1), Face.RIGHT: (2, 1), Face.BACK: (3, 1),
              Face.TOP: (1, 2), Face.BOTTOM: (1, 0)}  # fmt: skip
    pen = PagePen(42, 32)
    for face, (x, y) in places.items():
        box = Box(1 + x * 10, 1 + y * 10, 10, 10)
        pen.fill(rectangle(box), BLACK if face is full else WHITE)
        pen.stroke(rectangle(box), BLACK, 0.8)
    return pen.markup("", "cross")
