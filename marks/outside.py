"""The outside of a package: its size, the marks it bears already, and where no label may go."""

# No annotations from __future__: pydantic reads them, and would have to make types of their texts first.
import re
from collections.abc import Mapping
from typing import Annotated, Any, Literal, Self

from pydantic import Discriminator, GetJsonSchemaHandler, Tag, model_validator
from pydantic_core import core_schema

from marks.errors import Unreadable
from marks.fields import Line, Loc, Model, Side, Word, refuse_all
from marks.quantity import Length, Offset, quoted

# Every mark a plan can name; ``hazard-label`` takes a variant after it, as in ``hazard-label 3``.
MARK_NAMES = (
    "hazard-label", "un-number", "proper-shipping-name", "shipper", "consignee", "net-quantity", "gross-mass",
    "orientation-arrows", "cargo-aircraft-only", "environmentally-hazardous", "limited-quantity",
    "limited-quantity-air", "excepted-quantity",
    "battery", "keep-away-from-heat", "cryogenic-liquid", "magnetized-material", "cooling-agent",
    "salvage", "overpack", "responsible-person", "package-type", "elevated-temperature", "inhalation-hazard",
    "poison", "reportable-quantity", "ex-number", "biological-substance", "battery-condition",
    "net-explosive-mass",
)  # fmt: skip
_VARIANT = r"1|1\.[1-6][A-S]?|2\.[123]|3|4\.[123]|5\.[12]|6\.[12]|7-(I|II|III)|7E|8|9A?|(2\.3|6\.1)-inhalation"


class BoxSize(Model):
    """Outer length and width of the base, and height, as the package stands."""

    length: Length
    width: Length
    height: Length


class DrumSize(Model):
    """Outer diameter and height of a drum or cylinder."""

    diameter: Length
    height: Length


def _shape(value: object) -> str:
    keys = value if isinstance(value, Mapping) else ()
    return "drum" if isinstance(value, DrumSize) or "diameter" in keys else "box"


Size = Annotated[Annotated[BoxSize, Tag("box")] | Annotated[DrumSize, Tag("drum")], Discriminator(_shape)]


class Preprinted(Model):
    """A mark the packaging already bears; where it stands may be said, from the face's lower left corner."""

    mark: Literal[MARK_NAMES]  # type: ignore[valid-type]
    variant: Word | None = None
    face: Side | None = None
    x: Offset | None = None
    y: Offset | None = None
    width: Length | None = None
    height: Length | None = None

    @model_validator(mode="before")
    @classmethod
    def _from_name(cls, value: object) -> object:
        if not isinstance(value, str):
            return value
        name, _, variant = value.strip().partition(" ")
        return {"mark": name, "variant": variant} if variant else {"mark": name}

    @model_validator(mode="after")
    def _consistent(self) -> Self:
        faults: list[tuple[Loc, Unreadable]] = []
        if (self.mark == "hazard-label") != (self.variant is not None):
            read = f"{self.mark} {self.variant or 'without variant'}"
            write = "write it as in hazard-label 3" if self.variant is None else f"write {self.mark} alone"
            faults.append((("variant",), Unreadable(read, "hazard labels, and they alone, have variants", write)))
        elif self.variant is not None and not re.fullmatch(_VARIANT, self.variant):
            why = "there is no such hazard label"
            faults.append(
                (("variant",), Unreadable(quoted(self.variant), why, "write a class or division, as in 3, 6.1, 1.4S"))
            )
        place = (self.x, self.y, self.width, self.height)
        if any(p is not None for p in place) and (None in place or self.face is None):
            why = "a place has a face, x, y, width and height, or none of them but the face"
            faults.append(((), Unreadable("a part of a place", why, "write them all, or leave them out")))
        if faults:
            refuse_all("preprinted", faults)
        return self

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Any:
        return {"anyOf": [{"type": "string", "description": "a mark's name, as in hazard-label 3"}, handler(schema)]}

    @property
    def placed(self) -> bool:
        """Whether the record says exactly where it stands."""
        return self.x is not None


class KeepClear(Model):
    """A part of a face that takes no label, from the face's lower left corner."""

    face: Side
    x: Offset
    y: Offset
    width: Length
    height: Length
    why: Line | None = None
