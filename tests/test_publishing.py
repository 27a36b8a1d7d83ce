"""A site is put in place whole or not at all."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from textwrap import dedent

import pytest

from handbook.outputs.model import OutputFile, RenderedPage, Site
from handbook.publishing import NotPublishedError, RefusedTargetError, publish
from handbook.publishing.manifest import MARKER
from handbook.publishing.staging import WORK_FOLDER

CHECKOUT = Path(__file__).resolve().parents[1]


def page(path: str, body: str = "<p>Hello</p>") -> RenderedPage:
    return RenderedPage(path, "Title", "About", "en", "", body)


def site(
    *pages: RenderedPage, files: tuple[OutputFile, ...] = (), media: tuple[str, ...] = ()
) -> Site:
    return Site(pages or (page(""),), files, media)


def writes(whole: Site, content: Path | None = None) -> Callable[[Path], None]:
    """Give a builder that writes the site with no frame round its pages."""

    def build(folder: Path) -> None:
        for one in whole.pages:
            place = folder / one.path / "index.html"
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_text(one.body)
        for file in whole.files:
            (folder / file.path).write_bytes(file.content)
        for name in whole.media:
            place = folder / "media" / name
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(((content or Path()) / "media" / name).read_bytes())

    return build


def snapshot(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.fixture
def content(tmp_path: Path) -> Path:
    folder = tmp_path / "content"
    folder.mkdir()
    return folder


@pytest.fixture
def target(tmp_path: Path, content: Path) -> Path:
    """A folder in which a first site stands."""
    folder = tmp_path / "site"
    first = site(page("", "<p>The old site</p>"), page("fall/", "<p>Old page</p>"))
    publish(first, folder, content=content, build=writes(first))
    return folder


NEW = site(
    page("", "<p>The new site</p>"), page("winter/", '<p id="goal"><a href="../">Up</a></p>')
)


def test_a_new_site_takes_the_place_of_the_old_one_and_leaves_nothing_beside(
    target: Path, content: Path, tmp_path: Path
) -> None:
    done = publish(NEW, target, content=content, build=writes(NEW))
    assert (done.target, done.pages, done.files) == (target, 2, 2)
    assert set(snapshot(target)) == {"index.html", "winter/index.html", MARKER}
    assert sorted(path.name for path in tmp_path.iterdir()) == ["content", "site"]


def test_folders_above_the_site_are_made(tmp_path: Path, content: Path) -> None:
    publish(NEW, tmp_path / "a" / "b", content=content, build=writes(NEW))
    assert (tmp_path / "a" / "b" / "index.html").is_file()


# --- What may not be replaced -------------------------------------------------------------


def test_a_folder_with_someones_files_is_refused_and_left_alone(
    tmp_path: Path, content: Path
) -> None:
    photos = tmp_path / "photos"
    photos.mkdir()
    (photos / "spring.jpg").write_bytes(b"picture")
    with pytest.raises(RefusedTargetError, match=r"spring\.jpg"):
        publish(NEW, photos, content=content, build=writes(NEW))
    assert snapshot(photos) == {"spring.jpg": b"picture"}


@pytest.mark.parametrize("name", ["CNAME", "winter/notes.txt", ".git/config", ".env"])
def test_a_file_put_into_our_site_is_never_deleted(target: Path, content: Path, name: str) -> None:
    (target / name).parent.mkdir(exist_ok=True)
    (target / name).write_text("mine")
    before = snapshot(target)
    with pytest.raises(RefusedTargetError, match=name):
        publish(NEW, target, content=content, build=writes(NEW))
    assert snapshot(target) == before


def test_a_linked_folder_in_our_site_is_foreign(
    target: Path, content: Path, tmp_path: Path
) -> None:
    (tmp_path / "elsewhere").mkdir()
    (target / "linked").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    with pytest.raises(RefusedTargetError, match="linked"):
        publish(NEW, target, content=content, build=writes(NEW))


def test_what_file_managers_leave_behind_is_no_reason_to_refuse(
    target: Path, content: Path
) -> None:
    (target / ".DS_Store").write_bytes(b"\0")
    publish(NEW, target, content=content, build=writes(NEW))
    assert not (target / ".DS_Store").exists()


def test_an_empty_folder_may_be_filled(tmp_path: Path, content: Path) -> None:
    (tmp_path / "empty").mkdir()
    publish(NEW, tmp_path / "empty", content=content, build=writes(NEW))
    assert (tmp_path / "empty" / "index.html").is_file()


@pytest.mark.parametrize("where", ["content", "content/site", ".", "content/../content/x", "link"])
def test_content_and_site_may_not_lie_in_each_other(
    tmp_path: Path, content: Path, where: str
) -> None:
    (content / "program.yaml").write_text("name: x")
    (tmp_path / "link").symlink_to(content, target_is_directory=True)
    with pytest.raises(RefusedTargetError):
        publish(NEW, tmp_path / where, content=content, build=writes(NEW))
    assert snapshot(content) == {"program.yaml": b"name: x"}


def test_a_file_is_no_target(tmp_path: Path, content: Path) -> None:
    (tmp_path / "site.txt").write_text("mine")
    with pytest.raises(RefusedTargetError, match="is a file"):
        publish(NEW, tmp_path / "site.txt", content=content, build=writes(NEW))
    assert (tmp_path / "site.txt").read_text() == "mine"


def test_a_link_to_the_site_is_followed_not_replaced(
    target: Path, content: Path, tmp_path: Path
) -> None:
    (tmp_path / "current").symlink_to(target, target_is_directory=True)
    publish(NEW, tmp_path / "current", content=content, build=writes(NEW))
    assert (tmp_path / "current").is_symlink()
    assert (target / "winter" / "index.html").is_file()


# --- Verification -------------------------------------------------------------------------


def findings_of(
    whole: Site, target: Path, content: Path, build: Callable[[Path], None]
) -> tuple[str, ...]:
    before = snapshot(target)
    with pytest.raises(NotPublishedError) as caught:
        publish(whole, target, content=content, build=build)
    assert snapshot(target) == before
    return caught.value.findings


def test_a_missing_page_stops_the_build(target: Path, content: Path) -> None:
    found = findings_of(NEW, target, content, writes(site(page(""))))
    assert found == ("winter/index.html is missing",)


def test_a_file_too_much_stops_the_build(target: Path, content: Path) -> None:
    more = site(*NEW.pages, files=(OutputFile("roster.json", b"{}"),))
    assert findings_of(NEW, target, content, writes(more)) == (
        "roster.json was not to be published",
    )


def test_an_empty_file_stops_the_build(target: Path, content: Path) -> None:
    whole = site(page(""), files=(OutputFile("style.css", b""),))
    assert findings_of(whole, target, content, writes(whole)) == ("style.css is empty",)


@pytest.mark.parametrize(
    "name", ["program.yaml", "roster.csv", "notes.docx", "index.html.gz", "noending"]
)
def test_other_kinds_of_file_are_not_published(target: Path, content: Path, name: str) -> None:
    whole = site(page(""), files=(OutputFile(name, b"x"),))
    found = findings_of(whole, target, content, writes(whole))
    assert found == (f"{name} is of a kind that is not published",)


def test_named_media_are_published_and_links_out_of_the_folder_are_not(
    target: Path, content: Path, tmp_path: Path
) -> None:
    (content / "media").mkdir()
    (content / "media" / "tone.mp3").write_bytes(b"sound")
    whole = site(page(""), media=("tone.mp3",))
    publish(whole, target, content=content, build=writes(whole, content))
    assert (target / "media" / "tone.mp3").read_bytes() == b"sound"

    (tmp_path / "secret.mp3").write_bytes(b"secret")
    (content / "media" / "link.mp3").symlink_to(tmp_path / "secret.mp3")
    linked = site(page(""), media=("link.mp3",))
    assert findings_of(linked, target, content, writes(linked, content)) == (
        "media/link.mp3 is not a file of the content folder",
    )


@pytest.mark.parametrize("pages", [(page("a/"), page("a/")), (page("../a/"),), (page("/a/"),)])
def test_addresses_given_twice_or_leading_outside_are_our_fault(
    tmp_path: Path, content: Path, pages: tuple[RenderedPage, ...]
) -> None:
    with pytest.raises(ValueError, match="addresses"):
        publish(site(*pages), tmp_path / "site", content=content, build=writes(site(*pages)))


# --- Faults: the old site stays, byte for byte --------------------------------------------


class PulledPlugError(Exception):
    """What a test throws in the middle."""


@pytest.mark.parametrize("fault", [PulledPlugError, KeyboardInterrupt, SystemExit, MemoryError])
def test_a_builder_that_fails_half_way(
    target: Path, content: Path, fault: type[BaseException]
) -> None:
    before = snapshot(target.parent)

    def build(folder: Path) -> None:
        writes(site(page("")))(folder)
        raise fault

    with pytest.raises(fault):
        publish(NEW, target, content=content, build=build)
    assert snapshot(target.parent) == before
    assert not (target.parent / WORK_FOLDER).exists()


def test_a_full_disk_is_a_sentence(target: Path, content: Path) -> None:
    def build(folder: Path) -> None:
        raise OSError(28, "No space left on device")

    before = snapshot(target.parent)
    with pytest.raises(NotPublishedError, match="No space left"):
        publish(NEW, target, content=content, build=build)
    assert snapshot(target.parent) == before


@pytest.mark.parametrize("fault", [OSError(13, "Permission denied"), KeyboardInterrupt()])
@pytest.mark.parametrize("failing", [1, 2])
def test_a_rename_that_fails(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch, failing: int, fault: BaseException
) -> None:
    before, calls, real = snapshot(target.parent), [], os.replace

    def replace(source: Path, destination: Path) -> None:
        calls.append(source)
        if len(calls) == failing:
            raise fault
        real(source, destination)

    monkeypatch.setattr(os, "replace", replace)
    with pytest.raises((NotPublishedError, KeyboardInterrupt)):
        publish(NEW, target, content=content, build=writes(NEW))
    assert len(calls) >= failing
    assert snapshot(target.parent) == before


def test_an_interrupt_right_after_the_swap_leaves_the_new_site(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls, real = [], os.replace

    def replace(source: Path, destination: Path) -> None:
        real(source, destination)
        calls.append(source)
        if len(calls) == 2:
            raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", replace)
    with pytest.raises(KeyboardInterrupt):
        publish(NEW, target, content=content, build=writes(NEW))
    assert (target / "winter" / "index.html").is_file()
    assert not (target.parent / WORK_FOLDER).exists()


def test_a_second_build_of_the_same_site_waits_outside(target: Path, content: Path) -> None:
    def build(folder: Path) -> None:
        with pytest.raises(NotPublishedError, match="another build"):
            publish(NEW, target, content=content, build=writes(NEW))
        writes(NEW)(folder)

    publish(NEW, target, content=content, build=build)
    assert (target / "winter" / "index.html").is_file()


KILLED_WHILE_BUILDING = """
    def build(folder):
        writes(NEW)(folder)
        os.kill(os.getpid(), signal.SIGKILL)
    publish(NEW, TARGET, content=CONTENT, build=build)
"""
KILLED_BEFORE_THE_SWAP = """
    os.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
    publish(NEW, TARGET, content=CONTENT, build=writes(NEW))
"""
KILLED_IN_THE_SWAP = """
    real = os.replace
    def replace(source, destination):
        real(source, destination)
        os.kill(os.getpid(), signal.SIGKILL)
    os.replace = replace
    publish(NEW, TARGET, content=CONTENT, build=writes(NEW))
"""


def run_to_its_death(script: str, target: Path, content: Path) -> None:
    head = f"""
import os, signal
from pathlib import Path
from handbook.publishing import publish
from tests.test_publishing import NEW, writes
TARGET, CONTENT = Path({str(target)!r}), Path({str(content)!r})
"""
    child = subprocess.run([sys.executable, "-c", head + dedent(script)], cwd=CHECKOUT, check=False)
    assert child.returncode == -signal.SIGKILL


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
@pytest.mark.parametrize("script", [KILLED_WHILE_BUILDING, KILLED_BEFORE_THE_SWAP])
def test_a_killed_build_leaves_the_old_site(target: Path, content: Path, script: str) -> None:
    before = snapshot(target)
    run_to_its_death(script, target, content)
    assert snapshot(target) == before

    publish(NEW, target, content=content, build=writes(NEW))
    assert (target / "winter" / "index.html").is_file()
    assert not (target.parent / WORK_FOLDER).exists()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
def test_a_build_killed_between_the_two_renames_is_undone_by_the_next_one_even_if_that_fails(
    target: Path, content: Path
) -> None:
    before = snapshot(target)
    run_to_its_death(KILLED_IN_THE_SWAP, target, content)
    assert not target.exists()

    def build(folder: Path) -> None:
        raise PulledPlugError

    with pytest.raises(PulledPlugError):
        publish(NEW, target, content=content, build=build)
    assert snapshot(target) == before
