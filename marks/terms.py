"""The trade's own words as enums. Members are strings: they print and compare as the record writes them."""

from __future__ import annotations

from enum import StrEnum


class Mode(StrEnum):
    """A leg of the journey and the law that governs it."""

    ROAD = "road"
    SEA = "sea"
    AIR = "air"
    US_GROUND = "us-ground"

    @property
    def law(self) -> str:
        """The short name of the regulations of this mode, as citations begin."""
        return {"road": "ADR", "sea": "IMDG", "air": "ICAO TI", "us-ground": "49 CFR"}[self.value]


class Aircraft(StrEnum):
    """What is booked: an aircraft that carries passengers, or one for cargo alone."""

    PASSENGER = "passenger"
    CARGO = "cargo"


class PackingGroup(StrEnum):
    """The degree of danger of a substance: I great, II medium, III minor."""

    I = "I"  # noqa: E741 - the law's own numeral
    II = "II"
    III = "III"


class State(StrEnum):
    """How the goods are carried; an article is a thing that holds them."""

    LIQUID = "liquid"
    SOLID = "solid"
    GAS = "gas"
    ARTICLE = "article"


class ShipAs(StrEnum):
    """In full, or under one of the two reliefs of small packagings."""

    FULL = "full"
    LIMITED = "limited"
    EXCEPTED = "excepted"


class PackageForm(StrEnum):
    """The shape of a package, as far as marks care. Irregular: an article no face of which takes a label."""

    BOX = "box"
    DRUM = "drum"
    JERRICAN = "jerrican"
    BAG = "bag"
    CYLINDER = "cylinder"
    IBC = "ibc"
    IRREGULAR = "irregular"


class Colour(StrEnum):
    """What colour a package is on the outside, as far as a label must stand out from it."""

    BROWN = "brown"
    WHITE = "white"
    GREY = "grey"
    BLACK = "black"
    RED = "red"
    ORANGE = "orange"
    YELLOW = "yellow"
    GREEN = "green"
    BLUE = "blue"


class Face(StrEnum):
    """A face of a package. Front and back are the two larger upright faces. Two places that are none of the six: the
    shoulder of a gas cylinder, and a tag that is tied to the package."""

    FRONT = "front"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"
    SHOULDER = "shoulder"
    TAG = "tag"

    @property
    def iso2206(self) -> int | None:
        """The face's number in ISO 2206 (from memory: the observer faces a narrow end, numbered 5; 1 is the top, 2 the
        right side, 3 the base, 4 the left side, 6 the far end). Our front is a larger upright face, so it is side 2."""
        return {"top": 1, "front": 2, "bottom": 3, "back": 4, "left": 5, "right": 6}.get(self.value)

    @property
    def upright(self) -> bool:
        """Whether it is one of the four sides."""
        return self in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT)

    @property
    def opposite(self) -> Face:
        """The face across; shoulder and tag have none but themselves."""
        pairs = {"front": "back", "left": "right", "top": "bottom"}
        return Face((pairs | {v: k for k, v in pairs.items()}).get(self.value, self.value))


#: The faces of a box: where a record may say that something is.
SIX = (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT, Face.TOP, Face.BOTTOM)


class Level(StrEnum):
    """How grave a finding is: may not travel so; a person must decide or verify; good to know."""

    REFUSE = "refuse"
    CAUTION = "caution"
    NOTE = "note"


class VerdictWord(StrEnum):
    """The answer on a package: it may go, it may not, or the rules do not speak of it."""

    SHIP = "ship"
    REFUSE = "refuse"
    NOT_SUBJECT = "not-subject"
