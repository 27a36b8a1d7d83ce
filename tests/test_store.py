"""The store of kept results: the user's own, and never needed."""

from __future__ import annotations

import os
import stat
import sys
import time
from pathlib import Path

import pytest

from handbook.store import Store, key_of, user_store

own_rights = pytest.mark.skipif(
    sys.platform == "win32", reason="rights of files are another matter"
)


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache"


def kept_again(content: Path) -> object:
    """Keep a value for a content folder, and ask a new store, as in another process, for it."""
    user_store(content).put("key", ("value", 1))
    return user_store(content).get("key")


def test_a_value_is_kept_for_the_next_process(cache: Path, tmp_path: Path) -> None:
    assert kept_again(tmp_path / "content") == ("value", 1)
    assert user_store(tmp_path / "other").get("key") is None


@own_rights
def test_nobody_else_may_look_into_it(cache: Path, tmp_path: Path) -> None:
    kept_again(tmp_path)
    places = [path for path in (cache / "cycle-handbook").rglob("*") if path.is_dir()]
    assert places
    for place in (cache / "cycle-handbook", *places):
        assert stat.S_IMODE(place.stat().st_mode) == 0o700


@own_rights
@pytest.mark.parametrize("rights", [0o770, 0o707, 0o750])
@pytest.mark.parametrize("inner", [True, False])
def test_a_folder_that_others_may_enter_is_not_read(
    cache: Path, tmp_path: Path, rights: int, inner: bool
) -> None:
    """What is read there is unpickled, which can run any code."""
    assert kept_again(tmp_path) == ("value", 1)
    folder = cache / "cycle-handbook"
    (next(folder.iterdir()) if inner else folder).chmod(rights)
    assert user_store(tmp_path).get("key") is None
    assert kept_again(tmp_path) is None


@own_rights
def test_a_link_in_its_place_is_not_followed(cache: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir(mode=0o700)
    cache.mkdir()
    (cache / "cycle-handbook").symlink_to(tmp_path / "elsewhere")
    assert kept_again(tmp_path) is None
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_without_a_place_values_are_kept_in_memory(cache: Path, tmp_path: Path) -> None:
    cache.write_text("a file where the folder would be")
    store = user_store(tmp_path)
    store.put("key", 1)
    assert store.get("key") == 1


def test_a_value_of_another_key_is_not_taken_for_it(tmp_path: Path) -> None:
    Store(tmp_path).put("one", 1)
    (tmp_path / "one").rename(tmp_path / "two")
    assert Store(tmp_path).get("two") is None


def test_what_two_builds_did_not_use_is_dropped(tmp_path: Path) -> None:
    store = Store(tmp_path)
    for key in ("old", "new"):
        store.put(key, key)
    for _ in range(2):
        store.tidy()
        assert Store(tmp_path).get("old") == "old"
        store.using("new")
    store.tidy()
    assert {path.name for path in tmp_path.iterdir()} == {"new", "used"}


def test_keys_tell_apart_what_is_written_otherwise() -> None:
    keys = [
        key_of("a", "b"),
        key_of("ab"),
        key_of("a", ("b",)),
        key_of("a", b"b"),
        key_of(1),
        key_of("1"),
    ]
    assert len(set(keys)) == len(keys)


def begun(content: Path) -> Path:
    """Begin the store of a content folder, keep something in it, and give its folder."""
    content.mkdir(exist_ok=True)
    store = user_store(content)
    store.put(key_of(content), "kept")
    store.put(f"{key_of(content)}.rows", "kept")
    store.tidy()
    assert store._folder is not None
    return store._folder


def test_a_new_store_clears_those_away_whose_content_is_gone(cache: Path, tmp_path: Path) -> None:
    gone, there = begun(tmp_path / "gone"), begun(tmp_path / "there")
    (gone / f"{key_of(1)}.4711.part").write_bytes(b"cut off")
    (tmp_path / "gone").rmdir()
    begun(tmp_path / "there")
    assert gone.is_dir(), "an old store clears nothing away"
    begun(tmp_path / "new")
    assert not gone.exists()
    assert user_store(tmp_path / "there").get(key_of(tmp_path / "there")) == "kept"
    assert there.is_dir()


def test_a_store_unused_for_half_a_year_goes(cache: Path, tmp_path: Path) -> None:
    old, recent = begun(tmp_path / "old"), begun(tmp_path / "recent")
    (old / "content").unlink()  # as earlier versions left them
    for store, days in ((old, 181), (recent, 179)):
        then = time.time() - days * 24 * 60 * 60
        os.utime(store / "used", (then, then))
    begun(tmp_path / "new")
    assert not old.exists()
    assert recent.is_dir()


def test_nothing_that_is_not_the_handbook_s_is_cleared_away(cache: Path, tmp_path: Path) -> None:
    gone = begun(tmp_path / "gone")
    (tmp_path / "gone").rmdir()
    (gone / "mine.txt").write_text("mine")
    (tmp_path / "target").write_text("mine")
    (gone / key_of(2)).symlink_to(tmp_path / "target")
    elsewhere = begun(tmp_path / "elsewhere").rename(tmp_path / "moved")
    link = gone.with_name("0" * 32)
    link.symlink_to(elsewhere)
    for name in ("templates", "1" * 31, "mine"):
        (gone.parent / name).mkdir(mode=0o700)
        (gone.parent / name / "used").write_text("")
        os.utime(gone.parent / name / "used", (0, 0))
    (tmp_path / "elsewhere").rmdir()
    begun(tmp_path / "new")
    assert {path.name for path in gone.iterdir()} == {"mine.txt", key_of(2)}
    assert (tmp_path / "target").read_text() == "mine"
    assert len(list(elsewhere.iterdir())) == 4
    assert all((gone.parent / name / "used").exists() for name in ("templates", "1" * 31, "mine"))
