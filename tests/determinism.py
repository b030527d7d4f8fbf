"""python -m tests.determinism python3.12 python3.13: do other interpreters make the same bytes of the same records?

Every example by each interpreter and by this one: the plan as JSON and as text, the comparison, the papers, and the sheets
as SVG and PDF. Each interpreter needs sixface's dependencies (a virtual environment's python will do). The answers and
their digests are compared; what differs is named.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
NEEDED = "reportlab, svgwrite, qrcode, pydantic, pint, tomli, pypdf, yaml, fontTools, fontpkg"
SHOWN = 12


def digests() -> dict[str, str]:
    """Everything this interpreter makes of the examples, by name, as SHA-256."""
    from layouts.front.cli import main

    found = {}
    for record in sorted(Path("examples").glob("*.yaml")):
        for words in (["plan", "--json"], ["plan", "--explain"], ["compare"], ["papers"]):
            said = io.StringIO()
            with contextlib.redirect_stdout(said):
                main([words[0], str(record), *words[1:]])
            found[f"{record.stem}: {' '.join(words)}"] = hashlib.sha256(said.getvalue().encode()).hexdigest()
        with tempfile.TemporaryDirectory() as out, contextlib.redirect_stdout(io.StringIO()):
            for inks in ("rgb", "spot"):
                main(["sheets", str(record), "-o", out, "--allow-refused", "--inks", inks])
                for path in sorted(Path(out).iterdir()):
                    found[f"{record.stem}: {path.name}, {inks}"] = hashlib.sha256(path.read_bytes()).hexdigest()
    return found


def lacks(python: str) -> str | None:
    """Why an interpreter can't be asked, or None."""
    try:
        done = subprocess.run([python, "-c", f"import {NEEDED}"], cwd=ROOT, capture_output=True, text=True)
    except OSError as error:
        return error.strerror or "it can't be started"
    return None if done.returncode == 0 else (done.stderr.strip().splitlines() or ["it fails"])[-1]


def asked(python: str) -> dict[str, str]:
    """The digests of another interpreter, under another hash seed."""
    code = "import json; from tests.determinism import digests; print(json.dumps(digests()))"
    env = os.environ | {"PYTHONPATH": str(ROOT), "PYTHONHASHSEED": "7", "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run([python, "-c", code], cwd=ROOT, env=env, capture_output=True, text=True, check=True)
    made: dict[str, str] = json.loads(done.stdout)
    return made


def main(pythons: list[str]) -> int:
    if not pythons:
        print(__doc__)
        return 2
    right = asked(sys.executable)
    status = 0
    for python in pythons:
        if (why := lacks(python)) is not None:
            print(f"{python}: not asked: {why}")
            status = 2
            continue
        made = asked(python)
        differ = sorted(name for name in right.keys() | made.keys() if right.get(name) != made.get(name))
        print(f"{python}: {len(right) - len(differ)} of {len(right)} answers and files are the same")
        for name in differ[:SHOWN]:
            print(f"  differs: {name}")
        status = max(status, int(bool(differ)))
    return status


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
