"""What step 3 answers: every mark with its face and place, or the reason why not. Plain values, no logic."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from msgspec import Struct

from layouts.faces import Area, Solid
from layouts.geometry import Box
from marks.requirement import Finding, Requirement
from marks.terms import Face, Level, PackageForm

if TYPE_CHECKING:
    from layouts.artwork.base import Artwork


class Placed(Struct, frozen=True):
    """One mark on one face. x, y: its lower left corner from the face's lower left corner, mm; turn: degrees.

    there: the packaging bears it already, so it is not printed; assumed: it does, but the record does not say where.
    number: ties the drawing to its line of text. why_here: a plain sentence.
    """

    requirement: Requirement
    artwork: Artwork
    face: Face
    x: float
    y: float
    width: float
    height: float
    turn: int = 0
    there: bool = False
    assumed: bool = False
    number: int = 0
    why_here: str = ""

    @property
    def box(self) -> Box:
        """Where it is on its face, mm."""
        return Box(self.x, self.y, self.width, self.height)


class Tried(Struct, frozen=True):
    """A step of the search. why_not: why it did not do; empty of the one that did. cite: the paragraphs that allow it."""

    name: str
    why_not: str = ""
    cite: tuple[str, ...] = ()


class Placement(Struct, frozen=True, dict=True):
    """solid: as it was used (a round one may be stretched, a tag tied to it); items: numbered from 1; keep_clear: what took
    no mark; others: already there though nothing asks for them, and the specification mark at an assumed place; working:
    the face with the labels; carrier: room left for the carrier's label; steps: what was tried, the last one taken."""

    solid: Solid
    items: tuple[Placed, ...] = ()
    keep_clear: tuple[Area, ...] = ()
    others: tuple[Area, ...] = ()
    findings: tuple[Finding, ...] = ()
    working: Face = Face.FRONT
    carrier: Area | None = None
    steps: tuple[Tried, ...] = ()

    @property
    def refused(self) -> bool:
        """Whether the marks found no place."""
        return any(finding.level is Level.REFUSE for finding in self.findings)

    def on(self, face: Face) -> tuple[Placed, ...]:
        """What stands on a face."""
        return self._on.get(face, ())

    @cached_property
    def _on(self) -> dict[Face, tuple[Placed, ...]]:
        return {face: tuple(item for item in self.items if item.face is face) for face in {i.face for i in self.items}}


#: Of an overpack without a size: its marks are known, and no place is.
NOWHERE = Placement(Solid(PackageForm.BOX, 0, 0, 0))
