"""Mutants that change no answer, named in equal.toml with the reason: they are left out, and counted aloud."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from fnmatch import fnmatchcase
from functools import cache
from pathlib import Path
from typing import Any

from tests.mutation.trial import Mutant


@cache
def lines() -> tuple[Mapping[str, Any], ...]:
    """The lines of equal.toml."""
    return tuple(tomllib.loads(Path(__file__).with_name("equal.toml").read_text("utf-8"))["mutant"])


def reason(one: Mutant) -> str | None:
    """Why a mutant changes nothing; None for all that equal.toml does not name."""
    return next((line["why"] for line in lines() if _is(line, one)), None)


def _is(line: Mapping[str, Any], one: Mutant) -> bool:
    path, _, place = one.where.partition(" " if one.table else ":")
    held = fnmatchcase(place, line["line"]) if one.table else line["line"] in one.line
    return path == line["in"] and held and one.what.startswith(line.get("what", ""))
