"""Goal tempos beside the form, the start and the days by which they are reached."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from handbook.checks import traversal
from handbook.checks.check import check, check_of, finding
from handbook.checks.wording import day, measures_named
from handbook.domain.values.tempo import LooseTempo, Tempo
from handbook.plan.music import GOAL_BELOW_START
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook, concert_id
from handbook.schema.music import GoalByDate, Part, Passage, Piece, goals_of
from handbook.source.names import listed


@check_of(GOAL_BELOW_START)
def goal_below_start(handbook: Handbook) -> Iterator[Problem]:
    """Compare the start that is written with the goal."""
    for address, passage, piece in traversal.passages(handbook):
        start, goal = passage.start, passage.goal
        if start is not None and start.quarters_per_minute > goal.quarters_per_minute:
            yield finding(
                f"the start, {start}, is faster than the goal, {goal}",
                (*address, "start"),
                "start at or below the goal, or leave `start` out to begin by the stage",
                notes=(_goal_note(address, passage, piece),),
            )


def _goal_note(address: Address, passage: Passage, piece: Piece) -> Note:
    """Point at the goal, or at the form's tempo where the passage has none of its own."""
    if passage.says_goal:
        return Note("the goal is here", (*address, "goal"))
    place = next((n for n, p in enumerate(piece.form) if p.measures.overlaps(passage.measures)), 0)
    return Note("the form's tempo is here", (*_piece_of(address), "form", place, "tempo"))


@check
def goal_unlike_form(handbook: Handbook) -> Iterator[Problem]:
    """A passage's goal is not the tempo that the form gives its measures.

    The form says how fast the piece is played, and its duration follows from that; the goal
    is what students practice toward. Two tempos for the same measures are mostly a slip of
    the hand in one of them. A passage that runs through several parts may have the tempo of
    any of them.

    Bad:

        form:
          - {name: Whole, measures: 1-40, meter: 4/4, tempo: quarter = 92}
        passages:
          - {id: end, name: End, measures: 33-40, goal: quarter = 29}

    Good:

        passages:
          - {id: end, name: End, measures: 33-40, goal: quarter = 92}
    """
    for address, passage, piece in traversal.passages(handbook):
        if not passage.says_goal:
            continue
        parts = _steady_parts(passage, piece)
        alike = [n for n in parts if piece.form[n].tempo.beat == passage.goal.beat]
        if alike and not any(_is_played_at(passage.goal, piece.form[n]) for n in parts):
            yield finding(
                f"the goal is {passage.goal}, but the form plays these measures at {_tempos(piece.form[alike[0]])}",
                (*address, "goal"),
                "write the same tempo in both places",
                Severity.WARNING,
                (
                    Note(
                        "the form's tempo is here", (*_piece_of(address), "form", alike[0], "tempo")
                    ),
                ),
            )


@check
def goal_missing(handbook: Handbook) -> Iterator[Problem]:
    """A passage has no goal of its own, and the form has several tempos for its measures.

    A passage without `goal` has the tempo that the form gives its measures. Where the form
    has two, only the director knows which one is practiced.

    Bad:

        form:
          - {name: Verse, measures: 1-16, meter: 4/4, tempo: quarter = 96}
          - {name: Trio, measures: 17-40, meter: 4/4, tempo: quarter = 80}
        passages:
          - {id: turn, name: The turn, measures: 13-20}

    Good:

        passages:
          - {id: turn, name: The turn, measures: 13-20, goal: quarter = 80}
    """
    for address, passage, piece in traversal.passages(handbook):
        found = [] if passage.says_goal else goals_of(piece.form, passage.measures)
        if len(found) > 1:
            yield finding(
                f"`{passage.id}` has no goal, and the form plays {measures_named(passage.measures)} at {listed(map(str, found))}",
                (*address, "measures"),
                f"write {listed((f'goal: {tempo}' for tempo in found), 'or')}",
                notes=(Note("the form is here", (*_piece_of(address), "form")),),
            )


def _steady_parts(passage: Passage, piece: Piece) -> list[int]:
    """List the parts that hold measures of a passage and have a beat to compare its goal with."""
    return [
        n
        for n, part in enumerate(piece.form)
        if part.measures.overlaps(passage.measures) and not part.tempo.free
    ]


@check
def free_part_moves(handbook: Handbook) -> Iterator[Problem]:
    """A part of the form is free, and its tempo is to move to another.

    What is free has no steady beat that could move.

    Bad:

        form:
          - {name: Whole, measures: 1-24, meter: 4/4, tempo: free, tempo_to: quarter = 60}

    Good:

        form:
          - {name: Whole, measures: 1-24, meter: 4/4, tempo: "free, about quarter = 60"}
    """
    for address, piece in traversal.all_pieces(handbook):
        for place, part in enumerate(piece.form):
            if part.tempo.free and part.tempo_to is not None:
                yield finding(
                    "a part with a free tempo moves to no other",
                    (*address, "form", place, "tempo_to"),
                    "take it out, or make two parts",
                    notes=(Note("it is free here", (*address, "form", place, "tempo")),),
                )


@check
def climb_in_free_part(handbook: Handbook) -> Iterator[Problem]:
    """A passage in a free part has a start, and no climb that could use it.

    What is free is practiced without a click. With a `goal` of its own a passage is practiced
    in time first, with a climb and a click as any other.

    Bad:

        form: [{name: Whole, measures: 1-24, meter: 4/4, tempo: free}]
        passages: [{id: opening, name: Opening, measures: 1-8, start: quarter = 40}]

    Good:

        form: [{name: Whole, measures: 1-24, meter: 4/4, tempo: free}]
        passages: [{id: opening, name: Opening, measures: 1-8, goal: quarter = 60, start: quarter = 40}]
    """
    for address, passage, piece in traversal.passages(handbook):
        if not passage.goal.free:
            continue
        for field in _OF_A_CLIMB:
            if field in passage.model_fields_set:
                place = next(n for n, p in enumerate(piece.form) if p.tempo.free)
                yield finding(
                    f"`{passage.id}` is free, so it has no climb, and `{field}` changes nothing",
                    (*address, field),
                    f"take `{field}` out, or give the passage a `goal` to practice it in time first",
                    Severity.WARNING,
                    (Note("it is free here", (*_piece_of(address), "form", place, "tempo")),),
                    on_key=True,
                )


_OF_A_CLIMB = ("start", "goals")


def _is_played_at(tempo: Tempo, part: Part) -> bool:
    if isinstance(part.tempo, LooseTempo) and part.tempo.least and part.tempo.most:
        ends = (part.tempo.least, part.tempo.most)
        speeds = [bpm * part.tempo.beat.quarters for bpm in ends]
        speeds += [part.tempo_to.quarters_per_minute] if part.tempo_to else []
    else:
        speeds = [one.quarters_per_minute for one in (part.tempo, part.tempo_to) if one]
    return min(speeds) <= tempo.quarters_per_minute <= max(speeds)


def _tempos(part: Part) -> str:
    return f"{part.tempo} to {part.tempo_to}" if part.tempo_to else str(part.tempo)


@check
def goal_counts_other_note(handbook: Handbook) -> Iterator[Problem]:
    """A passage's goal counts another note than the piece does at those measures.

    A click on dotted quarters helps in 6/8, one on quarters does not; most often the wrong
    note was copied.

    Bad:

        form:
          - {name: Jig, measures: 1-32, meter: 6/8, tempo: dotted quarter = 96}
        passages:
          - {id: jig, name: The jig, measures: 1-8, goal: quarter = 96}

    Good:

        passages:
          - {id: jig, name: The jig, measures: 1-8, goal: dotted quarter = 96}
    """
    for address, passage, piece in traversal.passages(handbook):
        if not passage.says_goal:
            continue
        parts = _steady_parts(passage, piece)
        beats = [piece.form[n].tempo.beat for n in parts]
        if beats and passage.goal.beat not in beats:
            yield finding(
                f"the goal counts the {passage.goal.beat.name}, but the piece counts the {beats[0].name} here",
                (*address, "goal"),
                f"write `{beats[0].name} = …`, if the beat is meant",
                Severity.WARNING,
                (
                    Note(
                        "the piece's tempo is here",
                        (*_piece_of(address), "form", parts[0], "tempo"),
                    ),
                ),
            )


def _piece_of(passage: Address) -> Address:
    return passage[:3]


@check
def lock_outside_cycle(handbook: Handbook) -> Iterator[Problem]:
    """A passage is to reach its goal by a date outside its cycle.

    Bad:

        lock_by: 2027-12-04   # the concert is on 2026-12-10

    Good:

        lock_by: 2026-12-04
    """
    for content in handbook.cycles:
        span = traversal.whole_days(content)
        for address, passage in traversal.passages_of(content) if span else ():
            named = [((*address, "lock_by"), passage.lock_by)]
            named += [((*address, "goals", n, "by"), one.by) for n, one in enumerate(passage.goals)]
            for at, by in named:
                if span and isinstance(by, date) and not span[0] <= by <= span[1]:
                    yield finding(
                        f"{day(by)} is outside the cycle ({span[0]} to {span[1]})",
                        at,
                        "name a date within the cycle, or a stage",
                    )


@check
def goals_not_rising(handbook: Handbook) -> Iterator[Problem]:
    """The tempos of a passage on its way to the goal do not rise from its start to its goal.

    A ladder never descends. Each of the `goals` is faster than the one before it and no
    faster than the goal; those with dates stand in the order of their dates.

    Bad:

        goal: quarter = 96
        goals: [{by: 2026-11-12, tempo: quarter = 88}, {by: 2026-11-19, tempo: quarter = 80}]

    Good:

        goal: quarter = 96
        goals: [{by: 2026-11-12, tempo: quarter = 80}, {by: 2026-11-19, tempo: quarter = 88}]
    """
    for content in handbook.cycles:
        stages = {stage.id: place for place, stage in enumerate(content.cycle.item.stages)}
        concerts = {concert_id(one.file): one.item.date for one in content.concerts}
        for address, passage in traversal.passages_of(content):
            before = ("start", passage.start) if passage.start else None
            latest: dict[bool, tuple[int, GoalByDate]] = {}
            for place, goal in enumerate(passage.goals):
                at = (*address, "goals", place)
                due = concerts.get(goal.by, goal.by) if isinstance(goal.by, str) else goal.by
                when = due.toordinal() if isinstance(due, date) else stages.get(due)
                kind = isinstance(due, date)
                earlier = latest.get(kind)
                if when is not None and earlier and when <= earlier[0]:
                    yield finding(
                        f"`{_by(goal)}` does not come after `{_by(earlier[1])}`, which stands before it",
                        (*at, "by"),
                        "list the goals in the order of their dates",
                    )
                if when is not None:
                    latest[kind] = when, goal
                yield from _not_rising(address, at, passage, goal, before)
                before = ("one before it", goal.tempo)


def _by(goal: GoalByDate) -> str:
    return str(goal.by)


def _not_rising(
    passage_at: Address,
    at: Address,
    passage: Passage,
    goal: GoalByDate,
    before: tuple[str, Tempo] | None,
) -> Iterator[Problem]:
    speed = goal.tempo.quarters_per_minute
    if speed > passage.goal.quarters_per_minute and not passage.goal.free:
        yield finding(
            f"{goal.tempo} is faster than the goal, {passage.goal}",
            (*at, "tempo"),
            "keep it at or below the goal, or raise `goal`",
            notes=(Note("the goal is here", (*passage_at, "goal")),) if passage.says_goal else (),
        )
    elif before and not passage.goal.free and speed <= before[1].quarters_per_minute:
        yield finding(
            f"{goal.tempo} is no faster than the {before[0]}, {before[1]}",
            (*at, "tempo"),
            "let each be faster than the one before it",
        )
