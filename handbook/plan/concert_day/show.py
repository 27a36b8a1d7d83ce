"""The run of show, from the program's turns and the durations of their pieces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from handbook.domain.call_times import minutes_short
from handbook.domain.run_of_show import (
    ItemKind,
    RunOfShow,
    ShowItem,
    TimedItem,
    numbered,
    run_of_show,
    with_pauses,
)
from handbook.domain.values.text import Text
from handbook.plan.concert_day.ground import Ground
from handbook.plan.concert_model import LateTurn, ShowRow
from handbook.plan.model import EnsemblePlan, PieceRow
from handbook.records import dataclass
from handbook.schema.concert import Guest, Pause

_MINUTE = 60


@dataclass(frozen=True, slots=True)
class Show:
    """The run of show; `turns` has the place in the program of the turn that each listed item is of.

    What follows the last turn is of none. `late` are the turns that cannot begin at their hour.
    """

    run: RunOfShow
    rows: tuple[ShowRow, ...]
    turns: tuple[int | None, ...]
    late: tuple[LateTurn, ...]


@dataclass(frozen=True, slots=True)
class _Entry:
    """An item as the director listed it, in the turn at some place of the program."""

    item: ShowItem
    title: Text | None
    turn: int | None
    about: bool = False


def show(ground: Ground, plans: Mapping[str, EnsemblePlan]) -> Show:
    """Place everything from the downbeat on; nothing is rounded."""
    entries = list(_entries(ground, plans))
    reset = Fraction(ground.item.changeover * _MINUTE)
    items = with_pauses(
        numbered([entry.item for entry in entries]),
        Fraction(ground.item.gap_seconds),
        reset,
    )
    run = run_of_show(ground.downbeat, items, reset)
    return Show(
        run,
        tuple(_row(ground, timed, entries) for timed in run.items),
        tuple(entry.turn for entry in entries),
        tuple(_late(ground, run, entries)),
    )


def _late(ground: Ground, run: RunOfShow, entries: Sequence[_Entry]) -> Iterator[LateTurn]:
    for timed in run.items:
        if timed.item.at is not None and timed.item.index is not None:
            short = minutes_short(timed.item.at, timed.start)
            turn = entries[timed.item.index].turn
            if short and turn is not None:
                address = ground.at("program", turn, "first_note")
                yield LateTurn(timed.item.at, timed.start, short, address)


def _entries(ground: Ground, plans: Mapping[str, EnsemblePlan]) -> Iterator[_Entry]:
    for place, turn in enumerate(ground.item.program):
        yield from _pauses(turn.before, place)
        pieces = _pieces_of(plans.get(turn.band))
        players = tuple(one for one in turn.names if one in plans or one in ground.guests)
        at = ground.ending(turn.first_note) if turn.first_note else None
        for piece_id in turn.pieces:
            if piece_id in pieces:
                piece = pieces[piece_id]
                seconds = Fraction(piece.seconds)
                item = ShowItem(ItemKind.PIECE, seconds, ensembles=players, piece=piece_id, at=at)
                yield _Entry(item, piece.item.title, place, about=piece.about)
                at = None
        guest = ground.guests.get(turn.guest or "")
        if guest is not None:
            for title, minutes in _performed(guest):
                seconds = Fraction(minutes * _MINUTE)
                item = ShowItem(ItemKind.PIECE, seconds, ensembles=players, at=at)
                yield _Entry(item, title, place)
                at = None
    yield from _pauses(ground.item.closing, None)


def _performed(guest: Guest) -> Iterator[tuple[Text | None, int]]:
    """Give the titles of what guests perform with its minutes, or their minutes alone."""
    if not guest.pieces:
        yield None, guest.minutes or 0
    yield from ((piece.title, piece.minutes) for piece in guest.pieces)


def _pauses(pauses: Sequence[Pause], turn: int | None) -> Iterator[_Entry]:
    for pause in pauses:
        item = ShowItem(ItemKind(pause.what.value), Fraction(pause.minutes * _MINUTE))
        yield _Entry(item, pause.about, turn)


def _pieces_of(plan: EnsemblePlan | None) -> Mapping[str, PieceRow]:
    return {piece.item.id: piece for piece in plan.pieces} if plan else {}


def _row(ground: Ground, timed: TimedItem, entries: Sequence[_Entry]) -> ShowRow:
    item = timed.item
    entry = None if item.index is None else entries[item.index]
    return ShowRow(
        kind=item.kind,
        start=timed.start,
        end=timed.end,
        seconds=item.seconds,
        title=entry.title if entry else None,
        ensembles=tuple(ground.performers[one] for one in item.ensembles),
        piece=item.piece,
        about=entry is not None and entry.about,
    )
