"""Running all reference checks over the shared small folder with a few places changed."""

from __future__ import annotations

from pathlib import Path

from handbook.checks import REFERENCE_CHECKS
from handbook.loader import load
from handbook.problems import Severity
from tests.content_folders import base_files, changed, write_folder

PROGRAM, YEAR = "program.yaml", "years/2026-27.yaml"
CYCLE, MUSIC = "cycles/winter/cycle.yaml", "cycles/winter/music.yaml"
CONCERT, FUNDAMENTALS = "cycles/winter/concert.yaml", "fundamentals.yaml"

Change = tuple[str, str, str]
"""A file, a text that stands once in it, and what to write instead; a new file if that is empty."""


def checked(folder: Path, *changes: Change) -> list[str]:
    """Check the changed folder; a problem reads `file:line:column code: message`."""
    files = base_files()
    for name, old, new in changes:
        files = changed(files, name, old, new) if old else {**files, name: new}
    result = load(write_folder(folder, files))
    assert result.handbook is not None, result.problems
    assert result.problems == ()
    told = []
    for check in REFERENCE_CHECKS:
        for problem in check(result.handbook):
            at = problem.position or result.sources.position(problem.address, on_key=problem.on_key)
            assert at is not None
            mark = "warning " if problem.severity is Severity.WARNING else ""
            told.append(
                f"{problem.file}:{at.line}:{at.column} {mark}{problem.code}: {problem.message} | {problem.hint}"
            )
            for note in problem.notes:
                assert result.sources.position(note.address) is not None
    return told
