"""Writing a file whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path


def write_whole(path: Path | str, data: bytes | str | Iterable[str]) -> None:
    """Put ``data`` at ``path`` in one step: one sees the old file or the new, never half of it. OSError as usual.

    data: bytes, a text, or a text in parts, of which only one is held at a time.
    """
    target = Path(path)
    beside = target.with_name(f".{target.name}.part")
    try:
        with beside.open("wb") as file:
            for part in (data,) if isinstance(data, bytes | str) else data:
                file.write(part.encode() if isinstance(part, str) else part)
        os.replace(beside, target)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
