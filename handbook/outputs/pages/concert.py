"""A concert as a family needs it: where, when, in what, with what, until when."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from datetime import datetime, time

from markupsafe import Markup

from handbook.domain.call_times import mark_after
from handbook.domain.values.text import Text
from handbook.outputs import addresses
from handbook.outputs.components.concert_steps import DayCard, day_card
from handbook.outputs.components.concert_words import (
    at_the_bus,
    group_name,
    in_the_room,
    meeting_place,
    names,
    over_at,
    part_of,
    pick_up_place,
    place_of,
)
from handbook.outputs.components.crew_bands import crew_bands, crew_days
from handbook.outputs.components.crew_steps import crew_pick_up, crew_steps, meets_at
from handbook.outputs.components.missed_class import missed_words
from handbook.outputs.components.moved import moved_words
from handbook.outputs.components.next_concerts import NextConcert, next_concerts
from handbook.outputs.components.program_words import conducted_by, crew_names
from handbook.outputs.components.rain_words import rain_calls, rain_line, rain_place
from handbook.outputs.components.texts_for import players_for, said_for
from handbook.outputs.components.to_calendar import EntryFile, ToCalendar
from handbook.outputs.html import formatting
from handbook.outputs.html.event_data import event_data
from handbook.outputs.i18n import gettext, ngettext
from handbook.outputs.i18n.formats import clock_time, with_clauses, with_commas
from handbook.outputs.page import Context, Link, Page, section_of
from handbook.outputs.search.entry import SearchEntry, apart
from handbook.outputs.sheets.kinds.family import family_sheets
from handbook.outputs.sheets.kinds.program import program_sheets
from handbook.outputs.sheets.making import sheets_in
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import AppearancePlan, ConcertPlan, CyclePlan, PieceRow
from handbook.plan.players import players_of
from handbook.records import dataclass
from handbook.schema.concert import Guest, GuestPiece, PauseKind
from handbook.schema.handbook import MAIN_CONCERT
from handbook.schema.music import Piece
from handbook.schema.program import Contact, Ensemble

_DIGEST_LETTERS = 8


@dataclass(frozen=True, slots=True)
class BandView:
    """A band in the filter; `n` is its number there, `groups` the ids of its groups."""

    n: int
    id: str
    name: str
    groups: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WhoView:
    """A band, `whole` or a section of it, in a line; `n` is the band's number in the filter."""

    n: int
    name: str
    whole: bool = False


@dataclass(frozen=True, slots=True)
class MeetView:
    """A time and a place, and all who meet then and there; `everybody` where that is all bands."""

    at: time
    place: str
    who: tuple[WhoView, ...]
    everybody: bool


@dataclass(frozen=True, slots=True)
class CrewRow:
    """A role of the crew that players of a band have who do not play; `n` is the band's number."""

    n: int
    role: str
    path: str
    at: str
    place: str
    until: str
    only: str


@dataclass(frozen=True, slots=True)
class MissedLine:
    """A class that players miss; `n` is the number of the band that is away."""

    n: int
    text: str


@dataclass(frozen=True, slots=True)
class ThingView:
    """Something to wear or bring; `key` stays the same as long as its words do; `n` 0 is for all.

    `players` are those it is for, `band/instrument`; empty if it is for all of them.
    """

    key: str
    text: str
    n: int
    band: str
    players: str = ""


@dataclass(frozen=True, slots=True)
class ProgramPieceLine:
    """A piece on the program; those of guests have no page."""

    item: Piece | GuestPiece
    path: str


@dataclass(frozen=True, slots=True)
class TurnView:
    """A turn on the program as an audience reads it; `pause` is an intermission before it.

    `links` lead to the band's page, or to those of its groups; `hour` is its own, if it has one.
    """

    band: str
    links: tuple[Link, ...]
    hour: str
    pause: str
    pieces: tuple[ProgramPieceLine, ...]
    led: str = ""


@dataclass(frozen=True, slots=True)
class ConcertView:
    """The family sheet; `bands` are those that play, `crew_bands` those whose players are its crew.

    `ends` is rounded up, under `ticks` the device keeps what is ticked.

    `over` is when the last of the families has gone home, as the page's scripts read it.

    That of a cancelled concert has nothing that families would act on.

    `prints` are the addresses of the sheets to print, each with its band, `programs` those of
    the program, plain and to fold; `thanks` are the roles of the crew, `next_concerts` what its
    audience may come to next.
    """

    concert: ConcertPlan
    ticks: str
    ends: datetime
    bands: tuple[BandView, ...]
    crew_bands: tuple[BandView, ...]
    at_bus: tuple[MeetView, ...]
    in_room: tuple[MeetView, ...]
    on_crew: tuple[CrewRow, ...]
    missed: tuple[MissedLine, ...]
    to_class: tuple[MeetView, ...]
    pick_ups: tuple[MeetView, ...]
    attire: tuple[ThingView, ...]
    bring: tuple[ThingView, ...]
    days: tuple[DayCard, ...]
    turns: tuple[TurnView, ...]
    crew: str
    event: Markup
    has_hours: bool
    rain: str
    rain_place: str
    rain_calls: tuple[tuple[str, str], ...]
    calendar: ToCalendar | None
    contact: Contact
    over: str
    moved: str = ""
    prints: tuple[tuple[BandView, str], ...] = ()
    programs: tuple[str, ...] = ()
    thanks: str = ""
    next_concerts: tuple[NextConcert, ...] = ()


def pages(context: Context, cycle: CyclePlan) -> Iterator[Page]:
    """Make a family sheet for each concert."""
    for concert in cycle.concerts:
        yield _page(context, cycle, concert)


def _page(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> Page:
    view, name = concert_view(context, cycle, concert), context.say(concert.item.name)
    when = with_clauses(
        (formatting.long_day(concert.item.date), formatting.clock(concert.downbeat))
    )
    about = gettext(
        "%(concert)s: %(when)s, %(venue)s. When and where to be, attire, program, pick-up.",
        concert=name,
        when=when,
        venue=context.say(concert.venue.name),
    )
    if concert.item.cancelled:
        about = gettext(
            "%(concert)s is cancelled: %(why)s",
            concert=name,
            why=context.say(concert.item.cancelled),
        )
    sheets = sheets_in(context, *family_sheets(context, cycle.id, view))
    programs = sheets_in(context, *program_sheets(context, cycle.id, view))
    bands = (*view.bands, *view.crew_bands)
    prints = tuple((band, sheet.path) for band, sheet in zip(bands, sheets, strict=False))
    return Page(
        path=addresses.concert(cycle.id, concert.id),
        kind="concert",
        title=name,
        description=about,
        section=section_of(concert.id),
        view=replace(view, prints=prints, programs=tuple(one.path for one in programs)),
        crumbs=(Link(context.say(cycle.item.name), addresses.cycle(cycle.id)),),
        search=tuple(_entries(context, view)),
        sheets=(*sheets, *programs),
    )


def _entries(context: Context, view: ConcertView) -> Iterator[SearchEntry]:
    item, venue, say = view.concert.item, view.concert.venue, context.say
    name = say(item.name)
    if item.cancelled:
        yield SearchEntry(
            gettext("%(concert)s: cancelled", concert=name),
            gettext(
                "Cancelled: %(why)s. It was to be on %(day)s.",
                why=say(item.cancelled),
                day=formatting.long_day(item.date),
            ),
            keywords="concert off call time where",
            day=item.date,
        )
        yield _program_entry(context, view)
        return
    meets = [
        *((at_the_bus(), meet) for meet in view.at_bus),
        *((in_the_room(), meet) for meet in view.in_room),
        *((gettext("back at school, then class"), meet) for meet in view.to_class),
        *((gettext("pick-up"), meet) for meet in view.pick_ups),
    ]
    when = with_clauses((formatting.long_day(item.date), clock_time(item.downbeat)))
    where = with_clauses((say(venue.name), say(venue.address)))
    yield SearchEntry(
        name,
        apart(
            when,
            where,
            *(
                gettext("%(what)s: %(words)s", what=what, words=_meeting(meet))
                for what, meet in meets
            ),
            gettext("moved: %(what)s", what=view.moved) if view.moved else "",
            say(item.about),
        ),
        keywords="concert start begins time downbeat where",
        day=item.date,
        times=(item.downbeat,),
        answer=gettext(
            "%(concert)s: %(when)s, %(venue)s", concert=name, when=when, venue=say(venue.name)
        ),
    )
    for what, rows, anchor, keywords in (
        (at_the_bus(), view.at_bus, "call", "call time be there arrive"),
        (in_the_room(), view.in_room, "call", "call time be there arrive"),
        (gettext("Pick-up"), view.pick_ups, "pick-up", "collect ride home"),
    ):
        if rows:
            told = apart(*map(_meeting, rows))
            yield SearchEntry(
                part_of(what, name),
                apart(told, *map(say, item.pick_up_rules)) if anchor == "pick-up" else told,
                anchor,
                f"{keywords} concert time",
                day=item.date,
                times=tuple(meet.at for meet in rows),
                answer=gettext("%(what)s: %(words)s", what=what, words=told),
            )
    for what, anchor, told, keywords in (
        (gettext("Where"), "place", where, "address map directions hall"),
        (gettext("Parking"), "parking", say(venue.parking), "park where"),
        (
            gettext("Getting in"),
            "access",
            say(venue.access),
            f"wheelchair entrance {say(venue.access)}",
        ),
    ):
        if told:
            yield SearchEntry(
                part_of(what, name),
                told,
                anchor,
                f"{keywords} concert",
                day=item.date,
                answer=told,
            )
    rain = view.concert.rain
    if rain is not None:
        calls = (" ".join(line) for line in view.rain_calls)
        words = apart(view.rain, view.rain_place, say(rain.item.about), *calls)
        yield SearchEntry(
            part_of(gettext("Bad weather"), name), words, "rain", "rain weather moved date concert"
        )
    for title, anchor, things, keywords in (
        (gettext("Wear"), "attire", view.attire, "clothes wear uniform dress shoes concert"),
        (gettext("What to bring"), "bring", view.bring, "take need concert"),
    ):
        if things:
            listed = apart(*map(_whose_thing, things))
            note = say(item.attire_note) if anchor == "attire" else ""
            yield SearchEntry(
                part_of(title, name),
                apart(listed, note),
                anchor,
                keywords,
                day=item.date,
                answer=gettext("%(what)s: %(words)s", what=title, words=listed),
            )
    for card in view.days:
        yield SearchEntry(
            gettext("%(band)s, %(concert)s, step by step", band=card.band, concert=name),
            apart(*(f"{step.time} {step.what}" for step in card.steps)),
            card.anchor,
            "call time warm-up bus leave back day concert timeline",
        )
    yield _program_entry(context, view)


def _meeting(meet: MeetView) -> str:
    when = with_clauses(filter(None, (clock_time(meet.at), meet.place)))
    if meet.everybody:
        return when
    # Translators: when and where, and who meets then.
    who = with_commas(one.name for one in meet.who)
    return gettext("%(when)s (%(who)s)", when=when, who=who)


def _whose_thing(thing: ThingView) -> str:
    if not thing.band:
        return thing.text
    # Translators: something to wear or bring, and the band it is for.
    return gettext("%(thing)s (%(band)s only)", thing=thing.text, band=thing.band)


def _program_entry(context: Context, view: ConcertView) -> SearchEntry:
    say = context.say
    pieces = [piece.item for turn in view.turns for piece in turn.pieces]
    return SearchEntry(
        part_of(
            gettext("What was to be played") if view.concert.cancelled else gettext("Program"),
            say(view.concert.item.name),
        ),
        apart(*(with_clauses(filter(None, (say(one.title), say(one.by)))) for one in pieces)),
        "program",
        "pieces music order plays concert how long does it last ends over length",
        day=view.concert.item.date,
        answer=""
        if view.concert.cancelled
        else gettext(
            "About %(minutes)s of music. It ends at about %(time)s.",
            minutes=formatting.whole_minutes(view.concert.seconds),
            time=clock_time(view.ends.time()),
        ),
    )


def concert_view(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> ConcertView:
    """Gather the family sheet of one concert."""
    item, day = concert.item, concert.day
    bands = _bands(context, concert)
    helping = tuple(_crew_bands(context, concert, len(bands)))
    groups = tuple(_families_groups(concert, bands))
    riding, others = (
        tuple(pair for pair in groups if (pair[1].ride is not None) is by_bus)
        for by_bus in (True, False)
    )
    at_bus = _meets(context, concert, riding)
    in_room = _meets(context, concert, others, _called_again(context, groups))
    attire, bring = (_ticked(context, concert, of) for of in (_to_wear, _to_bring))
    all_at_once = len(at_bus) + len(in_room) == 1
    view = ConcertView(
        concert=concert,
        ticks=cycle.id if concert.id == MAIN_CONCERT else f"{cycle.id}/{concert.id}",
        ends=mark_after(day.ends),
        bands=bands,
        crew_bands=helping,
        at_bus=_marked(at_bus, everybody=all_at_once),
        in_room=_marked(in_room, everybody=all_at_once),
        on_crew=tuple(_on_crew(context, cycle, concert, helping)),
        missed=tuple(_missed(context, concert, bands)),
        to_class=_pick_ups(context, concert, groups, to_class=True),
        pick_ups=_pick_ups(
            context, concert, (*groups, *_collected_crew(concert, helping)), to_class=False
        ),
        attire=attire,
        bring=bring,
        days=(
            *(
                card
                for band in bands
                if (group := day.group_of(band.id))
                and (card := day_card(context, concert, group, band.n))
            ),
            *_crew_cards(context, concert, helping),
        ),
        turns=tuple(_turns(context, cycle, concert)),
        crew=addresses.crew(cycle.id, concert.id),
        has_hours=any(turn.first_note for turn in item.program),
        rain=rain_line(context, concert),
        rain_place=rain_place(context, concert),
        rain_calls=tuple(rain_calls(context, concert)),
        calendar=_to_calendar(cycle, concert, (*bands, *helping)),
        contact=context.plan.program.contact,
        over=over_at(day.ends, (group.collect for _, group in groups)),
        event=event_data(context, concert, addresses.concert(cycle.id, concert.id)),
        moved=moved_words(item.date, item.moved_from),
        thanks=crew_names(context, concert),
        next_concerts=next_concerts(context, cycle, concert),
    )
    return _called_off(view) if concert.cancelled else view


def _called_off(view: ConcertView) -> ConcertView:
    """Take away all times and things that families would act on; what was to be played stays."""
    return replace(
        view,
        bands=(),
        crew_bands=(),
        on_crew=(),
        at_bus=(),
        in_room=(),
        missed=(),
        to_class=(),
        pick_ups=(),
        attire=(),
        bring=(),
        days=(),
        turns=tuple(replace(turn, hour="", pause="") for turn in view.turns),
        rain="",
        rain_place="",
        rain_calls=(),
    )


def _bands(context: Context, concert: ConcertPlan) -> tuple[BandView, ...]:
    groups = [group for group in concert.day.groups if group.ensemble and not group.section]
    return tuple(
        BandView(
            n,
            group.id,
            names(context, [group.ensemble] if group.ensemble else []),
            tuple(one.id for one in players_of(group.ensemble) if one.group)
            if group.ensemble
            else (),
        )
        for n, group in enumerate(groups, start=1)
    )


def _crew_bands(context: Context, concert: ConcertPlan, before: int) -> Iterator[BandView]:
    """Give the bands that do not play and yet are there, numbered after those that do."""
    known = {one.id: one for one in context.plan.program.ensembles}
    for n, band in enumerate(crew_bands(concert), start=before + 1):
        groups = tuple(one.id for one in players_of(known[band]) if one.group)
        yield BandView(n, band, names(context, [known[band]]), groups)


def _on_crew(
    context: Context, cycle: CyclePlan, concert: ConcertPlan, bands: Iterable[BandView]
) -> Iterator[CrewRow]:
    page = addresses.crew(cycle.id, concert.id)
    for band in bands:
        for role, day in crew_days(concert, band.id):
            yield CrewRow(
                band.n,
                context.say(role.name),
                f"{page}#role-{role.id}",
                formatting.clock(day.call) if day and day.call else "",
                meets_at(context, concert, role),
                formatting.clock(day.pick_up) if day and day.pick_up else "",
                _only_those(context.say(role.name), role.people, band.name),
            )


def _only_those(role: str, people: int | None, band: str) -> str:
    """Say who of a band that does not play is called, so that no other family drives there."""
    if people is None:
        return gettext(
            "%(role)s: only those players of %(band)s. The band does not play at this concert.",
            role=role,
            band=band,
        )
    return ngettext(
        "%(role)s: only %(num)s player of %(band)s. The band does not play at this concert.",
        "%(role)s: only %(num)s players of %(band)s. The band does not play at this concert.",
        people,
        role=role,
        band=band,
    )


def _crew_cards(
    context: Context, concert: ConcertPlan, bands: Iterable[BandView]
) -> Iterator[DayCard]:
    """Give the evening of each such band, all its roles together in order of time."""
    for band in bands:
        found = [
            step
            for role, _ in crew_days(concert, band.id)
            for step in crew_steps(context, concert, role)
        ]
        steps = tuple(dict.fromkeys(sorted(found, key=lambda step: step.at)))
        if steps:
            yield DayCard(band.n, band.name, f"day-{band.id}", steps)


def _to_calendar(
    cycle: CyclePlan, concert: ConcertPlan, bands: tuple[BandView, ...]
) -> ToCalendar | None:
    if concert.cancelled:
        return None
    page = addresses.concert(cycle.id, concert.id)
    own = tuple(EntryFile(band.name, addresses.entry_file(page, band.id), band.n) for band in bands)
    return ToCalendar(addresses.entry_file(page), own if len(own) > 1 else ())


def _families_groups(
    concert: ConcertPlan, bands: tuple[BandView, ...]
) -> Iterator[tuple[int, GroupDay]]:
    """Give each band, and each section that comes or goes at another time, with the band's number."""
    for band in bands:
        whole = concert.day.group_of(band.id)
        if whole is None:
            continue
        yield band.n, whole
        for section in concert.day.sections_of(band.id):
            if (section.report, section.collect) != (whole.report, whole.collect):
                yield band.n, section


def _meets(
    context: Context,
    concert: ConcertPlan,
    groups: tuple[tuple[int, GroupDay], ...],
    again: Iterable[tuple[datetime, str, WhoView]] = (),
) -> tuple[MeetView, ...]:
    """Join all who meet at one time and place, the earliest first."""
    meets: dict[tuple[datetime, str], list[WhoView]] = {}
    for n, group in groups:
        if group.report:
            key = (group.report, meeting_place(context, concert, group))
            meets.setdefault(key, []).append(_who(context, n, group))
    for at, place, who in again:
        meets.setdefault((at, place), []).append(who)
    return _in_order(meets)


def _who(context: Context, n: int, group: GroupDay) -> WhoView:
    return WhoView(n, group_name(context, group), not group.section)


def _called_again(
    context: Context, groups: Iterable[tuple[int, GroupDay]]
) -> Iterator[tuple[datetime, str, WhoView]]:
    """Give the calls for later turns with an hour of their own."""
    for n, group in groups:
        for again in group.again if not group.section else ():
            if again.call:
                who = WhoView(n, gettext("%(band)s, again", band=group_name(context, group)))
                yield again.call, place_of(context, group), who


def _marked(meets: tuple[MeetView, ...], *, everybody: bool) -> tuple[MeetView, ...]:
    return tuple(replace(meet, everybody=everybody) for meet in meets)


def _missed(
    context: Context, concert: ConcertPlan, bands: tuple[BandView, ...]
) -> Iterator[MissedLine]:
    """Tell students which classes they miss while they are away."""
    numbers = {band.id: band.n for band in bands}
    for missed in concert.day.missed:
        yield MissedLine(numbers.get(missed.because.id, 0), missed_words(context, missed))


def _pick_ups(
    context: Context,
    concert: ConcertPlan,
    groups: tuple[tuple[int, GroupDay], ...],
    *,
    to_class: bool,
) -> tuple[MeetView, ...]:
    meets = dict[tuple[datetime, str], list[WhoView]]()
    for n, group in groups:
        if group.collect and group.to_class is to_class:
            key = (group.collect, pick_up_place(context, concert, group))
            meets.setdefault(key, []).append(_who(context, n, group))
    return _in_order(meets)


def _collected_crew(
    concert: ConcertPlan, helping: Iterable[BandView]
) -> Iterator[tuple[int, GroupDay]]:
    """Give the groups of bands that are the crew and wait for the pick-up of all."""
    for band in helping:
        for _, group in crew_days(concert, band.id):
            if group and crew_pick_up(group):
                yield band.n, group


def _in_order(meets: dict[tuple[datetime, str], list[WhoView]]) -> tuple[MeetView, ...]:
    return tuple(
        MeetView(at.time(), place, tuple(meets[at, place]), len(meets) == 1)
        for at, place in sorted(meets)
    )


_Things = Callable[[Context, ConcertPlan], Iterator[ThingView]]


def _ticked(context: Context, concert: ConcertPlan, of: _Things) -> tuple[ThingView, ...]:
    """Give things under keys that are the same in every language, so that ticks are too."""
    shown, first = tuple(of(context, concert)), context.plan.languages[0]
    if context.language == first:
        return shown
    in_first = Context(context.plan, first)
    with in_first.speaking():
        known = of(in_first, concert)
        return tuple(replace(thing, key=same.key) for thing, same in zip(shown, known, strict=True))


def _to_wear(context: Context, concert: ConcertPlan) -> Iterator[ThingView]:
    item = concert.item
    yield from (_thing(context, text, 0, "") for text in item.attire)
    for band in _bands(context, concert):
        for text in item.attire_for.get(band.id, ()):
            yield _thing(context, text, band.n, band.name)


def _to_bring(context: Context, concert: ConcertPlan) -> Iterator[ThingView]:
    item, bands = concert.item, _bands(context, concert)
    for n, band, lines in (
        (0, "", item.bring),
        *((band.n, band.name, item.bring_for.get(band.id, ())) for band in bands),
    ):
        for line in lines:
            thing = _thing_of(said_for(context, line), n, band)
            yield replace(thing, players=" ".join(players_for(context, concert, line.who)))


def _thing(context: Context, text: Text, n: int, band: str) -> ThingView:
    return _thing_of(context.say(text), n, band)


def _thing_of(words: str, n: int, band: str) -> ThingView:
    digest = hashlib.sha256(f"{band} {words}".encode()).hexdigest()[:_DIGEST_LETTERS]
    return ThingView(digest, words, n, band)


def _turns(context: Context, cycle: CyclePlan, concert: ConcertPlan) -> Iterator[TurnView]:
    performers: dict[str, Ensemble | Guest] = {
        **{guest.id: guest for guest in concert.item.guests},
        **{one.id: one for one in context.plan.program.ensembles},
    }
    for turn in concert.appearances:
        pauses = [one for one in turn.item.before if one.what is PauseKind.INTERMISSION]
        plans = cycle.of_band(turn.item.band)
        yield TurnView(
            band=names(context, [performers[one] for one in turn.item.names if one in performers]),
            links=tuple(
                Link(context.say(one.item.name), addresses.ensemble(cycle.id, one.item.id))
                for one in plans
            ),
            hour=clock_time(turn.item.first_note) if turn.item.first_note else "",
            pause=formatting.duration(pauses[-1].minutes * 60) if pauses else "",
            pieces=tuple(_program_lines(cycle, turn)),
            led=conducted_by(context, turn.item),
        )


def _program_lines(cycle: CyclePlan, turn: AppearancePlan) -> Iterator[ProgramPieceLine]:
    for piece in turn.pieces:
        yield ProgramPieceLine(piece.item, _path(cycle, turn.item.band, piece))
    for performed in turn.guest.pieces if turn.guest else ():
        yield ProgramPieceLine(performed, "")


def _path(cycle: CyclePlan, band: str, piece: PieceRow) -> str:
    """Give the address of a piece: with the first group that plays it, where a band has groups."""
    plays = (
        one.item.id
        for one in cycle.of_band(band)
        if any(row.item.id == piece.item.id for row in one.pieces)
    )
    return addresses.piece(cycle.id, next(plays, band), piece.item.id)
