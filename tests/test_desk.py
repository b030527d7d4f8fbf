"""The desk answers on this machine alone: a page, its policy, and no to what comes from elsewhere. Browser tests: tests/desk."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.test_commands import HERE, ORDINARY

pytest.importorskip("starlette", reason="the extra desk is not installed")
pytest.importorskip("uvicorn", reason="the extra desk is not installed")


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("records")
    shutil.copy(ORDINARY, folder)
    (folder.parent / "secret.yaml").write_text("outside: the folder\n")
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "layouts.front.cli", "desk", "--port", "0", "--folder", str(folder)],
        cwd=HERE.parent, env={**os.environ, "PYTHONPATH": str(HERE.parent)}, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    try:
        assert process.stdout is not None
        said = process.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:\d+", said)
        assert found, said
        yield found[0]
    finally:
        process.terminate()
        process.wait(20)


def ask(address: str, path: str = "/", **headers: str) -> tuple[int, str, dict[str, str]]:
    request = urllib.request.Request(address + path, headers={key.replace("_", "-"): value for key, value in headers.items()})
    try:
        with urllib.request.urlopen(request, timeout=20) as reply:
            return reply.status, reply.read().decode(), dict(reply.headers)
    except urllib.error.HTTPError as error:
        return error.code, error.read().decode(errors="replace"), dict(error.headers)


def test_it_lists_the_records_of_its_folder(address: str) -> None:
    status, page, headers = ask(address)
    assert status == 200 and "HD-26-0101" in page
    policy = next(value for key, value in headers.items() if key.lower() == "content-security-policy")
    assert "default-src 'none'" in policy and "unsafe" not in policy and "<script>" not in page


def test_clerk_packer_and_trainer_show_the_record(address: str) -> None:
    name = Path(ORDINARY).name
    for view in ("clerk", "packer", "trainer"):
        status, page, _ = ask(address, f"/{view}?record={name}&package=A")
        assert status == 200 and "1219" in page, view


def test_another_host_or_origin_is_refused(address: str) -> None:
    assert ask(address, Host="example.org")[0] >= 400
    assert ask(address, Origin="http://example.org")[0] >= 400


@pytest.mark.parametrize("path", ["/clerk?record=../secret.yaml", "/packer?record=%2e%2e%2fsecret.yaml", "/page/../server.py"])
def test_no_path_leaves_the_folder(address: str, path: str) -> None:
    status, page, _ = ask(address, path)
    assert "outside: the folder" not in page and "def serve" not in page and status != 500
