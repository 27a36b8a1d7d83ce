"""Today, the first page: for each ensemble its stage, this week's tempos, what comes next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby

from handbook.outputs import addresses
from handbook.outputs.components.concert_line import ConcertLine, concert_lines
from handbook.outputs.components.event_words import EventLine, event_lines
from handbook.outputs.components.part_links import PartLink, part_links
from handbook.outputs.components.weeks import WeekView, week_views
from handbook.outputs.page import Context, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.plan.model import CyclePlan, EnsemblePlan
from handbook.plan.players import everyone
from handbook.records import dataclass
from handbook.schema.program import Ensemble, Program

CYCLES_SHOWN = 2
"""Which cycle is current is for the reader's browser to say; older ones than the newest two
cannot be, unless the site is years behind, and would only weigh."""
SHOWS_EVENTS = True
_MOST_EVENTS = 120  # lines, the last ones: more than any two years' cycles have ahead of them
# Rows of tempos on the page, some 300 kB; where there are more, each week leads to its band's page.
_MOST_TARGETS = 700


@dataclass(frozen=True, slots=True)
class EnsembleCycle:
    """One ensemble's weeks in one cycle; shown until it ends, with the band's last concert.

    `elsewhere` where the tempos of the weeks stand on the ensemble's page alone.
    """

    cycle: str
    path: str
    ends: date
    count: int
    weeks: tuple[WeekView, ...]
    parts: tuple[PartLink, ...]
    concerts: tuple[ConcertLine, ...]
    elsewhere: bool = False


@dataclass(frozen=True, slots=True)
class CycleToday:
    """What the first page shows of one cycle: its ensembles by their ids, its concerts."""

    ensembles: tuple[tuple[str, EnsembleCycle], ...]
    concerts: tuple[ConcertLine, ...]


@dataclass(frozen=True, slots=True)
class EnsembleCard:
    """One ensemble on the first page."""

    item: Ensemble
    cycles: tuple[EnsembleCycle, ...]


@dataclass(frozen=True, slots=True)
class TodayView:
    """The first page; `concerts` by day, `events` those that may be ahead."""

    program: Program
    concerts: tuple[tuple[ConcertLine, ...], ...]
    ensembles: tuple[EnsembleCard, ...]
    events: tuple[EventLine, ...]
    all_events: str
    past: str
    subscribe: str


def share(context: Context, cycle: CyclePlan) -> CycleToday:
    """Give what the first page shows of a cycle."""
    return CycleToday(
        tuple((ensemble.item.id, _cycle(context, cycle, ensemble)) for ensemble in cycle.ensembles),
        concert_lines(context, cycle, cycle.concerts),
    )


def pages(context: Context, shown: Sequence[CycleToday]) -> Iterator[Page]:
    """Make the first page."""
    program, say = context.plan.program, context.say
    name = say(program.name)
    view = TodayView(
        program=program,
        concerts=_by_day(one for cycle in shown for one in cycle.concerts),
        ensembles=_not_too_long(
            [
                card
                for ensemble in everyone(program.ensembles)
                if (card := _card(ensemble, shown)).cycles
            ]
        ),
        events=event_lines(context, context.plan.events)[-_MOST_EVENTS:],
        all_events=addresses.EVENTS,
        past=addresses.PAST,
        subscribe=addresses.SUBSCRIBE,
    )
    names = (card.item.name for card in view.ensembles)
    yield Page(
        path=addresses.TODAY,
        kind="today",
        title="Today",
        description=say(program.about)
        or f"{name}: what to practice this week, and what comes next.",
        section="today",
        view=view,
        search=(
            SearchEntry(
                "Today",
                " ".join(map(say, (program.name, program.school, program.about, *names))),
            ),
        ),
    )


def _by_day(concerts: Iterable[ConcertLine]) -> tuple[tuple[ConcertLine, ...], ...]:
    in_order = sorted(concerts, key=lambda one: one.day)
    return tuple(tuple(day) for _, day in groupby(in_order, key=lambda one: one.day))


def _card(ensemble: Ensemble, shown: Sequence[CycleToday]) -> EnsembleCard:
    cycles = tuple(
        one for cycle in shown for own_id, one in cycle.ensembles if own_id == ensemble.id
    )
    return EnsembleCard(ensemble, cycles)


def _not_too_long(cards: Sequence[EnsembleCard]) -> tuple[EnsembleCard, ...]:
    """Leave the tempos to the ensembles' own pages where all together are too many for a phone."""
    weeks = (week for card in cards for cycle in card.cycles for week in cycle.weeks)
    if sum(len(week.targets) for week in weeks) <= _MOST_TARGETS:
        return tuple(cards)
    return tuple(
        replace(card, cycles=tuple(_without_targets(cycle) for cycle in card.cycles))
        for card in cards
    )


def _without_targets(cycle: EnsembleCycle) -> EnsembleCycle:
    weeks = tuple(replace(week, targets=()) for week in cycle.weeks)
    return replace(cycle, weeks=weeks, elsewhere=True)


def _cycle(context: Context, cycle: CyclePlan, ensemble: EnsemblePlan) -> EnsembleCycle:
    return EnsembleCycle(
        cycle=context.say(cycle.item.name),
        path=addresses.ensemble(cycle.id, ensemble.item.id),
        ends=ensemble.stages[-1].ends,
        count=len(ensemble.rehearsals),
        weeks=week_views(context, cycle, ensemble),
        parts=part_links(cycle, ensemble),
        concerts=concert_lines(context, cycle, cycle.concerts_of(ensemble.band), ensemble.band),
    )
