"""A catalogue of failures: one small broken folder for each code, with what is said of it.

A folder holds only the files that differ from the whole one in _base/; `_without.txt` names
files of that one to leave out, `_large.txt` a file and how many bytes it is to have (all of
them spaces, so that it need not be kept here). expected.txt is the report; `pytest --rewrite` writes it anew.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.explanations import all_codes
from handbook.pipeline import load_plan, load_problems
from handbook.report import report_text
from tests.content_folders import BASE, base_files, write_folder

BROKEN = BASE.parent
CASES = sorted(path.name for path in BROKEN.iterdir() if path.is_dir() and path != BASE)

# Codes that no folder can show, and where they are tested instead.
ELSEWHERE = {
    "unreadable-file": "permissions are not kept in a repository; tests/test_loader.py",
    "too-many-entries": "a list of 1,001 lines is no reading matter; tests/source/test_yaml_reader.py",
    "too-many-passages": "201 passages are no reading matter; tests/checks/test_music.py",
    "linked-file": "a link is not the same in every checkout; tests/test_folder_walk.py",
    "linked-ledger": "a link is not the same in every checkout; tests/ledger/test_reading.py",
    "file-names-alike": "some computers cannot hold both; tests/test_folder_walk.py",
    "too-many-files": "no repository wants so many; tests/test_folder_walk.py",
    "po-not-read": "no file of the content; tests/translating/test_words.py",
    "po-unlike": "no file of the content; tests/translating/test_words.py",
    "unreadable-value": "no model refuses anything without its own sentence; tests/test_loader.py",
}


def broken_folder(code: str, folder: Path) -> Path:
    files: dict[str, str | bytes] = {**base_files()}
    case = BROKEN / code
    without = case / "_without.txt"
    for name in without.read_text("utf-8").split("\n") if without.exists() else ():
        files.pop(name, None)
    large = case / "_large.txt"
    for row in large.read_text("utf-8").splitlines() if large.exists() else ():
        name, size = row.split()
        files[name] = b" " * int(size)
    for path in case.rglob("*"):
        if (path.is_file() and path.parent != case) or path.suffix == ".yaml":
            files[path.relative_to(case).as_posix()] = path.read_bytes()
    return write_folder(folder, files)


def test_the_base_is_whole() -> None:
    outcome = load_plan(BASE)
    assert report_text(outcome.problems, outcome.sources) == "no problems\n"
    assert outcome.plan is not None


def test_every_code_has_a_folder_and_every_folder_a_code() -> None:
    assert set(all_codes()) - set(ELSEWHERE) - set(CASES) == set(), "codes without a folder"
    assert set(CASES) - set(all_codes()) == set(), "folders without a code"
    assert set(ELSEWHERE) & set(CASES) == set()


@pytest.mark.parametrize("code", CASES)
def test_what_is_said_of_a_broken_folder(code: str, tmp_path: Path, rewrite: bool) -> None:
    outcome = load_problems(broken_folder(code, tmp_path))
    told = report_text(outcome.problems, outcome.sources, folder="content")
    expected = BROKEN / code / "expected.txt"
    if rewrite:
        expected.write_text(told, encoding="utf-8")
    assert told == expected.read_text("utf-8")
    assert f" {code}: " in told
    assert str(tmp_path) not in told
