"""A desk that is heard at another address asks every request for its key; one that is not told so is heard here alone."""

from __future__ import annotations

import re
import shutil
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from layouts.front.desk.listen import place_at
from layouts.front.desk.server import _show_code
from tests.desk.conftest import ROOT, Desk, begin, end
from tests.desk.wire import ask

#: Not 127.0.0.1, and yet of this machine alone: 127.0.0.0/8 is loopback, RFC 1122 3.2.1.3 (g).
OTHER = "127.0.0.2"


@pytest.fixture(scope="module")
def heard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Desk, str]]:
    """A desk at the other address, and its key."""
    with socket.socket() as probe:
        try:
            probe.bind((OTHER, 0))
        except OSError:
            pytest.skip(f"this machine does not answer at {OTHER}")
    folder = tmp_path_factory.mktemp("records")
    process, said = begin(folder, "--listen", OTHER)
    url, _, key = said.partition("/?key=")
    yield Desk(url, folder), key
    end(process)


def test_without_the_key_nothing_is_answered(heard: tuple[Desk, str]) -> None:
    desk, key = heard
    assert len(key) >= 22, "128 bits in base 64: RFC 4648 5"
    for path in ("/", "/clerk", "/page/desk.css", "/nothing", "/?key=", f"/?key={key[:-1]}", f"/clerk?kez={key}"):
        status, headers, body = ask(desk, "GET", path)
        assert status == 403 and b"key" in body and "set-cookie" not in headers, path
    for cookie in ("", f"sixface-key={key[:-1]}", f"other={key}", f"sixface-key={key}x"):
        assert ask(desk, "GET", "/", headers={"Cookie": cookie})[0] == 403, cookie
    assert ask(desk, "POST", f"/clerk/save?key={key}", "view=form&reference=A&save_as=a.yaml")[0] == 403
    assert not list(desk.folder.iterdir())


def test_the_key_in_the_address_becomes_a_cookie_that_no_script_reads(heard: tuple[Desk, str]) -> None:
    desk, key = heard
    status, headers, _ = ask(desk, "GET", f"/?key={key}")
    assert (status, headers["location"]) == (303, "/")
    cookie, *rest = headers["set-cookie"].split("; ")
    assert {"HttpOnly", "SameSite=Lax"} <= set(rest)
    assert ask(desk, "GET", "/", headers={"Cookie": cookie})[0] == 200
    assert ask(desk, "GET", "/", headers={"Cookie": f"a=b; {cookie}"})[0] == 200
    assert ask(desk, "POST", "/clerk/answer", "view=form&reference=A", {"Cookie": cookie})[0] == 200


def test_another_host_or_origin_is_refused_with_the_key_too(heard: tuple[Desk, str]) -> None:
    desk, key = heard
    cookie = f"sixface-key={key}"
    port = desk.url.rpartition(":")[2]
    for host in (f"localhost:{port}", f"127.0.0.1:{port}", "evil.example"):
        assert ask(desk, "GET", "/", headers={"Cookie": cookie, "Host": host})[0] == 421
    form = "view=form&reference=A"
    assert ask(desk, "POST", "/clerk/answer", form, {"Cookie": cookie, "Origin": "http://evil.example"})[0] == 403


def test_every_desk_has_a_key_of_its_own_and_this_machine_needs_none() -> None:
    assert place_at(OTHER).key != place_at(OTHER).key
    here = place_at("127.0.0.1")
    assert here.key is None and here.url(8266) == "http://127.0.0.1:8266/"
    assert here.hosts(80) == {"127.0.0.1:80", "localhost:80", "127.0.0.1", "localhost"}


@pytest.mark.parametrize(
    "address", ["0.0.0.0", "255.255.255.255", "224.0.0.1", "desk.example", "192.168.1", "::", "", "192.168.1.20:80"]
)
def test_what_is_no_single_address_is_refused_in_one_line(address: str, tmp_path: Path) -> None:
    done = _desk(tmp_path, address)
    assert done.returncode == 2 and not done.stdout
    assert re.fullmatch(r"sixface: --listen: .*(of this machine|one of this machine's).*\n", done.stderr)


def test_an_address_of_another_machine_is_refused_in_one_line(tmp_path: Path) -> None:
    """192.0.2.0/24 is for documentation and no machine has it at work: RFC 5737. Its last address, as some test beds do."""
    done = _desk(tmp_path, "192.0.2.254")
    assert done.returncode == 2 and done.stderr.count("\n") == 1 and "--listen takes an address" in done.stderr


def _desk(folder: Path, address: str) -> subprocess.CompletedProcess[str]:
    pytest.importorskip("starlette", reason="starlette is not installed: the desk is not tested")
    command = [
        sys.executable,
        "-m",
        "layouts.front.cli",
        "desk",
        "--port",
        "0",
        "--folder",
        str(folder),
        "--listen",
        address,
    ]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60)


def test_a_browser_opens_the_address_with_the_key_and_works_on(heard: tuple[Desk, str], browser: Any) -> None:
    desk, key = heard
    shutil.copy(ROOT / "examples" / "xylenes-drum.yaml", desk.folder)
    page = browser.new_context().new_page()
    page.goto(f"{desk.url}/?key={key}")
    assert page.url == f"{desk.url}/", "the key does not stay in the address bar"
    page.goto(f"{desk.url}/packer?record=xylenes-drum.yaml")
    assert page.locator("h1").inner_text() == "HD-26-0107"
    page.context.close()
    stranger = browser.new_context().new_page()
    assert stranger.goto(f"{desk.url}/packer?record=xylenes-drum.yaml").status == 403
    stranger.context.close()


def test_a_folder_that_is_none_is_one_clear_line(tmp_path: Path) -> None:
    (tmp_path / "file.yaml").write_text("reference: A\n", "utf-8")
    for folder, says in (("file.yaml", "is no folder"), ("none", "No such file")):
        words = [sys.executable, "-m", "layouts.front.cli", "desk", "--port", "0", "--folder", str(tmp_path / folder)]
        done = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, timeout=60)
        assert done.returncode == 2 and done.stdout == "", folder
        assert len(done.stderr.splitlines()) == 1 and says in done.stderr and folder in done.stderr


def test_the_code_in_the_terminal_is_the_address(capsys: pytest.CaptureFixture[str]) -> None:
    """Two rows of the code to a line of text, read by a reader of its own."""
    zxing, image = (pytest.importorskip(name) for name in ("zxingcpp", "PIL.Image"))
    url = "http://192.168.1.20:8266/?key=AbC-dEf_0123456789-xYz"
    _show_code(url)
    rows = capsys.readouterr().out.rstrip("\n").split("\n")
    light = {"\u2588": (True, True), "\u2580": (True, False), "\u2584": (False, True), " ": (False, False), "\xa0": (False, False)}
    drawn = image.new("L", (max(map(len, rows)), 2 * len(rows)), 255)
    for y, row in enumerate(rows):
        for x, sign in enumerate(row):
            for half, lit in enumerate(light[sign]):
                drawn.putpixel((x, 2 * y + half), 255 if lit else 0)
    (code,) = zxing.read_barcodes(drawn.resize((drawn.width * 8, drawn.height * 8), image.NEAREST))
    assert code.text == url
