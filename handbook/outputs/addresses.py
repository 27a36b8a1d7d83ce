"""Where each page stands. Addresses never change once published."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from urllib.parse import quote, unquote

from handbook.plan.players import players_in
from handbook.schema.handbook import MAIN_CONCERT, Handbook, concert_id
from handbook.source.links import Leads, Target

TODAY = ""
FUNDAMENTALS = "fundamentals/"
CALENDAR = "calendar/"
EVENTS = "events/"
CHANGES = "changes/"
CHANGES_FEED = "changes/feed.xml"
WORDS = "words/"
MEDIA = "media/"

_TO_MEDIA = re.compile(r"(?:\.\.?/)*media/([^?#]+)")
FAMILIES = "families/"
PAST = "past/"
LANGUAGES = "languages/"
SUBSCRIBE = f"{CALENDAR}subscribe/"
FEED_OF_ALL, FEED_OF_CONCERTS = f"{CALENDAR}all.ics", f"{CALENDAR}concerts.ics"
SEARCH_INDEX = "search/index.js"
ASSETS = "assets/"
_CALENDAR_FILE, _SHEET = ".ics", ".pdf"


def tree(language: str, languages: Sequence[str]) -> str:
    """Give the folder of all pages in a language; the site's first one has none."""
    return "" if language == languages[0] else f"{language.lower()}/"


def search_part(cycle_id: str) -> str:
    """Give the address of the script with what search may find in a cycle."""
    return f"search/cycles/{cycle_id}.js"


def today_script(cycle_id: str) -> str:
    """Give the address of the script with what the first page shows of a cycle."""
    return f"{cycle_id}/today.js"


def calendar_month(year: int, month: int) -> str:
    """Give the address of a month that no longer stands on the calendar's first page."""
    return f"{CALENDAR}{year}-{month:02}/"


def is_sheet(path: str) -> bool:
    """Whether a file of a site is a sheet of ours to print, and no document that a director put there."""
    return path.endswith(_SHEET) and not path.startswith(MEDIA)


def sheet(folder: str, language: str, *names: str) -> str:
    """Give the address of a sheet below the root of its language.

    Its file is known in a folder with those of other cycles and languages, where its names are
    what tells it from them: `winter-2026-family-beacon-es.pdf`.
    """
    return f"{folder}{'-'.join((*filter(None, names), language.lower()))}{_SHEET}"


def concert_sheet(cycle_id: str, concert_id: str, language: str, *names: str) -> str:
    """Give the address of a sheet of a concert."""
    own = "" if concert_id == MAIN_CONCERT else concert_id
    return sheet(concert(cycle_id, concert_id), language, cycle_id, own, *names)


def month_sheet(year: int, month: int, language: str) -> str:
    """Give the address of a month of the calendar on paper."""
    return sheet(CALENDAR, language, "calendar", f"{year}-{month:02}")


def feed(band: str) -> str:
    """Give the address of the calendar of a band, or of a group of one, to which one subscribes."""
    return f"{CALENDAR}band/{band}.ics"


def entry_file(page: str, band: str = "") -> str:
    """Give the address of a file with the entries that a page is about, for everyone or for a band."""
    return f"{CALENDAR}once/{page}{f'band-{band}' if band else 'all'}.ics"


def cycle(cycle_id: str) -> str:
    """Give the address of a cycle's page."""
    return f"{cycle_id}/"


def ensemble(cycle_id: str, ensemble_id: str) -> str:
    """Give the address of an ensemble's page in a cycle."""
    return f"{cycle_id}/{ensemble_id}/"


def evenings(cycle_id: str, ensemble_id: str) -> str:
    """Give the address of the script with what a band practices at home."""
    return f"{ensemble(cycle_id, ensemble_id)}evenings.js"


def piece(cycle_id: str, ensemble_id: str, piece_id: str) -> str:
    """Give the address of a piece's page."""
    return f"{cycle_id}/{ensemble_id}/{piece_id}/"


def part(cycle_id: str, ensemble_id: str, instrument: str) -> str:
    """Give the address of a part's page: one instrument of an ensemble in a cycle."""
    return f"{cycle_id}/{ensemble_id}/part/{instrument}/"


def part_sheet(cycle_id: str, ensemble_id: str, instrument: str, language: str) -> str:
    """Give the address of a sheet of parts, the first of which is that of an instrument."""
    folder = ensemble(cycle_id, ensemble_id)
    return sheet(folder, language, cycle_id, ensemble_id, "weeks", instrument)


def concert(cycle_id: str, concert_id: str = MAIN_CONCERT) -> str:
    """Give the address of a concert's page."""
    return f"{cycle_id}/concert/{'' if concert_id == MAIN_CONCERT else f'{concert_id}/'}"


def crew(cycle_id: str, concert_id: str = MAIN_CONCERT) -> str:
    """Give the address of a concert's page for its crew."""
    return f"{concert(cycle_id, concert_id)}crew/"


def strand(strand_id: str) -> str:
    """Give the address of a strand of fundamentals."""
    return f"{FUNDAMENTALS}{strand_id}/"


def habit(habit_id: str) -> str:
    """Give the place of a habit on the page of fundamentals."""
    return f"{FUNDAMENTALS}#habit-{habit_id}"


def event(event_id: str) -> str:
    """Give the address of an event's page."""
    return f"{EVENTS}{event_id}/"


def free_page(slug: str) -> str:
    """Give the address of a free page."""
    return f"{FAMILIES}{slug}/"


def media(name: str | None) -> str:
    """Give the address of a media file named in the content, or nothing for none."""
    return f"{MEDIA}{name.removeprefix(MEDIA)}" if name else ""


def is_for_all(address: str) -> bool:
    """Whether what stands at an address is there once, for readers of all languages."""
    return address.startswith((MEDIA, ASSETS)) or address.partition("#")[0].endswith(_CALENDAR_FILE)


def of_target(target: Target) -> str | None:
    """Give the address of what a link leads to, None for what has none on the site."""
    place = f"#{target.place}" if target.place else ""
    match target.leads:
        case Leads.PAGE:
            return f"{quote(free_page(target.path))}{place}"
        case Leads.MEDIA:
            return f"{MEDIA}{quote(target.path)}"
        case Leads.HANDBOOK:
            return quote(target.path)
    return None


def media_in(links: Iterable[str]) -> frozenset[str]:
    """Name the files under media/ that links of any page lead to."""
    found = map(_TO_MEDIA.match, links)
    return frozenset(unquote(link[1]) for link in found if link)


def made_for(handbook: Handbook) -> Iterator[str]:
    """Give the addresses of the pages that are made of a handbook, without its free pages.

    Parts of the calendar are left out: which there are changes with the dates.
    """
    yield from (TODAY, CALENDAR, SUBSCRIBE, CHANGES, WORDS, FAMILIES, PAST)
    if len(set(handbook.program.item.languages)) > 1:
        yield LANGUAGES
    topics = [sourced.item for sourced in handbook.fundamentals]
    if any(topic.strands or topic.habits or topic.warm_ups for topic in topics):
        yield FUNDAMENTALS
    yield from (strand(one.id) for topic in topics for one in topic.strands)
    events = [one for sourced in handbook.events for one in sourced.item.events]
    if events:
        yield EVENTS
    yield from (event(one.id) for one in events)
    bands = {one.id: one for one in handbook.program.item.ensembles}
    for content in handbook.cycles:
        yield cycle(content.id)
        for one in content.concerts:
            own = concert_id(one.file)
            yield from (concert(content.id, own), crew(content.id, own))
        pieces = [one for music in content.music for one in music.item.pieces]
        for players in players_in(content.cycle.item.ensembles, bands):
            yield ensemble(content.id, players.id)
            yield from (part(content.id, players.id, name) for name in players.item.instruments)
            yield from (
                piece(content.id, players.id, music.id)
                for music in pieces
                if players.band.id in music.played_by
            )


def root_of(path: str) -> str:
    """Give the relative way from a page back to the root: `./`, `../`, `../../`."""
    return "../" * path.count("/") or "./"
