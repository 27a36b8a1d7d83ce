"""Every item that checks ask about, each with its address."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from functools import cache

from handbook.domain.school_year import Days
from handbook.domain.values.text import Text
from handbook.plan.school_days import days_of
from handbook.plan.steering import PassageKey, passage_keys
from handbook.problems import Address
from handbook.schema.base import Item
from handbook.schema.calls import Booking, ExtraEntry, GroupCall
from handbook.schema.concert import Appearance, Concert, NotPlaying
from handbook.schema.cycle import AnyStage
from handbook.schema.days import DayWishes, Section
from handbook.schema.events import Event, EventFacts
from handbook.schema.fundamentals import Exercise, Strand, WarmUp, WarmUpStep
from handbook.schema.handbook import CycleContent, Handbook, Sourced
from handbook.schema.loads import CrewRole, Gear
from handbook.schema.log import Log
from handbook.schema.materials import Material
from handbook.schema.music import Passage, Piece, RhythmLine, Trill, WatchPoint
from handbook.schema.program import Ensemble
from handbook.schema.texts_for import Texts, texts_for
from handbook.schema.travel import Ride
from handbook.schema.year import AlteredSchoolDay, MakeUp, Meeting, SchoolClosure, Year


def ensembles(handbook: Handbook) -> Iterator[tuple[Address, Ensemble]]:
    """Give the ensembles of the program."""
    file = handbook.program.file
    for place, ensemble in enumerate(handbook.program.item.ensembles):
        yield (file, "ensembles", place), ensemble


def ensemble_by_id(handbook: Handbook) -> Mapping[str, Ensemble]:
    """Map ids to ensembles."""
    return {ensemble.id: ensemble for ensemble in handbook.program.item.ensembles}


def years(handbook: Handbook) -> Iterator[tuple[str, Year]]:
    """Give each school year with its file."""
    for sourced in handbook.years.values():
        yield sourced.file, sourced.item


def meetings(handbook: Handbook) -> Iterator[tuple[Address, Meeting, Year]]:
    """Give each meeting with its year."""
    for file, year in years(handbook):
        for place, meeting in enumerate(year.meetings):
            yield (file, "meetings", place), meeting, year


def pieces(content: CycleContent) -> Iterator[tuple[Address, Piece]]:
    """Give the pieces of a cycle, over all its files of music."""
    for sourced in content.music:
        for place, piece in enumerate(sourced.item.pieces):
            yield (sourced.file, "pieces", place), piece


def all_pieces(handbook: Handbook) -> Iterator[tuple[Address, Piece]]:
    """Give the pieces of all cycles."""
    for content in handbook.cycles:
        yield from pieces(content)


def passages(handbook: Handbook) -> Iterator[tuple[Address, Passage, Piece]]:
    """Give each passage with its piece."""
    for address, piece in all_pieces(handbook):
        for place, passage in enumerate(piece.passages):
            yield (*address, "passages", place), passage, piece


def passages_of(content: CycleContent) -> Iterator[tuple[Address, Passage]]:
    """Give each passage of a cycle."""
    for address, piece in pieces(content):
        for place, passage in enumerate(piece.passages):
            yield (*address, "passages", place), passage


def watch_points(handbook: Handbook) -> Iterator[tuple[Address, WatchPoint, Piece]]:
    """Give what is to be watched, in pieces and in passages, with its piece."""
    for address, piece in all_pieces(handbook):
        for place, point in enumerate(piece.watch):
            yield (*address, "watch", place), point, piece
    for address, passage, piece in passages(handbook):
        for place, point in enumerate(passage.watch):
            yield (*address, "watch", place), point, piece


def trills(handbook: Handbook) -> Iterator[tuple[Address, Trill, Piece]]:
    """Give the trills of pieces and of passages, with their piece."""
    for address, piece in all_pieces(handbook):
        for place, trill in enumerate(piece.trills):
            yield (*address, "trills", place), trill, piece
    for address, passage, piece in passages(handbook):
        for place, trill in enumerate(passage.trills):
            yield (*address, "trills", place), trill, piece


def rhythms(handbook: Handbook) -> Iterator[tuple[Address, RhythmLine, Piece]]:
    """Give the rhythms to be counted, with their piece."""
    for address, piece in all_pieces(handbook):
        for place, rhythm in enumerate(piece.rhythms):
            yield (*address, "rhythms", place), rhythm, piece


def strands(handbook: Handbook) -> Iterator[tuple[Address, Strand]]:
    """Give the strands of all files of fundamentals."""
    for sourced in handbook.fundamentals:
        for place, strand in enumerate(sourced.item.strands):
            yield (sourced.file, "strands", place), strand


def exercises(handbook: Handbook) -> Iterator[tuple[Address, Exercise]]:
    """Give the exercises of all strands."""
    for address, strand in strands(handbook):
        for place, exercise in enumerate(strand.exercises):
            yield (*address, "exercises", place), exercise


def warm_ups(handbook: Handbook) -> Iterator[tuple[Address, WarmUp]]:
    """Give the levels of the warm-up."""
    for sourced in handbook.fundamentals:
        for place, warm_up in enumerate(sourced.item.warm_ups):
            yield (sourced.file, "warm_ups", place), warm_up


def warm_up_steps(handbook: Handbook) -> Iterator[tuple[Address, WarmUpStep]]:
    """Give the steps of all warm-ups."""
    for address, warm_up in warm_ups(handbook):
        for place, step in enumerate(warm_up.steps):
            yield (*address, "steps", place), step


def who_lists(handbook: Handbook) -> Iterator[tuple[Address, tuple[str, ...], tuple[str, ...]]]:
    """Give each list under `who`, with the ids of its ensembles; none for one of all ensembles."""
    for address, entry, piece in _for_some_players(handbook):
        yield (*address, "who"), entry.who, piece.played_by
    for address, strand in strands(handbook):
        yield (*address, "who"), strand.who, ()
    for address, exercise in exercises(handbook):
        yield (*address, "who"), exercise.who, ()
    for address, section, whose in sections(handbook):
        yield (*address, "who"), section.who, whose if len(whose) == 1 else ()
    for address, event in events(handbook):
        yield (*address, "players"), event.players, event.who
    for address, texts, bands in _texts_for(handbook):
        for place, (who, _) in enumerate(texts_for(texts)):
            yield (*address, place, "who"), who, bands


def _for_some_players(
    handbook: Handbook,
) -> Iterator[tuple[Address, Passage | WatchPoint | RhythmLine | Trill, Piece]]:
    yield from passages(handbook)
    yield from watch_points(handbook)
    yield from rhythms(handbook)
    yield from trills(handbook)


def _texts_for(handbook: Handbook) -> Iterator[tuple[Address, Texts | None, tuple[str, ...]]]:
    for address, passage, piece in passages(handbook):
        yield (*address, "home"), passage.home, piece.played_by
    for address, trill, piece in trills(handbook):
        yield (*address, "fingering"), trill.fingering, piece.played_by
    for address, strand in strands(handbook):
        yield (*address, "home"), strand.home, ()
    for address, exercise in exercises(handbook):
        yield (*address, "how"), exercise.how, ()
    for address, stages in stage_lists(handbook):
        for place, stage in enumerate(stages):
            yield (*address, place, "home"), stage.home, ()
    for content in handbook.cycles:
        for concert in content.concerts:
            yield (concert.file, "bring"), concert.item.bring, ()
            for band, lines in concert.item.bring_for.items():
                yield (concert.file, "bring_for", band), lines, (band,)


def stage_lists(handbook: Handbook) -> Iterator[tuple[Address, Sequence[AnyStage]]]:
    """Give the stages of each cycle, after those that the program says of all."""
    usual = handbook.program.item.usual
    if usual:
        yield (handbook.program.file, "usual", "stages"), usual.stages
    for content in handbook.cycles:
        yield (content.cycle.file, "stages"), content.cycle.item.stages


def named_for_home(handbook: Handbook) -> Iterator[tuple[Address, str]]:
    """Give each ensemble that has minutes at home of its own; those of a usual stage once."""
    usual: dict[str, object] = {}
    for address, stages in stage_lists(handbook):
        for place, stage in enumerate(stages):
            minutes = stage.home_minutes
            if not isinstance(minutes, dict) or usual.get(stage.id) == minutes:
                continue
            if "usual" in address:
                usual[stage.id] = minutes
            for name in minutes:
                yield (*address, place, "home_minutes", name), name


def day_wishes(content: CycleContent) -> Iterator[tuple[Address, DayWishes, tuple[str, ...]]]:
    """Give what is asked of a cycle's single days, with the ensembles that it is for."""
    cycle = content.cycle.item
    for place, note in enumerate(cycle.days):
        whose = (note.ensemble,) if note.ensemble else cycle.ensembles
        yield (content.cycle.file, "days", place), note, whose
    for place, extra in enumerate(cycle.extra):
        yield (content.cycle.file, "extra", place), extra, (extra.ensemble,)


def materials(handbook: Handbook) -> Iterator[tuple[Address, Material]]:
    """Give what must lie ready for anything."""
    for address, entry in _with_materials(handbook):
        for place, one in enumerate(entry.materials):
            yield (*address, "materials", place), one


def _with_materials(
    handbook: Handbook,
) -> Iterator[tuple[Address, Exercise | WarmUp | Piece | DayWishes]]:
    yield from exercises(handbook)
    yield from warm_ups(handbook)
    yield from all_pieces(handbook)
    for content in handbook.cycles:
        yield from ((address, wish) for address, wish, _ in day_wishes(content))


Names = Mapping[str, Sequence[PassageKey]]
"""The passages of an ensemble by the names that a log may give them."""


def logs(handbook: Handbook) -> Iterator[tuple[CycleContent, Sourced[Log], Names]]:
    """Give each log with its cycle, and the names that it may give to passages."""
    for content in handbook.cycles:
        known: dict[str, Names] = {}
        for log in content.logs:
            band = log.item.ensemble
            if band not in known:
                own = [piece for _, piece in pieces(content) if band in piece.played_by]
                known[band] = passage_keys(own)
            yield content, log, known[band]


def passages_in_log(log: Sourced[Log]) -> Iterator[tuple[Address, str]]:
    """Give each passage that a log names, as it is written."""
    for place, entry in enumerate(log.item.reached):
        yield (log.file, "reached", place, "passage"), entry.passage
    yield from _listed((log.file, "not_done"), log.item.not_done)


def thanked(handbook: Handbook) -> Iterator[tuple[Address, tuple[str, ...]]]:
    """Give whom each day and each log thanks, by their ids as written."""
    for content in handbook.cycles:
        for address, wish, _ in day_wishes(content):
            yield (*address, "thanks_to"), wish.thanks_to
        for log in content.logs:
            yield (log.file, "thanked"), log.item.thanked


def sections(handbook: Handbook) -> Iterator[tuple[Address, Section, tuple[str, ...]]]:
    """Give the sections of all days, with the ensembles that they may be of."""
    for content in handbook.cycles:
        for address, wish, whose in day_wishes(content):
            for name, section in wish.sections.items():
                yield (*address, "sections", name), section, whose


def ensembles_named_in(content: CycleContent) -> Iterator[tuple[Address, str]]:
    """Give each ensemble that an entry of a cycle is for, by its id as written."""
    for field in ("days", "extra", "cancelled"):
        for place, entry in enumerate(getattr(content.cycle.item, field)):
            if entry.ensemble is not None:
                yield (content.cycle.file, field, place, "ensemble"), entry.ensemble
    for address, piece in pieces(content):
        if piece.ensemble:
            yield (*address, "ensemble"), piece.ensemble
        yield from _listed((*address, "ensembles"), piece.ensembles)
    for concert in content.concerts:
        yield from _on_concert_day(concert)
    for log in content.logs:
        yield (log.file, "ensemble"), log.item.ensemble


def _on_concert_day(concert: Sourced[Concert]) -> Iterator[tuple[Address, str]]:
    item, file = concert.item, concert.file
    yield from _in_turns(concert)
    for field in ("attire_for", "bring_for"):
        for name in getattr(item, field):
            yield (file, field, name), name
    for name in item.rain.rooms if item.rain else ():
        yield (file, "rain", "rooms", name), name
    alone: tuple[tuple[str, Sequence[NotPlaying | GroupCall | CrewRole]], ...] = (
        ("not_playing", item.not_playing),
        ("calls", item.calls),
        ("crew", item.crew),
    )
    for field, named in alone:
        for place, one in enumerate(named):
            if one.ensemble is not None:
                yield (file, field, place, "ensemble"), one.ensemble
    rides = item.travel.rides if item.travel else ()
    together: tuple[tuple[Address, Sequence[ExtraEntry | Booking | Ride]], ...] = (
        ((file, "before"), item.before),
        ((file, "after"), item.after),
        ((file, "bookings"), item.bookings),
        ((file, "travel", "rides"), rides),
    )
    for at, entries in together:
        for place, entry in enumerate(entries):
            yield from _listed((*at, place, "ensembles"), entry.ensembles)
    for place, extra in enumerate(item.seating.extra if item.seating else ()):
        yield (file, "seating", "extra", place, "ensemble"), extra.ensemble


def _in_turns(concert: Sourced[Concert]) -> Iterator[tuple[Address, str]]:
    """Give the ensembles of the program; guests who join one are none."""
    guests = {guest.id for guest in concert.item.guests}
    for place, turn in enumerate(concert.item.program):
        at: Address = (concert.file, "program", place)
        if turn.ensemble:
            yield (*at, "ensemble"), turn.ensemble
        joining = _listed((*at, "joined_by"), turn.joined_by)
        yield from ((each, name) for each, name in joining if name not in guests)


def placed_entries(
    concert: Sourced[Concert],
) -> Iterator[tuple[Address, Appearance | GroupCall | ExtraEntry]]:
    """Give the entries of a concert that are in a room, or in a place in words."""
    item = concert.item
    lists: tuple[tuple[str, Sequence[Appearance | GroupCall | ExtraEntry]], ...] = (
        ("program", item.program),
        ("calls", item.calls),
        ("before", item.before),
        ("after", item.after),
    )
    for field, entries in lists:
        for place, entry in enumerate(entries):
            yield (concert.file, field, place), entry


def _listed(address: Address, names: tuple[str, ...]) -> Iterator[tuple[Address, str]]:
    for place, name in enumerate(names):
        yield (*address, place), name


def events(handbook: Handbook) -> Iterator[tuple[Address, Event]]:
    """Give each event as it is written, over all files of events."""
    for sourced in handbook.events:
        for place, event in enumerate(sourced.item.events):
            yield (sourced.file, "events", place), event


def event_facts(handbook: Handbook) -> Iterator[tuple[Address, EventFacts]]:
    """Give what is said of each event, and of each of its dates."""
    for address, event in events(handbook):
        yield address, event
        for place, entry in enumerate(event.on):
            yield (*address, "on", place), entry


def concerts(handbook: Handbook) -> Iterator[tuple[CycleContent, Sourced[Concert]]]:
    """Give each concert with its cycle."""
    for content in handbook.cycles:
        yield from ((content, concert) for concert in content.concerts)


def held_concerts(handbook: Handbook) -> Iterator[tuple[CycleContent, Sourced[Concert]]]:
    """Give each concert that is not cancelled with its cycle."""
    return (one for one in concerts(handbook) if one[1].item.cancelled is None)


def last_day(content: CycleContent) -> date | None:
    """Give a cycle's last day: its last concert's, else the one stated."""
    return content.concert.item.date if content.concert else content.cycle.item.ends


def whole_days(content: CycleContent) -> tuple[date, date] | None:
    """Give a cycle's first and last day, both included, if it has an end after its start."""
    first, last = content.cycle.item.starts, last_day(content)
    return (first, last) if last is not None and first <= last else None


def closed_days(year: Year) -> Iterator[tuple[int, Days]]:
    """Give the place of each closure in the list with its days, if in order."""
    for place, closure in enumerate(year.closures):
        days = days_of(closure, year)
        if days.first <= days.last < date.max:
            yield place, days


def year_entries(
    handbook: Handbook,
) -> Iterator[tuple[Address, SchoolClosure | AlteredSchoolDay, Year]]:
    """Give the closures and altered days of each year."""
    for file, year in years(handbook):
        for place, closure in enumerate(year.closures):
            yield (file, "closures", place), closure, year
        for address, altered in altered_days(file, year):
            yield address, altered, year


def altered_days(file: str, year: Year) -> Iterator[tuple[Address, AlteredSchoolDay]]:
    """Give the altered days of a year."""
    for place, altered in enumerate(year.altered):
        yield (file, "altered", place), altered


def make_up_days(file: str, year: Year) -> Iterator[tuple[Address, MakeUp]]:
    """Give the make-up days of a year."""
    for place, made_up in enumerate(year.make_up):
        yield (file, "make_up", place), made_up


def leaders(handbook: Handbook) -> Iterator[tuple[Address, tuple[str, ...]]]:
    """Give each list under `led_by`, by the address of its entry."""
    for address, ensemble in ensembles(handbook):
        yield address, ensemble.led_by
    for address, meeting, _ in meetings(handbook):
        yield address, meeting.led_by
    for content in handbook.cycles:
        for address, wish, _ in day_wishes(content):
            yield address, wish.led_by
    for address, section, _ in sections(handbook):
        yield address, section.led_by
    for _, concert in concerts(handbook):
        for place, turn in enumerate(concert.item.program):
            yield (concert.file, "program", place), turn.led_by
        for place, call in enumerate(concert.item.calls):
            yield (concert.file, "calls", place), call.led_by


def items(handbook: Handbook) -> Iterator[tuple[str, Item]]:
    """Give what each YAML file holds that readers see some of."""
    yield handbook.program.file, handbook.program.item
    for year in handbook.years.values():
        yield year.file, year.item
    for fundamentals in handbook.fundamentals:
        yield fundamentals.file, fundamentals.item
    for events in handbook.events:
        yield events.file, events.item
    for content in handbook.cycles:
        yield content.cycle.file, content.cycle.item
        for music in content.music:
            yield music.file, music.item
        for concert in content.concerts:
            yield concert.file, concert.item


_WITHOUT_TEXT = (str, int, date, type(None))  # as most fields are


def texts(value: object, address: Address) -> Iterator[tuple[Address, Text]]:
    """Find all texts for people below a value, in the order of their fields."""
    if isinstance(value, Text):
        yield address, value
    elif isinstance(value, Item):
        for name, shown in _fields(type(value)):
            part = getattr(value, name)
            if not isinstance(part, _WITHOUT_TEXT):
                yield from texts(part, (*address, shown))
    elif isinstance(value, tuple):
        for place, part in enumerate(value):
            yield from texts(part, (*address, place))
    elif isinstance(value, dict):
        for key, part in value.items():
            yield from texts(part, (*address, key))


@cache
def _fields(of: type[Item]) -> tuple[tuple[str, str], ...]:
    """List the fields of a kind of item as they are called here and in files."""
    return tuple((name, field.alias or name) for name, field in of.model_fields.items())


def moves(equipment: Sequence[Gear]) -> Iterator[tuple[Address, Gear]]:
    """Give each way that things go, with its address within `equipment`."""
    for place, gear in enumerate(equipment):
        for n, move in enumerate(gear.moves):
            yield (place, "then", n - 1) if n else (place,), move
