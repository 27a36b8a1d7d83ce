"""A class is known by its name alone, wherever it stands."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[1] / "handbook"


def test_no_name_is_given_to_two_classes() -> None:
    names = Counter(
        node.name
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
    )
    assert len(names) > 300
    assert [name for name, times in names.items() if times > 1] == []
