"""Wrongs done to the rules: cosmic-ray's operators, and two of our own for what rules are made of.

cosmic-ray turns comparisons, negates conditions, swaps and/or, True/False, +/-, * and /, moves whole numbers by one, and
takes decorators away. Ours leave out one answer of a rule (a ``yield``), or one member of a list of words or numbers.
What changes only an annotation, a documentation text or a type alias is no wrong, and is left out.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator
from cosmic_ray.plugins import operator_names as known_operators

from tests.mutation.trial import Candidate, Mutant

MARKS = Path(__file__).parents[2] / "marks"
#: What reads a record, compares decisions or fills in documents, and does not decide: other tests are for these.
BESIDE = {
    "__init__", "across", "bulk_mark", "citation", "colours", "compare", "errors", "fields", "inner", "outside", "packaging",
    "packer", "paper_lines", "papers", "quantity", "reading", "record", "rows", "small", "source", "terms", "units",
}  # fmt: skip
_PLAIN = (
    "AddNot", "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd",
    "ReplaceBreakWithContinue", "ReplaceContinueWithBreak", "NumberReplacer", "RemoveDecorator", "ZeroIterationForLoop",
    "ReplaceUnaryOperator_Delete_Not", "ReplaceBinaryOperator_Add_Sub", "ReplaceBinaryOperator_Sub_Add",
    "ReplaceBinaryOperator_Mul_Div", "ReplaceBinaryOperator_Div_Mul", "ReplaceBinaryOperator_BitAnd_BitOr",
    "ReplaceBinaryOperator_BitOr_BitAnd",
)  # fmt: skip
#: Each comparison by its negation and its nearest neighbour: further ones are wrong in the same cases and more.
_TURNS = (
    "Eq_NotEq", "NotEq_Eq", "Lt_GtE", "Lt_LtE", "LtE_Gt", "LtE_Lt", "Gt_LtE", "Gt_GtE", "GtE_Lt", "GtE_Gt",
    "Is_IsNot", "IsNot_Is", "In_NotIn", "NotIn_In",
)  # fmt: skip


Change = Callable[[], str | None]


def files() -> list[Path]:
    """Every file of marks that decides: the rules, the checks and what they ask."""
    return sorted(path for path in (MARKS, MARKS / "rules") for path in path.glob("*.py") if path.stem not in BESIDE)


def candidates(path: Path) -> Iterator[Candidate]:
    """Every wrong of one file, not made yet: making one takes a while, and some turn out to be none."""
    source = path.read_text("utf-8")
    where = path.relative_to(MARKS.parent)
    module = ".".join(where.with_suffix("").parts)
    bare = _meaning(source)

    def made(what: str, change: Callable[[], str | None]) -> Mutant | None:
        changed = change()
        try:
            if changed is None or _meaning(changed) == bare:
                return None
        except SyntaxError:
            return None
        number = _line(source, changed)
        return Mutant(f"{where}:{number}", what, source.splitlines()[number - 1], module=module, source=changed)

    for what, change in (*_by_cosmic_ray(source), *_answers_left_out(source), *_members_left_out(source)):
        yield partial(made, what, change)


def _by_cosmic_ray(source: str) -> Iterator[tuple[str, Change]]:
    nodes = list(ast_nodes(get_ast(source)))
    for name in sorted(known_operators()):
        short = name.split("/")[-1]
        turn = short.removeprefix("ReplaceComparisonOperator_")
        if short in _PLAIN or (turn != short and turn in _TURNS):
            operator = get_operator(name)()
            for occurrence in range(sum(1 for node in nodes for _ in operator.mutation_positions(node))):
                yield short, partial(mutate_code, source, operator, occurrence)


def _answers_left_out(source: str) -> Iterator[tuple[str, Change]]:
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Yield | ast.YieldFrom):
            yield "answer left out", partial(_replaced, source, node, "yield from ()")


def _members_left_out(source: str) -> Iterator[tuple[str, Change]]:
    """Of lists of at least two constants; the words of messages are no such lists."""
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Tuple | ast.Set | ast.List) or len(node.elts) < 2:
            continue
        if all(isinstance(one, ast.Constant) and not _prose(one.value) for one in node.elts):
            for one in node.elts:
                rest = [ast.unparse(other) for other in node.elts if other is not one]
                opened, closed = {ast.Tuple: "()", ast.Set: "{}", ast.List: "[]"}[type(node)]
                new = f"{opened}{', '.join(rest)},{closed}"
                yield f"{ast.unparse(one)} left out", partial(_replaced, source, node, new)


def _prose(value: object) -> bool:
    return isinstance(value, str) and (len(value.split()) > 2 or value.startswith(("ADR", "IMDG", "ICAO", "49 CFR")))


def _replaced(source: str, node: ast.expr | ast.stmt, by: str) -> str:
    lines = source.encode().splitlines(keepends=True)
    assert node.end_lineno is not None and node.end_col_offset is not None
    before = b"".join(lines[: node.lineno - 1]) + lines[node.lineno - 1][: node.col_offset]
    after = lines[node.end_lineno - 1][node.end_col_offset :] + b"".join(lines[node.end_lineno :])
    return (before + by.encode() + after).decode()


class _Bare(ast.NodeTransformer):
    """A module without what has no effect: documentation texts, and annotations, which are never evaluated here."""

    def visit_arg(self, node: ast.arg) -> ast.arg:
        node.annotation = None
        return node

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.FunctionDef:
        node.returns = None
        self.generic_visit(node)
        return node

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.ClassDef:
        """``frozen=True`` and the like keep a value from being changed; nothing here tries to."""
        node.keywords = []
        node.decorator_list = [one.func if isinstance(one, ast.Call) else one for one in node.decorator_list]
        self.generic_visit(node)
        return node

    def visit_Call(self, node: ast.Call) -> ast.Call:
        """``strict=True`` of zip is a promise: what it would notice does not happen."""
        node.keywords = [one for one in node.keywords if one.arg != "strict"]
        self.generic_visit(node)
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AnnAssign:
        node.annotation = ast.Name("object", ast.Load())
        self.generic_visit(node)
        return node

    def visit_Assign(self, node: ast.Assign) -> ast.Assign | None:
        """``Answer = Needs | Spares``: a name for a type."""
        names = [one.id for one in node.targets if isinstance(one, ast.Name)]
        alias = isinstance(node.value, ast.BinOp) and isinstance(node.value.op, ast.BitOr)
        return None if alias and names and names[0][0].isupper() else node

    def visit_If(self, node: ast.If) -> ast.If | None:
        """``if TYPE_CHECKING``, whichever way it is turned: what it imports serves annotations."""
        if "TYPE_CHECKING" in ast.unparse(node.test):
            return None
        self.generic_visit(node)
        return node

    def visit_Expr(self, node: ast.Expr) -> ast.Expr | None:
        if isinstance(node.value, ast.Constant):
            return None
        self.generic_visit(node)
        return node


def _meaning(source: str) -> str:
    return ast.dump(_Bare().visit(ast.parse(source)))


def _line(before: str, after: str) -> int:
    """The first line that differs."""
    pairs = zip(before.splitlines(), after.splitlines(), strict=False)
    return next((n for n, (one, other) in enumerate(pairs, 1) if one != other), 1)
