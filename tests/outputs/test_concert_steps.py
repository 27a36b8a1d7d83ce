"""The steps of a band's day as families read them (common practice, no source)."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from handbook.domain.call_times import mark_after, mark_before
from handbook.outputs.components.concert_steps import StepView
from handbook.outputs.pages.concert import ConcertView, concert_view
from handbook.outputs.pages.crew import crew_view
from tests.outputs.concerts import EVENING, evening, main_of, page

AFTER = """after:
  - {name: Sight-reading, minutes: 30, ensembles: [harbor], room: green-room}
  - {name: Photo, minutes: 5, starts: "7:42 pm", ensembles: [harbor], place: Front steps}
"""


def steps(view: ConcertView, band: str) -> list[str]:
    card = next(card for card in view.days if card.band == band)
    return [f"{step.time} {step.what}" for step in card.steps]


@pytest.mark.parametrize(
    ("clock", "start", "end"),
    [
        ("18:30:00", "6:30 pm", "6:30 pm"),
        ("18:33:00", "6:30 pm", "6:35 pm"),
        ("18:34:59", "6:30 pm", "6:35 pm"),
        ("18:35:01", "6:35 pm", "6:40 pm"),
    ],
)
def test_families_are_early_and_never_too_early_to_collect(
    clock: str, start: str, end: str
) -> None:
    moment = datetime.fromisoformat(f"2026-12-10T{clock}").replace(
        tzinfo=ZoneInfo("America/Chicago")
    )
    early, late = (StepView(mark(moment), "") for mark in (mark_before, mark_after))
    assert (early.time, late.time) == (start, end)


def test_calls_buses_and_pick_ups_are_marks_of_five_minutes(tmp_path: Path) -> None:
    view = concert_view(*evening(tmp_path))
    told = [(step.time, step.what) for card in view.days for step in card.steps]
    rounded = re.compile("Be at the bus|Buses leave|Arrive at|Ready in|Back at school|Pick-up")
    minutes = [int(time.split(":")[1][:2]) for time, what in told if rounded.match(what)]
    assert len(minutes) == 9
    assert {minute % 5 for minute in minutes} == {0}
    for card in view.days:  # 12-hour times of one evening, so their order is that of the clock
        at = [datetime.strptime(step.time, "%I:%M %p") for step in card.steps]  # noqa: DTZ007
        assert at == sorted(at)


def test_steps_after_playing_have_their_place_and_time(tmp_path: Path) -> None:
    context, cycle, concert = evening(tmp_path, EVENING + AFTER)
    view = concert_view(context, cycle, concert)
    # Off the stage at 7:05:53 pm; 30 minutes, then the photo at the time that is stated.
    assert steps(view, "Harbor Band")[-6:] == [
        "7:06 pm Off the stage",
        "7:06 pm Sight-reading, Green room, 30 min",
        "7:42 pm Photo, Front steps, 5 min",
        "7:47 pm Pack up",
        "7:57 pm Packed",
        "8:05 pm Pick-up",
    ]
    crew = crew_view(context, cycle, concert)
    assert [f"{line.time} {line.who}: {line.what}, {line.place}" for line in crew.later] == [
        "7:06–7:36 pm Harbor Band: Sight-reading, Green room",
        "7:42–7:47 pm Harbor Band: Photo, Front steps",
    ]
    html = main_of(page(context, "winter/concert/crew/"))
    assert 'id="after"' in html
    assert "Harbor Band: Sight-reading" in html


def test_who_stays_leaves_the_stage_at_its_own_time(tmp_path: Path) -> None:
    stays = EVENING.replace("room: band-room}", 'room: band-room, stays: "yes"}')
    context, cycle, concert = evening(tmp_path, stays + "closing: [{what: remarks, minutes: 2}]\n")
    # Harbor's last note is at 7:00:53 pm; Lantern plays last, and the evening ends at 7:14:09 pm.
    view = concert_view(context, cycle, concert)
    assert steps(view, "Harbor Band")[6:-1] == [
        "7:01 pm Last note",
        "7:06 pm Off the stage; hear the other bands",
        "7:14 pm The concert ends; then pack up",
        "7:29 pm Packed",
    ]
    assert [line for line in steps(view, "Lantern Band") if "stage" in line or "ends" in line] == [
        "7:01 pm Walk to the stage",
        "7:14 pm The concert ends",
        "7:19 pm Off the stage, pack up",
    ]


def test_who_stays_hears_the_other_bands_when_all_its_steps_are_done(tmp_path: Path) -> None:
    stays = EVENING.replace("room: band-room}", 'room: band-room, stays: "yes"}')
    photo = "after: [{name: Photo, minutes: 2, ensembles: [harbor], place: Front steps}]\n"
    view = concert_view(*evening(tmp_path, stays + photo))
    assert steps(view, "Harbor Band")[7:-1] == [
        "7:06 pm Off the stage",
        "7:06 pm Photo, Front steps, 2 min",
        "7:08 pm Sit and hear the other bands",
        "7:12 pm The concert ends; then pack up",
        "7:27 pm Packed",
    ]


def test_a_band_that_joins_has_its_part_of_the_evening(tmp_path: Path) -> None:
    together = EVENING.replace(
        "attire: [White",
        "  - {ensemble: lantern, pieces: [button-comets], joined_by: [harbor]}\nattire: [White",
    )
    view = concert_view(*evening(tmp_path, together))
    assert [line for line in steps(view, "Harbor Band") if "note" in line or "stage" in line] == [
        "6:50 pm Walk to the stage",
        "7:00 pm First note",
        "7:16 pm On stage again with Lantern Band",
        "7:17 pm Last note",
        "7:22 pm Off the stage, pack up",
    ]
    assert [turn.band for turn in view.turns][-1] == "Lantern Band and Harbor Band"


def test_students_are_told_of_the_class_they_miss(tmp_path: Path) -> None:
    noon = EVENING.replace("7:00 pm", "12:30 pm").replace("6:40 pm", "12:10 pm")
    noon = noon.replace("5:00 pm, end: 6:00 pm", "9:00 am, end: 10:00 am")
    context, cycle, concert = evening(tmp_path, noon + "during_school: yes\n")
    # Ready at 11:55 am, after class; with 30 minutes more to unpack it is in the middle of it.
    assert concert_view(context, cycle, concert).missed == ()
    longer = noon.replace("unpack: 10", "unpack: 40") + "during_school: yes\n"
    context, cycle, concert = evening(tmp_path / "longer", longer)
    (missed,) = concert_view(context, cycle, concert).missed
    assert (missed.n, missed.text) == (1, "Harbor Band misses its rehearsal, 10:55–11:40 am.")
    html = main_of(page(context, "winter/concert/"))
    assert '<li class="mine who-1">Harbor Band misses its rehearsal' in html


@pytest.mark.parametrize(
    ("shared", "text"),
    [
        (None, "Players of Harbor Band who are in Lantern Band too miss its rehearsal, "),
        (4, "The 4 players of Harbor Band who are in Lantern Band too miss its rehearsal, "),
        (1, "The player of Harbor Band who is in Lantern Band too misses its rehearsal, "),
    ],
)
def test_players_of_two_bands_are_told_of_the_class_they_miss(
    shared: int | None, text: str, tmp_path: Path
) -> None:
    noon = EVENING.replace("7:00 pm", "12:30 pm").replace("6:40 pm", "12:10 pm")
    noon = noon.replace("5:00 pm, end: 6:00 pm", "9:00 am, end: 10:00 am")
    noon = noon.replace("unpack: 10", "unpack: 40") + "during_school: yes\n"
    context, cycle, concert = evening(tmp_path, noon)
    lantern = next(one.item for one in cycle.ensembles if one.item.id == "lantern")
    (missed,) = concert.day.missed
    missed = replace(missed, because=lantern, shared=shared)
    concert = replace(concert, day=replace(concert.day, missed=(missed,)))
    (line,) = concert_view(context, cycle, concert).missed
    assert line.text == f"{text}10:55–11:40 am."


def test_one_name_for_each_moment_on_every_page(tmp_path: Path) -> None:
    context, _, _ = evening(tmp_path)
    sheet, crew, words = (
        main_of(page(context, path))
        for path in ("winter/concert/", "winter/concert/crew/", "words/")
    )
    for html in (sheet, crew, words):
        assert "be at the bus" in html.lower()
        assert "ready in the room" in html.lower()
    for html in (sheet, crew):
        assert not re.search(r"\bcalls?\b", re.sub(r"<[^>]*>", " ", html), re.IGNORECASE)


def test_a_band_that_packs_nothing_is_not_told_to(tmp_path: Path) -> None:
    quick = EVENING.replace("pack: 10", "pack: 0")
    told = steps(concert_view(*evening(tmp_path, quick)), "Harbor Band")
    assert any(step.endswith("Off the stage") for step in told)
    assert not any("pack up" in step.lower() for step in told)


def test_buses_without_any_minutes_have_no_time_to_be_at_them(tmp_path: Path) -> None:
    bare = re.sub(r"(?m)^allowances:.*\n|, minutes: \{[^}]*\}", "", EVENING)
    view = concert_view(*evening(tmp_path, bare))
    told = [step.what for card in view.days for step in card.steps]
    assert not any("Be at the bus" in what for what in told)
