"""Warm-ups that could not play as they are written."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, finding, once_a_name
from handbook.checks.wording import unknown
from handbook.domain.warm_up_timeline import stated_seconds
from handbook.plan.model import Plan
from handbook.plan.warm_ups import exercises_by_id, step_rows, usual_warm_up_minutes
from handbook.problems import Problem, Severity
from handbook.schema.handbook import Handbook

_MINUTE = 60


@check
@once_a_name
def unknown_exercise(handbook: Handbook) -> Iterator[Problem]:
    """A step of a warm-up names an exercise that no strand has.

    A step that is only words needs no exercise.

    Bad:

        strands:
          - {id: tone, name: Tone, why: It is heard, exercises: [{id: swells, name: Swells, level: 1}]}
        warm_ups:
          - {level: 1, name: First sounds, steps: [{exercise: swels}]}

    Good:

        strands:
          - {id: tone, name: Tone, why: It is heard, exercises: [{id: swells, name: Swells, level: 1}]}
        warm_ups:
          - {level: 1, name: First sounds, steps: [{exercise: swells}]}
    """
    known = {exercise.id for _, exercise in traversal.exercises(handbook)}
    for address, step in traversal.warm_up_steps(handbook):
        if step.exercise is not None and step.exercise not in known:
            where = "to a strand in fundamentals.yaml"
            yield unknown("exercise", step.exercise, (*address, "exercise"), known, where)


@check
def step_without_words(handbook: Handbook) -> Iterator[Problem]:
    """A step of a warm-up names no exercise and has no text.

    Nobody would know what to play.

    Bad:

        warm_ups:
          - {level: 1, name: First sounds, steps: [{tempo: quarter = 66, minutes: 1}]}

    Good:

        warm_ups:
          - {level: 1, name: First sounds, steps: [{text: Long tones, tempo: quarter = 66, minutes: 1}]}
    """
    for address, step in traversal.warm_up_steps(handbook):
        if step.exercise is None and step.text is None:
            yield finding(
                "this step says neither which exercise it is nor what is done",
                address,
                "add `exercise:` or `text:`",
            )


@check
def drone_over_recording(handbook: Handbook) -> Iterator[Problem]:
    """A step of a warm-up has a drone and a recording.

    Both would sound at once.

    Bad:

        warm_ups:
          - {level: 1, name: First sounds, steps: [{text: Hum along, drone: Bb, media: long-tones.mp3}]}

    Good:

        warm_ups:
          - {level: 1, name: First sounds, steps: [{text: Hum along, drone: Bb}]}
    """
    for address, step in traversal.warm_up_steps(handbook):
        if step.drone is not None and step.media is not None:
            yield finding(
                "this step has a drone and a recording, which would sound at once",
                (*address, "drone"),
                "leave one of them out, or make two steps",
                on_key=True,
            )


@check
def warm_up_over_slot(plan: Plan) -> Iterator[Problem]:
    """The steps of a warm-up state more time than its band has for it.

    All steps are shortened alike until they fit. Rests count, and 20 seconds for each step
    that states no time. A band has the minutes of `slots`, the usual ones of its cycle.

    Bad:

        warm_ups:
          - level: 1
            name: First sounds
            steps: [{text: Long tones, minutes: 20}]   # and 6 minutes of warm-up

    Good:

        warm_ups:
          - level: 1
            name: First sounds
            steps: [{text: Long tones, minutes: 5}]
    """
    exercises = exercises_by_id(plan.fundamentals.strands)
    told: set[int] = set()
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            warm_up, minutes = ensemble.warm_up, usual_warm_up_minutes(ensemble)
            if warm_up is None or not minutes or warm_up.level in told:
                continue
            asked = stated_seconds([row.need for row in step_rows(warm_up, exercises)])
            if asked > minutes * _MINUTE:
                told.add(warm_up.level)
                yield finding(
                    f"the warm-up of level {warm_up.level} states {asked // _MINUTE}:{asked % _MINUTE:02} minutes, "
                    f"and `{ensemble.band}` has {minutes} for it in `{cycle.id}`",
                    (*cycle.address, "slots"),
                    "make its steps shorter, or give `warm_up` more minutes",
                    Severity.WARNING,
                )
