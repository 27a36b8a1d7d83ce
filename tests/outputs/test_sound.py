"""The data of a passage's click, from what a director typed."""

from __future__ import annotations

import gzip
import json
from fractions import Fraction
from typing import Any

import pytest

from handbook.domain.metronome_marks import marks_named
from handbook.domain.tables.metronome import TRADITIONAL_MARKS
from handbook.domain.timing import FormPart, TempoModel, part_seconds
from handbook.domain.values.meter import parse_meter
from handbook.domain.values.tempo import Tempo, parse_tempo
from handbook.outputs.components.sound import ClickView, _tempo_at
from handbook.resources import templates_folder
from tests.oracles.click_grid import beat_at, click_grid, onset
from tests.passages import click, part


def data(view: ClickView) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(view.data)
    return found


@pytest.mark.parametrize(
    ("goal", "seconds"),
    [
        ("quarter = 120", "0.5"),
        ("quarter = 60", "1"),
        ("half = 66", "0.909"),
        ("quarter = 132", "0.455"),
    ],
)
def test_a_beat_lasts_sixty_over_bpm(goal: str, seconds: str) -> None:
    assert click(goal).beat_seconds == seconds


def test_marks_are_the_traditional_settings_up_to_the_goal() -> None:
    """Half of 116 is 58, the first rung; three quarters of that are 43.5, so from 42."""
    marks = data(click("quarter = 116"))["marks"]
    assert marks == [mark for mark in TRADITIONAL_MARKS if 42 <= mark <= 116]


def test_a_goal_that_is_no_mark_ends_the_marks() -> None:
    assert data(click("quarter = 90"))["marks"][-3:] == [84, 88, 90]


def test_other_scales_of_marks() -> None:
    # 34 is a visit: the next mark, 35, would be more than 15 percent above 30.
    assert data(click("quarter = 60", marks=marks_named("every", 5)))["marks"] == [
        20, 25, 30, 34, 35, 40, 45, 50, 55, 60,
    ]  # fmt: skip
    exact = data(click("quarter = 61.5", marks=marks_named("exact")))
    assert exact["goal"] == exact["marks"][-1] == 61.5
    assert exact["marks"] == sorted(set(exact["marks"]))
    assert {bpm for _, _, bpm, *_ in exact["weeks"]} <= set(exact["marks"])


def test_very_slow_music_has_marks() -> None:
    marks = data(click("quarter = 12"))["marks"]
    assert marks[-1] == 12
    assert marks == sorted(marks)


def test_weeks_run_from_monday_to_sunday() -> None:
    weeks = data(click("quarter = 96"))["weeks"]
    assert [week[:2] for week in weeks[:2]] == [
        ["2026-09-07", "2026-09-13"],
        ["2026-09-14", "2026-09-20"],
    ]
    assert weeks[-1][2:] == [96]
    assert [week[2] for week in weeks] == sorted(week[2] for week in weeks)


def test_a_week_names_the_steps_to_its_tempo() -> None:
    """From 66 to 80 by the traditional settings: 69, 72, 76."""
    week = data(click("quarter = 96"))["weeks"][2]
    assert week == ["2026-09-21", "2026-09-27", 80, 69, 72, 76]


def test_names_are_safe_in_an_attribute() -> None:
    view = click("quarter = 96", name='It\'s <b>"Tom & Jill"</b>')
    assert not set("<>&'") & set(str(view.data))
    assert data(view)["name"] == 'It\'s <b>"Tom & Jill"</b>'


def test_same_content_same_bytes() -> None:
    assert click("quarter = 96").data == click("quarter = 96").data


FORM = (
    part("1-8", "4/4", "quarter = 120"),
    part("9-12", "3/4", "quarter = 120"),
    part("13-20", "7/8", "eighth = 240"),
)


@pytest.mark.parametrize(
    ("measures", "names"),
    [
        ("1-8", ["4/4"]),
        ("5-10", ["", "4/4", "3/4"]),
        ("9", ["3/4"]),
        ("13-14", ["7/8", "7/8 (2+2+3)", "7/8 (2+3+2)", "7/8 (3+2+2)"]),
        ("90-99", ["4/4"]),  # outside the form: as the piece begins
    ],
)
def test_meters_of_a_passage(measures: str, names: list[str]) -> None:
    found = data(click("quarter = 120", measures=measures, form=FORM))["meters"]
    assert [meter["name"] for meter in found] == names


def test_changing_meters_keep_their_measures() -> None:
    written = data(click("quarter = 120", measures="5-10", form=FORM))["meters"][0]
    assert [count for count, _ in written["spans"]] == [4, 2]
    assert [len(beats) for _, beats in written["spans"]] == [4, 3]


def test_a_meter_that_comes_back_is_offered_once() -> None:
    form = [
        part(measures, meter, "quarter = 96")
        for measures, meter in (("1-4", "4/4"), ("5-8", "3/4"), ("9-12", "4/4"))
    ]
    found = data(click("quarter = 96", measures="1-12", form=form))["meters"]
    assert [meter["name"] for meter in found] == ["", "4/4", "3/4"]
    assert [count for count, _ in found[0]["spans"]] == [4, 4, 4]


def test_no_change_without_a_moving_part() -> None:
    assert "change" not in data(click("quarter = 120", form=FORM))


def test_a_change_is_as_it_is_written() -> None:
    form = [part("9-16", "4/4", "quarter = 88", "quarter = 132")]
    change = data(click("quarter = 88", measures="9-16", form=form))["change"]
    count, beats, unit, begins, ends, model = change["spans"][0]
    assert (count, unit, begins, ends, model) == (8, 48, 88, 132, "linear in beats")
    assert len(beats) == 4


def test_a_change_to_a_mark_of_another_beat() -> None:
    """Half = 60 is as fast as quarter = 120."""
    form = [part("1-4", "4/4", "quarter = 60", "half = 60")]
    change = data(click("quarter = 60", measures="1-4", form=form))["change"]
    assert change["spans"][0][3:5] == [60, 120]


@pytest.mark.parametrize("model", list(TempoModel))
@pytest.mark.parametrize(("begins", "ends"), [(60, 132), (132, 60)])
def test_two_halves_of_a_change_last_as_long_as_the_whole(
    model: TempoModel, begins: int, ends: int
) -> None:
    """A passage that holds only some measures of a change moves between the tempos it meets there."""
    form = [part("1-8", "4/4", f"quarter = {begins}", f"quarter = {ends}", str(model))]

    def seconds(measures: str) -> float:
        span = data(click("quarter = 132", measures=measures, form=form))["change"]["spans"][0]
        beat = parse_tempo("60").beat
        first, last = (Tempo(beat, Fraction(bpm)) for bpm in span[3:5])
        return part_seconds(FormPart(Fraction(4 * span[0]), first, last, model=model))

    assert seconds("1-3") + seconds("4-8") == pytest.approx(seconds("1-8"), rel=1e-12)


def test_the_middle_of_a_linear_change_agrees_with_the_click_grid() -> None:
    form = [part("1-8", "4/4", "quarter = 60", "quarter = 120")]
    span = data(click("quarter = 120", measures="3-6", form=form))["change"]["spans"][0]
    grid = click_grid(parse_meter("4/4"), 8, parse_tempo("60"), parse_tempo("120"))
    whole = [one.seconds for one in grid.clicks if 3 <= one.measure <= 6]
    alone = [onset(beat, 16, span[3], span[4]) for beat in range(16)]
    assert [moment - whole[0] for moment in whole] == pytest.approx(alone)
    assert beat_at(whole[0], 32, 60, 120) == pytest.approx(8)


def test_scripts_stay_small() -> None:
    """Twelve kilobytes in all over the wire."""
    assets = templates_folder() / "assets"
    names = ("sound.js", "click.js", "drone.js", "player.js")
    assert sum(len(gzip.compress((assets / name).read_bytes(), 9)) for name in names) < 12 * 1024


@pytest.mark.parametrize("model", ["linear in beats", "linear in time", "exponential in beats"])
def test_a_change_begins_and_ends_exactly_at_its_marks(model: str) -> None:
    """By floats alone 60 * exp(log(62 / 60)) is 62.00000000000001."""
    change = part("1-16", "4/4", "quarter = 60", "quarter = 62", model)
    assert (_tempo_at(Fraction(0), change), _tempo_at(Fraction(1), change)) == (60, 62)
