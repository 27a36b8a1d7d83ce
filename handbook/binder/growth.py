"""Growth: levels and strands of each ensemble over all cycles, and what the next one begins with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from handbook.binder.model import Binder, BinderFile
from handbook.binder.paper import can_print, notice, sheet_file
from handbook.carrying.cycle import LEFT_OUT
from handbook.outputs.components.charts import room_for
from handbook.outputs.components.levels import levels_in_words
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import short_units
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import Sheet
from handbook.plan.growth import EnsembleGrowth, StrandGrowth, growth
from handbook.plan.model import EnsemblePlan, StrandRow
from handbook.records import dataclass
from handbook.schema.cycle import Cycle

PATH = "growth.html"


@dataclass(frozen=True, slots=True)
class StrandCells:
    """A strand in the table: one cell a cycle, empty where it did not come, then where it goes on."""

    name: str
    cells: tuple[str, ...]
    following: str


@dataclass(frozen=True, slots=True)
class Bar:
    """A cycle's levels of a strand: `done` those that had all their rehearsals, `open` one that was begun."""

    cycle: str
    y: float
    done: tuple[float, float] | None
    open: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class StrandBars:
    """A strand on the chart; `bars` has one a cycle, `next_x` is the middle of the level that comes next."""

    name: str
    y: float
    bars: tuple[Bar, ...]
    next_x: float
    next_y: float


@dataclass(frozen=True, slots=True)
class LevelChart:
    """All strands of an ensemble, a level a column; lengths are SVG user units from the top left corner."""

    strands: tuple[StrandBars, ...]
    levels: tuple[tuple[int, float], ...]
    lines: tuple[float, ...]
    cycles_x: float
    left: float
    width: float
    height: float
    top: float
    bar: float


@dataclass(frozen=True, slots=True)
class EnsembleLevels:
    """An ensemble on the page."""

    id: str
    name: str
    cycles: tuple[str, ...]
    times: tuple[str, ...]
    warm_ups: tuple[str, ...]
    next_warm_up: str
    strands: tuple[StrandCells, ...]
    chart: LevelChart


@dataclass(frozen=True, slots=True)
class GrowthPage:
    """The page; `carried` and `left_out` are what `handbook next cycle` does with the `last` one."""

    ensembles: tuple[EnsembleLevels, ...]
    last: str
    carried: tuple[str, ...]
    left_out: tuple[str, ...]


def files(binder: Binder) -> Iterator[BinderFile]:
    """Make the one page for all cycles, where there are strands, and its sheet to print."""
    context = binder.context
    found = tuple(_levels(context, one) for one in growth(binder.plan) if one.strands)
    if not found:
        return
    last = binder.plan.cycles[-1]
    view = GrowthPage(
        found, context.say(last.item.name), tuple(_carried(last.item)), tuple(_left_out(last.item))
    )
    yield binder.page(
        "growth",
        view,
        PATH,
        title=gettext("Growth"),
        about=gettext(
            "How far each band has come in the fundamentals, and what the next cycle begins with."
        ),
    )
    if can_print(binder):
        yield sheet_file(
            binder,
            Sheet(
                path="growth.pdf",
                kind="growth",
                title=gettext("Growth, on paper"),
                view=view,
                one_page=False,
                notice=notice(),
            ),
            about=gettext("The same to print (PDF)."),
        )


def _levels(context: Context, one: EnsembleGrowth) -> EnsembleLevels:
    warm_up = one.next_warm_up
    names = tuple(context.say(cycle.item.name) for cycle, _ in one.cycles)
    return EnsembleLevels(
        id=one.last.item.id,
        name=context.say(one.last.item.name),
        cycles=names,
        times=tuple(_time(ensemble) for _, ensemble in one.cycles),
        warm_ups=tuple(_warm_up(context, ensemble) for _, ensemble in one.cycles),
        next_warm_up=gettext(
            "Level %(level)s: %(name)s", level=warm_up.level, name=context.say(warm_up.name)
        )
        if warm_up
        else "",
        strands=tuple(_line(context, strand) for strand in one.strands),
        chart=level_chart([context.say(one.item.name) for one in one.strands], one.strands, names),
    )


def _time(ensemble: EnsemblePlan) -> str:
    minutes = sum(row.rehearsal.minutes for row in ensemble.rehearsals)
    count = len(ensemble.rehearsals)
    return gettext(
        "%(rehearsals)s, %(time)s",
        rehearsals=ngettext("%(count)s rehearsal", "%(count)s rehearsals", count, count=count),
        time=short_units((*divmod(minutes, 60), 0)),
    )


def _warm_up(context: Context, ensemble: EnsemblePlan) -> str:
    warm_up = ensemble.warm_up
    if warm_up is None:
        return ""
    return gettext("Level %(level)s: %(name)s", level=warm_up.level, name=context.say(warm_up.name))


def _line(context: Context, strand: StrandGrowth) -> StrandCells:
    following = gettext("level %(number)s", number=strand.next_level)
    last = strand.rows[-1]
    if last and last.finished_level == strand.top_level:
        following = gettext(
            "level %(number)s once more, since there is none above it", number=strand.next_level
        )
    elif last and strand.next_level == last.last_level and _begun(last):
        following = gettext("level %(number)s, from its start", number=strand.next_level)
    return StrandCells(
        context.say(strand.item.name), tuple(_cell(row) for row in strand.rows), following
    )


def _begun(row: StrandRow) -> bool:
    """Whether its last level was begun and had not all its rehearsals."""
    return bool(row.appearances) and (row.finished_level or 0) < row.last_level


def _cell(row: StrandRow | None) -> str:
    if row is None or not row.appearances:
        return ""
    times = ngettext("%(num)s time", "%(num)s times", len(row.appearances))
    levels = levels_in_words(row.first_level, row.last_level)
    if _begun(row):
        return gettext(
            "%(levels)s, %(times)s; level %(last)s not finished",
            levels=levels,
            times=times,
            last=row.last_level,
        )
    return gettext("%(levels)s, %(times)s; finished", levels=levels, times=times)


_COLUMN, _COLUMNS, _BAR, _GAP, _SPACE, _TOP = 52.0, 6, 9.0, 5.0, 12.0, 22.0


def level_chart(
    names: Sequence[str], strands: Sequence[StrandGrowth], cycles: Sequence[str]
) -> LevelChart:
    """Draw each strand's levels: a bar a cycle, below each other, a column a level."""
    top_level = max(strand.top_level for strand in strands)
    cycles_x = room_for(names)
    left = cycles_x + room_for(cycles)
    column = _COLUMN * _COLUMNS / max(_COLUMNS, top_level)  # so that letters are of one size
    width = left + _COLUMN * _COLUMNS + 2
    rows, y = [], _TOP + _SPACE / 2
    for name, strand in zip(names, strands, strict=True):
        bars = []
        for place, (cycle, row) in enumerate(zip(cycles, strand.rows, strict=True)):
            bars.append(_bar(cycle, y + place * (_BAR + _GAP), row, left, column))
        next_x = round(left + column * (strand.next_level - 0.5), 2)
        end = y + len(cycles) * (_BAR + _GAP)
        rows.append(StrandBars(name, y, tuple(bars), next_x, end + _BAR / 2))
        y = end + _BAR + _SPACE
    return LevelChart(
        strands=tuple(rows),
        levels=tuple(
            (one, round(left + column * (one - 0.5), 2)) for one in range(1, top_level + 1)
        ),
        lines=tuple(round(left + column * one, 2) for one in range(top_level + 1)),
        cycles_x=cycles_x,
        left=left,
        width=width,
        height=round(y, 2),
        top=_TOP - 4,
        bar=_BAR,
    )


def _bar(cycle: str, y: float, row: StrandRow | None, left: float, column: float) -> Bar:
    if row is None or not row.appearances:
        return Bar(cycle, y, None, None)
    finished = row.finished_level if row.finished_level is not None else row.first_level - 1
    finished = min(finished, row.last_level)

    def span(first: int, count: int) -> tuple[float, float] | None:
        x, width = left + column * (first - 1) + 2, column * count - 4
        return (round(x, 2), round(width, 2)) if count > 0 else None

    done = max(0, finished - row.first_level + 1)
    return Bar(
        cycle,
        y,
        span(row.first_level, done),
        span(row.first_level + done, row.last_level - row.first_level + 1 - done),
    )


def carried_words() -> Mapping[str, str]:
    """Say what each field of cycle.yaml is that a next cycle has from the last one."""
    planning = gettext("How tempos and returns are planned")
    return {
        "ensembles": gettext("Which bands take part"),
        "stages": gettext("The stages with their purposes, goals, shares and minutes"),
        "slots": gettext("Minutes of set-up, warm-up, notices and close"),
        **dict.fromkeys(("marks", "leap", "at_goal", "return_within", "talk"), planning),
        "notes": gettext("Notes to players, but for those that name a day"),
        "substitute": gettext("What a substitute is told"),
    }


def left_out_words() -> Mapping[str, str]:
    """Say what each field of cycle.yaml is that a next cycle does not have from the last one."""
    return {
        "days": gettext("Single days: thanks, notices and wishes"),
        "extra": gettext("Extra rehearsals"),
        "cancelled": gettext("Cancelled rehearsals"),
    }


def _carried(cycle: Cycle) -> Iterator[str]:
    said = (words for field, words in carried_words().items() if field in cycle.model_fields_set)
    yield from dict.fromkeys(said)


def _left_out(cycle: Cycle) -> Iterator[str]:
    yield gettext("Pieces and passages")
    yield from (left_out_words()[field] for field in LEFT_OUT if getattr(cycle, field))
