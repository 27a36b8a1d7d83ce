"""What is written and changes nothing, because of what stands beside it or is missing."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.plan.parts import takes_part
from handbook.problems import Address, Problem, Severity
from handbook.schema.base import Item
from handbook.schema.concert import Concert
from handbook.schema.handbook import CycleContent, Handbook, Sourced
from handbook.schema.log import Log
from handbook.schema.program import Ensemble
from handbook.source.names import listed

_HORN = "horn"


@check
def field_without_effect(handbook: Handbook) -> Iterator[Problem]:
    """A field is written that changes nothing here.

    Another field makes it void, or what it is about is missing. Most often the other field
    is the slip.

    Bad:

        exercises:
          - {id: flow, name: Flow, level: 1, sticking: RLRL}   # and no rhythm to play

    Good:

        exercises:
          - {id: flow, name: Flow, level: 1, rhythm: q q q q, sticking: RLRL}
    """
    yield from _of_years(handbook)
    yield from _of_strands(handbook)
    yield from _of_warm_ups(handbook)
    yield from _of_ensembles(handbook)
    yield from _of_stages(handbook)
    for _, concert in traversal.concerts(handbook):
        yield from _of_concert(handbook, concert)
        yield from _of_equipment(handbook, concert)
        if concert.item.told and not concert.item.moved_from:
            why = "it says when a move became known, and the concert has no `moved_from`"
            yield _unread((concert.file, "told"), why, "add `moved_from:`, or take it out")
    for content, log, names in traversal.logs(handbook):
        yield from _of_log(content, log, names)


def _of_log(content: CycleContent, log: Sourced[Log], names: traversal.Names) -> Iterator[Problem]:
    free = {
        (piece.id, passage.id)
        for _, piece in traversal.pieces(content)
        for passage in piece.passages
        if passage.goal.free
    }
    for place, entry in enumerate(log.item.reached if free else ()):
        if not free.isdisjoint(names.get(entry.passage, ())):
            at = (log.file, "reached", place, "tempo")
            yield _unread(
                at, f"`{entry.passage}` is free, so it has no climb", "take the entry out"
            )


def _unread(address: Address, why: str, hint: str) -> Problem:
    message = f"`{address[-1]}` changes nothing here: {why}"
    return finding(message, address, hint, Severity.WARNING, on_key=True)


def _says(item: Item, name: str) -> bool:
    return name in item.model_fields_set


def _of_years(handbook: Handbook) -> Iterator[Problem]:
    for file, year in traversal.years(handbook):
        if year.day_labels:
            continue
        places: list[tuple[Address, Item]] = [((file,), year)]
        places += [((file, "closures", n), one) for n, one in enumerate(year.closures)]
        for address, item in places:
            if _says(item, "resume"):
                why = "the days of this year have no labels that could go on"
                yield _unread((*address, "resume"), why, "add `day_labels:`, or take it out")


def _of_strands(handbook: Handbook) -> Iterator[Problem]:
    for address, exercise in traversal.exercises(handbook):
        if exercise.rhythm is not None:
            continue
        names = ("sticking",) if exercise.rudiment else ("sticking", "meter")
        for name in names:
            if getattr(exercise, name) is not None:
                why = "the exercise has no `rhythm` to be played so"
                yield _unread((*address, name), why, "add `rhythm:`, or take it out")


def _of_warm_ups(handbook: Handbook) -> Iterator[Problem]:
    exercises = {exercise.id: exercise for _, exercise in traversal.exercises(handbook)}
    for address, step in traversal.warm_up_steps(handbook):
        exercise = exercises.get(step.exercise or "")
        if step.tempo or (exercise.tempo if exercise else step.exercise):
            continue  # it has a tempo, or an exercise that is not known
        for name in ("meter", "click"):
            if _says(step, name):
                why = "the step has no tempo"
                yield _unread((*address, name), why, "add `tempo:`, or take it out")


def _of_ensembles(handbook: Handbook) -> Iterator[Problem]:
    known = {strand.id: strand for _, strand in traversal.strands(handbook)}
    played: set[str] = set()
    counted = True
    for address, band in traversal.ensembles(handbook):
        own = frozenset(band.instruments)
        played |= own
        counted = counted and bool(own)
        if not own:
            continue
        yield from _of_instruments(handbook, address, band)
        for name in band.strands_start_at:
            who = known[name].who if name in known else ()
            row = handbook.program.item.instrument
            if who and not any(takes_part(one, row(one), who) for one in own):
                why = f"nobody in `{band.id}` plays the strand"
                at = (*address, "strands_start_at", name)
                yield _unread(at, why, "take it out, or add players to the strand's `who`")
    file = handbook.program.file
    for name in handbook.program.item.reads_like if counted else ():
        if name not in played:
            at = (file, "reads_like", name)
            yield _unread(at, "no band has such an instrument", "name it as the bands do")


def _of_instruments(handbook: Handbook, address: Address, band: Ensemble) -> Iterator[Problem]:
    rows = [handbook.program.item.instrument(name) for name in band.instruments]
    ids = {row.id for row in rows if row is not None}
    for name in band.valves:
        row = handbook.program.item.instrument(name)
        if name not in band.instruments and (row is None or row.id not in ids):
            why = f"`{band.id}` has no such instrument"
            yield _unread((*address, "valves", name), why, "name it as under `instruments`")
    if _says(band, "single_horns") and _HORN not in ids:
        why = f"`{band.id}` has no horns"
        yield _unread((*address, "single_horns"), why, "take it out, or add the horns")


def _of_stages(handbook: Handbook) -> Iterator[Problem]:
    if handbook.program.item.usual is not None:
        return  # a usual stage may have its share for other cycles
    for content in handbook.cycles:
        stages = content.cycle.item.stages
        for place, (stage, after) in enumerate(zip(stages, (*stages[1:], None), strict=True)):
            begins = place == 0 or stage.starts is not None
            ends = after is None or after.starts is not None
            if begins and ends and stage.share != 1 and len(stages) > 1:
                why = "this stage begins and ends on dates that are stated"
                at = (content.cycle.file, "stages", place, "share")
                yield _unread(at, why, "take it out, or take out the date of `starts`")


def _of_equipment(handbook: Handbook, concert: Sourced[Concert]) -> Iterator[Problem]:
    item, file = concert.item, concert.file
    if item.goes_back and not item.equipment and handbook.program.item.usual is None:
        why = "nothing is moved: there is no `equipment`"
        yield _unread((file, "goes_back"), why, "add `equipment:`, or take it out")
    for place, gear in enumerate(item.equipment):
        if gear.stays and not item.goes_back:
            why = "nothing is said to go back: there is no `goes_back: yes`"
            at = (file, "equipment", place, "stays")
            yield _unread(at, why, "add `goes_back: yes`, or take it out")


def _of_concert(handbook: Handbook, concert: Sourced[Concert]) -> Iterator[Problem]:
    item, file = concert.item, concert.file
    if handbook.program.item.usual is None:
        if _says(item, "changeover") and len(item.program) == 1:
            yield _unread((file, "changeover"), "there is one turn alone", "take it out")
        if _says(item, "gap_seconds") and all(len(turn.pieces) < 2 for turn in item.program):  # noqa: PLR2004
            why = "no turn has two pieces with a gap between them"
            yield _unread((file, "gap_seconds"), why, "take it out")
        lifts = item.care.lifts if item.care else ()
        if item.lifting is not None and not item.equipment and not lifts:
            why = "nothing is lifted: there is no `equipment`"
            yield _unread((file, "lifting"), why, "add `equipment:`, or take it out")
    idle = traversal.ensemble_by_id(handbook).keys() - set(item.players)
    for place, call in enumerate(item.calls):
        if call.ensemble in idle and not call.role:
            at = (file, "calls", place, "ensemble")
            yield finding(
                f"this call is for nobody: `{call.ensemble}` does not play in this concert",
                at,
                f"give it a turn on the program, or name one of {listed(item.players)}",
                Severity.WARNING,
            )
    for place, booking in enumerate(item.bookings):
        for n, name in enumerate(booking.ensembles):
            if name in idle:
                yield finding(
                    f"`{name}` does not play in this concert, so this keeps nobody's room or time",
                    (file, "bookings", place, "ensembles", n),
                    "take it out, or give it a turn on the program",
                    Severity.WARNING,
                )
