"""What the law allows where a package is too small or too odd for its labels: reduced labels, the shoulder, a tag.

The lines stand in ``marks/tables/small.toml``. A step is allowed only if every leg that asks for the label allows it: a
package is labelled once, for all its legs.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from decimal import Decimal
from typing import Any

from marks.tables import table
from marks.terms import Mode

#: Why a package asks for a tag.
IRREGULAR, SMALL, CYLINDER, UNDER_LABEL = "irregular", "small", "cylinder", "smaller than the label"


def reduced(modes: Iterable[Mode]) -> tuple[str, ...] | None:
    """The paragraphs by which hazard labels may be reduced in proportion; None where a mode forbids it."""
    return _by_all("reduced", modes)


def shoulder(modes: Iterable[Mode]) -> tuple[str, ...] | None:
    """The paragraphs by which labels of class 2 may stand reduced on the shoulder of a gas cylinder; or None."""
    return _by_all("shoulder", modes)


def tag(modes: Iterable[Mode], why: Collection[str], radioactive: bool = False) -> tuple[str, ...] | None:
    """The paragraphs by which labels may hang on a tag; None where a mode forbids it.

    why: all that is true of the package (``IRREGULAR``, ``SMALL``, ``CYLINDER``, ``UNDER_LABEL``).
    """
    return _by_all(
        "tag",
        modes,
        lambda line: set(line.get("radioactive", line["when"]) if radioactive else line["when"]) & set(why),
    )


def _by_all(step: str, modes: Iterable[Mode], holds: Any = lambda line: True) -> tuple[str, ...] | None:
    found: list[str] = []
    for mode in sorted(set(modes), key=list(Mode).index):
        lines = [line for line in table("small")[step] if line["mode"] == mode and holds(line)]
        if not lines:
            return None
        found.append(lines[-1]["cite"] + (" (from memory)" if lines[-1].get("memory") else ""))
    return tuple(found)


def least_on_shoulder(diameter: float) -> float:
    """The least side of a label on the shoulder of a cylinder of that outer diameter, both in mm."""
    lines = table("small")["shoulder-side"]
    return float(next(Decimal(line["mm"]) for line in lines if diameter < float(line.get("under", "inf"))))
