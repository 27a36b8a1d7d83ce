"""Fundamentals: what every rehearsal works on, in what order, and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.outputs import addresses
from handbook.outputs.components.concert_pitch import concert_examples
from handbook.outputs.components.notation import Notation, RhythmFigure, page_sprite, rhythm_figure
from handbook.outputs.components.recordings import RecordingView, recording_view
from handbook.outputs.components.texts_for import TextView, all_words, named_who, text_views
from handbook.outputs.components.warm_up_view import WarmUpView, warm_up_sprite, warm_up_view
from handbook.outputs.engraving.flat_svg import Glyph
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.plan.model import CyclePlan
from handbook.plan.warm_ups import usual_warm_up_minutes
from handbook.records import dataclass
from handbook.schema.fundamentals import Exercise, Habit, Strand

_RECORDED = "recording listen hear audio"  # what a reader types who looks for a sound


@dataclass(frozen=True, slots=True)
class ExerciseView:
    """One exercise; `at` names the ensembles that work on it, with cycle."""

    item: Exercise
    who: str
    how: tuple[TextView, ...]
    recording: RecordingView | None
    examples: tuple[Notation, ...]
    rhythm: RhythmFigure | None
    at: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StrandView:
    """A strand with its exercises in order of level."""

    item: Strand
    path: str
    who: str
    home: tuple[TextView, ...]
    exercises: tuple[ExerciseView, ...]
    glyphs: tuple[Glyph, ...]
    before: Link | None
    after: Link | None


@dataclass(frozen=True, slots=True)
class FundamentalsView:
    """The page of all fundamentals."""

    strands: tuple[StrandView, ...]
    habits: tuple[Habit, ...]
    warm_ups: tuple[WarmUpView, ...]
    glyphs: tuple[Glyph, ...]


@dataclass(frozen=True, slots=True)
class Working:
    """What is worked on in one cycle.

    `exercises` are who works on which: its id and `Harbor Band, Winter cycle`. `warm_ups`
    are the level of each band's warm-up with the minutes that it has for it.
    """

    exercises: tuple[tuple[str, str], ...]
    warm_ups: tuple[tuple[int, int], ...]


def share(context: Context, cycle: CyclePlan) -> Working:
    """Give what the pages of fundamentals show of a cycle."""
    return Working(
        exercises=tuple(_at_work(context, cycle)),
        warm_ups=tuple(
            (ensemble.warm_up.level, usual_warm_up_minutes(ensemble))
            for ensemble in cycle.ensembles
            if ensemble.warm_up
        ),
    )


def _at_work(context: Context, cycle: CyclePlan) -> Iterator[tuple[str, str]]:
    return (
        (
            exercise_id,
            gettext(
                "%(band)s, %(cycle)s",
                band=context.say(ensemble.item.name),
                cycle=context.say(cycle.item.name),
            ),
        )
        for ensemble in cycle.ensembles
        for exercise_id in dict.fromkeys(
            exercise.id for strand in ensemble.strands for _, exercise in strand.appearances
        )
    )


def pages(context: Context, cycles: Sequence[Working]) -> Iterator[Page]:
    """Make the page of fundamentals and one for each strand, if there are any."""
    found = context.plan.fundamentals
    if not (found.strands or found.habits or found.warm_ups):
        return
    working: dict[str, list[str]] = {}
    for exercise_id, who in (pair for cycle in cycles for pair in cycle.exercises):
        working.setdefault(exercise_id, []).append(who)
    strands = tuple(_strand(context, strand, found.strands, working) for strand in found.strands)
    minutes = dict(pair for cycle in cycles for pair in cycle.warm_ups)  # of the latest cycle
    warm_ups = tuple(
        warm_up_view(context, warm_up, minutes.get(warm_up.level, 0))
        for warm_up in sorted(found.warm_ups, key=lambda warm_up: warm_up.level)
    )
    view = FundamentalsView(strands, found.habits, warm_ups, warm_up_sprite(warm_ups))
    yield Page(
        path=addresses.FUNDAMENTALS,
        kind="fundamentals",
        title=gettext("Fundamentals"),
        description=gettext("What every rehearsal works on, in what order, and why."),
        section="fundamentals",
        view=view,
        search=(
            SearchEntry(
                gettext("Fundamentals"),
                apart(*(context.say(strand.item.name) for strand in strands)),
                keywords="exercises basics",
            ),
            *(
                SearchEntry(
                    context.say(habit.name), context.say(habit.text), f"habit-{habit.id}", "habit"
                )
                for habit in view.habits
            ),
            *(
                SearchEntry(
                    gettext(
                        "Warm-up, level %(level)s: %(name)s",
                        level=warm_up.item.level,
                        name=warm_up.name,
                    ),
                    apart(*(f"{step.name} {step.text}".strip() for step in warm_up.steps)),
                    f"warm-up-{warm_up.item.level}",
                    f"warmup warm up {_RECORDED if warm_up.recording else ''}".rstrip(),
                )
                for warm_up in view.warm_ups
            ),
        ),
    )
    for strand in strands:
        yield _strand_page(context, strand)


def _strand_page(context: Context, strand: StrandView) -> Page:
    say = context.say
    name, why = say(strand.item.name), say(strand.item.why)
    return Page(
        path=strand.path,
        kind="strand",
        title=name,
        description=gettext("%(strand)s: %(why)s", strand=name, why=why),
        section="fundamentals",
        view=strand,
        crumbs=(Link(gettext("Fundamentals"), addresses.FUNDAMENTALS),),
        search=(
            SearchEntry(
                name,
                apart(why, all_words(strand.home)),
                keywords="fundamentals strand",
            ),
            *(
                SearchEntry(
                    gettext(
                        "%(strand)s: %(exercise)s",
                        strand=name,
                        exercise=say(exercise.item.name),
                    ),
                    apart(all_words(exercise.how), *map(say, exercise.item.listen)),
                    exercise.item.id,
                    f"exercise {_RECORDED if exercise.recording else ''}".rstrip(),
                    tempos=(exercise.item.tempo,) if exercise.item.tempo else (),
                )
                for exercise in strand.exercises
            ),
        ),
    )


def _strand(
    context: Context, strand: Strand, strands: tuple[Strand, ...], working: dict[str, list[str]]
) -> StrandView:
    place = strands.index(strand)
    around = [
        Link(context.say(strands[at].name), addresses.strand(strands[at].id))
        if 0 <= at < len(strands)
        else None
        for at in (place - 1, place + 1)
    ]
    exercises = tuple(
        _exercise(context, exercise, working)
        for exercise in sorted(strand.exercises, key=lambda exercise: exercise.level)
    )
    return StrandView(
        item=strand,
        path=addresses.strand(strand.id),
        who=named_who(strand.who),
        home=text_views(context, strand.home),
        exercises=exercises,
        glyphs=page_sprite(_figures(exercises)),
        before=around[0],
        after=around[1],
    )


def _figures(exercises: tuple[ExerciseView, ...]) -> Iterator[Notation]:
    for exercise in exercises:
        yield from exercise.examples
        if exercise.rhythm:
            yield exercise.rhythm.notation


def _exercise(context: Context, exercise: Exercise, working: dict[str, list[str]]) -> ExerciseView:
    row = context.plan.exercise_rhythms.get(exercise.id)
    return ExerciseView(
        item=exercise,
        who=named_who(exercise.who),
        how=text_views(context, exercise.how),
        recording=recording_view(context, exercise.media),
        examples=tuple(concert_examples(exercise)),
        rhythm=rhythm_figure(row) if row else None,
        at=tuple(working.get(exercise.id, ())),
    )
