"""What every piece of artwork can say about itself without being drawn, and the few helpers all of them share.

A piece of artwork is a frozen value: its footprint is known at once, its strokes come when a pen asks. Its origin is
the lower left corner of its bounding box, upright as it stands on the package.
"""

from __future__ import annotations

import hashlib
import math
from decimal import Decimal
from functools import lru_cache
from typing import Protocol

from msgspec import Struct

from layouts.geometry import Box, Point, Transform, clipped
from layouts.pen import Pen, TransformPen
from layouts.probe import LASTING, RecordingPen, Stored, Text

SQUARE_ON_POINT, RECTANGLE = "square-on-point", "rectangle"
#: Point to point over edge of a square standing on its point.
DIAGONAL = math.sqrt(2)


class Artwork(Protocol):
    """width, height: the bounding box, mm; side: the edge of a square on its point, else None; colour: needs more
    than black; bleeds: colour runs to the edge, so that a cut sheet asks for ``draw_bleed`` first; reduced: smaller
    than the law's full size, as ``note`` says; step: 0 is the preferred form, higher ones are asked for when room is
    short."""

    @property
    def width(self) -> float: ...
    @property
    def height(self) -> float: ...
    @property
    def side(self) -> float | None: ...
    @property
    def shape(self) -> str: ...
    @property
    def colour(self) -> bool: ...
    @property
    def bleeds(self) -> bool: ...
    @property
    def note(self) -> str: ...
    @property
    def reduced(self) -> bool: ...
    @property
    def step(self) -> int: ...

    def __hash__(self) -> int: ...
    def draw(self, pen: Pen) -> None: ...
    def draw_bleed(self, pen: Pen, by: float) -> None:
        """What lies under the artwork and runs ``by`` mm beyond its edge; nothing where no colour reaches it."""

    def dimensions(self) -> tuple[Dimension, ...]:
        """The lengths the law fixes, where they can be measured on this artwork."""


class Dimension(Struct, frozen=True):
    """A length the law fixes, between two points of the artwork: what a specimen page draws its measure arrows from.

    name: the requirement's measure (``side``, ``inset``, ``line``, ``lettering``, ...); value: mm on this artwork.
    """

    name: str
    start: Point
    end: Point

    @property
    def value(self) -> float:
        return math.dist(self.start, self.end)


class _Wrapped(Struct, frozen=True):
    """Another piece of artwork, seen through a transform; what is not said here is as the whole says it."""

    whole: Artwork

    @property
    def by(self) -> Transform:
        raise NotImplementedError

    @property
    def colour(self) -> bool:
        return self.whole.colour

    @property
    def bleeds(self) -> bool:
        return self.whole.bleeds

    def draw(self, pen: Pen) -> None:
        self.whole.draw(TransformPen(pen, self.by))

    def draw_bleed(self, pen: Pen, by: float) -> None:
        self.whole.draw_bleed(TransformPen(pen, self.by), by / self.by.scale)

    def dimensions(self) -> tuple[Dimension, ...]:
        return tuple(Dimension(d.name, self.by.point(*d.start), self.by.point(*d.end)) for d in self.whole.dimensions())


class Scaled(_Wrapped, frozen=True):
    """A piece of artwork reduced in proportion, lines and letters too."""

    scale: float
    note: str
    step: int
    reduced: bool = True

    @property
    def by(self) -> Transform:
        return Transform.scaled(self.scale)

    @property
    def width(self) -> float:
        return self.whole.width * self.scale

    @property
    def height(self) -> float:
        return self.whole.height * self.scale

    @property
    def side(self) -> float | None:
        return None if self.whole.side is None else self.whole.side * self.scale

    @property
    def shape(self) -> str:
        return self.whole.shape


class TurnedSquare(_Wrapped, frozen=True):
    """A square on its point, turned 45 degrees anticlockwise to lie flat and save stock: its top is the UPPER LEFT."""

    shape = RECTANGLE

    @property
    def by(self) -> Transform:
        half = self.whole.width / 2
        return (
            Transform.moved(-half, -half).then(Transform.turned(45)).then(Transform.moved(self.side / 2, self.side / 2))
        )

    @property
    def side(self) -> float:
        assert self.whole.side is not None
        return self.whole.side

    @property
    def width(self) -> float:
        return self.side

    @property
    def height(self) -> float:
        return self.side

    @property
    def note(self) -> str:
        return self.whole.note

    @property
    def reduced(self) -> bool:
        return self.whole.reduced

    @property
    def step(self) -> int:
        return self.whole.step


@lru_cache(maxsize=512)
def recorded(artwork: Artwork, bleed: float = 0.0) -> RecordingPen:
    """Its strokes, bleed first: asked for once, then remembered, for the same label stands on many sheets and diagrams."""
    pen = RecordingPen()
    if bleed:
        artwork.draw_bleed(pen, bleed)
    artwork.draw(pen)
    return pen


@lru_cache(maxsize=64)
def outlined(artwork: Artwork) -> RecordingPen:
    """The same with its letters as paths, for a pen that bends or shears them."""
    pen = RecordingPen()
    for call in recorded(artwork).calls:
        if isinstance(call, Text):
            pen.fill(call.path, call.ink)
        else:
            call.onto(pen)
    return pen


def placed(artwork: Artwork, at: Transform, bleed: float = 0.0) -> Stored:
    """The artwork as a drawing that a file keeps once, however often it stands there."""
    return _drawing(artwork, bleed)._replace(at=at)


@lru_cache(maxsize=512)
def _drawing(artwork: Artwork, bleed: float) -> Stored:
    """Where it was drawn. Artwork is a value, so what it is says what its strokes are, and names them."""
    key = f"{LASTING}{hashlib.sha256(repr((artwork, bleed)).encode()).hexdigest()[:16]}"
    room = Box(0, 0, artwork.width, artwork.height).grown(2 * bleed + 1)
    return Stored(key, room, recorded(artwork, bleed).value, Transform())


def turned_square(artwork: Artwork) -> TurnedSquare:
    """Draw a square-on-point label as a side x side square; ValueError for any other shape."""
    if artwork.shape != SQUARE_ON_POINT or artwork.side is None:
        raise ValueError(f"only a square on its point can be turned to lie flat, not a {artwork.shape}")
    return TurnedSquare(artwork)


def diamond(side: float, centre: tuple[float, float] | None = None, inset: float = 0.0) -> list[Point]:
    """The corners, anticlockwise from the right, of a square on its point, ``inset`` mm inside the edge ``side``."""
    cx, cy = centre or (side / DIAGONAL, side / DIAGONAL)
    h = (side - 2 * inset) / DIAGONAL
    return [Point(cx + h, cy), Point(cx, cy + h), Point(cx - h, cy), Point(cx, cy - h)]


def part(shape: list[Point], x0: float, y0: float, x1: float, y1: float) -> list[Point]:
    """The part of a convex shape inside an upright rectangle."""
    return clipped(shape, [(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


def mm(value: Decimal | float) -> float:
    """A measure of the law, as the float artwork draws with (float only here: limits were decided before)."""
    return float(value)
