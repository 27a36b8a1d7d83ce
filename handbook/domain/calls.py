"""Call times: backward from a group's first note, forward from its last.

The order of a concert evening and the rounding to 5 minutes are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import astuple, dataclass
from datetime import UTC, datetime, timedelta
from fractions import Fraction

from handbook.domain.run_of_show import RunOfShow, later

_MINUTE = 60
_MARK_MINUTES = 5


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
class CallGroup:
    """Who is called together: an ensemble, or a section or role of it with its own allowances.

    `ensemble` None is a group that serves the whole show (a stage crew): its first note is
    the downbeat, its last the end of the show. `stays` keeps a group to the end of the show.
    """

    id: str
    allowances: Allowances
    ensemble: str | None = None
    section: str | None = None
    role: str | None = None
    stays: bool = False


@dataclass(frozen=True, slots=True)
class CallTimes:
    """One group's evening in order of time.

    Each of `duties` to `walk` is when that step starts, `in_place` when all must sit;
    `finished` is off stage, `packed` ready to leave. Only `call` (down) and `pick_up` (up) are rounded,
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
    finished: datetime
    packed: datetime
    ready: datetime
    pick_up: datetime


@dataclass(frozen=True, slots=True)
class StatedTime:
    """A time the director stated, beside the one reckoned without rounding.

    `shortfall` is how many minutes are missing, rounded up; 0 where the stated time will do.
    """

    group: str
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
    in_place = _minutes_later(first, -give.in_place)
    walk = _minutes_later(in_place, -give.walk)
    warm_up = _minutes_later(walk, -give.warm_up)
    unpack = _minutes_later(warm_up, -give.unpack)
    duties = _minutes_later(unpack, -give.duties)
    free = show.end if group.stays else last
    finished = _minutes_later(free, give.walk_back)
    packed = _minutes_later(finished, give.pack + give.strike)
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
        finished=finished,
        packed=packed,
        ready=ready,
        pick_up=mark_after(ready),
    )


def call_sheet(show: RunOfShow, groups: Iterable[CallGroup]) -> tuple[CallTimes, ...]:
    """Reckon every group that has something to do, earliest call first, then by the order given."""
    sheet = [times for group in groups if (times := call_times(show, group))]
    return tuple(sorted(sheet, key=lambda times: times.call.astimezone(UTC)))


def check_call(times: CallTimes, stated: datetime) -> StatedTime:
    """Compare a stated call with the moment the first step must start; too late is short."""
    return StatedTime(times.group.id, stated, times.duties, _short(times.duties, stated))


def check_pick_up(times: CallTimes, stated: datetime) -> StatedTime:
    """Compare a stated pick-up with the moment players reach the door; too early is short."""
    return StatedTime(times.group.id, stated, times.ready, _short(stated, times.ready))


def mark_before(moment: datetime, minutes: int = _MARK_MINUTES) -> datetime:
    """Round down to a mark of the clock, every `minutes` from the full hour."""
    return later(moment, -(_since_hour(moment) % (minutes * _MINUTE)))


def mark_after(moment: datetime, minutes: int = _MARK_MINUTES) -> datetime:
    """Round up to a mark of the clock, every `minutes` from the full hour."""
    return later(moment, -_since_hour(moment) % (minutes * _MINUTE))


def _minutes_later(moment: datetime, minutes: int) -> datetime:
    return later(moment, minutes * _MINUTE)


def _since_hour(moment: datetime) -> Fraction:
    return Fraction(moment.microsecond, 1_000_000) + moment.second + moment.minute * _MINUTE


def _short(limit: datetime, at: datetime) -> int:
    """Give the minutes from `limit` to `at`, rounded up; 0 if `at` is not after it."""
    elapsed = at.astimezone(UTC) - limit.astimezone(UTC)
    return max(0, -(-elapsed // timedelta(minutes=1)))
