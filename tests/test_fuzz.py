"""A small number of the records of tests/fuzz.py; ``python -m tests.fuzz --count 20000`` tries many."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests import fuzz

#: Records in the ordinary run; each is some hundredths of a second.
COUNT = 60


def test_drawn_and_damaged_records_get_an_answer_or_a_clear_error() -> None:
    """No traceback, no half answer, within two seconds of the processor and 300 MB, in a process of its own, as memory is
    counted for a process; a promise of ours, no source."""
    command = [sys.executable, "-m", "tests.fuzz", "--count", str(COUNT), "--seed", "20261125"]
    done = subprocess.run(command, cwd=Path(__file__).parents[1], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-3000:]
    statuses = set(map(int, re.findall(r"exit (\d):", done.stdout)))
    assert {0, 2} <= statuses <= {0, 1, 2}
    assert int(re.search(r"^(\d+) records", done.stdout, re.MULTILINE)[1]) >= COUNT  # type: ignore[index]


def test_what_is_no_clear_answer_is_seen(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A test of the test: an exit status of its own, an error without words, an answer beside an error."""
    for status, said, told in (
        (3, "", ""),
        (2, "", ""),
        (2, "an answer", "sixface: no"),
        (0, "", ""),
        (2, "", "Traceback"),
    ):

        def answers(words: list[str], status: int = status, said: str = said, told: str = told) -> int:
            import sys

            print(said, end="")
            print(told, end="", file=sys.stderr)
            return status

        monkeypatch.setattr(fuzz, "sixface", answers)
        with pytest.raises(fuzz.Broken):
            fuzz.check(".yaml", b"", ("plan",), tmp_path)
