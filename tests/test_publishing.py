"""A site is put in place whole or not at all."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from textwrap import dedent
from typing import NoReturn

import pytest

from handbook.cleaning.cleaned import cleaned
from handbook.making.media import known_media, media_files
from handbook.outputs.model import SiteFile
from handbook.publishing import (
    NotPublishedError,
    publish,
    put_right,
    staging,
    workplace,
)
from handbook.publishing.manifest import MARKER, read_marker
from handbook.publishing.workplace import WORK_FOLDER
from handbook.store import Store
from tests.published_sites import NEW, OLD, finished_file, holds, snapshot
from tests.real_media import real_media

CHECKOUT = Path(__file__).resolve().parents[1]


@pytest.fixture
def content(tmp_path: Path) -> Path:
    folder = tmp_path / "content"
    folder.mkdir()
    return folder


@pytest.fixture
def target(tmp_path: Path, content: Path) -> Path:
    """A folder in which a first site stands."""
    publish(OLD, tmp_path / "site", content=content)
    return tmp_path / "site"


@pytest.fixture(params=["exchanged", "renamed twice"])
def either_swap(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Swap as the system can, and as one does that cannot exchange two names."""
    if request.param == "renamed twice":
        monkeypatch.setattr(workplace, "exchange", lambda *_: False)
    return str(request.param)


@pytest.mark.usefixtures("either_swap")
def test_a_new_site_takes_the_place_of_the_old_one_and_leaves_nothing_beside(
    target: Path, content: Path, tmp_path: Path
) -> None:
    done = publish(NEW, target, content=content)
    assert (done.target, done.pages, done.files, done.kept) == (target, 3, 3, ())
    assert holds(target, NEW)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["content", "site"]


def test_folders_above_the_site_are_made(tmp_path: Path, content: Path) -> None:
    publish(NEW, tmp_path / "a" / "b", content=content)
    assert holds(tmp_path / "a" / "b", NEW)
    assert [path.name for path in (tmp_path / "a").iterdir()] == ["b"]


# --- What does not change stays as it is ---------------------------------------------------


def identity(file: Path) -> tuple[int, int]:
    return file.stat().st_ino, file.stat().st_mtime_ns


def unreadable(path: str, body: str) -> SiteFile:
    """A file that must not be asked for its content."""

    def read() -> NoReturn:
        raise AssertionError(path)

    made = finished_file(path, body.encode())
    return SiteFile(made.path, made.digest, read)


def test_of_an_unchanged_file_nothing_is_read_or_written(target: Path, content: Path) -> None:
    same = target / "both" / "index.html"
    before = identity(same)
    publish([*NEW[:2], unreadable("both/index.html", "<p>The same</p>")], target, content=content)
    assert identity(same) == before
    assert same.stat().st_nlink == 1
    assert holds(target, NEW)


def test_a_site_that_did_not_change_is_left_alone(target: Path, content: Path) -> None:
    before = identity(target), identity(target / MARKER)
    publish(OLD, target, content=content)
    assert (identity(target), identity(target / MARKER)) == before


@pytest.mark.parametrize("body", ["<p>By hand</p>!", "<p>The  same</p>"])
def test_a_file_that_was_changed_by_hand_is_written_anew(
    target: Path, content: Path, body: str
) -> None:
    (target / "both" / "index.html").write_text(body)
    publish(OLD, target, content=content)
    assert holds(target, OLD)


def test_a_missing_file_is_written_anew(target: Path, content: Path) -> None:
    (target / "both" / "index.html").unlink()
    (target / "both").rmdir()
    publish(OLD, target, content=content)
    assert holds(target, OLD)


def test_a_disk_without_links_gets_new_files_with_the_old_time_of_change(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def link(*_: object) -> NoReturn:
        raise OSError(errno.EPERM, "Operation not permitted")

    before = identity(target / "both" / "index.html")
    monkeypatch.setattr(os, "link", link)
    publish(NEW, target, content=content)
    assert holds(target, NEW)
    after = identity(target / "both" / "index.html")
    assert (after[0] != before[0], after[1]) == (True, before[1])


def test_a_site_whose_marker_has_only_names_is_replaced(target: Path, content: Path) -> None:
    # Written so before sizes and digests were noted.
    first = (target / MARKER).read_text().splitlines()[0]
    (target / MARKER).write_text("\n".join((first, *sorted(file.path for file in OLD), "")))
    publish(NEW, target, content=content)
    assert holds(target, NEW)


def test_the_marker_holds_names_digests_sizes_and_times_and_nothing_else(target: Path) -> None:
    listed = read_marker(target)
    assert listed is not None
    assert set(listed) == {file.path for file in OLD}
    for file in OLD:
        info, noted = (target / file.path).stat(), listed[file.path]
        assert noted is not None
        assert (noted.digest, noted.size, noted.changed) == (
            file.digest, info.st_size, info.st_mtime_ns,
        )  # fmt: skip
    _, *lines = (target / MARKER).read_text().splitlines()
    assert all(len(line.split("\t")) == 4 for line in lines)
    assert str(target.parent) not in (target / MARKER).read_text()


# --- Verification: nothing is written unless all is sound ----------------------------------


def refused(
    files: list[SiteFile], target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> tuple[str, ...]:
    before = snapshot(target.parent)
    monkeypatch.setattr(os, "mkdir", lambda *_: pytest.fail("something is written"))
    with pytest.raises(NotPublishedError) as caught:
        publish(files, target, content=content)
    assert snapshot(target.parent) == before
    return caught.value.findings


def test_an_empty_file_stops_the_build(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = refused([*NEW, finished_file("a.css", b"")], target, content, monkeypatch)
    assert found == ("a.css is empty",)


@pytest.mark.parametrize(
    "name", ["program.yaml", "roster.csv", "notes.docx", "index.html.gz", "noending"]
)
def test_other_kinds_of_file_are_not_published(
    target: Path, content: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = refused([*NEW, finished_file(name, b"x")], target, content, monkeypatch)
    assert found == (f"{name} is of a kind that is not published",)


@pytest.mark.parametrize("name", ["two\nlines.mp3", "a\tb.mp3", "no-\udcff-text.mp3"])
def test_names_that_cannot_be_printed_are_not_published(
    target: Path, content: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    (found,) = refused([*NEW, finished_file(name, b"x")], target, content, monkeypatch)
    assert "cannot be printed" in found
    assert found.isprintable()


@pytest.mark.parametrize("name", ["tone.mp3", "TONE.MP3", "Exercise #2.WAV", "a%20b.Jpeg", "é.PDF"])
def test_named_media_are_published_whatever_their_name(
    target: Path, content: Path, name: str
) -> None:
    (content / "media").mkdir()
    (content / "media" / name).write_bytes(real_media(name))
    media = content / "media"
    files = [*NEW, *media_files([name], known_media(media, [name], Store()), media)]
    publish(files, target, content=content)
    assert (target / "media" / name).read_bytes() == cleaned(real_media(name), name)


def test_media_that_lie_elsewhere_are_not_published(content: Path, tmp_path: Path) -> None:
    (content / "media").mkdir()
    (tmp_path / "secret.mp3").write_bytes(b"secret")
    (content / "media" / "link.mp3").symlink_to(tmp_path / "secret.mp3")
    names = ["../secret.mp3", "link.mp3"]
    known = known_media(content / "media", names, Store())
    with pytest.raises(NotPublishedError) as caught:
        media_files(names, known, content / "media")
    assert caught.value.findings == tuple(
        f"media/{name} is not a file of the content folder" for name in names
    )


@pytest.mark.parametrize("names", [("a.css", "a.css"), ("../a.css",), ("/a.css",), ("a//b.css",)])
def test_addresses_given_twice_or_leading_outside_are_our_fault(
    tmp_path: Path, content: Path, names: tuple[str, ...]
) -> None:
    files = [finished_file(name, b"x") for name in names]
    with pytest.raises(ValueError, match="addresses"):
        publish(files, tmp_path / "site", content=content)


def test_content_that_changes_while_the_site_is_made_stops_the_build(
    target: Path, content: Path
) -> None:
    promised = finished_file("a.css", b"p {}")
    other = SiteFile("a.css", promised.digest, lambda: b"p { color: red }")
    before = snapshot(target.parent)
    with pytest.raises(NotPublishedError, match=r"a\.css was changed"):
        publish([*NEW, other], target, content=content)
    assert snapshot(target.parent) == before


def test_a_file_that_is_cut_short_on_the_disk_stops_the_build(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cut(files: Sequence[Path], _: Path) -> None:
        os.truncate(files[0], 3)

    before = snapshot(target.parent)
    monkeypatch.setattr(staging, "make_last", cut)
    with pytest.raises(NotPublishedError, match="was changed"):
        publish(NEW, target, content=content)
    assert snapshot(target.parent) == before


# --- Faults: the old site stays, byte for byte ---------------------------------------------


class PulledPlugError(Exception):
    """What a test throws in the middle."""


def failing(fault: BaseException) -> list[SiteFile]:
    """A site of which one file cannot be read."""

    def read() -> NoReturn:
        raise fault

    return [*NEW, SiteFile("zz.css", "0" * 64, read)]


@pytest.mark.parametrize("fault", [PulledPlugError, KeyboardInterrupt, SystemExit, MemoryError])
def test_a_build_that_fails_half_way(
    target: Path, content: Path, fault: type[BaseException]
) -> None:
    before = snapshot(target.parent)
    with pytest.raises(fault):
        publish(failing(fault()), target, content=content)
    assert snapshot(target.parent) == before
    assert not (target.parent / WORK_FOLDER).exists()


def test_folders_made_above_a_site_that_failed_are_taken_away(
    tmp_path: Path, content: Path
) -> None:
    with pytest.raises(PulledPlugError):
        publish(failing(PulledPlugError()), tmp_path / "a" / "b" / "site", content=content)
    assert [path.name for path in tmp_path.iterdir()] == ["content"]


@pytest.mark.parametrize(
    ("code", "said"),
    [
        (errno.ENOSPC, "no room left on the disk"),
        (errno.EDQUOT, "no room left on the disk"),
        (errno.EROFS, "can be read but not written to: choose another place"),
        (errno.EACCES, "may not write in"),
        (errno.EPERM, "may not write in"),
        (
            errno.EBUSY,
            r"where a disk or a share begins.* choose a folder in it, such as .*site/site",
        ),
        (errno.EXDEV, "where a disk or a share begins"),
        (errno.ENAMETOOLONG, "too long for this disk"),
        (errno.EIO, "Input/output error"),
    ],
)
@pytest.mark.parametrize("step", ["mkdir", "write", "fsync", "rename"])
@pytest.mark.usefixtures("either_swap")
def test_what_the_system_refuses_is_a_sentence(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch, code: int, said: str, step: str
) -> None:
    def refuse(*_: object) -> NoReturn:
        raise OSError(code, os.strerror(code), "x.html")

    before = snapshot(target.parent)
    if step == "rename":
        monkeypatch.setattr(workplace, "exchange", lambda *_: False)
    monkeypatch.setattr(os, step, refuse)
    with pytest.raises(NotPublishedError, match=said):
        publish(NEW, target, content=content)
    monkeypatch.undo()
    put_right(target)
    assert snapshot(target.parent) == before


def test_a_disk_that_takes_two_names_for_one_is_a_sentence(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.open

    def small(path: Path, flags: int, *mode: int) -> int:
        return real(str(path).replace("TONE", "tone"), flags, *mode)

    both = [finished_file(name, b"x") for name in ("tone.mp3", "TONE.mp3")]
    monkeypatch.setattr(os, "open", small)
    with pytest.raises(NotPublishedError, match=r"tone\.mp3 has the name of another"):
        publish([*NEW, *both], target, content=content)
    assert holds(target, OLD)


@pytest.mark.parametrize("fault", [OSError(13, "Permission denied"), KeyboardInterrupt()])
@pytest.mark.parametrize("failing", [1, 2])
def test_a_rename_that_fails(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch, failing: int, fault: BaseException
) -> None:
    before, calls, real = snapshot(target.parent), [], os.rename

    def rename(source: Path, destination: Path) -> None:
        calls.append(source)
        if len(calls) == failing:
            raise fault
        real(source, destination)

    monkeypatch.setattr(workplace, "exchange", lambda *_: False)
    monkeypatch.setattr(os, "rename", rename)
    with pytest.raises((NotPublishedError, KeyboardInterrupt)):
        publish(NEW, target, content=content)
    assert len(calls) >= failing
    assert snapshot(target.parent) == before


def test_an_interrupt_right_after_the_swap_leaves_the_new_site(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls, real = [], os.rename

    def rename(source: Path, destination: Path) -> None:
        real(source, destination)
        calls.append(source)
        if len(calls) == 2:
            raise KeyboardInterrupt

    monkeypatch.setattr(workplace, "exchange", lambda *_: False)
    monkeypatch.setattr(os, "rename", rename)
    with pytest.raises(KeyboardInterrupt):
        publish(NEW, target, content=content)
    assert holds(target, NEW)
    assert not (target.parent / WORK_FOLDER).exists()


# --- Killed by the system ------------------------------------------------------------------

KILLED_WHILE_WRITING = """
    os.fsync = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
"""
KILLED_BEFORE_THE_SWAP = """
    workplace.exchange = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
"""
KILLED_IN_THE_SWAP = """
    real = os.rename
    def rename(source, destination):
        real(source, destination)
        os.kill(os.getpid(), signal.SIGKILL)
    os.rename, workplace.exchange = rename, lambda *_: False
"""


def run_to_its_death(script: str, target: Path, content: Path) -> None:
    head = f"""
import os, signal
from pathlib import Path
from handbook.publishing import publish, workplace
from tests.published_sites import NEW
{dedent(script)}
publish(NEW, Path({str(target)!r}), content=Path({str(content)!r}))
"""
    child = subprocess.run([sys.executable, "-c", head], cwd=CHECKOUT, check=False)
    assert child.returncode == -signal.SIGKILL


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
@pytest.mark.parametrize("script", [KILLED_WHILE_WRITING, KILLED_BEFORE_THE_SWAP])
def test_a_killed_build_leaves_the_old_site(target: Path, content: Path, script: str) -> None:
    run_to_its_death(script, target, content)
    assert holds(target, OLD)

    publish(NEW, target, content=content)
    assert holds(target, NEW)
    assert not (target.parent / WORK_FOLDER).exists()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
def test_a_build_killed_between_the_two_renames_is_undone_by_the_next_command(
    target: Path, content: Path
) -> None:
    run_to_its_death(KILLED_IN_THE_SWAP, target, content)
    assert not target.exists()

    put_right(target)
    assert holds(target, OLD)
    assert not (target.parent / WORK_FOLDER).exists()


def test_there_is_always_a_site_where_the_system_can_exchange_two_names(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: set[bytes] = set()

    def watched(name: str) -> None:
        real: Callable[..., object] = getattr(os, name)

        def step(*arguments: object, **more: object) -> object:
            seen.add((target / "index.html").read_bytes())
            done = real(*arguments, **more)
            seen.add((target / "index.html").read_bytes())
            return done

        monkeypatch.setattr(os, name, step)

    for name in ("mkdir", "write", "fsync", "rename", "replace", "link", "unlink", "rmdir"):
        watched(name)
    publish(NEW, target, content=content)
    assert seen == {b"<p>The old site</p>", b"<p>The new site</p>"}
