"""Small changes of a module's source, one at a time, for :mod:`mutants`.

Changed are comparisons, arithmetic, sets, ``and`` and ``or``, ``not``, conditions and filters, numbers, truths, what is
returned, the first two arguments of a call, ``min`` and ``max``, ``any`` and ``all``, dam and sire, ``break`` and
``continue``; statements that are there for their effect are dropped. Left alone are annotations, decorators,
``assert`` (it only states what must be true), texts, and ``strict=`` of zip.
"""

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from types import CodeType

REPOSITORY = Path(__file__).parent.parent.parent

COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
OPERATIONS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Add, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult, ast.Mod: ast.Mult,
    ast.Pow: ast.Mult, ast.LShift: ast.RShift, ast.RShift: ast.LShift, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
}  # fmt: skip
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
ATTRIBUTES = {"FEMALE": "MALE", "MALE": "FEMALE", "dam": "sire", "sire": "dam"}


Edit = Callable[[ast.AST], ast.AST | None]
"""Gives what stands instead of a node; None drops the statement."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change: where, what, and how to make it in the tree of its module."""

    path: str
    line: int
    last_line: int
    column: int
    what: str
    function: str
    tree: ast.Module = field(compare=False, repr=False)
    node: ast.AST = field(compare=False, repr=False)
    edit: Edit = field(compare=False, repr=False)

    def code(self) -> CodeType:
        """The whole module as changed. The tree stays changed: done once, in a process of its own."""
        changed = ast.fix_missing_locations(_OneChange(self.node, self.edit).visit(self.tree))
        return compile(changed, str(REPOSITORY / self.path), "exec", dont_inherit=True)

    @property
    def name(self) -> str:
        return f"{self.path}:{self.line}:{self.column}: {self.what}"


def edits(node: ast.AST) -> Iterator[tuple[str, Edit]]:
    """Every change of one node, with a short description."""
    if isinstance(node, ast.Compare):
        for at, op in enumerate(node.ops):
            yield f"{type(op).__name__} -> {COMPARISONS[type(op)].__name__}", _with_op(at, COMPARISONS[type(op)]())
    elif isinstance(node, ast.BinOp | ast.AugAssign) and type(node.op) in OPERATIONS:
        other = OPERATIONS[type(node.op)]
        yield f"{type(node.op).__name__} -> {other.__name__}", _set(op=other())
    elif isinstance(node, ast.BoolOp):
        yield "and <-> or", _set(op=ast.Or() if isinstance(node.op, ast.And) else ast.And())
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        yield f"without {type(node.op).__name__}", lambda own: own.operand  # type: ignore[attr-defined]
    elif isinstance(node, ast.Constant) and type(node.value) in (bool, int):
        for value in _other_values(node.value):
            yield f"{node.value} -> {value}", _set(value=value)
    elif isinstance(node, ast.Return) and node.value and not _is_none(node.value):
        yield "return None", _set(value=ast.Constant(None))
    elif isinstance(node, ast.Break | ast.Continue):
        yield "break <-> continue", lambda own: ast.Continue() if isinstance(own, ast.Break) else ast.Break()
    elif isinstance(node, ast.Name) and node.id in NAMES:
        yield f"{node.id} -> {NAMES[node.id]}", _set(id=NAMES[node.id])
    elif isinstance(node, ast.Attribute) and node.attr in ATTRIBUTES and isinstance(node.ctx, ast.Load):
        yield f".{node.attr} -> .{ATTRIBUTES[node.attr]}", _set(attr=ATTRIBUTES[node.attr])
    if isinstance(node, ast.Call) and len(node.args) > 1 and _differ(*node.args[:2]):
        yield "first two arguments swapped", _swapped
    if isinstance(node, ast.If | ast.IfExp) and not isinstance(node.test, ast.Compare | ast.UnaryOp):
        yield "condition turned", lambda own: _put(own, test=ast.UnaryOp(ast.Not(), own.test))  # type: ignore[attr-defined]
    if isinstance(node, ast.comprehension):
        for at in range(len(node.ifs)):
            yield "filter dropped", _without_filter(at)
    effect = isinstance(node, ast.Expr) and not isinstance(node.value, ast.Constant)
    if effect or isinstance(node, ast.AugAssign | ast.Raise | ast.Continue | ast.Break):
        yield "statement dropped", lambda own: None
    if isinstance(node, ast.Assign) and not isinstance(node.targets[0], ast.Name | ast.Tuple):
        yield "statement dropped", lambda own: None


def _other_values(value: bool | int) -> tuple[bool | int, ...]:
    if isinstance(value, bool):
        return (not value,)
    return {0: (1,), 1: (0, 2), 2: (1, 3)}.get(value, (value + 1,))


def _is_none(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _differ(first: ast.expr, second: ast.expr) -> bool:
    return ast.dump(first) != ast.dump(second) and not any(isinstance(one, ast.Starred) for one in (first, second))


def _put(node: ast.AST, **values: object) -> ast.AST:
    for name, value in values.items():
        setattr(node, name, value)
    return node


def _set(**values: object) -> Edit:
    return lambda own: _put(own, **values)


def _with_op(at: int, op: ast.cmpop) -> Edit:
    return lambda own: _put(own, ops=[*own.ops[:at], op, *own.ops[at + 1 :]])  # type: ignore[attr-defined]


def _without_filter(at: int) -> Edit:
    return lambda own: _put(own, ifs=[*own.ifs[:at], *own.ifs[at + 1 :]])  # type: ignore[attr-defined]


def _swapped(own: ast.AST) -> ast.AST:
    assert isinstance(own, ast.Call)
    return _put(own, args=[own.args[1], own.args[0], *own.args[2:]])


class _OneChange(ast.NodeTransformer):
    """Puts what stands instead of one node in its place."""

    def __init__(self, target: ast.AST, edit: Edit) -> None:
        self.target, self.edit = target, edit

    def visit(self, node: ast.AST) -> ast.AST | None:
        if node is not self.target:
            return self.generic_visit(node)
        new = self.edit(node)
        if new is None:
            new = ast.Pass()
        return ast.copy_location(new, node)


def _kept_alone(tree: ast.Module) -> set[ast.AST]:
    """Nodes that are not changed, with all that is in them."""
    roots: list[ast.AST] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef):
            roots += [*node.decorator_list, *([node.returns] if node.returns else [])]
        elif isinstance(node, ast.ClassDef):
            roots += node.decorator_list
        elif isinstance(node, ast.arg | ast.AnnAssign) and node.annotation:
            roots.append(node.annotation)
        elif isinstance(node, ast.Assert | ast.Import | ast.ImportFrom):
            roots.append(node)
        elif isinstance(node, ast.keyword) and node.arg == "strict":
            roots.append(node.value)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "isinstance":
            roots += node.args[1:]
        elif isinstance(node, ast.Assign) and isinstance(node.value, ast.Subscript | ast.BinOp):
            names = [ast.unparse(target) for target in node.targets]
            if tree.body.count(node) and not names[0].lstrip("_").isupper():  # a type
                roots.append(node)
    return {inside for root in roots for inside in ast.walk(root)}


def mutants_of(path: str) -> list[Mutant]:
    """Every mutant of one module, in the order of its lines."""
    source = (REPOSITORY / path).read_text()
    tree = ast.parse(source)
    alone = _kept_alone(tree)
    inside: dict[ast.AST, str] = {}
    for function in _outermost(tree):
        for statement in function.body:
            for node in ast.walk(statement):
                inside[node] = function.name
    found = []
    for node in ast.walk(tree):
        if node not in alone:
            place = node.iter if isinstance(node, ast.comprehension) else node
            for what, edit in edits(node):
                first, last = place.lineno, place.end_lineno or 0  # type: ignore[attr-defined]
                column = place.col_offset  # type: ignore[attr-defined]
                found.append(Mutant(path, first, last, column, what, inside.get(node, ""), tree, node, edit))
    return sorted(found, key=lambda mutant: (mutant.line, mutant.column, mutant.what))


def _outermost(tree: ast.AST) -> Iterator[ast.FunctionDef]:
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef):
            yield node
        elif isinstance(node, ast.ClassDef):
            yield from _outermost(node)
