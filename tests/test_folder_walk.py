"""What lies in a content folder is read whole or told: links, pipes, odd names, closed folders.

A site made of what could be read would take the place of a whole one.
"""

from __future__ import annotations

import os
import socket
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from handbook.loader import folder_walk
from handbook.loader.folder_walk import read_bytes, walk
from handbook.pipeline import load_plan
from handbook.problems import Severity
from tests.content_folders import BASE, base_files, write_folder

pytestmark = pytest.mark.skipif(os.name == "nt", reason="links and pipes as POSIX has them")


def told(folder: Path) -> list[str]:
    outcome = load_plan(folder)
    assert outcome.plan is None, "a part of the folder would be published as the whole"
    assert all(problem.severity is Severity.ERROR for problem in outcome.problems)
    return [f"{problem.file} {problem.code}" for problem in outcome.problems]


@pytest.fixture
def content(tmp_path: Path) -> Path:
    return write_folder(tmp_path / "content", base_files())


def link(name: str, to: Path) -> Callable[[Path], None]:
    def make(content: Path) -> None:
        path = content / name
        if path.is_dir():
            path.rename(content.parent / "moved")
        else:
            path.unlink(missing_ok=True)
        path.parent.mkdir(exist_ok=True)
        path.symlink_to(to)

    return make


@pytest.mark.parametrize(
    ("make", "expected"),
    [
        (link("cycles", Path("../moved")), "cycles linked-file"),
        (link("cycles/winter", Path("../../moved")), "cycles/winter linked-file"),
        (link("program.yaml", BASE / "program.yaml"), "program.yaml linked-file"),
        (link("cycles/winter/cycle.yaml", BASE), "cycles/winter/cycle.yaml linked-file"),
        (link("pages/rules.md", Path("/etc/hostname")), "pages/rules.md linked-file"),
        (link("media/loop", Path("..")), "media/loop linked-file"),
        (link("media/self.mp3", Path("self.mp3")), "media/self.mp3 linked-file"),
        (link("media/gone.mp3", Path("nowhere")), "media/gone.mp3 linked-file"),
        (lambda content: os.mkfifo(content / "pages/pipe.md"), "pages/pipe.md unreadable-file"),
        (lambda content: os.mkfifo(content / "fundamentals.yaml"), "fundamentals.yaml unreadable-file"),
    ],
)  # fmt: skip
def test_what_leads_elsewhere_is_told_and_not_followed(
    make: Callable[[Path], None], expected: str, content: Path
) -> None:
    make(content)
    assert told(content) == [expected]


def test_a_socket_is_told(content: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(content)  # a socket's path may have about 100 letters
    with socket.socket(socket.AF_UNIX) as one:
        one.bind("song.mp3")
        assert told(content) == ["song.mp3 unreadable-file"]


@pytest.mark.parametrize("closed", ["", "cycles/", "cycles/winter/", "media/", "years/"])
def test_a_folder_that_cannot_be_opened_stops_the_build(
    closed: str, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (content / "media").mkdir()
    real = os.scandir

    def scandir(path: Any) -> Any:
        if Path(path) == content / closed:
            raise PermissionError(13, "Permission denied")
        return real(path)

    monkeypatch.setattr(os, "scandir", scandir)
    assert f"{closed.rstrip('/') or '.'} unreadable-file" in told(content)


def test_an_empty_folder_of_a_cycle_is_told(content: Path) -> None:
    (content / "cycles/spring").mkdir()
    (content / "cycles/spring/.keep").touch()
    (content / "media/pictures").mkdir(parents=True)
    outcome = load_plan(content)
    (problem,) = outcome.problems
    assert (problem.code, problem.file) == ("missing-file", "cycles/spring/cycle.yaml")
    assert problem.severity is Severity.WARNING
    assert outcome.plan is not None


def test_a_hidden_link_is_passed_over_as_all_hidden_files(content: Path) -> None:
    (content / ".shared").symlink_to("..")
    assert load_plan(content).problems == ()


def test_a_file_that_became_a_link_or_a_pipe_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "real").write_text("x")
    (tmp_path / "link").symlink_to("real")
    os.mkfifo(tmp_path / "pipe")
    assert [read_bytes(tmp_path / name) for name in ("real", "link", "pipe")] == [b"x", None, None]
    assert read_bytes(Path("/dev/zero")) is None


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        (b"media/caf\xe9.mp3", "media/caf�.mp3 odd-file-name"),
        (b"media/\x1b[31m.mp3", "media/�[31m.mp3 odd-file-name"),
        ("media/a\u202eb.mp3".encode(), "media/a�b.mp3 odd-file-name"),
        (b"media/" + b"a" * 101, f"media/{'a' * 101} odd-file-name"),
        (b"pages/" + b"a" * 61 + b".md", f"pages/{'a' * 61}.md odd-file-name"),
        (b"media/Exercise #2.wav", "media/Exercise #2.wav odd-file-name"),
        (b"media/a%20b.wav", "media/a%20b.wav odd-file-name"),
        (b"media/Aux.mp3", "media/Aux.mp3 odd-file-name"),
        (b"media/drums /a.mp3", "media/drums /a.mp3 odd-file-name"),
        (b"pages/con.md", "pages/con.md odd-file-name"),
        (b"pages/index.md", "pages/index.md odd-file-name"),
        (b"cycles/nul/cycle.yaml", "cycles/nul/cycle.yaml odd-file-name"),
        (b"years/com1.yaml", "years/com1.yaml odd-file-name"),
    ],
)
def test_an_unfit_name_is_told(name: bytes, expected: str, content: Path) -> None:
    path = content / os.fsdecode(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("# x", encoding="utf-8")
    assert expected in told(content)


def test_folders_of_absurd_depth_are_told_once(content: Path) -> None:
    (content / Path("media", *("deep" for _ in range(60)))).mkdir(parents=True)
    (line,) = told(content)
    assert line.endswith("… odd-file-name")
    assert len(line) < 250


def test_names_that_some_systems_take_for_one_are_told(content: Path) -> None:
    for name in ("Song.mp3", "song.mp3", "caf\u00e9.mp3", "cafe\u0301.mp3"):
        write_folder(content, {f"media/{name}": b""})
    if len(list((content / "media").iterdir())) < 4:
        pytest.skip("this system cannot tell them apart either")
    assert [line.split()[-1] for line in told(content)] == ["file-names-alike"] * 2


def test_more_files_than_can_be_meant_are_told(
    content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(folder_walk, "MOST_FILES", 5)
    assert [problem.code for problem in walk(content).problems] == ["too-many-files"]
