"""What a rule can answer: a mark that must be there, one that need not, a finding. Made in step 2, read in step 3."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType

from msgspec import Struct, field

from marks.terms import Level, Mode, VerdictWord

NO_MEASURES: Mapping[str, Decimal] = MappingProxyType({})


class Where(StrEnum):
    """On how many faces the law wants the mark. The faces themselves are chosen in step 3."""

    ONE = "one"
    TWO_OPPOSITE = "two-opposite"


class Requirement(Struct, frozen=True):
    """A mark or label that one package must show.

    mark: the mark's name, for instance ``hazard-label``.
    variant: which one of its kind (``3``, ``1.4G``), or None.
    words: the lines of text it carries, top to bottom; the first line of a name block is the heading word.
    measures: the lengths the law fixes, in mm, by name (``side``, ``inset``, ``line``, ``lettering``, ...);
        artwork takes every legal figure from here. A name starting with ``least_`` is the smallest reduced form.
    group: marks of one group stand on the same face near each other; ``hazard`` is labels, number, name and what
        must be near them; ``address`` is the two addresses; None stands where there is room.
    preprinted: the packaging already bears it; it takes room but is not printed again.
    goods: positions of the goods in the package this mark is for.
    modes: the modes that ask for it (one, before the journey's union).
    """

    mark: str
    why: str
    cite: tuple[str, ...]
    variant: str | None = None
    words: tuple[str, ...] = ()
    where: Where = Where.ONE
    group: str | None = None
    measures: Mapping[str, Decimal] = field(default_factory=lambda: NO_MEASURES)
    preprinted: bool = False
    goods: tuple[int, ...] = ()
    modes: tuple[Mode, ...] = ()

    def __hash__(self) -> int:
        return hash((self.key, self.why, self.modes))  # measures are a mapping, which has no hash

    @property
    def size_mm(self) -> tuple[float, float] | None:
        """The least width and height the law asks for, in mm, at full size; None: no figure.

        Of a square on its point these are its edges.
        """
        m = self.measures
        if "side" in m:
            return float(m["side"]), float(m["side"])
        if "width" in m and "height" in m:
            return float(m["width"]), float(m["height"])
        return None

    @property
    def min_text_mm(self) -> float | None:
        """The least height of its letters (capital height), in mm; None: no figure."""
        return float(self.measures["lettering"]) if "lettering" in self.measures else None

    @property
    def key(self) -> tuple[str, str | None, tuple[str, ...]]:
        """What makes two requirements the same printed mark."""
        return self.mark, self.variant, self.words


class Waived(Struct, frozen=True):
    """A mark that need not be there, and why: "not required" is an answer with a paragraph too."""

    mark: str
    why: str
    cite: tuple[str, ...]
    variant: str | None = None


class Finding(Struct, frozen=True):
    """What a person must know: a refusal, a caution or a note. ``code`` is stable, ``text`` is for reading."""

    level: Level
    code: str
    text: str
    cite: tuple[str, ...] = ()


class ModeDecision(Struct, frozen=True):
    """What one mode asks of one package."""

    mode: Mode
    verdict: VerdictWord
    marks: tuple[Requirement, ...] = ()
    waived: tuple[Waived, ...] = ()
    findings: tuple[Finding, ...] = ()
    descriptions: tuple[str, ...] = ()


class PackageDecision(Struct, frozen=True):
    """What every mode asks of one package, and the journey's union: what is really printed."""

    package: str
    count: int
    modes: Mapping[Mode, ModeDecision]
    verdict: VerdictWord = VerdictWord.SHIP
    marks: tuple[Requirement, ...] = ()
