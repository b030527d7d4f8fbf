"""Rows of figures and the one table they make."""

from __future__ import annotations

import os
import platform
import statistics
from collections.abc import Sequence
from dataclasses import dataclass, field
from importlib.util import find_spec


@dataclass(frozen=True)
class Row:
    """What was measured, in which unit, every round's figure; least or most: the aim, where there is one."""

    what: str
    unit: str
    values: tuple[float, ...]
    least: float | None = None
    most: float | None = None

    @property
    def median(self) -> float:
        return statistics.median(self.values)

    @property
    def aim(self) -> str:
        """The aim and whether it holds, or nothing."""
        if self.least is not None:
            return f"at least {self.least:g}: {'met' if self.median >= self.least else 'NOT MET'}"
        if self.most is not None:
            return f"at most {self.most:g}: {'met' if self.median <= self.most else 'NOT MET'}"
        return ""

    @property
    def cells(self) -> tuple[str, ...]:
        shown = (figure(self.median), figure(min(self.values)), figure(max(self.values)), str(len(self.values)))
        return (self.what, *shown, self.unit, self.aim)


@dataclass
class Part:
    """One part of the table: its heading, its rows, and what a reader must know of how they came about."""

    title: str
    rows: list[Row] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def row(
        self, what: str, unit: str, values: Sequence[float], *, least: float | None = None, most: float | None = None
    ) -> None:
        self.rows.append(Row(what, unit, tuple(values), least, most))

    def ratio(
        self,
        what: str,
        above: Sequence[float],
        below: Sequence[float],
        *,
        least: float | None = None,
        most: float | None = None,
    ) -> None:
        """How many times ``below`` goes into ``above``, round by round."""
        self.row(what, "times", [a / b for a, b in zip(above, below, strict=True)], least=least, most=most)


HEAD = ("what", "median", "least", "most", "of", "unit", "aim")


def figure(value: float) -> str:
    """Three significant figures, plainly: 1234, 12.3, 0.123."""
    if value == 0:
        return "0"
    digits = max(0, 2 - int(f"{abs(value):e}".partition("e")[2]))
    return f"{value:.{digits}f}"


def machine() -> str:
    """What was measured on, and what else it had to do."""
    load = f", load {os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else ""
    quick = "with" if find_spec("_rl_accel") else "without"
    python = f"Python {platform.python_version()}, {quick} rl_accel (extra fast)"
    return f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores{load}, {python}"


def table(parts: Sequence[Part]) -> str:
    """All parts as one table in columns; notes stand below the rows they belong to."""
    cells = [HEAD, *(row.cells for part in parts for row in part.rows)]
    wide = [max(len(line[column]) for line in cells) for column in range(len(HEAD))]

    def line(of: Sequence[str]) -> str:
        set_ = (
            text.rjust(w) if 1 <= c <= 4 else text.ljust(w) for c, (text, w) in enumerate(zip(of, wide, strict=True))
        )
        return "  ".join(set_).rstrip()

    out = [line(HEAD), line(["-" * w for w in wide])]
    for part in parts:
        out += ["", part.title, *(line(row.cells) for row in part.rows), *(f"  {note}" for note in part.notes)]
    return "\n".join(out)
