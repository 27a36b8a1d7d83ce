"""Week targets, worked by hand on the traditional marks (72 76 80 84 88 92 96 100 104 108 112 116 120)."""

from __future__ import annotations

from datetime import date

from handbook.domain.metronome_marks import TraditionalMarks
from handbook.domain.values.tempo import Tempo, parse_tempo
from handbook.domain.week_targets import WeekTarget, week_targets

GOAL = parse_tempo("120")
# Mondays by ISO 8601: 2026-10-05 is one, and so is every seventh day from it.
MONDAYS = [date(2026, 10, 5), date(2026, 10, 12), date(2026, 10, 19), date(2026, 10, 26)]
LAST = date(2026, 11, 2)


def tempos(*speeds: int) -> tuple[Tempo, ...]:
    return tuple(parse_tempo(str(speed)) for speed in speeds)


def targets(visits: dict[date, int], mondays: list[date]) -> list[tuple[Tempo, tuple[Tempo, ...]]]:
    played = [(day, parse_tempo(str(speed))) for day, speed in visits.items()]
    found = week_targets(mondays, played, GOAL, TraditionalMarks())
    assert [target.monday for target in found] == mondays
    return [(target.target, target.steps) for target in found]


def test_targets_lead_from_visit_to_visit_and_then_to_the_goal() -> None:
    visits = {date(2026, 10, 5): 72, date(2026, 10, 14): 80, date(2026, 10, 26): 92}
    assert targets(visits, [*MONDAYS, LAST]) == [
        (*tempos(80), tempos(72, 76, 80)),  # class plays 80 next week
        (*tempos(88), tempos(84, 88)),  # three marks to 92 in two weeks: two now
        (*tempos(92), tempos(92)),
        (*tempos(108), tempos(96, 100, 104, 108)),  # seven marks to 120 in two weeks: four now
        (*tempos(120), tempos(112, 116, 120)),
    ]


def test_before_its_first_visit_a_passage_is_at_that_visits_tempo() -> None:
    found = targets({date(2026, 10, 14): 80}, MONDAYS[:3])
    assert found[0] == (*tempos(80), tempos(80))
    # ten marks from 80 to 120 in the two weeks that are left: five, then all
    assert [target for target, _ in found[1:]] == list(tempos(100, 120))


def test_of_two_visits_in_a_week_the_later_counts() -> None:
    visits = {date(2026, 10, 5): 72, date(2026, 10, 9): 80, date(2026, 10, 12): 84}
    assert targets(visits, MONDAYS[:1] + MONDAYS[1:2])[0] == (*tempos(84), tempos(72, 76, 80, 84))


def test_the_goal_once_played_is_kept() -> None:
    visits = {date(2026, 10, 5): 116, date(2026, 10, 12): 120}
    assert targets(visits, MONDAYS)[1:] == [(GOAL, (GOAL,))] * 3


def test_without_a_visit_there_is_no_target() -> None:
    assert week_targets(MONDAYS, [], GOAL, TraditionalMarks()) == ()


def test_a_sunday_belongs_to_the_week_that_began_on_monday() -> None:
    found = week_targets(
        MONDAYS[:2], [(date(2026, 10, 11), parse_tempo("72"))], GOAL, TraditionalMarks()
    )
    # twelve marks from 72 to 120 in two weeks: six (76 to 96), then all
    assert found[0] == WeekTarget(MONDAYS[0], parse_tempo("96"), tempos(72, 76, 80, 84, 88, 92, 96))
