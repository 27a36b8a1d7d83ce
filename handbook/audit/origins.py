"""Where in the content the words stand that a site shows."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cached_property
from pathlib import Path

from handbook.audit.model import Origin
from handbook.loader.contents import read_contents
from handbook.source.privacy import own_lines

_MOST = 5  # lines that are told of one finding
_LONGEST = 200  # letters of words that are looked for as a whole


class ContentLines:
    """The texts of a content folder, read when first asked for."""

    def __init__(self, content: Path) -> None:
        self._content = content
        self._hidden: dict[str, frozenset[int]] = {}

    @cached_property
    def _texts(self) -> Mapping[str, str]:
        read = read_contents(self._content)
        return {
            name: raw.decode("utf-8-sig", errors="replace").replace("\r\n", "\n")
            for name, raw in read.raw.items()
            if raw is not None
        }

    @cached_property
    def _names(self) -> tuple[str, ...]:
        return tuple(file.name for file in read_contents(self._content).found.files)

    def within(self, file: str, words: str) -> tuple[Origin, ...]:
        """Give the lines of one file that have the words; the file, if none has."""
        found = self._found(file, words)
        return tuple(dict.fromkeys(found))[:_MOST] or (Origin(file, 0),)

    def _found(self, name: str, words: str) -> list[Origin]:
        parts = [re.escape(part) for part in words[:_LONGEST].split()]
        text = self._texts.get(name, "")
        if not parts or not text:
            return []
        found = re.finditer(r"[\s\"'\\]+".join(parts), text, re.IGNORECASE)
        lines = (text.count("\n", 0, match.start()) + 1 for match in found)
        return [Origin(name, line) for line in lines if line not in self._private(name)]

    def _private(self, name: str) -> frozenset[int]:
        if name not in self._hidden:
            lines = self._texts[name].split("\n") if name.endswith(".yaml") else []
            self._hidden[name] = own_lines(name, lines)
        return self._hidden[name]

    def of(self, words: str, file: str) -> tuple[Origin, ...]:
        """Give the first lines that have the words, however they are broken; five at most.

        For a `file` of the site that comes from a file of the same name, or is a page of it,
        that one goes first. Logs and lines under `private` are passed over: they are on no site.
        """
        if file in self._names:
            return (Origin(file, 0),)
        found = [one for name in self._texts for one in self._found(name, words)]
        found.sort(key=lambda one: _slug(one.file) not in file)
        return tuple(dict.fromkeys(found))[:_MOST]


def _slug(name: str) -> str:
    return name.removeprefix("pages/").removesuffix(".md")
