"""Writing a file whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path


def write_whole(path: Path | str, data: bytes | str) -> None:
    """Put ``data`` at ``path`` in one step: one sees the old file or the new, never half of it. OSError as usual."""
    target = Path(path)
    raw = data.encode("utf-8") if isinstance(data, str) else data
    beside = target.with_name(f".{target.name}.part")
    try:
        beside.write_bytes(raw)
        os.replace(beside, target)
    finally:
        beside.unlink(missing_ok=True)
