"""A site made of kept results has the bytes of one made anew, and says as much of its content."""

from __future__ import annotations

import hashlib
import os
import random
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from handbook.checks.texts import LACKING
from handbook.engines.model import facts_of
from handbook.engines.plain import PlainEngine
from handbook.making import media
from handbook.making.model import FinishedSite
from handbook.pipeline import Outcome, load_plan, render
from handbook.problems import Severity
from handbook.publishing import NotPublishedError, publish, with_sitemap
from handbook.store import Store
from tests.demo import DEMO, demo_plan, whole_demo_site
from tests.making.edits import EDITS, edited, made, made_or_stopped, write_anew
from tests.test_broken import BROKEN, CASES, broken_folder

WITH_WARNINGS = [
    code
    for code in CASES
    if "error" not in (BROKEN / code / "expected.txt").read_text("utf-8").split("\n")[-2]
]
Answer = tuple[object, ...]


def answer(content: Path, store: Store) -> Answer:
    """Give all that can be seen of a made site: its files, or why there is none."""
    try:
        site = made_or_stopped(content, store)
    except NotPublishedError as refused:
        return str(refused), refused.findings
    if isinstance(site, Outcome):
        return (site.problems,)
    return bytes_of(site), site.pages, site.warnings, site.address


def bytes_of(site: FinishedSite) -> Mapping[str, bytes]:
    contents = {file.path: file.read() for file in site.files}
    for file in site.files:
        assert hashlib.sha256(contents[file.path]).hexdigest() == file.digest, file.path
    return contents


@cache
def clean(edits: frozenset[str]) -> Answer:
    with TemporaryDirectory() as folder:
        write_anew(Path(folder), edited(edits))
        return answer(Path(folder), Store())


@pytest.mark.parametrize("content", [DEMO, Path(__file__).parents[1] / "sites/one-band/content"])
def test_it_is_the_site_of_the_whole_plan(content: Path) -> None:
    plan = demo_plan() if content == DEMO else load_plan(content).plan
    assert plan is not None
    facts = facts_of(plan)
    rendered = whole_demo_site() if content == DEMO else render(plan)
    site = with_sitemap(rendered, facts.address)
    expected = {
        **PlainEngine().finish(site.pages, facts),
        **{file.path: file.content for file in site.files},
        **{f"media/{name}": (content / "media" / name).read_bytes() for name in site.media},
    }
    found = made(content, Store())
    assert bytes_of(found) == expected
    assert found.pages == sum(path.endswith("index.html") for path in expected)
    assert found.address == facts.address


def test_languages_with_the_same_words_have_files_of_their_own(tmp_path: Path) -> None:
    """Two that the handbook has no words in: their rows for search and their data are the same."""
    files = edited({"an event"})
    program = files["program.yaml"].replace(b"rooms:\n", b"languages: [en, fi, et]\nrooms:\n")
    write_anew(tmp_path, {**files, "program.yaml": program})
    plan = load_plan(tmp_path).plan
    assert plan is not None
    site = render(plan)
    expected = {
        **PlainEngine().finish(site.pages, facts_of(plan)),
        **{file.path: file.content for file in site.files},
    }
    assert bytes_of(made(tmp_path, Store())) == expected


def test_each_edit_is_seen(tmp_path: Path) -> None:
    """So that the sequences below have something to find; a file nobody reads changes no page."""
    unseen = {name for name in EDITS if clean(frozenset({name})) == clean(frozenset())}
    assert unseen == {"another sound", "a log of a draft", "another day of it"}
    stopped = {name for name in EDITS if len(clean(frozenset({name}))) == 1}
    assert stopped == {
        *("a term without meaning", "a room used twice", "shared days", "no YAML"),
        "a broken link",
    }


@pytest.mark.parametrize("code", WITH_WARNINGS)
def test_as_many_warnings_are_counted_as_checking_tells(code: str, tmp_path: Path) -> None:
    outcome = load_plan(broken_folder(code, tmp_path))
    site = made(tmp_path, Store())
    warned = [one for one in outcome.problems if one.severity is Severity.WARNING]
    told = [one for one in warned if one.code != LACKING]  # of that check has a line of its own
    assert site.warnings == len(told)
    assert warned


def test_an_error_is_told_as_checking_tells_it(tmp_path: Path) -> None:
    outcome = load_plan(broken_folder("unknown-strand", tmp_path))
    stopped = made_or_stopped(tmp_path, Store())
    assert isinstance(stopped, Outcome)
    assert stopped.problems == outcome.problems


def _follow(steps: list[tuple[str, bool]]) -> None:
    """Make one site after another; a step with True begins with what is on the disk alone."""
    with TemporaryDirectory() as name:
        content, kept = Path(name) / "content", Path(name) / "store"
        content.mkdir()
        kept.mkdir()
        store, edits = Store(kept), set[str]()
        for edit, anew in steps:
            edits ^= {edit}
            write_anew(content, edited(edits))
            store = Store(kept) if anew else store
            assert answer(content, store) == clean(frozenset(edits)), sorted(edits)


_STEPS = st.tuples(st.sampled_from(list(EDITS)), st.booleans())


@settings(
    max_examples=2,
    deadline=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
@given(st.lists(_STEPS, min_size=4, max_size=6))
def test_edits_made_and_undone_give_the_bytes_of_a_clean_build(
    steps: list[tuple[str, bool]],
) -> None:
    _follow(steps)


def test_events_made_changed_and_undone_give_the_bytes_of_a_clean_build() -> None:
    """The first page, the calendar, the menu and a band's own pages have them; rehearsals follow."""
    _follow(
        [
            ("a page", False),
            ("a later event", False),
            ("an event in class", False),
            ("a later event", True),
            ("an event in class", False),
        ]
    )


def test_the_program_of_a_concert_follows_the_next_one_in_a_later_cycle() -> None:
    _follow([("a spring concert", False), ("another day of it", True)])
    winter = {path: raw for path, raw in clean(frozenset({"a spring concert"}))[0].items()  # type: ignore[attr-defined]
              if path == "winter/concert/index.html"}  # fmt: skip
    (page,) = winter.values()
    assert "Spring concert</b><br>Thu, Mar 25" in page.decode()


def test_logs_made_changed_and_undone_give_the_bytes_of_a_clean_build() -> None:
    """A band's pages, the first page and those of the cycle follow from what was reached."""
    _follow(
        [
            ("a log", False),
            ("another tempo in that log", False),
            ("another tempo in that log", True),
        ]
    )


def test_languages_added_and_taken_away_give_the_bytes_of_a_clean_build() -> None:
    """Each language has batches of its own; the frame of all pages names them all."""
    _follow(
        [
            ("a page", False),
            ("a second language", False),
            ("a page in Spanish", True),
            ("a name in Spanish", False),
            ("a goal", False),
            ("a second language", True),
        ]
    )


@pytest.mark.weekly
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(_STEPS, min_size=1, max_size=20))
def test_many_edits_made_and_undone_give_the_bytes_of_a_clean_build(
    steps: list[tuple[str, bool]],
) -> None:
    _follow(steps)


def _spoil(store: Path, how: str) -> None:
    files = sorted(store.iterdir())
    contents = [file.read_bytes() for file in files]
    for number, (file, raw) in enumerate(zip(files, contents, strict=True)):
        if how == "half gone" and number % 2:
            file.unlink()
        elif how == "cut":
            file.write_bytes(raw[: len(raw) // 2])
        elif how == "empty":
            file.write_bytes(b"")
        elif how == "one bit":
            place = random.Random(number).randrange(len(raw))
            file.write_bytes(raw[:place] + bytes([raw[place] ^ 1]) + raw[place + 1 :])
        elif how == "changed places":
            file.write_bytes(contents[number - 1])


@pytest.mark.parametrize("how", ["half gone", "cut", "empty", "one bit", "changed places"])
@pytest.mark.parametrize("edit", [None, "a goal"])
def test_a_spoilt_store_changes_no_byte(how: str, edit: str | None, tmp_path: Path) -> None:
    content, kept = tmp_path / "content", tmp_path / "store"
    kept.mkdir()
    write_anew(content, edited(()))
    made(content, Store(kept))
    edits = frozenset({edit} if edit else ())
    write_anew(content, edited(edits))
    _spoil(kept, how)
    assert answer(content, Store(kept)) == clean(edits)


def test_a_store_of_another_version_is_not_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content, kept = tmp_path / "content", tmp_path / "store"
    kept.mkdir()
    write_anew(content, edited(()))
    made(content, Store(kept))
    before = {file.name for file in kept.iterdir()}
    monkeypatch.setattr("handbook.making.kept_site.program_digest", lambda: "another")
    assert answer(content, Store(kept)) == clean(frozenset())
    made_anew = {file.name for file in kept.iterdir()} - before
    assert len(made_anew) >= len(before) - 1  # all but the note of what was used


def test_what_no_build_uses_is_not_kept(tmp_path: Path) -> None:
    content, kept = tmp_path / "content", tmp_path / "store"
    kept.mkdir()
    sizes = []
    for edits in ((), ("a goal",), ("a goal in spring",), ("an exercise",), ()) * 2:
        write_anew(content, edited(edits))
        made(content, Store(kept))
        sizes.append(len(list(kept.iterdir())))
    assert max(sizes) <= 2 * sizes[0]
    assert sizes[-1] <= sizes[4]


def test_a_sound_changed_in_the_same_moment_is_seen(tmp_path: Path) -> None:
    """Two files of one size, one after the other, within a tick of the clock."""
    content, store = tmp_path, Store()
    write_anew(content, edited({"a recording"}))
    sound = content / "media" / "mill.wav"
    moment = sound.stat().st_mtime_ns
    first = made(content, store)
    sound.write_bytes(sound.read_bytes()[:-1] + b"\1")
    os.utime(sound, ns=(moment, moment))
    second = made(content, store)
    digests = [{file.path: file.digest for file in one.files} for one in (first, second)]
    assert digests[0]["media/mill.wav"] != digests[1]["media/mill.wav"]
    assert media.known_media(content / "media", [], store) == {}


@pytest.mark.parametrize("edits", [(), ("a goal",)])
def test_what_a_site_has_lost_is_put_back(edits: tuple[str, ...], tmp_path: Path) -> None:
    """Its bytes are not in the store: they are made anew."""
    content, kept, target = tmp_path / "content", tmp_path / "store", tmp_path / "site"
    kept.mkdir()
    write_anew(content, edited(()))
    publish(made(content, Store(kept)).files, target, content=content)
    (target / "winter" / "harbor" / "index.html").unlink()
    (target / "calendar" / "index.html").write_text("spoilt")
    (target / "assets" / "handbook.css").unlink()
    write_anew(content, edited(edits))
    publish(made(content, Store(kept)).files, target, content=content)
    expected = clean(frozenset(edits))[0]
    assert isinstance(expected, dict)
    assert {name: (target / name).read_bytes() for name in expected} == expected
