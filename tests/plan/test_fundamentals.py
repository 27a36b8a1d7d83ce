"""Fundamentals in the plan: levels from cycle to cycle, minutes of exercises, habits of the day."""

from __future__ import annotations

from pathlib import Path

from handbook.plan.model import EnsemblePlan
from tests.content_folders import base_files
from tests.plan.planning import CYCLE, MUSIC, YEAR, ensemble, lantern, planned

FUNDAMENTALS = """\
strands:
  - id: breathing
    name: Breathing
    why: Air first
    exercises:
      - {id: in-four, name: In four, level: 1, rehearsals: 3}
      - {id: in-two, name: In two, level: 2, rehearsals: 3}
      - {id: in-one, name: In one, level: 3, rehearsals: 60}
warm_ups:
  - {level: 1, name: Long notes, steps: [Hold one note]}
  - {level: 2, name: Five notes, steps: [Up and down]}
"""


def test_fundamentals_go_on_where_the_last_cycle_ended(tmp_path: Path) -> None:
    files = base_files()
    before = (
        files[CYCLE].replace("Mon 2026-10-19", "Mon 2026-08-24").replace("Winter", "First")
        + "ends: 2026-10-02\n"
    )
    result = planned(
        tmp_path,
        {
            "fundamentals.yaml": FUNDAMENTALS,
            "cycles/first/cycle.yaml": before,
            "cycles/first/music.yaml": files[MUSIC],
        },
    )
    first, second = (ensemble(cycle, "lantern") for cycle in result.plan.cycles)
    assert first.strands[0].first_level == 1
    assert second.strands[0].first_level == 3
    assert [first.warm_up and first.warm_up.level, second.warm_up and second.warm_up.level] == [
        1,
        2,
    ]
    exercises = [exercise.id for _, exercise in first.strands[0].appearances]
    assert exercises[:4] == ["in-four", "in-four", "in-four", "in-two"]


def _two_years(tmp_path: Path, *, new_players: str) -> list[EnsemblePlan]:
    """Plan Lantern's autumn of one year and of the next."""
    files = base_files()
    later = files[YEAR].replace("2026-", "2027-").replace("Mon 2027", "2027")
    for weekday in ("Mon ", "Fri ", "Thu ", "Wed ", "Tue "):
        later = later.replace(f"{weekday}20", "20")
    later = later.replace("last_day: 2027-06-04", "last_day: 2028-06-02")
    autumn = files[CYCLE].replace("Winter", "Autumn")
    result = planned(
        tmp_path,
        {
            "fundamentals.yaml": FUNDAMENTALS,
            "program.yaml": files["program.yaml"].replace(
                "trumpet: 7}", "trumpet: 7}\n    starts_at: 2"
            ),
            "years/2027-28.yaml": f"{later}{new_players}",
            "cycles/autumn/cycle.yaml": autumn.replace("year: 2026-27", "year: 2027-28").replace(
                "Mon 2026-10-19", "2027-09-20"
            )
            + "ends: 2027-10-08\n",
            "cycles/autumn/music.yaml": files[MUSIC],
            "cycles/late/cycle.yaml": autumn.replace("year: 2026-27", "year: 2027-28")
            .replace("Mon 2026-10-19", "2027-10-11")
            .replace("Autumn", "Late")
            + "ends: 2027-11-19\n",
            "cycles/late/music.yaml": files[MUSIC],
        },
    )
    return [ensemble(cycle, "lantern") for cycle in result.plan.cycles]


def _begins(plan: EnsemblePlan) -> tuple[int, int | None]:
    return plan.strands[0].first_level, plan.warm_up.level if plan.warm_up else None


def test_an_ensemble_starts_at_its_level(tmp_path: Path) -> None:
    """Level 2 of strands and warm-up; the next cycles go on from there."""
    winter_plan, autumn, late = _two_years(tmp_path, new_players="")
    assert _begins(winter_plan) == (2, 2)
    assert winter_plan.strands[0].appearances[0][1].id == "in-two"
    assert [_begins(autumn), _begins(late)] == [(3, 2), (3, 2)]


def test_new_players_begin_anew_in_the_first_cycle_of_their_year(tmp_path: Path) -> None:
    _, autumn, late = _two_years(tmp_path, new_players="new_players: [lantern]\n")
    assert [_begins(autumn), _begins(late)] == [(2, 2), (3, 2)]


def test_a_strand_may_start_at_a_level_of_its_own(tmp_path: Path) -> None:
    program = base_files()["program.yaml"].replace(
        "trumpet: 7}", "trumpet: 7}\n    starts_at: 2\n    strands_start_at: {breathing: 3}"
    )
    plan = lantern(planned(tmp_path, {"fundamentals.yaml": FUNDAMENTALS, "program.yaml": program}))
    assert _begins(plan) == (3, 2)


HABITS = """\
habits:
  - {id: entering, name: Entering, text: Walk in}
  - {id: posture, name: Posture, text: Feet flat}
  - {id: care, name: Care, text: Swab it}
"""


def test_habits_take_turns_and_a_day_may_state_one(tmp_path: Path) -> None:
    """Lantern's third rehearsal (Mon, Wed from 2026-10-19) states its own; one for all gives way to it."""
    days = (
        "days:\n"
        "  - {date: 2026-10-26, habit: entering}\n"
        "  - {date: 2026-10-26, ensemble: lantern, habit: care}\n"
        "  - {date: 2026-10-28, ensemble: harbor, habit: posture}\n"
    )
    rows = lantern(
        planned(tmp_path, {"fundamentals.yaml": HABITS, CYCLE: base_files()[CYCLE] + days})
    ).rehearsals
    told = [row.habit.id for row in rows if row.habit]
    assert len(told) == len(rows)
    assert told[2] == "care"
    counts = [told.count(habit) for habit in ("entering", "posture", "care")]
    assert max(counts) - min(counts) <= 1


def test_without_habits_none_is_told(tmp_path: Path) -> None:
    assert {row.habit for row in lantern(planned(tmp_path)).rehearsals} == {None}


def test_minutes_of_an_exercise_reach_the_rehearsal(tmp_path: Path) -> None:
    """45 minutes less 16 fixed are 29; a third is 10: the 2 stated, and 8 of the free strand."""
    both = """\
order: [tone, breathing]
strands:
  - id: breathing
    name: Breathing
    why: Air first
    exercises: [{id: in-four, name: In four, level: 1, minutes: 2, most_minutes: 3}]
  - id: tone
    name: Tone
    why: Sound
    exercises: [{id: long, name: Long, level: 1}]
"""
    first = lantern(planned(tmp_path, {"fundamentals.yaml": both})).rehearsals[0]
    worked = [
        (b.strand.id, b.exercise.id, b.minutes) for b in first.blocks if b.strand and b.exercise
    ]
    assert worked == [("tone", "long", 8), ("breathing", "in-four", 2)]


def test_a_day_sets_its_minutes_of_fundamentals_and_its_slots(tmp_path: Path) -> None:
    """45 minutes less 4, 6, 3 and 3 are 29; the second day has 8 for set-up, so 25, 5 of them breathing."""
    days = "days:\n  - {date: 2026-10-21, fundamentals: 5, slots: {set_up: 8}}\n  - {date: 2026-10-26, fundamentals: none}\n"
    rows = lantern(
        planned(tmp_path, {"fundamentals.yaml": FUNDAMENTALS, CYCLE: base_files()[CYCLE] + days})
    ).rehearsals
    sums = [
        [sum(block.minutes for block in row.blocks if block.kind == kind) for row in rows[1:3]]
        for kind in ("set_up", "fundamentals", "music")
    ]
    assert sums == [[8, 4], [5, 0], [20, 29]]
