"""What every page of the binder bears, and the command as a director types it."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from posixpath import dirname, join, normpath

import pytest
from jinja2 import DictLoader

from handbook.binder.assemble import binder_files
from handbook.binder.looks import GIT_FILE
from handbook.binder.model import Binder, BinderFile
from handbook.cli import main
from handbook.cli.binder import own_name
from handbook.publishing.manifest import BINDER
from tests.binder.conftest import binder_of
from tests.content_folders import base_files, changed, write_folder

NOTICE = "Private: for the director. Do not post or share."
OFFICE = "Private: for the director and the school office. Do not post."
_ADDRESS = re.compile(r"""(?:href|src)=["']?([^"'> ]+)""")


def pages_of(files: tuple[BinderFile, ...]) -> dict[str, str]:
    """Give the pages among files by their paths."""
    return {one.path: one.content.decode() for one in files if one.path.endswith(".html")}


def test_every_page_bears_the_notice_and_loads_nothing_from_elsewhere(
    small_files: tuple[BinderFile, ...],
) -> None:
    names = {file.path for file in small_files}
    for path, text in pages_of(small_files).items():
        body = text.partition("<body")[2]
        assert body.count(NOTICE) + body.count(OFFICE) == 1, path
        assert (OFFICE in text) is path.startswith("office-"), path
        assert '<meta name="robots" content="noindex">' in text, path
        for address in _ADDRESS.findall(text.split("</head>")[0]):
            place = normpath(join(dirname(path), address))
            assert address.startswith("data:") or place in names, (path, address)


def test_the_first_page_leads_to_all_that_is_listed(small_files: tuple[BinderFile, ...]) -> None:
    index = pages_of(small_files)["index.html"]
    listed = [file for file in small_files if file.title]
    assert all(f'<a href="{file.path}">' in index for file in listed)
    assert all(file.about for file in listed)
    # The class screen has a way of its own, so that no projector shows the stand view.
    stands = [file.path for file in listed if file.path.endswith("stand.html")]
    assert stands
    for path in stands:
        assert index.count(f'<a href="{path}#class">Class screen</a>') == 1
    assert index.count("#class") == len(stands)


def test_the_same_content_gives_the_same_bytes(
    small_content: Path, small_files: tuple[BinderFile, ...]
) -> None:
    assert binder_files(binder_of(small_content)) == small_files


def test_git_takes_nothing_of_it(small_files: tuple[BinderFile, ...]) -> None:
    """A line of `*` leaves out all that lies beside it (gitignore manual)."""
    ignored = next(one.content for one in small_files if one.path == GIT_FILE)
    assert b"*" in ignored.splitlines()


def test_links_to_pages_of_the_site_are_words(small_binder: Binder) -> None:
    """The site may stand nowhere, or in another folder; what leads elsewhere on the web stays."""
    environment = small_binder.environment.overlay(loader=DictLoader({"binder/x.html.j2": _SAID}))
    said = replace(small_binder, environment=environment).render("x", _LINKS)
    assert (
        said == 'See <strong>the form</strong> and <a href="https://quillhaven.example/">ours</a>'
    )


_SAID = "{{ view | line }}"
_LINKS = "See [**the form**](pages/attendance.md) and [ours](https://quillhaven.example/)"


def ended(*arguments: object) -> int:
    """Run a command and give its exit code."""
    with pytest.raises(SystemExit) as end:
        main([str(argument) for argument in arguments])
    assert isinstance(end.value.code, int)
    return end.value.code


def test_the_command_writes_a_binder_and_says_where(
    small_content: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    assert ended("binder", small_content, "--to", tmp_path / "b") == 0
    out = capfd.readouterr().out
    assert f"for the director alone: {tmp_path / 'b' / 'index.html'}" in out
    assert (tmp_path / "b" / BINDER.name).is_file()


def test_without_a_place_it_is_in_the_home_folder(
    small_content: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert ended("binder", small_content) == 0
    (made,) = (tmp_path / "handbook-binder").iterdir()
    assert (made / "index.html").is_file()


def test_each_content_folder_has_a_binder_of_its_own() -> None:
    """Folders side by side, of one name in two places, outside the home folder, and far down."""
    home = Path("/home/band").absolute()
    far = Path(*["a-long-way"] * 12)
    found = [
        own_name(folder, home)
        for folder in (
            home / "own" / "my-band",
            home / "own" / "other-band",
            home / "own" / "content",
            home / "old" / "content",
            home.parent / "content",
            home / far / "content",
            home / "b" / far / "content",
        )
    ]
    assert found[:4] == ["own-my-band", "own-other-band", "own-content", "old-content"]
    assert len({*found}) == len(found)
    assert all(1 < len(name) < 80 and Path(name).name == name for name in found)


def test_what_cannot_be_meant_is_told_in_a_sentence(
    small_content: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    assert ended("binder", small_content, "--to", small_content / "media") == 2
    assert "inside the content folder" in capfd.readouterr().err
    assert ended("binder", small_content, "--cycle", "no-such") == 2
    assert "there is no cycle `no-such`" in capfd.readouterr().err


def test_content_with_an_error_leaves_the_old_binder(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    files = base_files()
    content = write_folder(tmp_path / "band" / "content", files)
    place = tmp_path / "b"
    assert ended("binder", content, "--to", place) == 0
    before = (place / "index.html").read_bytes()
    spoilt = changed(files, "program.yaml", "time_zone:", "time_zon:")
    write_folder(content, spoilt)
    assert ended("binder", content, "--to", place) == 1
    assert "program.yaml" in capfd.readouterr().err
    assert (place / "index.html").read_bytes() == before
