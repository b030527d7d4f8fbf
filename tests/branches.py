"""python -m tests.branches: which branches of marks and layouts the tests take; at least 95 of a hundred are asked for.

Room by room, each in a process of its own, with everything the tests start as processes counted in: commands, and the desk
with its workers. What a process did that was killed is not counted. Tests of what a process costs are left out: one that is
watched loads more, takes more memory and writes more.
The parts are combined at the end. It takes several times as long as the tests alone. Rooms named on the command line
are run anew and added to what is there: ``python -m tests.branches tests/desk``.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
LEAST = 95.0
#: The rooms, and the tests that lie in none.
ROOMS = ("tests/marks", "tests/published", "tests/layouts", "tests/draw", "tests/desk", "tests")
#: Tests that fail where they are watched.
LEFT_OUT = (
    "tests/test_cold_start.py",
    "tests/test_fuzz.py::test_drawn_and_damaged_records_get_an_answer_or_a_clear_error",
    "tests/test_steady.py::test_a_file_that_can_grow_no_further_is_one_clear_line",
)


def _run(*words: str) -> int:
    return subprocess.run([sys.executable, "-m", *words], cwd=ROOT).returncode


def _tests(room: str) -> list[str]:
    return [room] if room != "tests" else [str(one.relative_to(ROOT)) for one in sorted((ROOT / "tests").glob("test_*.py"))]


def main(rooms: list[str]) -> int:
    without = [f"--deselect={one}" for one in LEFT_OUT]
    if not rooms:
        _run("coverage", "erase")
    failed = [room for room in rooms or ROOMS if _run("coverage", "run", "-m", "pytest", "-q", *without, *_tests(room))]
    _run("coverage", "combine", "--append", "-q")
    report = ROOT / ".coverage.json"
    _run("coverage", "json", "-q", "-o", str(report))
    found = json.loads(report.read_text("utf-8"))
    for path, one in sorted(found["files"].items()):
        if missing := one.get("missing_branches"):
            print(f"{path}: {', '.join(f'{a} to {b}' if b > 0 else f'{a} to the end' for a, b in missing)}")
    for place in ("marks/", "layouts/", "layouts/front/desk/"):
        here = [one["summary"] for path, one in found["files"].items() if path.startswith(place)]
        taken, there = (sum(one[key] for one in here) for key in ("covered_branches", "num_branches"))
        print(f"{place}: {taken} of {there} branches, {100 * taken / max(there, 1):.1f} %")
    total = found["totals"]
    share = 100 * total["covered_branches"] / total["num_branches"]
    print(f"{total['covered_branches']} of {total['num_branches']} branches, {share:.1f} %; {LEAST:g} % are asked for")
    print(f"{total['covered_lines']} of {total['num_statements']} statements")
    if failed:
        print(f"tests fail in {', '.join(failed)}")
    return int(share < LEAST or bool(failed))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
