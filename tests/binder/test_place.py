"""Where a binder may stand: nowhere that readers could come upon it."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from handbook.binder.model import BinderFile
from handbook.binder.place import usable_place
from handbook.binder.writing import write_binder
from handbook.publishing import NotPublishedError, RefusedTargetError, publish, workplace
from handbook.publishing.manifest import BINDER, MARKER
from tests.content_folders import write_folder
from tests.published_sites import NEW, OLD, snapshot

FILES = (BinderFile("index.html", b"<p>Mine"), BinderFile("winter/stand.html", b"<p>Stand"))


@pytest.fixture
def content(tmp_path: Path) -> Path:
    return write_folder(tmp_path / "band" / "content", {"program.yaml": "name: Band\n"})


def refused(target: Path, content: Path) -> str:
    """Say why a place is refused, and see that nothing was written."""
    before = snapshot(content.parent)
    with pytest.raises(RefusedTargetError) as refusal:
        write_binder(FILES, target, content=content)
    assert snapshot(content.parent) == before
    return str(refusal.value)


def test_a_binder_is_written_whole_and_again(tmp_path: Path, content: Path) -> None:
    place = tmp_path / "private" / "binder"
    place.parent.mkdir()
    write_binder(FILES, place, content=content)
    found = snapshot(place)
    assert found.pop(BINDER.name).startswith(BINDER.first_line.encode())
    assert found == {file.path: file.content for file in FILES}
    write_binder(FILES[:1], place, content=content)
    assert {*snapshot(place)} == {BINDER.name, "index.html"}
    assert [one.name for one in place.parent.iterdir()] == ["binder"]


def test_nothing_is_left_beside_it_where_names_cannot_be_exchanged(
    tmp_path: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workplace, "exchange", lambda *_: False)
    place = tmp_path / "private" / "binder"
    for files in (FILES, FILES[:1]):
        write_binder(files, place, content=content)
    assert [one.name for one in place.parent.iterdir()] == ["binder"]
    assert {*snapshot(place)} == {BINDER.name, "index.html"}


@pytest.mark.parametrize("inside", ["", "media", "media/x", "cycles", ".binder"])
def test_nothing_is_put_into_the_content(content: Path, inside: str) -> None:
    assert "inside the content folder" in refused(content / inside, content)


def test_a_folder_that_holds_the_content_is_refused(content: Path) -> None:
    assert "holds the content folder" in refused(content.parent, content)


def test_no_binder_in_a_site_beside_one_or_around_one(content: Path) -> None:
    site = content.parent / "site"
    publish(OLD, site, content=content)
    assert "is a site that handbook made" in refused(site, content)
    assert "lies in a site" in refused(site / "private", content)
    assert "beside the site " in refused(content.parent / "binder", content)
    around = content.parent.parent / "around"
    around.mkdir()
    publish(OLD, around / "site", content=content)
    assert "holds the site site" in refused(around, content)


def test_a_site_reached_by_a_link_is_a_site(tmp_path: Path, content: Path) -> None:
    publish(OLD, content.parent / "site", content=content)
    (tmp_path / "safe").symlink_to(content.parent / "site")
    assert "lies in a site" in refused(tmp_path / "safe" / "binder", content)


MKDOCS: tuple[tuple[str, str, str], ...] = (
    ("site_name: Ours\n", "docs/private", "MkDocs publishes"),
    ("docs_dir: pages # ours\n", "pages/private", "MkDocs publishes"),
    ("site_dir: 'out'\n", "out", "MkDocs publishes"),
    ('"docs_dir": pages\n', "pages/private", "MkDocs publishes"),
    ("{site_name: Ours, docs_dir: pages}\n", "pages/private", "MkDocs publishes"),
    ("docs_dir: pages\nhooks: !!python/name:ours.hook\n", "pages/x", "MkDocs publishes"),
    ("site_dir: !ENV [OUT, out]\n", "out", "MkDocs publishes"),
    ("docs_dir: [\n", "docs/private", "MkDocs publishes"),
)


@pytest.mark.parametrize("name", ["mkdocs.yml", "mkdocs.yaml"])
@pytest.mark.parametrize(("config", "place", "words"), MKDOCS)
def test_no_binder_in_what_mkdocs_publishes(
    content: Path, name: str, config: str, place: str, words: str
) -> None:
    """The keys are MkDocs's (its user guide, "Configuration"), and the file is YAML in any of its ways."""
    write_folder(content.parent, {name: config})
    assert words in refused(content.parent / place, content)


@pytest.mark.parametrize(
    ("site", "binder"),
    [
        ("www2/band", "www2/private/binder"),
        ("www2/band", "www2/a/private/binder"),
        ("www2/band/site", "www2/private/binder"),
        ("www2/band/site", "www2/binder"),
    ],
)
def test_a_site_and_a_binder_keep_away_from_each_other_over_folders(
    tmp_path: Path, content: Path, site: str, binder: str
) -> None:
    publish(OLD, tmp_path / "one" / site, content=content)
    if site == "www2/band/site" and binder == "www2/private/binder":  # whoever publishes www2/band
        write_binder(FILES, tmp_path / "one" / binder, content=content)
    else:
        assert "beside the site" in refused(tmp_path / "one" / binder, content)
        write_binder(FILES, tmp_path / "two" / binder, content=content)
        with pytest.raises(RefusedTargetError, match="beside it"):
            publish(NEW, tmp_path / "two" / site, content=content)


def test_what_holds_everything_of_a_person_is_no_place_that_is_published(
    tmp_path: Path, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A site in the home folder, and the usual place of a binder in it."""
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    publish(OLD, tmp_path / "site", content=content)
    write_binder(FILES, tmp_path / "handbook-binder" / "band", content=content)
    publish(NEW, tmp_path / "site", content=content)
    assert "beside the site" in refused(tmp_path / "binder", content)


@pytest.mark.parametrize("name", ["index.html", "Index.HTML", "CNAME", ".nojekyll", "index.htm"])
def test_no_binder_in_what_looks_like_a_web_site(tmp_path: Path, content: Path, name: str) -> None:
    write_folder(tmp_path / "web", {name: "<p>Welcome"})
    assert f"it holds {name}" in refused(tmp_path / "web" / "in" / "binder", content)


@pytest.mark.parametrize(
    "name",
    ["public_html", "htdocs", "wwwroot", "www", "docs", "public", "_site", "Public"],
)
def test_no_binder_where_folders_are_mostly_published(
    tmp_path: Path, content: Path, name: str
) -> None:
    assert "is mostly published" in refused(tmp_path / name / "binder", content)


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such rights")
def test_nobody_else_may_look_into_a_binder(tmp_path: Path, content: Path) -> None:
    place = tmp_path / "private" / "binder"

    def rights() -> dict[str, int]:
        found = {one.name: one.stat().st_mode & 0o777 for one in place.rglob("*")}
        return {"": place.stat().st_mode & 0o777, **found}

    for files in (FILES, FILES[:1], FILES[:1]):
        write_binder(files, place, content=content)
        assert {*rights().values()} <= {0o700, 0o600}
        assert rights()[""] == rights().get("winter", 0o700) == 0o700
        assert rights()["index.html"] == 0o600
        place.chmod(0o755)  # as a binder of an earlier version has it


def test_a_folder_of_somebodys_is_left_alone(tmp_path: Path, content: Path) -> None:
    mine = write_folder(tmp_path / "mine", {"notes.txt": "mine"})
    assert "notes.txt" in refused(mine, content)
    (tmp_path / "file").write_text("mine")
    assert "is a file" in refused(tmp_path / "file", content)
    place = tmp_path / "binder"
    write_binder(FILES, place, content=content)
    write_folder(place, {"winter/mine.txt": "mine"})
    before = snapshot(place)
    assert "winter/mine.txt" in refused(place, content)
    assert snapshot(place) == before


def test_a_site_takes_the_place_of_no_binder_and_none_stands_beside_one(
    tmp_path: Path, content: Path
) -> None:
    place = tmp_path / "binder"
    write_binder(FILES, place, content=content)
    before = snapshot(place)
    for target in (place, place / "site", tmp_path / "site"):
        with pytest.raises(RefusedTargetError, match="binder"):
            publish(NEW, target, content=content)
    assert snapshot(place) == before
    assert not (tmp_path / "site").exists()


def test_a_marker_of_one_kind_is_none_of_the_other(tmp_path: Path, content: Path) -> None:
    """A binder is not replaced as a site even where it has a file by the name of a site's marker."""
    place = write_folder(tmp_path / "odd", {MARKER: BINDER.first_line + "\nindex.html\n"})
    assert MARKER in refused(place, content)


FAILURES: Sequence[tuple[str, str]] = (("os", "rename"), ("os", "fsync"))


@pytest.mark.parametrize(("module", "step"), FAILURES)
def test_a_disk_that_fails_leaves_the_old_binder_whole(
    tmp_path: Path, content: Path, monkeypatch: pytest.MonkeyPatch, module: str, step: str
) -> None:
    place = tmp_path / "binder"
    write_binder(FILES, place, content=content)
    before = snapshot(tmp_path)
    monkeypatch.setattr(workplace, "exchange", lambda *_: False)
    monkeypatch.setattr(f"{module}.{step}", _failing(getattr(os, step)))
    with pytest.raises(NotPublishedError, match="no room left"):
        write_binder((BinderFile("index.html", b"<p>New"),), place, content=content)
    monkeypatch.undo()
    assert snapshot(tmp_path) == before


def _failing(real: Callable[..., object]) -> Callable[..., object]:
    """Fail at the first call, and work again after it, as a disk on which room was made."""
    calls: list[object] = []

    def step(*given: object, **named: object) -> object:
        calls.append(given)
        if len(calls) == 1:
            raise OSError(28, "No space left on device", "x")
        return real(*given, **named)

    return step


def test_an_empty_folder_and_one_that_is_not_there_are_usable(
    tmp_path: Path, content: Path
) -> None:
    assert usable_place(tmp_path / "new" / "binder", content) == tmp_path / "new" / "binder"
    (tmp_path / "empty").mkdir()
    assert usable_place(tmp_path / "empty", content) == tmp_path / "empty"
