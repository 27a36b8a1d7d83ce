"""What no build put there is never deleted, replaced or emptied, wherever it lies."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from handbook.disk import exchange
from handbook.publishing import (
    NotPublishedError,
    RefusedTargetError,
    publish,
    put_right,
    workplace,
)
from handbook.publishing.manifest import MARKER, SITE, Marker
from handbook.publishing.target import refuse_strangers
from handbook.publishing.workplace import WORK_FOLDER
from tests.published_sites import NEW, OLD, holds, snapshot

NO_HOSTS: frozenset[str] = frozenset()


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


@pytest.fixture(params=["exchanged", "renamed twice"], autouse=True)
def _either_swap(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "renamed twice":
        monkeypatch.setattr(workplace, "exchange", lambda *_: False)


# --- In the folder of the site -------------------------------------------------------------


def test_a_folder_with_someones_files_is_refused_and_left_alone(
    tmp_path: Path, content: Path
) -> None:
    photos = tmp_path / "photos"
    photos.mkdir()
    (photos / "spring.jpg").write_bytes(b"picture")
    with pytest.raises(RefusedTargetError, match=r"spring\.jpg"):
        publish(NEW, photos, content=content)
    assert snapshot(photos) == {"spring.jpg": b"picture"}


@pytest.mark.parametrize("name", ["CNAME", "fall/notes.txt", ".git/config", ".env", "fall/a/b.txt"])
def test_a_file_put_into_our_site_is_never_deleted(target: Path, content: Path, name: str) -> None:
    (target / name).parent.mkdir(exist_ok=True)
    (target / name).write_text("mine")
    before = snapshot(target)
    with pytest.raises(RefusedTargetError, match=name):
        publish(NEW, target, content=content)
    assert snapshot(target) == before


@pytest.mark.parametrize("name", ["photos", "fall/photos"])
def test_an_empty_folder_put_into_our_site_is_never_deleted(
    target: Path, content: Path, name: str
) -> None:
    (target / name).mkdir()
    with pytest.raises(RefusedTargetError, match=f"{name}/"):
        publish(NEW, target, content=content)
    assert (target / name).is_dir()


@pytest.mark.parametrize("place", ["linked", "fall/index.html", "fall"])
@pytest.mark.parametrize("to", ["file", "folder", "nothing"])
def test_a_link_in_our_site_is_foreign_and_not_followed(
    target: Path, content: Path, tmp_path: Path, place: str, to: str
) -> None:
    (tmp_path / "folder").mkdir()
    (tmp_path / "folder" / "index.html").write_text("mine")
    (tmp_path / "file").write_text("mine")
    if place != "linked":
        (target / "fall" / "index.html").unlink()
    if place == "fall":
        (target / "fall").rmdir()
    (target / place).symlink_to(tmp_path / to)
    with pytest.raises(RefusedTargetError, match=place):
        publish(NEW, target, content=content)
    assert (target / place).is_symlink()
    assert (tmp_path / "folder" / "index.html").read_text() == "mine"


def test_a_marker_that_is_a_link_makes_no_folder_ours(
    target: Path, tmp_path: Path, content: Path
) -> None:
    other = tmp_path / "other"
    other.mkdir()
    (other / "index.html").write_text("mine")
    (other / MARKER).symlink_to(target / MARKER)
    with pytest.raises(RefusedTargetError, match=r"index\.html"):
        publish(NEW, other, content=content)
    assert (other / "index.html").read_text() == "mine"


def test_a_folder_that_cannot_be_read_is_foreign(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.scandir

    def scandir(place: Path) -> object:
        if Path(place).name == "fall":
            raise PermissionError(13, "Permission denied")
        return real(place)

    monkeypatch.setattr(os, "scandir", scandir)
    with pytest.raises(RefusedTargetError, match="fall/"):
        publish(NEW, target, content=content)
    monkeypatch.undo()
    assert holds(target, OLD)


def test_what_file_managers_leave_behind_is_no_reason_to_refuse(
    target: Path, content: Path
) -> None:
    (target / ".DS_Store").write_bytes(b"\0")
    publish(NEW, target, content=content)
    assert holds(target, NEW)


def test_an_empty_folder_may_be_filled(tmp_path: Path, content: Path) -> None:
    (tmp_path / "empty").mkdir()
    publish(NEW, tmp_path / "empty", content=content)
    assert holds(tmp_path / "empty", NEW)


@pytest.mark.parametrize("where", ["content", "content/site", ".", "content/../content/x", "link"])
def test_content_and_site_may_not_lie_in_each_other(
    tmp_path: Path, content: Path, where: str
) -> None:
    (content / "program.yaml").write_text("name: x")
    (tmp_path / "link").symlink_to(content, target_is_directory=True)
    with pytest.raises(RefusedTargetError):
        publish(NEW, tmp_path / where, content=content)
    assert snapshot(content) == {"program.yaml": b"name: x"}


def test_a_file_is_no_target(tmp_path: Path, content: Path) -> None:
    (tmp_path / "site.txt").write_text("mine")
    with pytest.raises(RefusedTargetError, match="is a file"):
        publish(NEW, tmp_path / "site.txt", content=content)
    assert (tmp_path / "site.txt").read_text() == "mine"


def test_a_link_to_the_site_is_followed_not_replaced(
    target: Path, content: Path, tmp_path: Path
) -> None:
    (tmp_path / "current").symlink_to(target, target_is_directory=True)
    publish(NEW, tmp_path / "current", content=content)
    assert (tmp_path / "current").is_symlink()
    assert holds(target, NEW)


def test_a_link_that_leads_in_a_circle_is_refused(tmp_path: Path, content: Path) -> None:
    (tmp_path / "round").symlink_to(tmp_path / "round")
    with pytest.raises(RefusedTargetError, match=r"circle|file or a link"):
        publish(NEW, tmp_path / "round", content=content)


def test_where_a_disk_begins_no_site_can_be(
    tmp_path: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os.path, "ismount", lambda place: Path(place) == tmp_path / "share")
    with pytest.raises(RefusedTargetError, match=r"choose a folder in it, such as .*share/site"):
        publish(NEW, tmp_path / "share", content=content)


# --- While a build runs --------------------------------------------------------------------


def at_each_step(
    monkeypatch: pytest.MonkeyPatch, number: int, act: Callable[[], None]
) -> list[str]:
    """Let `act` happen before the step on the disk with this number; give the steps made."""
    steps: list[str] = []

    def watched(name: str, real: Callable[..., object]) -> Callable[..., object]:
        def step(*arguments: object, **more: object) -> object:
            steps.append(name)
            if len(steps) == number:
                act()
            return real(*arguments, **more)

        return step

    for name in ("mkdir", "open", "fsync", "rename", "replace", "link", "unlink", "rmdir"):
        monkeypatch.setattr(os, name, watched(name, getattr(os, name)))
    if workplace.exchange is exchange:  # type: ignore[attr-defined]
        monkeypatch.setattr(workplace, "exchange", watched("exchange", exchange))
    return steps


MINE = b"what I saved while the site was made"


@pytest.mark.parametrize("name", ["mine.txt", "both/mine.txt", "fall/mine.txt"])
def test_a_file_saved_into_the_site_while_a_build_runs_is_never_lost(
    tmp_path: Path, content: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    number, made = 0, 1
    while number < made:
        number += 1
        target, wrote = tmp_path / f"{number}" / "site", list[Path]()
        publish(OLD, target, content=content)

        def save(target: Path = target, wrote: list[Path] = wrote) -> None:
            if (target / name).parent.is_dir():
                write(target / name, MINE)
                wrote.append(target)

        with monkeypatch.context() as patch:
            steps = at_each_step(patch, number, save)
            told = published_or_refused(target, content)
        made = len(steps)
        saved = list(target.parent.rglob("mine.txt"))
        assert [place.read_bytes() for place in saved] == [MINE] * len(wrote), steps[number - 1]
        assert all(place == target / name or str(place) in told for place in saved), told
    assert made > 30


def test_a_file_saved_right_before_the_swap_brings_the_old_site_back(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked: list[Path] = []

    def look(
        folder: Path,
        shown: Path | None = None,
        hosts: frozenset[str] = NO_HOSTS,
        marker: Marker = SITE,
    ) -> None:
        refuse_strangers(folder, shown, hosts, marker)
        looked.append(folder)
        write(target / "mine.txt", MINE)

    monkeypatch.setattr(workplace, "refuse_strangers", look)
    with pytest.raises(RefusedTargetError, match=r"mine\.txt"):
        publish(NEW, target, content=content)
    assert looked == [target]
    assert snapshot(target)["mine.txt"] == MINE
    assert holds_with_mine(target)
    assert not (target.parent / WORK_FOLDER).exists()


def test_a_swap_that_cannot_be_exchanged_back_is_renamed_back(
    target: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[bool] = []

    def once(one: Path, other: Path) -> bool:
        write(target / "mine.txt", MINE)
        done.append(exchange(one, other) if not done else False)
        return done[-1]

    monkeypatch.setattr(workplace, "exchange", once)
    with pytest.raises(RefusedTargetError, match=r"mine\.txt"):
        publish(NEW, target, content=content)
    assert done == [True, False]
    assert (target / "mine.txt").read_bytes() == MINE
    assert (target / "fall" / "index.html").read_text() == "<p>Old page</p>"


def write(place: Path, held: bytes) -> None:
    with place.open("wb") as file:
        file.write(held)


def published_or_refused(target: Path, content: Path) -> str:
    try:
        return " ".join(publish(NEW, target, content=content).kept)
    except (RefusedTargetError, NotPublishedError) as refusal:
        assert holds_with_mine(target)
        return str(refusal)


def holds_with_mine(target: Path) -> bool:
    found = {name: held for name, held in snapshot(target).items() if held != MINE}
    return set(found) == {MARKER, *(file.path for file in OLD)}


# --- At our own places ---------------------------------------------------------------------


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    """A folder of somebody's, to which links lead."""
    folder = tmp_path / "mine"
    (folder / "music").mkdir(parents=True)
    (folder / "index.html").write_text("mine")
    (folder / "music" / "waltz.pdf").write_text("mine")
    return folder


PLACES = ["", "site", "site/new", "site/old", "site/lock"]


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("to", ["", "index.html", "nothing"])
def test_a_link_at_a_place_of_ours_is_not_followed(
    target: Path, content: Path, mine: Path, place: str, to: str
) -> None:
    link = target.parent / WORK_FOLDER / place
    link.parent.mkdir(parents=True, exist_ok=True)
    link.symlink_to(mine / to)
    before = snapshot(target.parent)
    put_right(target)
    with pytest.raises(NotPublishedError, match=f"{link}.* move it away"):
        publish(NEW, target, content=content)
    assert link.is_symlink()
    assert snapshot(target.parent) == before


@pytest.mark.parametrize("place", PLACES)
def test_a_file_at_a_place_of_ours_is_left(target: Path, content: Path, place: str) -> None:
    file = target.parent / WORK_FOLDER / place
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text("mine")
    before = snapshot(target.parent)
    put_right(target)
    with pytest.raises(NotPublishedError, match=f"{file}.* move it away"):
        publish(NEW, target, content=content)
    assert snapshot(target.parent) == before


@pytest.mark.parametrize("place", ["site/new", "site/old", "site/lock"])
def test_a_folder_at_a_place_of_ours_is_left(target: Path, content: Path, place: str) -> None:
    folder = target.parent / WORK_FOLDER / place
    (folder / "sub").mkdir(parents=True)
    (folder / "sub" / "thesis.docx").write_text("mine")
    before = snapshot(target.parent)
    put_right(target)
    with pytest.raises(NotPublishedError, match=f"{folder}.* move it away"):
        publish(NEW, target, content=content)
    assert snapshot(target.parent) == before


def test_a_strangers_folder_is_not_put_where_a_site_is_missing(
    tmp_path: Path, content: Path, mine: Path
) -> None:
    aside = tmp_path / WORK_FOLDER / "site" / "old"
    aside.parent.mkdir(parents=True)
    mine.rename(aside)
    before = snapshot(tmp_path)
    put_right(tmp_path / "site")
    with pytest.raises(NotPublishedError, match="move it away"):
        publish(NEW, tmp_path / "site", content=content)
    assert snapshot(tmp_path) == before


def test_files_beside_our_places_stay(target: Path, content: Path) -> None:
    beside = target.parent / WORK_FOLDER / "site" / "notes.txt"
    beside.parent.mkdir(parents=True)
    beside.write_text("mine")
    publish(NEW, target, content=content)
    assert holds(target, NEW)
    assert beside.read_text() == "mine"
    assert snapshot(target.parent / WORK_FOLDER) == {"site/notes.txt": b"mine"}
