"""An ensemble's season: how often each passage is played, how, how fast, and since when at its goal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from handbook.domain.season import Law, MusicKind
from handbook.domain.values.tempo import Tempo
from handbook.outputs import addresses
from handbook.outputs.components.season_grid import GridPair, season_grids
from handbook.outputs.components.stages import StageView
from handbook.outputs.components.visit_marks import how
from handbook.outputs.components.weeks import measures
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, EnsemblePlan, PassageRow, PieceRow, SeasonRow
from handbook.plan.season_words import kept_passages, unplayed
from handbook.records import dataclass

_KINDS = {
    MusicKind.PASSAGE: "by itself",
    MusicKind.JOIN: "joined",
    MusicKind.RUN: "in runs",
}


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
    yield from _returns(context, season)
    yield _goals(context, ensemble)
    missing = [
        f"{context.say(one.piece.title)}, {measures(one.measures.first, one.measures.last)} "
        f"in {context.say(one.stage.item.name)}"
        for one in unplayed(ensemble)
    ]
    if missing:
        yield f"All measures are played in each stage but these: {'; '.join(missing)}."
    else:
        yield "Every measure of every piece is played in each stage."
    yield _minutes(season)


def _returns(context: Context, season: SeasonRow) -> Iterator[str]:
    away = dict.fromkeys(
        context.say(row.passage.name)
        for row in season.unmet
        if row.law is Law.RETURN and row.passage
    )
    within = "in every rehearsal" if season.window == 1 else f"within {season.window} rehearsals"
    but = f", but for {_listed(list(away))}" if away else ""
    yield f"Every passage comes back {within}{but}."


def _goals(context: Context, ensemble: EnsemblePlan) -> str:
    passages = kept_passages(ensemble)
    there = [passage for passage in passages if passage.at_goal]
    if not there:
        return "Class comes near the goal tempos; the last steps are taken at home."
    days = [ensemble.rehearsals[passage.at_goal[0].place].rehearsal.day for passage in there]
    first, last = formatting.month_day(min(days)), formatting.month_day(max(days))
    since = f"on {first}" if first == last else f"one after another from {first} to {last}"
    short = [context.say(passage.item.name) for passage in passages if not passage.at_goal]
    who = f"Every passage but {_listed(short)}" if short else "Every passage"
    least = min(len(passage.at_goal) for passage in there)
    times = "one rehearsal" if least == 1 else f"{least} rehearsals"
    return f"{who} comes to its goal tempo {since}, and is played at it in at least {times}."


def _minutes(season: SeasonRow) -> str:
    alone, joined, runs = (season.minutes.get(kind, 0) for kind in MusicKind)
    return (
        f"Of {alone + joined + runs} minutes of music, {alone} go to passages by themselves, "
        f"{joined} to joining neighbors, {runs} to whole pieces."
    )


def _listed(names: Sequence[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _piece(context: Context, ensemble: EnsemblePlan, piece: PieceRow, path: str) -> PieceSeason:
    return PieceSeason(
        context.say(piece.item.title),
        tuple(_passage(context, ensemble, passage, path) for passage in piece.passages),
    )


def _passage(
    context: Context, ensemble: EnsemblePlan, passage: PassageRow, path: str
) -> PassageLine:
    span = passage.item.measures
    counts = [
        (sum(kind in visit.kinds for visit in passage.visits), words)
        for kind, words in _KINDS.items()
    ]
    return PassageLine(
        name=context.say(passage.item.name),
        measures=measures(span.first, span.last),
        path=f"{path}#{passage.item.id}",
        times=len(passage.visits),
        kinds=", ".join(f"{count} {words}" for count, words in counts if count),
        first=passage.first_tempo,
        last=passage.visits[-1].rung.tempo if passage.visits else passage.item.goal,
        goal=_at_goal(ensemble, passage),
        visits=visit_lines(context, ensemble, passage),
    )


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
        yield VisitLine(
            day if days[rehearsal.day] == 1 else f"{day}, {formatting.clock(rehearsal.start)},",
            rehearsal.n,
            how(visit),
            visit.rung.tempo.bpm_text,
        )


def _at_goal(ensemble: EnsemblePlan, passage: PassageRow) -> str:
    count = len(passage.at_goal)
    if not count:
        return "not yet"
    since = formatting.month_day(ensemble.rehearsals[passage.at_goal[0].place].rehearsal.day)
    return f"once, on {since}" if count == 1 else f"{count} times, from {since}"
