"""Every command as a person runs it: what it prints, what it leaves behind, its exit status."""

from __future__ import annotations

import hashlib
import json
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import jsonschema
import pytest

HERE = Path(__file__).parent
EXAMPLES = HERE.parent / "examples"
ORDINARY = EXAMPLES / "isopropanol-three-modes.yaml"


def sixface(*words: object, cwd: Path | None = None, **env: str) -> subprocess.CompletedProcess[str]:
    """Run the command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "layouts.front.cli", *map(str, words)],
        capture_output=True,
        text=True,
        cwd=cwd or HERE.parent,
        env={**os.environ, "PYTHONPATH": str(HERE.parent), **env},
        check=False,
    )


def test_version_and_help() -> None:
    project = tomllib.loads((HERE.parent / "pyproject.toml").read_text("utf-8"))["project"]
    assert sixface("--version").stdout == f"sixface {project['version']}\n"
    assert f"- {project['version']}: " in (HERE.parent / "README.md").read_text("utf-8")
    shown = sixface("--help").stdout
    for command in ("plan", "sheets", "compare", "goods", "specimens", "schema"):
        assert command in shown
    assert "trained and authorised person decide" in " ".join(shown.split())


def test_a_plan_says_what_was_read_what_is_held_and_who_decides() -> None:
    done = sixface("plan", ORDINARY)
    assert done.returncode == 0, done.stderr
    for words in (
        str(ORDINARY),
        "editions held",
        "ADR",
        "IMDG",
        "trained and authorised person decide",
        "UN 1219",
        "not asked for",
    ):
        assert words in " ".join(done.stdout.split())


def test_explain_names_the_steps_and_why_each_mark_stands_there() -> None:
    shown = sixface("plan", ORDINARY, "--explain").stdout
    for step in ("1 read", "2 decide", "3 place", "full size on an upright face: taken", "ISO 2206 numbers them: front 2"):
        assert step in shown
    placed = json.loads(sixface("plan", ORDINARY, "--json").stdout)["packages"][0]["journey"]["placement"]
    said = " ".join(shown.split("3 place")[1].split("on the transport document")[0].split())
    for number, mark in enumerate(placed, 1):  # each with its place and the reason for its face
        line = said.split(f" {number} {mark['mark']}")[1].split("mm from below)")[0]
        assert mark["face"] in line and f"({mark['x_mm']:.0f} mm from the left" in line


def test_one_leg_alone() -> None:
    plan = json.loads(sixface("plan", ORDINARY, "--mode", "road", "--json").stdout)
    assert list(plan["packages"][0]["modes"]) == ["road"]
    asked = {mark["mark"] for mark in plan["packages"][0]["journey"]["marks"]}
    assert "shipper" not in asked and "un-number" in asked


@pytest.mark.parametrize("record", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_the_plan_is_of_the_published_form(record: Path) -> None:
    schema = json.loads(sixface("schema", "plan").stdout)
    done = sixface("plan", record, "--json")
    assert done.returncode in (0, 1), done.stderr
    jsonschema.validate(json.loads(done.stdout), schema)


def test_the_record_schema_is_a_schema() -> None:
    schema = json.loads(sixface("schema", "record").stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert {"reference", "date", "modes", "packages"} <= set(schema["properties"])


def test_goods_by_number_and_by_name() -> None:
    assert "PERFUMERY PRODUCTS" in sixface("goods", "1266").stdout
    assert "1266" in sixface("goods", "perfumery").stdout
    entries = json.loads(sixface("goods", "1219", "--json").stdout)
    assert "1219" in json.dumps(entries)
    none = sixface("goods", "xyzzy")
    assert none.returncode == 2 and "no entry" in none.stderr and not none.stdout


@pytest.mark.parametrize(
    "changed, says",
    [
        (("un: 1219", "un: 9999"), "9999"),
        (("date: 2026-11-25", "date: 1999-01-01"), "no edition"),
        (("date: 2026-11-25", "date: 2031-01-01"), "no edition"),
        (("name: ISOPROPANOL", "name: ISOPROPANOLE"), "ISOPROPANOL"),
    ],
)
def test_what_the_list_or_the_editions_leave_open_is_a_fault_with_its_line(
    tmp_path: Path, changed: tuple[str, str], says: str
) -> None:
    text = ORDINARY.read_text("utf-8")
    assert changed[0] in text
    broken = tmp_path / "broken.yaml"
    broken.write_text(text.replace(*changed), "utf-8")
    line = next(n for n, row in enumerate(broken.read_text("utf-8").splitlines(), 1) if changed[1] in row)
    for command in (("plan", broken), ("sheets", broken, "-o", tmp_path / "out"), ("compare", broken)):
        done = sixface(*command)
        assert done.returncode == 2 and not done.stdout
        assert "Traceback" not in done.stderr
        assert says in done.stderr
        fault = done.stderr.splitlines()[0]
        assert fault.startswith(f"{broken}:")
        assert abs(int(fault.split(":")[1]) - line) <= 1  # the goods line begins with un, the name stands below it
    assert not (tmp_path / "out").exists()


def files_of(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir())}


def test_the_same_record_gives_the_same_bytes(tmp_path: Path) -> None:
    """Whatever the folder, the hash seed, the time zone and the locale."""
    first, second = tmp_path / "one", tmp_path / "two" / "deeper"
    copy = tmp_path / ORDINARY.name
    copy.write_bytes(ORDINARY.read_bytes())
    assert sixface("sheets", ORDINARY, "-o", first, PYTHONHASHSEED="1", TZ="UTC").returncode == 0
    assert (
        sixface("sheets", copy, "-o", second, cwd=tmp_path, PYTHONHASHSEED="77", TZ="Asia/Tokyo", LC_ALL="C").returncode
        == 0
    )
    assert files_of(first) == files_of(second) and len(files_of(first)) >= 6


def test_a_refused_package_gets_its_diagram_and_findings_but_no_labels(tmp_path: Path) -> None:
    refused = next(path for path in sorted(EXAMPLES.glob("*refused*.yaml")))
    done = sixface("sheets", refused, "-o", tmp_path / "out")
    assert done.returncode == 1 and "REFUSED" in done.stdout
    names = list(files_of(tmp_path / "out"))
    assert names and all("-packing" in name for name in names)
    allowed = sixface("sheets", refused, "-o", tmp_path / "all", "--allow-refused", "--format", "svg")
    assert allowed.returncode == 1
    labels = [path for path in (tmp_path / "all").iterdir() if "-labels" in path.name or "-marks" in path.name]
    assert labels
    from pypdf import PdfReader

    sixface("sheets", refused, "-o", tmp_path / "pdf", "--allow-refused", "--format", "pdf")
    for path in (tmp_path / "pdf").glob("*-labels.pdf"):
        for page in PdfReader(path).pages:
            assert "NOT CLEARED FOR" in page.extract_text()


def test_an_earlier_run_leaves_no_old_label_among_the_new(tmp_path: Path) -> None:
    out = tmp_path / "out"
    sixface("sheets", ORDINARY, "-o", out)
    stem = next(path.name for path in out.glob("*-labels.pdf")).removesuffix("-labels.pdf")
    old = out / f"{stem}-labels-99.svg"
    old.write_text("old")
    keep = out / "notes.txt"
    keep.write_text("mine")
    sixface("sheets", ORDINARY, "-o", out)
    assert not old.exists() and keep.exists()
    assert not list(out.glob(".*"))


def test_an_unknown_stock_writes_nothing(tmp_path: Path) -> None:
    done = sixface("sheets", ORDINARY, "-o", tmp_path / "out", "--stock", "B17")
    assert done.returncode == 2 and "B17" in done.stderr and "Traceback" not in done.stderr
    assert not (tmp_path / "out").exists()


def test_a_stock_too_small_says_what_it_needs(tmp_path: Path) -> None:
    done = sixface("sheets", ORDINARY, "-o", tmp_path / "out", "--stock", "110x110 mm")
    assert done.returncode == 2 and "mm" in done.stderr and "Traceback" not in done.stderr
    assert not (tmp_path / "out").exists()


def test_a_stock_file_with_faults_lists_them_all_and_writes_nothing(tmp_path: Path) -> None:
    file = tmp_path / "labels.yaml"
    file.write_text("stock: sixface/1\nname: ours\nsheet: A4\ncolumns: two\nrows: 2\nlabel: {width: 90 mm}\n", "utf-8")
    done = sixface("sheets", ORDINARY, "-o", tmp_path / "out", "--stock", file)
    assert done.returncode == 2 and not done.stdout
    assert [line.split(": ")[1] for line in done.stderr.splitlines()] == ["margins", "columns", "label.height"]
    assert all(line.startswith(f"{file}:") for line in done.stderr.splitlines())
    assert not (tmp_path / "out").exists()


def test_the_answer_says_how_the_stock_is_used_and_what_to_pick(tmp_path: Path) -> None:
    done = sixface("sheets", ORDINARY, "-o", tmp_path / "out", "--format", "pdf", "--ready-made", "3,9A")
    assert done.returncode == 0, done.stderr
    for words in (
        "stock: A4 (210 x 297 mm)",
        "coloured labels: 1 sheet, ",
        "by area it takes at least",
        "2 x Hazard label 3: 2 for package A, front",
        "nothing asks for it: 9A",
    ):
        assert words in done.stdout
    wrong = sixface("sheets", ORDINARY, "-o", tmp_path / "none", "--ready-made", "3,fire")
    assert wrong.returncode == 2 and "'fire': no label is called so" in wrong.stderr
    assert not (tmp_path / "none").exists()


def test_a_batch_takes_label_stock_and_the_shelf(tmp_path: Path) -> None:
    folder, out = tmp_path / "records", tmp_path / "out"
    folder.mkdir()
    (folder / ORDINARY.name).write_bytes(ORDINARY.read_bytes())
    words = ("sheets", folder, "-o", out, "--format", "pdf", "--continue", "--stock", "150x150 mm", "--ready-made", "all")
    assert sixface(*words).returncode == 0
    assert "unchanged" in sixface(*words).stdout
    assert "unchanged" not in sixface(*words[:-2]).stdout


def test_the_printer_check_needs_no_record(tmp_path: Path) -> None:
    done = sixface("sheets", "--check", "-o", tmp_path / "out", "--stock", "Letter", "--format", "pdf", "--inks", "cmyk")
    assert done.returncode == 0, done.stderr
    assert list(files_of(tmp_path / "out")) == ["printer-check.pdf"]
    none = sixface("sheets", "-o", tmp_path / "none")
    assert none.returncode == 2 and "--check" in none.stderr and not (tmp_path / "none").exists()


def test_a_folder_that_cannot_be_written_is_one_clear_line(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("a file, not a folder")
    done = sixface("sheets", ORDINARY, "-o", blocked)
    assert done.returncode == 2 and len(done.stderr.strip().splitlines()) == 1 and "Traceback" not in done.stderr


def test_comparison_shows_the_modes_and_the_ladder(tmp_path: Path) -> None:
    done = sixface("compare", ORDINARY)
    assert done.returncode in (0, 1)
    for words in ("road", "sea", "air", "* the modes differ", "<- this package", "passenger aircraft"):
        assert words in done.stdout
    made = sixface("compare", ORDINARY, "-o", tmp_path / "compare.pdf")
    assert (tmp_path / "compare.pdf").read_bytes().startswith(b"%PDF"), made.stderr


def test_what_a_command_cannot_take_is_one_clear_line(tmp_path: Path) -> None:
    for words, says in (
        (("sheets", ORDINARY, "-o", tmp_path / "none", "--format", "png"), "write pdf, svg or pdf,svg"),
        (("sheets", ORDINARY, "-o", tmp_path / "none", "--format", ","), "write pdf, svg or pdf,svg"),
        (("desk", "--port", "65536", "--folder", tmp_path), "a port is a number from 0 to 65535"),
        (("desk", "--port", "-1", "--folder", tmp_path), "a port is a number from 0 to 65535"),
    ):
        done = sixface(*words)
        assert done.returncode == 2 and done.stdout == "", words
        assert len(done.stderr.splitlines()) == 1 and says in done.stderr, words
    assert not (tmp_path / "none").exists()


def test_without_its_libraries_the_desk_says_what_it_needs(tmp_path: Path) -> None:
    """As where sixface was installed without its extra."""
    code = (
        "import importlib.util as util, sys; found = util.find_spec;"
        "util.find_spec = lambda name, *more: None if name in ('uvicorn', 'jinja2') else found(name, *more);"
        f"from layouts.front.cli import main; sys.exit(main(['desk', '--port', '0', '--folder', {str(tmp_path)!r}]))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=HERE.parent, capture_output=True, text=True, timeout=60)
    assert done.returncode == 2 and done.stderr == "sixface: the desk needs uvicorn, jinja2; pip install 'sixface[desk]'\n"


def test_progress_is_for_eyes_only(tmp_path: Path) -> None:
    """On a terminal a line counts on; elsewhere nothing is added to what is said."""
    if not hasattr(os, "openpty"):
        pytest.skip("no pseudo-terminal here")
    ours, theirs = os.openpty()
    words = [sys.executable, "-m", "layouts.front.cli", "specimens", "-o", str(tmp_path / "seen")]
    env = {**os.environ, "PYTHONPATH": str(HERE.parent)}
    process = subprocess.Popen(words, cwd=HERE.parent, env=env, stdout=subprocess.DEVNULL, stderr=theirs)
    os.close(theirs)
    said = b""
    try:
        while part := os.read(ours, 4096):
            said += part
    except OSError:  # the terminal is gone with its process
        pass
    os.close(ours)
    assert process.wait(60) == 0
    counts = re.findall(rb"(\d+)/(\d+) ", said)
    of = int(counts[-1][1])
    assert counts[0][0] == b"1" and counts[-1][0] == counts[-1][1] and len(files_of(tmp_path / "seen")) == of
