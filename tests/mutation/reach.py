"""Which law cases come by which function of marks and which subject of its tables: those are asked first of a wrong there.

Only an order: what is remembered between cases (a limit, a row) is asked for once, by the first that needs it.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

MARKS = Path(__file__).parents[2] / "marks"
#: "marks/case.py" and a function's first line, or "marks/tables/limits.toml" and a subject: the cases' places.
Reach = dict[str, list[int]]


def reached() -> Reach:
    """Decide every case in a process of its own, and note what each comes by."""
    with tempfile.TemporaryDirectory() as room:
        file = Path(room) / "reach.json"
        child = os.fork()
        if not child:
            try:
                file.write_text(json.dumps(_noted()), "utf-8")
            finally:
                os._exit(0)
        os.waitpid(child, 0)
        found: Reach = json.loads(file.read_text("utf-8"))
    return found


def _noted() -> Reach:
    import marks.tables
    from tests.law_cases import cases

    found: dict[str, dict[int, None]] = {}
    entered: dict[CodeType, dict[int, None]] = {}
    number = 0

    def enters(frame: FrameType, event: str, _: Any) -> None:
        if (code := frame.f_code) not in entered:
            inside = code.co_filename.startswith(str(MARKS))
            path = Path(code.co_filename).relative_to(MARKS.parent) if inside else ""
            entered[code] = found.setdefault(f"{path} {code.co_firstlineno}", {}) if inside else {}
        entered[code][number] = None

    class Noted(marks.tables.Table):
        def __init__(self, text: str) -> None:
            super().__init__(text)
            self.text = text

        def __getitem__(self, subject: str) -> Any:
            found.setdefault(f"{_names.get(self.text, '')} {subject}", {})[number] = None
            return super().__getitem__(subject)

    _names = {path.read_text("utf-8"): str(path.relative_to(MARKS.parent)) for path in MARKS.glob("tables/*.toml")}
    marks.tables.Table = Noted  # type: ignore[misc]
    sys.settrace(enters)
    for number, case in enumerate(cases()):  # noqa: B007 - the two above read it
        case.decision()
    sys.settrace(None)
    return {place: list(numbers) for place, numbers in found.items()}


def first_asked(where: str, reach: Reach) -> list[int]:
    """The cases that come by a wrong: "marks/case.py:31", or "marks/tables/limits.toml arrows.absorbed.0.value"."""
    if ".toml " in where:
        path, way = where.split(" ", 1)
        return reach.get(f"{path} {way.split('.')[0]}", [])
    path, line = where.rsplit(":", 1)
    entered = [int(one.rsplit(" ", 1)[1]) for one in reach if one.startswith(f"{path} ")]
    above = [first for first in entered if first <= int(line)]
    return reach[f"{path} {max(above)}"] if above else []
