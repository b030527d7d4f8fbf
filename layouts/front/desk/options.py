"""What a field that is chosen offers: words of the record, each with how it is read."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from layouts.front.desk.entries import Goods
from layouts.front.desk.fields import Field
from marks.fields import countries
from marks.goods.lookup import summary
from marks.outside import MARK_NAMES
from marks.packaging import types

Options = tuple[tuple[str, str], ...]

_READ = {
    "ship_as": {"full": "in full", "limited": "as limited quantity", "excepted": "as excepted quantity"},
    "absorbent": {"none": "none of the liquid", "some": "some of the liquid", "full": "all of the liquid"},
}


def options_of(field: Field, goods: Goods | None, value: str) -> Options:
    """Value and words of every option; a value that is none of them is kept as one more."""
    found = _options(field, goods)
    if value and found and value not in (one for one, _ in found):
        return (*found, (value, f"{value} (as it was written)"))
    return found


def _options(field: Field, goods: Goods | None) -> Options:
    if field.kind == "flag":
        return (("true", "yes"), ("false", "no"))
    if field.kind == "country":
        return _countries()
    if field.kind == "code":
        return _codes()
    if field.kind not in ("choice", "many"):
        return ()
    if field.key == "packing_group" and goods is not None and goods.lines:
        return _alike(entry.packing_group for entry in goods.lines if entry.packing_group)
    if field.options:
        return tuple((one, _READ.get(field.key, {}).get(one, one)) for one in field.options)
    if field.key == "mark":
        return tuple((one, one.replace("-", " ")) for one in MARK_NAMES)
    if goods is not None and goods.lines:
        left = goods.choices or goods.lines
        if field.key == "name":
            return _alike(name for entry in left for name in entry.names)
        return tuple((str(entry.line), f"{entry.line}: {summary(entry)}") for entry in left)
    return ()


def _alike(words: Iterable[str]) -> Options:
    return tuple((one, one) for one in dict.fromkeys(words))


@cache
def _countries() -> Options:
    return tuple((code, f"{name} ({code})") for code, name in sorted(countries().items(), key=lambda pair: pair[1]))


@cache
def _codes() -> Options:
    return (
        *((code, kind.text) for code, kind in types().items()),
        ("none", "no packaging of its own"), ("cylinder", "gas cylinder"),
    )  # fmt: skip
