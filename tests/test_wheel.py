"""The wheel builds, holds every file the code reads, installs into an empty environment and runs from another folder.

The libraries are lent by the interpreter that runs the tests, so that nothing is fetched but what building asks for.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
EXAMPLE = ROOT / "examples" / "isopropanol-three-modes.yaml"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Built from a copy, so that the checkout stays as it is."""
    copy, out = tmp_path_factory.mktemp("copy") / "sixface", tmp_path_factory.mktemp("wheel")
    copy.mkdir()
    for name in ("marks", "layouts"):
        shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, copy)
    done = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(out), str(copy)],
        capture_output=True,
        text=True,
    )
    if done.returncode and "setuptools" in done.stderr and "No matching distribution" in done.stderr:
        pytest.skip("setuptools, which builds the wheel, can't be fetched here")
    assert done.returncode == 0, done.stderr[-2000:]
    (built,) = out.glob("sixface-*.whl")
    return built


def test_every_file_of_the_packages_is_in_the_wheel(wheel: Path) -> None:
    there = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    ours = {
        str(path.relative_to(ROOT))
        for name in ("marks", "layouts")
        for path in (ROOT / name).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert there == ours


def test_installed_it_runs_from_another_folder(wheel: Path, tmp_path: Path) -> None:
    home = tmp_path / "env"
    venv.create(home, with_pip=False, symlinks=True)
    lent = sysconfig.get_path("purelib")

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        """In another folder, and without a word about where the checkout is."""
        env = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
        return subprocess.run(words, cwd=tmp_path, env=env, capture_output=True, text=True)

    python, sixface = str(home / "bin" / "python"), str(home / "bin" / "sixface")
    done = run(sys.executable, "-m", "pip", "--python", python, "install", "-q", "--no-deps", str(wheel))
    assert done.returncode == 0, done.stderr
    (site,) = home.glob("lib/python*/site-packages")
    (site / "lent.pth").write_text(f"{lent}\n", "utf-8")  # after its own: what is installed here comes first
    code = "import marks, layouts; print(marks.__file__, layouts.__file__)"
    asked = run(python, "-c", code)
    where = asked.stdout.split()
    assert not asked.returncode, asked.stderr
    assert len(where) == 2 and all(Path(one).is_relative_to(site) for one in where)
    assert run(sixface, "--version").stdout.startswith("sixface 0.")
    planned = run(sixface, "plan", str(EXAMPLE))
    assert planned.returncode == 0 and "cargo-aircraft-only" in planned.stdout, planned.stderr
    made = run(sixface, "sheets", str(EXAMPLE), "-o", "out")
    assert made.returncode == 0 and (tmp_path / "out" / "HD-26-0101-labels.pdf").read_bytes().startswith(b"%PDF"), (
        made.stderr
    )
    assert "--port" in run(sixface, "desk", "--help").stdout
    assert run(sixface, "goods", "1219").returncode == 0
