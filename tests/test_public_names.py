"""The public surface of marks: every name is there, comes from where it says, and costs nothing until asked for."""

from __future__ import annotations

import ast
import doctest
import importlib
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import marks

ROOT = Path(__file__).parents[1]
#: Nothing of these may be loaded by ``import marks`` alone.
HEAVY = ("pydantic", "pint", "yaml", "reportlab", "svgwrite", "fontTools", "qrcode", "marks.record", "marks.rule")


@pytest.mark.parametrize("name", marks.__all__)
def test_a_public_name_comes_from_a_module_where_it_is_public_too(name: str) -> None:
    value = getattr(marks, name)
    home = importlib.import_module(marks._HOME[name])
    assert value is getattr(home, name) and not name.startswith("_")
    assert (getattr(value, "__doc__", None) or "").strip(), f"{name} says nothing of itself"


def test_no_public_name_hides_a_module() -> None:
    """A name that is a module's too would mean the one or the other by the order of imports."""
    modules = {path.stem for path in (ROOT / "marks").glob("*.py")} | {"goods", "rules", "tables"}
    assert not modules & set(marks.__all__)


def test_names_are_listed_and_others_refused() -> None:
    assert set(marks.__all__) <= set(dir(marks))
    with pytest.raises(AttributeError, match="no attribute 'decided'"):
        marks.decided  # noqa: B018


def test_importing_marks_loads_nothing_heavy() -> None:
    code = f"import sys, marks; print([name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_example_of_the_package_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    result = doctest.testmod(marks, verbose=False)
    assert result.attempted >= 5 and not result.failed


def test_layouts_takes_public_names_alone() -> None:
    """``from marks.x import name``: no underscore, and no star."""
    private = [
        f"{path.relative_to(ROOT)}: {name.name}"
        for path in sorted((ROOT / "layouts").rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "marks"
        for name in node.names
        if name.name.startswith("_") or name.name == "*"
    ]
    assert not private


def _modules() -> list[str]:
    return sorted(
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        for room in ("marks", "layouts")
        for path in (ROOT / room).rglob("*.py")
        if (ROOT / room / "__init__.py").exists()
    )


#: Modules of layouts whose values others read; what draws and writes is known by its class.
SPOKEN_OF = ("layouts.job", "layouts.planned", "layouts.placement", "layouts.errors", "layouts.batch")


def _silent(tree: ast.Module | ast.ClassDef, within: bool) -> Iterator[str]:
    """Functions and classes that say nothing of themselves, and those within classes; ``_name`` is nobody's business."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            if not ast.get_docstring(node):
                yield node.name
            if within and isinstance(node, ast.ClassDef):
                yield from (f"{node.name}.{one}" for one in _silent(node, within))


def test_every_module_and_every_public_name_in_it_says_what_it_is() -> None:
    missing = []
    for name in _modules():
        path = ROOT / Path(*name.split("."))
        source = (path / "__init__.py" if path.is_dir() else path.with_suffix(".py")).read_text("utf-8")
        tree = ast.parse(source)
        if ast.get_docstring(tree) is None:
            missing.append(name)
        missing += [f"{name}.{one}" for one in _silent(tree, name.startswith("marks") or name in SPOKEN_OF)]
    assert len(_modules()) > 150 and not missing


def test_the_reader_of_names_sees_the_silent_ones() -> None:
    """A test of the test."""
    tree = ast.parse("def a(): ...\ndef _b(): ...\nclass C:\n  'c'\n  def d(self): ...\n")
    assert (list(_silent(tree, False)), list(_silent(tree, True))) == (["a"], ["a", "C.d"])
