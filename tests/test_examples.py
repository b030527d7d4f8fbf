"""Every example runs, README shows what its commands print, and its two lines are the ones that are tried."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.readme import DEVELOPERS, FENCED, README, ROOT, TABLES, answer, editions_table, examples
from tests.test_commands import files_of, sixface

RECORDS = sorted((ROOT / "examples").glob("*.yaml"))
TEXT = README.read_text("utf-8")


def test_the_examples_cover_the_ordinary_cases() -> None:
    """One ordinary by three modes, limited, excepted, collective with technical name, mixed, drum, solid, refused."""
    texts = {path.stem: path.read_text("utf-8") for path in RECORDS}
    assert len(texts) >= 8
    for word in ("limited", "excepted", "technical_name", "1A", "refused"):
        assert any(word in text or word in stem for stem, text in texts.items()), word
    assert any("[road, sea, air]" in text for text in texts.values())


@pytest.mark.parametrize("record", RECORDS, ids=lambda path: path.stem)
def test_every_example_makes_its_sheets(record: Path, tmp_path: Path) -> None:
    refused = "refused" in record.stem
    done = sixface("sheets", record, "-o", tmp_path / "out")
    assert done.returncode == (1 if refused else 0), done.stdout + done.stderr
    names = files_of(tmp_path / "out")
    assert any("-packing" in name for name in names)
    assert any("-labels" in name or "-marks" in name for name in names) is not refused


@pytest.mark.parametrize("record", RECORDS, ids=lambda path: path.stem)
def test_every_example_compares(record: Path) -> None:
    done = sixface("compare", record)
    assert done.returncode in (0, 1) and not done.stderr


FOR_CONTRIBUTORS = DEVELOPERS.read_text("utf-8")


@pytest.mark.parametrize(
    "block", [*FENCED.finditer(TEXT), *FENCED.finditer(FOR_CONTRIBUTORS)], ids=lambda match: match["command"]
)
def test_readme_shows_what_its_commands_print(block: re.Match[str]) -> None:
    assert answer(block["command"]) == block["shown"]


@pytest.mark.parametrize("block", list(TABLES.finditer(TEXT)), ids=lambda match: match["what"])
def test_readme_tables_are_true(block: re.Match[str]) -> None:
    assert (examples() if block["what"] == "examples" else editions_table()) == block["shown"]


def test_every_file_that_developers_md_names_is_there() -> None:
    named = set(re.findall(r"`((?:marks|layouts|tests)/[\w./]*)`", FOR_CONTRIBUTORS))
    assert len(named) > 20
    assert not [name for name in sorted(named) if "SUBJECT" not in name and not (ROOT / name).exists()]
    assert len(list(FENCED.finditer(FOR_CONTRIBUTORS))) >= 4


def test_readme_has_answers_and_its_two_lines() -> None:
    assert len(list(FENCED.finditer(TEXT))) >= 4 and len(list(TABLES.finditer(TEXT))) == 2
    lines = re.findall(r"^    (python3 -m venv .*)$", TEXT, re.MULTILINE)
    assert len(lines) == 2
    assert "sixface sheets examples/" in lines[0] and "pytest" in lines[1]
    run = (ROOT / ".ci" / "run").read_text("utf-8")
    assert "README.md" in run and "<!-- tests -->" in run
