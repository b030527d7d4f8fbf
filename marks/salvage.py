"""Salvage packagings: those that damaged, defective or leaking packages are put into."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from marks.record import Package


def is_salvage(package: Package) -> bool:
    """By the T behind its code, or because the record says so."""
    return package.salvage or package.kind.letter == "T"
