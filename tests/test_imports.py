"""Imports run one way: read from the source with ``ast``, imports inside functions and for type checkers included.

The house has storeys. A module imports from storeys below its own, and from its own storey without going in a circle.
A new module is given its place in the table; until then a test says so.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]

#: Layouts from the ground up. ``name.`` stands for everything in that package.
LAYOUTS: tuple[tuple[str, ...], ...] = (
    ("units", "errors", "geometry", "ink", "files"),
    ("wider",),
    ("pen", "letters", "stock"),
    ("stock_file", "letters_build", "probe", "qr_frame", "qr_words", "qr_mask", "qr"),
    ("svg", "pdf_objects", "pdf_fonts", "pdf_pen", "pdf"),
    ("artwork.symbols.",),
    ("artwork.",),
    ("faces", "mapping"),
    ("placement", "arrange", "outline", "nested", "room", "exact", "told"),
    ("blocks", "board", "plans", "reasons", "contrast", "setting", "steps"),
    ("trouble", "verify", "place"),
    ("furniture", "listing", "arrows", "badges", "bodies", "particulars"),
    ("cell", "fill", "bound", "fillings", "programme", "die", "sheet", "usage"),
    ("measured",),
    ("face", "net", "standing", "ladder", "planned", "choices"),
    ("diagram", "checklist", "comparison", "packing", "papers", "shelf"),
    ("draw",),
    ("beside",),
    ("specimens", "printer_check", "output", "job", "plan_schema"),
    ("batch",),
    ("front.",),
)

#: What is said of a requirement, in words and numbers: plain data that whoever places or prints may read.
DATA = frozenset({"requirement", "terms", "quantity", "tables"})
#: Who in layouts may import marks, and what of it. Who is not named here imports nothing of marks.
FROM_MARKS: Mapping[str, frozenset[str]] = {
    "artwork.catalogue": frozenset({"requirement"}),
    "stock_file": frozenset({"errors", "fields", "quantity", "source"}),
    "faces": DATA,
    **dict.fromkeys(("placement", "board", "plans", "setting", "place"), DATA),
    **dict.fromkeys(("blocks", "reasons", "steps", "trouble", "verify"), DATA | {"small"}),
    "contrast": DATA,
    **dict.fromkeys(("particulars", "bodies", "face", "net", "standing", "diagram"), DATA),
    "checklist": DATA | {"packer"},
    "choices": frozenset({"colours", "record"}),
    "ladder": frozenset({"compare"}),
    "comparison": DATA | {"compare"},
    "packing": DATA | {"packer", "record"},
    "planned": DATA | {"decide", "record"},
    "printer_check": frozenset({"tables"}),
    "specimens": DATA | {"rule", "rules"},
    "output": DATA | {"compare", "decide", "papers", "reading", "record"},
    "papers": frozenset({"papers"}),
    "job": DATA | {"compare", "decide", "errors", "reading", "record", "resolve"},
    "batch": DATA | {"errors", "reading", "record", "rows"},
    "front.commands": DATA | {"errors", "goods", "papers", "record", "rows"},
    "front.comparison": DATA | {"compare"},
    "front.papers": frozenset({"papers"}),
    "front.text": DATA | {"outside", "record"},
}
#: The page: it calls the job, and reads and shows records, entries and answers; no rule and no step 2 of its own.
DESK = DATA | {
    "compare", "errors", "fields", "goods", "outside", "packaging", "packer", "quantity", "reading", "record", "resolve", "source",
}  # fmt: skip

#: Step 1 of marks: reading a record, and the goods list. It knows nothing of step 2, which is everything else.
STEP_1 = frozenset(
    {
        "errors", "terms", "units", "quantity", "fields", "outside", "across", "packaging", "bulk_mark", "inner", "record",
        "source", "reading", "rows", "goods",
    }
)  # fmt: skip
#: Who may import a rule: the table of contents of step 2, which fills the register. Rules never import each other.
READS_RULES = {"marks.decide", "marks.rules", "layouts.specimens"}


@dataclass(frozen=True)
class Import:
    """``who`` imports ``what`` (both dotted, without the name taken from it); typing: for type checkers alone."""

    who: str
    what: str
    typing: bool


@cache
def modules() -> dict[str, Path]:
    """Every module of the house by its dotted name."""
    found = {}
    for package in ("marks", "layouts"):
        for path in sorted((ROOT / package).rglob("*.py")):
            parts = path.relative_to(ROOT).with_suffix("").parts
            found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


@cache
def imports() -> tuple[Import, ...]:
    """Every import of a module of the house, wherever it stands."""
    return tuple(one for name, path in modules().items() for one in _imports_of(name, path))


def _imports_of(name: str, path: Path) -> Iterator[Import]:
    tree = ast.parse(path.read_text("utf-8"))
    guarded = {
        id(inside)
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        for part in node.body
        for inside in ast.walk(part)
    }
    for node in ast.walk(tree):
        targets: list[str] = []
        if isinstance(node, ast.Import):
            targets = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{name}: a relative import hides where it goes"
            base = node.module or ""
            # ``from marks.rules import hazards`` names a module, ``from marks.case import Case`` a thing in one.
            targets = [full if (full := f"{base}.{a.name}") in modules() else base for a in node.names]
        for target in targets:
            if target.split(".")[0] in ("marks", "layouts"):
                yield Import(name, target, id(node) in guarded)


def storey(name: str) -> int | None:
    """The storey of a module of layouts, counted from the ground."""
    for number, names in enumerate(LAYOUTS):
        if any(name == one or (one.endswith(".") and f"{name}.".startswith(one)) for one in names):
            return number
    return None


def _inside(name: str) -> str:
    return name.split(".", 1)[1] if "." in name else ""


def _layouts() -> list[Import]:
    return [one for one in imports() if one.who.startswith("layouts.") and one.what.startswith("layouts.")]


def test_the_reader_of_imports_sees_those_inside_functions() -> None:
    """A test of the test: faces loads quantities where it needs them, and no sooner."""
    assert Import("layouts.faces", "marks.quantity", False) in imports()
    at_top = {node.module for node in ast.parse(modules()["layouts.faces"].read_text("utf-8")).body
              if isinstance(node, ast.ImportFrom)}  # fmt: skip
    assert "marks.quantity" not in at_top
    assert len(imports()) > 200 and any(one.typing for one in imports())


def test_marks_never_imports_layouts() -> None:
    assert not [one for one in imports() if one.who.split(".")[0] == "marks" and one.what.split(".")[0] == "layouts"]


def test_every_module_of_layouts_has_its_storey() -> None:
    missing = [name for name in modules() if name.startswith("layouts.") and storey(_inside(name)) is None]
    assert not missing, "give them a place in the table LAYOUTS of this test"
    standing = {_inside(name) for name in modules()} | {f"{_inside(name)}." for name in modules()}
    gone = [name for names in LAYOUTS for name in names if name not in standing]
    assert not gone, "they are no more; take them out of the table LAYOUTS of this test"


def test_layouts_imports_downwards() -> None:
    wrong = [
        f"{one.who} (storey {above}) imports {one.what} (storey {below})"
        for one in _layouts()
        if (above := storey(_inside(one.who))) is not None
        and (below := storey(_inside(one.what))) is not None
        and below > above
    ]
    assert not wrong


def _from_marks(who: str) -> frozenset[str] | set[str]:
    return DESK if who.startswith("front.desk.") else FROM_MARKS.get(who, frozenset())


def test_only_those_named_import_marks_and_no_more_of_it_than_said() -> None:
    wrong = [
        f"{one.who} imports {one.what}"
        for one in imports()
        if one.who.startswith("layouts.")
        and one.what.split(".")[0] == "marks"
        and _inside(one.what).split(".")[0] not in _from_marks(_inside(one.who))
    ]
    assert not wrong


def test_rules_never_import_each_other_and_few_import_them() -> None:
    wrong = [
        f"{one.who} imports {one.what}"
        for one in imports()
        if f"{one.what}.".startswith("marks.rules.") and one.who not in READS_RULES
    ]
    assert not wrong


def test_step_1_knows_nothing_of_step_2() -> None:
    wrong = [
        f"{one.who} imports {one.what}"
        for one in imports()
        if one.who.startswith("marks.")
        and _inside(one.who).split(".")[0] in STEP_1
        and _inside(one.what).split(".")[0] not in STEP_1
    ]
    assert not wrong


@pytest.mark.parametrize("package", ["marks", "layouts"])
def test_no_module_imports_itself_by_a_detour(package: str) -> None:
    """Imports for type checkers aside: they cost nothing and bind nothing."""
    graph: dict[str, set[str]] = {}
    for one in imports():
        if one.who.split(".")[0] == one.what.split(".")[0] == package and not one.typing and one.who != one.what:
            graph.setdefault(one.who, set()).add(one.what)
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        pytest.fail(f"a circle of imports: {' -> '.join(error.args[1])}")
