"""The tables are parsed subject by subject; what comes out is what the whole file says (TOML 1.0, by the standard library)."""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest
import tomli

from marks.tables import Table, table

NAMES = sorted(one.name[:-5] for one in files("marks.tables").iterdir() if one.name.endswith(".toml"))


@pytest.mark.parametrize("name", NAMES)
def test_a_table_by_its_subjects_says_what_the_whole_file_says(name: str) -> None:
    whole = tomllib.loads((files("marks.tables") / f"{name}.toml").read_text("utf-8"))
    assert whole and dict(table(name)) == whole
    assert list(table(name)) == list(whole)


def test_a_line_given_twice_is_refused() -> None:
    with pytest.raises(tomli.TOMLDecodeError):
        Table("[a.b]\nx = 1\n[c]\ny = 1\n[a.b]\nx = 2\n")["a"]


def test_a_subject_the_file_does_not_have_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        table("limits")["nothing"]
