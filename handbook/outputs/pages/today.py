"""Today, the first page: the reader's own answers for tonight, the next rehearsal, the concert.

Which day it is and whose band it is only the browser knows. The page lists in short lines what
any day may need, and without scripts that is all of it; the answers are made of these lines and
of a script for each cycle.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from handbook.outputs import addresses
from handbook.outputs.components.concert_line import ConcertLine, concert_lines
from handbook.outputs.components.crew_bands import crew_bands
from handbook.outputs.components.event_words import EventLine, event_lines, place_name
from handbook.outputs.components.part_links import part_links
from handbook.outputs.components.school_dates import SchoolDateView, year_date_views
from handbook.outputs.components.to_print import has_sheets
from handbook.outputs.components.today_data import today_script
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, speech
from handbook.outputs.i18n.formats import formats
from handbook.outputs.model import OutputFile
from handbook.outputs.page import Context, Page
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.players import everyone
from handbook.records import dataclass
from handbook.schema.program import Ensemble, Program

SHOWS_EVENTS = True
# So that the page stays under 60 kB for any year: lines, the last ones of their kind. They are
# more than two full years have; what is older stands on the pages of past cycles.
_MOST_BAND_LINES, _MOST_CONCERTS, _MOST_EVENTS, _MOST_SCHOOL_DATES = 80, 40, 100, 60
_DIGEST_LETTERS = 10


@dataclass(frozen=True, slots=True)
class BandCycle:
    """One ensemble in one cycle, in a line, with its first and last day; `parts` are ids and names."""

    ensemble: str
    cycle: str
    name: str
    path: str
    days: str
    parts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ConcertToday:
    """A concert in a line, and the ids of the ensembles that play in it or are its crew."""

    line: ConcertLine
    cycle: str
    who: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CycleToday:
    """What the first page shows of one cycle; `script` is what the browser loads of it.

    `prints` if any sheets are printed of its pages.
    """

    id: str
    name: str
    first: date
    last: date
    year_begins: date
    year_ends: date
    bands: tuple[BandCycle, ...]
    concerts: tuple[ConcertToday, ...]
    school: tuple[SchoolDateView, ...]
    script: str
    prints: bool


@dataclass(frozen=True, slots=True)
class BandToday:
    """One ensemble on the first page; `parts` are its instruments as data, by id."""

    item: Ensemble
    cycles: tuple[BandCycle, ...]
    parts: str


@dataclass(frozen=True, slots=True)
class TodayView:
    """The first page; `cycles` are data for the browser."""

    program: Program
    cycles: str
    bands: tuple[BandToday, ...]
    concerts: tuple[ConcertToday, ...]
    school: tuple[SchoolDateView, ...]
    events: tuple[EventLine, ...]
    there: str
    all_events: str
    fundamentals: str
    calendar: str
    past: str
    subscribe: str
    sheets: str


def share(context: Context, cycle: CyclePlan) -> CycleToday:
    """Give what the first page shows of a cycle."""
    concerts = zip(cycle.concerts, concert_lines(context, cycle, cycle.concerts), strict=True)
    return CycleToday(
        id=cycle.id,
        name=context.say(cycle.item.name),
        first=cycle.first,
        last=cycle.last,
        year_begins=cycle.year.first_day,
        year_ends=cycle.year.last_day,
        bands=tuple(_band(context, cycle, ensemble) for ensemble in cycle.ensembles),
        concerts=tuple(
            ConcertToday(
                line,
                cycle.id,
                tuple(
                    one.item.id
                    for band in (*plan.item.players, *crew_bands(plan))
                    for one in cycle.of_band(band)
                ),
            )
            for plan, line in concerts
        ),
        school=tuple(year_date_views(context, cycle.year)),
        script=today_script(context, cycle),
        prints=has_sheets(context, cycle),
    )


def files(shared: CycleToday) -> Iterator[OutputFile]:
    """Give the script of a cycle, which the first page loads when it is wanted."""
    yield OutputFile(addresses.today_script(shared.id), shared.script.encode())


def pages(context: Context, shown: Sequence[CycleToday]) -> Iterator[Page]:
    """Make the first page."""
    program, say = context.plan.program, context.say
    name = say(program.name)
    in_order = sorted(shown, key=lambda cycle: (cycle.first, cycle.id))
    concerts = sorted(
        (one for cycle in in_order for one in cycle.concerts), key=lambda one: one.line.day
    )
    school = dict.fromkeys(line for cycle in in_order for line in cycle.school)
    view = TodayView(
        program=program,
        cycles=json.dumps([_cycle_data(cycle) for cycle in in_order], ensure_ascii=False),
        bands=tuple(_bands(everyone(program.ensembles), in_order)),
        concerts=tuple(concerts[-_MOST_CONCERTS:]),
        school=tuple(sorted(school, key=lambda line: line.first)[-_MOST_SCHOOL_DATES:]),
        events=event_lines(context, context.plan.events)[-_MOST_EVENTS:],
        there=json.dumps(dict(_there(context)), ensure_ascii=False),
        all_events=addresses.EVENTS,
        fundamentals=addresses.FUNDAMENTALS if context.plan.fundamentals.strands else "",
        calendar=addresses.CALENDAR,
        past=addresses.PAST,
        subscribe=addresses.SUBSCRIBE,
        sheets=f"{addresses.FAMILIES}#print" if any(one.prints for one in shown) else "",
    )
    names = (band.item.name for band in view.bands)
    yield Page(
        path=addresses.TODAY,
        kind="today",
        title=gettext("Today"),
        description=say(program.about)
        or gettext("%(name)s: what to practice tonight, and what comes next.", name=name),
        section="today",
        view=view,
        search=(
            SearchEntry(
                gettext("Today"),
                apart(*map(say, (program.name, program.school, program.about, *names))),
                keywords="tonight this week snow day delay weather last minute changes",
            ),
        ),
    )


def _there(context: Context) -> Iterator[tuple[str, str]]:
    """Say of each day of an event when and where players are there and collected, by page and day."""
    for event in context.plan.events:
        for day in event.days:
            call, over = day.moments.call or day.moments.leaves, day.moments.pick_up
            place = place_name(context, day.meet or day.place)
            words = []
            if call:
                words.append(_be_there(formatting.clock(call), place))
            if over:
                words.append(gettext("Pick-up %(time)s.", time=formatting.clock(over)))
            if words and not day.cancelled:
                yield f"{addresses.event(event.item.id)}@{day.last}", " ".join(words)


def _be_there(time: str, place: str) -> str:
    if place:
        return gettext("Be there %(time)s, %(place)s.", time=time, place=place)
    return gettext("Be there %(time)s.", time=time)


def _cycle_data(cycle: CycleToday) -> dict[str, str]:
    """Give what the browser chooses a cycle by, and the way to its script."""
    digest = hashlib.sha256(cycle.script.encode()).hexdigest()[:_DIGEST_LETTERS]
    return {
        "id": cycle.id,
        "name": cycle.name,
        "first": cycle.first.isoformat(),
        "last": cycle.last.isoformat(),
        "year": cycle.year_begins.isoformat(),
        "out": cycle.year_ends.isoformat(),
        "script": f"{addresses.today_script(cycle.id)}?v={digest}",
    }


def _bands(ensembles: Iterable[Ensemble], shown: Sequence[CycleToday]) -> Iterator[BandToday]:
    lines = [line for cycle in shown for line in cycle.bands][-_MOST_BAND_LINES:]
    for ensemble in ensembles:
        own = tuple(line for line in lines if line.ensemble == ensemble.id)
        if own:
            parts = dict(part for line in own for part in line.parts)
            yield BandToday(ensemble, own, json.dumps(parts, ensure_ascii=False))


def _band(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> BandCycle:
    return BandCycle(
        ensemble=ensemble.item.id,
        cycle=cycle.id,
        name=context.say(cycle.item.name),
        path=addresses.ensemble(cycle.id, ensemble.item.id),
        days=formats(speech().code).days
        % (formatting.month_day(cycle.first), formatting.month_day(cycle.last)),
        parts=tuple((part.instrument, part.name) for part in part_links(cycle, ensemble)),
    )
