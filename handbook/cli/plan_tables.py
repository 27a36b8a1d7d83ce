"""The reckoned plan as tables for a terminal of 80 columns, two an ensemble and cycle."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text as Line

from handbook.cli.plan_home import home_lines
from handbook.cli.plan_season import day_lines, gave_way_lines, season_parts
from handbook.domain.rehearsals import MissedDay
from handbook.domain.timing import format_duration
from handbook.domain.values.clock import format_clock
from handbook.plan.logs import minutes_over, reached_beside
from handbook.plan.model import ConcertPlan, ConcertRain, CyclePlan, EnsemblePlan, Plan
from handbook.plan.school_days import school_dates
from handbook.schema.year import AlteredSchoolDay, MakeUp, SchoolClosure

_WIDEST_STAGE = 10
_SCHOOL = {SchoolClosure: "No school, ", AlteredSchoolDay: "", MakeUp: "School, "}


def cycle_tables(plan: Plan, cycle: CyclePlan) -> Group:
    """Draw one cycle: a heading, then for each ensemble what gave way, its days and its passages."""
    language = plan.languages[0]
    parts: list[RenderableType] = [_heading(cycle, language), *_concerts(cycle, language)]
    parts += _school_lines(cycle, language)
    for ensemble in cycle.ensembles:
        parts += ["", Line(_summary(plan, ensemble, language), style="bold")]
        parts += home_lines(ensemble, language)
        parts += gave_way_lines(ensemble)
        parts += [_table(ensemble, language)]
        parts += _missed_lines(ensemble, language)
        parts += _logged_lines(ensemble)
        parts += _joined_lines(ensemble, language)
        parts += season_parts(ensemble, language)
    return Group(*parts, "")


def _heading(cycle: CyclePlan, language: str) -> Line:
    concert, name = cycle.concert, cycle.item.name.read(language)
    ending = "no concert"
    if concert:
        day, clock = _day(concert.downbeat), format_clock(concert.downbeat.time())
        last = "last concert" if len(cycle.concerts) > 1 else "concert"
        last = f"cancelled {last}" if concert.cancelled else last
        ending = f"{last} {day}, {clock}, {format_duration(concert.seconds, about=concert.about)} of music"
    draft = ", a draft, on no page yet" if cycle.item.draft else ""
    return Line(f"{name} ({cycle.id}{draft}): {ending}", style="bold underline")


def _concerts(cycle: CyclePlan, language: str) -> Iterator[Line]:
    """Name the concerts where there is more than one, each with who plays."""
    names = {one.item.id: one.item.name.read(language) for one in cycle.ensembles}
    for concert in cycle.concerts:
        for words in _news(concert, language):
            yield Line(f"{concert.item.name.read(language)}: {words}")
        if concert.rain and not concert.cancelled:
            yield Line(f"{concert.item.name.read(language)}: {_rain(concert.rain, language)}")
    for concert in cycle.concerts if len(cycle.concerts) > 1 else ():
        who = ", ".join(names[one] for one in concert.item.players if one in names)
        moment = f"{_day(concert.downbeat)}, {format_clock(concert.downbeat.time())}"
        yield Line(f"{concert.item.name.read(language)} ({concert.id}): {moment}; {who}")


def _news(concert: ConcertPlan, language: str) -> Iterator[str]:
    """Tell that a concert was moved, or why it is not held."""
    if concert.item.moved_from:
        before = ", then ".join(map(_day, concert.item.moved_from))
        yield f"moved to {_day(concert.item.date)}; it was {before}"
    if concert.item.cancelled:
        yield f"cancelled: {concert.item.cancelled.read(language)}"


def _school_lines(cycle: CyclePlan, language: str) -> list[RenderableType]:
    """Say on which days of the cycle there is no school, or it runs otherwise, an entry a line."""
    found: dict[str, list[str]] = {}
    for dates in school_dates(cycle.year):
        if dates.last < cycle.first or cycle.last < dates.first:
            continue
        single = [day for day in dates.single if cycle.first <= day <= cycle.last]
        name = f"{_SCHOOL[type(dates.entry)]}{dates.entry.name.read(language)}"
        if single:
            found.setdefault(name, []).append(_days_of_month(single))
        elif not dates.single:
            days = dict.fromkeys((dates.first, dates.last))
            found.setdefault(name, []).append(" to ".join(map(_day, days)))
    return [Line(f"{name}: {'; '.join(days)}", style="dim") for name, days in found.items()]


def _days_of_month(days: list[date]) -> str:
    """Write `Wed Nov 4, 11, 18`; weekdays once."""
    weekdays = "/".join(dict.fromkeys(f"{day:%a}" for day in days))
    return f"{weekdays} {days[0]:%b} {', '.join(str(day.day) for day in days)}"


def _rain(rain: ConcertRain, language: str) -> str:
    """Tell in a line what holds in bad weather."""
    moment = f"{_day(rain.downbeat)}, {format_clock(rain.downbeat.time())}"
    then = f"{rain.venue.name.read(language)}, {moment}" if rain.day else "no concert"
    by = rain.decided
    decided = f"; decided by {_day(by)}, {format_clock(by.time())}" if by else ""
    return f"in bad weather {then}{decided}"


def _summary(plan: Plan, ensemble: EnsemblePlan, language: str) -> str:
    minutes = sum(row.rehearsal.minutes for row in ensemble.rehearsals)
    count = len(ensemble.rehearsals)
    leaders = [one.name.read(language) for one in plan.program.leaders(ensemble.item.led_by)]
    led_by = f", led by {', '.join(leaders)}" if leaders else ""
    return f"{ensemble.item.name.read(language)}: {count} rehearsals, {minutes // 60} h {minutes % 60:02} min{led_by}"


def _table(ensemble: EnsemblePlan, language: str) -> Table:
    table = Table(expand=False, pad_edge=False, show_edge=False, row_styles=("", "dim"))
    table.add_column("Date", no_wrap=True)
    table.add_column("No.", no_wrap=True, justify="right")
    table.add_column("Stage", max_width=_WIDEST_STAGE, overflow="fold")
    table.add_column("Min", no_wrap=True, justify="right")
    table.add_column("Music of the day, with beats a minute", overflow="fold")
    reached = reached_beside(ensemble)
    for row in ensemble.rehearsals:
        table.add_row(
            _day(row.rehearsal.start),
            f"{row.rehearsal.n}/{row.rehearsal.of}",
            Line(row.stage.item.name.read(language)),
            str(row.rehearsal.minutes),
            Line(day_lines(row, reached.get(row.place, ()), language)),
        )
    return table


def _joined_lines(ensemble: EnsemblePlan, language: str) -> list[RenderableType]:
    """Name the pieces that the band plays along with another, whose rehearsals they are."""
    if not ensemble.joined:
        return []
    names = "; ".join(
        f"{joined.piece.item.title.read(language)} with {joined.host.name.read(language)}"
        for joined in ensemble.joined
    )
    return [Line(f"Plays along: {names}", style="dim")]


def _missed_lines(ensemble: EnsemblePlan, language: str) -> list[RenderableType]:
    if not ensemble.missed:
        return []
    by_reason: dict[str, list[str]] = {}
    for missed in ensemble.missed:
        by_reason.setdefault(_why_lost(missed, language), []).append(_day(missed.day))
    days = "; ".join(f"{', '.join(days)} ({why})" for why, days in by_reason.items())
    return [Line(f"No rehearsal: {days}", style="dim")]


def _logged_lines(ensemble: EnsemblePlan) -> list[RenderableType]:
    """Sum up the logs; nothing where there is none."""
    logged = [row for row in ensemble.rehearsals if row.logs]
    if not logged:
        return []
    over = [minutes for row in logged if (minutes := minutes_over(row))]
    ran = f"; {len(over)} ran over, by {sum(over)} min in all" if over else ""
    return [Line(f"Logged: {len(logged)} of {len(ensemble.rehearsals)} rehearsals{ran}", "dim")]


def _why_lost(missed: MissedDay, language: str) -> str:
    if missed.moved_to:
        return f"moved to {_day(missed.moved_to)}"
    why = missed.reason(language)
    return f"{why}, made up on {_day(missed.made_up)}" if missed.made_up else why


def _day(day: date) -> str:
    return f"{day:%a %b} {day.day:>2}"
