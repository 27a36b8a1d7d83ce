"""All mutants of a module, and the text of a module with one of them in it."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from tests.mutation.operators import OPERATORS, Replacement

SHOWN = 90  # letters of a change that its name shows
GUARD = "strict"  # of zip: a guard against slips of ours, which no right run shows
SKIPPED = {"annotation", "returns", "decorator_list", "bases"}


@dataclass(frozen=True)
class Mutant:
    """One small change: `node` and `choice` find it again; `key` names it without line numbers."""

    path: str
    scope: str
    operator: str
    change: str
    line: int
    node: int
    choice: int
    again: int

    @property
    def key(self) -> str:
        """The name under which its fate is kept; equal changes of one function are counted."""
        count = f" ({self.again + 1})" if self.again else ""
        return f"{self.path}::{self.scope} {self.operator}: {self.change}{count}"


def children(node: ast.AST) -> Iterator[ast.AST]:
    """Give the nodes right below that run: no hints, decorators or docstrings."""
    for field, value in ast.iter_fields(node):
        if field in SKIPPED:
            continue
        for child in value if isinstance(value, list) else (value,):
            if isinstance(child, ast.AST) and getattr(child, "arg", None) != GUARD:
                yield child


def walked(tree: ast.AST, scope: str = "") -> Iterator[tuple[ast.AST, str]]:
    """Give every node that runs with the dotted name of the function or class it stands in."""
    yield tree, scope
    named = isinstance(tree, ast.FunctionDef | ast.ClassDef)
    inner = f"{scope}.{tree.name}".strip(".") if named else scope  # type: ignore[attr-defined]
    if not (isinstance(tree, ast.If) and "TYPE_CHECKING" in ast.unparse(tree.test)):
        for child in children(tree):
            yield from walked(child, inner)


def changes(node: ast.AST) -> list[tuple[str, Replacement]]:
    """Give all changes of one node with the names of their operators."""
    return [(operator.__name__, other) for operator in OPERATORS for other in operator(node)]


def shown(node: ast.AST, other: Replacement) -> str:
    """Put a change in one line."""
    if isinstance(node, ast.FunctionDef) and isinstance(other, ast.FunctionDef):
        pairs = zip(node.body, other.body, strict=True)
        node, other = next((a, b) for a, b in pairs if a is not b)
    if isinstance(node, ast.Call) and isinstance(other, ast.Call) and node.func is other.func:
        left_out = next(word for word in node.keywords if word not in other.keywords)
        return f"{ast.unparse(node.func)[:SHOWN]}(...) without {ast.unparse(left_out)[:SHOWN]}"
    before, after = (
        "(dropped)"
        if one is None
        else f"if {ast.unparse(one.test)}"
        if isinstance(one, ast.If)
        else ast.unparse(one)
        for one in (node, other)
    )
    return " -> ".join(" ".join(text.split())[:SHOWN] for text in (before, after))


def mutants(path: str, text: str) -> list[Mutant]:
    """Give all mutants of a module in the order of its text."""
    found = []
    seen: Counter[tuple[str, str, str]] = Counter()
    for number, (node, scope) in enumerate(walked(ast.parse(text))):
        inner = node.name if isinstance(node, ast.FunctionDef) else ""
        where = f"{scope}.{inner}".strip(".")
        for choice, (operator, other) in enumerate(changes(node)):
            change = shown(node, other)
            line = getattr(node, "lineno", 0)
            again = seen[where, operator, change]
            seen[where, operator, change] += 1
            found.append(Mutant(path, where, operator, change, line, number, choice, again))
    return found


def mutated(text: str, mutant: Mutant) -> str:
    """Give the module's text with the change in it."""
    tree = ast.parse(text)
    node = next(node for at, (node, _) in enumerate(walked(tree)) if at == mutant.node)
    other = changes(node)[mutant.choice][1]
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            if value is node:
                setattr(parent, field, other)
            elif isinstance(value, list) and any(one is node for one in value):
                put = [ast.Pass()] if other is None else [other]
                value[:] = [two for one in value for two in (put if one is node else [one])]
    return ast.unparse(ast.fix_missing_locations(tree)) + "\n"


def unparsed(text: str) -> str:
    """Give a module's text as one with a change in it is written, but without any."""
    return ast.unparse(ast.parse(text)) + "\n"


def layer_files(root: Path, layer: str) -> list[Path]:
    """Give the modules of a layer, in order; the texts of `handbook explain` have tests of their own."""
    files = sorted((root / "handbook" / layer).rglob("*.py"))
    return [path for path in files if "explanations" not in path.parts]


def lines_of(root: Path, layer: str) -> int:
    """Count the lines of a layer."""
    return sum(len(path.read_text("utf-8").splitlines()) for path in layer_files(root, layer))


def layer_mutants(root: Path, layer: str) -> list[Mutant]:
    """Give all mutants of a layer."""
    return [
        mutant
        for path in layer_files(root, layer)
        for mutant in mutants(path.relative_to(root).as_posix(), path.read_text("utf-8"))
    ]


def _lot(mutant: Mutant, seed: int) -> bytes:
    """Draw by name, so that a change of the code elsewhere draws no others."""
    return sha256(f"{seed} {mutant.key}".encode()).digest()


def sample(root: Path, layers: Sequence[str], number: int, seed: int) -> list[Mutant]:
    """Choose mutants, the same for the same seed and code, in proportion to each layer's lines."""
    lines = {layer: lines_of(root, layer) for layer in layers}
    chosen = []
    for layer in layers:
        everything = layer_mutants(root, layer)
        wanted = round(number * lines[layer] / sum(lines.values()))
        chosen += sorted(everything, key=lambda one: _lot(one, seed))[:wanted]
    return chosen
