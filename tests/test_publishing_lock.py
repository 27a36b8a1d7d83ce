"""One build at a time, and no build waits for one that is over."""

from __future__ import annotations

import errno
import os
import platform
import subprocess
import sys
import time
from pathlib import Path
from typing import NoReturn

import pytest

from handbook.outputs.model import SiteFile
from handbook.publishing import NotPublishedError, lock, publish
from handbook.publishing.workplace import WORK_FOLDER
from tests.published_sites import NEW, OLD, holds, site, snapshot

HOST = platform.node()


@pytest.fixture
def content(tmp_path: Path) -> Path:
    folder = tmp_path / "content"
    folder.mkdir()
    return folder


@pytest.fixture
def target(tmp_path: Path, content: Path) -> Path:
    publish(OLD, tmp_path / "site", content=content)
    return tmp_path / "site"


@pytest.fixture(params=[errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP])
def share(request: pytest.FixtureRequest, target: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A disk without locks; give the place of the file that stands in."""

    def refuse(_: int) -> NoReturn:
        raise OSError(request.param, os.strerror(request.param))

    monkeypatch.setattr(lock, "_lock", refuse)
    holder = target.parent / WORK_FOLDER / "site" / lock.HOLDER
    holder.parent.mkdir(parents=True)
    return holder


def second_build(target: Path, content: Path) -> list[SiteFile]:
    """A site in the midst of which another is built."""
    file = NEW[0]

    def read() -> bytes:
        with pytest.raises(NotPublishedError, match="another build"):
            publish(site(home="<p>Another</p>"), target, content=content)
        return file.read()

    return [SiteFile(file.path, file.digest, read), *NEW[1:]]


def test_a_second_build_of_the_same_site_is_refused(target: Path, content: Path) -> None:
    publish(second_build(target, content), target, content=content)
    assert holds(target, NEW)
    assert not (target.parent / WORK_FOLDER).exists()


def test_a_share_without_locks_is_no_hindrance(share: Path, target: Path, content: Path) -> None:
    publish(NEW, target, content=content)
    assert holds(target, NEW)
    assert not (target.parent / WORK_FOLDER).exists()


def test_on_a_share_without_locks_too_a_second_build_is_refused(
    share: Path, target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lock, "_is_at_work", lambda _: True)
    publish(second_build(target, content), target, content=content)
    assert holds(target, NEW)


def ended_process() -> int:
    child = subprocess.Popen([sys.executable, "-c", ""])
    child.wait()
    return child.pid


@pytest.mark.parametrize("host", [HOST, "another-computer"])
@pytest.mark.parametrize("age", [0, 1800, 2 * 3600])
@pytest.mark.parametrize("alive", [True, False])
def test_the_file_of_a_build_that_was_cut_off_is_told_from_one_in_use(
    share: Path, target: Path, content: Path, host: str, age: int, alive: bool
) -> None:
    process = os.getppid() if alive else ended_process()
    line = f"handbook build on {host}, process {process}, at {time.time() - age:.0f}\n"
    share.write_text(line)
    if age > 3600 or (host == HOST and not alive):
        publish(NEW, target, content=content)
        assert holds(target, NEW)
        return
    with pytest.raises(NotPublishedError, match=f"at work on {host}.* delete {share}"):
        publish(NEW, target, content=content)
    assert share.read_text() == line
    assert holds(target, OLD)


@pytest.mark.parametrize("text", ["", "handbook bu", "handbook build on here, pro"])
def test_a_half_written_file_counts_for_as_long_as_writing_takes(
    share: Path, target: Path, content: Path, text: str
) -> None:
    share.write_text(text)
    with pytest.raises(NotPublishedError, match="seems to be at work: wait"):
        publish(NEW, target, content=content)
    os.utime(share, (0, 0))
    publish(NEW, target, content=content)
    assert holds(target, NEW)


def test_somebodys_file_in_that_place_is_left(share: Path, target: Path, content: Path) -> None:
    share.write_text("concert master: first desk")
    os.utime(share, (0, 0))
    before = snapshot(target.parent)
    with pytest.raises(NotPublishedError, match=f"{share}.* move it away"):
        publish(NEW, target, content=content)
    assert snapshot(target.parent) == before


def test_locks_that_fail_otherwise_are_told_as_they_are(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: int) -> NoReturn:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(lock, "_lock", fail)
    with pytest.raises(NotPublishedError, match="Input/output error"):
        publish(NEW, target, content=content)
    assert holds(target, OLD)
    assert not (target.parent / WORK_FOLDER).exists()
