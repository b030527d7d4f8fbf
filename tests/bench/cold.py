"""Part 1, cold start: a whole process, from its call to its end, beside one that loads the same libraries and does nothing.

The same libraries are found out, not listed: whatever modules a command has loaded when it ends, of the standard library
too, less our own; those of its second process with them. A module of ours is compiled before the first round, as an installer
leaves it. numpy is hidden from both sides: pint loads it wherever it happens to be installed, which a plain installation has
no reason to do.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

from tests.bench.records import EXAMPLES, ROOT
from tests.bench.table import Part

_HIDE = "import sys\nsys.modules['numpy'] = None\n"
_RUN = _HIDE + "from layouts.front.cli import main\ntry:\n    main()\nexcept SystemExit:\n    pass\n"
# ``sheets`` draws in a second process where it can: asked what is loaded, it gets one processor, and does all in one.
_ALONE = "import os\nif hasattr(os, 'sched_setaffinity'):\n    os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})\n"
_ASK = _ALONE + _RUN + (
    "held = [name for name, module in sys.modules.items() if module is not None]\n"
    "ours = ('marks', 'layouts', '__main__')\n"
    "print('loaded:', *[name for name in held if name.split('.')[0] not in ours], file=sys.stderr)\n"
)
_LOAD = _HIDE + (
    "from importlib import import_module\n"
    "for name in sys.argv[1:]:\n"
    "    try:\n        import_module(name)\n    except ImportError:\n        pass\n"
)


def _environment() -> dict[str, str]:
    held = {**os.environ, "PYTHONPATH": str(ROOT)}
    held.pop("PYTHONDONTWRITEBYTECODE", None)
    return held


def _process(program: str, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", program, *words],
        capture_output=True, text=True, cwd=ROOT, env=_environment(), check=True,
    )  # fmt: skip


def milliseconds(program: str, *words: str) -> float:
    """One process from its call to its end."""
    began = time.perf_counter()
    _process(program, *words)
    return (time.perf_counter() - began) * 1000


def libraries(*words: str) -> list[str]:
    """Every module a command has loaded when it ends that is none of ours, in the order of loading."""
    return _process(_ASK, *words).stderr.splitlines()[-1].split()[1:]


def measure(scratch: Path, quick: bool) -> Part:
    rounds = 3 if quick else 9
    record = str(EXAMPLES / "isopropanol-three-modes.yaml")
    commands: dict[str, tuple[tuple[str, ...], float | None]] = {
        "--version": (("--version",), None),
        "plan": (("plan", record), 1.2),
        "sheets": (("sheets", record, "-o", str(scratch / "cold")), 1.3),
    }
    part = Part("1 cold start: a whole process, one record with 8 marks, PDF and SVG")
    loads = {name: libraries(*words) for name, (words, _) in commands.items()}
    took: dict[str, list[float]] = {"python -c pass": []}
    for _ in range(rounds):
        took["python -c pass"].append(milliseconds("pass"))
        for name, (words, _) in commands.items():
            took.setdefault(f"sixface {name}", []).append(milliseconds(_RUN, *words))
            took.setdefault(f"its libraries alone, {name}", []).append(milliseconds(_LOAD, *loads[name]))
    for name, values in took.items():
        part.row(name, "ms", values)
    for name, (_, most) in commands.items():
        above, below = took[f"sixface {name}"], took[f"its libraries alone, {name}"]
        part.ratio(f"{name} against its libraries", above, below, most=most)
    counts = ", ".join(f"{name} {len(loads[name])}" for name in commands)
    part.notes.append(f"Library modules loaded: {counts}. numpy is hidden from both sides; all is compiled beforehand.")
    return part
