"""The folder the user names: records are read from it and saved in it, nothing else is touched and nothing beyond it.

A name from a request is a file name and no path; what it leads to has to lie in the folder itself, links followed.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import stat
from pathlib import Path

from layouts.files import write_whole
from layouts.front.desk.reply import MOST_BYTES

_NAME = re.compile(r"(?!\.)[\w ().,+-]{1,80}\.(yaml|yml|json)", re.IGNORECASE)
#: So many records are listed.
LISTED = 500


class FolderError(Exception):
    """What was asked of the folder cannot be done; ``str()`` is for reading."""


class Folder:
    """path: absolute, links followed."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def names(self) -> tuple[str, ...]:
        """The records in it, by name."""
        try:
            with os.scandir(self.path) as entries:
                found = sorted(one.name for one in entries if _NAME.fullmatch(one.name) and one.is_file())
        except OSError as error:
            raise FolderError(f"the folder can't be read: {error.strerror}") from None
        return tuple(found[:LISTED])

    def place(self, name: str) -> Path:
        """Where a name leads. FolderError: it is no name of a record, or leads out of the folder."""
        if not _NAME.fullmatch(name):
            raise FolderError(
                f"{name[:80]!r} is no name for a record; letters, figures, space and - _ . , + ( ) are, and .yaml or .json"
            )
        path = self.path / name
        if path.is_symlink() or path.resolve().parent != self.path:
            raise FolderError(f"{name} leads out of the folder")
        return path

    def read(self, name: str) -> bytes:
        """The file's bytes. FolderError: it is not there, is no file, or is too large for the desk."""
        path = self.place(name)
        try:
            handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0))
            with open(handle, "rb") as file:
                if not stat.S_ISREG(os.fstat(handle).st_mode):
                    raise FolderError(f"{name} is no file")
                data = file.read(MOST_BYTES + 1)
        except OSError as error:
            raise FolderError(f"{name}: {error.strerror}") from None
        if len(data) > MOST_BYTES:
            raise FolderError(f"{name} has more than {MOST_BYTES} bytes; the command line reads it")
        return data

    def save(self, name: str, text: str, was: str, replace: bool) -> None:
        """Write a record whole. was: the digest of the file it was read from, "" for a new one. FolderError: there is
        another record of that name and it is not to be replaced."""
        path = self.place(name)
        if path.suffix.lower() not in (".yaml", ".yml"):
            raise FolderError(f"{name}: records are saved as YAML; write a name that ends in .yaml")
        try:
            there = state(self.read(name)) if path.exists() else ""
            if there and there != was and not replace:
                changed = "has changed since it was opened here" if was else "is there already"
                raise FolderError(f"{name} {changed}; write another name, or say that it is to be replaced")
            write_whole(path, text)
        except OSError as error:
            raise FolderError(f"{name}: {error.strerror}") from None

    def log(self, name: str) -> Path:
        """The packing log beside a record."""
        path = self.place(name)
        return path.with_name(f"{path.stem}.packing.log")

    def read_log(self, name: str) -> str:
        """What is logged for a record so far."""
        try:
            handle = os.open(self.log(name), os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0))
        except OSError as error:
            if error.errno == errno.ENOENT:
                return ""
            raise FolderError(f"{self.log(name).name}: {error.strerror}") from None
        with open(handle, "rb") as file:
            data = file.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            raise FolderError(
                f"{self.log(name).name} has more than {MOST_BYTES} bytes; put it away and begin a new one"
            )
        return data.decode("utf-8", "replace")

    def append_log(self, name: str, lines: list[str]) -> None:
        """Add lines at the end, in one step."""
        self.read_log(name)  # it stays within its bounds
        flags = os.O_WRONLY | os.O_APPEND | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0)
        try:
            handle = os.open(self.log(name), flags, 0o644)
            with open(handle, "ab") as file:
                file.write("".join(f"{line}\n" for line in lines).encode())
        except OSError as error:
            raise FolderError(f"{self.log(name).name}: {error.strerror}") from None


def state(data: bytes) -> str:
    """What a file's content is told by, to see whether it has changed."""
    return hashlib.sha256(data).hexdigest()[:16]
