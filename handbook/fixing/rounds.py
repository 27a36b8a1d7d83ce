"""Which changes of the files mend what can be mended in one way alone; nothing is written here.

One mend may show the next (a file that can be read again, a field that is known again), so
files are read again, as they would be, until nothing of the kind is left. Only reading
knows of such mends; no check is asked.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from handbook.loader.contents import with_texts
from handbook.loader.discover import sort_files
from handbook.loader.folder_walk import Walk, read_bytes, walk
from handbook.loader.loading import load_contents
from handbook.problems import Edit, Problem, Severity
from handbook.records import dataclass
from handbook.report import Located, located
from handbook.source.edits import edits_of
from handbook.source.source_map import SourceFile, SourceMap

_MOST_ROUNDS = 50
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")
_BYTE_ORDER_MARK = "\ufeff"


@dataclass(frozen=True, slots=True)
class FixedFile:
    """A file as it was and as it would be, its name then, and the problems that this mends.

    `name` and `renamed` are paths from the content folder; they differ if the file gets
    another name.
    """

    name: str
    renamed: str
    before: bytes
    after: bytes
    mended: tuple[Located, ...]


def find_fixes(folder: Path, shown: str = "") -> tuple[FixedFile, ...]:
    """Find what can be mended in one way alone, file by file; `shown` is the folder in messages."""
    walked = walk(folder)
    first = sort_files(walked)
    raw = {
        file.name: read_bytes(folder / file.name) for file in first.files if _is_text(file.topic)
    }
    raw |= {name: read_bytes(folder / name) for name in _to_rename(first.problems)}
    work = _Work(folder, shown, walked, raw)
    for _ in range(_MOST_ROUNDS):
        if not work.go_on():
            break
    return work.changed(raw)


def _is_text(topic: str) -> bool:
    return topic != "media"


def _to_rename(problems: Iterable[Problem]) -> list[str]:
    return [problem.file for problem in problems if problem.fix and problem.fix.rename]


class _Work:
    """The files as they would be after the rounds so far."""

    def __init__(
        self, folder: Path, shown: str, walked: Walk, raw: Mapping[str, bytes | None]
    ) -> None:
        self._folder, self._shown, self._walked = folder, shown, walked
        self._raw = dict(raw)
        self._first_name: dict[str, str] = {}
        self._mended: dict[str, list[Located]] = {}
        self._tried: set[tuple[object, ...]] = set()
        self._problems, self._sources = self._look(self._raw)

    def go_on(self) -> bool:
        """Mend what is seen now; False if there is nothing more."""
        wanted = self._wanted()
        if not wanted:
            return False
        renamed = self._rename([one for one in wanted if one.fix and one.fix.rename])
        edited = self._edit([one for one in wanted if not (one.fix and one.fix.rename)])
        self._problems, self._sources = self._look(self._raw)
        return renamed or edited

    def changed(self, raw: Mapping[str, bytes | None]) -> tuple[FixedFile, ...]:
        """Give the files that differ from what they were."""
        files = []
        for name, after in self._raw.items():
            first = self._first_name.get(name, name)
            before = raw.get(first)
            if before is None or after is None or (first == name and before == after):
                continue
            files.append(FixedFile(first, name, before, after, tuple(self._mended[name])))
        return tuple(sorted(files, key=lambda file: file.name))

    def _wanted(self) -> list[Problem]:
        """Give the problems with one mend that were not tried before."""
        new = []
        for problem in self._problems:
            if problem.fix is None or self._raw.get(problem.file) is None:
                continue
            at = problem.position or self._sources.position(problem.address, on_key=problem.on_key)
            line = self._sources.line(problem.file, at.line) if at else ""
            sign = (problem.file, problem.code, problem.message, at, line)
            if sign not in self._tried:
                self._tried.add(sign)
                new.append(problem)
        return new

    def _look(self, raw: Mapping[str, bytes | None]) -> tuple[tuple[Problem, ...], SourceMap]:
        names = tuple(sorted(self._first_name.items()))
        renamed = {first: now for now, first in names}
        there = tuple(sorted(renamed.get(name, name) for name in self._walked.names))
        found = sort_files(replace(self._walked, names=there))
        loaded = load_contents(with_texts(self._folder, found, raw))
        return loaded.problems, loaded.sources

    def _rename(self, problems: Sequence[Problem]) -> bool:
        done = False
        taken = {*self._walked.names, *self._raw}
        for problem in problems:
            assert problem.fix
            new = problem.fix.rename
            if new in taken:
                continue
            self._raw[new] = self._raw.pop(problem.file)
            self._first_name[new] = problem.file
            self._mended.setdefault(new, []).extend(self._located([problem]))
            taken.add(new)
            done = True
        return done

    def _edit(self, problems: Sequence[Problem]) -> bool:
        """Change each file, unless it would then say less that can be read."""
        now = _counted(self._problems)
        done = False
        by_file: dict[str, list[Problem]] = {}
        for problem in problems:
            by_file.setdefault(problem.file, []).append(problem)
        for name, of_file in by_file.items():
            source = self._sources.files.get(name)
            before = self._raw.get(name)
            if source is None or before is None:
                continue
            text, mended = _mended(before, of_file, source)
            if text == before:
                continue
            problems_then, sources_then = self._look({**self._raw, name: text})
            then = _counted(problems_then)
            readable = sources_then.files[name].root is not None
            no_worse = all(then[name, one] <= now[name, one] for one in Severity)
            if source.root is None or (readable and no_worse):
                self._raw[name] = text
                self._mended.setdefault(name, []).extend(self._located(mended))
                done = True
        return done

    def _located(self, problems: Iterable[Problem]) -> tuple[Located, ...]:
        return located(problems, self._sources, self._shown)


def _counted(problems: Iterable[Problem]) -> Counter[tuple[str, Severity]]:
    return Counter((problem.file, problem.severity) for problem in problems)


def _mended(
    raw: bytes, problems: Sequence[Problem], source: SourceFile
) -> tuple[bytes, list[Problem]]:
    """Make the changes of all problems that do not touch each other; gives the file, and whose were made."""
    taken: list[tuple[int, int, int]] = []
    edits: list[Edit] = []
    mended: list[Problem] = []
    for problem in problems:
        own = edits_of(problem, source)
        spans = [
            (edit.position.line, edit.position.column, edit.position.column + edit.position.length)
            for edit in own
        ]
        if own and not any(_touch(span, other) for span in spans for other in taken):
            taken += spans
            edits += own
            mended.append(problem)
    return with_edits(raw, edits), mended


def _touch(one: tuple[int, int, int], other: tuple[int, int, int]) -> bool:
    return one[0] == other[0] and one[1] <= other[2] and other[1] <= one[2]


def with_edits(raw: bytes, edits: Iterable[Edit]) -> bytes:
    """Change a file's bytes at some places; line ends and a byte order mark stay as they are."""
    text = raw.decode("utf-8")
    mark = _BYTE_ORDER_MARK if text.startswith(_BYTE_ORDER_MARK) else ""
    lines = _LINE.findall(text.removeprefix(mark))
    end = "\r\n" if "\r\n" in text else "\n"
    for edit in sorted(edits, key=lambda edit: (edit.position.line, -edit.position.column)):
        line = lines[edit.position.line - 1]
        start = edit.position.column - 1
        new = edit.text.replace("\n", end)
        lines[edit.position.line - 1] = line[:start] + new + line[start + edit.position.length :]
    return (mark + "".join(lines)).encode()
