"""A second process draws what the first would draw, and nothing depends on it."""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

import layouts.beside  # noqa: F401  # tells pickle what it does not know
from layouts.choices import USUAL, in_colours
from layouts.draw import Draft
from layouts.job import plan_file
from layouts.output import heading_of, sheets_of
from layouts.packing import packing_sheets
from layouts.stock import read_stock
from marks.errors import RecordError

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.yaml"))
RECORD = ROOT / "examples" / "isopropanol-three-modes.yaml"
PROCESSORS = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 1
several = pytest.mark.skipif(PROCESSORS < 2, reason="with one processor there is no second process")

COMMAND = "import sys\nfrom layouts.front.cli import main\nsys.exit(main())\n"
ONE_PROCESSOR = (
    "import os\nif hasattr(os, 'sched_setaffinity'):\n    os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})\n"
)
#: The first process says what it draws itself; the second prints nothing wherever it would.
TELLING = """
import os, sys
import layouts.draw as draw
first, drawn = os.getpid(), draw.Draft.drawn
def telling(self, told):
    print("drawn by", "the first" if os.getpid() == first else "the second", file=sys.stderr)
    return drawn(self, told)
draw.Draft.drawn = telling
"""
ENDS_BEFORE_IT_IS_READY = "import layouts.beside as b\nb._make_ready = lambda formats: 1 / 0\n"
ENDS_WHILE_IT_DRAWS = """
import os
import layouts.draw as draw
one, whole = os.getpid(), draw.Draft.drawn
def some(self, told):
    if os.getpid() != one and "packing" in self.name:
        os._exit(1)
    return whole(self, told)
draw.Draft.drawn = some
"""
ENDS_WHILE_IT_ANSWERS = """
import os, pickle
first, dump, said = os.getpid(), pickle.dump, []
def few(content, back, protocol):
    if os.getpid() != first:
        said.append(content)
        if len(said) == 4:
            back.flush()
            os._exit(1)
    dump(content, back, protocol)
pickle.dump = few
"""
SENDS_NONSENSE = "import pickle\npickle.dump = lambda content, back, protocol: back.write(b'no pickle at all')\n"
#: One file cannot be handed over: what comes back is not taken for it.
ONE_IS_LEFT_OUT = """
import pickle
class Leaving(pickle.Pickler):
    given = 0
    def dump(self, draft):
        self.given += 1
        if self.given == 3:
            raise TypeError("this can't be pickled")
        super().dump(draft)
pickle.Pickler = Leaving
"""
ANSWERS_IN_DISORDER = """
import layouts.beside as b, pickle
class Turned(pickle.Unpickler):
    def load(self):
        given = []
        while (draft := super().load()) is not None:
            given.insert(0, draft)
        self.load = iter([*given, None]).__next__
        return self.load()
pickle.Unpickler = Turned
"""
NOTHING_IS_HANDED_OVER = "import layouts.beside as b\nb.MOST = 0\n"
PART_IS_HANDED_OVER = "import layouts.beside as b\nb.MOST = 3\n"
DRAWS_NOTHING = """
import layouts.draw as draw
from layouts.errors import LayoutError
def refuse(self, told):
    raise LayoutError("this can't be drawn")
draw.Draft.drawn = refuse
"""


def sheets(out: Path, before: str = "", record: Path = RECORD) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", before + COMMAND, "sheets", str(record), "-o", str(out)],
        capture_output=True, text=True, cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)}, timeout=60,
    )  # fmt: skip


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


@pytest.fixture(scope="module")
def by_one(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """What one process makes that has one processor."""
    out = tmp_path_factory.mktemp("one") / "out"
    done = sheets(out, TELLING + ONE_PROCESSOR)
    assert done.returncode == 0 and set(done.stderr.split("\n")) == {"drawn by the first", ""}, done.stderr
    return files(out)


@several
def test_the_second_process_draws_all_of_it(tmp_path: Path, by_one: dict[str, bytes]) -> None:
    done = sheets(tmp_path / "out", TELLING)
    assert (done.returncode, done.stderr) == (0, "")
    assert files(tmp_path / "out") == by_one


@several
@pytest.mark.parametrize(
    "what",
    (
        ENDS_BEFORE_IT_IS_READY,
        ENDS_WHILE_IT_DRAWS,
        ENDS_WHILE_IT_ANSWERS,
        SENDS_NONSENSE,
        ONE_IS_LEFT_OUT,
        ANSWERS_IN_DISORDER,
        NOTHING_IS_HANDED_OVER,
        PART_IS_HANDED_OVER,
    ),
)
def test_what_does_not_come_back_the_first_process_draws(tmp_path: Path, by_one: dict[str, bytes], what: str) -> None:
    done = sheets(tmp_path / "out", what + TELLING)
    assert done.returncode == 0 and "drawn by the first" in done.stderr
    assert files(tmp_path / "out") == by_one


@several
def test_what_can_not_be_drawn_is_said_once(tmp_path: Path) -> None:
    done = sheets(tmp_path / "out", DRAWS_NOTHING)
    assert (done.returncode, done.stderr) == (2, "sixface: this can't be drawn\n")
    assert not (tmp_path / "out").exists() or not files(tmp_path / "out")


@several
def test_a_record_that_is_none_ends_both(tmp_path: Path) -> None:
    """No process is left behind, and nothing is written."""
    record = tmp_path / "record.yaml"
    record.write_text("sixface: 1\n", "utf-8")
    left = "import atexit, os, sys\n@atexit.register\ndef left():\n    try:\n        os.waitpid(-1, os.WNOHANG)\n"
    left += "        print('a process is left', file=sys.stderr)\n    except ChildProcessError:\n        pass\n"
    done = sheets(tmp_path / "out", left, record)
    assert done.returncode == 2 and "record.yaml" in done.stderr and "is left" not in done.stderr
    assert not (tmp_path / "out").exists()


@several
@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="the system does not list its processes")
def test_when_the_first_process_is_killed_the_second_ends(tmp_path: Path) -> None:
    first = subprocess.Popen(
        [sys.executable, "-c", COMMAND, "sheets", str(RECORD), "-o", str(tmp_path / "out")],
        cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)}, stdout=subprocess.DEVNULL,
    )  # fmt: skip
    children = Path(f"/proc/{first.pid}/task/{first.pid}/children")
    until = time.monotonic() + 30
    while not (second := children.read_text().split()) and first.poll() is None and time.monotonic() < until:
        time.sleep(0.002)
    first.send_signal(signal.SIGKILL)
    first.wait()
    assert len(second) == 1
    while (
        Path(f"/proc/{second[0]}").exists() and "Z" not in Path(f"/proc/{second[0]}/stat").read_text().split(")")[1][:3]
    ):
        assert time.monotonic() < until, "the second process goes on"
        time.sleep(0.01)


@pytest.mark.parametrize("record", EXAMPLES, ids=lambda path: path.stem)
def test_every_sheet_can_be_handed_over(record: Path) -> None:
    """What comes out at the other end is drawn as what went in."""
    try:
        planned = in_colours(plan_file(record), USUAL)
    except RecordError:
        pytest.skip("refused before anything is drawn")
    paper, heading = read_stock("A4"), heading_of(planned, record.name)
    for stack in (sheets_of(planned, paper, heading, True), packing_sheets(planned, heading, paper, True)):
        if stack:
            for draft in (Draft("a.pdf", tuple(stack), "a"), Draft("a.svg", (stack[0],))):
                again: Draft = pickle.loads(pickle.dumps(draft))
                assert again.drawn(lambda: None) == draft.drawn(lambda: None)
