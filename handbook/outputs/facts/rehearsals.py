"""Facts of an ensemble's rehearsals, its music and what to reach at home."""

from __future__ import annotations

from collections.abc import Iterator

from handbook.domain.facts import Fact, Topic
from handbook.outputs.components.event_words import missing_words
from handbook.outputs.components.rehearsal_names import makes_up, name_and_kind
from handbook.outputs.components.rehearsal_rides import ride_words
from handbook.outputs.components.rotation import rotation_lines
from handbook.outputs.components.section_rooms import room_words
from handbook.outputs.facts.keys import base_context, digest_of, rehearsal_keys
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.formats import with_clauses, with_semicolons
from handbook.outputs.note_values import tempo_words
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
        yield row, tuple(_rehearsal(context, key, readers, name, ensemble, row))


def _rehearsal(
    context: Context,
    key: str,
    readers: tuple[str, ...],
    band: str,
    ensemble: EnsemblePlan,
    row: RehearsalRow,
) -> Iterator[Fact]:
    rehearsal, day = row.rehearsal, row.rehearsal.day
    of_day = gettext("rehearsal on %(day)s", day=formatting.short_day(day))
    about = with_clauses((band, of_day))

    def part(name: str) -> str:
        return with_clauses((about, name))

    hours = formatting.span(rehearsal.start, rehearsal.end)
    when = with_clauses(filter(None, (hours, makes_up(row))))
    yield Fact(key, readers, Topic.DAY, about, when, day)
    if where := with_semicolons(room_words(context, ensemble, row)):
        yield Fact(f"{key}/room", readers, Topic.PLACE, part(pgettext("fact", "room")), where, day)
    if ride := " ".join(ride_words(context, row)):
        about_ride = part(pgettext("fact", "ride and pick-up"))
        yield Fact(f"{key}/ride", readers, Topic.CALL, about_ride, ride, day)
    for one in row.missing:
        (words,) = missing_words(context, [one])
        yield Fact(
            f"{key}/away/{one.event.item.id}",
            readers,
            Topic.CALL,
            part(pgettext("fact", "away")),
            words,
            day,
        )
    if what := name_and_kind(context, row):
        yield Fact(
            f"{key}/kind", readers, Topic.MUSIC, part(pgettext("fact", "what it is")), what, day
        )
    base = base_context(context)
    for words, told in {base.say(one): context.say(one) for one in row.notices}.items():
        notice = f"{key}/notice/{digest_of(words)}"
        yield Fact(notice, readers, Topic.THINGS, part(pgettext("fact", "notice")), told, day)


def _piece(
    context: Context, key: str, readers: tuple[str, ...], ensemble: EnsemblePlan, piece: PieceRow
) -> Iterator[Fact]:
    title = context.say(piece.item.title)
    yield Fact(
        key,
        readers,
        Topic.MUSIC,
        with_clauses((context.say(ensemble.item.name), pgettext("fact", "music"))),
        title,
    )
    if piece.item.dropped:
        about = with_clauses((title, pgettext("fact", "not rehearsed from")))
        day = piece.item.dropped
        yield Fact(f"{key}/dropped", readers, Topic.MUSIC, about, formatting.short_day(day), day)
    if turns := rotation_lines(context.plan.program, ensemble, piece.item):
        told = with_semicolons(f"{turn.number} {turn.instruments}" for turn in turns)
        about = with_clauses((title, pgettext("fact", "who plays what in percussion")))
        yield Fact(f"{key}/percussion-players", readers, Topic.MUSIC, about, told)
    for passage in piece.passages:
        yield from _passage(context, f"{key}/{passage.item.id}", readers, title, passage)


def _passage(
    context: Context, key: str, readers: tuple[str, ...], title: str, passage: PassageRow
) -> Iterator[Fact]:
    about = with_clauses((title, context.say(passage.item.name)))
    goal = tempo_words(passage.item.goal)
    yield Fact(
        key,
        readers,
        Topic.MUSIC,
        with_clauses((about, pgettext("fact", "measures"))),
        str(passage.item.measures),
    )
    yield Fact(
        f"{key}/goal", readers, Topic.GOAL, with_clauses((about, pgettext("fact", "goal"))), goal
    )
    for week in passage.weeks:
        named = gettext("week of %(day)s", day=formatting.short_day(week.monday))
        of_week = with_clauses((about, named))
        yield Fact(
            f"{key}/week/{week.monday}",
            readers,
            Topic.TEMPO,
            of_week,
            tempo_words(week.target),
            week.monday,
        )
