"""An ensemble's season: how often each passage is played, how, how fast, and since when at its goal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from handbook.domain.season import Law, MusicKind
from handbook.domain.values.tempo import Tempo
from handbook.outputs import addresses
from handbook.outputs.components.season_grid import GridPair, season_grids
from handbook.outputs.components.stages import StageView
from handbook.outputs.components.visit_marks import how
from handbook.outputs.components.weeks import measures
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, ngettext, npgettext
from handbook.outputs.i18n.formats import with_commas, with_semicolons
from handbook.outputs.note_values import bpm_words
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, EnsemblePlan, PassageRow, PieceRow, SeasonRow
from handbook.plan.season_words import kept_passages, unplayed
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class VisitLine:
    """One visit in words: the day, how the passage is played, the tempo."""

    day: str
    n: int
    how: str
    tempo: str


@dataclass(frozen=True, slots=True)
class PassageLine:
    """A passage's season; `kinds` counts the visits of each kind, in words."""

    name: str
    measures: str
    path: str
    times: int
    kinds: str
    first: Tempo
    last: Tempo
    goal: str
    visits: tuple[VisitLine, ...]


@dataclass(frozen=True, slots=True)
class PieceSeason:
    """A piece's passages."""

    title: str
    passages: tuple[PassageLine, ...]


@dataclass(frozen=True, slots=True)
class SeasonView:
    """A season in sentences, as a grid and by passage."""

    facts: tuple[str, ...]
    grid: GridPair
    pieces: tuple[PieceSeason, ...]


def season_view(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan, stages: Sequence[StageView]
) -> SeasonView | None:
    """Show a season; None where no passage is ever played."""
    season = ensemble.season
    played = any(passage.visits for piece in ensemble.pieces for passage in piece.passages)
    if season is None or not played or not kept_passages(ensemble):
        return None
    return SeasonView(
        facts=tuple(_facts(context, ensemble, season)),
        grid=season_grids(context, ensemble, stages),
        pieces=tuple(
            _piece(
                context, ensemble, piece, addresses.piece(cycle.id, ensemble.item.id, piece.item.id)
            )
            for piece in ensemble.pieces
            if piece.passages
        ),
    )


def _facts(context: Context, ensemble: EnsemblePlan, season: SeasonRow) -> Iterator[str]:
    yield _returns(context, season)
    yield _goals(context, ensemble)
    missing = [
        gettext(
            "%(piece)s, %(measures)s in %(stage)s",
            piece=context.say(one.piece.title),
            measures=measures(one.measures.first, one.measures.last),
            stage=context.say(one.stage.item.name),
        )
        for one in unplayed(ensemble)
    ]
    if missing:
        # Translators: each is "Title, mm. 1–8 in Build"; Build is a stage of the season.
        yield gettext(
            "All measures are played in each stage but these: %(missing)s.",
            missing=with_semicolons(missing),
        )
    else:
        yield gettext("Every measure of every piece is played in each stage.")
    yield _minutes(season)


def _returns(context: Context, season: SeasonRow) -> str:
    away = dict.fromkeys(
        context.say(row.passage.name)
        for row in season.unmet
        if row.law is Law.RETURN and row.passage
    )
    but, window = formatting.listed(list(away)), season.window
    if window == 1 and but:
        return gettext("Every passage comes back in every rehearsal, but for %(names)s.", names=but)
    if window == 1:
        return gettext("Every passage comes back in every rehearsal.")
    if but:
        return ngettext(
            "Every passage comes back within %(num)s rehearsal, but for %(names)s.",
            "Every passage comes back within %(num)s rehearsals, but for %(names)s.",
            window,
            names=but,
        )
    return ngettext(
        "Every passage comes back within %(num)s rehearsal.",
        "Every passage comes back within %(num)s rehearsals.",
        window,
    )


def _goals(context: Context, ensemble: EnsemblePlan) -> str:
    passages = kept_passages(ensemble)
    there = [passage for passage in passages if passage.at_goal]
    if not there:
        return gettext("Class comes near the goal tempos; the last steps are taken at home.")
    days = [ensemble.rehearsals[passage.at_goal[0].place].rehearsal.day for passage in there]
    short = [context.say(passage.item.name) for passage in passages if not passage.at_goal]
    least = min(len(passage.at_goal) for passage in there)
    if short:
        return _most_at_goal(min(days), max(days), least, formatting.listed(short))
    return _all_at_goal(min(days), max(days), least)


def _all_at_goal(first: date, last: date, least: int) -> str:
    if first == last:
        return ngettext(
            "Every passage comes to its goal tempo on %(day)s, and is played at it in at least one rehearsal.",
            "Every passage comes to its goal tempo on %(day)s, and is played at it in at least %(num)s rehearsals.",
            least,
            day=formatting.month_day(first),
        )
    return ngettext(
        "Every passage comes to its goal tempo one after another from %(first)s to %(last)s, and is played at it in at least one rehearsal.",
        "Every passage comes to its goal tempo one after another from %(first)s to %(last)s, and is played at it in at least %(num)s rehearsals.",
        least,
        first=formatting.month_day(first),
        last=formatting.month_day(last),
    )


def _most_at_goal(first: date, last: date, least: int, short: str) -> str:
    """Say it where the passages named in `short` never come to their goal."""
    if first == last:
        return ngettext(
            "Every passage but %(names)s comes to its goal tempo on %(day)s, and is played at it in at least one rehearsal.",
            "Every passage but %(names)s comes to its goal tempo on %(day)s, and is played at it in at least %(num)s rehearsals.",
            least,
            names=short,
            day=formatting.month_day(first),
        )
    return ngettext(
        "Every passage but %(names)s comes to its goal tempo one after another from %(first)s to %(last)s, and is played at it in at least one rehearsal.",
        "Every passage but %(names)s comes to its goal tempo one after another from %(first)s to %(last)s, and is played at it in at least %(num)s rehearsals.",
        least,
        names=short,
        first=formatting.month_day(first),
        last=formatting.month_day(last),
    )


def _minutes(season: SeasonRow) -> str:
    alone, joined, runs = (season.minutes.get(kind, 0) for kind in MusicKind)
    return ngettext(
        "Of %(num)s minute of music, %(alone)s go to passages by themselves, %(joined)s to joining neighbors, %(runs)s to whole pieces.",
        "Of %(num)s minutes of music, %(alone)s go to passages by themselves, %(joined)s to joining neighbors, %(runs)s to whole pieces.",
        alone + joined + runs,
        alone=alone,
        joined=joined,
        runs=runs,
    )


def _piece(context: Context, ensemble: EnsemblePlan, piece: PieceRow, path: str) -> PieceSeason:
    return PieceSeason(
        context.say(piece.item.title),
        tuple(_passage(context, ensemble, passage, path) for passage in piece.passages),
    )


def _passage(
    context: Context, ensemble: EnsemblePlan, passage: PassageRow, path: str
) -> PassageLine:
    span = passage.item.measures
    return PassageLine(
        name=context.say(passage.item.name),
        measures=measures(span.first, span.last),
        path=f"{path}#{passage.item.id}",
        times=len(passage.visits),
        kinds=with_commas(_kinds(passage)),
        first=passage.first_tempo,
        last=passage.visits[-1].rung.tempo if passage.visits else passage.item.goal,
        goal=_at_goal(ensemble, passage),
        visits=visit_lines(context, ensemble, passage),
    )


def _kinds(passage: PassageRow) -> Iterator[str]:
    """Count the visits of each kind, those of two kinds in both."""
    for kind in MusicKind:
        count = sum(kind in visit.kinds for visit in passage.visits)
        if count:
            yield _times(kind, count)


def _times(kind: MusicKind, count: int) -> str:
    # Translators: how often a passage is played by itself, joined to its neighbor, in runs of the piece.
    match kind:
        case MusicKind.PASSAGE:
            return npgettext("times", "%(num)s by itself", "%(num)s by itself", count)
        case MusicKind.JOIN:
            return npgettext("times", "%(num)s joined", "%(num)s joined", count)
        case MusicKind.RUN:
            return npgettext("times", "%(num)s in runs", "%(num)s in runs", count)


def visit_lines(
    context: Context, ensemble: EnsemblePlan, passage: PassageRow
) -> tuple[VisitLine, ...]:
    """Tell each visit of a passage in order."""
    return context.once("visits", passage, lambda: tuple(_visit_lines(ensemble, passage)))


def _visit_lines(ensemble: EnsemblePlan, passage: PassageRow) -> Iterator[VisitLine]:
    days = Counter(ensemble.rehearsals[visit.place].rehearsal.day for visit in passage.visits)
    for visit in passage.visits:
        rehearsal = ensemble.rehearsals[visit.place].rehearsal
        day = formatting.month_day(rehearsal.day)
        if days[rehearsal.day] > 1:
            # Translators: behind it stands how a passage is played then: "by itself at 80".
            day = gettext("%(day)s, %(time)s,", day=day, time=formatting.clock(rehearsal.start))
        yield VisitLine(
            day,
            rehearsal.n,
            how(visit),
            bpm_words(visit.rung.tempo),
        )


def _at_goal(ensemble: EnsemblePlan, passage: PassageRow) -> str:
    count = len(passage.at_goal)
    if not count:
        return gettext("at the goal not yet")
    since = formatting.month_day(ensemble.rehearsals[passage.at_goal[0].place].rehearsal.day)
    if count == 1:
        return gettext("at the goal once, on %(day)s", day=since)
    return ngettext(
        "at the goal %(num)s time, from %(day)s",
        "at the goal %(num)s times, from %(day)s",
        count,
        day=since,
    )
