"""The kinds of value a record holds besides quantities: each read from text, strictly, with the cure in its refusal."""

from __future__ import annotations

import datetime
import re
import unicodedata
from collections.abc import Callable, Iterable
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Annotated, Any, NoReturn

from msgspec import Struct
from pydantic import (
    BaseModel,
    ConfigDict,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    ValidationError,
)
from pydantic_core import InitErrorDetails, core_schema

from marks.errors import Unreadable
from marks.quantity import quoted
from marks.terms import SIX, Face

Loc = tuple[str | int, ...]


class Model(BaseModel):
    """What every model of the record is: it cannot be changed, and takes no key it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


def refuse_all(title: str, faults: Iterable[tuple[Loc, Unreadable]], also: ValidationError | None = None) -> NoReturn:
    """Raise several faults at once from a model's validator, each at its place (and those of ``also``)."""
    details = [
        InitErrorDetails(type=e["type"], loc=e["loc"], input=e["input"], ctx=e.get("ctx", {}))
        for e in (also.errors(include_url=False) if also else ())
    ]
    details += [
        InitErrorDetails(type="value_error", loc=loc, input=None, ctx={"error": error}) for loc, error in faults
    ]
    raise ValidationError.from_exception_data(title, details)


# --- text -----------------------------------------------------------------------------------------

# Controls have no name in Unicode's data; these are the names of ISO/IEC 6429.
_CONTROLS = {
    "\x00": "NULL", "\x07": "BELL", "\x08": "BACKSPACE", "\t": "TAB", "\n": "LINE FEED", "\x0b": "LINE TABULATION",
    "\x0c": "FORM FEED", "\r": "CARRIAGE RETURN", "\x1b": "ESCAPE", "\x7f": "DELETE", "\x85": "NEXT LINE",
}  # fmt: skip
_NAMELESS = {"Cc": "CONTROL", "Cs": "SURROGATE", "Co": "PRIVATE USE", "Cn": "UNASSIGNED"}


def strange(text: str, but: str = "") -> str | None:
    """The first character no label can bear, in words, or None.

    Controls, line and paragraph separators, invisible format characters (among them those that turn the direction of
    writing), halves of surrogate pairs, private and unassigned characters. ``but``: those to let pass.
    """
    if text.isascii() and text.isprintable():
        return None
    for c in text:
        category = unicodedata.category(c)
        if category in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") and c not in but:
            name = _CONTROLS.get(c) or unicodedata.name(c, _NAMELESS.get(category, "FORMAT"))
            return f"the character U+{ord(c):04X} {name}"
    return None


def read_text(value: object, most: int) -> str:
    """One line of text as it is printed: composed characters (NFC), single spaces, nothing invisible."""
    if isinstance(value, int | float | Decimal) and not isinstance(value, bool):
        value = str(value)
    if not isinstance(value, str):
        raise Unreadable(kind_of(value), "one line of text belongs here", 'write it as one text, as in "Example Ltd"')
    if bad := strange(value):
        write = "write one line" if "LINE FEED" in bad else "take that character out"
        raise Unreadable(quoted(value), f"it contains {bad}, which no label can bear", write)
    text = " ".join(unicodedata.normalize("NFC", value).split())
    if not text:
        raise Unreadable(
            "an empty text", "something must be said here", "write it, or leave the key out where it is optional"
        )
    if len(text) > most:
        raise Unreadable(quoted(text), f"it has {len(text)} characters", f"write at most {most}")
    return text


def kind_of(value: object) -> str:
    """What a message calls a value that is of the wrong kind."""
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, dict):
        return "a group of keys"
    return "nothing" if value is None else quoted(value)


class _Read(Struct, frozen=True, eq=False):
    """How a field is read from what the record holds, and what a JSON Schema says of it."""

    read: Callable[[object], object]
    schema: dict[str, Any]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Any:
        return dict(self.schema)


def _as(read: Callable[[object], object], **schema: Any) -> _Read:
    return _Read(read, schema)


def _at_most(most: int) -> _Read:
    return _as(lambda value: read_text(value, most), type="string", minLength=1, maxLength=most)


Text = Annotated[str, _at_most(200)]
Line = Annotated[str, _at_most(80)]
Word = Annotated[str, _at_most(30)]


class AList(Struct, frozen=True):
    """Of how many values a list is. Told before its values are read, so that a broken one does not count as none."""

    least: int = 1
    most: int = 10_000

    def check(self, value: object) -> object:
        """The list as it is. Raises Unreadable where it is none, too short or too long."""
        if not isinstance(value, list | tuple):
            write = "write [one, two], or each after a dash on its own line"
            raise Unreadable(kind_of(value), "a list belongs here", write)
        if len(value) < self.least:
            raise Unreadable("an empty list", "at least one belongs here", "write it")
        if len(value) > self.most:
            write = "leave some out, or make two records of it"
            raise Unreadable(f"a list of {len(value)}", f"{self.most} is the most", write)
        return value

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self.check, handler(source))

    def __get_pydantic_json_schema__(self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler) -> Any:
        return handler(schema) | {"minItems": self.least, "maxItems": self.most}


# --- numbers, days, yes and no --------------------------------------------------------------------


def _count(value: object) -> object:
    if isinstance(value, int) and not isinstance(value, bool):
        value = str(value)
    if not isinstance(value, str) or not re.fullmatch(r"[0-9]{1,6}", value.strip()):
        raise Unreadable(kind_of(value), "a count is a whole number of things", "write it in figures alone, as in 12")
    if not int(value):
        raise Unreadable(quoted(value), "a count of nothing is none", "write 1 or more")
    return int(value)


def _pure(value: object) -> object:
    if isinstance(value, int | float | Decimal) and not isinstance(value, bool):
        value = str(value)
    if not isinstance(value, str) or not re.fullmatch(r"[0-9]{1,6}([.,][0-9]{1,6})?", value.strip()):
        raise Unreadable(kind_of(value), "a pure number belongs here, with no unit and no sign", "write it as in 0.8")
    return Decimal(value.strip().replace(",", "."))


def _flag(value: object) -> object:
    if isinstance(value, bool):
        return value
    if isinstance(value, str) and value in ("true", "yes", "false", "no"):
        return value in ("true", "yes")
    raise Unreadable(kind_of(value), "the answer is yes or no", "write true or false")


def _day(value: object) -> object:
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return value
    if not isinstance(value, str) or not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value.strip()):
        raise Unreadable(kind_of(value), "a day is year, month, day in figures", "write it as in 2026-11-25")
    try:
        return datetime.date.fromisoformat(value.strip())
    except ValueError:
        raise Unreadable(
            quoted(value), "the calendar has no such day", "write year-month-day, as in 2026-11-25"
        ) from None


def _month(value: object) -> object:
    if isinstance(value, datetime.date):
        return value.replace(day=1)
    found = re.fullmatch(r"([0-9]{4})-(0[1-9]|1[0-2])", value.strip()) if isinstance(value, str) else None
    if not found:
        raise Unreadable(kind_of(value), "a month is year and month in figures", "write it as in 2026-05")
    return datetime.date(int(found[1]), int(found[2]), 1)


def _celsius(value: object) -> object:
    if isinstance(value, Decimal):
        return value
    found = re.fullmatch(r"([-−]?[0-9]{1,4}(?:[.,][0-9]{1,2})?) ?°C", value.strip()) if isinstance(value, str) else None
    if not found:
        raise Unreadable(kind_of(value), "a temperature in degrees Celsius belongs here", 'write it as in "23 °C"')
    return Decimal(found[1].replace("−", "-").replace(",", "."))


def _side(value: object) -> object:
    if isinstance(value, str) and value in SIX:
        return Face(value)
    words = ", ".join(SIX[:-1])
    raise Unreadable(kind_of(value), "it is none of the words known here", f"write {words} or {SIX[-1]}")


#: One of the six faces.
Side = Annotated[Face, _as(_side, type="string", enum=[face.value for face in SIX])]
Count = Annotated[int, _as(_count, type="integer", minimum=1, maximum=999999)]
PureNumber = Annotated[Decimal, _as(_pure, type=["number", "string"], minimum=0, pattern=r"^[0-9]+([.,][0-9]+)?$")]
Flag = Annotated[bool, _as(_flag, type="boolean")]
Day = Annotated[datetime.date, _as(_day, type="string", format="date")]
#: The first day of a month.
Month = Annotated[datetime.date, _as(_month, type="string", pattern="^[0-9]{4}-(0[1-9]|1[0-2])$")]
Celsius = Annotated[Decimal, _as(_celsius, type="string", pattern="^[-−]?[0-9]{1,4}([.,][0-9]{1,2})? ?°C$")]

# --- names the world agrees on --------------------------------------------------------------------


def _un_number(value: object) -> object:
    if isinstance(value, int) and not isinstance(value, bool):
        value = f"{value:04d}"
    found = re.fullmatch(r"(?:(UN|NA|ID) ?)?([0-9]{4})", value.strip().upper()) if isinstance(value, str) else None
    if not found:
        short = re.fullmatch(r"(?:UN ?)?([0-9]{1,3})", value.strip(), re.IGNORECASE) if isinstance(value, str) else None
        raise Unreadable(
            kind_of(value),
            "an identification number has four figures",
            f"write {short[1]:0>4} if that is meant"
            if short
            else "write it as in 1219 or 0336 (NA1993, ID8000 with the letters)",
        )
    return (found[1] if found[1] in ("NA", "ID") else "") + found[2]


@cache
def countries() -> dict[str, str]:
    """Code to English short name, of ISO 3166-1 alpha-2."""
    text = Path(__file__).with_name("countries.txt").read_text("utf-8")
    return dict(line.split(" ", 1) for line in text.splitlines() if line and not line.startswith("#"))


def _country(value: object) -> object:
    text = value.strip() if isinstance(value, str) else ""
    if text in countries():
        return text
    near = [
        code for code, name in countries().items() if text and text.casefold() in (code.casefold(), name.casefold())
    ]
    raise Unreadable(
        kind_of(value),
        "a country is given by its two capital letters (ISO 3166-1)",
        f"write {near[0]}" if near else "write them as in NO for Norway, DE for Germany",
    )


UnNumber = Annotated[
    str,
    _as(
        _un_number,
        anyOf=[{"type": "string", "pattern": "^((UN|NA|ID) ?)?[0-9]{4}$"}, {"type": "integer", "minimum": 1000}],
    ),
]
Country = Annotated[str, _as(_country, type="string", pattern="^[A-Z]{2}$")]
