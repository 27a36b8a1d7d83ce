"""Every message that the code says is found for the catalogues, wherever the call stands."""

from __future__ import annotations

import ast
from pathlib import Path

import handbook
from tests.catalogues.extraction import extracted

_PLACES = {"gettext": 0, "gettext_noop": 0, "ngettext": 0, "pgettext": 1, "npgettext": 1}
"""Where the message stands among what a function is given."""


def said(source: str) -> set[str]:
    """The messages in Python code as its grammar has them, within other texts, too."""
    calls = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    found = set()
    for call in calls:
        place = _PLACES.get(call.func.id, len(call.args)) if isinstance(call.func, ast.Name) else -1
        words = call.args[place] if 0 <= place < len(call.args) else None
        if isinstance(words, ast.Constant) and isinstance(words.value, str):
            found.add(words.value)
    return found


def test_no_message_is_overlooked() -> None:
    files = sorted(Path(handbook.__file__).parent.rglob("*.py"))
    messages = {words for file in files for words in said(file.read_text(encoding="utf-8"))}
    ids = [one.id for one in extracted() if one.id]
    known = {one if isinstance(one, str) else one[0] for one in ids}
    assert len(messages) > 500, "the code was read"
    assert messages - known == set()
