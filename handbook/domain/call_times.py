"""Call times: backward from a group's first note on a free stage, forward from its last.

The order of a concert evening and the rounding to 5 minutes are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import astuple
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from itertools import pairwise

from handbook.domain.run_of_show import RunOfShow, Turn, later
from handbook.records import dataclass

_MINUTE = 60
_MARK_MINUTES = 5
_ROUNDING = timedelta(milliseconds=1)  # more than the rounding of a moment to microseconds


@dataclass(frozen=True, slots=True)
class Allowances:
    """Whole minutes that each step of an evening takes; raises ValueError below 0.

    Before: `duties` (load-in, setting up), `unpack`, `warm_up`, `walk` to the stage, `in_place`
    before the first note. After: `walk_back`, `pack`, `strike`, `to_door`.
    """

    in_place: int
    walk: int
    warm_up: int
    unpack: int
    walk_back: int
    pack: int
    to_door: int
    duties: int = 0
    strike: int = 0

    def __post_init__(self) -> None:
        if min(astuple(self)) < 0:
            raise ValueError(f"minutes below 0 in {self}")


@dataclass(frozen=True, slots=True)
class ExtraStep:
    """A step before the warm-up or after the performance, such as a photo or sight-reading.

    After the performance it begins when the one before it ends, before the warm-up it ends
    when the next one begins; or it begins at the time stated in `at`. `index` is its place in
    the director's list. Raises ValueError below 0 minutes.
    """

    index: int
    minutes: int
    at: datetime | None = None

    def __post_init__(self) -> None:
        if self.minutes < 0:
            raise ValueError(f"a step of {self.minutes} minutes")


@dataclass(frozen=True, slots=True)
class EarlierTime:
    """A step before the warm-up over [start, end), and when it must be over.

    `until` is before `end` where the stated time comes too late for what follows it.
    """

    step: ExtraStep
    start: datetime
    end: datetime
    until: datetime


@dataclass(frozen=True, slots=True)
class LaterTime:
    """A step after the performance over [start, end), and when its players are free for it.

    `free` is after `start` where the stated time comes too early for them.
    """

    step: ExtraStep
    start: datetime
    end: datetime
    free: datetime


@dataclass(frozen=True, slots=True)
class CallGroup:
    """Who is called together: an ensemble, or a section or a role with its own allowances.

    `ensemble` None is a group that serves the whole show (a stage crew): its first note is
    the downbeat, its last the end of the show. `stays` keeps a group to the end of the show.
    `beforehand` is what it has to do between unpacking and warm-up, `afterward` when it has
    played, before it packs.
    """

    allowances: Allowances
    ensemble: str | None = None
    stays: bool = False
    beforehand: tuple[ExtraStep, ...] = ()
    afterward: tuple[ExtraStep, ...] = ()


@dataclass(frozen=True, slots=True)
class ReturnTimes:
    """A later turn with an hour of its own, for which a group gathers again.

    It is free from `off_stage` of the turn before; `call` is rounded down to 5 minutes. Each
    of `unpack` to `walk` is when that step starts. `index` is that of the turn's first piece.
    """

    index: int | None
    off_stage: datetime
    call: datetime
    unpack: datetime
    warm_up: datetime
    walk: datetime
    in_place: datetime
    first_note: datetime
    last_note: datetime


@dataclass(frozen=True, slots=True)
class CallTimes:
    """One group's evening in order of time.

    Each of `duties` to `walk` is when that step starts, `unpacked` when what it has to do
    `beforehand` may start, `in_place` when all must sit, which is
    never before the stage is reset and free. `off_stage` is the group's own, whoever plays
    after it, and after remarks that it sits through; `packing` is when it begins to pack, after what it has to do `afterward` and
    (for a group that stays) after the end; `packed` is when it is free to leave. `stage_free`
    is None where nobody plays before it. `returns` are the times it gathers again. Only `call` (down) and `pick_up` (up) are rounded,
    to 5 minutes; `ready` is the pick-up before rounding.
    """

    group: CallGroup
    call: datetime
    duties: datetime
    unpack: datetime
    warm_up: datetime
    walk: datetime
    in_place: datetime
    first_note: datetime
    last_note: datetime
    off_stage: datetime
    afterward: tuple[LaterTime, ...]
    packing: datetime
    packed: datetime
    ready: datetime
    pick_up: datetime
    stage_free: datetime | None = None
    unpacked: datetime | None = None
    beforehand: tuple[EarlierTime, ...] = ()
    returns: tuple[ReturnTimes, ...] = ()

    @property
    def minutes_in_place(self) -> int:
        """Whole minutes that all sit in place before the first note, rounded down."""
        elapsed = self.first_note.astimezone(UTC) - self.in_place.astimezone(UTC)
        return (elapsed + _ROUNDING) // timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class StatedTime:
    """A time the director stated, beside the one reckoned without rounding.

    `shortfall` is how many minutes are missing, rounded up; 0 where the stated time will do.
    """

    stated: datetime
    reckoned: datetime
    shortfall: int


def call_times(show: RunOfShow, group: CallGroup) -> CallTimes | None:
    """Reckon one group's evening; None where its ensemble plays nothing in the show."""
    notes = (
        show.notes_of(group.ensemble) if group.ensemble is not None else (show.downbeat, show.end)
    )
    if notes is None:
        return None
    first, last = notes
    give = group.allowances
    stage_free = _stage_free(show, group.ensemble)
    in_place = _latest(_minutes_later(first, -give.in_place), stage_free)
    walk = _minutes_later(in_place, -give.walk)
    warm_up = _minutes_later(walk, -give.warm_up)
    beforehand = _beforehand(group.beforehand, warm_up)
    unpacked = min([warm_up, *map(_begins, beforehand)], key=_instant)
    unpack = _minutes_later(unpacked, -give.unpack)
    duties = _minutes_later(unpack, -give.duties)
    off_stage = _minutes_later(_leaves(show, group, last), give.walk_back)
    afterward = _afterward(group.afterward, off_stage)
    over = _minutes_later(show.end, give.walk_back) if group.stays else None
    packing = _latest(off_stage, over, *(step.end for step in afterward))
    packed = _minutes_later(packing, give.pack + give.strike)
    ready = _minutes_later(packed, give.to_door)
    return CallTimes(
        group=group,
        call=mark_before(duties),
        duties=duties,
        unpack=unpack,
        warm_up=warm_up,
        walk=walk,
        in_place=in_place,
        first_note=first,
        last_note=last,
        off_stage=off_stage,
        afterward=afterward,
        packing=packing,
        packed=packed,
        ready=ready,
        pick_up=mark_after(ready),
        stage_free=stage_free,
        unpacked=unpacked,
        beforehand=beforehand,
        returns=tuple(_returns(show, group)),
    )


def _returns(show: RunOfShow, group: CallGroup) -> Iterator[ReturnTimes]:
    """Reckon the later turns with an hour of their own that leave time to come back to."""
    stretches = show.stretches_of(group.ensemble) if group.ensemble is not None else ()
    give = group.allowances
    for before, stretch in pairwise(stretches):
        first = stretch[0].start
        off_stage = _minutes_later(show.rises(before[-1].end), give.walk_back)
        in_place = _latest(_minutes_later(first, -give.in_place), stretch[0].free)
        walk = _minutes_later(in_place, -give.walk)
        warm_up = _minutes_later(walk, -give.warm_up)
        unpack = _minutes_later(warm_up, -give.unpack)
        call = mark_before(unpack)
        if stretch[0].fixed and _instant(call) >= _instant(off_stage):
            yield ReturnTimes(
                stretch[0].index,
                off_stage,
                call,
                unpack,
                warm_up,
                walk,
                in_place,
                first,
                stretch[-1].end,
            )


def _stage_free(show: RunOfShow, ensemble: str | None) -> datetime | None:
    """Find when the stage is reset and free for an ensemble's first turn."""
    stretches = show.stretches_of(ensemble) if ensemble is not None else ()
    return stretches[0][0].free if stretches else None


def _leaves(show: RunOfShow, group: CallGroup, last: datetime) -> datetime:
    """Give the moment a group gets up: after its remarks, the last band that stays at the end."""
    final: Turn | None = next(reversed(show.turns()), None)
    stays_seated = group.stays and final is not None and group.ensemble in final.ensembles
    return show.end if stays_seated else show.rises(last) if group.ensemble else last


def _beforehand(steps: Sequence[ExtraStep], warm_up: datetime) -> tuple[EarlierTime, ...]:
    """Count back from the warm-up; what comes too late for the next step holds nothing up."""
    found: list[EarlierTime] = []
    until = warm_up
    for step in reversed(steps):
        latest = _minutes_later(until, -step.minutes)
        start = step.at or latest
        found.append(EarlierTime(step, start, _minutes_later(start, step.minutes), until))
        until = min(start, latest, key=_instant)
    return tuple(reversed(found))


def _begins(step: EarlierTime) -> datetime:
    """Give when a step begins, or must begin where it is stated too late."""
    return min(step.start, _minutes_later(step.until, -step.step.minutes), key=_instant)


def _afterward(steps: Iterable[ExtraStep], off_stage: datetime) -> tuple[LaterTime, ...]:
    found: list[LaterTime] = []
    free = off_stage
    for step in steps:
        start = step.at or free
        end = _minutes_later(start, step.minutes)
        found.append(LaterTime(step, start, end, free))
        free = _latest(free, end)
    return tuple(found)


def check_call(times: CallTimes, stated: datetime) -> StatedTime:
    """Compare a stated call with the moment the first step must start; too late is short."""
    return StatedTime(stated, times.duties, minutes_short(times.duties, stated))


def check_departure(reckoned: datetime, stated: datetime) -> StatedTime:
    """Compare the stated time at which buses leave with that at which all are in; too early is short."""
    return StatedTime(stated, reckoned, minutes_short(stated, reckoned))


def check_pick_up(times: CallTimes, stated: datetime) -> StatedTime:
    """Compare a stated pick-up with the moment players reach the door; too early is short."""
    return StatedTime(stated, times.ready, minutes_short(stated, times.ready))


def mark_before(moment: datetime, minutes: int = _MARK_MINUTES) -> datetime:
    """Round down to a mark of the clock, every `minutes` from the full hour."""
    return later(moment, -(_since_hour(moment) % (minutes * _MINUTE)))


def mark_after(moment: datetime, minutes: int = _MARK_MINUTES) -> datetime:
    """Round up to a mark of the clock, every `minutes` from the full hour."""
    return later(moment, -_since_hour(moment) % (minutes * _MINUTE))


def _minutes_later(moment: datetime, minutes: int) -> datetime:
    return later(moment, minutes * _MINUTE)


def _latest(moment: datetime, *others: datetime | None) -> datetime:
    """Give the latest moment of those that are known."""
    known = [moment, *(other for other in others if other is not None)]
    return max(known, key=_instant)


def _instant(moment: datetime) -> datetime:
    return moment.astimezone(UTC)


def _since_hour(moment: datetime) -> Fraction:
    return Fraction(moment.microsecond, 1_000_000) + moment.second + moment.minute * _MINUTE


def minutes_short(limit: datetime, at: datetime) -> int:
    """Give the minutes by which `at` is after `limit`, rounded up; 0 if it is not."""
    elapsed = at.astimezone(UTC) - limit.astimezone(UTC)
    return max(0, -(-elapsed // timedelta(minutes=1)))
