"""The run of show: when each item of a concert starts and ends."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from fractions import Fraction
from itertools import groupby

_MICROSECONDS = 1_000_000
_SHOWN_SECONDS = 60


class ItemKind(StrEnum):
    """What fills a stretch of a concert."""

    PIECE = "piece"
    GAP = "gap"  # applause and page turns between two pieces of the same players
    CHANGEOVER = "changeover"  # other players come on
    REMARKS = "remarks"
    INTERMISSION = "intermission"


@dataclass(frozen=True, slots=True)
class ShowItem:
    """One item and its length in seconds, exact.

    `ensembles` are the ids of all who play it (several for a combined piece), `piece` its id.
    `index` is its place in the director's list, None for an item that was put in between.
    Raises ValueError for a length below 0.
    """

    kind: ItemKind
    seconds: Fraction
    index: int | None = None
    ensembles: tuple[str, ...] = ()
    piece: str | None = None

    def __post_init__(self) -> None:
        if self.seconds < 0:
            raise ValueError(f"{self.seconds} seconds of {self.kind}")


@dataclass(frozen=True, slots=True)
class TimedItem:
    """An item with its exact offsets from the downbeat in seconds, end not included.

    `start` and `end` are the same moments by the clock, to the microsecond; neither is
    rounded to a minute.
    """

    item: ShowItem
    start_offset: Fraction
    end_offset: Fraction
    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class Turn:
    """One stretch in which the same players hold the stage, first note to last note.

    `index` is that of its first piece.
    """

    ensembles: tuple[str, ...]
    start: datetime
    end: datetime
    index: int | None


@dataclass(frozen=True, slots=True)
class RunOfShow:
    """All items of a concert in order, without overlap, from the downbeat on."""

    downbeat: datetime
    items: tuple[TimedItem, ...]

    @property
    def seconds(self) -> Fraction:
        """The exact length of the concert, all items together."""
        return self.items[-1].end_offset if self.items else Fraction(0)

    @property
    def end(self) -> datetime:
        """When the last item ends."""
        return self.items[-1].end if self.items else self.downbeat

    def seconds_of(self, kind: ItemKind) -> Fraction:
        """Sum the exact seconds of one kind of item."""
        return sum(
            (timed.item.seconds for timed in self.items if timed.item.kind is kind), Fraction(0)
        )

    def notes_of(self, ensemble: str) -> tuple[datetime, datetime] | None:
        """Give the first and the last note of an ensemble, None where it plays nothing."""
        played = [timed for timed in self._pieces() if ensemble in timed.item.ensembles]
        return (played[0].start, played[-1].end) if played else None

    def turns(self) -> tuple[Turn, ...]:
        """Give the turns on stage in order; a combined piece is a turn of its own.

        Gaps and remarks do not end a turn, a changeover or an intermission does.
        """
        return tuple(
            Turn(players, pieces[0].start, pieces[-1].end, pieces[0].item.index)
            for (_, players), group in groupby(self._with_stretch(), key=lambda pair: pair[0])
            if (pieces := [timed for _, timed in group])
        )

    def _pieces(self) -> list[TimedItem]:
        return [timed for timed in self.items if timed.item.kind is ItemKind.PIECE]

    def _with_stretch(self) -> Iterable[tuple[tuple[int, tuple[str, ...]], TimedItem]]:
        """Pair each piece with its players and the number of breaks before it."""
        breaks = 0
        for timed in self.items:
            if timed.item.kind in {ItemKind.CHANGEOVER, ItemKind.INTERMISSION}:
                breaks += 1
            elif timed.item.kind is ItemKind.PIECE:
                yield (breaks, tuple(sorted(timed.item.ensembles))), timed


def run_of_show(downbeat: datetime, items: Sequence[ShowItem]) -> RunOfShow:
    """Place the items one after the other from the downbeat; nothing is rounded before the sum.

    Raises ValueError for a downbeat without a time zone.
    """
    _require_zone(downbeat)
    timed: list[TimedItem] = []
    at = Fraction(0)
    for item in items:
        upto = at + item.seconds
        timed.append(TimedItem(item, at, upto, later(downbeat, at), later(downbeat, upto)))
        at = upto
    return RunOfShow(downbeat, tuple(timed))


def with_pauses(
    items: Sequence[ShowItem], gap: Fraction, changeover: Fraction
) -> tuple[ShowItem, ...]:
    """Put a pause between neighbouring pieces where the director wrote nothing between them.

    A gap between pieces of the same players, a changeover where they differ; seconds. A
    length of 0 puts nothing in.
    """
    filled: list[ShowItem] = []
    for item in items:
        before = filled[-1] if filled else None
        if before and before.kind is item.kind is ItemKind.PIECE:
            same = set(before.ensembles) == set(item.ensembles)
            pause = (
                ShowItem(ItemKind.GAP, gap) if same else ShowItem(ItemKind.CHANGEOVER, changeover)
            )
            filled += [pause] if pause.seconds else []
        filled.append(item)
    return tuple(filled)


def numbered(items: Sequence[ShowItem]) -> tuple[ShowItem, ...]:
    """Give each item its place in the director's list, counted from 0."""
    return tuple(replace(item, index=index) for index, item in enumerate(items))


def later(moment: datetime, seconds: Fraction | int) -> datetime:
    """Go on by elapsed seconds (back for a negative number), to the nearest microsecond.

    Plain addition would move the hands of the clock, which is wrong across a change to or
    from daylight saving.
    """
    _require_zone(moment)
    elapsed = timedelta(microseconds=round(seconds * _MICROSECONDS))
    return (moment.astimezone(UTC) + elapsed).astimezone(moment.tzinfo)


def shown(moment: datetime, step_seconds: int = _SHOWN_SECONDS) -> datetime:
    """Round a moment for showing: to the nearest whole step of the clock, half up.

    The only rounding in a run of show, done on the finished moment (common practice, no source).
    """
    since = Fraction(moment.microsecond, _MICROSECONDS) + moment.second + 60 * moment.minute
    steps = (since / step_seconds + Fraction(1, 2)) // 1
    return later(moment, steps * step_seconds - since)


def _require_zone(moment: datetime) -> None:
    if moment.tzinfo is None:
        raise ValueError(f"{moment} has no time zone")
