"""A desk on a free port over a folder of its own, and a browser before it. What is not installed is said, and skipped."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
#: The record that work asked without a server is mostly about.
RECORD = "isopropanol-three-modes.yaml"
CHROMIUM = next((path for name in ("chromium", "chromium-browser") if (path := shutil.which(name))), None)


@dataclass(frozen=True)
class Desk:
    """A running desk: its address and its folder."""

    url: str
    folder: Path

    def log(self, record: str) -> list[list[str]]:
        """The packing log of a record, in columns."""
        path = self.folder / f"{Path(record).stem}.packing.log"
        return [line.split("\t") for line in path.read_text("utf-8").splitlines()] if path.exists() else []


def begin(folder: Path, *options: str) -> tuple[subprocess.Popen[str], str]:
    """Start ``sixface desk`` on a free port; the process and what it says to open."""
    for name in ("starlette", "uvicorn", "jinja2", "python_multipart"):
        pytest.importorskip(name, reason=f"{name} is not installed: the desk is not tested (pip install -e '.[dev]')")
    process = subprocess.Popen(
        [sys.executable, "-m", "layouts.front.cli", "desk", "--port", "0", "--folder", str(folder), *options],
        cwd=ROOT, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )  # fmt: skip
    assert process.stdout is not None
    line = process.stdout.readline()
    found = re.search(r"http://[\d.]+:\d+(/\?key=\S+)?", line)
    assert found, f"the desk did not say where it is: {line!r}"
    return process, found[0]


def end(process: subprocess.Popen[str]) -> None:
    process.send_signal(signal.SIGINT)
    try:
        process.wait(10)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


@pytest.fixture(scope="session")
def session_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    folder = tmp_path_factory.mktemp("records")
    process, url = begin(folder)
    yield Desk(url, folder)
    end(process)


@pytest.fixture
def desk(session_desk: Desk) -> Desk:
    """The desk with the examples in its folder, and nothing else."""
    for path in session_desk.folder.iterdir():
        path.unlink()
    for path in (ROOT / "examples").glob("*.yaml"):
        shutil.copy(path, session_desk.folder)
    return session_desk


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed: the page is not tried out")
    if CHROMIUM is None:
        pytest.skip("chromium is not installed: the page is not tried out (apt-get install chromium)")
    with api.sync_playwright() as play:
        found = play.chromium.launch(
            executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"]
        )
        yield found
        found.close()


@pytest.fixture
def page(browser: Any, desk: Desk) -> Iterator[Any]:
    """A page of a wide window; whatever its console complains of fails the test."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, base_url=desk.url, locale="en-GB")
    found = context.new_page()
    found.set_default_timeout(8000)
    complaints: list[str] = []
    found.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
    found.on("pageerror", lambda error: complaints.append(str(error)))
    found.complaints = complaints
    yield found
    context.close()
    assert not complaints


def answered(page: Any) -> None:
    """Wait until the page has taken the answer to everything that was done so far."""
    page.locator("html[data-script='ready']").wait_for()


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A folder with one record in it, for work that is asked without a server."""
    found = tmp_path.resolve() / "records"
    found.mkdir()
    shutil.copy(ROOT / "examples" / RECORD, found)
    return found
