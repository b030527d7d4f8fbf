"""What a command loads before it answers. No clock is read here: the modules are what costs time."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
HEAVY = (
    "reportlab",
    "svgwrite",
    "PIL",
    "qrcode",
    "fontTools",
    "pypdf",
    "openpyxl",
)  # numpy comes with pint where it is installed

#: Of the house: what the plan of a flammable liquid has no use for. Each module costs a quarter of a millisecond.
NOT_ASKED_FOR = (
    "marks.compare", "marks.papers", "layouts.front.comparison", "layouts.output", "layouts.svg", "layouts.pdf",
    "layouts.artwork.biological", "layouts.artwork.explosives", "layouts.artwork.miscellaneous",
    "layouts.artwork.radioactive", "layouts.artwork.squares", "layouts.artwork.symbols.solid",
)  # fmt: skip


def loaded(*words: str) -> set[str]:
    """The modules a command has loaded when it ends."""
    program = (
        "import sys\n"
        "from layouts.front.cli import main\n"
        "try:\n    main(sys.argv[1:])\n"
        "except SystemExit:\n    pass\n"
        "print('loaded:', *sorted(sys.modules), file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, *words],
        capture_output=True, text=True, cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)}, check=True,
    )  # fmt: skip
    return set(done.stderr.splitlines()[-1].split()[1:])


def test_version_loads_next_to_nothing() -> None:
    names = loaded("--version")
    assert not names & {*HEAVY, "pydantic", "pint", "yaml", "json", "marks"}


@pytest.mark.parametrize("form", [(), ("--json",), ("--explain",)])
def test_a_plan_loads_what_the_record_needs_and_no_writer(form: tuple[str, ...]) -> None:
    names = loaded("plan", "examples/isopropanol-three-modes.yaml", *form)
    assert {"pydantic", "pint", "yaml"} <= names
    assert not names & {*HEAVY, *NOT_ASKED_FOR}


def test_the_modules_that_a_plan_does_not_ask_for_are_there() -> None:
    for name in NOT_ASKED_FOR:
        assert find_spec(name), name


def test_a_process_that_answers_once_looks_for_no_garbage_and_a_caller_is_left_alone() -> None:
    program = (
        "import gc, sys\n"
        "from layouts.front.cli import main\n"
        "main(['goods', '1219'])\n"
        "print(gc.isenabled(), gc.get_freeze_count(), file=sys.stderr)\n"
        "main()\n"
        "print(gc.isenabled(), gc.get_freeze_count() > 1000, file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, "goods", "1219"],
        capture_output=True, text=True, cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)}, check=True,
    )  # fmt: skip
    assert done.stderr.split() == ["True", "0", "False", "True"]


def test_goods_load_neither_models_nor_units() -> None:
    assert not loaded("goods", "1219") & {*HEAVY, "pydantic", "pint"}


def test_a_plugin_that_someone_else_installed_has_no_say_in_how_a_record_is_read(tmp_path: Path) -> None:
    """pydantic loads whatever any installed distribution offers it under the entry point ``pydantic``."""
    (tmp_path / "meddler.py").write_text("open('meddled', 'w').close()\nplugin = object()\n", "utf-8")
    about = tmp_path / "meddler-1.dist-info"
    about.mkdir()
    (about / "METADATA").write_text("Metadata-Version: 2.1\nName: meddler\nVersion: 1\n", "utf-8")
    (about / "entry_points.txt").write_text("[pydantic]\nmeddler = meddler:plugin\n", "utf-8")

    def meddled(*words: str, **more: str) -> bool:
        path = os.pathsep.join((str(ROOT), str(tmp_path)))
        subprocess.run(
            [sys.executable, *words], capture_output=True, cwd=tmp_path, env={**os.environ, "PYTHONPATH": path, **more}
        )
        return (tmp_path / "meddled").exists()

    record = str(ROOT / "examples" / "isopropanol-three-modes.yaml")
    assert not meddled("-m", "layouts.front.cli", "plan", record)
    assert meddled("-c", f"from layouts.job import plan_file; plan_file({record!r})")  # it is there to be found
