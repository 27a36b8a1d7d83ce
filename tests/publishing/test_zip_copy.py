"""The copy in a zip: links that name files, the same bytes each time, whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from handbook.publishing import NotPublishedError
from handbook.publishing.zip_copy import from_disk, zip_copy
from tests.published_sites import NEW, finished_file
from tests.publishing.numbered import names

FILES = [*NEW, finished_file("404.html", b"<p>Lost</p>"), finished_file("media/a.mp3", b"sound")]


@pytest.mark.parametrize(
    ("link", "named"),
    [
        ("./", "./index.html"),
        ("../winter/", "../winter/index.html"),
        ("./winter/#goal", "./winter/index.html#goal"),
        ("./winter/?week=3#goal", "./winter/index.html?week=3#goal"),
        ("../assets/style.css", "../assets/style.css"),
        ("#goal", "#goal"),
        ("", ""),
        ("https://bands.example.org/", "https://bands.example.org/"),
        ("webcal://bands.example.org/calendar/", "webcal://bands.example.org/calendar/"),
        ("mailto:office@example.org", "mailto:office@example.org"),
        ("//bands.example.org/a/", "//bands.example.org/a/"),
    ],
)
def test_a_link_to_a_folder_names_its_file_and_no_other_changes(link: str, named: str) -> None:
    page = f'<a class="x" href="{link}">x</a><a href="{link}">y</a>'
    expected = f'<a class="x" href="{named}">x</a><a href="{named}">y</a>'
    assert from_disk(page.encode()) == expected.encode()


def test_two_copies_of_a_site_are_the_same_bytes(tmp_path: Path) -> None:
    for name, files in (("one.zip", FILES), ("two.zip", FILES[::-1])):
        with zip_copy(files, tmp_path / name):
            assert not (tmp_path / name).exists()
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()
    assert names(tmp_path) == {"one.zip", "two.zip"}


def test_if_the_publication_fails_there_is_no_zip(tmp_path: Path) -> None:
    with pytest.raises(NotPublishedError), zip_copy(FILES, tmp_path / "copy.zip"):
        raise NotPublishedError("no")
    assert names(tmp_path) == set()


def test_on_a_full_disk_the_old_one_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with zip_copy(FILES[:1], tmp_path / "copy.zip"):
        pass
    before = (tmp_path / "copy.zip").read_bytes()

    def full(_: int) -> None:
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(NotPublishedError, match="zip"), zip_copy(FILES, tmp_path / "copy.zip"):
        pass
    assert (tmp_path / "copy.zip").read_bytes() == before
    assert names(tmp_path) == {"copy.zip"}
