"""The same record gives the same bytes on every Python sixface says it runs on, where these are here with its libraries."""

from __future__ import annotations

import os
import shutil
import sys

import pytest

from tests.determinism import asked, lacks

VERSIONS = ("3.11", "3.12", "3.13")


@pytest.mark.parametrize("version", [one for one in VERSIONS if one != f"3.{sys.version_info.minor}"])
def test_other_interpreters_make_the_same_bytes(version: str) -> None:
    """``SIXFACE_PYTHONS`` names them (paths, parted by ":"), else those of the search path are asked."""
    named = [one for one in os.environ.get("SIXFACE_PYTHONS", "").split(os.pathsep) if version in one]
    python = named[0] if named else shutil.which(f"python{version}")
    if python is None or (why := lacks(python)) is not None:
        pytest.skip(f"no Python {version} with sixface's libraries is here" + (f": {why}" if python else ""))
    right, made = asked(sys.executable), asked(python)
    assert len(right) > 200
    assert {name for name in right.keys() | made.keys() if right.get(name) != made.get(name)} == set()
