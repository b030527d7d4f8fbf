"""The code's own tools have nothing to say: ruff by the rules of pyproject.toml, mypy in its strictest mode."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("tool", [("ruff", "check", "--output-format", "concise"), ("mypy",)], ids=lambda tool: tool[0])
def test_the_tools_find_nothing(tool: tuple[str, ...]) -> None:
    done = subprocess.run([sys.executable, "-m", *tool], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout[-5000:] + done.stderr[-2000:]
