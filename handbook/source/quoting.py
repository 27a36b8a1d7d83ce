"""Putting a text in the quotes that a content file would need for it."""

from __future__ import annotations


def in_quotes(text: str) -> str:
    """Quote a text so that it is read letter by letter; double quotes if they will do."""
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    if "'" not in text:
        return f"'{text}'"
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
