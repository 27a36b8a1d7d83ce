"""Passages and forms that do not fit together."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

from handbook.checks import traversal
from handbook.checks.check import check, check_of, finding
from handbook.checks.wording import day, unknown
from handbook.domain.road_map import RouteFault, Sign, route_faults, signs_by_part
from handbook.domain.values.measures import MeasureSpan
from handbook.domain.values.tempo import LooseTempo, Tempo
from handbook.plan.music import GOAL_BELOW_START
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook, concert_id
from handbook.schema.music import GoalByDate, Part, Passage, Piece, goals_of
from handbook.source.names import listed

_MOST_PASSAGES = 200  # of a band in a cycle: our own limit, some ten times a usual program's


@check
def too_many_passages(handbook: Handbook) -> Iterator[Problem]:
    """A band has more than 200 passages in one cycle.

    No season has the hours: each would be played once or never. Most often a file holds
    several years' music.

    Bad:

        passages:
          - {id: measure-1, name: Measure 1, measures: 1, goal: quarter = 96}
          - {id: measure-2, name: Measure 2, measures: 2, goal: quarter = 96}   # and so on to 201

    Good:

        passages:
          - {id: opening, name: Opening, measures: 1-16, goal: quarter = 96}
    """
    for content in handbook.cycles:
        counts: Counter[str] = Counter()
        for address, piece in traversal.pieces(content):
            for band in piece.played_by:
                before = counts[band]
                counts[band] += len(piece.passages)
                if before <= _MOST_PASSAGES < counts[band]:
                    yield finding(
                        f"from here on `{band}` has more than {_MOST_PASSAGES} passages in this cycle",
                        (*address, "passages"),
                        "name only what is to be practiced on its own, and keep other cycles' music in theirs",
                        on_key=True,
                    )


@check
def piece_without_ensemble(handbook: Handbook) -> Iterator[Problem]:
    """A piece does not say who plays it.

    Bad:

        - {id: button-comets, title: Button Comets}

    Good:

        - {id: button-comets, title: Button Comets, ensemble: lantern}
    """
    for address, piece in traversal.all_pieces(handbook):
        if not piece.played_by:
            yield finding(
                f"`{piece.id}` does not say who plays it",
                (*address, "id"),
                "add `ensemble:` with the id of a band, or `ensembles:` with those of several",
            )


@check
def ensemble_said_twice(handbook: Handbook) -> Iterator[Problem]:
    """A piece says both `ensemble` and `ensembles`, and only one can hold.

    Bad:

        ensemble: lantern
        ensembles: [lantern, harbor]

    Good:

        ensembles: [lantern, harbor]
    """
    for address, piece in traversal.all_pieces(handbook):
        if piece.ensemble and piece.ensembles:
            yield finding(
                f"`{piece.id}` has `ensemble` and `ensembles`, and only one can hold",
                (*address, "ensemble"),
                "keep `ensemble` for one band, or `ensembles` for several",
                notes=(Note("`ensembles` is here", (*address, "ensembles")),),
                on_key=True,
            )


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
                f"`{passage.id}` has no goal, and the form plays {_measures(passage.measures)} at {listed(map(str, found))}",
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
def measures_outside_form(handbook: Handbook) -> Iterator[Problem]:
    """A passage, a rhythm or a watch point names measures that the piece's form does not have.

    Bad:

        form:
          - {name: Whole, measures: 1-40, meter: 4/4, tempo: quarter = 96}
        passages:
          - {id: end, name: End, measures: 37-48, goal: quarter = 96}

    Good:

        passages:
          - {id: end, name: End, measures: 37-40, goal: quarter = 96}
    """
    for address, span, piece in _spans(handbook):
        covered = _covered(piece.form)
        if not any(
            stretch.first <= span.first and span.last <= stretch.last for stretch in covered
        ):
            known = " and ".join(str(stretch) for stretch in covered)
            verb = "is not" if span.count == 1 else "are not all"
            yield finding(
                f"{_measures(span)} {verb} in the form of `{piece.id}`, which has {known}",
                (*address, "measures"),
                "check the numbers, or add the missing part to `form`",
            )


def _spans(handbook: Handbook) -> Iterator[tuple[Address, MeasureSpan, Piece]]:
    for address, passage, piece in traversal.passages(handbook):
        yield address, passage.measures, piece
    for address, point, piece in traversal.watch_points(handbook):
        if point.measures is not None:
            yield address, point.measures, piece
    for address, rhythm, piece in traversal.rhythms(handbook):
        if rhythm.measures is not None:
            yield address, rhythm.measures, piece


def _covered(form: Sequence[Part]) -> list[MeasureSpan]:
    """Join the form's parts to stretches without holes, in order of measure."""
    stretches: list[MeasureSpan] = []
    for span in sorted(part.measures for part in form):
        if stretches and span.first <= stretches[-1].last + 1:
            before = stretches.pop()
            span = MeasureSpan(before.first, max(before.last, span.last))  # noqa: PLW2901
        stretches.append(span)
    return stretches


@check
def form_gap(handbook: Handbook) -> Iterator[Problem]:
    """Measures are missing between two parts of a form.

    They would be missing from the piece's duration too.

    Bad:

        - {name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
        - {name: Finale, measures: 18-40, meter: 4/4, tempo: quarter = 96}

    Good:

        - {name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
        - {name: Finale, measures: 17-40, meter: 4/4, tempo: quarter = 96}
    """
    for address, piece in traversal.all_pieces(handbook):
        for before, after in pairwise(_covered(piece.form)):
            place = next(
                n for n, part in enumerate(piece.form) if part.measures.first == after.first
            )
            missing = MeasureSpan(before.last + 1, after.first - 1)
            yield finding(
                f"{_measures(missing)} of `{piece.id}` {'is' if missing.count == 1 else 'are'} in no part of its form",
                (*address, "form", place, "measures"),
                "let each part begin on the measure after the one before it",
                Severity.WARNING,
            )


@check
def form_overlap(handbook: Handbook) -> Iterator[Problem]:
    """A part of the form begins with measures that the part before it had already.

    Going back to an earlier place, or to a repeat's first measure, is no overlap; a part
    that begins inside the one before and goes on past its end surely is.

    Bad:

        - {name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
        - {name: Finale, measures: 16-40, meter: 4/4, tempo: quarter = 96}

    Good:

        - {name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
        - {name: Finale, measures: 17-40, meter: 4/4, tempo: quarter = 96}
    """
    for address, piece in traversal.all_pieces(handbook):
        for place, (before, after) in enumerate(pairwise(piece.form), 1):
            one, other = before.measures, after.measures
            if one.first < other.first <= one.last < other.last:
                shared = MeasureSpan(other.first, one.last)
                yield finding(
                    f"{_measures(shared)} of `{piece.id}` {'is' if shared.count == 1 else 'are'} in this part and in the one before",
                    (*address, "form", place, "measures"),
                    f"begin it at measure {one.last + 1}",
                    Severity.WARNING,
                    (Note("the part before is here", (*address, "form", place - 1, "measures")),),
                )


@check
def unknown_part(handbook: Handbook) -> Iterator[Problem]:
    """The order of a piece plays a part that its form does not have.

    Bad:

        order: [intro, vers, trio, coda]

    Good:

        order: [intro, verse, trio, coda]
    """
    for address, piece in traversal.all_pieces(handbook):
        known = [part.id for part in piece.form if part.id]
        for place, step in enumerate(piece.order):
            if step.part is not None and step.part not in known:
                at = (*address, "order", place)
                where = "to the parts under form, as their `id`"
                if step.part == "fine":
                    yield finding("no part is called `fine`", at, "the word at the end is `Fine`")
                else:
                    yield unknown("part", step.part, at, known, where)


@check
def part_never_played(handbook: Handbook) -> Iterator[Problem]:
    """A part of the form does not come in the order of its piece.

    Its measures would be missing from the road map and from the piece's duration.

    Bad:

        order: [intro, verse, coda]   # and the trio

    Good:

        order: [intro, verse, trio, coda]
    """
    for address, piece in traversal.all_pieces(handbook):
        for place, part in enumerate(piece.form if piece.order else ()):
            if not piece.times(part):
                name = f"`{part.id}`" if part.id else f"the part at {_measures(part.measures)}"
                yield finding(
                    f"{name} is never played: `order` leaves it out",
                    (*address, "form", place, *(("id",) if part.id else ())),
                    "put it into `order`"
                    if part.id
                    else "give it an `id`, and put that into `order`",
                    notes=(Note("the order is here", (*address, "order")),),
                )


@check
def times_beside_order(handbook: Handbook) -> Iterator[Problem]:
    """A part says how often it is played, and the order of its piece says it too.

    Bad:

        form: [{id: verse, name: Verse, measures: 1-24, meter: 4/4, tempo: quarter = 96, times: 2}]
        order: [verse]

    Good:

        form: [{id: verse, name: Verse, measures: 1-24, meter: 4/4, tempo: quarter = 96}]
        order: [verse x2]
    """
    for address, piece in traversal.all_pieces(handbook):
        for place, part in enumerate(piece.form if piece.order else ()):
            if part.times > 1:
                yield finding(
                    f"this part has `times: {part.times}`, and the order of its piece says how often it is played",
                    (*address, "form", place, "times"),
                    f"take `times` out, and write `{part.id or 'verse'} x{part.times}` in `order`",
                    notes=(Note("the order is here", (*address, "order")),),
                )


@check
def sign_twice(handbook: Handbook) -> Iterator[Problem]:
    """Two parts of a piece have the same sign.

    Nobody could tell which of them D.S. or To Coda leads to. Where a printed part has a
    second segno, write the order without words such as D.S.

    Bad:

        form:
          - {id: verse, name: Verse, measures: 1-16, meter: 4/4, tempo: quarter = 96, sign: segno}
          - {id: trio, name: Trio, measures: 17-40, meter: 6/8, tempo: dotted quarter = 80, sign: segno}

    Good:

        form:
          - {id: verse, name: Verse, measures: 1-16, meter: 4/4, tempo: quarter = 96, sign: segno}
          - {id: trio, name: Trio, measures: 17-40, meter: 6/8, tempo: dotted quarter = 80}
    """
    for address, piece in traversal.all_pieces(handbook):
        first: dict[Sign, Address] = {}
        for place, part in enumerate(piece.form):
            for sign in dict.fromkeys(part.sign):
                at = (*address, "form", place, "sign")
                if sign in first:
                    yield finding(
                        f"two parts have the sign `{sign}`",
                        at,
                        "keep it where it is printed",
                        notes=(Note("the other one is here", first[sign]),),
                    )
                first.setdefault(sign, at)


@check
def jump_leads_elsewhere(handbook: Handbook) -> Iterator[Problem]:
    """What follows D.C., D.S., To Coda or Fine in an order is not what they mean.

    After D.C. comes the part that is played first, after D.S. the one with `sign: segno`,
    after To Coda the one with `sign: coda`. After al Coda the coda comes at some time. Fine
    is the end of the order; a part with `sign: fine` is then the last one.

    Bad:

        form:
          - {id: intro, name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
          - {id: finale, name: Finale, measures: 17-40, meter: 4/4, tempo: quarter = 96}
        order: [intro, finale, D.S., finale]

    Good:

        form:
          - {id: intro, name: Introduction, measures: 1-16, meter: 4/4, tempo: quarter = 96}
          - {id: finale, name: Finale, measures: 17-40, meter: 4/4, tempo: quarter = 96, sign: segno}
    """
    for address, piece in traversal.all_pieces(handbook):
        signs = signs_by_part([(part.id, part.sign) for part in piece.form])
        if not {step.part for step in piece.order if step.part} <= signs.keys():
            continue  # told as unknown-part
        for place, fault in route_faults(signs, piece.order):
            sentence, hint = _ROUTES[fault]
            yield finding(
                sentence.format(jump=piece.order[place]), (*address, "order", place), hint
            )


_ROUTES = {
    RouteFault.NOT_FIRST: (
        "after `{jump}` comes the part that is played first, and here another one does",
        "write the first part after it, or the words that are printed",
    ),
    RouteFault.NO_SEGNO: (
        "`{jump}` leads to the segno, and no part has `sign: segno`",
        "give the part that begins at the segno `sign: segno`",
    ),
    RouteFault.NOT_SEGNO: (
        "after `{jump}` comes the part with `sign: segno`, and here another one does",
        "write that part after it, or move the sign",
    ),
    RouteFault.NO_CODA: (
        "`{jump}` leads to the coda, and no part has `sign: coda`",
        "give the coda `sign: coda`",
    ),
    RouteFault.NOT_CODA: (
        "`{jump}` leads to the coda, and here it does not follow",
        "write the coda where it is played",
    ),
    RouteFault.NO_AL_CODA: (
        "`{jump}` counts once D.C. al Coda or D.S. al Coda has been, and neither comes before it",
        "take it out, or write the words that lead back before it",
    ),
    RouteFault.FINE_EARLY: (
        "`{jump}` is the end, and more follows it",
        "put it at the end of the order; on the way there nobody stops at it",
    ),
    RouteFault.NOT_AT_FINE: (
        "`{jump}` ends at the part with `sign: fine`, and the order ends elsewhere",
        "let the order end with that part, or move the sign",
    ),
    RouteFault.NOTHING: (
        "`{jump}` leads on, and no part follows it",
        "write the parts that are played after it",
    ),
}


def _measures(span: MeasureSpan) -> str:
    return f"measure {span}" if span.count == 1 else f"measures {span}"


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
