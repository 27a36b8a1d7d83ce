"""One name for two things, and one thing named twice."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from typing import TypeVar

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.plan.players import players_of
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema import site_names
from handbook.schema.concert import Concert
from handbook.schema.handbook import Handbook, Sourced

NameT = TypeVar("NameT", bound=Hashable)


@check
def name_of_the_site(handbook: Handbook) -> Iterator[Problem]:
    """A cycle, an ensemble, a piece, a passage or an exercise is called as a page or a place of the site itself.

    Ids become addresses, and two pages cannot stand at one: `calendar` is the calendar's
    and `concert` the concert's, and `es` is where all pages stand in a language of the program. On a page an address may go on with a place, such as
    `#form` for the form of a piece, which no passage can have too.

    Bad:

        ensembles:
          - {id: concert, name: Concert Band}

    Good:

        ensembles:
          - {id: concert-band, name: Concert Band}
    """
    languages = {language.lower() for language in handbook.program.item.languages}
    for content in handbook.cycles:
        if content.id in site_names.CYCLES | languages:
            yield _name_of_the_site(
                content.id,
                (content.cycle.file, "name"),
                f"rename the folder cycles/{content.id}, to cycles/{content.id}-cycle or the like",
            )
    items = [
        *(
            (address, ensemble.id, site_names.ENSEMBLES | site_names.PLACES_OF_TODAY)
            for address, ensemble in traversal.ensembles(handbook)
        ),
        *(
            (address, piece.id, site_names.PIECES | site_names.PLACES_OF_PARTS)
            for address, piece in traversal.all_pieces(handbook)
        ),
        *(
            (address, passage.id, site_names.PLACES_OF_PIECES)
            for address, passage, _ in traversal.passages(handbook)
        ),
        *(
            (address, exercise.id, site_names.PLACES_OF_PARTS)
            for address, exercise in traversal.exercises(handbook)
        ),
    ]
    for address, name, taken in items:
        if name in taken:
            yield _name_of_the_site(
                name,
                (*address, "id"),
                f"write another id, such as `{name}-1`, and change the places that mean it",
            )


def _name_of_the_site(name: str, address: Address, hint: str) -> Problem:
    return finding(f"`{name}` is the name of a page or a place of the site itself", address, hint)


@check
def duplicate_id(handbook: Handbook) -> Iterator[Problem]:
    """Two things of one kind have the same id.

    Other files refer to a thing by its id, so it must lead to one thing only. Ids need to
    be unlike within a kind: two rooms, two pieces of one cycle, two exercises of any strand.

    Bad:

        rooms:
          - {id: band-room, name: Band room}
          - {id: band-room, name: Small band room}

    Good:

        rooms:
          - {id: band-room, name: Band room}
          - {id: small-band-room, name: Small band room}
    """
    for what, named in _kinds(handbook):
        for name, address, first in _repeated(named):
            yield finding(
                f"two {what} are called `{name}`",
                address,
                "give one of them another id, and change the places that mean it",
                notes=(Note("the other one is here", first),),
            )


def _kinds(handbook: Handbook) -> Iterator[tuple[str, list[tuple[Address, str]]]]:
    yield from _in_program(handbook)
    yield from _in_years(handbook)
    yield from _in_fundamentals(handbook)
    for address, stages in traversal.stage_lists(handbook):
        yield "stages", _ids(address, stages)
    yield (
        "events",
        [((*address, "id"), event.id) for address, event in traversal.events(handbook)],
    )
    for content in handbook.cycles:
        yield (
            "pieces of this cycle",
            [((*address, "id"), piece.id) for address, piece in traversal.pieces(content)],
        )
        for concert in content.concerts:
            yield from _on_concert_day(concert)
            if concert.item.guests:
                bands = _ids((handbook.program.file, "ensembles"), handbook.program.item.ensembles)
                once = {name: at for at, name in reversed(bands)}
                guests = _ids((concert.file, "guests"), concert.item.guests)
                yield "ensembles or guests", [*((at, name) for name, at in once.items()), *guests]
        for address, piece in traversal.pieces(content):
            yield "passages of this piece", _ids((*address, "passages"), piece.passages)
            parts = [
                ((*address, "form", n, "id"), one.id) for n, one in enumerate(piece.form) if one.id
            ]
            yield "parts of this piece", parts


def _in_program(handbook: Handbook) -> Iterator[tuple[str, list[tuple[Address, str]]]]:
    program, file = handbook.program.item, handbook.program.file
    yield (
        "ensembles",
        [
            *_ids((file, "ensembles"), program.ensembles),
            *(
                ((file, "ensembles", place, "groups", number, "id"), players.id)
                for place, band in enumerate(program.ensembles)
                for number, players in enumerate(players_of(band))
                if players.group
            ),
        ],
    )
    venues = [
        room
        for place, venue in enumerate(program.venues)
        for room in _ids((file, "venues", place, "rooms"), venue.rooms)
    ]
    yield "rooms", [*_ids((file, "rooms"), program.rooms), *venues]
    yield "venues", _ids((file, "venues"), program.venues)
    yield "roles of the staff", _ids((file, "staff"), program.staff)
    yield "roles to be thanked", _ids((file, "thank"), program.thank)


def _on_concert_day(concert: Sourced[Concert]) -> Iterator[tuple[str, list[tuple[Address, str]]]]:
    item, file = concert.item, concert.file
    yield "roles of the crew", _ids((file, "crew"), item.crew)
    yield "carts or trucks", _ids((file, "carriers"), item.carriers)
    yield "items of equipment", _ids((file, "equipment"), item.equipment)
    yield (
        "buses",
        [
            bus
            for place, ride in enumerate(item.travel.rides if item.travel else ())
            for bus in _ids((file, "travel", "rides", place, "buses"), ride.buses)
        ],
    )


def _in_years(handbook: Handbook) -> Iterator[tuple[str, list[tuple[Address, str]]]]:
    for file, year in traversal.years(handbook):
        yield "bell schedules", _ids((file, "bells"), year.bells)
        for place, bells in enumerate(year.bells):
            yield "periods of this schedule", _ids((file, "bells", place, "periods"), bells.periods)


def _in_fundamentals(handbook: Handbook) -> Iterator[tuple[str, list[tuple[Address, str]]]]:
    yield (
        "strands",
        [((*address, "id"), strand.id) for address, strand in traversal.strands(handbook)],
    )
    yield (
        "exercises",
        [((*address, "id"), one.id) for address, one in traversal.exercises(handbook)],
    )
    yield (
        "habits",
        [
            named
            for sourced in handbook.fundamentals
            for named in _ids((sourced.file, "habits"), sourced.item.habits)
        ],
    )


def _ids(address: Address, items: Iterable[object]) -> list[tuple[Address, str]]:
    return [
        ((*address, place, "id"), str(getattr(item, "id", ""))) for place, item in enumerate(items)
    ]


def _repeated(named: Iterable[tuple[Address, NameT]]) -> Iterator[tuple[NameT, Address, Address]]:
    """Give each name that came before, with its place and that of the first one."""
    seen: dict[NameT, Address] = {}
    for address, name in named:
        if name in seen:
            yield name, address, seen[name]
        seen.setdefault(name, address)


@check
def repeated_item(handbook: Handbook) -> Iterator[Problem]:
    """A list names the same thing twice.

    Bad:

        ensembles: [lantern, harbor, lantern]

    Good:

        ensembles: [lantern, harbor]
    """
    for address, names in _lists(handbook):
        placed = (((*address, place), name) for place, name in enumerate(names))
        for name, at, first in _repeated(placed):
            yield finding(
                f"`{name}` stands in this list already",
                at,
                "remove one of the two",
                notes=(Note("it was named here first", first),),
            )


def _lists(handbook: Handbook) -> Iterator[tuple[Address, tuple[str, ...]]]:
    yield (handbook.program.file, "languages"), handbook.program.item.languages
    for sourced in handbook.fundamentals:
        yield (sourced.file, "order"), sourced.item.order
    for content in handbook.cycles:
        yield (content.cycle.file, "ensembles"), content.cycle.item.ensembles
        for address, piece in traversal.pieces(content):
            yield (*address, "ensembles"), piece.ensembles
    for address, names, _ in traversal.who_lists(handbook):
        yield address, names
    for address, roles in traversal.leaders(handbook):
        yield (*address, "led_by"), roles
    yield from traversal.thanked(handbook)
    for address, event in traversal.events(handbook):
        yield (*address, "who"), event.who
        yield (*address, "on"), tuple(f"{entry.date:%a %Y-%m-%d}" for entry in event.on)


@check
def duplicate_warm_up(handbook: Handbook) -> Iterator[Problem]:
    """Two warm-ups have the same level.

    An ensemble rises one level of the warm-up a cycle, so each level has one warm-up.

    Bad:

        warm_ups:
          - {level: 1, name: First sounds, steps: [Breathe]}
          - {level: 1, name: Slow scale, steps: [Play it]}

    Good:

        warm_ups:
          - {level: 1, name: First sounds, steps: [Breathe]}
          - {level: 2, name: Slow scale, steps: [Play it]}
    """
    levels = [
        ((sourced.file, "warm_ups", place, "level"), warm_up.level)
        for sourced in handbook.fundamentals
        for place, warm_up in enumerate(sourced.item.warm_ups)
    ]
    for level, address, first in _repeated(levels):
        yield finding(
            f"two warm-ups have level {level}",
            address,
            "number the warm-ups 1, 2, 3 in the order they are learned",
            Severity.WARNING,
            notes=(Note("the other one is here", first),),
        )
