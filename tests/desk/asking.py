"""The desk's work asked without a server: a request as its pages make it, and what a person reads of the answer."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from layouts.front.desk.jobs import answer
from layouts.front.desk.reply import Asked, Reply

pytest.importorskip("jinja2", reason="jinja2 is not installed: the desk is not tested (pip install -e '.[dev]')")


def get(place: Path, job: str, **query: str) -> Reply:
    return answer(place, job, Asked(query=tuple(query.items())))


def post(place: Path, job: str, *form: tuple[str, str], **more: str) -> Reply:
    return answer(place, job, Asked(form=(*form, *more.items())))


def words(reply: Reply) -> str:
    """What a person reads of it."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", reply.body.decode())).split())


def value(reply: Reply, name: str) -> str | None:
    """What a field of the page holds."""
    found = re.search(rf'<input[^>]* name="{re.escape(name)}"[^>]*>', reply.body.decode())
    said = re.search(r' value="([^"]*)"', found[0]) if found else None
    return unescape(said[1]) if said else None
