"""From a shipment record of dangerous goods to what each package must show, by each mode, each mark with its paragraph.

>>> from marks import Mode, read_record
>>> from marks.decide import decide
>>> record = read_record("examples/isopropanol-three-modes.yaml")
>>> package = decide(record).packages[0]
>>> [one.mark for one in package.modes[Mode.ROAD].marks]
['un-number', 'hazard-label', 'orientation-arrows']
>>> package.modes[Mode.ROAD].marks[2].cite
('ADR 5.2.1.10.1',)

Step 1 reads (marks.reading), step 2 decides (marks.decide) and lays the modes side by side (marks.compare). No
millimetre is placed here, and nothing here imports layouts. What is named in ``__all__`` is public, and so is every
name without an underscore in the modules those names come from; the two functions that bear their module's name are
imported from it: ``from marks.decide import decide``, ``from marks.compare import compare``. Importing marks loads none
of them.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

# Public name -> the module it comes from, loaded when the name is first asked for (PEP 562).
_HOMES = {
    "marks.compare": ("Comparison",),
    "marks.decide": ("Decided",),
    "marks.errors": (
        "EditionNotHeld", "EntryOpen", "Fault", "RecordError", "SixfaceError", "UnknownEntry", "Unreadable",
    ),
    "marks.goods.lookup": ("Entry", "choose", "every", "find", "search"),
    "marks.quantity": ("read_quantity", "show", "to"),
    "marks.reading": ("digest", "read_record", "read_text", "record_from"),
    "marks.record": ("Goods", "Package", "Record", "record_schema"),
    "marks.requirement": ("Finding", "ModeDecision", "PackageDecision", "Requirement", "Waived", "Where"),
    "marks.tables": ("Edition", "Figure", "editions"),
    "marks.terms": (
        "Aircraft", "Face", "Level", "Mode", "PackageForm", "PackingGroup", "ShipAs", "State", "VerdictWord",
    ),
}  # fmt: skip
_HOME = {name: module for module, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME)


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = globals()[name] = getattr(import_module(_HOME[name]), name)
    return value


def __dir__() -> list[str]:
    return [*__all__, *(name for name in globals() if name.startswith("__"))]
