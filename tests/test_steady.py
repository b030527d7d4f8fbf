"""What must not shake it: killed while writing, a full disk, folders that can't be written, text that would be code elsewhere."""

from __future__ import annotations

import io
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from layouts.files import write_whole
from tests.test_commands import EXAMPLES, HERE, ORDINARY, files_of, sixface

#: So many kills in the ordinary run; ``SIXFACE_KILLS=200`` makes the long one.
KILLS = int(os.environ.get("SIXFACE_KILLS", "8"))


def test_killed_at_any_moment_it_leaves_whole_files_only(tmp_path: Path) -> None:
    """SIGKILL at random moments: under a final name there is nothing or the whole file; the next run leaves nothing stray."""
    whole = tmp_path / "whole"
    began = time.monotonic()
    assert sixface("sheets", EXAMPLES / "xylenes-drum.yaml", "-o", whole).returncode == 0
    lasts = time.monotonic() - began
    right = files_of(whole)
    chance = random.Random(20261125)
    out = tmp_path / "out"
    for n in range(KILLS):
        process = subprocess.Popen(
            [sys.executable, "-m", "layouts.front.cli", "sheets", str(EXAMPLES / "xylenes-drum.yaml"), "-o", str(out)],
            cwd=HERE.parent, env={**os.environ, "PYTHONPATH": str(HERE.parent)},
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        time.sleep(chance.uniform(0.2 if n % 2 else 0.8, 1.05) * lasts)  # files are written at the end
        process.send_signal(signal.SIGKILL)
        process.wait()
        if out.exists():
            visible = {name: digest for name, digest in files_of_files(out).items() if not name.startswith(".")}
            assert visible.items() <= right.items()
    assert sixface("sheets", EXAMPLES / "xylenes-drum.yaml", "-o", out).returncode == 0
    assert files_of(out) == right
    assert not [path for path in out.iterdir() if path.name.startswith(".")]


def files_of_files(folder: Path) -> dict[str, str]:
    """As files_of, folders left out: an interrupted run may leave its hidden one until the next run."""
    import hashlib

    return {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in sorted(folder.iterdir()) if p.is_file()}


def test_a_file_appears_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "sheet.pdf"
    target.write_bytes(b"old")

    class Full(io.FileIO):
        def write(self, data: Any) -> int:
            super().write(data[: len(data) // 2])
            raise OSError(28, "No space left on device", str(self.name))

    monkeypatch.setattr(Path, "open", lambda self, mode: Full(self, mode))
    with pytest.raises(OSError, match="No space left"):
        write_whole(target, b"new and longer")
    monkeypatch.undo()

    def parts() -> Iterator[str]:
        yield "new and"
        raise OSError(5, "Input/output error")

    with pytest.raises(OSError, match="Input/output"):
        write_whole(target, parts())
    assert target.read_bytes() == b"old" and [path.name for path in tmp_path.iterdir()] == ["sheet.pdf"]


@pytest.mark.skipif(not Path("/proc/version").exists(), reason="no folder here that refuses root as well")
def test_a_folder_that_refuses_is_one_clear_line() -> None:
    done = sixface("sheets", ORDINARY, "-o", "/proc/sixface-out")
    assert done.returncode == 2 and len(done.stderr.strip().splitlines()) == 1
    assert "nothing was written" in done.stderr and "Traceback" not in done.stderr


HOSTILE = (
    "<script>alert(1)</script> & Sons",
    "Quote \" and ' and ]]> and <!-- x -->",
    ") Tj ET Q endstream endobj (",
    "url(#x) onload=alert(1) &lt;b&gt; %00 \\u202e",
    "${jndi:x} {{7*7}} `id` $(id); DROP TABLE",
)


@pytest.mark.parametrize("name", HOSTILE)
def test_text_that_would_be_code_elsewhere_is_printed_as_text(name: str, tmp_path: Path) -> None:
    """Shown with independent parsers: the PDF's text is the text, the SVG holds no script, link or handler."""
    import json

    from pypdf import PdfReader

    text = ORDINARY.read_text("utf-8")
    record = tmp_path / "hostile.yaml"
    record.write_text(text.replace("name: Havskar & Datter Kjemiske Verk AS", f"name: {json.dumps(name)}"), "utf-8")
    done = sixface("sheets", record, "-o", tmp_path / "out")
    assert done.returncode == 0, done.stderr
    words = "".join(page.extract_text() for path in (tmp_path / "out").glob("*-marks.pdf") for page in PdfReader(path).pages)
    squeezed = "".join(words.split())
    assert "".join(name.split()) in squeezed
    for path in (tmp_path / "out").glob("*.svg"):
        for element in ElementTree.parse(path).iter():
            assert element.tag.split("}")[-1] not in ("script", "foreignObject", "image", "a", "iframe")
            for key, value in element.attrib.items():
                assert not key.lower().startswith("on")
                assert "javascript:" not in value
                if key.endswith("href"):
                    assert value.startswith("#")


@pytest.mark.parametrize(
    "name, says",
    [("x" * 10_000, "characters"), ("left\u202eright", "U+202E"), ("nul\x00l", ""), ("line\nbreak", "U+000A"), ("\ud800", "")],
)
def test_text_no_label_can_bear_is_refused(name: str, says: str, tmp_path: Path) -> None:
    import json

    data = {"record": "sixface/1", "shipper": {"name": name, "address": ["x"], "country": "NO"}}
    record = tmp_path / "hostile.json"
    record.write_text(json.dumps(data), "utf-8")
    done = sixface("plan", record)
    assert done.returncode == 2 and "shipper.name" in done.stderr and says in done.stderr and "Traceback" not in done.stderr


def test_a_thousand_packages_are_planned(tmp_path: Path) -> None:
    text = ORDINARY.read_text("utf-8")
    head, package = text.split("packages:\n")
    body = "".join(package.replace("- package: A", f"- package: P{n}", 1) for n in range(1000))
    record = tmp_path / "many.yaml"
    record.write_text(f"{head}packages:\n{body}", "utf-8")
    done = sixface("plan", record, "--json")
    assert done.returncode == 0, done.stderr[:500]


COMMANDS = (
    ("sheets", "examples/xylenes-drum.yaml", "-o", "{out}/sheets"),
    ("sheets", "examples", "-o", "{out}/many"),
    ("compare", "examples/xylenes-drum.yaml", "-o", "{out}/compared.pdf"),
    ("papers", "examples/xylenes-drum.yaml", "-o", "{out}/papers.pdf"),
    ("specimens", "-o", "{out}/specimens"),
)


def refused_for(words: tuple[str, ...], out: Path, why: str, limit: int = 0) -> None:
    """The command ends with status 2, one line that says why, and leaves nothing of its own. limit: bytes of a file."""
    import resource

    done = subprocess.run(
        [sys.executable, "-m", "layouts.front.cli", *(word.format(out=out) for word in words)],
        cwd=HERE.parent, env={**os.environ, "PYTHONPATH": str(HERE.parent)}, capture_output=True, text=True,
        preexec_fn=(lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))) if limit else None,
    )  # fmt: skip
    lines = [line for line in done.stderr.strip().splitlines() if not line.startswith(("drawn ", "\r"))]
    assert done.returncode == 2 and len(lines) == 1, done.stderr
    assert why in lines[0] and "nothing was written" in lines[0] and "Traceback" not in done.stderr
    assert [path for path in out.rglob("*") if path.is_file()] == []


@pytest.mark.parametrize("words", COMMANDS, ids=lambda words: " ".join(words[:2]))
def test_a_file_that_can_grow_no_further_is_one_clear_line(words: tuple[str, ...], tmp_path: Path) -> None:
    """As at the end of a quota: the system takes so many bytes of a file, and no more."""
    refused_for(words, tmp_path, "File too large", limit=3000)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 48 kB in memory; skipped where none may be mounted."""
    place = tmp_path / "disk"
    place.mkdir()
    done = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=48k", "tmpfs", str(place)], capture_output=True, text=True)
    if done.returncode:
        pytest.skip("no disk can be mounted here")
    try:
        yield place
    finally:
        subprocess.run(["umount", str(place)], check=True)


@pytest.mark.skipif(shutil.which("mount") is None, reason="no disk can be mounted here")
@pytest.mark.parametrize("words", COMMANDS[:2], ids=lambda words: " ".join(words[:2]))
def test_a_full_disk_and_one_that_may_not_be_written_are_one_clear_line(words: tuple[str, ...], small_disk: Path) -> None:
    refused_for(words, small_disk, "No space left on device")
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    refused_for(words, small_disk, "Read-only file system")
