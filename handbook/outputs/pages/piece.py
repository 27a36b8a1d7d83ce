"""A piece: goal tempos, each passage's ladder as chart and table, watch list, form, terms."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from markupsafe import Markup, escape

from handbook.domain.anchors import anchor_of
from handbook.domain.ladders import SubdividedClick, subdivided
from handbook.domain.metronome_marks import Marks, marks_named
from handbook.domain.timing import TempoModel
from handbook.domain.values.tempo import Tempo
from handbook.domain.week_targets import WeekTarget
from handbook.outputs import addresses
from handbook.outputs.components.charts import LadderChart, ladder_chart
from handbook.outputs.components.concert_line import ConcertLine, played_at
from handbook.outputs.components.concert_words import names
from handbook.outputs.components.drones import DroneView, piece_drones
from handbook.outputs.components.notation import Reader, RhythmFigures, page_sprite
from handbook.outputs.components.part_links import PartLink, part_links
from handbook.outputs.components.recordings import RecordingView, recording_view
from handbook.outputs.components.rhythm_list import RhythmView, rhythm_views
from handbook.outputs.components.road import road_lines, sign_words
from handbook.outputs.components.rotation import RotationLine, rotation_lines
from handbook.outputs.components.season import VisitLine, visit_lines
from handbook.outputs.components.sound import ClickView, click_view
from handbook.outputs.components.stages import StageTurn, StageView, stage_turns, stage_view
from handbook.outputs.components.terms import TermView
from handbook.outputs.components.texts_for import TextView, all_words, named_who, text_views
from handbook.outputs.components.watch import WatchView, watch_view
from handbook.outputs.components.weeks import (
    TargetView,
    WeekView,
    goals_by_date,
    measures,
    rows_by_week,
    target_view,
    week_views,
)
from handbook.outputs.engraving.flat_svg import Glyph
from handbook.outputs.html import formatting
from handbook.outputs.html.note_marks import row
from handbook.outputs.i18n import gettext, gettext_noop
from handbook.outputs.i18n.formats import with_commas, with_semicolons
from handbook.outputs.note_values import note_value, tempo_words
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.plan.model import CyclePlan, EnsemblePlan, PartRow, PassageRow, PieceRow
from handbook.records import dataclass
from handbook.schema.music import Passage

PRIORITIES = {
    3: gettext_noop("needs the most work"),
    2: gettext_noop("needs steady work"),
    1: gettext_noop("comes quickly"),
}
MODELS = {
    TempoModel.LINEAR_IN_BEATS: gettext_noop(
        "A tempo that changes goes from one mark to the other linear in beats."
    ),
    TempoModel.LINEAR_IN_TIME: gettext_noop(
        "A tempo that changes goes from one mark to the other linear in time."
    ),
    TempoModel.EXPONENTIAL_IN_BEATS: gettext_noop(
        "A tempo that changes goes from one mark to the other exponential in beats."
    ),
    TempoModel.STEPPED: gettext_noop(
        "A tempo that changes goes from one mark to the other stepped."
    ),
}
_LAST_OF_WEEK = 6  # days after Monday


@dataclass(frozen=True, slots=True)
class WeekRow:
    """A week of a passage's ladder; `advice` stands where there are no `steps` to list.

    `click` says how a slow target may be clicked instead; `in_class` tells the week's visits,
    or else when class next plays the passage.
    """

    monday: date
    sunday: date
    title: str
    rehearsals: str
    stages: tuple[StageTurn, ...]
    target: TargetView
    advice: str
    steps: Markup
    click: str
    in_class: str


@dataclass(frozen=True, slots=True)
class PassageView:
    """A passage with its ladder; `way` tells the tempos on the way to its goal, `way_words` for search."""

    item: Passage
    name: str
    measures: str
    priority: str
    who: str
    home: tuple[TextView, ...]
    watch: tuple[WatchView, ...]
    chart: LadderChart | None
    chart_told: str
    click: ClickView | None
    weeks: tuple[WeekRow, ...]
    way: Markup
    way_words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FormPartView:
    """A part of the form."""

    row: PartRow
    measures: str
    sign: str


@dataclass(frozen=True, slots=True)
class PieceView:
    """The page of a piece; `lead` is the passage that needs the most work."""

    piece: PieceRow
    title: str
    measures: int
    meters: str
    passages: tuple[PassageView, ...]
    lead: PassageView | None
    weeks: tuple[WeekView, ...]
    watch: tuple[WatchView, ...]
    form: tuple[FormPartView, ...]
    models: tuple[str, ...]
    road: tuple[str, ...]
    terms: tuple[TermView, ...]
    rhythms: tuple[RhythmView, ...]
    percussion: tuple[RotationLine, ...]
    glyphs: tuple[Glyph, ...]
    recording: RecordingView | None
    parts: tuple[PartLink, ...]
    concerts: tuple[ConcertLine, ...]
    also: str
    one_more: bool
    ensemble_id: str
    drone: DroneView
    words_path: str
    first: date
    last: date


def pages(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[Page]:
    """Make a page for each piece of an ensemble in a cycle."""
    stages = tuple(stage_view(context, span, len(ensemble.stages)) for span in ensemble.stages)
    for piece in ensemble.pieces:
        yield _page(context, cycle, ensemble, piece, stages)


def _page(
    context: Context,
    cycle: CyclePlan,
    ensemble: EnsemblePlan,
    piece: PieceRow,
    stages: tuple[StageView, ...],
) -> Page:
    view, band = _view(context, cycle, ensemble, piece, stages), context.say(ensemble.item.name)
    return Page(
        path=addresses.piece(cycle.id, ensemble.item.id, piece.item.id),
        kind="piece",
        title=view.title,
        description=gettext(
            "%(piece)s, %(band)s: goal tempos, this week's tempos, and what to watch.",
            piece=view.title,
            band=band,
        ),
        section=f"ensemble-{ensemble.item.id}",
        view=view,
        crumbs=(
            Link(context.say(cycle.item.name), addresses.cycle(cycle.id)),
            Link(band, addresses.ensemble(cycle.id, ensemble.item.id)),
        ),
        search=tuple(_entries(context, view, band)),
    )


def _entries(context: Context, view: PieceView, band: str) -> Iterator[SearchEntry]:
    item = view.piece.item
    texts = (
        context.say(item.by),
        context.say(item.about),
        f"{band} {view.also}".strip(),
        str(item.key or ""),
        view.meters,
    )
    free = any(part.tempo.free for part in item.form)
    yield SearchEntry(
        view.title,
        apart(*texts, *(point.text for point in view.watch), with_commas(item.terms)),
        keywords="piece music free rubato" if free else "piece music",
        tempos=tuple(part.tempo for part in item.form),
        keys=(item.key,) if item.key else (),
    )
    if any(passage.click for passage in view.passages):
        yield SearchEntry(
            gettext("Click: %(piece)s", piece=view.title),
            gettext("A click for every passage, at this week’s tempo or any other."),
            keywords=f"metronome beat tempo {band}",
        )
    if view.drone:
        yield SearchEntry(
            gettext("Drone: %(piece)s", piece=view.title),
            gettext("Long notes of the key to tune to."),
            anchor="drone",
            keywords=f"tuner tune tuning in tune {band}",
        )
    if view.recording:
        yield SearchEntry(
            gettext("Recording: %(piece)s", piece=view.title)
            if view.recording.sound
            else gettext("File: %(piece)s", piece=view.title),
            view.recording.facts,
            keywords=f"listen hear audio play recording {band}",
        )
    if view.road:
        yield SearchEntry(
            gettext("%(piece)s: road map", piece=view.title),
            apart(*view.road),
            keywords=f"{band} order repeats form",
        )
    if view.percussion:
        yield SearchEntry(
            gettext("%(piece)s: percussion, who plays what", piece=view.title),
            with_semicolons(f"{line.number} {line.instruments}" for line in view.percussion),
            anchor="percussion-players",
            keywords=f"{band} rotation assignments players",
        )
    for passage in view.passages:
        watch = [f"{point.where} {point.text} {point.who}" for point in passage.watch]
        yield SearchEntry(
            gettext("%(piece)s: %(passage)s", piece=view.title, passage=passage.name),
            apart(
                passage.measures,
                gettext("goal %(tempo)s", tempo=tempo_words(passage.item.goal)),
                all_words(passage.home),
                *watch,
                *passage.way_words,
            ),
            anchor=passage.item.id,
            keywords=band,
            measures=(passage.item.measures,),
            tempos=(passage.item.goal,),
        )


def _view(
    context: Context,
    cycle: CyclePlan,
    ensemble: EnsemblePlan,
    piece: PieceRow,
    stages: tuple[StageView, ...],
) -> PieceView:
    item = piece.item
    path = addresses.piece(cycle.id, ensemble.item.id, item.id)
    meters = dict.fromkeys(str(part.item.meter) for part in piece.parts)
    marks = marks_named(cycle.item.marks.kind, cycle.item.marks.step)
    others = [
        one
        for one in context.plan.program.ensembles
        if one.id in item.played_by and one.id != ensemble.band
    ]
    rhythms = rhythm_views(context.say, piece.rhythms, RhythmFigures(), Reader.ANYONE)
    passages = tuple(
        _passage(context, ensemble, piece, passage, stages, path, marks)
        for passage in piece.passages
    )
    return PieceView(
        piece=piece,
        title=context.say(item.title),
        measures=max(part.item.measures.last for part in piece.parts),
        meters=with_commas(meters),
        passages=passages,
        lead=max(
            passages,
            key=lambda one: (bool(one.click and one.weeks), one.item.priority),
            default=None,
        ),
        weeks=tuple(
            week
            for week in week_views(context, cycle, ensemble)
            if any(target.piece_id == item.id for target in week.targets)
        ),
        watch=tuple(watch_view(context, point) for point in item.watch),
        form=tuple(
            FormPartView(
                part,
                measures(part.item.measures.first, part.item.measures.last),
                sign_words(part.item),
            )
            for part in piece.parts
        ),
        road=road_lines(context.say, item),
        models=tuple(
            gettext(MODELS[model])
            for model in dict.fromkeys(
                part.item.tempo_model for part in piece.parts if part.item.tempo_to is not None
            )
        ),
        terms=tuple(
            TermView(term, context.say(context.plan.words[term]), anchor_of(term))
            for term in item.terms
        ),
        rhythms=rhythms,
        percussion=rotation_lines(context.plan.program, ensemble, item),
        glyphs=page_sprite(one.figure.notation for one in rhythms),
        recording=recording_view(context, item.recording),
        parts=part_links(cycle, ensemble),
        concerts=played_at(context, cycle, ensemble.band, item.id),
        also=names(context, others),
        one_more=len(others) == 1,
        ensemble_id=ensemble.item.id,
        drone=piece_drones(context, ensemble, item.key),
        words_path=addresses.WORDS,
        first=cycle.first,
        last=cycle.last,
    )


def _passage(
    context: Context,
    ensemble: EnsemblePlan,
    piece: PieceRow,
    passage: PassageRow,
    stages: tuple[StageView, ...],
    path: str,
    marks: Marks,
) -> PassageView:
    item = passage.item
    way = goals_by_date(context.say, ensemble, passage)
    return PassageView(
        item=item,
        name=context.say(item.name),
        measures=measures(item.measures.first, item.measures.last),
        priority=gettext(PRIORITIES[item.priority]),
        who=named_who(item.who),
        home=text_views(context, item.home),
        watch=tuple(watch_view(context, point) for point in item.watch),
        chart=None if item.goal.free else ladder_chart(ensemble, passage, stages),
        chart_told=_ladder_told(context.say(item.name), passage),
        click=click_view(context, marks, piece, passage),
        weeks=tuple(_week_rows(context, ensemble, piece, passage, stages, path)),
        way=row(
            gettext("%(tempo)s %(by)s", tempo=formatting.mark(tempo), by=by) for by, tempo in way
        ),
        way_words=tuple(
            gettext("%(tempo)s %(by)s", tempo=tempo_words(tempo), by=by) for by, tempo in way
        ),
    )


def _ladder_told(name: str, passage: PassageRow) -> str:
    return gettext(
        "Ladder of %(passage)s: from %(first)s to the goal, %(goal)s",
        passage=name,
        first=tempo_words(passage.first_tempo),
        goal=tempo_words(passage.item.goal),
    )


def _week_rows(
    context: Context,
    ensemble: EnsemblePlan,
    piece: PieceRow,
    passage: PassageRow,
    stages: tuple[StageView, ...],
    path: str,
) -> Iterator[WeekRow]:
    before = None
    lines = list(zip(passage.visits, visit_lines(context, ensemble, passage), strict=True))
    weeks = rows_by_week(context, ensemble)
    for week in passage.weeks:
        rows = weeks[week.monday]
        first, last = rows[0].rehearsal.n, rows[-1].rehearsal.n
        now = tuple(line for visit, line in lines if rows[0].place <= visit.place <= rows[-1].place)
        ahead = next((line for visit, line in lines if visit.place > rows[-1].place), None)
        yield WeekRow(
            monday=week.monday,
            sunday=date.fromordinal(week.monday.toordinal() + _LAST_OF_WEEK),
            title=formatting.short_day(week.monday),
            rehearsals=gettext("rehearsal %(number)s", number=first)
            if first == last
            else gettext("rehearsals %(first)s–%(last)s", first=first, last=last),
            stages=stage_turns(rows, stages),
            target=target_view(context, ensemble, piece, passage, week, path),
            advice=_advice(week, before),
            steps=_steps(week.steps),
            click=_click_instead(subdivided(week.target)),
            in_class=_in_class(now, ahead),
        )
        before = week


def _steps(steps: Sequence[Tempo]) -> Markup:
    """List steps in the order in which they are taken, `48, then 50, then 52`."""
    told = Markup()
    for step in steps:
        number = Markup('<span class="num">{}</span>').format(step.bpm_text)
        told = (
            escape(gettext("%(steps)s, then %(next)s", steps=told, next=number)) if told else number
        )
    return told


def _click_instead(click: SubdividedClick | None) -> str:
    if click is None:
        return ""
    return gettext("or click %(note)s = %(bpm)s", note=note_value(click.name), bpm=click.bpm)


def _in_class(now: Sequence[VisitLine], ahead: VisitLine | None) -> str:
    if now:
        visits = [
            gettext("%(day)s %(how)s at %(bpm)s", day=visit.day, how=visit.how, bpm=visit.tempo)
            for visit in now
        ]
        return gettext("In class: %(visits)s", visits=with_semicolons(visits))
    if ahead is None:
        return ""
    return gettext("Next in class: %(day)s, at %(bpm)s", day=ahead.day, bpm=ahead.tempo)


def _advice(week: WeekTarget, before: WeekTarget | None) -> str:
    if before is None or len(week.steps) > 1:
        return ""
    if before.target == week.target:
        return gettext("Keep it there, clean and relaxed.")
    if before.target.bpm > week.target.bpm:  # class reached less than was planned
        return gettext("Back to %(bpm)s, until it is secure.", bpm=week.target.bpm_text)
    return gettext("One step up from %(bpm)s.", bpm=before.target.bpm_text)
