"""Facts of an ensemble's rehearsals, its music and what to reach at home."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.facts import Fact, Topic
from handbook.outputs.components.event_words import missing_words
from handbook.outputs.components.rehearsal_names import makes_up, name_and_kind
from handbook.outputs.components.rotation import rotation_lines
from handbook.outputs.facts.keys import digest_of, rehearsal_keys
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.model import CyclePlan, EnsemblePlan, PassageRow, PieceRow, RehearsalRow


def ensemble_facts(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> Iterator[Fact]:
    """Give the facts of one ensemble in one cycle."""
    base, readers = f"{cycle.id}/{ensemble.item.id}", (ensemble.item.id,)
    for _, facts in rehearsal_facts(context, cycle, ensemble):
        yield from facts
    for piece in ensemble.pieces:
        yield from _piece(context, f"{base}/piece/{piece.item.id}", readers, ensemble, piece)


def rehearsal_facts(
    context: Context, cycle: CyclePlan, ensemble: EnsemblePlan
) -> Iterator[tuple[RehearsalRow, tuple[Fact, ...]]]:
    """Give each rehearsal with its facts, of which the first is the rehearsal itself."""
    name, readers = context.say(ensemble.item.name), (ensemble.item.id,)
    for row, key in zip(ensemble.rehearsals, rehearsal_keys(cycle, ensemble), strict=True):
        yield row, tuple(_rehearsal(context, key, readers, name, row))


def _rehearsal(
    context: Context, key: str, readers: tuple[str, ...], band: str, row: RehearsalRow
) -> Iterator[Fact]:
    rehearsal, day = row.rehearsal, row.rehearsal.day
    about = f"{band}, rehearsal on {formatting.short_day(day)}"
    hours = formatting.span(rehearsal.start, rehearsal.end)
    when = ", ".join(filter(None, (hours, makes_up(row))))
    yield Fact(key, readers, Topic.DAY, about, when, day)
    if row.room:
        where = context.say(row.room.name)
        yield Fact(f"{key}/room", readers, Topic.PLACE, f"{about}, room", where, day)
    for one in row.missing:
        (words,) = missing_words(context, [one])
        yield Fact(
            f"{key}/away/{one.event.item.id}", readers, Topic.CALL, f"{about}, away", words, day
        )
    if what := name_and_kind(context, row):
        yield Fact(f"{key}/kind", readers, Topic.MUSIC, f"{about}, what it is", what, day)
    for words in dict.fromkeys(map(context.say, row.notices)):
        notice = f"{key}/notice/{digest_of(words)}"
        yield Fact(notice, readers, Topic.THINGS, f"{about}, notice", words, day)


def _piece(
    context: Context, key: str, readers: tuple[str, ...], ensemble: EnsemblePlan, piece: PieceRow
) -> Iterator[Fact]:
    title = context.say(piece.item.title)
    yield Fact(key, readers, Topic.MUSIC, f"{context.say(ensemble.item.name)}, music", title)
    if piece.item.dropped:
        about = f"{title}, not rehearsed from"
        day = piece.item.dropped
        yield Fact(f"{key}/dropped", readers, Topic.MUSIC, about, formatting.short_day(day), day)
    if turns := rotation_lines(context.plan.program, ensemble, piece.item):
        told = "; ".join(f"{turn.number} {turn.instruments}" for turn in turns)
        about = f"{title}, who plays what in percussion"
        yield Fact(f"{key}/percussion-players", readers, Topic.MUSIC, about, told)
    for passage in piece.passages:
        yield from _passage(context, f"{key}/{passage.item.id}", readers, title, passage)


def _passage(
    context: Context, key: str, readers: tuple[str, ...], title: str, passage: PassageRow
) -> Iterator[Fact]:
    about = f"{title}, {context.say(passage.item.name)}"
    goal = str(passage.item.goal)
    yield Fact(key, readers, Topic.MUSIC, f"{about}, measures", str(passage.item.measures))
    yield Fact(f"{key}/goal", readers, Topic.GOAL, f"{about}, goal", goal)
    for week in passage.weeks:
        of_week = f"{about}, week of {formatting.short_day(week.monday)}"
        yield Fact(
            f"{key}/week/{week.monday}",
            readers,
            Topic.TEMPO,
            of_week,
            str(week.target),
            week.monday,
        )
