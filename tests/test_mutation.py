"""The mutation check itself: a wrong of each kind is put in place and noticed, and no wrong is noticed where there is none."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutation.equal import lines

ROOT = Path(__file__).parents[1]
#: Each is made in a process of its own, where nothing of marks has been read.
WRONGS = {
    "a comparison": (
        "law cases",
        "marks/rules/orientation.py",
        'source=text.replace("millilitres <= ", "millilitres < ")',
    ),
    "a table": ("law cases", "marks/tables/limits.toml", "table=text, data=changed"),
    "the goods list": ("law cases", "marks/goods/entries.csv", 'goods=text.replace(",5 L,60 L,", ",4 L,60 L,")'),
    "nothing": ("lives", "marks/rules/orientation.py", "source=text"),
}


def test_each_wrong_that_is_none_is_of_a_line_that_stands() -> None:
    """A line that was changed since is to be thought about anew."""
    for line in lines():
        text = (ROOT / line["in"]).read_text("utf-8")
        assert line["why"] and (line["in"].endswith(".toml") or line["line"] in text), line


@pytest.mark.parametrize("wrong", WRONGS)
def test_a_wrong_is_put_in_place_and_noticed(wrong: str) -> None:
    fate, path, words = WRONGS[wrong]
    module = 'module="marks.rules.orientation", ' if path.endswith(".py") else ""
    code = f"""
import tomllib
from pathlib import Path
from tests.mutation import trial
text = Path({path!r}).read_text("utf-8")
changed = tomllib.loads(text) if {path!r}.endswith("toml") else {{}}
if changed:
    changed["arrows"]["absorbed"][0]["value"] = "121"
trial.PUBLISHED = trial.MODULES = ("tests/published/test_special.py",)
trial.preload()
print(trial.try_out(trial.Mutant({path!r} + ":1", "by hand", {module}{words}), [0]))
"""
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert done.stdout.strip() == fate, done.stderr
