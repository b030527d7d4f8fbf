"""One mutant in a process of its own: forked before any of marks was read, so that the wrong is in place from the start."""

from __future__ import annotations

import contextlib
import importlib.abc
import importlib.machinery
import importlib.util
import io
import os
import resource
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any

ROOT = Path(__file__).parents[2]
#: What is asked of those that the law cases let live: figures published elsewhere and cases at each side of them, then the
#: tests of the modules that decide.
PUBLISHED = ("tests/published",)
MODULES = (
    "tests/marks/test_decide.py", "tests/marks/test_rule.py", "tests/marks/test_reliefs.py", "tests/marks/test_aircraft.py",
    "tests/marks/test_inside.py", "tests/marks/test_dates.py", "tests/test_ground.py", "tests/marks/test_error_paths.py",
    "tests/test_bad_records.py", "tests/marks/test_reading.py", "tests/test_papers.py",
)  # fmt: skip
#: Seconds of the processor after which a mutant counts as one that never ends, and its memory in bytes.
LONGEST, MOST_MEMORY = 60, 2 * 1024**3


@dataclass(frozen=True)
class Mutant:
    """A wrong. where, what: in words; line: the line of the module that is changed; module and source: a changed module;
    table and data: a table's text and what is read from it instead; goods: the changed text of the goods list."""

    where: str
    what: str
    line: str = ""
    module: str = ""
    source: str = field(default="", repr=False)
    table: str = field(default="", repr=False)
    data: Any = field(default=None, repr=False)
    goods: str = field(default="", repr=False)


#: Makes a mutant, or None where the change is no wrong after all.
Candidate = Callable[[], Mutant | None]


class Fate(StrEnum):
    """By what it was killed; or that it lives."""

    LAW = "law cases"
    PUBLISHED = "published figures"
    TESTS = "tests of marks"
    ERROR = "no import"
    TIME = "time or memory"
    LIVES = "lives"


_CODES = {10: Fate.LAW, 13: Fate.PUBLISHED, 11: Fate.TESTS, 12: Fate.ERROR, 0: Fate.LIVES}


def preload() -> None:
    """Load what every trial needs and no mutant touches: the libraries. Nothing of marks."""
    import hypothesis  # noqa: F401
    import jsonschema  # noqa: F401
    import pint  # noqa: F401
    import pydantic  # noqa: F401
    import pytest  # noqa: F401
    import yaml  # noqa: F401

    assert not any(name.split(".")[0] in ("marks", "layouts") for name in sys.modules), "marks was read too early"


def try_out(mutant: Mutant, first: Sequence[int] = ()) -> Fate:
    """Put the wrong in place in a child and ask the tests. first: the places of the law cases that are asked first."""
    child = os.fork()
    if not child:
        with contextlib.suppress(BaseException):
            os._exit(_child(mutant, first))
        os._exit(11)  # whatever went wrong went wrong because of the wrong
    _, status = os.waitpid(child, 0)
    return _CODES.get(os.waitstatus_to_exitcode(status), Fate.TIME)


def _child(mutant: Mutant, first: Sequence[int]) -> int:
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST))
    sys.stdout = sys.stderr = io.StringIO()
    try:
        _install(mutant)
        import marks.decide
        import marks.record  # noqa: F401
    except Exception:
        return 12
    if not _law_holds(first):
        return 10
    if not _pass(PUBLISHED):
        return 13
    return 0 if _pass(MODULES) else 11


def _law_holds(first: Sequence[int]) -> bool:
    from tests.law_cases import LawCase, cases, faults, journey_faults, misplaced, uncited

    def holds(case: LawCase) -> bool:
        decision = case.decision()
        modes = {str(mode): one for mode, one in decision.modes.items()}
        if "journey" in case.given and next(journey_faults(case.given["journey"], decision), None):
            return False
        return not any(
            next(fault, None)
            for mode in case.modes
            for fault in (faults(case.given[mode], modes[mode]), misplaced(case, modes[mode]), uncited(modes[mode]))
        )

    try:
        ones = tuple(cases())
        places = dict.fromkeys((*first, *range(len(ones))))
        return all(holds(ones[place]) for place in places)
    except Exception:
        return False


def _pass(tests: Sequence[str]) -> bool:
    import pytest

    return not pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", *tests])


def _install(mutant: Mutant) -> None:
    if mutant.module:
        sys.meta_path.insert(0, _Finder(mutant))
    elif mutant.table:
        import marks.tables as tables

        reads = tables.Table
        tables.Table = lambda text: mutant.data if text == mutant.table else reads(text)  # type: ignore[assignment,misc]
    else:
        from marks.goods import lookup

        lookup._list = mutant.goods.encode  # type: ignore[assignment]


class _Finder(importlib.abc.MetaPathFinder):
    """Gives the changed module in place of the file's."""

    def __init__(self, mutant: Mutant) -> None:
        self._mutant = mutant

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self._mutant.module:
            return None
        file = ROOT / self._mutant.where.rsplit(":", 1)[0]
        return importlib.util.spec_from_file_location(fullname, file, loader=_Loader(fullname, str(file), self._mutant))


class _Loader(importlib.machinery.SourceFileLoader):
    def __init__(self, fullname: str, path: str, mutant: Mutant) -> None:
        super().__init__(fullname, path)
        self._mutant = mutant

    def get_code(self, fullname: str) -> CodeType:
        return compile(self._mutant.source, self.path, "exec", dont_inherit=True)
