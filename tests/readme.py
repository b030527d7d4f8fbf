"""What README and DEVELOPERS.md print, made by the commands themselves: ``python -m tests.readme`` writes it anew, a test
compares.

A line ``<!-- $ COMMAND -->`` stands above each block; the block up to the closing fence is what the command prints (standard
output and errors). ``cat FILE`` is the file; ``cat FILE | WORDS`` the part of it that has these words, from
one empty line to the next, or two of Python. ``<!-- $ examples -->`` and ``<!-- $ editions -->`` stand above
tables made from the examples and editions.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parent.parent
README, DEVELOPERS = ROOT / "README.md", ROOT / "DEVELOPERS.md"
FENCED = re.compile(
    r"(<!-- \$ (?P<command>(?:sixface|cat) [^>]*?) -->\n\n```[a-z]*\n)(?P<shown>.*?)(\n```\n)", re.DOTALL
)
TABLES = re.compile(r"(<!-- \$ (?P<what>examples|editions) -->\n\n)(?P<shown>.*?)(\n\n<!-- end -->)", re.DOTALL)


def answer(command: str) -> str:
    """What a command of README prints, run in the project's folder."""
    name, *words = command.split()
    if name == "cat":
        text = (ROOT / words[0]).read_text("utf-8").rstrip("\n")
        return (
            part(text, command.split(" | ")[1], "\n\n\n" if words[0].endswith(".py") else "\n\n")
            if "|" in words
            else text
        )
    with tempfile.TemporaryDirectory() as place:  # what a command writes is written there
        for folder in ("examples", "tests"):
            (Path(place) / folder).symlink_to(ROOT / folder)
        done = subprocess.run(
            [sys.executable, "-m", "layouts.front.cli", *words],
            capture_output=True,
            text=True,
            cwd=place,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            check=False,
        )
    return (done.stdout + done.stderr).rstrip("\n")


def part(text: str, words: str, gap: str) -> str:
    """The one part between two gaps that has the words. ValueError where none has them, or several."""
    (found,) = [one for one in text.split(gap) if words in one]
    return found.strip("\n")


def examples() -> str:
    """One row an example: its file, its first comment line, and what the plan says of it."""
    from layouts.job import plan_file

    rows = ["| record | what it shows | journey |", "| --- | --- | --- |"]
    for path in sorted((ROOT / "examples").glob("*.yaml")):
        says = next((line.lstrip("# ") for line in path.read_text("utf-8").splitlines() if line.startswith("#")), "")
        planned = plan_file(path)
        rows.append(f"| `{path.stem}` | {says} | {', '.join(planned.record.modes)}: {planned.verdict} |")
    return "\n".join(rows)


def editions_table() -> str:
    from marks.tables import editions

    rows = ["| mode | rules and figures | days |", "| --- | --- | --- |"]
    rows += [f"| {one.mode} | {one.name} | {one.first} to {one.last} |" for one in editions().values()]
    return "\n".join(rows)


def made(text: str) -> str:
    """A text with every block as its command prints it now."""
    text = FENCED.sub(lambda m: m[1] + answer(m["command"]) + m[4], text)
    return TABLES.sub(lambda m: m[1] + (examples() if m["what"] == "examples" else editions_table()) + m[4], text)


if __name__ == "__main__":
    for page in (README, DEVELOPERS):
        page.write_text(made(page.read_text("utf-8")), "utf-8")
