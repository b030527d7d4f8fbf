"""The plan's published form as pydantic models: ``sixface schema plan`` prints their JSON Schema, a test holds every plan to it.

Loaded only for that; a plan itself is written as plain values.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field


class _Form(BaseModel):
    model_config = ConfigDict(extra="forbid")


ModeName = Literal["road", "sea", "air", "us-ground"]
FaceName = Literal["front", "back", "left", "right", "top", "bottom"]
VerdictName = Literal["ship", "refuse", "not-subject"]


class FindingForm(_Form):
    """What a person must know."""

    level: Literal["refuse", "caution", "note"]
    code: str = Field(description="stable name of the finding")
    text: str
    cite: list[str]


class MarkForm(_Form):
    """A mark or label that must be there."""

    mark: str
    variant: str | None
    words: list[str] = Field(description="lines of text, top to bottom")
    faces: list[FaceName] = Field(description="faces it stands on; empty where the marks do not fit the package")
    size_mm: tuple[float, float] | None = Field(
        description="least width and height by law, mm; of a square on its point, its edges"
    )
    min_text_mm: float | None = Field(description="least height of letters by law, mm")
    preprinted: bool
    why: str
    cite: list[str] = Field(min_length=1)


class JourneyMarkForm(MarkForm):
    """A mark of the journey, with the modes that ask for it."""

    modes: list[ModeName]


class WaivedForm(_Form):
    """A mark that need not be there, and why."""

    mark: str
    variant: str | None
    why: str
    cite: list[str]


class PlacedForm(_Form):
    """A mark on a face; x and y from the face's lower left corner, mm."""

    mark: str
    variant: str | None
    words: list[str]
    face: FaceName
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    turn_deg: float


class ModeForm(_Form):
    """One mode's answer for one package."""

    verdict: VerdictName
    marks: list[MarkForm]
    waived: list[WaivedForm]
    findings: list[FindingForm]
    description: str = Field(description="the line for the transport document")


class JourneyForm(_Form):
    """All legs together: what is really printed."""

    verdict: VerdictName
    marks: list[JourneyMarkForm]
    placement: list[PlacedForm]
    findings: list[FindingForm]


class PackageForm(_Form):
    """A package under each mode, and on its journey."""

    package: str
    count: int
    modes: dict[ModeName, ModeForm]
    journey: JourneyForm


class OverpackForm(_Form):
    """An overpack: what it holds, and the answers in the form of a package's."""

    overpack: str
    packages: list[str]
    marks_visible: bool
    modes: dict[ModeName, ModeForm]
    journey: JourneyForm


class PlanForm(_Form):
    """The plan of one record."""

    plan: Literal["sixface/1"]
    reference: str
    digest: str = Field(pattern="^[0-9a-f]{64}$", description="sha256 of the normalised record")
    editions: dict[ModeName, str]
    packages: list[PackageForm]
    overpacks: list[OverpackForm]


def plan_schema() -> dict[str, Any]:
    """The JSON Schema of a plan."""
    schema = PlanForm.model_json_schema()
    return schema | {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "sixface plan"}
