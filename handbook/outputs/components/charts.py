"""The geometry of charts: numbers for SVG, so that templates only draw.

All lengths are SVG user units; the origin is the top left corner.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from unicodedata import east_asian_width

from handbook.domain.values.tempo import Tempo
from handbook.outputs.components.stages import StageMark, StageView
from handbook.outputs.components.visit_marks import VisitMark, visit_mark
from handbook.outputs.html import formatting
from handbook.outputs.i18n.other_language import bare
from handbook.plan.model import EnsemblePlan, PassageRow, Visit
from handbook.records import dataclass

WIDTH = 360
_LEFT, _RIGHT = 30, 14


@dataclass(frozen=True, slots=True)
class StageBand:
    """A stage's stretch of a chart; `letters` is the room that its name takes, in letters."""

    x: float
    width: float
    middle: float
    name: str
    letters: int
    mark: StageMark
    odd: bool
    named: bool  # where it is too narrow for both, the name stands without the mark
    marked: bool


@dataclass(frozen=True, slots=True)
class Point:
    """One rehearsal on a chart, until it ends; `mark` draws how a passage was played in it."""

    x: float
    y: float
    n: int
    day: date
    ends: str
    mark: VisitMark | None = None


@dataclass(frozen=True, slots=True)
class LadderChart:
    """A passage's visits, with the tempo of each, over the ensemble's rehearsals.

    `reached` is what logs say beside them: for the director alone, empty on the site.
    """

    height: float
    top: float
    bottom: float
    left: float
    right: float
    line: str
    area: str
    points: tuple[Point, ...]
    bands: tuple[StageBand, ...]
    goal_y: float
    goal: str
    low_y: float
    low: str
    last: int
    reached: tuple[Point, ...] = ()


_TOP, _PLOT, _FOOT = 30, 110, 26
_NAME_WIDTH = 7.0  # of a letter of the band's name at the chart's size of text
_NAME_ROOM = 4
_WIDE = frozenset("WF")  # as wide as two letters: Unicode Standard Annex 11


def ladder_chart(
    ensemble: EnsemblePlan,
    passage: PassageRow,
    stages: Sequence[StageView],
    reached: Sequence[tuple[int, Tempo]] = (),
) -> LadderChart:
    """Draw the ladder of a passage: one step a visit, stages as bands, the goal as a line.

    `reached` are tempos in beats of the goal, with the places of their rehearsals.
    """
    count = len(ensemble.rehearsals)
    step = (WIDTH - _LEFT - _RIGHT) / count
    slowest = min((passage.slowest_tempo, *(one for _, one in reached)), key=lambda one: one.bpm)
    low = float(slowest.bpm)
    goal = float(passage.item.goal.bpm)
    rise = (
        max(goal, *(float(one.bpm) for _, one in reached)) - low if reached else goal - low
    ) or 1.0
    bottom = float(_TOP + _PLOT)

    def height_of(bpm: float) -> float:
        return round(bottom - 8 - (bpm - low) / rise * (_PLOT - 22), 2)

    points = tuple(
        _visit_point(ensemble, visit, step, height_of(float(visit.rung.tempo.bpm)))
        for visit in passage.visits
    )
    line = _steps(points, step)
    return LadderChart(
        height=_TOP + _PLOT + _FOOT,
        top=_TOP,
        bottom=bottom,
        left=_LEFT,
        right=WIDTH - _RIGHT,
        line=line,
        area=f"{line} V{bottom:g} H{line[1:].split()[0]} Z",
        points=points,
        bands=tuple(stage_bands(ensemble, stages, step)),
        goal_y=height_of(goal),
        goal=passage.item.goal.bpm_text,
        low_y=height_of(low),
        low=slowest.bpm_text,
        last=count,
        reached=tuple(
            _point(ensemble, place, step, height_of(float(tempo.bpm))) for place, tempo in reached
        ),
    )


def _visit_point(ensemble: EnsemblePlan, visit: Visit, step: float, y: float) -> Point:
    point = _point(ensemble, visit.place, step, y)
    return replace(point, mark=visit_mark(visit.kinds, point.x, y, step))


def _point(ensemble: EnsemblePlan, place: int, step: float, y: float) -> Point:
    x = round(_LEFT + step * (place + 0.5), 2)
    rehearsal = ensemble.rehearsals[place].rehearsal
    return Point(x, y, rehearsal.n, rehearsal.day, formatting.moment(rehearsal.end))


def _steps(points: Sequence[Point], step: float) -> str:
    """Step up at each visit, and stay till the next."""
    if not points:
        return f"M{_LEFT:g} {_TOP + _PLOT:g}"
    path = f"M{points[0].x - step / 2:.2f} {points[0].y:g}"
    for point, after in zip(points, [*points[1:], None], strict=True):
        path += f" V{point.y:g} H{(after.x if after else point.x + step) - step / 2:.2f}"
    return path


def stage_bands(
    ensemble: EnsemblePlan, stages: Sequence[StageView], step: float, left: float = _LEFT
) -> list[StageBand]:
    """Give the stages' stretches of a chart whose rehearsals are `step` wide, from `left` on."""
    return [
        _band(left + span.first * step, span.count * step, stage)
        for span, stage in zip(ensemble.stages, stages, strict=True)
    ]


def _band(x: float, width: float, stage: StageView) -> StageBand:
    name = bare(stage.name)  # a drawing has no element for a language
    letters = _letters(name)
    room = letters * _NAME_WIDTH
    return StageBand(
        x=round(x, 2),
        width=round(width, 2),
        middle=round(x + width / 2, 2),
        name=name,
        letters=letters,
        mark=stage.mark,
        odd=stage.place % 2 == 1,
        named=(named := width > room + _NAME_ROOM),
        marked=not named or width > room + 12 + stage.mark.width / 2,
    )


def room_for(names: Iterable[str]) -> float:
    """Give the width of a column that holds the longest of some names, with room beside it."""
    return max(map(_letters, names), default=0) * _NAME_WIDTH + _NAME_ROOM * 4


def _letters(name: str) -> int:
    """Count the letters of a name, those that are as wide as two twice."""
    return sum(2 if east_asian_width(sign) in _WIDE else 1 for sign in name)


@dataclass(frozen=True, slots=True)
class StripRow:
    """One ensemble on the strip."""

    name: str
    path: str
    y: float
    bands: tuple[StageBand, ...]
    points: tuple[Point, ...]
    count: int


@dataclass(frozen=True, slots=True)
class StripMonth:
    """Where a month begins on the strip, or the strip within one."""

    x: float
    label: str


@dataclass(frozen=True, slots=True)
class CycleStrip:
    """A cycle on one strip: weeks across, an ensemble a row, the last concert at the end.

    `concert_xs` are those of the concerts before it.
    """

    full_width: float
    height: float
    first: date
    days: int
    left: float
    width: float
    weeks: tuple[float, ...]
    months: tuple[StripMonth, ...]
    rows: tuple[StripRow, ...]
    concert_x: float | None
    concert: str
    concert_xs: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class StripPair:
    """The same strip drawn for a phone and for a wide page, so that its text stays readable."""

    narrow: CycleStrip
    broad: CycleStrip


_BROAD = 1060
_STRIP_LEFT, _STRIP_RIGHT, _STRIP_TOP, _ROW = 0.5, 2.5, 24, 50
_WEEK_DAYS = 7
_MONTH_WIDTH = 30  # of a label with the room beside it


StripSource = tuple[str, str, EnsemblePlan, Sequence[StageView]]
"""An ensemble's name, its page, its plan and its stages."""


def cycle_strips(
    rows: Sequence[StripSource], first: date, last: date, concerts: Sequence[date]
) -> StripPair:
    """Draw a cycle from `first` to `last` in both widths."""
    return StripPair(
        _cycle_strip(rows, first, last, concerts, WIDTH),
        _cycle_strip(rows, first, last, concerts, _BROAD),
    )


def _cycle_strip(
    rows: Sequence[StripSource],
    first: date,
    last: date,
    concerts: Sequence[date],
    full_width: float,
) -> CycleStrip:
    monday = first - timedelta(days=first.weekday())
    days = (last - monday).days + 1
    width = full_width - _STRIP_LEFT - _STRIP_RIGHT
    per_day = width / days

    def x_of(day: date, offset: float = 0.0) -> float:
        return round(_STRIP_LEFT + ((day - monday).days + offset) * per_day, 2)

    strip_rows = []
    for place, (name, path, plan, stages) in enumerate(rows):
        y = _STRIP_TOP + place * _ROW
        bands = tuple(
            _band(x_of(stage.begins), ((stage.ends - stage.begins).days + 1) * per_day, stage)
            for stage in stages
        )
        points = tuple(
            Point(
                x_of(row.rehearsal.day, 0.5),
                y + 33,
                row.rehearsal.n,
                row.rehearsal.day,
                formatting.moment(row.rehearsal.end),
            )
            for row in plan.rehearsals
        )
        strip_rows.append(StripRow(name, path, y, bands, points, len(plan.rehearsals)))
    return CycleStrip(
        full_width=full_width,
        height=_STRIP_TOP + len(rows) * _ROW + 6,
        first=monday,
        days=days,
        left=_STRIP_LEFT,
        width=width,
        weeks=tuple(x_of(monday, place) for place in range(0, days, _WEEK_DAYS)),
        months=tuple(_strip_months(monday, days, per_day)),
        rows=tuple(strip_rows),
        concert_x=x_of(concerts[-1], 0.5) if concerts else None,
        concert=formatting.short_day(concerts[-1]) if concerts else "",
        concert_xs=tuple(x_of(day, 0.5) for day in concerts[:-1]),
    )


def _strip_months(monday: date, days: int, per_day: float) -> Iterator[StripMonth]:
    """Name each month at its first day; one that has no room before the next, or the end, has none."""
    all_days = [monday + timedelta(days=place) for place in range(days)]
    starts = [place for place, day in enumerate(all_days) if place == 0 or day.day == 1]
    for place, after in zip(starts, [*starts[1:], days], strict=True):
        if (after - place) * per_day > _MONTH_WIDTH:
            x = round(_STRIP_LEFT + place * per_day, 2)
            yield StripMonth(x, formatting.short_month(all_days[place]))
