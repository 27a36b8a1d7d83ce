"""Who is in which room when, and what cannot be so; all spans are half-open, end not included.

The rules are common practice, no source. Conflicts are data: each names both items by
kind and key, so that a caller can find them again in the director's files.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import UTC, datetime
from enum import StrEnum
from itertools import combinations

from handbook.domain.run_of_show import RunOfShow, Turn
from handbook.records import dataclass

Span = tuple[datetime, datetime]


class Purpose(StrEnum):
    """What a room is used for."""

    WARM_UP = "warm_up"  # a band's own room, from its call until it has packed
    PERFORMANCE = "performance"
    OTHER = "other"  # load-in, set-up, a meeting, strike


class ItemType(StrEnum):
    """What kind of thing a key refers to."""

    USE = "use"  # the id of a RoomUse
    SHOW_ITEM = "show_item"  # an index in the run of show
    CALL = "call"  # the id of a call group
    PICK_UP = "pick_up"  # the id of a call group
    BUS = "bus"
    ENSEMBLE = "ensemble"
    VENUE = "venue"
    SCHOOL_DAY = "school_day"  # an ISO date
    EVENING_LIMIT = "evening_limit"  # an ISO date


class Clash(StrEnum):
    """What is wrong, named for the bad thing."""

    ROOM_TWICE = "room_twice"
    WARM_UPS_TOGETHER = "warm_ups_together"  # of two bands, in one room
    PLAYERS_TWICE = "players_twice"
    WARM_UP_OVER_PERFORMANCE = "warm_up_over_performance"
    CALL_BEFORE_SCHOOL_OUT = "call_before_school_out"
    OUTSIDE_OPENING = "outside_opening"
    PAST_EVENING_LIMIT = "past_evening_limit"
    PIECE_NOT_PLAYED = "piece_not_played"


@dataclass(frozen=True, slots=True)
class Ref:
    """Points at one item; `key` is its id, or its index as an int."""

    type: ItemType
    key: str | int


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two items that cannot both stand, over [start, end); `end` equals `start` for a moment."""

    clash: Clash
    first: Ref
    second: Ref
    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class RoomUse:
    """A room in use over [start, end) by one or more ensembles, or by none (gear, a crew).

    `ref` says which item of the director's files it comes from. `wanted` is the part of the
    span in which the players must be there themselves, None for all of it: a room that a band
    warmed up in holds its cases while it plays. Raises ValueError for a span that ends before
    it starts.
    """

    ref: Ref
    room: str
    start: datetime
    end: datetime
    ensembles: tuple[str, ...] = ()
    purpose: Purpose = Purpose.OTHER
    wanted: Span | None = None

    @property
    def span(self) -> Span:
        """The time over which the room is held."""
        return self.start, self.end

    def __post_init__(self) -> None:
        if _instant(self.end) < _instant(self.start):
            raise ValueError(f"{self.ref.key} ends before it starts")


@dataclass(frozen=True, slots=True)
class OpeningHours:
    """When a venue is open, [opens, closes), and which rooms are in it."""

    venue: str
    rooms: frozenset[str]
    opens: datetime
    closes: datetime


def stage_uses(
    show: RunOfShow, stage: str, seated: Mapping[str, datetime] | None = None
) -> tuple[RoomUse, ...]:
    """Turn each turn of a run of show into a use of the stage, keyed by its first piece's index.

    `seated` maps ensembles to the moment at which they are in place for their first note;
    the stage is theirs from then on. Raises ValueError for a piece without an index.
    """
    return tuple(
        RoomUse(
            _show_item(turn.index),
            stage,
            _taken_from(show, turn, seated or {}),
            turn.end,
            turn.ensembles,
            Purpose.PERFORMANCE,
        )
        for turn in show.turns()
    )


def overlapping_uses(
    uses: Sequence[RoomUse],
    sharing: Collection[frozenset[str]] = (),
    partly: Collection[frozenset[str]] = (),
) -> tuple[Conflict, ...]:
    """Find one room used twice, and players wanted in two places, in order of time.

    `sharing` holds pairs of ensembles with players in common, `partly` those of them of which
    each has players who are not in the other. Two uses make one conflict:
    a warm-up over its own players' performance, else one room twice (an ensemble's own uses
    too), else players in two places.
    """
    found = []
    wholly = {*sharing} - {*partly}
    for first, second in combinations(uses, 2):
        clash = _clash(first, second, sharing, wholly)
        if clash is not None:
            kind, (start, end) = clash
            found.append(Conflict(kind, first.ref, second.ref, start, end))
    return _in_order(found)


def outside_opening(uses: Iterable[RoomUse], hours: Iterable[OpeningHours]) -> tuple[Conflict, ...]:
    """Find the spans of uses before a venue opens or after it closes, one conflict for each span.

    Rooms in none of `hours` are open at all times.
    """
    by_room = {room: venue for venue in hours for room in venue.rooms}
    found = []
    for use in uses:
        venue = by_room.get(use.room)
        if venue is None:
            continue
        early = (use.start, min(use.end, venue.opens, key=_instant))
        late = (max(use.start, venue.closes, key=_instant), use.end)
        found += [
            Conflict(Clash.OUTSIDE_OPENING, use.ref, Ref(ItemType.VENUE, venue.venue), start, end)
            for start, end in (early, late)
            if _instant(start) < _instant(end)
        ]
    return _in_order(found)


def calls_before_school_out(
    calls: Mapping[Ref, datetime], school_out: datetime | None
) -> tuple[Conflict, ...]:
    """Find calls and bus reports before the school day ends; None on a day without school."""
    if school_out is None:
        return ()
    day = Ref(ItemType.SCHOOL_DAY, school_out.date().isoformat())
    return _in_order(
        Conflict(Clash.CALL_BEFORE_SCHOOL_OUT, ref, day, call, school_out)
        for ref, call in calls.items()
        if _instant(call) < _instant(school_out)
    )


def past_evening_limit(
    ends: Mapping[Ref, datetime], limit: datetime | None
) -> tuple[Conflict, ...]:
    """Find pick-ups and other ends after the latest hour the program allows; None for no limit."""
    if limit is None:
        return ()
    evening = Ref(ItemType.EVENING_LIMIT, limit.date().isoformat())
    return _in_order(
        Conflict(Clash.PAST_EVENING_LIMIT, ref, evening, limit, end)
        for ref, end in ends.items()
        if _instant(end) > _instant(limit)
    )


def share_players(
    first: Iterable[str], second: Iterable[str], sharing: Collection[frozenset[str]]
) -> bool:
    """Tell whether any ensemble of one side is, or shares players with, one of the other."""
    others = set(second)
    return any(
        ensemble == other or frozenset((ensemble, other)) in sharing
        for ensemble in first
        for other in others
    )


def sharing_pairs(shares_players_with: Mapping[str, Iterable[str]]) -> frozenset[frozenset[str]]:
    """Turn each ensemble's own list into pairs; said by one side, it holds for both."""
    return frozenset(
        frozenset((ensemble, other))
        for ensemble, others in shares_players_with.items()
        for other in others
        if other != ensemble
    )


def _clash(
    first: RoomUse,
    second: RoomUse,
    sharing: Collection[frozenset[str]],
    wholly: Collection[frozenset[str]],
) -> tuple[Clash, Span] | None:
    """Tell what is wrong with two uses, and over which span."""
    purposes = {first.purpose, second.purpose}
    together = _overlap(first.wanted or first.span, second.wanted or second.span)
    shared = share_players(first.ensembles, second.ensembles, sharing)
    if together and shared and purposes == {Purpose.WARM_UP, Purpose.PERFORMANCE}:
        return Clash.WARM_UP_OVER_PERFORMANCE, together
    if first.room == second.room:
        # Their own cases are in nobody's way, only another band's are.
        own = share_players(first.ensembles, second.ensembles, wholly)
        if purposes == {Purpose.WARM_UP} and not own:
            # Two bands leave their cases in one room, and warm up in turn.
            return (Clash.WARM_UPS_TOGETHER, together) if together else None
        held = together if own else _overlap(first.span, second.span)
        return (Clash.ROOM_TWICE, held) if held else None
    return (Clash.PLAYERS_TWICE, together) if together and shared else None


def _overlap(first: Span, second: Span) -> Span | None:
    start, end = max(first[0], second[0], key=_instant), min(first[1], second[1], key=_instant)
    return (start, end) if _instant(start) < _instant(end) else None


def _taken_from(show: RunOfShow, turn: Turn, seated: Mapping[str, datetime]) -> datetime:
    """Give the moment from which the stage is a turn's: its first note, or who first sits there."""
    sits = [
        seated[ensemble]
        for ensemble in turn.ensembles
        if ensemble in seated and (show.notes_of(ensemble) or (None,))[0] == turn.start
    ]
    return min([turn.start, *sits], key=_instant)


def _show_item(index: int | None) -> Ref:
    if index is None:
        raise ValueError("a piece without its place in the director's list")
    return Ref(ItemType.SHOW_ITEM, index)


def _in_order(found: Iterable[Conflict]) -> tuple[Conflict, ...]:
    return tuple(sorted(found, key=lambda conflict: _instant(conflict.start)))


def _instant(moment: datetime) -> datetime:
    """Give the moment in UTC: two times of one zone compare by the hands, wrong in the hour that repeats."""
    return moment.astimezone(UTC)
