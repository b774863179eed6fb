"""Small changes to a module's code, each of which a good test would notice.

Left alone: docstrings, hints, imports, `__all__`, decorators, type aliases, the sources of a rule, and all texts.
"""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.And: ast.Or, ast.Or: ast.And,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult, ast.Pow: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr,
}  # fmt: skip
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "sorted": "list", "reversed": "list"}
NOT_ENTERED = ("annotation", "returns", "decorator_list", "type_comment")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change: the statement (of a compound one its head) before and after, and the lines that it stands on."""

    file: str
    number: int
    lines: tuple[int, int]
    before: str
    after: str

    @property
    def key(self) -> str:
        """What tells it from all others, wherever its lines stand."""
        return f"{self.file}: {self.before} -> {self.after}"


@dataclass(frozen=True, slots=True)
class _Edit:
    """Puts a node in the place of another; None takes the place away."""

    statement: ast.stmt
    parent: ast.AST
    field: str
    index: int | None
    node: ast.AST | None

    def apply(self) -> None:
        if self.index is None:
            setattr(self.parent, self.field, self.node)
        elif self.node is None:
            del getattr(self.parent, self.field)[self.index]
        else:
            getattr(self.parent, self.field)[self.index] = self.node


def mutants_of(file: str, text: str) -> list[Mutant]:
    """All mutants of a module, in the order of its code; of equal ones the first."""
    found: dict[str, Mutant] = {}
    for number in range(len(list(_edits(ast.parse(text))))):
        edit = _edit(ast.parse(text), number)
        before = _head(edit.statement)
        lines = _lines(edit.statement)
        edit.apply()
        after = _head(edit.node if isinstance(edit.node, ast.stmt) else edit.statement)
        mutant = Mutant(file, number, lines, before, after)
        if before != after:
            found.setdefault(mutant.key, mutant)
    return list(found.values())


def mutated(text: str, number: int) -> str:
    """The module with one change."""
    tree = ast.parse(text)
    _edit(tree, number).apply()
    return ast.unparse(ast.fix_missing_locations(tree))


def _edit(tree: ast.Module, number: int) -> _Edit:
    return list(_edits(tree))[number]


def _head(statement: ast.stmt) -> str:
    """The statement in one line; of a compound one the part before its body."""
    kept = {name: getattr(statement, name) for name in ("body", "orelse") if hasattr(statement, name)}
    for name in kept:
        setattr(statement, name, [])
    text = ast.unparse(ast.fix_missing_locations(statement))
    for name, value in kept.items():
        setattr(statement, name, value)
    return " ".join(text.split())


def _lines(statement: ast.stmt) -> tuple[int, int]:
    body = getattr(statement, "body", None)
    last = body[0].lineno - 1 if body else statement.end_lineno or statement.lineno
    return statement.lineno, max(statement.lineno, last)


def _edits(tree: ast.Module) -> Iterator[_Edit]:
    for index, statement in enumerate(tree.body):
        yield from _of_node(tree, "body", index, statement, statement)


def _of_node(parent: ast.AST, field: str, index: int | None, node: ast.AST, statement: ast.stmt) -> Iterator[_Edit]:
    if _is_left_alone(parent, node):
        return
    if isinstance(node, ast.stmt):
        statement = node
    for other in _instead(parent, node):
        yield _Edit(statement, parent, field, index, other)
    if _may_go(parent, field, node):
        yield _Edit(statement, parent, field, index, None)
    for name, value in ast.iter_fields(node):
        if name in NOT_ENTERED:
            continue
        if isinstance(value, ast.AST):
            yield from _of_node(node, name, None, value, statement)
        elif isinstance(value, list):
            for place, part in enumerate(value):
                if isinstance(part, ast.AST):
                    yield from _of_node(node, name, place, part, statement)


def _is_left_alone(parent: ast.AST, node: ast.AST) -> bool:
    if isinstance(node, ast.Import | ast.ImportFrom) or (isinstance(node, ast.keyword) and node.arg == "sources"):
        return True
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        return True
    if isinstance(parent, ast.Module) and isinstance(node, ast.Assign | ast.AnnAssign):
        return isinstance(node.value, ast.Subscript) or "__all__" in ast.unparse(node)
    return False


def _may_go(parent: ast.AST, field: str, node: ast.AST) -> bool:
    """Conditions of a comprehension, operands of and/or, words of a list of words, ends of a slice."""
    if isinstance(parent, ast.comprehension):
        return field == "ifs"
    if isinstance(parent, ast.BoolOp):
        return field == "values" and len(parent.values) > 1
    if isinstance(parent, ast.Tuple | ast.Set | ast.List) and len(parent.elts) > 1:
        return all(isinstance(one, ast.Constant) and isinstance(one.value, str) for one in parent.elts)
    return isinstance(parent, ast.Slice)


def _instead(parent: ast.AST, node: ast.AST) -> Iterator[ast.AST]:
    """What may stand in the place of a node."""
    swap = SWAPS.get(type(node))
    if swap is not None:
        yield swap()
    if isinstance(node, ast.Constant):
        yield from (ast.Constant(value) for value in _other_values(node.value))
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        yield node.operand
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in NAMES:
        plain = node.func.id in ("sorted", "reversed")
        yield ast.Call(ast.Name(NAMES[node.func.id]), node.args, [] if plain else node.keywords)
    if isinstance(parent, ast.If | ast.While | ast.IfExp) and node is parent.test and _is_bare(node):
        yield ast.UnaryOp(ast.Not(), node)
    if isinstance(node, ast.stmt):
        yield from _other_statements(node)


def _other_values(value: Any) -> tuple[Any, ...]:
    if isinstance(value, bool):
        return (not value,)
    return (value + 1, value - 1) if isinstance(value, int) else ()


def _is_bare(node: ast.AST) -> bool:
    """Whether nothing else turns the test round."""
    turned = isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not)
    return not turned and not isinstance(node, ast.Compare | ast.BoolOp)


def _other_statements(node: ast.stmt) -> Iterator[ast.stmt]:
    if isinstance(node, ast.Return) and node.value is not None and ast.unparse(node.value) not in ("None", "False"):
        yield ast.Return(ast.Constant(None))
    set_inside = isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Subscript)
    if set_inside or isinstance(node, ast.Expr | ast.AugAssign | ast.Continue | ast.Break | ast.Raise):
        yield ast.Pass()
