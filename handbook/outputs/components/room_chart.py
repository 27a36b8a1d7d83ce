"""Rooms over the day as a picture: a row for each room, a bar for each use."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime, timedelta

from handbook.domain.run_of_show import shown
from handbook.outputs.html import formatting
from handbook.outputs.page import Context
from handbook.plan.concert_model import UseRow
from handbook.records import dataclass

_ROW, _NAME, _BAR, _TOP, _SIDE = 46.0, 15.0, 22.0, 24.0, 6.0
_NARROW, _BROAD = 360.0, 900.0
_LEAST_BAR = 15.0
_HALF_HOUR = timedelta(minutes=30)
_BROAD_FROM, _LABEL_ROOM = 700.0, 46.0


@dataclass(frozen=True, slots=True)
class BarView:
    """A use: its number in the table below, its place and its kind."""

    number: int
    x: float
    width: float
    kind: str
    middle: float


@dataclass(frozen=True, slots=True)
class RoomRowView:
    """One room; `y` is the top of its bars."""

    name: str
    name_y: float
    y: float
    text_y: float
    bars: tuple[BarView, ...]


@dataclass(frozen=True, slots=True)
class TickView:
    """A line at a clock time; the label is empty where it would not fit."""

    x: float
    label: str


@dataclass(frozen=True, slots=True)
class RoomChart:
    """The picture, in units of its view box."""

    width: float
    height: float
    bottom: float
    bar: float
    rows: tuple[RoomRowView, ...]
    ticks: tuple[TickView, ...]
    downbeat_x: float


def room_charts(
    context: Context, uses: Sequence[UseRow], downbeat: datetime
) -> tuple[RoomChart, RoomChart] | None:
    """Draw the rooms for a phone and for a wide page; None without any use."""
    if not uses:
        return None
    return (
        _chart(context, uses, downbeat, _NARROW),
        _chart(context, uses, downbeat, _BROAD),
    )


def _chart(context: Context, uses: Sequence[UseRow], downbeat: datetime, width: float) -> RoomChart:
    first, last = _whole_hours(uses)
    per_second = (width - 2 * _SIDE) / (last - first).total_seconds()

    def x_of(moment: datetime) -> float:
        return round(_SIDE + (moment - first).total_seconds() * per_second, 1)

    rooms = list(dict.fromkeys(use.room.id for use in uses))
    height = _TOP + len(rooms) * _ROW + 4
    return RoomChart(
        width=width,
        height=height,
        bottom=height - 4,
        bar=_BAR,
        rows=tuple(
            _row(context, uses, room, _TOP + place * _ROW, x_of) for place, room in enumerate(rooms)
        ),
        ticks=tuple(_ticks(first, last, x_of, width)),
        downbeat_x=x_of(downbeat),
    )


def _row(
    context: Context,
    uses: Sequence[UseRow],
    room: str,
    top: float,
    x_of: Callable[[datetime], float],
) -> RoomRowView:
    bars = []
    name = ""
    for number, use in enumerate(uses, start=1):
        if use.room.id == room:
            name = context.say(use.room.name)
            x, width = x_of(use.start), max(_LEAST_BAR, x_of(use.end) - x_of(use.start))
            bars.append(
                BarView(number, x, round(width, 1), use.purpose.value, round(x + width / 2, 1))
            )
    return RoomRowView(name, top + _NAME - 4, top + _NAME, top + _NAME + 15, tuple(bars))


def _whole_hours(uses: Sequence[UseRow]) -> tuple[datetime, datetime]:
    """Widen the day to half hours, so that the lines stand at its ends."""
    first = min(use.start for use in uses).replace(second=0, microsecond=0)
    first -= timedelta(minutes=first.minute % 30)
    last = shown(max(use.end for use in uses))
    last += timedelta(minutes=-last.minute % 30)
    return first, max(last, first + _HALF_HOUR)


def _ticks(
    first: datetime, last: datetime, x_of: Callable[[datetime], float], width: float
) -> Iterator[TickView]:
    moment, before = first, -_LABEL_ROOM
    while moment <= last:
        x = x_of(moment)
        fits = x - before >= _LABEL_ROOM and x <= width - _LABEL_ROOM / 2
        whole = moment.minute == 0 or width > _BROAD_FROM
        yield TickView(x, formatting.clock(moment) if fits and whole else "")
        if fits and whole:
            before = x
        moment += _HALF_HOUR
