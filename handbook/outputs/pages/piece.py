"""A piece: goal tempos, each passage's ladder as chart and table, watch list, form, terms."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from handbook.domain.anchors import anchor_of
from handbook.domain.metronome_marks import Marks, marks_named
from handbook.domain.values.pitch import NoteName
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
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.plan.model import CyclePlan, EnsemblePlan, PartRow, PassageRow, PieceRow
from handbook.records import dataclass
from handbook.schema.music import Passage, WatchPoint

PRIORITIES = {3: "Needs the most work", 2: "Needs steady work", 1: "Comes quickly"}
_LAST_OF_WEEK = 6  # days after Monday


@dataclass(frozen=True, slots=True)
class WatchView:
    """One thing to look out for."""

    text: str
    where: str
    who: str
    notes: tuple[NoteName, ...]


@dataclass(frozen=True, slots=True)
class WeekRow:
    """A week of a passage's ladder; `advice` stands where there are no steps to list.

    `in_class` tells the week's visits, or else when class next plays the passage.
    """

    monday: date
    sunday: date
    title: str
    rehearsals: str
    stages: tuple[StageTurn, ...]
    target: TargetView
    advice: str
    in_class: tuple[VisitLine, ...]
    next_in_class: VisitLine | None


@dataclass(frozen=True, slots=True)
class PassageView:
    """A passage with its ladder."""

    item: Passage
    name: str
    measures: str
    first: Tempo
    priority: str
    who: str
    home: tuple[TextView, ...]
    watch: tuple[WatchView, ...]
    chart: LadderChart | None
    click: ClickView | None
    weeks: tuple[WeekRow, ...]
    on_the_way: tuple[tuple[str, Tempo], ...]


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
        description=f"{view.title}, {band}: goal tempos, this week's tempos, and what to watch.",
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
        apart(*texts, *(point.text for point in view.watch), ", ".join(item.terms)),
        keywords="piece music free rubato" if free else "piece music",
        tempos=tuple(part.tempo for part in item.form),
        keys=(item.key,) if item.key else (),
    )
    if any(passage.click for passage in view.passages):
        yield SearchEntry(
            f"Click: {view.title}",
            "A click for every passage, at this week’s tempo or any other.",
            keywords=f"metronome beat tempo {band}",
        )
    if view.drone:
        yield SearchEntry(
            f"Drone: {view.title}",
            "Long notes of the key to tune to.",
            anchor="drone",
            keywords=f"tuner tune tuning in tune {band}",
        )
    if view.recording:
        yield SearchEntry(
            f"{'Recording' if view.recording.sound else 'File'}: {view.title}",
            view.recording.facts,
            keywords=f"listen hear audio play recording {band}",
        )
    if view.road:
        yield SearchEntry(
            f"{view.title}: road map",
            apart(*view.road),
            keywords=f"{band} order repeats form",
        )
    if view.percussion:
        yield SearchEntry(
            f"{view.title}: percussion, who plays what",
            "; ".join(f"{line.number} {line.instruments}" for line in view.percussion),
            anchor="percussion-players",
            keywords=f"{band} rotation assignments players",
        )
    for passage in view.passages:
        watch = [f"{point.where} {point.text} {point.who}" for point in passage.watch]
        on_the_way = [f"{tempo} {by}" for by, tempo in passage.on_the_way]
        yield SearchEntry(
            f"{view.title}: {passage.name}",
            apart(
                passage.measures,
                f"goal {passage.item.goal}",
                all_words(passage.home),
                *watch,
                *on_the_way,
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
        meters=", ".join(meters),
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
        watch=tuple(_watch(context, point) for point in item.watch),
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
            dict.fromkeys(
                str(part.item.tempo_model) for part in piece.parts if part.item.tempo_to is not None
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
    return PassageView(
        item=item,
        name=context.say(item.name),
        measures=measures(item.measures.first, item.measures.last),
        first=passage.first_tempo,
        priority=PRIORITIES[item.priority],
        who=named_who(item.who),
        home=text_views(context, item.home),
        watch=tuple(_watch(context, point) for point in item.watch),
        chart=None if item.goal.free else ladder_chart(ensemble, passage, stages),
        click=click_view(context, marks, piece, passage),
        weeks=tuple(_week_rows(context, ensemble, piece, passage, stages, path)),
        on_the_way=goals_by_date(context.say, ensemble, passage),
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
            rehearsals=str(first) if first == last else f"{first}–{last}",
            stages=stage_turns(rows, stages),
            target=target_view(context, ensemble, piece, passage, week, path),
            advice=_advice(week, before),
            in_class=now,
            next_in_class=None if now else ahead,
        )
        before = week


def _advice(week: WeekTarget, before: WeekTarget | None) -> str:
    if before is None or len(week.steps) > 1:
        return ""
    if before.target == week.target:
        return "Keep it there, clean and relaxed."
    if before.target.bpm > week.target.bpm:  # class reached less than was planned
        return f"Back to {week.target.bpm_text}, until it is secure."
    return f"One step up from {before.target.bpm_text}."


def _watch(context: Context, point: WatchPoint) -> WatchView:
    return WatchView(
        text=context.say(point.text),
        where=measures(point.measures.first, point.measures.last) if point.measures else "",
        who=named_who(point.who),
        notes=tuple(note if isinstance(note, NoteName) else note.name for note in point.notes),
    )
