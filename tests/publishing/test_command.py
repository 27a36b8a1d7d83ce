"""`handbook publish` as a director types it: what is told, what stands afterwards, what is refused."""

from __future__ import annotations

import json
import re
import shutil
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from handbook.cli import publish_site
from handbook.cli.main import main
from handbook.ledger import read_ledger
from handbook.publishing import publish
from handbook.publishing.manifest import BINDER
from handbook.publishing.zip_copy import from_disk
from tests.content_folders import base_files, write_folder
from tests.published_sites import NEW, snapshot
from tests.publishing.numbered import names

CONCERT = "cycles/winter/concert.yaml"
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(
    tmp_path_factory: pytest.TempPathFactory,
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> Run:
    """Run a command in a folder with the content, without a terminal."""
    work = tmp_path_factory.mktemp("work")
    monkeypatch.chdir(work)
    write_folder(work / "content", base_files())

    def command(*arguments: object) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as ended:
            main([str(argument) for argument in arguments])
        out, err = capfd.readouterr()
        assert isinstance(ended.value.code, int)
        return ended.value.code, out, err

    return command


def edit(old: str, new: str, name: str = CONCERT) -> None:
    file = Path("content") / name
    text = file.read_text("utf-8")
    assert old in text
    file.write_text(text.replace(old, new), "utf-8")


def site() -> dict[str, bytes]:
    found = snapshot(Path("published"))
    found.pop(".handbook-site")
    return found


def at(monkeypatch: pytest.MonkeyPatch, moment: datetime) -> None:
    """Let the computer's clock say a moment."""
    monkeypatch.setattr(publish_site, "now", lambda: moment)


def test_the_story_of_a_late_change(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    at(monkeypatch, datetime(2026, 11, 20, 18, 3, tzinfo=UTC))
    code, out, _ = run("publish", "content", "--yes")
    assert code == 0
    assert out.startswith("This is the first publication: ")
    first = site()

    # America/Chicago is six hours behind UTC in November (Central Standard Time).
    code, out, _ = run("publish", "content", "--yes")
    assert (code, out) == (
        0,
        "Nothing has changed since publication 1 of Nov 20, 2026, 12:03 pm.\n",
    )

    at(monkeypatch, datetime(2026, 12, 1, 15, 0, tzinfo=UTC))
    edit("7:00 pm", "7:30 pm")
    code, out, err = run("publish", "content", "--json")
    assert (code, out) == (2, "")
    assert "For Lantern Band" in err
    code, out, _ = run("publish", "content", "--yes", "--zip", "copy.zip")
    assert code == 0
    assert out.startswith("Since publication 1 of Nov 20, 2026, 12:03 pm:\n\nFor Lantern Band")
    assert "  Winter concert: now Thu, Dec 10, 7:30 pm, before Thu, Dec 10, 7:00 pm\n" in out
    assert re.search(r"\nPublication 2, \d+ pages in [\d.]+ s: published\n", out)
    second = site()
    history = read_ledger(Path("content")).history
    assert [one.number for one in history.publications] == [1, 2]
    assert history.program == "Quillhaven Bands"
    changed = {path for path, page in history.pages.items() if page.changed.month == 12}
    assert "winter/concert/" in changed
    assert "families/attendance/" not in changed
    assert {record.sequence for record in history.events.values()} == {0, 1}

    # A build of the same content tells the same history, so it is the same bytes.
    assert run("build", "content", "--site", "site")[0] == 0
    built = snapshot(Path("site"))
    built.pop(".handbook-site")
    assert built == second
    _check_zip(Path("copy.zip"), second)

    edit("Winter concert", "]")  # going back needs no content that is whole
    code, out, _ = run("publish", "--undo", "content", "--yes")
    assert code == 0
    assert out.startswith(
        "Publication 2 is taken back.\n"
        "published is as publication 1 of Nov 20, 2026, 12:03 pm left it.\n"
    )
    assert site() == first
    history = read_ledger(Path("content")).history
    assert [one.undone for one in history.publications] == [False, True]
    assert {record.sequence for record in history.events.values()} == {0, 1}
    code, _, err = run("publish", "--undo", "content", "--yes")
    assert code == 1
    assert "there is nothing to go back to" in err

    # Back as it was before: a third publication, in which nothing is new, but calendars count on.
    edit("name: ]", "name: Winter concert")
    edit("7:30 pm", "7:00 pm")
    code, out, err = run("publish", "content", "--yes", "--json")
    assert code == 0
    assert "Nothing changes for anyone." in err
    assert "Publication 3, " in err
    assert json.loads(out) == {
        "format": 1,
        "publication": 3,
        "instant": "2026-12-01T15:00:01+00:00",
        "folder": "published",
        "zip": None,
        "pages": {"changed": 0, "new": 0, "gone": 0},
        "changes": [],
    }
    history = read_ledger(Path("content")).history
    assert {record.sequence for record in history.events.values()} == {0, 2}


def _check_zip(path: Path, files: dict[str, bytes]) -> None:
    with zipfile.ZipFile(path) as found:
        held = {name.removeprefix("handbook/"): found.read(name) for name in found.namelist()}
        assert {info.date_time for info in found.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    held.pop("READ-ME-FIRST.txt")
    assert held.keys() == files.keys() - {"404.html", "sitemap.xml"}
    for name, content in held.items():
        assert content == (from_disk(files[name]) if name.endswith(".html") else files[name])
        if name.endswith(".html"):
            assert not re.search(rb' href="(?!https?:)[^"#?:]*/["#?]', content), name


def test_what_is_not_as_it_was_left_is_told_and_refused(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    moment = datetime(2026, 11, 20, 18, 3, tzinfo=UTC)
    at(monkeypatch, moment)
    assert run("publish", "content", "--yes")[0] == 0
    before = site()

    at(monkeypatch, moment - timedelta(days=17))
    edit("name: Quillhaven Bands", "name: Fernbrook Bands", "program.yaml")
    home = Path("published/index.html")
    home.unlink()
    home.write_text("<p>By hand</p>", "utf-8")
    code, out, err = run("publish", "content", "--yes")
    assert (code, out) == (1, "")
    assert "this computer's clock says Tue, Nov 3, 2026, " in err
    assert "another program: Quillhaven Bands, and now it is Fernbrook Bands" in err
    assert "files in published were changed since they were put there\n  index.html\n" in err
    assert home.read_text("utf-8") == "<p>By hand</p>"
    assert names(Path("content/.published")) == {"ledger.json"}

    code, out, err = run("publish", "content", "--yes", "--anyway")
    assert code == 0
    history = read_ledger(Path("content")).history
    assert [one.instant for one in history.publications] == [moment, moment + timedelta(seconds=1)]
    assert run("publish", "--undo", "content", "--yes")[0] == 0
    assert site() == before | {"index.html": b"<p>By hand</p>"}


def test_a_ledger_that_cannot_be_read_stops_and_its_copy_mends_it(run: Run) -> None:
    assert run("publish", "content", "--yes")[0] == 0
    ledger = Path("content/.published/ledger.json")
    known = read_ledger(Path("content")).history
    ledger.write_bytes(ledger.read_bytes()[:400])
    before = site()
    code, out, err = run("publish", "content", "--yes")
    assert (code, out) == (1, "")
    assert "it breaks off or was changed here" in err
    copy = re.search(
        r"a copy lies beside the published site: (\S+); put it in the place of (\S+)", err
    )
    assert copy
    code, _, err = run("publish", "--undo", "content", "--yes")
    assert code == 1
    assert "a copy lies beside the published site" in err
    assert site() == before
    code, out, err = run("build", "content")  # which goes on without
    assert code == 0
    assert out.endswith("(1 warning: `handbook check` shows them)\n")
    shutil.copyfile(copy[1], copy[2])
    assert read_ledger(Path("content")).history == known
    assert "Nothing has changed" in run("publish", "content", "--yes")[1]


def test_a_ledger_that_is_lost_stops_and_its_copy_mends_it(run: Run) -> None:
    assert run("publish", "content", "--yes")[0] == 0
    shutil.rmtree("content/.published")
    edit("name: Winter concert", "name: Winter concert\nabout: Doors open late", CONCERT)
    before = site()
    code, out, err = run("publish", "content", "--yes")
    assert (code, out) == (1, "")
    assert "publication 1 was made here, and the content folder does not remember it" in err
    copy = re.search(r"put (\S+) in the place of (\S+)\.\n", err)
    code, out, _ = run("check", "content")
    assert code == 0
    assert "will stop: publication 1 was made here" in out
    assert copy
    assert copy[0] in out
    assert site() == before
    assert not Path("content/.published").exists()

    other = Path(copy[1]).rename("copy-elsewhere.json")  # the site itself says its number
    code, _, err = run("publish", "content", "--yes")
    assert code == 1
    assert "in published stands publication 1, and the content folder does not remember it" in err

    Path(copy[2]).parent.mkdir()
    shutil.copyfile(other, copy[2])
    assert "will stop" not in run("check", "content")[1]
    assert "Publication 2, " in run("publish", "content", "--yes")[1]


def test_the_site_of_another_program_is_not_replaced(run: Run) -> None:
    assert run("publish", "content", "--yes")[0] == 0
    shutil.rmtree("content/.published")
    edit("name: Quillhaven Bands", "name: Fernbrook Bands", "program.yaml")
    before = site()
    code, _, err = run("publish", "content", "--yes")
    assert code == 1
    assert "in published stands the site of another program: Quillhaven Bands" in err
    assert site() == before
    assert not Path("content/.published").exists()


def test_without_anybody_to_answer_nothing_is_published(run: Run) -> None:
    code, out, err = run("publish", "content")  # but what it would change is shown
    assert code == 2
    assert out.startswith("This is the first publication: ")
    assert err == (
        "handbook: Publish to published? Nobody is here to answer: say --yes if it is to be done\n"
    )
    assert names(Path()) == {"content"}


def test_a_zip_takes_no_place_that_is_anothers(run: Run) -> None:
    Path("notes.zip").write_bytes(b"mine")
    write_folder(Path("mine"), {BINDER.name: f"{BINDER.first_line}\n", "in/stand.html": ""})
    taken = ("notes.zip", "content/copy.zip", "published/copy.zip", "nowhere/copy.zip")
    for place in (*taken, "mine/copy.zip", "mine/in/copy.zip"):
        code, out, err = run("publish", "content", "--yes", "--zip", place)
        assert (code, out) == (2, ""), place
        assert "zip" in err
    assert Path("notes.zip").read_bytes() == b"mine"
    assert names(Path()) == {"content", "notes.zip", "mine"}
    assert names(Path("mine")) == {BINDER.name, "in"}


def test_what_should_not_be_public_stops_it(run: Run) -> None:
    edit("name: Winter concert", "name: Winter concert\nabout: Call Robin at 555-0142", CONCERT)
    code, out, err = run("publish", "content", "--yes")
    assert (code, out) == (1, "")
    assert "555-0142" in err
    assert "nothing was published" in err
    assert names(Path()) == {"content"}


def test_strangers_in_the_folder_are_told_before_anything_is_made(run: Run) -> None:
    publish(NEW, Path("published"), content=Path("content"))
    Path("published/CNAME").write_text("bands.example.org")
    code, _, err = run("publish", "content", "--yes")
    assert code == 2
    assert "CNAME" in err
    assert "host_files" in err


def test_the_ledger_is_text_that_git_can_compare(run: Run) -> None:
    assert run("publish", "content", "--yes")[0] == 0
    raw = Path("content/.published/ledger.json").read_text("utf-8")
    assert json.loads(raw)["format"] == 2
    assert max(map(len, raw.splitlines())) < 2000


CYCLE, YEAR = "cycles/winter/cycle.yaml", "years/2026-27.yaml"
LOSSES = {
    # Lantern Band meets on Mondays, Harbor Band on Tuesdays; what is lost, its file, its line's text.
    "closure": (YEAR, "closures:\n  - {name: Burst pipe, date: 2026-11-16}\n"),
    "cancelled": (CYCLE, "cancelled:\n  - {ensemble: lantern, date: 2026-11-16, why: The room}\n"),
    "moved": (
        CYCLE,
        "extra:\n  - {ensemble: lantern, date: 2026-11-17, start: 4 pm, end: 5 pm, instead_of: 2026-11-16}\n",
    ),
}


@pytest.mark.parametrize(("file", "lines"), LOSSES.values(), ids=LOSSES)
def test_a_loss_without_its_day_is_told_where_it_plans_anew_what_was_said(
    file: str, lines: str, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    at(monkeypatch, datetime(2026, 11, 20, 18, 3, tzinfo=UTC))
    assert run("publish", "content", "--yes")[0] == 0
    whole = Path("content", file)
    before = whole.read_text("utf-8")
    field = lines.partition("\n")[0] + "\n"
    old = before if field in before else before + field
    changed = old.replace(field, lines)
    whole.write_text(changed, "utf-8")
    line = changed[: changed.index(lines)].count("\n") + 2
    told = f"{file}:{line}: `told:` with the day on which this became known keeps "
    assert told in run("compare", "content")[1]
    dated = lines.replace("2026-11-16", "2026-11-16, told: 2026-11-16", 1)
    whole.write_text(changed.replace(lines, dated), "utf-8")
    assert "`told:`" not in run("compare", "content")[1]
    whole.write_text(changed, "utf-8")
    at(monkeypatch, datetime(2026, 11, 21, 18, 3, tzinfo=UTC))
    assert told in run("publish", "content", "--yes")[1]


def test_a_loss_before_which_nothing_was_rehearsed_needs_no_day(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Published on October 12, the cycle begins on Monday, October 19."""
    at(monkeypatch, datetime(2026, 10, 12, 18, 3, tzinfo=UTC))
    assert run("publish", "content", "--yes")[0] == 0
    with Path("content", CYCLE).open("a") as file:
        file.write("cancelled:\n  - {ensemble: lantern, date: 2026-11-16, why: The room}\n")
    out = run("compare", "content")[1]
    assert "2026-11-16" in out or "Nov 16" in out
    assert "`told:`" not in out
