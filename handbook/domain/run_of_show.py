"""The run of show: when each item of a concert starts and ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from fractions import Fraction
from typing import Self

from handbook.records import dataclass

_MICROSECONDS = 1_000_000
_MICROSECOND = timedelta(microseconds=1)
_SHOWN_SECONDS = 60


class ItemKind(StrEnum):
    """What fills a stretch of a concert."""

    PIECE = "piece"
    GAP = "gap"  # applause and page turns between two pieces of the same players
    CHANGEOVER = "changeover"  # other players come on
    REMARKS = "remarks"
    INTERMISSION = "intermission"
    WAIT = "wait"  # until the hour of the next turn, which is fixed


_BREAKS = {ItemKind.CHANGEOVER, ItemKind.INTERMISSION, ItemKind.WAIT}


@dataclass(frozen=True, slots=True)
class ShowItem:
    """One item and its length in seconds, exact.

    `ensembles` are the ids of all who play it (several for a combined piece, none in a pause),
    `piece` its id.
    `index` is its place in the director's list, None for an item that was put in between.
    `at` is when it begins, if that is fixed: the first piece of a turn with an hour of its own.
    Raises ValueError for a length below 0.
    """

    kind: ItemKind
    seconds: Fraction
    index: int | None = None
    ensembles: tuple[str, ...] = ()
    piece: str | None = None
    at: datetime | None = None

    def __post_init__(self) -> None:
        if self.seconds < 0:
            raise ValueError(f"{self.seconds} seconds of {self.kind}")


@dataclass(frozen=True, slots=True)
class TimedItem:
    """An item with the exact offset of its end from the downbeat in seconds.

    `start` and `end` (which is not included) are moments by the clock, to the microsecond;
    neither is rounded to a minute.
    """

    item: ShowItem
    end_offset: Fraction
    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class Turn:
    """One stretch in which the same players hold the stage, first note to last note.

    `index` is that of its first piece. The stage is reset for it from `reset` to `free`; both
    are None for the first turn, unless a changeover stands before it. `fixed` is a turn that
    begins at an hour of its own.
    """

    ensembles: tuple[str, ...]
    start: datetime
    end: datetime
    index: int | None
    reset: datetime | None = None
    free: datetime | None = None
    fixed: bool = False

    def until(self, end: datetime) -> Self:
        """Go on to a later end."""
        return replace(self, end=end)


@dataclass(frozen=True, slots=True)
class RunOfShow:
    """All items of a concert in order, without overlap, from the downbeat on.

    `reset_seconds` is how long the crew takes for a reset in a pause that holds no changeover,
    such as an intermission.
    """

    downbeat: datetime
    items: tuple[TimedItem, ...]
    reset_seconds: Fraction = Fraction(0)

    @property
    def seconds(self) -> Fraction:
        """The exact length of the concert, all items together."""
        return self.items[-1].end_offset if self.items else Fraction(0)

    @property
    def end(self) -> datetime:
        """When the last item ends."""
        return self.items[-1].end if self.items else self.downbeat

    def notes_of(self, ensemble: str) -> tuple[datetime, datetime] | None:
        """Give the first and the last note of an ensemble, None where it plays nothing."""
        played = [timed for timed in self.items if ensemble in timed.item.ensembles]
        return (played[0].start, played[-1].end) if played else None

    def rises(self, last_note: datetime) -> datetime:
        """Give when those who play up to a last note get up.

        They sit through remarks before the stage is reset; where nothing but remarks parts them
        from the next piece, the reset begins at once (common practice, no source).
        """
        up = last_note
        after = [timed for timed in self.items if _instant(timed.start) >= _instant(last_note)]
        for timed in after:
            if timed.item.kind in _BREAKS:
                return up
            if timed.item.kind is not ItemKind.REMARKS:
                break
            up = timed.end
        return last_note

    def turns(self) -> tuple[Turn, ...]:
        """Give the turns on stage in order; a combined piece is a turn of its own.

        Gaps and remarks do not end a turn, a changeover or an intermission does.
        """
        found: list[Turn] = []
        pauses: list[TimedItem] = []
        for timed in self.items:
            if timed.item.kind is not ItemKind.PIECE:
                pauses.append(timed)
                continue
            players = tuple(sorted(timed.item.ensembles))
            before = found[-1] if found else None
            broken = any(pause.item.kind in _BREAKS for pause in pauses)
            fixed = timed.item.at is not None
            if before and before.ensembles == players and not broken and not fixed:
                found[-1] = before.until(timed.end)
            else:
                span = self._reset(before, pauses, timed.start)
                found.append(Turn(players, timed.start, timed.end, timed.item.index, *span, fixed))
            pauses = []
        return tuple(found)

    def stretches_of(self, ensemble: str) -> tuple[tuple[Turn, ...], ...]:
        """Give an ensemble's times on stage; turns that follow one another are one stretch.

        A turn with an hour of its own begins another one.
        """
        found: list[tuple[Turn, ...]] = []
        on_stage = False
        for turn in self.turns():
            if ensemble in turn.ensembles:
                goes_on = on_stage and not turn.fixed
                found[-1:] = [(*found[-1], turn)] if goes_on else [*found[-1:], (turn,)]
            on_stage = ensemble in turn.ensembles
        return tuple(found)

    def _reset(
        self, before: Turn | None, pauses: Sequence[TimedItem], start: datetime
    ) -> tuple[datetime | None, datetime | None]:
        """Find when the stage is reset before a turn.

        In the changeovers, if there are any; else from the last note before on, as long as a
        reset takes or the pause lasts (common practice, no source).
        """
        changes = [pause for pause in pauses if pause.item.kind is ItemKind.CHANGEOVER]
        if changes:
            return changes[0].start, changes[-1].end
        if before is None:
            return None, None
        done = later(before.end, self.reset_seconds)
        return before.end, min(done, start, key=lambda moment: moment.astimezone(UTC))


def run_of_show(
    downbeat: datetime, items: Sequence[ShowItem], reset_seconds: Fraction = Fraction(0)
) -> RunOfShow:
    """Place the items one after the other from the downbeat; nothing is rounded before the sum.

    Before a piece whose hour is fixed the show waits; one that comes too late for its hour
    begins as soon as it can. `reset_seconds` is how long a reset of the stage takes. Raises
    ValueError for a downbeat without a time zone.
    """
    _require_zone(downbeat)
    timed: list[TimedItem] = []
    at = Fraction(0)
    for item in _with_waits(downbeat, items):
        upto = at + item.seconds
        timed.append(TimedItem(item, upto, later(downbeat, at), later(downbeat, upto)))
        at = upto
    return RunOfShow(downbeat, tuple(timed), reset_seconds)


def _with_waits(downbeat: datetime, items: Sequence[ShowItem]) -> Sequence[ShowItem]:
    """Put the time until a fixed hour after the changeover before it, and before any remarks."""
    if all(item.at is None for item in items):
        return items
    filled: list[ShowItem] = []
    at, lead_in = Fraction(0), 0
    for item in items:
        if item.at is not None:
            wait = _seconds_between(later(downbeat, at), item.at)
            if wait > 0:
                filled.insert(len(filled) - lead_in, ShowItem(ItemKind.WAIT, wait))
                at += wait
        filled.append(item)
        at += item.seconds
        lead_in = lead_in + 1 if item.kind is ItemKind.REMARKS else 0
    return filled


def _seconds_between(start: datetime, end: datetime) -> Fraction:
    return Fraction((end.astimezone(UTC) - start.astimezone(UTC)) // _MICROSECOND, _MICROSECONDS)


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


def _instant(moment: datetime) -> datetime:
    return moment.astimezone(UTC)


def _require_zone(moment: datetime) -> None:
    if moment.tzinfo is None:
        raise ValueError(f"{moment} has no time zone")
