"""The small breaking changes: each takes one node of a module's tree and gives others for it."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator, Mapping
from typing import Final

Replacement = ast.AST | None
"""What stands in a node's place; None where a statement is dropped."""

Operator = Callable[[ast.AST], Iterator[Replacement]]

COMPARISONS: Final[Mapping[type[ast.cmpop], type[ast.cmpop]]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
ARITHMETIC: Final[Mapping[type[ast.operator], type[ast.operator]]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Add,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.FloorDiv,
    ast.BitAnd: ast.BitOr,
}
CALLS: Final[Mapping[str, str]] = {"min": "max", "max": "min", "any": "all", "all": "any"}
EMPTIES: Final[Mapping[str, str]] = {"tuple": "()", "str": "''", "list": "[]", "dict": "{}"}
WORDS = 4  # letters that make a piece of an f-string a text for people


def compare(node: ast.AST) -> Iterator[Replacement]:
    """Move a bound by one, or turn a test around."""
    if isinstance(node, ast.Compare):
        for place, sign in enumerate(node.ops):
            signs = [*node.ops[:place], COMPARISONS[type(sign)](), *node.ops[place + 1 :]]
            yield ast.Compare(node.left, signs, node.comparators)


def arithmetic(node: ast.AST) -> Iterator[Replacement]:
    """Reckon with another sign."""
    if isinstance(node, ast.BinOp) and type(node.op) in ARITHMETIC:
        yield ast.BinOp(node.left, ARITHMETIC[type(node.op)](), node.right)
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.BitOr):
        yield node.left


def logic(node: ast.AST) -> Iterator[Replacement]:
    """Swap and/or, leave one condition out, or take a `not` away."""
    if isinstance(node, ast.BoolOp):
        other = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        yield ast.BoolOp(other, node.values)
        for place in range(len(node.values)):
            rest = [*node.values[:place], *node.values[place + 1 :]]
            yield rest[0] if len(rest) == 1 else ast.BoolOp(node.op, rest)
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield node.operand


def constant(node: ast.AST) -> Iterator[Replacement]:
    """Change a number by one, or turn True and False."""
    if isinstance(node, ast.Constant) and isinstance(node.value, bool):
        yield ast.Constant(not node.value)
    elif isinstance(node, ast.Constant) and isinstance(node.value, int):
        yield ast.Constant(node.value + 1)
        yield ast.Constant(node.value - 1)


def words(node: ast.AST) -> Iterator[Replacement]:
    """Change a text for people inside an f-string."""
    if isinstance(node, ast.JoinedStr):
        for place, piece in enumerate(node.values):
            text = piece.value if isinstance(piece, ast.Constant) else None
            if isinstance(text, str) and sum(letter.isalpha() for letter in text) >= WORDS:
                other = ast.Constant(text.swapcase())
                yield ast.JoinedStr([*node.values[:place], other, *node.values[place + 1 :]])


def condition(node: ast.AST) -> Iterator[Replacement]:
    """Take a branch always or never, swap the two of a short one, or leave a filter out."""
    if isinstance(node, ast.If):
        yield ast.If(ast.Constant(value=False), node.body, node.orelse)
        yield ast.If(ast.Constant(value=True), node.body, node.orelse)
    if isinstance(node, ast.IfExp):
        yield ast.IfExp(node.test, node.orelse, node.body)
    if isinstance(node, ast.comprehension):
        for place in range(len(node.ifs)):
            rest = [*node.ifs[:place], *node.ifs[place + 1 :]]
            yield ast.comprehension(node.target, node.iter, rest, node.is_async)


def call(node: ast.AST) -> Iterator[Replacement]:
    """Swap min and max, any and all; take the order away; leave a function's option to its default."""
    if not isinstance(node, ast.Call):
        return
    if isinstance(node.func, ast.Name) and node.func.id in CALLS:
        yield ast.Call(ast.Name(CALLS[node.func.id], ast.Load()), node.args, node.keywords)
    if isinstance(node.func, ast.Name) and node.func.id == "sorted":
        yield ast.Call(ast.Name("list", ast.Load()), node.args[:1], [])
    name = ast.unparse(node.func).rpartition(".")[2]
    for place, keyword in enumerate(node.keywords if name.islower() else ()):
        if keyword.arg not in {None, "strict"}:  # a guard, which no right run shows
            rest = [*node.keywords[:place], *node.keywords[place + 1 :]]
            yield ast.Call(node.func, node.args, rest)


def slice_end(node: ast.AST) -> Iterator[Replacement]:
    """Leave one end of a slice open."""
    if isinstance(node, ast.Slice):
        if node.lower is not None:
            yield ast.Slice(None, node.upper, node.step)
        if node.upper is not None:
            yield ast.Slice(node.lower, None, node.step)


def dropped(node: ast.AST) -> Iterator[Replacement]:
    """Drop a statement that is there for what it does."""
    acts = isinstance(node, ast.Expr) and not isinstance(node.value, ast.Constant)
    if acts or isinstance(node, ast.AugAssign | ast.Raise | ast.Continue | ast.Break):
        yield None


def returned(node: ast.AST) -> Iterator[Replacement]:
    """Return nothing in place of a result; what is empty follows the function's own hint."""
    if isinstance(node, ast.FunctionDef) and node.returns is not None:
        hint = ast.unparse(node.returns)
        empty = EMPTIES.get(hint.partition("[")[0], "None")
        for place, statement in enumerate(node.body):
            if isinstance(statement, ast.Return) and statement.value is not None:
                other = ast.Return(ast.parse(empty, mode="eval").body)
                if ast.unparse(other) != ast.unparse(statement):
                    body = [*node.body[:place], other, *node.body[place + 1 :]]
                    yield ast.FunctionDef(**{**dict(ast.iter_fields(node)), "body": body})


OPERATORS: Final[tuple[Operator, ...]] = (
    compare,
    arithmetic,
    logic,
    constant,
    words,
    condition,
    call,
    slice_end,
    dropped,
    returned,
)
