"""`handbook plan` with a what-if: the season that would be, beside the one that is; nothing is written."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime

import click

from handbook.checks import season, texts
from handbook.checks.check import code_of
from handbook.cli.asked_day import asked_day
from handbook.cli.change_lines import change_lines, how_many, reader_names
from handbook.cli.exit_codes import Exit, Misuse
from handbook.cli.what_if_lines import LEGEND, season_lines, verdict, wrapped, yaml_lines
from handbook.cli.what_if_values import what_if_values
from handbook.domain.facts import FactChange, compare
from handbook.outputs.facts import facts_of
from handbook.pipeline import Outcome, plan_anew
from handbook.plan.climbs import SeasonChange, season_changes
from handbook.plan.content_lines import Altered
from handbook.plan.model import Plan
from handbook.plan.what_if import (
    Asked,
    LostDay,
    MovedConcert,
    NotThereError,
    OtherGoal,
    Wishes,
    asked,
    such_a_goal,
)
from handbook.plan.what_if_mends import ReckonedMend, Trial, mends_for
from handbook.problems import Problem, Severity
from handbook.records import dataclass
from handbook.schema.handbook import Handbook
from handbook.source.source_map import SourceMap

_GOAL = re.compile(r"(?P<piece>[^/=]+)/(?P<passage>[^/=]+)=(?P<tempo>.+)")
# What is told of each season anyway, and what counts the texts of a file, which a new one changes.
_TOLD_ELSEWHERE = frozenset(
    map(
        code_of,
        (
            season.measures_unplayed,
            season.goal_out_of_reach,
            season.goal_too_late,
            season.goal_by_date_too_late,
            season.passage_away_too_long,
        ),
    )
) | {code_of(texts.missing_translation)}


class _UnreadGoalError(ValueError):
    """A wish for a goal that is not as such a wish is written; `piece` is what it begins with."""

    def __init__(self, text: str) -> None:
        super().__init__(f"--goal `{text}` does not name a passage and its tempo")
        self.piece = re.split("[/=]", text, maxsplit=1)[0].strip()


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What the command was asked, word by word."""

    without: tuple[str, ...] = ()
    without_pieces: tuple[str, ...] = ()
    concerts: tuple[str, ...] = ()
    goals: tuple[str, ...] = ()
    since: str | None = None


@dataclass(frozen=True, slots=True)
class WhatIfAnswer:
    """What would come of it: `seasons` of ensembles that change, each with what mends it."""

    asked: Asked
    plan: Plan
    changes: tuple[FactChange, ...]
    problems: tuple[str, ...]
    seasons: tuple[tuple[SeasonChange, tuple[ReckonedMend, ...]], ...]
    same: tuple[SeasonChange, ...]


def tell_what_if(
    outcome: Outcome,
    what_if: WhatIf,
    cycles: tuple[str, ...],
    ensembles: tuple[str, ...],
    *,
    every: bool,
    as_json: bool,
) -> int:
    """Print what would come of it, as text of 80 columns or as JSON.

    `every` lists all tempos and passages. Raises Misuse for what is not in the content.
    """
    assert outcome.plan is not None
    assert outcome.handbook is not None
    today = today_in(outcome.plan)
    try:
        wishes = _wishes(what_if, cycles, today)
    except _UnreadGoalError as error:
        example = such_a_goal(outcome.handbook, outcome.plan, error.piece, cycles, today)
        such_as = f", such as {example}" if example else ""
        raise Misuse(f"{error}: write PIECE/PASSAGE=TEMPO{such_as}") from error
    try:
        found = asked(outcome.handbook, outcome.plan, wishes)
    except NotThereError as error:
        raise Misuse(str(error)) from error
    known = {(one.code, one.message) for one in outcome.problems}
    plan, problems = plan_anew(found.altered.handbook)
    told = _new(problems, known, outcome.sources)
    if plan is None:
        _tell_impossible(found, told)
        return Exit.PROBLEMS
    answer = _answer(outcome, plan, found, told, ensembles, wishes, problems)
    if as_json:
        values = what_if_values(answer.asked, answer.changes, answer.problems, answer.seasons)
        click.echo(json.dumps(values, indent=2, ensure_ascii=False).encode())
        return Exit.CLEAN
    names = reader_names(outcome.plan, plan)
    for line in _lines(answer, names, every=every):
        click.echo(line)
    return Exit.CLEAN


def today_in(plan: Plan) -> date:
    """Give the day it is where the program is."""
    return datetime.now(plan.zone).date()


def _wishes(what_if: WhatIf, cycles: tuple[str, ...], today: date) -> Wishes:
    return Wishes(
        lost=tuple(map(_lost, what_if.without)),
        pieces=what_if.without_pieces,
        concerts=tuple(map(_moved, what_if.concerts)),
        goals=tuple(map(_goal, what_if.goals)),
        since=asked_day(what_if.since, "--from") if what_if.since else None,
        today=today,
        cycles=cycles,
    )


def _lost(text: str) -> LostDay:
    day, _, band = text.partition(":")
    return LostDay(asked_day(day, "--without"), band.strip() or None)


def _moved(text: str) -> MovedConcert:
    name, given, day = text.rpartition("=")
    return MovedConcert(asked_day(day, "--concert-on"), name.strip() if given else None)


def _goal(text: str) -> OtherGoal:
    found = _GOAL.fullmatch(text)
    if not found:
        raise _UnreadGoalError(text)
    return OtherGoal(*(part.strip() for part in found.groups()))


def _new(
    problems: Sequence[Problem], known: set[tuple[str, str]], sources: SourceMap
) -> tuple[str, ...]:
    """Tell the problems that the content does not have now, with their file and line, errors first."""
    new = [
        one
        for one in problems
        if (one.code, one.message) not in known and one.code not in _TOLD_ELSEWHERE
    ]
    new.sort(key=lambda one: one.severity is not Severity.ERROR)
    return tuple(
        dict.fromkeys(
            f"{one.severity.value}: {one.message} ({_place(one, sources)})" for one in new
        )
    )


def _place(problem: Problem, sources: SourceMap) -> str:
    position = sources.position(problem.address)
    return f"{problem.file}:{position.line}" if position else problem.file


def _tell_impossible(found: Asked, told: Sequence[str]) -> None:
    click.echo(f"What if: {'; '.join(found.sentences)}", err=True)
    click.echo("That cannot be planned as it is:", err=True)
    for one in told:
        for line in wrapped(f"- {one}", indent="  "):
            click.echo(f"  {line}", err=True)
    click.echo("handbook: nothing was planned, and nothing was written", err=True)


def _answer(
    outcome: Outcome,
    after: Plan,
    found: Asked,
    told: tuple[str, ...],
    ensembles: tuple[str, ...],
    wishes: Wishes,
    problems: Sequence[Problem],
) -> WhatIfAnswer:
    before = outcome.plan
    assert before is not None
    facts = (facts_of(plan) for plan in (before, after))
    every = tuple(
        one
        for one in season_changes(before, after)
        if not ensembles or one.plan.item.id in ensembles
    )
    known = {(one.code, one.message) for one in problems}

    def trial(handbook: Handbook) -> tuple[Plan | None, tuple[str, ...]]:
        plan, wrong = plan_anew(handbook, whole=False)
        return plan, _new(wrong, known, outcome.sources)

    sooner = _sooner(outcome, wishes, found)
    seasons = tuple(
        (one, _mends(one, found, after, trial, wishes.today, sooner))
        for one in every
        if not one.is_none
    )
    cycles = {one.cycle for one, _ in seasons}
    same = tuple(one for one in every if one.is_none and one.cycle in cycles)
    return WhatIfAnswer(found, after, compare(*facts), told, seasons, same)


def _sooner(outcome: Outcome, wishes: Wishes, found: Asked) -> Altered | None:
    """Give the content if what lies ahead is known today, where nothing says since when it is."""
    if wishes.since is not None or wishes.today >= found.first or not wishes.lost:
        return None
    assert outcome.plan is not None
    assert outcome.handbook is not None
    return asked(outcome.handbook, outcome.plan, replace(wishes, since=wishes.today)).altered


def _mends(
    change: SeasonChange,
    found: Asked,
    after: Plan,
    trial: Trial,
    today: date,
    sooner: Altered | None,
) -> tuple[ReckonedMend, ...]:
    cycle = next(one for one in after.cycles if one.id == change.cycle)
    told = max(found.first, today) if today <= cycle.last else found.first
    return mends_for(change, found.altered, after, trial, told, sooner)


def _in_short(answer: WhatIfAnswer) -> Iterator[str]:
    """Give a line for each band: its rehearsals, and how much gives way."""
    language = answer.plan.languages[0]
    for change, mends in answer.seasons:
        yield from wrapped(
            f"- {change.plan.item.name.read(language)}: {verdict(change, mends)}", indent="  "
        )
    for change in answer.same:
        yield f"- {change.plan.item.name.read(language)}: rehearses as before"
    if not answer.seasons:
        yield "- Every band rehearses as before"


def _lines(answer: WhatIfAnswer, names: Mapping[str, str], *, every: bool) -> Iterator[str]:
    yield from wrapped(f"What if: {'; '.join(answer.asked.sentences)}", indent="  ")
    yield ""
    yield from _in_short(answer)
    for note in answer.asked.notes:
        yield ""
        yield from wrapped(note)
    yield ""
    yield from change_lines(answer.changes, names, every=every, all_by="--all lists them")
    if answer.changes:
        yield f"{how_many(answer.changes)}."
    for change, mends in answer.seasons:
        yield ""
        yield from season_lines(change, mends, answer.plan, answer.asked.first, every=every)
    if answer.seasons:
        yield ""
        yield from wrapped(LEGEND)
    if answer.problems:
        yield ""
        yield "`handbook check` would say:"
        for one in answer.problems:
            yield from (f"  {line}" for line in wrapped(f"- {one}", indent="  "))
    yield ""
    yield "The lines that would do it:"
    yield from yaml_lines(answer.asked.altered.lines)
    yield ""
    yield "Nothing was written."
