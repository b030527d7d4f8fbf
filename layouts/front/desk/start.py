"""The first page: the records of the folder, and the way from a printed sheet to its package."""

from __future__ import annotations

import re
from itertools import takewhile
from typing import NamedTuple
from urllib.parse import urlencode

from layouts.front.desk.folder import Folder, FolderError
from layouts.front.desk.reply import Asked, Draw, Reply, elsewhere, page


class Kept(NamedTuple):
    """A record of the folder, by what its text says at a glance."""

    name: str
    reference: str
    date: str
    says: str


class Spoken(NamedTuple):
    """What the text of a sheet's code says."""

    reference: str
    what: str
    name: str
    digest: str


def start(folder: Folder, asked: Asked, draw: Draw, told: str = "", text: str = "", status: int = 200) -> Reply:
    """GET /: what is there."""
    return page(draw("start.html", records=_records(folder), folder=str(folder.path), told=told, text=text), status)


def _records(folder: Folder) -> list[Kept]:
    found = []
    for name in folder.names():
        try:
            head = folder.read(name)[:4096].decode("utf-8", "replace")
        except FolderError:
            head = ""
        said = {key: _at_a_glance(key, head) for key in ("reference", "date")}
        found.append(Kept(name, said["reference"], said["date"], _opening(head)))
    return found


def _opening(text: str) -> str:
    """The first sentence or two of the comment a file begins with."""
    words = " ".join(
        line.lstrip("# ").strip() for line in takewhile(lambda line: line.startswith("#"), text.split("\n"))
    )
    return words if len(words) <= 170 else f"{words[:170].rsplit(' ', 1)[0]} …"


def _at_a_glance(key: str, text: str) -> str:
    read = re.search(rf'(?m)^[ {{]*"?{key}"?: *"?([^"#\n,]{{1,60}})', text)
    return read[1].strip() if read else ""


def scan(folder: Folder, asked: Asked, draw: Draw) -> Reply:
    """POST /scan: the text of a sheet's code, pasted or from a scanner, leads to its package."""
    text = asked.one("text")[:4000]
    spoken = read_code_text(text)
    if spoken is None:
        told = "This is not the text of a sheet's code: it begins with the reference, then the package, then the record's digest."
        return start(folder, asked, draw, told, text, 422)
    near = None
    for name in folder.names():
        found = _digest_of(folder, name, spoken.reference)
        if found and found.startswith(spoken.digest):
            return elsewhere(f"/packer?{urlencode({'record': name, spoken.what: spoken.name})}")
        near = near or (name if found else None)
    if near:
        told = (
            f"{near} bears the reference {spoken.reference}, but the sheet was printed from another state of it (record "
            f"{spoken.digest}). Print the sheets anew, or put the record back."
        )
    else:
        told = f"No record of the folder bears the reference {spoken.reference}."
    return start(folder, asked, draw, told, text, 404)


def read_code_text(text: str) -> Spoken | None:
    """The first three lines of a sheet's code; a scanner may have made one line of them."""
    flat = " ".join(text.split())
    read = re.match(r"(.{1,60}?) (package|overpack) (.{1,30}?), \d{1,6} pcs record ([0-9a-f]{16})\b", flat)
    return Spoken(*read.groups()) if read else None


def _digest_of(folder: Folder, name: str, reference: str) -> str | None:
    """The digest of a record that bears the reference; None of any other."""
    from marks.errors import RecordError  # the first page is there before records can be read
    from marks.reading import NOTATIONS, digest, read_text

    try:
        data = folder.read(name)
        if reference.encode() not in data:
            return None
        record = read_text(data, name, NOTATIONS["." + name.rsplit(".", 1)[1].lower()])
    except (FolderError, RecordError):
        return None
    return digest(record) if record.reference == reference else None
