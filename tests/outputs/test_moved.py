"""What is moved, cancelled or made up, from the file to the pages, the data and the plan.

Expected words and dates were written by hand from the edits: what families need to know of a
move is the trade's (common practice, no source). The states of an event's data are those of
schema.org (eventStatus, previousStartDate).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from functools import reduce
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from handbook.cli.plan import command
from handbook.domain.facts import (
    ChangeKind,
    Fact,
    FactChange,
    Topic,
    compare,
    compose,
    without_parts,
)
from handbook.outputs.components.today_data import today_script
from handbook.outputs.facts import facts_of
from handbook.outputs.facts.telling import change_words, fact_words
from handbook.outputs.page import Context
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.concerts import page
from tests.outputs.test_events import data_of, words_of

CONCERT, CYCLE, YEAR = (
    "cycles/winter/concert.yaml",
    "cycles/winter/cycle.yaml",
    "years/2026-27.yaml",
)
CREW, SHEET = "winter/concert/crew/", "winter/concert/"
ALLOWANCES = "allowances: {unpack: 5, warm_up: 20, walk: 5, in_place: 5, walk_back: 5, pack: 10}\n"


def concert(lines: str, *, day: str = "Thu 2026-12-10") -> dict[str, str]:
    """Give the base with a concert that has calls, clothes and a crew, and more lines."""
    more = f"attire: [White shirt]\nbring: [Music]\ndoors: 6:30 pm\n{ALLOWANCES}{lines}program:"
    files = changed(base_files(), CONCERT, "program:", more)
    return changed(files, CONCERT, "Thu 2026-12-10", day)


def plan_of(folder: Path, files: dict[str, str]) -> Plan:
    outcome = load_plan(write_folder(folder, files))
    assert outcome.plan is not None, outcome.problems
    return outcome.plan


def facts(plan: Plan) -> tuple[Fact, ...]:
    return facts_of(plan)


def codes(folder: Path, files: dict[str, str]) -> list[str]:
    return [one.code for one in load_plan(write_folder(folder, files)).problems]


def sentences(before: Plan, after: Plan) -> list[str]:
    return [change_words(one) for one in without_parts(compare(facts(before), facts(after)))]


@pytest.fixture(scope="module")
def held(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    return plan_of(tmp_path_factory.mktemp("held"), concert(""))


def test_a_cancelled_concert_keeps_its_page_and_takes_its_times_away(
    held: Plan, tmp_path: Path
) -> None:
    about = "about: Everyone is welcome.\n"
    off = plan_of(tmp_path, concert(f"{about}cancelled: The heating of the hall is out.\n"))
    told = words_of(off, SHEET)
    assert "Cancelled: The heating of the hall is out." in told
    assert "It was to be on Thursday, December 10, 2026 , Great Hall." in told
    assert "What was to be played" in told
    assert "Tweed Kites" in told
    assert "of music" in words_of(held, SHEET)
    for invites in ("welcome", "of music", "Program"):
        assert invites not in told
    assert "description" not in data_of(off, SHEET)
    for words in ("7:00 pm", "6:30 pm", "White shirt", "Ready in the room"):
        assert words in words_of(held, SHEET)
        assert words not in told
    crew = words_of(off, CREW)
    assert "Cancelled: The heating of the hall is out. There is nothing to set up" in crew
    assert "7:00 pm" in words_of(held, CREW)
    assert "Run of show" not in crew
    assert "Thu, Dec 10 Cancelled: Winter concert" in words_of(off, "calendar/")
    for path in ("", "winter/", "winter/lantern/"):
        assert "Winter concert" in words_of(off, path)
        assert "cancelled" in words_of(off, path)
        assert "7:00 pm" in words_of(held, path)
        assert "7:00 pm" not in words_of(off, path)


def test_search_finds_what_is_cancelled_or_moved_and_no_hour_of_it(tmp_path: Path) -> None:
    off = plan_of(tmp_path / "off", concert("cancelled: Ice\n"))
    for path in (SHEET, CREW):
        made = page(Context(off, "en"), path)
        said = " ".join(f"{one.title} {one.text}" for one in made.search)
        assert "cancelled" in said
        assert "Ice" in said
        assert not re.search(r"\d:\d\d", f"{said} {made.description}")
        assert "cancelled" in made.description
    moved = page(
        Context(plan_of(tmp_path / "on", concert("moved_from: 2026-12-08\n")), "en"), SHEET
    )
    assert "it was Tue, Dec 8" in moved.search[0].text


def test_class_goes_on_after_a_concert_is_cancelled(held: Plan, tmp_path: Path) -> None:
    off = plan_of(tmp_path, concert("cancelled: Ice\n"))
    assert off.cycles[0].ensembles == held.cycles[0].ensembles


def test_readers_are_told_once_that_a_concert_is_cancelled(held: Plan, tmp_path: Path) -> None:
    off = plan_of(tmp_path, concert("cancelled: Ice\n"))
    told = ["Winter concert: cancelled: Ice; it was Thu, Dec 10, 7:00 pm"]
    assert sentences(held, off) == told
    assert sentences(off, held)[0] == "On again: Winter concert: Thu, Dec 10, 7:00 pm"
    assert not any(":" in one.value.partition("Ice")[2] for one in facts(off))


def test_what_is_cancelled_clashes_with_nothing(tmp_path: Path) -> None:
    ice = "closures:\n  - {name: Ice, date: Thu 2026-12-10}"
    closed = changed(concert(""), YEAR, "closures:", ice)
    other = base_files()[CONCERT].replace("Winter concert", "Show")
    show = {"cycles/winter/concerts/show.yaml": other}
    trip = "events:\n  - {id: trip, name: Trip, date: 2026-12-10, starts: 6 pm, ends: 9 pm, who: [harbor]}\n"
    found = codes(tmp_path / "held", {**closed, **show, "events.yaml": trip})
    off = {**closed, CONCERT: closed[CONCERT] + "cancelled: Ice\n"}
    off |= {name: f"{text}cancelled: Ice\n" for name, text in show.items()}
    assert {"concert-on-closure", "two-concerts-at-once", "event-during-concert"} <= {*found}
    assert codes(tmp_path / "off", {**off, "events.yaml": trip}) == ["event-without-school"]


def test_a_moved_concert_keeps_its_page_and_says_so(tmp_path: Path) -> None:
    before = plan_of(tmp_path / "old", concert("", day="Tue 2026-12-08"))
    files = concert("moved_from: Tue 2026-12-08\n")
    after = plan_of(tmp_path / "new", files)
    for path in (SHEET, CREW, "", "winter/", "winter/lantern/"):
        assert "Moved: now Thu, Dec 10; it was Tue, Dec 8" in words_of(after, path)
        assert "Moved" not in words_of(before, path)
    calendar = words_of(after, "calendar/")
    assert "Tue, Dec 8 Moved: Winter concert now Thu, Dec 10" in calendar
    moved = "Winter concert: now Thu, Dec 10, 7:00 pm, moved from Tue, Dec 8"
    assert moved in sentences(before, after)
    (change,) = (
        one for one in compare(facts(before), facts(after)) if one.key == "winter/concert/concert"
    )
    assert change.kind is ChangeKind.MOVED
    again = changed(
        files, CONCERT, "moved_from: Tue 2026-12-08", "moved_from: [2026-12-01, 2026-12-08]"
    )
    told = words_of(plan_of(tmp_path / "again", again), SHEET)
    assert "it was Tue, Dec 1, then Tue, Dec 8." in told


def test_data_of_concerts_and_events_tell_their_state(tmp_path: Path) -> None:
    def state(found: Any) -> tuple[str, object, str]:
        status = found["eventStatus"].removeprefix("https://schema.org/Event")
        return status, found.get("previousStartDate"), found["startDate"][:10]

    was, now = "2026-12-08", "2026-12-10"
    cases = (
        ("", ("Scheduled", None, now)),
        (f"moved_from: {was}\n", ("Rescheduled", was, now)),
        (f"moved_from: [2026-12-01, {was}]\n", ("Rescheduled", ["2026-12-01", was], now)),
        (f"moved_from: {was}\ncancelled: Ice\n", ("Cancelled", was, now)),
    )
    for n, (lines, expected) in enumerate(cases):
        game = "".join(f"    {line}\n" for line in lines.splitlines())
        events = f"events:\n  - id: game\n    name: Game\n    date: {now}\n{game}"
        plan = plan_of(tmp_path / str(n), {**concert(lines), "events.yaml": events})
        assert state(data_of(plan, SHEET)) == expected
        assert state(data_of(plan, "events/game/")) == expected


EVENTS = """events:
  - {id: game, name: Game, date: Fri 2026-11-13, starts: 6 pm, ends: 8 pm}
  - {id: forms, name: Forms, due: Fri 2026-11-06, bring: [The form]}
  - {id: fair, name: Fair, on: [Fri 2026-10-30, Fri 2026-11-20], starts: 5 pm}
"""
MOVED = """events:
  - {id: game, name: Game, date: Fri 2026-11-20, starts: 6 pm, ends: 8 pm, moved_from: Fri 2026-11-13}
  - {id: forms, name: Forms, due: Mon 2026-11-09, moved_from: Fri 2026-11-06, bring: [The form]}
  - {id: fair, name: Fair, on: [{date: Fri 2026-11-27, moved_from: Fri 2026-10-30}, Fri 2026-11-20], starts: 5 pm}
"""


def test_moved_events_keep_their_keys_and_say_so(tmp_path: Path) -> None:
    before = plan_of(tmp_path / "old", {**base_files(), "events.yaml": EVENTS})
    after = plan_of(tmp_path / "new", {**base_files(), "events.yaml": MOVED})
    assert {one.key for one in facts(before)} == {one.key for one in facts(after)}
    assert sentences(before, after) == [
        "Fair, Fri, Nov 27: now 5:00 pm, moved from Fri, Oct 30",
        "Forms: now due Mon, Nov 9, moved from Fri, Nov 6",
        "Game, Fri, Nov 20: now 6:00–8:00 pm, moved from Fri, Nov 13",
    ]
    assert "Moved now Fri, Nov 20; it was Fri, Nov 13" in words_of(after, "events/game/")
    assert "Moved now Mon, Nov 9; it was Fri, Nov 6" in words_of(after, "events/forms/")
    assert "Moved: now Fri, Nov 27; it was Fri, Oct 30" in words_of(after, "events/fair/")
    calendar = words_of(after, "calendar/")
    assert "Fri, Nov 13 Moved: Game now Fri, Nov 20" in calendar
    assert "Fri, Oct 30 Moved: Fair now Fri, Nov 27" in calendar
    assert "Fri, Nov 20 6:00–8:00 pm Game Moved from Fri, Nov 13" in calendar
    assert "Fri, Nov 27 5:00 pm Fair Moved from Fri, Oct 30" in calendar


def test_the_day_that_a_moved_event_left_may_be_taken_by_another(tmp_path: Path) -> None:
    taken = MOVED.replace(
        "Fri 2026-11-20], starts: 5 pm", "Fri 2026-11-20, Fri 2026-10-30], starts: 5 pm"
    )
    keys = {
        one.key: one.day for one in facts(plan_of(tmp_path, {**base_files(), "events.yaml": taken}))
    }
    assert f"{keys['event/fair/2026-10-30']}" == "2026-11-27"
    assert f"{keys['event/fair/2026-10-30-2']}" == "2026-10-30"


EXTRA = "extra:\n  - {{ensemble: lantern, date: Sat 2026-11-07, start: 9 am, end: 10 am, {}}}\n"
SNOW = "closures:\n  - {name: Snow day, date: Mon 2026-11-02}"


def test_a_rehearsal_that_is_moved_stays_itself(held: Plan, tmp_path: Path) -> None:
    files = concert("")
    files[CYCLE] += EXTRA.format("instead_of: Wed 2026-11-04")
    after = plan_of(tmp_path, files)
    assert sentences(held, after)[0] == (
        "Lantern Band, rehearsal on Sat, Nov 7: now 9:00–10:00 am, moved from Wed, Nov 4"
    )
    assert {one.key for one in facts(held)} == {one.key for one in facts(after)}
    calendar = words_of(after, "calendar/")
    assert "Wed, Nov 4 Moved: Lantern Band rehearsal now Sat, Nov 7" in calendar
    band = words_of(after, "winter/lantern/")
    assert "Wed, Nov 4 moved to Sat, Nov 7" in band
    assert "Moved from Wed, Nov 4." in band
    told = today_script(Context(after, "en"), after.cycles[0])
    assert '"Moved from Wed, Nov 4"' in told
    assert '["2026-11-04","Moved: Lantern Band rehearsal","now Sat, Nov 7"]' in told


def test_of_two_rehearsals_a_day_the_first_is_moved_and_each_stays_itself(tmp_path: Path) -> None:
    """By hand: class at 10:05 is moved, and that at 10:55 stays the second of its day."""
    twice = "meetings:\n  - {ensemble: lantern, weekdays: [Mon], period: p4}"
    files = changed(base_files(), YEAR, "meetings:", twice)
    files[CYCLE] += EXTRA.format("instead_of: Mon 2026-10-19")
    found = {one.key: one for one in facts(plan_of(tmp_path, files))}
    base = "winter/lantern/rehearsal/2026-10-19"
    assert (f"{found[base].day}", found[base].value) == ("2026-11-07", "9:00–10:00 am")
    assert f"{found[f'{base}-2'].day}" == "2026-10-19"
    assert found[f"{base}-2"].value == "10:55–11:40 am"


def test_a_rehearsal_that_makes_up_for_a_lost_one_is_named_beside_it(tmp_path: Path) -> None:
    files = changed(concert(""), YEAR, "closures:", SNOW)
    before = plan_of(tmp_path / "old", files)
    files[CYCLE] += EXTRA.format("make_up_for: Mon 2026-11-02")
    after = plan_of(tmp_path / "new", files)
    new = "New: Lantern Band, rehearsal on Sat, Nov 7: 9:00–10:00 am, makes up for Mon, Nov 2"
    assert new in sentences(before, after)
    band = words_of(after, "winter/lantern/")
    assert "Mon, Nov 2 Snow day, made up on Sat, Nov 7" in band
    assert "Makes up for Mon, Nov 2." in band


def told(changes: Iterable[FactChange]) -> set[tuple[str, ...]]:
    """Give what each change is; of a part that stays as it is, the day alone is told by no sentence."""
    return {(one.key, one.kind, *map(words, (one.old, one.new))) for one in changes}


def words(fact: Fact | None) -> str:
    if fact is None:
        return ""
    return fact_words(fact) if fact.topic is Topic.DAY else fact.value


def test_moves_one_after_another_make_one_move(held: Plan, tmp_path: Path) -> None:
    """From the first plan to the third, by way of the second, and back to the first."""
    plans = [held]
    for n, (day, lines, extra) in enumerate(
        (
            ("Sat 2026-12-12", "moved_from: 2026-12-10\n", "instead_of: 2026-11-04"),
            ("Mon 2026-12-14", "moved_from: [2026-12-10, 2026-12-12]\n", "make_up_for: 2026-11-23"),
            (
                "Thu 2026-12-10",
                "moved_from: [2026-12-10, 2026-12-12]\ncancelled: Ice\n",
                "instead_of: 2026-11-04",
            ),
        )
    ):
        files = concert(lines, day=day)
        files[CYCLE] += EXTRA.format(extra)
        plans.append(plan_of(tmp_path / str(n), files))
    plans.append(held)
    lists = [facts(plan) for plan in plans]
    steps = [compare(old, new) for old, new in pairwise(lists)]
    for last in range(2, len(plans)):
        assert told(reduce(compose, steps[:last])) == told(compare(lists[0], lists[last]))
    kinds = [{one.kind for one in step} for step in steps]
    assert ChangeKind.MOVED in kinds[0]
    assert ChangeKind.CANCELLED in kinds[2]
    assert reduce(compose, steps) == ()


def test_hints_name_the_days_that_may_be_meant(tmp_path: Path) -> None:
    files = changed(base_files(), YEAR, "closures:", SNOW)
    for line, hint in (
        ("instead_of: Mon 2026-11-02", "it is lost already (Snow day): write `make_up_for`"),
        (
            "make_up_for: Wed 2026-11-04",
            "class is held that day: to move it here, write `instead_of`",
        ),
        ("make_up_for: Thu 2026-11-05", "lost are Mon 2026-11-02 (Snow day), Mon 2026-11-23"),
    ):
        problems = load_plan(
            write_folder(tmp_path, {**files, CYCLE: files[CYCLE] + EXTRA.format(line)})
        ).problems
        assert len(problems) == 1
        assert hint in problems[0].hint


def test_the_plan_in_the_terminal_and_as_json_tells_it(tmp_path: Path) -> None:
    files = changed(
        concert("moved_from: Tue 2026-12-08\ncancelled: Ice\n"), YEAR, "closures:", SNOW
    )
    files[CYCLE] += EXTRA.format("instead_of: Wed 2026-11-04")
    files[CYCLE] += (
        EXTRA.format("make_up_for: Mon 2026-11-02").partition("\n")[2].replace("11-07", "11-14")
    )
    folder = write_folder(tmp_path, {**files, "events.yaml": MOVED})
    told = CliRunner().invoke(command, [str(folder)], standalone_mode=False).output
    said = " ".join(told.split())
    assert "Winter concert: moved to Thu Dec 10; it was Tue Dec 8" in said
    assert "Winter concert: cancelled: Ice" in said
    assert "cancelled concert Thu Dec 10" in said
    assert "Mon Nov 2 (Snow day, made up on Sat Nov 14)" in said
    assert "Wed Nov 4 (moved to Sat Nov 7)" in said
    assert "moved from Wed Nov 4" in said
    assert "makes up for Mon Nov 2" in said
    assert "moved from Fri Nov 13" in said
    told = CliRunner().invoke(command, [str(folder), "--json"], standalone_mode=False).output
    data = json.loads(told)
    (cycle,) = data["cycles"]
    assert (cycle["concert"]["moved_from"], cycle["concert"]["cancelled"]) == (
        ["2026-12-08"],
        {"en": "Ice"},
    )
    assert cycle["concert"]["groups"] == []
    lantern = next(one for one in cycle["ensembles"] if one["id"] == "lantern")
    assert [one["instead_of"] for one in lantern["rehearsals"] if one["instead_of"]] == [
        "2026-11-04"
    ]
    assert [one["make_up_for"] for one in lantern["rehearsals"] if one["make_up_for"]] == [
        "2026-11-02"
    ]
    missed = {one["date"]: (one["moved_to"], one["made_up"]) for one in lantern["missed"]}
    assert missed["2026-11-04"] == ("2026-11-07", None)
    assert missed["2026-11-02"] == (None, "2026-11-14")
    game = next(one for one in data["events"] if one["id"] == "game")
    assert game["days"][0]["moved_from"] == ["2026-11-13"]
