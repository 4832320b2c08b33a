"""One change at a time: an operator, a bound, a constant. What a test should notice."""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass

SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Add,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.FloorDiv,
    ast.And: ast.Or,
    ast.Or: ast.And,
}
ENDS = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True)
class Mutant:
    """A module's text with one expression changed. line: where it begins, from 1; named: `names_at` it."""

    line: int
    named: frozenset[str]
    before: str
    after: str
    text: str


def mutants(text: str) -> Iterator[Mutant]:
    """Every mutant of a module, in the order of the text."""
    tree = ast.parse(text)
    named = names_at(tree)
    for node in sorted(_expressions(tree), key=lambda one: (one.lineno, one.col_offset)):
        for changed in _changed(node):
            after = f"({ast.unparse(changed)})"
            names = frozenset(named.get(node.lineno, ()))
            yield Mutant(node.lineno, names, ast.unparse(node), after, _spliced(text, node, after))


def names_at(tree: ast.Module) -> dict[int, set[str]]:
    """By line the functions (`Class.method` of a class) and the constants of the module it belongs to."""
    found: dict[int, set[str]] = {}
    rows = [("", one) for one in tree.body]
    classes = (one for one in tree.body if isinstance(one, ast.ClassDef))
    rows += [(f"{holder.name}.", one) for holder in classes for one in holder.body]
    for before, one in rows:
        for name in _names(one):
            for line in range(one.lineno, (one.end_lineno or one.lineno) + 1):
                found.setdefault(line, set()).add(before + name)
    return found


def _names(of: ast.stmt) -> Iterator[str]:
    match of:
        case ast.FunctionDef(name=name):
            yield name
        case ast.Assign(targets=targets):
            yield from (one.id for target in targets for one in ast.walk(target) if isinstance(one, ast.Name))


def _expressions(tree: ast.AST) -> Iterator[ast.expr]:
    """Expressions that are computed: no annotations, no texts, nothing that only type checkers see."""
    for field, value in ast.iter_fields(tree):
        if field in ("annotation", "returns", "decorator_list", "type_params"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if not isinstance(child, ast.AST) or isinstance(child, ast.JoinedStr):
                continue
            if (
                isinstance(child, ast.keyword) and child.arg == "strict"
            ):  # of zip: it guards against mistakes of ours
                continue
            if isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test):
                continue
            if isinstance(child, ast.expr):
                yield child
            yield from _expressions(child)


def _changed(node: ast.expr) -> Iterator[ast.expr]:
    """The node with one thing of its own changed; its parts have their own turn."""
    match node:
        case ast.Compare(ops=ops):
            for at, op in enumerate(ops):
                yield _with(node, ops=[*ops[:at], SWAPS[type(op)](), *ops[at + 1 :]])
        case ast.BinOp(op=op) if type(op) in SWAPS and not _is_text(node):
            yield _with(node, op=SWAPS[type(op)]())
        case ast.BoolOp(op=op):
            yield _with(node, op=SWAPS[type(op)]())
        case ast.UnaryOp(op=ast.Not(), operand=inner):
            yield inner
        case ast.Constant(value=bool(value)):
            yield ast.Constant(not value)
        case ast.Constant(value=int(value)):
            yield ast.Constant(value + 1)
        case ast.Constant(value=float(value)):
            yield ast.Constant(value * 1.25 if value else 0.25)
        case ast.Call(func=ast.Name(id=name)) if name in ENDS:
            yield _with(node, func=ast.Name(ENDS[name]))


def _with(node: ast.expr, **fields: object) -> ast.expr:
    twin = copy.copy(node)
    for name, value in fields.items():
        setattr(twin, name, value)
    return twin


def _is_text(node: ast.BinOp) -> bool:
    """Whether texts are joined: any other operator between them would fail by itself."""
    sides = (node.left, node.right)
    return any(
        isinstance(side, ast.JoinedStr) or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in sides
    )


def _spliced(text: str, node: ast.expr, after: str) -> str:
    """The text with this expression's place taken. Columns of the parser count bytes."""
    lines = text.encode().splitlines(keepends=True)
    last, end = node.end_lineno or node.lineno, node.end_col_offset or 0
    first = lines[node.lineno - 1][: node.col_offset]
    rest = lines[last - 1][end:]
    whole = [*lines[: node.lineno - 1], first + after.encode() + rest, *lines[last:]]
    return b"".join(whole).decode()
