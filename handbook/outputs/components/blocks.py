"""The blocks of an agenda as pages show them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from handbook.domain.minutes import BlockKind
from handbook.domain.season import MusicKind
from handbook.domain.values.tempo import Tempo
from handbook.outputs.components.weeks import measures
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.page import Context
from handbook.plan.model import BlockRow, EnsemblePlan, PassageRow, RehearsalRow
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class BlockView:
    """One block of an agenda.

    A join or run has the tempo of each of its passages in `tempos`; `at_goal` says that all
    of them are at their goal. `how` is what sort of music it is, empty for anything else.
    """

    time: str
    minutes: int
    kind: str
    title: str
    detail: str
    tempo: Tempo | None = None
    how: str = ""
    tempos: tuple[tuple[str, Tempo], ...] = ()
    at_goal: bool = False


def _titles() -> Mapping[BlockKind, str]:
    return {
        BlockKind.SET_UP: pgettext("block of a rehearsal", "Set up"),
        BlockKind.WARM_UP: pgettext("block of a rehearsal", "Warm up"),
        BlockKind.NOTICES: pgettext("block of a rehearsal", "Thanks and notices"),
        BlockKind.FUNDAMENTALS: pgettext("block of a rehearsal", "Fundamentals"),
        BlockKind.MUSIC: pgettext("block of a rehearsal", "Music"),
        BlockKind.SECTIONAL: pgettext("block of a rehearsal", "Sectionals"),
        BlockKind.SIGHT_READING: pgettext("block of a rehearsal", "Sight-reading"),
        BlockKind.ASSEMBLY: pgettext("block of a rehearsal", "Assembly"),
        BlockKind.EVENT: pgettext("block of a rehearsal", "Event"),
        BlockKind.CLOSE: pgettext("block of a rehearsal", "Close"),
    }


def _details() -> Mapping[BlockKind, str]:
    return {
        BlockKind.SECTIONAL: gettext("Each section by itself"),
        BlockKind.SIGHT_READING: gettext("Something new, at first sight"),
        BlockKind.ASSEMBLY: gettext("The band is in the assembly; nothing is rehearsed"),
        BlockKind.EVENT: gettext("The time is the event’s; nothing is rehearsed"),
    }


def block_views(
    context: Context, ensemble: EnsemblePlan, row: RehearsalRow
) -> tuple[BlockView, ...]:
    """Show the agenda of a rehearsal."""
    return tuple(_block(context, ensemble, row, block) for block in row.blocks)


def _block(
    context: Context, ensemble: EnsemblePlan, row: RehearsalRow, block: BlockRow
) -> BlockView:
    kind = BlockKind(block.kind)
    view = BlockView(
        formatting.clock(block.start),
        block.minutes,
        kind.value,
        context.once("titles of blocks", context.plan, _titles)[kind],
        context.once("details of blocks", context.plan, _details).get(kind, ""),
    )
    if block.strand:
        return replace(
            view,
            title=context.say(block.strand.name),
            detail=context.say(block.exercise.name) if block.exercise else "",
            tempo=block.exercise.tempo if block.exercise else None,
        )
    if block.piece and block.stretch:
        return _stretch(context, ensemble, row, block, view)
    if block.piece and block.passage:
        span = block.passage.measures
        return replace(
            view,
            title=context.say(block.piece.title),
            detail=gettext(
                "%(passage)s, %(measures)s",
                passage=context.say(block.passage.name),
                measures=measures(span.first, span.last),
            ),
            tempo=block.rung.tempo if block.rung else None,
            how=MusicKind.PASSAGE.value,
        )
    return view


def _stretch(
    context: Context, ensemble: EnsemblePlan, row: RehearsalRow, block: BlockRow, view: BlockView
) -> BlockView:
    if block.piece is None or block.stretch is None:
        raise ValueError("a block without a join or run")
    piece, stretch = block.piece, block.stretch
    rows = context.once("rows", ensemble, lambda: _rows(ensemble))
    names = [context.say(passage.name) for passage in stretch.passages]
    played = [
        (name, visit.rung.tempo, item.goal)
        for name, item in zip(names, stretch.passages, strict=True)
        for visit in rows[piece.id, item.id].visits
        if visit.place == row.place
    ]
    return replace(
        view,
        title=context.say(piece.title),
        detail=_stretch_words(
            stretch.kind, names, measures(stretch.measures.first, stretch.measures.last)
        ),
        how=stretch.kind.value,
        tempos=tuple((name, tempo) for name, tempo, _ in played),
        at_goal=bool(played) and all(tempo == goal for _, tempo, goal in played),
    )


def _stretch_words(kind: MusicKind, passages: Sequence[str], where: str) -> str:
    """Say what a join or run plays, by the names of its passages in order and its measures."""
    if kind is MusicKind.RUN:
        return gettext("Whole piece, start to end, %(measures)s", measures=where)
    # Translators: a join practices how passages that follow one another hang together.
    if len(passages) > 1:
        return gettext(
            "Join: %(first)s to %(last)s, %(measures)s",
            first=passages[0],
            last=passages[-1],
            measures=where,
        )
    if passages:
        return gettext(
            "Join: %(passage)s and what surrounds it, %(measures)s",
            passage=passages[0],
            measures=where,
        )
    return gettext("Join, %(measures)s", measures=where)


def _rows(ensemble: EnsemblePlan) -> Mapping[tuple[str, str], PassageRow]:
    return {(one.item.id, row.item.id): row for one in ensemble.pieces for row in one.passages}
