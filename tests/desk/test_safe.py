"""The desk answers its own page on this machine, within bounds, and nothing else. Spoken to over raw connections."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote, urlencode

import pytest

from tests.desk.conftest import ROOT, Desk, begin, end
from tests.desk.wire import FORM, ask, place, speak

# --- who may ask ----------------------------------------------------------------------------------------------------


def test_its_own_page_is_answered(desk: Desk) -> None:
    """The other tests would pass before a desk that refuses everything."""
    assert ask(desk, "GET", "/")[0] == 200
    assert ask(desk, "GET", "/", headers={"Host": desk.url.replace("http://127.0.0.1", "localhost")})[0] == 200
    assert ask(desk, "POST", "/clerk/answer", "view=form&reference=A")[0] == 200


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "127.0.0.1", "localhost:1", "", "[::1]"])
def test_another_host_is_refused(desk: Desk, host: str) -> None:
    assert ask(desk, "GET", "/", headers={"Host": host})[0] in (400, 421)


def test_no_host_or_two_are_refused(desk: Desk) -> None:
    host, port = place(desk)
    assert b" 400 " in speak(desk, b"GET / HTTP/1.1\r\n\r\n").split(b"\r\n")[0]
    two = f"GET / HTTP/1.1\r\nHost: {host}:{port}\r\nHost: evil.example\r\nConnection: close\r\n\r\n"
    assert re.match(rb"HTTP/1\.1 (400|421) ", speak(desk, two.encode()))


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1", "http://127.0.0.1:1", None])
def test_a_form_from_another_origin_is_refused_and_does_nothing(desk: Desk, origin: str | None) -> None:
    form = urlencode({"view": "form", "reference": "X", "save_as": "stolen.yaml"})
    assert ask(desk, "POST", "/clerk/save", form, {"Origin": origin})[0] == 403
    assert not (desk.folder / "stolen.yaml").exists()


def test_another_page_cannot_read_but_may_link(desk: Desk) -> None:
    assert ask(desk, "GET", "/", headers={"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"})[0] == 403
    assert ask(desk, "GET", "/", headers={"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"})[0] == 200
    assert ask(desk, "GET", "/", headers={"Origin": "http://evil.example"})[0] == 403


def test_only_what_is_there_is_answered(desk: Desk) -> None:
    assert ask(desk, "PUT", "/clerk")[0] == 405 and ask(desk, "OPTIONS", "/")[0] == 405
    assert ask(desk, "GET", "/clerk/save")[0] == 405 and ask(desk, "GET", "/nothing")[0] == 404
    assert ask(desk, "POST", "/clerk/answer", "{}", {"Content-Type": "application/json"})[0] == 415


def test_it_listens_on_this_machine_alone(desk: Desk) -> None:
    """Where the machine has another address, nobody answers there."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # sends nothing: it only chooses our own address; RFC 5737
        except OSError:
            pytest.skip("this machine has no other address")
        other = probe.getsockname()[0]
    if other.startswith("127."):
        pytest.skip("this machine has no other address")
    with pytest.raises(OSError):
        socket.create_connection((other, place(desk)[1]), timeout=2).close()


def test_every_answer_forbids_what_is_not_its_own(desk: Desk) -> None:
    for path in ("/", "/clerk", "/page/live.js", "/nothing", "/packer?record=none.yaml", "/entries?q=paint"):
        headers = ask(desk, "GET", path)[1]
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy and "data:" not in policy
        assert (
            headers["x-content-type-options"] == "nosniff" and headers["cross-origin-resource-policy"] == "same-origin"
        )
        assert "server" not in headers


def test_no_page_has_script_or_style_within(desk: Desk) -> None:
    record = "isopropanol-three-modes.yaml"
    for path in ("/", "/clerk", f"/clerk?record={record}", f"/packer?record={record}&package=A&at=front",
                 f"/trainer?record={record}", f"/quiz?record={record}"):  # fmt: skip
        html = ask(desk, "GET", path)[2].decode()
        assert not re.search(r"<script(?![^>]* src=)|<style|\sstyle=|\son\w+=|javascript:", html), path
        assert not re.search(r"(?:src|href|action)=\"(?:https?:)?//", html), path


# --- the folder -----------------------------------------------------------------------------------------------------


@pytest.fixture
def beyond(desk: Desk, tmp_path: Path) -> Iterator[Path]:
    """A record outside the folder, and ways to it inside."""
    secret = tmp_path / "secret.yaml"
    secret.write_text("record: sixface/1\nreference: SECRET-7\n", "utf-8")
    (desk.folder / "link.yaml").symlink_to(secret)
    (desk.folder / "link.packing.log").symlink_to(secret)
    (desk.folder / "xylenes-drum.packing.log").symlink_to(secret)
    os.mkfifo(desk.folder / "pipe.yaml")
    yield secret
    assert secret.read_text("utf-8") == "record: sixface/1\nreference: SECRET-7\n"


def test_no_name_leads_out_of_the_folder(desk: Desk, beyond: Path) -> None:
    names = ["link.yaml", "../secret.yaml", str(beyond), "/etc/passwd", "..", "....//secret.yaml", "a/../../secret.yaml",
             "..\\secret.yaml", "secret.yaml\x00.yaml", "%2e%2e/secret.yaml", "pipe.yaml", ".hidden.yaml", "x" * 300 + ".yaml",
             "http://evil.example/x.yaml", "~/x.yaml", "\u2025/secret.yaml"]  # fmt: skip
    for name in names:
        for way in ("clerk", "packer", "trainer", "quiz"):
            status, _, body = ask(desk, "GET", f"/{way}?record={quote(name)}")
            assert status == 404 and b"SECRET" not in body, (way, name)
    assert b"SECRET" not in ask(desk, "GET", "/")[2]
    assert ask(desk, "GET", "/page/../pyproject.toml")[0] == 404 and ask(desk, "GET", "/page/%2e%2e%2fapp.py")[0] == 404


def test_nothing_is_written_outside_the_folder(desk: Desk, beyond: Path) -> None:
    before = sorted(path.name for path in desk.folder.iterdir())
    for name in (
        "../out.yaml",
        str(beyond),
        "link.yaml",
        "a/b.yaml",
        ".htaccess",
        "x.packing.log",
        "x.html",
        "nul\x00.yaml",
    ):
        form = {"view": "form", "reference": "X", "save_as": name, "replace": "yes"}
        assert ask(desk, "POST", "/clerk/save", urlencode(form))[0] == 409, name
    tick = {"record": "xylenes-drum.yaml", "package": "A", "copy": "1", "seen": "pack.1", "on": "pack.1"}
    page = ask(desk, "GET", "/packer?record=xylenes-drum.yaml&package=A")
    assert page[0] == 404  # its log leads out: the packer is told, nothing is followed
    assert ask(desk, "POST", "/packer/tick", urlencode(tick))[0] in (404, 409)
    assert sorted(path.name for path in desk.folder.iterdir()) == before


def test_a_form_in_parts_is_read_with_a_file_and_without(desk: Desk) -> None:
    """RFC 7578: parts with a name are fields, those with a file name as well are files."""
    parts = {"text": b'name="text"\r\n\r\nreference: T-1', "file": b'name="file"; filename="a.yaml"\r\n\r\nreference: F-1'}
    for sent, read in ((("text",), b"T-1"), (("file",), b"F-1"), (("text", "file"), b"F-1"), ((), b"")):
        body = b"".join(b"--cut\r\nContent-Disposition: form-data; " + parts[one] + b"\r\n" for one in sent) + b"--cut--\r\n"
        status, _, page = ask(desk, "POST", "/clerk/read", body, {"Content-Type": "multipart/form-data; boundary=cut"})
        assert status == 200 and b'value="' + read + b'"' in page, sent


# --- how much -------------------------------------------------------------------------------------------------------


def test_a_body_over_a_megabyte_is_refused(desk: Desk) -> None:
    assert ask(desk, "POST", "/clerk/answer", b"x=" + b"y" * 1024 * 1024)[0] == 413
    host, port = place(desk)
    head = (f"POST /clerk/answer HTTP/1.1\r\nHost: {host}:{port}\r\nOrigin: {desk.url}\r\nContent-Type: {FORM}\r\n"
            "Transfer-Encoding: chunked\r\nConnection: close\r\n\r\n")  # fmt: skip
    chunk = b"10000\r\n" + b"y" * 65536 + b"\r\n"
    with socket.create_connection((host, port), timeout=10) as line:
        line.sendall(head.encode())
        try:
            for _ in range(64):  # 4 MB without a length said beforehand
                line.sendall(chunk)
        except OSError:
            pass  # it was closed while we spoke
        try:
            said = line.recv(4096)
        except OSError:
            said = b""
    assert said == b"" or b" 413 " in said.split(b"\r\n")[0]
    assert ask(desk, "POST", "/clerk/answer", b"text=" + b"y" * 1000_000 + b"&view=text")[0] == 200


@pytest.fixture(scope="module")
def strained(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk whose workers are ended at their work; what they did before is counted by no measurement."""
    folder = tmp_path_factory.mktemp("strained")
    shutil.copy(ROOT / "examples/isopropanol-three-modes.yaml", folder)
    process, url = begin(folder)
    yield Desk(url, folder)
    end(process)


def deep() -> dict[str, str]:
    return {
        "lists": "[" * 100_000,
        "json": '{"a":' * 100_000,
        "groups": "\n".join(" " * i + "a:" for i in range(900)),
        "aliases": "a: &a [x,x]\n" + "".join(f"b{i}: &b{i} [*a,*a]\n" for i in range(1000)),
        "one long list": "packages: [" + "{}," * 200_000 + "]",
        "keys": "\n".join(f"k{i}: v" for i in range(60_000)),
    }


@pytest.mark.parametrize("kind", sorted(deep()))
def test_deep_and_huge_records_are_told_soon(strained: Desk, kind: str) -> None:
    text = deep()[kind]
    began = time.monotonic()
    notation = "json" if kind == "json" else "yaml"
    body = urlencode({"view": "text", "text": text, "notation": notation})
    status, _, page = ask(strained, "POST", "/clerk/answer", body[: 1024 * 1024])
    assert time.monotonic() - began < 10.5
    assert status in (200, 413, 503) and len(page) < 8 * 1024 * 1024
    assert ask(strained, "GET", "/clerk")[0] == 200


def test_forms_that_are_deep_or_wide(desk: Desk) -> None:
    wide = "&".join(f"packages.{i}.goods.{j}.un=1219" for i in range(70) for j in range(70))
    assert ask(desk, "POST", "/clerk/answer", f"view=form&{wide}")[0] in (200, 400)
    for name in (
        "packages.99999999.un",
        "packages" + ".0" * 5000,
        "packages.0.goods.0" * 300,
        "__class__.x",
        "packages.0." * 40,
        "a" * 9000,
    ):
        assert ask(desk, "POST", "/clerk/answer", urlencode({"view": "form", name: "1"}))[0] == 200
    many = "&".join(f"x{i}=1" for i in range(20_000))
    assert ask(desk, "POST", "/clerk/answer", many)[0] == 400
    assert ask(desk, "POST", "/clerk/answer", b"reference=%ff%fe")[0] == 400


def test_nobody_holds_it_up(strained: Desk) -> None:
    """At once: a head that never ends, a body that never comes, and work that would take minutes. Each is ended after 10 s,
    and meanwhile others are answered."""
    host, port = place(strained)
    ends: dict[str, tuple[float, bytes]] = {}

    def run(name: str, raw: bytes) -> None:
        began = time.monotonic()
        said = speak(strained, raw, wait=20)
        ends[name] = time.monotonic() - began, said

    record = (strained.folder / "isopropanol-three-modes.yaml").read_text("utf-8").replace("count: 2", "count: 99999")
    form = urlencode({"view": "text", "text": record, "print.what": "labels"}).encode()
    head = (f"POST /sheets HTTP/1.1\r\nHost: {host}:{port}\r\nOrigin: {strained.url}\r\nContent-Type: {FORM}\r\n"
            "Connection: close\r\n")  # fmt: skip
    raws = {
        "head": b"GET / HTTP/1.1\r\nHost: ",
        "body": head.encode() + b"Content-Length: 1000\r\n\r\nview=",
        "work": head.encode() + f"Content-Length: {len(form)}\r\n\r\n".encode() + form,
    }
    threads = [threading.Thread(target=run, args=pair) for pair in raws.items()]
    for thread in threads:
        thread.start()
    time.sleep(1)
    began = time.monotonic()
    assert ask(strained, "GET", "/clerk")[0] == 200
    assert time.monotonic() - began < 6  # a further worker may have to begin
    for thread in threads:
        thread.join(25)
    for name, (seconds, said) in ends.items():
        assert seconds < 12, name
        assert said == b"" or b" 503 " in said.split(b"\r\n")[0], (name, said[:80])
    assert b"longer than the 10 seconds" in ends["work"][1]
    assert ask(strained, "POST", "/clerk/answer", "view=form")[0] == 200


def memory_of(pid: int) -> int:
    """Resident bytes of a process and its children."""
    total = 0
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(stat.parent.name) == pid or int(fields[1]) == pid:
            total += int(fields[21]) * os.sysconf("SC_PAGE_SIZE")
    return total


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no /proc: memory is not measured")
def test_ten_thousand_requests(tmp_path: Path) -> None:
    """All are answered or refused; the process does not grow with them."""
    process, url = begin(tmp_path)
    desk = Desk(url, tmp_path)
    host, port = place(desk)
    counts: dict[int, int] = {}
    paths = [
        "/",
        "/page/desk.svg",
        "/nothing",
        "/entries?q=12",
        "/clerk?record=../x",
        "/page/desk.css",
        "/page/none",
        "/?x=1",
    ]

    def run(number: int) -> None:
        connection = http.client.HTTPConnection(host, port, timeout=20)
        for i in range(number):
            headers = {"Host": "evil.example"} if i % 5 == 0 else {}
            try:
                connection.request("GET", paths[i % len(paths)], headers=headers)
                status = connection.getresponse()
                status.read()
                counts[status.status] = counts.get(status.status, 0) + 1
            except (http.client.HTTPException, OSError):
                counts[0] = counts.get(0, 0) + 1
                connection.close()
        connection.close()

    try:
        run(400)
        time.sleep(1)
        before = memory_of(process.pid)
        counts.clear()
        began = time.monotonic()
        threads = [threading.Thread(target=run, args=(1250,)) for _ in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join(120)
        seconds = time.monotonic() - began
        assert (
            sum(counts.values()) >= 9_990 and counts.get(0, 0) < 10 and counts.get(500, 0) == 0
        )  # counted without a lock
        assert counts[200] > 3000 and counts[421] > 1000 and counts[404] > 1000
        assert seconds < 120
        assert memory_of(process.pid) - before < 80 * 1024 * 1024  # a second worker may have begun
        assert ask(desk, "GET", "/")[0] == 200
    finally:
        end(process)
