"""A lost day or a dropped piece changes the days ahead, never those that have been."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from handbook.domain.day_kinds import DayKind
from handbook.plan.model import EnsemblePlan, RehearsalRow
from handbook.plan.past import held_rows
from tests.content_folders import base_files, changed
from tests.plan.planning import (
    CONCERT,
    CYCLE,
    MUSIC,
    YEAR,
    ensemble,
    lantern,
    planned,
    winter,
)

NEWS = date(2026, 11, 16)
LAST_CLOSURE = "    to: Fri 2026-11-27\n"
SNOW = LAST_CLOSURE + "  - {name: Snow day, date: Mon 2026-11-16%s}\n"


def told(what: str) -> dict[str, str]:
    return changed(base_files(), YEAR, LAST_CLOSURE, SNOW % what)


def before(plan: EnsemblePlan, day: date = NEWS) -> list[RehearsalRow]:
    return [row for row in plan.rehearsals if row.rehearsal.day < day]


def as_held(row: RehearsalRow) -> tuple[object, ...]:
    """What families and players knew of a rehearsal: all but how many there are in all."""
    rehearsal = row.rehearsal
    return rehearsal.start, rehearsal.n, row.stage.item.id, row.purpose, row.agenda, row.blocks


def tempos(plan: EnsemblePlan, day: date = NEWS) -> list[list[tuple[int, str]]]:
    count = len(before(plan, day))
    return [
        [(visit.place, str(visit.rung.tempo)) for visit in passage.visits if visit.place < count]
        for piece in plan.pieces
        for passage in piece.passages
    ]


@pytest.mark.parametrize(
    "files",
    [
        pytest.param(told(", told: Mon 2026-11-16"), id="told"),
        pytest.param(
            changed(
                told(""), CYCLE, "year: 2026-27\n", "year: 2026-27\nheld_until: Sun 2026-11-15\n"
            ),
            id="held until the day before",
        ),
        pytest.param(
            changed(
                base_files(),
                CYCLE,
                "year: 2026-27\n",
                "year: 2026-27\n"
                "cancelled:\n"
                "  - {ensemble: lantern, date: 2026-11-16, why: Snow, told: 2026-11-16}\n",
            ),
            id="cancelled",
        ),
    ],
)
def test_a_lost_day_leaves_the_past(tmp_path: Path, files: dict[str, str]) -> None:
    first = lantern(planned(tmp_path / "a"))
    then = lantern(planned(tmp_path / "b", files))
    assert len(then.rehearsals) == len(first.rehearsals) - 1
    assert [as_held(row) for row in before(then)] == [as_held(row) for row in before(first)]
    assert len(before(then)) == 8  # Mondays and Wednesdays from October 19 to November 11
    assert tempos(then) == tempos(first)
    # the stages ahead begin on the dates that stood
    assert [span.begins for span in then.stages] == [span.begins for span in first.stages]
    assert [row.rehearsal.n for row in then.rehearsals] == list(range(1, len(then.rehearsals) + 1))
    # but how many there are, and how far each stage reaches, is told anew on every day
    assert {row.rehearsal.of for row in then.rehearsals} == {len(then.rehearsals)}
    assert all(row.stage in then.stages for row in then.rehearsals)
    assert set(first.stages) != set(then.stages)


def test_two_days_of_news(tmp_path: Path) -> None:
    """Each leaves what was planned after the one before it."""
    one = told(", told: Mon 2026-11-16")
    two = changed(
        one, YEAR, SNOW % ", told: Mon 2026-11-16", SNOW % ", told: Mon 2026-11-16"
        + "  - {name: Ice day, date: Wed 2026-12-02, told: Tue 2026-12-01}\n"
    )  # fmt: skip
    first, then = lantern(planned(tmp_path / "a", one)), lantern(planned(tmp_path / "b", two))
    day = date(2026, 12, 1)
    assert [as_held(row) for row in before(then, day)] == [
        as_held(row) for row in before(first, day)
    ]
    assert tempos(then, day) == tempos(first, day)
    assert len(before(then, day)) > len(before(then))


def test_goals_are_still_reached(tmp_path: Path) -> None:
    then = lantern(planned(tmp_path / "b", told(", told: Mon 2026-11-16")))
    for piece in then.pieces:
        for passage in piece.passages:
            assert len(passage.at_goal) >= 2


ANOTHER = """  - id: stone-soup
    title: Stone Soup
    ensemble: lantern
    form: [{name: Whole, measures: 1-24, meter: 4/4, tempo: quarter = 92}]
    passages: [{id: stir, name: Stir, measures: 1-24, goal: quarter = 92}]
"""


def test_a_dropped_piece_keeps_its_past(tmp_path: Path) -> None:
    with_it = {**base_files(), MUSIC: base_files()[MUSIC] + ANOTHER}
    without = {
        **with_it,
        MUSIC: with_it[MUSIC].replace(
            "title: Stone Soup\n", "title: Stone Soup\n    dropped: Mon 2026-11-16\n"
        ),
    }
    first = lantern(planned(tmp_path / "a", with_it))
    then = lantern(planned(tmp_path / "b", without))
    assert [as_held(row)[:5] for row in before(then)] == [as_held(row)[:5] for row in before(first)]
    soup = then.pieces[-1].passages[0]
    count = len(before(then))
    assert soup.visits
    assert max(visit.place for visit in soup.visits) < count
    assert max(week.monday for week in soup.weeks) < NEWS
    stays = then.pieces[0].passages[0]
    assert max(visit.place for visit in stays.visits) > count


@pytest.mark.parametrize("day", [date(2026, 11, 5), date(2026, 11, 11), date(2026, 11, 18)])
def test_the_week_in_which_a_piece_is_dropped_asks_for_nothing_new(
    day: date, tmp_path: Path
) -> None:
    """Common practice, no source: nobody speeds up a piece that will not be played."""
    with_it = {**base_files(), MUSIC: base_files()[MUSIC] + ANOTHER}
    line = f"title: Stone Soup\n    dropped: {day}\n"
    without = {**with_it, MUSIC: with_it[MUSIC].replace("title: Stone Soup\n", line)}
    first = lantern(planned(tmp_path / "a", with_it)).pieces[-1].passages[0]
    then = lantern(planned(tmp_path / "b", without)).pieces[-1].passages[0]
    last = day - timedelta(days=day.weekday())
    assert [week.monday for week in then.weeks][-1] == last
    assert then.weeks[:-1] == first.weeks[: len(then.weeks) - 1]  # what is over stays
    played, asked = then.visits[-1].rung.tempo, then.weeks[-2].target
    assert played.bpm < then.item.goal.bpm
    assert then.weeks[-1].target.bpm == max(played.bpm, asked.bpm)
    assert then.weeks[-1].steps == (then.weeks[-1].target,)


def test_a_dress_rehearsal_plays_no_dropped_piece(tmp_path: Path) -> None:
    dropped = ANOTHER.replace("Stone Soup\n", "Stone Soup\n    dropped: Mon 2026-11-16\n")
    dress = "  - {ensemble: lantern, date: %s, start: 3:30 pm, end: 4:45 pm, kind: dress}\n"
    days = "extra:\n" + dress % "Thu 2026-11-12" + dress % "Tue 2026-12-08"
    files = {
        **base_files(),
        MUSIC: base_files()[MUSIC] + dropped,
        CYCLE: base_files()[CYCLE] + days,
    }
    plan = lantern(planned(tmp_path, files))
    first, last = [row for row in plan.rehearsals if row.day_plan.kind is DayKind.DRESS]
    assert first.day_plan.runs == ("button-comets", "stone-soup")
    assert last.day_plan.runs == ("button-comets",)
    played = {block.piece.id for block in last.blocks if block.piece}
    assert played == {"button-comets"}


def test_an_altered_day_is_news_of_the_day_it_was_told(tmp_path: Path) -> None:
    """Bells without the band's period on November 18, told on November 16."""
    altered = "altered:\n  - {date: Wed 2026-11-18, name: Tests, bells: tests%s}\n"
    bells = "  - {id: tests, periods: [{id: p4, start: 10:55, end: 11:40}]}\n"
    year = base_files()[YEAR].replace(
        "closures:\n", f"{bells}{altered % ', told: Mon 2026-11-16'}closures:\n"
    )
    first = lantern(planned(tmp_path / "a"))
    then = lantern(planned(tmp_path / "b", {YEAR: year}))
    assert len(then.rehearsals) == len(first.rehearsals) - 1
    assert [as_held(row) for row in before(then)] == [as_held(row) for row in before(first)]
    assert tempos(then) == tempos(first)


def test_what_befalls_another_band_is_no_news(tmp_path: Path) -> None:
    """A long cancelled string of harbor's, told in time, leaves lantern's plan as it was."""
    days = ("Tue 2026-10-27", "Thu 2026-10-29", "Tue 2026-11-10")
    rows = "".join(
        f"  - {{ensemble: harbor, date: {day}, why: Trip, told: {day}}}\n" for day in days
    )
    files = {CYCLE: base_files()[CYCLE] + f"leap: 6\ncancelled:\n{rows}"}
    first = lantern(planned(tmp_path / "a", {CYCLE: base_files()[CYCLE] + "leap: 6\n"}))
    then = lantern(planned(tmp_path / "b", files))
    assert [as_held(row) for row in then.rehearsals] == [as_held(row) for row in first.rehearsals]
    assert tempos(then, date.max) == tempos(first, date.max)


def test_a_day_on_which_a_band_has_no_class_is_no_news_to_it(tmp_path: Path) -> None:
    """A snow Monday leaves the plan of Harbor, which meets on Tuesdays and Thursdays, as it was."""
    plans = [planned(tmp_path / "a"), planned(tmp_path / "b", told(", told: Mon 2026-11-16"))]
    first, then = (ensemble(winter(one), "harbor") for one in plans)
    assert [as_held(row) for row in then.rehearsals] == [as_held(row) for row in first.rehearsals]
    assert then.pieces == first.pieces
    assert then.season == first.season


def test_a_goal_that_class_has_reached_is_asked_for_no_more(tmp_path: Path) -> None:
    """The last rehearsal is lost: all goals have been reached twice, so nothing gives way."""
    lost = "  - {name: Ice day, date: Wed 2026-12-09, told: Wed 2026-12-09}\n"
    files = changed(base_files(), YEAR, LAST_CLOSURE, LAST_CLOSURE + lost)
    then = lantern(planned(tmp_path, files))
    assert all(len(one.at_goal) >= 2 for piece in then.pieces for one in piece.passages)
    assert then.season is not None
    assert then.season.unmet == ()


def test_a_dropped_piece_that_leaves_the_program_leaves_the_past(tmp_path: Path) -> None:
    """The piece listed first is played first; taken off the program it stays first in what has been."""
    music = base_files()[MUSIC].replace("pieces:\n", "pieces:\n" + ANOTHER)
    concert = changed(base_files(), CONCERT, "[button-comets]", "[stone-soup, button-comets]")
    dropped = music.replace("Stone Soup\n", "Stone Soup\n    dropped: Mon 2026-11-16\n")
    first = lantern(planned(tmp_path / "a", {**concert, MUSIC: music}))
    then = lantern(planned(tmp_path / "b", {MUSIC: dropped}))
    assert [as_held(row)[:5] for row in before(then)] == [as_held(row)[:5] for row in before(first)]
    assert tempos(then) == tempos(first)


MAKE_UP = "make_up:\n  - {name: Fog made up, date: Sat 2026-11-21, like: Mon%s}\nclosures:"


def test_a_make_up_day_that_was_told_later_leaves_the_past(tmp_path: Path) -> None:
    first = lantern(planned(tmp_path / "a"))
    made_up = changed(base_files(), YEAR, "closures:", MAKE_UP % ", told: Mon 2026-11-16")
    then = lantern(planned(tmp_path / "b", made_up))
    assert len(then.rehearsals) == len(first.rehearsals) + 1
    assert [as_held(row) for row in before(then)] == [as_held(row) for row in before(first)]
    assert tempos(then) == tempos(first)
    from_the_start = changed(base_files(), YEAR, "closures:", MAKE_UP % "")
    known = lantern(planned(tmp_path / "c", from_the_start))
    assert tempos(known) != tempos(first)


def test_a_make_up_day_is_no_loss_that_was_heard_of_the_day_after(tmp_path: Path) -> None:
    """`held_until` is about days that are lost; a day more was known all along unless it says so."""
    known = changed(base_files(), YEAR, "closures:", MAKE_UP % "")
    held = changed(known, CYCLE, "year: 2026-27\n", "year: 2026-27\nheld_until: Fri 2026-11-20\n")
    day = date(2026, 11, 21)
    assert tempos(lantern(planned(tmp_path / "a", held)), day) == tempos(
        lantern(planned(tmp_path / "b", known)), day
    )


def test_a_moved_concert_leaves_the_past(tmp_path: Path) -> None:
    """Nothing that has been changes, and stages ahead reach to the new day."""
    old = changed(base_files(), CONCERT, "Thu 2026-12-10", "Wed 2026-12-02")
    move = "Thu 2026-12-10\nmoved_from: Wed 2026-12-02\n%s"
    told_so = changed(base_files(), CONCERT, "Thu 2026-12-10", move % "told: Mon 2026-11-16")
    untold = changed(base_files(), CONCERT, "Thu 2026-12-10", move % "")
    first, then, anew = (
        lantern(planned(tmp_path / name, files))
        for name, files in (("a", old), ("b", told_so), ("c", untold))
    )
    assert [as_held(row) for row in before(then)] == [as_held(row) for row in before(first)]
    assert tempos(then) == tempos(first)
    assert tempos(anew) != tempos(first)
    assert (first.stages[-1].ends, then.stages[-1].ends) == (date(2026, 12, 2), date(2026, 12, 10))
    assert [row.rehearsal.start for row in then.rehearsals] == [
        row.rehearsal.start for row in anew.rehearsals
    ]


TOUR = "events:\n  - {id: tour, name: Tour, from: %s, to: %s, away: all day, who: [lantern]%s}\n"


def test_a_moved_event_leaves_the_past(tmp_path: Path) -> None:
    """Before it was told, class was lost on the days on which the tour was to be."""
    news = date(2026, 11, 2)
    old = TOUR % ("Wed 2026-11-04", "Wed 2026-11-11", "")
    new = TOUR % (
        "Mon 2026-11-30", "Mon 2026-12-07", ", moved_from: Wed 2026-11-04, told: Mon 2026-11-02"
    )  # fmt: skip
    first, then, anew = (
        lantern(planned(tmp_path / name, {"events.yaml": text}))
        for name, text in (
            ("a", old),
            ("b", new),
            ("c", new.replace("moved_from: Wed 2026-11-04, ", "")),
        )
    )
    assert [as_held(row) for row in before(then, news)] == [
        as_held(row) for row in before(first, news)
    ]
    assert tempos(then, news) == tempos(first, news) != tempos(anew, news)
    lost = [one.day for one in then.missed if one.cause == "event"]
    assert lost == [date(2026, 11, 30), date(2026, 12, 2), date(2026, 12, 7)]


EXTRA = "extra:\n  - {ensemble: lantern, date: Sat 2026-11-21, start: 9 am, end: 10 am, %s}\n"


@pytest.mark.parametrize(
    ("snow", "extra"),
    [
        pytest.param(True, EXTRA % "make_up_for: 2026-11-16", id="made up: known with the loss"),
        pytest.param(False, EXTRA % "instead_of: 2026-11-18, told: 2026-11-16", id="moved"),
    ],
)
def test_what_is_made_up_or_moved_leaves_the_past(snow: bool, extra: str, tmp_path: Path) -> None:
    files = told(", told: Mon 2026-11-16") if snow else base_files()
    first = lantern(planned(tmp_path / "a"))
    then = lantern(planned(tmp_path / "b", changed(files, CYCLE, "stages:", f"{extra}stages:")))
    assert len(then.rehearsals) == len(first.rehearsals)
    assert [as_held(row) for row in before(then)] == [as_held(row) for row in before(first)]
    assert tempos(then) == tempos(first)


def test_what_was_held_ends_where_a_rehearsal_begins_at_another_hour_now(tmp_path: Path) -> None:
    """Of the same day there is another rehearsal then, and what follows is planned anew."""
    plan = lantern(planned(tmp_path))
    now = [row.rehearsal for row in plan.rehearsals]
    assert held_rows(plan, NEWS, now) == tuple(before(plan))
    now[2] = replace(now[2], start=now[2].start + timedelta(minutes=5))
    assert held_rows(plan, NEWS, now) == plan.rehearsals[:2]
