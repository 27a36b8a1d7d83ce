"""Concerts that do not fit their day, their ensembles or their music."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, time
from itertools import product

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.checks.wording import day, evening_meant
from handbook.domain.values.clock import format_clock
from handbook.plan.concert_day.ground import room_called
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.calls import ExtraEntry
from handbook.schema.concert import Concert
from handbook.schema.handbook import CycleContent, Handbook, Sourced
from handbook.schema.music import Piece
from handbook.schema.program import Room
from handbook.source.names import listed

_NOON = time(12)


_NIGHT_ENDS = time(4)


@check
def concert_on_closure(handbook: Handbook) -> Iterator[Problem]:
    """The concert is on a day when school is closed.

    That may be meant; but the hall, the office and the buses may be closed too.

    Bad:

        date: Thu 2026-11-26   # in the fall break

    Good:

        date: Thu 2026-12-03
    """
    for content, concert in traversal.held_concerts(handbook):
        sourced = handbook.years.get(content.cycle.item.year)
        if sourced is None:
            continue
        made_up = {one.date for one in sourced.item.make_up}
        rain = concert.item.rain.date if concert.item.rain else None
        dates: list[tuple[date, Address]] = [(concert.item.date, (concert.file, "date"))]
        dates += [(rain, (concert.file, "rain", "date"))] if rain else []
        for (place, days), (one, at) in product(traversal.closed_days(sourced.item), dates):
            if one in days and one not in made_up:
                name = sourced.item.closures[place].name
                yield finding(
                    f"school is closed on {day(one)}: {name}",
                    at,
                    "check the date, and that the hall is open",
                    Severity.WARNING,
                    (Note("the closure is here", (sourced.file, "closures", place)),),
                )


@check
def piece_of_other_ensemble(handbook: Handbook) -> Iterator[Problem]:
    """The program has a piece under an ensemble that does not play it.

    Bad:

        program:
          - {ensemble: lantern, pieces: [tweed-kites]}   # a piece of harbor

    Good:

        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
    """
    for content in handbook.cycles:
        known = {piece.id: (address, piece) for address, piece in traversal.pieces(content)}
        for at, name, whose, place in _pieces_of_ensembles(content):
            if name not in known or not set(whose).isdisjoint(known[name][1].played_by):
                continue
            address, piece = known[name]
            if not piece.played_by:
                continue  # told as piece-without-ensemble
            field = "ensembles" if piece.ensembles else "ensemble"
            yield finding(
                f"`{name}` is a piece of {listed(piece.played_by)}, not of {listed(whose, 'or')}",
                at,
                f"move it to {place} of {listed(piece.played_by, 'or')}, or change the piece's {field}",
                notes=(
                    Note(
                        f"the piece's {field} {'is' if field == 'ensemble' else 'are'} here",
                        (*address, field),
                    ),
                ),
            )


def _pieces_of_ensembles(
    content: CycleContent,
) -> Iterator[tuple[Address, str, tuple[str, ...], str]]:
    """Give each piece named, with the ensembles it should be of and what it is named in."""
    for concert in content.concerts:
        for place, turn in enumerate(concert.item.program):
            for number, name in enumerate(turn.pieces):
                at = (concert.file, "program", place, "pieces", number)
                if turn.ensemble:
                    yield at, name, (turn.ensemble,), "the turn"
    for address, wish, whose in traversal.day_wishes(content):
        for number, name in enumerate(wish.run):
            yield (*address, "run", number), name, whose, "a day"


@check
def piece_not_on_program(handbook: Handbook) -> Iterator[Problem]:
    """A piece is rehearsed all cycle, but nobody plays it at the concert, or not all of its bands do.

    Bad:

        pieces:
          - {id: button-comets, title: Button Comets, ensemble: lantern}
        program:
          - {ensemble: lantern, pieces: [tweed-kites]}

    Good:

        program:
          - {ensemble: lantern, pieces: [tweed-kites, button-comets]}
    """
    for content in handbook.cycles:
        turns = [turn for concert in content.concerts for turn in concert.item.program]
        played = {name for turn in turns for name in turn.pieces}
        playing = {turn.band for turn in turns}
        if not played <= {piece.id for _, piece in traversal.pieces(content)}:
            continue  # told as unknown-piece, and surely the one that is missing here
        for address, piece in traversal.pieces(content):
            if piece.dropped:
                continue
            if piece.id not in played and not playing.isdisjoint(piece.played_by):
                file = content.concerts[-1].file
                whose = "the concert's" if len(content.concerts) == 1 else "any concert's"
                yield finding(
                    f"`{piece.id}` is not on {whose} program",
                    (*address, "id"),
                    f"add it under program in {file}, if it is to be played",
                    Severity.WARNING,
                )
            elif piece.id in played:
                yield from _rehearsed_in_vain(address, piece, content.concerts)


def _rehearsed_in_vain(
    address: Address, piece: Piece, concerts: Sequence[Sourced[Concert]]
) -> Iterator[Problem]:
    """Tell the bands that a piece of several is listed for, and that play it in no turn."""
    played = {
        (name, one)
        for concert in concerts
        for turn in concert.item.program
        for name in turn.names
        for one in ("", *turn.pieces)
    }
    for place, name in enumerate(piece.ensembles):
        if (name, "") in played and (name, piece.id) not in played:
            yield finding(
                f"`{name}` is to rehearse `{piece.id}`, but plays it nowhere in the concert",
                (*address, "ensembles", place),
                f"add it to a turn of `{name}` in {concerts[-1].file}, or put `{name}` under `joined_by` "
                "of the turn that has it, or take it out of this list",
                Severity.WARNING,
            )


@check
def dropped_piece_on_program(handbook: Handbook) -> Iterator[Problem]:
    """A piece that is no longer rehearsed is still on the concert's program.

    Bad:

        pieces:
          - {id: button-comets, title: Button Comets, ensemble: lantern, dropped: 2026-11-16}
        program:
          - {ensemble: lantern, pieces: [tweed-kites, button-comets]}

    Good:

        program:
          - {ensemble: lantern, pieces: [tweed-kites]}
    """
    for content, concert in traversal.held_concerts(handbook):
        dropped = {
            piece.id: address for address, piece in traversal.pieces(content) if piece.dropped
        }
        for place, turn in enumerate(concert.item.program):
            for turn_place, name in enumerate(turn.pieces):
                if name in dropped:
                    yield finding(
                        f"`{name}` is on the program, but has been dropped",
                        (concert.file, "program", place, "pieces", turn_place),
                        "take it off the program, or take out `dropped` to go on with it",
                        notes=(Note("it is dropped here", (*dropped[name], "dropped")),),
                    )


@check
def ensemble_not_on_program(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble of the cycle does not play at its concert.

    Its families would find no time and no place. If it is meant, say why under
    `not_playing`.

    Bad:

        program:
          - {ensemble: lantern, pieces: [button-comets]}   # harbor is in the cycle too

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
          - {ensemble: harbor, pieces: [tweed-kites]}
    """
    for content in handbook.cycles:
        concerts = [concert.item for concert in content.concerts]
        said = {name for one in concerts for name in one.players}
        said |= {absent.ensemble for one in concerts for absent in one.not_playing}
        absent = [name for name in content.cycle.item.ensembles if name not in said]
        if absent and content.concert:
            whose = "the concert's" if len(concerts) == 1 else "any concert's"
            yield finding(
                f"{listed(absent)} {'is' if len(absent) == 1 else 'are'} in this cycle, but not on {whose} program",
                (content.concert.file, "program"),
                "add a turn for each, or say why not under not_playing",
                Severity.WARNING,
                (Note("the cycle's ensembles are here", (content.cycle.file, "ensembles")),),
            )


@check
def morning_concert(handbook: Handbook) -> Iterator[Problem]:
    """The downbeat is before noon.

    Most concerts are in the afternoon or evening, and `07:00` reads like seven in the
    evening, but is seven in the morning. `during_school`, or a turn with an hour of its own in
    the morning, says that it is meant.

    Bad:

        downbeat: 07:00

    Good:

        downbeat: 7:00 pm
    """
    for _, concert in traversal.concerts(handbook):
        downbeat = concert.item.downbeat
        hours = [turn.first_note for turn in concert.item.program if turn.first_note]
        if concert.item.during_school or any(downbeat <= hour < _NOON for hour in hours):
            continue
        if downbeat < _NOON:
            evening = format_clock(time((downbeat.hour + 12) % 24, downbeat.minute))
            yield finding(
                f"the downbeat is in the morning, at {format_clock(downbeat)}",
                (concert.file, "downbeat"),
                f"write `{evening}` if the evening is meant; a morning concert may stay as it is",
                Severity.WARNING,
            )


@check
def call_after_downbeat(handbook: Handbook) -> Iterator[Problem]:
    """The ensemble that opens the concert is to be ready in the room when it has begun.

    Bad:

        downbeat: 7:00 pm
        program:
          - {ensemble: lantern, pieces: [button-comets], call: 7:15 pm}

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets], call: 6:15 pm}
    """
    for _, concert in traversal.concerts(handbook):
        opening = concert.item.program[0]
        begins = opening.first_note or concert.item.downbeat
        if opening.call is not None and opening.call >= begins:
            yield finding(
                f"`{opening.ensemble or opening.guest}` opens the concert at {format_clock(begins)}, but is to be ready in the room at {format_clock(opening.call)}",
                (concert.file, "program", 0, "call"),
                "state a time early enough to unpack, warm up and walk in",
                notes=(Note("the downbeat is here", (concert.file, "downbeat")),),
            )


@check
def pick_up_before_downbeat(handbook: Handbook) -> Iterator[Problem]:
    """Players are collected before the concert has begun.

    Bad:

        downbeat: 7:00 pm
        pick_up: 08:30

    Good:

        downbeat: 7:00 pm
        pick_up: 8:30 pm
    """
    for _, concert in traversal.concerts(handbook):
        pick_up = concert.item.pick_up
        if pick_up is not None and pick_up <= concert.item.downbeat:
            yield finding(
                f"players are collected at {format_clock(pick_up)}, but the concert begins at {format_clock(concert.item.downbeat)}",
                (concert.file, "pick_up"),
                evening_meant(pick_up, concert.item.downbeat.__lt__, "check am and pm"),
                notes=(Note("the downbeat is here", (concert.file, "downbeat")),),
            )


@check
def step_for_nobody(handbook: Handbook) -> Iterator[Problem]:
    """A step before the warm-up or after the performance is for an ensemble that does not play.

    It leads to that ensemble's first note or follows its last, so without one it is in nobody's day.

    Bad:

        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
        after:
          - {name: Sight-reading, minutes: 30, ensembles: [lantern]}

    Good:

        after:
          - {name: Sight-reading, minutes: 30, ensembles: [harbor]}
    """
    for _, concert in traversal.concerts(handbook):
        playing = concert.item.players
        for address, step in traversal.placed_entries(concert):
            for number, name in enumerate(step.ensembles if isinstance(step, ExtraEntry) else ()):
                if name not in playing:
                    yield finding(
                        f"`{name}` does not play, so this step is in nobody's day",
                        (*address, "ensembles", number),
                        "add its turn under program, or book the room under bookings",
                        notes=(Note("the program is here", (concert.file, "program")),),
                    )


@check
def entry_for_nobody(handbook: Handbook) -> Iterator[Problem]:
    """Something is said for an ensemble that does not play at the concert, so nobody reads it.

    That goes for `attire_for`, `bring_for` and the rooms of a rain plan.

    Bad:

        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
        attire_for:
          lantern: [Blue tie]

    Good:

        attire_for:
          harbor: [Blue tie]
    """
    known = traversal.ensemble_by_id(handbook)
    for _, concert in traversal.concerts(handbook):
        playing = concert.item.players
        for address, name in _said_for(concert):
            if name in known and name not in playing:
                yield finding(
                    f"`{name}` does not play at this concert, so this is read by nobody",
                    address,
                    "take it out, or add its turn under program",
                    Severity.WARNING,
                    (Note("the program is here", (concert.file, "program")),),
                )


def _said_for(concert: Sourced[Concert]) -> Iterator[tuple[Address, str]]:
    item, file = concert.item, concert.file
    for field, names in (
        (("attire_for",), item.attire_for),
        (("bring_for",), item.bring_for),
        (("rain", "rooms"), item.rain.rooms if item.rain else {}),
    ):
        yield from (((file, *field, name), name) for name in names)


@check
def place_is_a_room(handbook: Handbook) -> Iterator[Problem]:
    """A place is told in the words that are the name of a room.

    `room:` with the room's id says it once, with its directions; what is needed twice at one
    time is found either way. `place:` is for what is in no room of the list.

    Bad:

        program:
          - {ensemble: harbor, pieces: [tweed-kites], place: Band room}

    Good:

        program:
          - {ensemble: harbor, pieces: [tweed-kites], room: band-room}
    """
    program = handbook.program.item
    everywhere = (*program.rooms, *(room for one in program.venues for room in one.rooms))
    for address, facts in traversal.event_facts(handbook):
        room = room_called(facts.place, everywhere)
        if room is not None and facts.room is None:
            yield _is_a_room(room, address)
    for _, concert in traversal.concerts(handbook):
        own = [room for one in program.venues if one.id == concert.item.venue for room in one.rooms]
        for address, entry in traversal.placed_entries(concert):
            room = room_called(entry.place, (*own, *program.rooms))
            if room is not None and entry.room is None:
                yield _is_a_room(room, address)


def _is_a_room(room: Room, address: Address) -> Problem:
    return finding(
        f"this place is the room `{room.id}` of your list",
        (*address, "place"),
        f"write `room: {room.id}` in place of it",
        Severity.WARNING,
    )


@check
def venue_hours_backward(handbook: Handbook) -> Iterator[Problem]:
    """The venue's hours are not in the order of the evening.

    It opens for the program, then doors open, then the music starts, and after it the
    venue closes. A closing before 4 am is taken for the night after the concert.

    Bad:

        doors: 7:30 pm
        downbeat: 7:00 pm

    Good:

        doors: 6:30 pm
        downbeat: 7:00 pm
    """
    for _, concert in traversal.concerts(handbook):
        item = concert.item
        for before in ("opens", "doors"):
            clock = getattr(item, before)
            if clock is not None and clock > item.downbeat:
                told = ("after", "check am and pm")
                yield _out_of_order(concert.file, before, clock, item.downbeat, told)
        if item.opens and item.doors and item.opens > item.doors:
            yield finding(
                f"the audience is let in at {format_clock(item.doors)}, before the venue opens at {format_clock(item.opens)}",
                (concert.file, "doors"),
                "check am and pm, and both times",
                notes=(Note("the opening is here", (concert.file, "opens")),),
            )
        for after in ("closes", "evening_ends"):
            clock = getattr(item, after)
            if clock is not None and _NIGHT_ENDS <= clock <= item.downbeat:
                hint = evening_meant(clock, item.downbeat.__lt__, "check am and pm")
                yield _out_of_order(concert.file, after, clock, item.downbeat, ("not after", hint))


def _out_of_order(
    file: str, field: str, clock: time, downbeat: time, told: tuple[str, str]
) -> Problem:
    order, hint = told
    return finding(
        f"{format_clock(clock)} is {order} the downbeat at {format_clock(downbeat)}",
        (file, field),
        hint,
        notes=(Note("the downbeat is here", (file, "downbeat")),),
    )
