"""Facts of a plan, and what `handbook compare` tells of two.

Which facts there are follows from what families and students can act on; the changes
were written by hand from the edits.
"""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from click.testing import CliRunner

from handbook.cli.compare import command
from handbook.domain.facts import Fact, compare, without_parts
from handbook.domain.history import History, Publication
from handbook.ledger.codec import encode
from handbook.outputs.facts import facts_of
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from tests.content_folders import base_files, write_folder
from tests.plan.test_half_groups import with_groups

CONTENT = Path(__file__).parents[2] / "content"
CONCERT, CYCLE = "cycles/winter/concert.yaml", "cycles/winter/cycle.yaml"
YEAR, MUSIC = "years/2026-27.yaml", "cycles/winter/music.yaml"
_CLOCK = re.compile(r"\b\d{1,2}:\d\d\s(?:am|pm)\b")


def facts(plan: Plan | None) -> tuple[Fact, ...]:
    assert plan is not None
    return facts_of(Context(plan, plan.languages[0]))


@pytest.fixture(scope="module")
def demo() -> tuple[Fact, ...]:
    return facts(load_plan(CONTENT).plan)


def test_keys_are_unlike_and_made_of_ids(demo: tuple[Fact, ...]) -> None:
    keys = [fact.key for fact in demo]
    assert len(set(keys)) == len(keys)
    assert keys == sorted(keys)
    assert all(re.fullmatch(r"[a-z0-9/-]+", key) for key in keys)
    assert all(fact.value and fact.about for fact in demo)


def test_a_plan_is_unchanged_beside_itself(demo: tuple[Fact, ...]) -> None:
    assert compare(demo, facts(load_plan(CONTENT).plan)) == ()


def test_every_time_on_the_family_sheet_is_a_fact(demo: tuple[Fact, ...]) -> None:
    """What stands on the sheet that families act on, by the built page, is known as a fact."""
    from handbook.outputs.site import render_site  # noqa: PLC0415 - for this test alone

    plan = load_plan(CONTENT).plan
    assert plan is not None
    (page,) = (one for one in render_site(plan).pages if one.path == "winter-2026/concert/")
    sheet = page.body.partition('<dl class="sheet">')[2].partition("</dl>")[0]
    shown = set(_CLOCK.findall(re.sub(r"<[^>]*>", " ", sheet)))
    assert shown
    known = " ".join(fact.value for fact in demo if fact.key.startswith("winter-2026/concert/"))
    assert shown - set(_CLOCK.findall(known)) == set()


def test_nothing_private_is_a_fact(tmp_path: Path) -> None:
    files = dict(base_files())
    for name, text in files.items():
        if name.endswith(".yaml"):
            files[name] = f"private: Locker 12, ask the nurse\n{text}"
    said = " ".join(one.sentence for one in facts(load_plan(write_folder(tmp_path, files)).plan))
    assert "nurse" not in said
    assert "Locker" not in said


def changed(folder: Path, file: str, old: str, new: str) -> list[str]:
    files = dict(base_files())
    assert old in files[file]
    before = facts(load_plan(write_folder(folder / "old", files)).plan)
    files[file] = files[file].replace(old, new, 1)
    after = facts(load_plan(write_folder(folder / "new", files)).plan)
    return [one.sentence for one in without_parts(compare(before, after))]


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        (CONCERT, "7:00 pm", "7:30 pm", ["Winter concert: now Thu, Dec 10, 7:30 pm, before Thu, Dec 10, 7:00 pm"]),
        (CONCERT, "program:", "attire: [White shirt]\nprogram:", ["New: Winter concert, wear: White shirt"]),
        (MUSIC, "title: Tweed Kites", "title: Kites of Tweed", ["Winter concert, program: now Harbor Band (Kites of Tweed), then Lantern Band (Button Comets), before Harbor Band (Tweed Kites), then Lantern Band (Button Comets)", "Harbor Band, music: now Kites of Tweed, before Tweed Kites"]),
        (YEAR, "closures:", "closures:\n  - {name: Snow day, date: Sun 2026-12-06}", ["New: Sun, Dec 6: No school: Snow day"]),
    ],
)  # fmt: skip
def test_an_edit_is_told_in_a_sentence(
    file: str, old: str, new: str, told: list[str], tmp_path: Path
) -> None:
    assert changed(tmp_path, file, old, new) == told


def test_an_extra_rehearsal_stays_itself_when_class_that_day_is_lost(tmp_path: Path) -> None:
    files = dict(base_files())
    files[CYCLE] += "extra:\n  - {ensemble: lantern, date: 2026-12-07, start: 6 pm, end: 7 pm}\n"
    before = facts(load_plan(write_folder(tmp_path / "old", files)).plan)
    files[CYCLE] += "cancelled:\n  - {ensemble: lantern, date: 2026-12-07, why: Trip}\n"
    after = facts(load_plan(write_folder(tmp_path / "new", files)).plan)
    days = [one.sentence for one in without_parts(compare(before, after)) if "rehearsal" in one.key]
    assert days == ["No longer: Lantern Band, rehearsal on Mon, Dec 7: 10:05–10:50 am"]


def test_a_concert_is_told_to_all_groups_of_its_bands(tmp_path: Path) -> None:
    found = facts(load_plan(write_folder(tmp_path, with_groups())).plan)
    (when,) = (one for one in found if one.key == "winter/concert/concert")
    assert set(when.readers) == {"lantern-brass", "lantern-winds", "harbor"}


def test_the_command_tells_each_reader(tmp_path: Path) -> None:
    files = dict(base_files())
    old = write_folder(tmp_path / "old", files)
    files[YEAR] = files[YEAR].replace(
        "closures:", "closures:\n  - {name: Snow day, date: Mon 2026-12-07, told: 2026-12-07}"
    )
    new = write_folder(tmp_path / "new", files)
    result = CliRunner().invoke(command, [str(old), str(new)], standalone_mode=False)
    assert result.return_value == 0
    assert "For everyone\n  New: Mon, Dec 7: No school: Snow day\n" in result.output
    lost = "For Lantern Band\n  No longer: rehearsal on Mon, Dec 7: 10:05–10:50 am\n"
    assert lost in result.output
    assert "For Harbor Band" not in result.output
    told = CliRunner().invoke(command, [str(old), str(new), "--json"], standalone_mode=False)
    data = json.loads(told.output)
    assert data["format"] == 1
    assert data["changes"][0]["after"] == "No school: Snow day"


def published(content: Path, *, undone: bool = False) -> Path:
    """Write the ledger of two publications, the second of the facts as they are, perhaps taken back."""
    instant = datetime(2026, 11, 21, 2, 30, tzinfo=UTC)
    numbers = (Publication(1, instant, "a" * 64), Publication(2, instant, "b" * 64, undone=undone))
    history = History(numbers, facts(load_plan(content).plan))
    ledger = content / ".published" / "ledger.json"
    ledger.parent.mkdir(exist_ok=True)
    ledger.write_bytes(encode(history))
    return content


def test_without_an_older_folder_it_is_the_last_publication(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The instant is November 20, 8:30 pm, where the bands are (Central Time, UTC-6)."""
    content = published(write_folder(tmp_path / "content", base_files()))
    monkeypatch.chdir(tmp_path)
    year = content / YEAR
    year.write_text(
        year.read_text().replace("closures:", "closures:\n  - {name: Fog, date: Sun 2026-12-06}")
    )
    told = (
        "Since publication 2, of Nov 20, 2026:\n\n"
        "For everyone\n  New: Sun, Dec 6: No school: Fog\n\n1 change. Nothing was written.\n"
    )
    for arguments in ([], ["content"]):  # the nearest folder is no other one
        result = CliRunner().invoke(command, arguments, standalone_mode=False)
        assert result.stdout == told
    data = json.loads(
        CliRunner().invoke(command, ["content", "--json"], standalone_mode=False).stdout
    )
    assert data["since"] == {"number": 2, "instant": "2026-11-21T02:30:00Z"}
    assert [one["after"] for one in data["changes"]] == ["No school: Fog"]
    write_folder(tmp_path / "copy", base_files())
    result = CliRunner().invoke(command, ["content"], standalone_mode=False)
    assert result.stdout == told  # of several folders the one that is named is the one as it is
    result = CliRunner().invoke(command, ["copy", "content"], standalone_mode=False)
    assert result.stdout == told.partition("\n\n")[2]


def test_what_was_taken_back_is_no_publication_to_compare_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    content = published(write_folder(tmp_path, base_files()), undone=True)
    result = CliRunner().invoke(command, [str(content)], standalone_mode=False)
    assert result.stdout.startswith("Since publication 1, of ")


def test_nothing_was_published_yet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    content = str(write_folder(tmp_path, base_files()))
    result = CliRunner().invoke(command, [content], standalone_mode=False)
    assert result.return_value == 0
    assert result.stdout.startswith("Nothing has been published yet, so all of it would be new")
    data = json.loads(
        CliRunner().invoke(command, [content, "--json"], standalone_mode=False).stdout
    )
    assert data["since"] is None
    assert {one["kind"] for one in data["changes"]} == {"added"}


def test_a_ledger_that_cannot_be_read_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    content = write_folder(tmp_path, {**base_files(), ".published/ledger.json": "{"})
    result = CliRunner().invoke(command, [str(content)], standalone_mode=False)
    assert result.return_value == 1
    assert "damaged-ledger" in result.stderr


def test_the_command_says_that_nothing_changes(tmp_path: Path) -> None:
    old = write_folder(tmp_path / "old", base_files())
    result = CliRunner().invoke(command, [str(old), str(old)], standalone_mode=False)
    assert result.output == "Nothing changes for anyone.\n"


def test_a_folder_with_an_error_is_told(tmp_path: Path) -> None:
    files = base_files()
    old = write_folder(tmp_path / "old", files | {CONCERT: files[CONCERT].replace("hall", "hal")})
    new = write_folder(tmp_path / "new", files)
    result = CliRunner().invoke(command, [str(old), str(new)], standalone_mode=False)
    assert result.return_value == 1
    assert "unknown-venue" in result.stderr


def test_who_is_away_and_who_plays_what_are_facts(tmp_path: Path) -> None:
    files = {
        **base_files(),
        "events.yaml": "events:\n  - {id: fit, name: Fitting, date: Wed 2026-11-04, starts: 10 am, ends: 11 am, who: [lantern], players: [trumpet]}\n"
        "  - {id: forms, name: Forms, due: Fri 2026-11-06, bring: [The form]}\n"
        "  - {id: coats, name: Coats, due: Fri 2026-11-06, bring: [A coat], cancelled: Not needed}\n",
    }
    files["program.yaml"] = files["program.yaml"].replace(
        "trumpet: 7}", "trumpet: 7, snare-drum: 1}"
    )
    files[MUSIC] = files[MUSIC].replace(
        "    title: Button Comets\n",
        "    title: Button Comets\n    percussion: {1: [snare-drum]}\n",
    )
    told = {one.key: one.sentence for one in facts(load_plan(write_folder(tmp_path, files)).plan)}
    assert told["winter/lantern/rehearsal/2026-11-04/away/fit"] == (
        "Lantern Band, rehearsal on Wed, Nov 4, away: Trumpet: Fitting, 10:00–11:00 am"
    )
    assert told["winter/lantern/piece/button-comets/percussion-players"] == (
        "Button Comets, who plays what in percussion: 1 snare drum"
    )
    assert told["event/forms"] == "Forms: due Fri, Nov 6"
    assert told["event/forms/bring"] == "Forms, bring: The form"
    assert told["event/coats"] == "Coats: cancelled: Not needed"
    assert "event/coats/bring" not in told
