"""What a request asks of a worker and what it gets back: plain values that travel between processes."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

#: No request runs longer than this, seconds.
LIMIT = 10.0
#: No body of a request is larger than this, bytes; nor is a file of the folder that the desk opens.
MOST_BYTES = 1024 * 1024

Pairs = tuple[tuple[str, str], ...]
#: Makes a page of a template's name and its values.
Draw = Callable[..., str]


class Asked(NamedTuple):
    """query, form: names and values in their order; upload: the bytes and name of a file that came with the form."""

    query: Pairs = ()
    form: Pairs = ()
    upload: bytes = b""
    upload_name: str = ""

    def one(self, name: str, default: str = "") -> str:
        """The last value of a name, of the form before the query."""
        return next((value for key, value in reversed((*self.query, *self.form)) if key == name), default)

    def every(self, name: str) -> tuple[str, ...]:
        return tuple(value for key, value in self.form if key == name)


class Reply(NamedTuple):
    """status: of HTTP; kind: content type; headers: beside it."""

    status: int
    kind: str
    body: bytes
    headers: Pairs = ()


def page(html: str, status: int = 200) -> Reply:
    """A page of the desk."""
    return Reply(status, "text/html; charset=utf-8", html.encode("utf-8", "replace"))


def plain(text: str, status: int) -> Reply:
    """A few words without a page."""
    return Reply(status, "text/plain; charset=utf-8", text.encode("utf-8", "replace"))


def elsewhere(path: str) -> Reply:
    """See another page: the answer to a form that has done something."""
    return Reply(303, "text/plain; charset=utf-8", b"", (("location", path),))


def download(body: bytes, name: str, kind: str) -> Reply:
    """A file to keep. name: letters, figures, point and dash alone, as ``stem_of`` makes it."""
    return Reply(200, kind, body, (("content-disposition", f'attachment; filename="{name}"'),))
