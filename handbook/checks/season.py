"""Seasons whose hours do not suffice: which laws give way, and what would mend it."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import islice

from handbook.checks.check import check, finding
from handbook.checks.season_hints import mends_hint
from handbook.checks.wording import day, first_few
from handbook.domain.season import Law, MusicKind
from handbook.domain.stretches import stretch_minutes
from handbook.plan.model import (
    CyclePlan,
    DatedGoal,
    EnsemblePlan,
    LawRow,
    PassageRow,
    PieceRow,
    Plan,
    RehearsalRow,
)
from handbook.problems import Address, Note, Problem, Severity

_GOAL = Fraction(100)  # percent
_OF_GOALS = {Law.GOAL, Law.SETTLED}  # which nothing can mend once the last rehearsal is logged
_MOST_NOTES = 3  # of logs, as many as passages are named


@check
def measures_unplayed(plan: Plan) -> Iterator[Problem]:
    """A stage has no time to play every measure.

    In each stage every measure of every piece is played at least once: in a passage, in a
    join of two neighbors, or in a run. It is the last rule that gives way where the hours
    do not suffice. The order in which rules give way is: a passage comes back in time, its
    goal is in time, it reaches its goal at all, every measure is played. The mends told are
    reckoned: each was planned, and is enough by itself.

    Bad:

        - {id: decode, share: 1, minutes: {fundamentals: 9, music: 1}}

    Good:

        - {id: decode, share: 3, minutes: {fundamentals: 1, music: 2}}
    """
    for ensemble, rows in _gave_way(plan, Law.COVERAGE):
        stages: dict[str, list[str]] = {}
        for row in rows:
            stage = f"`{ensemble.rehearsals[row.first].stage.item.id}`"
            stages.setdefault(_music_of(row), []).append(stage)
        told = first_few([f"{what} in {_and(where)}" for what, where in stages.items()])
        yield _problem(
            ensemble,
            Law.COVERAGE,
            f"`{ensemble.item.id}` does not play {told}",
        )


@check
def goal_out_of_reach(plan: Plan) -> Iterator[Problem]:
    """A passage has too few visits to climb to its goal and to be played there twice.

    A visit is a rehearsal in which a passage is played, by itself, in a join or in a run.
    No visit is more than `leap` percent faster than the last one, so that a passage needs
    a certain number of them. After a log they are counted from what was reached; once the
    last rehearsal has a log, goals that were missed are told no more. The mends told are
    reckoned: each was planned, and is enough by itself.

    Bad:

        passages:   # of a cycle of four rehearsals
          - {id: chase, name: The chase, measures: 17-24, goal: quarter = 144}

    Good:

        passages:
          - {id: chase, name: The chase, measures: 17-24, goal: quarter = 112, start: quarter = 96}
    """
    for ensemble, rows in _gave_way(plan, Law.GOAL):
        passages = _rows_by_passage(rows)
        found = _passages(ensemble)
        told = first_few([_reached(ensemble, found[key], own) for key, own in passages.items()])
        yield _problem(
            ensemble,
            Law.GOAL,
            f"{_count(len(passages))} of `{ensemble.item.id}` cannot be played at the goal twice: {told}",
            [found[key] for key in passages],
        )


@check
def goal_too_late(plan: Plan) -> Iterator[Problem]:
    """A passage is at its goal later than it should be.

    Passages are at their goals by the middle of the last stage, or `at_goal` rehearsals
    before the concert, or by their own `lock_by`. Told are passages
    that reach their goals at all. The mends told are reckoned: each was planned, and is
    enough by itself.

    Bad:

        lock_by: 2026-11-02   # the third rehearsal

    Good:

        lock_by: 2026-12-04
    """
    for ensemble, rows in _gave_way(plan, Law.SETTLED):
        missed = {_key(row) for row in _unmet(ensemble, Law.GOAL)}
        found = _passages(ensemble)
        last = [row for row in rows if row.on_the_way is None]
        passages = {key: own for key, own in _rows_by_passage(last).items() if key not in missed}
        if passages:
            told = first_few([_late(ensemble, found[key], own) for key, own in passages.items()])
            yield _problem(
                ensemble,
                Law.SETTLED,
                f"{_count(len(passages))} of `{ensemble.item.id}` "
                f"{'is' if len(passages) == 1 else 'are'} late at the goal: {told}",
                [found[key] for key in passages],
            )


@check
def goal_by_date_too_late(plan: Plan) -> Iterator[Problem]:
    """A passage is not at a tempo on its way by the date that its `goals` give.

    It has too few visits until then to climb there by steps of `leap`. The mends told are
    reckoned: each was planned, and is enough by itself.

    Bad:

        goals: [{by: 2026-10-21, tempo: quarter = 92}]   # the second rehearsal

    Good:

        goals: [{by: 2026-11-18, tempo: quarter = 92}]
    """
    for ensemble, rows in _gave_way(plan, Law.SETTLED):
        found = _passages(ensemble)
        late = [(row, row.on_the_way) for row in rows if row.on_the_way]
        if late:
            told = first_few([_behind(ensemble, found[_key(row)], row, at) for row, at in late])
            mends = ensemble.season.mends if ensemble.season else ()
            hint = "give them later dates or lower tempos under `goals`"
            yield finding(
                f"{_count(len(late))} of `{ensemble.item.id}` "
                f"{'is' if len(late) == 1 else 'are'} behind: {told}",
                ensemble.address,
                f"{hint}; or {mends_hint(ensemble, Law.SETTLED)}" if mends else hint,
                Severity.WARNING,
                tuple(
                    islice(_log_notes(ensemble, [found[_key(row)] for row, _ in late]), _MOST_NOTES)
                ),
            )


def _behind(ensemble: EnsemblePlan, passage: PassageRow, row: LawRow, goal: DatedGoal) -> str:
    by = ensemble.rehearsals[row.last].rehearsal.day
    reached = passage.tempo_by(row.last)
    at = f"{reached.bpm_text} on {day(by)}" if reached else f"not played by {day(by)}"
    return f"`{passage.item.id}` ({at}, not {goal.tempo.bpm_text})"


@check
def passage_away_too_long(plan: Plan) -> Iterator[Problem]:
    """A passage does not come back soon enough.

    Every passage is played in every so many rehearsals in a row: as many as `return_within`
    says, or as the hours usually allow. It is the first rule that gives way where the hours
    do not suffice. The mends told are reckoned: each was planned, and is enough by itself.

    Bad:

        return_within: 2   # with twelve passages

    Good:

        return_within: 5
    """
    for ensemble, rows in _gave_way(plan, Law.RETURN):
        passages = _rows_by_passage(rows)
        told = first_few([_away(ensemble, own) for own in passages.values()])
        window = ensemble.season.window if ensemble.season else 0
        again = "in every rehearsal" if window == 1 else f"back within {window} rehearsals"
        yield _problem(
            ensemble,
            Law.RETURN,
            f"{_count(len(passages))} of `{ensemble.item.id}` "
            f"{'is' if len(passages) == 1 else 'are'} not {again}: {told}",
        )


@check
def run_cut_short(plan: Plan) -> Iterator[Problem]:
    """Runs that are asked of a day do not fit its minutes.

    A run takes the piece's playing time at the goal tempos and `talk` percent more for
    stops and words. A dress rehearsal runs the ensemble's part of the program. Where they
    do not fit, each run gives up minutes in proportion. Told is the first day of each
    ensemble.

    Bad:

        extra:   # three pieces of 24 minutes in all
          - {ensemble: lantern, date: 2026-12-09, start: 3:30 pm, end: 3:55 pm, kind: dress}

    Good:

        extra:
          - {ensemble: lantern, date: 2026-12-09, start: 3:30 pm, end: 4:15 pm, kind: dress}
    """
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            days = [(row, *_run_minutes(cycle, ensemble, row)) for row in ensemble.rehearsals]
            short = [(row, given, wanted) for row, given, wanted in days if given < wanted]
            if short:
                row, given, wanted = short[0]
                others = f"; {_days(len(short) - 1)} too" if len(short) > 1 else ""
                yield finding(
                    f"the runs of `{ensemble.item.id}` on {day(row.rehearsal.day)} have {_minutes(given)}, "
                    f"and take {wanted} at the goal tempos with {cycle.item.talk} percent for words{others}",
                    _entry_of(cycle, ensemble, row),
                    f"find {_minutes(wanted - given, 'more ')} (a later `end`, `fundamentals: none`, smaller "
                    "`slots`), or name fewer pieces under `run`",
                    Severity.WARNING,
                )


def _gave_way(plan: Plan, law: Law) -> Iterator[tuple[EnsemblePlan, Sequence[LawRow]]]:
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            rows = _unmet(ensemble, law)
            if rows and not (law in _OF_GOALS and ensemble.rehearsals[-1].logs):
                yield ensemble, rows


def _unmet(ensemble: EnsemblePlan, law: Law) -> list[LawRow]:
    unmet = ensemble.season.unmet if ensemble.season else ()
    return [row for row in unmet if row.law is law]


def _problem(
    ensemble: EnsemblePlan, law: Law, message: str, passages: Iterable[PassageRow] = ()
) -> Problem:
    notes = tuple(islice(_log_notes(ensemble, passages), _MOST_NOTES))
    hint = mends_hint(ensemble, law)
    return finding(message, ensemble.address, hint, Severity.WARNING, notes)


def _log_notes(ensemble: EnsemblePlan, passages: Iterable[PassageRow]) -> Iterator[Note]:
    """Point at the logs from which the climbs of passages go on."""
    for passage in passages:
        if passage.reached:
            last = passage.reached[-1]
            when = day(ensemble.rehearsals[last.at.place].rehearsal.day)
            said = f"was at {last.at.tempo} on" if last.at.tempo else "was not played on"
            yield Note(f"`{passage.item.id}` {said} {when}, by this log", last.address)


def _key(row: LawRow) -> tuple[str, str]:
    return (row.piece.id if row.piece else "", row.passage.id if row.passage else "")


def _rows_by_passage(rows: Iterable[LawRow]) -> Mapping[tuple[str, str], list[LawRow]]:
    found: dict[tuple[str, str], list[LawRow]] = {}
    for row in rows:
        if row.passage:
            found.setdefault(_key(row), []).append(row)
    return found


def _all_passages(ensemble: EnsemblePlan) -> Iterator[tuple[PieceRow, PassageRow]]:
    return ((piece, passage) for piece in ensemble.pieces for passage in piece.passages)


def _passages(ensemble: EnsemblePlan) -> Mapping[tuple[str, str], PassageRow]:
    return {(piece.item.id, passage.item.id): passage for piece, passage in _all_passages(ensemble)}


def _music_of(row: LawRow) -> str:
    if row.passage:
        return f"`{row.passage.id}`"
    word = "measure" if row.measures and row.measures.count == 1 else "measures"
    return f"{word} {row.measures} of `{row.piece.id if row.piece else ''}`"


def _reached(ensemble: EnsemblePlan, passage: PassageRow, rows: Sequence[LawRow]) -> str:
    """Tell how many visits a passage has of those it needs, and how far it gets with them."""
    lack = max((row.lack for row in rows if not row.first), default=0)
    if not lack:
        first = ensemble.rehearsals[rows[0].first].rehearsal.day
        return f"`{passage.item.id}` (not played from {day(first)} on)"
    have = len(passage.visits)
    told = f"{have} {'visit' if have == 1 else 'visits'} of the {have + lack} it needs"
    if passage.at_goal or not passage.visits:
        return f"`{passage.item.id}` ({told})"
    comes_to = passage.tempo_by(len(ensemble.rehearsals))
    last = comes_to.bpm_text if comes_to else "not played"
    return f"`{passage.item.id}` ({told}: {last} in place of {passage.item.goal})"


def _late(ensemble: EnsemblePlan, passage: PassageRow, rows: Sequence[LawRow]) -> str:
    by = ensemble.rehearsals[max(row.last for row in rows)]
    first = passage.at_goal[0].place if passage.at_goal else None
    if first is None or first <= by.place:
        return (
            f"`{passage.item.id}` (not played in `{by.stage.item.id}` by {day(by.rehearsal.day)})"
        )
    there = ensemble.rehearsals[first].rehearsal.day
    return f"`{passage.item.id}` ({day(there)}, not {day(by.rehearsal.day)})"


def _away(ensemble: EnsemblePlan, rows: Sequence[LawRow]) -> str:
    """Tell the longest time for which a passage is away; windows that follow each other are one."""
    spans: list[tuple[int, int]] = []
    for row in sorted(rows, key=lambda row: row.first):
        if spans and row.first <= spans[-1][1]:
            spans[-1] = (spans[-1][0], row.last)
        else:
            spans.append((row.first, row.last))
    first, last = max(spans, key=lambda span: span[1] - span[0])
    days = [ensemble.rehearsals[place].rehearsal.day for place in (first, last)]
    when = f"on {day(days[0])}" if first == last else f"from {day(days[0])} to {day(days[1])}"
    return f"`{rows[0].passage.id if rows[0].passage else ''}` (not {when})"


def _run_minutes(cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow) -> tuple[int, int]:
    """Give the minutes that a day's ordered runs have, and those that they take at the goal."""
    if not row.day_plan.runs:
        return 0, 0
    pieces = {piece.item.id: piece for piece in ensemble.pieces}
    wanted = [
        stretch_minutes(pieces[run].seconds, _GOAL, cycle.item.talk)
        for run in row.day_plan.runs
        if run in pieces and pieces[run].passages
    ]
    runs = [
        block.minutes
        for block in row.blocks
        if block.stretch and block.stretch.kind is MusicKind.RUN
    ]
    return sum(runs[: len(wanted)]), sum(wanted)


def _entry_of(cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow) -> Address:
    entry = next((one for one in row.entries if one.item.kind or one.item.run), None)
    return (*cycle.address, entry.field, entry.place) if entry else ensemble.address


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _count(passages: int) -> str:
    return "1 passage" if passages == 1 else f"{passages} passages"


def _days(count: int) -> str:
    return "1 other day" if count == 1 else f"{count} other days"


def _minutes(count: int, more: str = "") -> str:
    return f"1 {more}minute" if count == 1 else f"{count} {more}minutes"
