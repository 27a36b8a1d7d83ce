"""Concert day for the crew: run of show, times, rooms, resets, loads, cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from itertools import chain

from handbook.domain.run_of_show import ItemKind, shown
from handbook.domain.tables.cautions import CREW_FIRST, CREW_MOVES, CREW_PAGE
from handbook.outputs import addresses
from handbook.outputs.components.cautions import CautionGroup, caution_groups, scopes_at_once
from handbook.outputs.components.concert_steps import StepView
from handbook.outputs.components.concert_words import (
    at_the_bus,
    bus_times,
    clock,
    group_name,
    names,
    over_at,
    part_of,
    place_of,
    room_of_step,
    span,
)
from handbook.outputs.components.crew_loads import GearLine, LoadView, load_view
from handbook.outputs.components.crew_stage import SetupView, stage_view
from handbook.outputs.components.crew_steps import crew_steps, meets_at, reads
from handbook.outputs.components.leaders import led_by
from handbook.outputs.components.moved import moved_words
from handbook.outputs.components.rain_words import rain_line
from handbook.outputs.components.room_chart import RoomChart, room_charts
from handbook.outputs.html import formatting
from handbook.outputs.i18n import gettext, gettext_noop, ngettext, pgettext
from handbook.outputs.i18n.formats import clock_time, with_clauses
from handbook.outputs.page import Context, Link, Page, section_of
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.outputs.sheets.kinds.crew import crew_sheets
from handbook.outputs.sheets.making import sheets_in
from handbook.plan.concert_leaders import led_at_warm_up
from handbook.plan.concert_model import AgainDay, GroupDay, ShowRow, StepRow, UseRow
from handbook.plan.model import ConcertPlan, CyclePlan
from handbook.records import dataclass
from handbook.schema.loads import CrewRole, CrewTask
from handbook.schema.program import Contact

_KINDS = {
    ItemKind.GAP: gettext_noop("Applause"),
    ItemKind.CHANGEOVER: gettext_noop("Changeover"),
    ItemKind.REMARKS: gettext_noop("Remarks"),
    ItemKind.INTERMISSION: gettext_noop("Intermission"),
    ItemKind.WAIT: gettext_noop("Pause until the next hour"),
}


def _ride_columns() -> tuple[str, ...]:
    return (
        at_the_bus(),
        pgettext("column of a table of buses", "Leave"),
        pgettext("column of a table of buses", "Arrive"),
        pgettext("column of a table of buses", "Leave hall"),
        pgettext("column of a table of buses", "At school"),
    )


def _step_columns() -> tuple[str, ...]:
    return (
        pgettext("step of a concert day", "Set up"),
        pgettext("step of a concert day", "Unpack"),
        pgettext("step of a concert day", "Warm-up"),
        pgettext("step of a concert day", "Walk"),
        pgettext("step of a concert day", "In place"),
        pgettext("step of a concert day", "First note"),
        pgettext("step of a concert day", "Off stage"),
        pgettext("step of a concert day", "Packed"),
    )


@dataclass(frozen=True, slots=True)
class ShowLine:
    """An item of the run of show; `kind` names its class."""

    kind: str
    start: str
    end: str
    moment: str
    length: str
    what: str
    who: str


@dataclass(frozen=True, slots=True)
class RoleView:
    """A role of the crew: when and where it must be ready, when it is done, what it moves.

    `sheet` is the address of what is printed for it; to `ask` are the roles that are adults.
    It `is_away` if it meets at school for a concert elsewhere.
    """

    item: CrewRole
    call: datetime | None
    released: datetime | None
    place: str = ""
    carries: tuple[GearLine, ...] = ()
    steps: tuple[StepView, ...] = ()
    sheet: str = ""
    ask: str = ""
    is_away: bool = False

    def own(self, items: Sequence[GearLine]) -> list[GearLine]:
        """Give what of some things it may move by itself."""
        return [one for one in items if self.item.adults or not one.two_adults]

    def of_adults(self, items: Sequence[GearLine]) -> list[GearLine]:
        """Give what takes two adults, where the role is not said to be adults."""
        return [one for one in items if one.two_adults and not self.item.adults]

    @property
    def ways(self) -> tuple[tuple[str, tuple[GearLine, ...]], ...]:
        """What it moves, by the way that goes."""
        names = dict.fromkeys(line.way for line in self.carries)
        return tuple(
            (way, tuple(line for line in self.carries if line.way == way)) for way in names
        )

    @property
    def untimed(self) -> tuple[CrewTask, ...]:
        """Its tasks without a time."""
        return tuple(task for task in self.item.tasks if not task.by)


@dataclass(frozen=True, slots=True)
class CallLine:
    """A group's steps, each time to the nearest minute; empty where nothing is reckoned."""

    who: str
    place: str
    call: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepLine:
    """A step before the warm-up or after the performance."""

    who: str
    what: str
    place: str
    time: str

    @property
    def told(self) -> str:
        """What it is and where."""
        return with_clauses(filter(None, (self.what, self.place)))


@dataclass(frozen=True, slots=True)
class RideLine:
    """A ride: who, in what, and its times."""

    who: str
    buses: str
    riders: str
    times: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UseLine:
    """A room in use; `number` is that of its bar."""

    number: int
    room: str
    time: str
    what: str
    kind: str


@dataclass(frozen=True, slots=True)
class OnlyFor:
    """The numbers of the roles that parts of the page concern; None for a part that all read."""

    bands: tuple[int, ...] | None
    stage: tuple[int, ...] | None
    loads: tuple[int, ...] | None


@dataclass(frozen=True, slots=True)
class CrewView:
    """The page for the crew; `over` is when it may say so, as the page's scripts read it."""

    concert: ConcertPlan
    facts: tuple[tuple[str, str], ...]
    roles: tuple[RoleView, ...]
    only_for: OnlyFor
    show: tuple[ShowLine, ...]
    call_columns: tuple[str, ...]
    calls: tuple[CallLine, ...]
    earlier: tuple[StepLine, ...]
    later: tuple[StepLine, ...]
    ride_columns: tuple[str, ...]
    rides: tuple[RideLine, ...]
    charts: tuple[RoomChart, RoomChart] | None
    uses: tuple[UseLine, ...]
    stage: SetupView | None
    load: LoadView | None
    cautions: tuple[CautionGroup, ...]
    first_cautions: tuple[CautionGroup, ...]
    first_scope: str
    lifting: tuple[CautionGroup, ...]
    contact: Contact
    family: str
    over: str
    ends: StepView
    rain: str
    rain_facts: tuple[tuple[str, str], ...]
    rain_calls: tuple[tuple[str, str, str], ...]
    moved: str = ""


def pages(context: Context, cycle: CyclePlan) -> Iterator[Page]:
    """Make a page for the crew of each concert."""
    for concert in cycle.concerts:
        yield _page(context, cycle, concert)


def _page(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> Page:
    view, name = crew_view(context, cycle, concert), context.say(concert.item.name)
    day = formatting.long_day(concert.item.date)
    sheets = sheets_in(context, *crew_sheets(context, cycle.id, view))
    roles = [
        replace(role, sheet=sheet.path) for role, sheet in zip(view.roles, sheets, strict=False)
    ]
    return Page(
        path=addresses.crew(cycle.id, concert.id),
        kind="crew",
        title=gettext("Crew, %(concert)s", concert=name),
        description=gettext("%(concert)s, %(day)s: cancelled.", concert=name, day=day)
        if concert.cancelled
        else gettext(
            "%(concert)s, %(day)s: run of show, rooms, resets, loads and cautions for the crew.",
            concert=name,
            day=day,
        ),
        section=section_of(concert.id),
        view=replace(view, roles=(*roles, *view.roles[len(roles) :])),
        crumbs=(
            Link(context.say(cycle.item.name), addresses.cycle(cycle.id)),
            Link(name, addresses.concert(cycle.id, concert.id)),
        ),
        search=tuple(_entries(context, view)),
        sheets=sheets,
    )


def _entries(context: Context, view: CrewView) -> Iterator[SearchEntry]:
    item, say = view.concert.item, context.say
    name = say(item.name)
    if item.cancelled:
        words = gettext("Cancelled: %(why)s", why=say(item.cancelled))
        title = gettext("Crew, %(concert)s: cancelled", concert=name)
        yield SearchEntry(title, words, keywords="crew stage", day=item.date)
        return
    roles = (
        (
            say(role.item.name),
            _clock(role.call),
            *(_task(context, task) for task in role.item.tasks),
        )
        for role in view.roles
    )
    what = (formatting.long_day(item.date), say(view.concert.venue.name), *chain(*roles))
    yield SearchEntry(
        gettext("Crew, %(concert)s", concert=name),
        apart(*what),
        keywords="crew stage truck volunteers chaperones",
        day=item.date,
    )
    parts = (
        (
            gettext("Run of show"),
            "show",
            [f"{line.start} {line.what}" for line in view.show],
            "order times",
        ),
        (
            gettext("Band by band"),
            "calls",
            [f"{line.who} {line.call}" for line in view.calls],
            "warm-up stage",
        ),
        (
            gettext("After playing"),
            "after",
            [f"{line.what} {line.who} {line.time} {line.place}" for line in view.later],
            "after",
        ),
        (
            gettext("Buses"),
            "buses",
            [f"{line.who} {line.buses}" for line in view.rides],
            "bus ride seats",
        ),
        (
            gettext("Rooms"),
            "rooms",
            [f"{line.room} {line.time} {line.what}" for line in view.uses],
            "room",
        ),
    )
    for title, anchor, lines, keywords in parts:
        if lines:
            yield SearchEntry(part_of(title, name), apart(*lines), anchor, keywords)
    if view.stage:
        turns = apart(
            *(
                gettext("%(who)s: %(words)s", who=turn.who, words=turn.setup)
                for turn in view.stage.turns
            )
        )
        yield SearchEntry(
            part_of(gettext("Stage"), name), turns, "stage", "chairs stands reset setup seating"
        )
    if view.load:
        moved = apart(*(say(line.item.name) for line in view.load.items))
        yield SearchEntry(
            part_of(gettext("Loads"), name), moved, "loads", "equipment truck cart weight lift"
        )


def crew_view(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> CrewView:
    """Gather the page of one concert."""
    day = concert.day
    calls = _calls(context, concert)
    load = load_view(context, concert)
    used = {n for call in calls for n, cell in enumerate(call.cells) if cell}
    return CrewView(
        concert=concert,
        facts=tuple(_facts(concert)),
        roles=tuple(_roles(context, concert, load)),
        only_for=OnlyFor(*(_readers(concert, part) for part in ("bands", "stage", "loads"))),
        show=tuple(_show_line(context, row) for row in _as_one(day.rows)),
        call_columns=tuple(name for n, name in enumerate(_step_columns()) if n in used),
        calls=tuple(
            replace(call, cells=tuple(cell for n, cell in enumerate(call.cells) if n in used))
            for call in calls
        ),
        earlier=tuple(_steps(context, day.groups, lambda group: group.beforehand)),
        later=tuple(_steps(context, day.groups, lambda group: group.afterward)),
        ride_columns=_ride_columns(),
        rides=tuple(_rides(context, concert)),
        charts=room_charts(context, day.uses, concert.downbeat),
        uses=tuple(
            _use_line(context, day.groups, use, n) for n, use in enumerate(day.uses, start=1)
        ),
        stage=stage_view(context, day.seating, context.say(concert.venue.name)),
        load=load,
        cautions=caution_groups(CREW_PAGE),
        first_cautions=caution_groups(CREW_FIRST),
        first_scope=scopes_at_once(caution_groups(CREW_FIRST)),
        lifting=caution_groups(CREW_MOVES),
        contact=context.plan.program.contact,
        rain=rain_line(context, concert),
        rain_facts=tuple(_rain_facts(concert)),
        rain_calls=tuple(_rain_calls(context, concert)),
        family=addresses.concert(cycle.id, concert.id),
        over=over_at(concert.day.ends, (group.pick_up for group in day.groups)),
        ends=StepView(shown(day.ends), pgettext("last line of a table of times", "End")),
        moved=moved_words(concert.item.date, concert.item.moved_from),
    )


def _as_one(rows: Sequence[ShowRow]) -> Iterator[ShowRow]:
    """Show the changeover before a fixed hour and the wait for it as one pause."""
    change: ShowRow | None = None
    for row in rows:
        if change and row.kind is ItemKind.WAIT:
            yield replace(row, start=change.start, seconds=change.seconds + row.seconds)
        else:
            yield from [change] if change else []
            yield from [] if row.kind is ItemKind.CHANGEOVER else [row]
        change = row if row.kind is ItemKind.CHANGEOVER else None
    yield from [change] if change else []


def _calls(context: Context, concert: ConcertPlan) -> tuple[CallLine, ...]:
    groups = _by_call(concert.day.groups)
    return (
        *(_call_line(context, concert, group) for group in groups),
        *(_return_line(context, group, again) for group in groups for again in group.again),
    )


def _facts(concert: ConcertPlan) -> Iterator[tuple[str, str]]:
    day = concert.day
    if day.opens:
        yield gettext("Venue opens"), formatting.clock(day.opens)
    if day.doors:
        yield gettext("Doors"), formatting.clock(day.doors)
    yield gettext("Downbeat"), formatting.clock(concert.downbeat)
    yield pgettext("a concert, at a time", "Ends"), clock(day.ends)
    if day.closes:
        yield gettext("Out by"), formatting.clock(day.closes)


def _rain_facts(concert: ConcertPlan) -> Iterator[tuple[str, str]]:
    """Give the hours in bad weather."""
    day = concert.rain.day if concert.rain else None
    if concert.rain and day:
        if day.opens:
            yield gettext("Venue opens"), formatting.clock(day.opens)
        yield gettext("Downbeat"), formatting.clock(concert.rain.downbeat)
        yield pgettext("a concert, at a time", "Ends"), clock(day.ends)
        if day.closes:
            yield gettext("Out by"), formatting.clock(day.closes)


def _rain_calls(context: Context, concert: ConcertPlan) -> Iterator[tuple[str, str, str]]:
    """Give when and where each group meets in bad weather."""
    day = concert.rain.day if concert.rain else None
    for group in _by_call(day.groups) if day else ():
        time = formatting.clock(group.call) if group.call else ""
        yield group_name(context, group), time, place_of(context, group)


def _roles(context: Context, concert: ConcertPlan, load: LoadView | None) -> Iterator[RoleView]:
    adults = formatting.listed([context.say(one.name) for one in concert.item.crew if one.adults])
    for role in concert.item.crew:
        group = next((one for one in concert.day.groups if one.role == role), None)
        place = meets_at(context, concert, role, away=True)
        yield RoleView(
            role,
            group.call if group else None,
            group.pick_up if group else None,
            place,
            tuple(line for line in load.items if line.item.who == role.id) if load else (),
            crew_steps(context, concert, role),
            ask=adults,
            is_away=place != meets_at(context, concert, role),
        )


def _readers(concert: ConcertPlan, part: str) -> tuple[int, ...] | None:
    crew = concert.item.crew
    found = tuple(n for n, role in enumerate(crew, start=1) if part in reads(concert, role))
    return found if len(found) < len(crew) else None


def _task(context: Context, task: CrewTask) -> str:
    words = context.say(task.what)
    return (
        gettext("%(task)s, by %(time)s", task=words, time=clock_time(task.by)) if task.by else words
    )


def _clock(moment: datetime | None) -> str:
    return formatting.clock(moment) if moment else ""


def _show_line(context: Context, row: ShowRow) -> ShowLine:
    named = gettext(_KINDS[row.kind]) if row.kind in _KINDS else ""
    about = context.say(row.title)
    both = gettext("%(kind)s: %(words)s", kind=named, words=about) if named and about else ""
    return ShowLine(
        kind=row.kind.value,
        start=clock(row.start),
        end=clock(row.end),
        moment=shown(row.start).strftime("%Y-%m-%dT%H:%M"),
        length=formatting.duration(float(row.seconds), row.about),
        what=both or named or about or names(context, row.ensembles),
        who=names(context, row.ensembles) if named or about else "",
    )


def _by_call(groups: tuple[GroupDay, ...]) -> list[GroupDay]:
    """Sort by call, the earliest first; groups without one last."""
    return sorted(
        groups, key=lambda group: (group.call is None, group.call or group.times.first_note)
    )


def _call_line(context: Context, concert: ConcertPlan, group: GroupDay) -> CallLine:
    times = group.times
    leaders = led_by(context, context.plan.program.leaders(led_at_warm_up(concert, group)))
    steps = (
        (times.duties, times.unpack),
        (times.unpack, times.unpacked or times.warm_up),
        (times.warm_up, times.walk),
        (times.walk, times.in_place),
        (times.in_place, times.first_note),
    )
    before = [clock(start) if start < end and group.reckoned else "" for start, end in steps]
    after = [
        "" if group.role else clock(times.first_note),
        clock(times.off_stage) if group.reckoned and not group.role else "",
        clock(times.packed) if group.reckoned else "",
    ]
    return CallLine(
        who=group_name(context, group),
        place=with_clauses(filter(None, (place_of(context, group), leaders))),
        call=formatting.clock(group.call) if group.call else "",
        cells=(*before, *after),
    )


def _return_line(context: Context, group: GroupDay, again: AgainDay) -> CallLine:
    """Give the steps of a later turn with an hour of its own; what comes after it is told above."""
    times = again.times
    steps = (
        (times.unpack, times.warm_up),
        (times.warm_up, times.walk),
        (times.walk, times.in_place),
        (times.in_place, times.first_note),
    )
    before = [clock(start) if start < end and group.reckoned else "" for start, end in steps]
    return CallLine(
        who=gettext("%(band)s, again", band=group_name(context, group)),
        place=place_of(context, group),
        call=formatting.clock(again.call) if again.call else "",
        cells=("", *before, clock(times.first_note), "", ""),
    )


def _steps(
    context: Context,
    groups: tuple[GroupDay, ...],
    of: Callable[[GroupDay], tuple[StepRow, ...]],
) -> Iterator[StepLine]:
    """Give the steps beside the usual ones in order of time; a section goes with its band."""
    rows = [(step, group) for group in groups if not group.section for step in of(group)]
    for step, group in sorted(rows, key=lambda row: row[0].start):
        yield StepLine(
            who=group_name(context, group),
            what=context.say(step.item.name),
            place=room_of_step(context, step),
            time=span(step.start, step.end),
        )


def _rides(context: Context, concert: ConcertPlan) -> Iterator[RideLine]:
    ensembles = {one.id: one for one in context.plan.program.ensembles}
    for ride in concert.day.rides:
        bus = bus_times(ride)
        yield RideLine(
            who=names(context, [ensembles[one] for one in ride.item.ensembles if one in ensembles]),
            buses=ngettext(
                "%(num)s bus, %(seats)s seats",
                "%(num)s buses, %(seats)s seats",
                len(ride.item.buses),
                seats=ride.seats,
            ),
            riders=ngettext(
                "%(num)s riders, %(adults)s of them adults",
                "%(num)s riders, %(adults)s of them adults",
                ride.riders,
                adults=ride.item.adults,
            ),
            times=(
                _clock(bus.there.report if bus.there else None),
                _clock(bus.there.leaves if bus.there else None),
                _clock(bus.there.arrives if bus.there else None),
                formatting.clock(bus.leaves_hall),
                formatting.clock(bus.at_school),
            ),
        )


def _use_line(context: Context, groups: tuple[GroupDay, ...], use: UseRow, number: int) -> UseLine:
    group = next((one for one in groups if one.id == use.group), None)
    if group:
        joining = [one for one in use.ensembles if group.ensemble and one.id != group.ensemble.id]
        who = formatting.listed(
            [group_name(context, group), *(context.say(one.name) for one in joining)]
        )
        what = _use_of(group, who)
    else:
        bands = names(context, use.ensembles)
        what = context.say(use.what) or gettext("%(bands)s on stage", bands=bands)
        who = bands if use.step else context.say(use.role.name) if use.role else ""
        if who:
            what = gettext("%(who)s: %(words)s", who=who, words=what)
    return UseLine(
        number, context.say(use.room.name), span(use.start, use.end), what, use.purpose.value
    )


def _use_of(group: GroupDay, who: str) -> str:
    if not group.ensemble:
        return gettext("%(who)s: crew", who=who)
    if group.again:
        return gettext("%(who)s: warm-up", who=who)
    return gettext("%(who)s: warm-up to packed", who=who)
