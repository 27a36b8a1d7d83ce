"""Concerts and other events as data for search engines and calendars: schema.org's as JSON-LD."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from typing import Any

from markupsafe import Markup

from handbook.domain.run_of_show import shown
from handbook.outputs.i18n.formats import with_clauses
from handbook.outputs.page import Context
from handbook.plan.events_model import EventDay, EventRow, PlaceRow
from handbook.plan.model import ConcertPlan
from handbook.schema.concert import GuestPiece
from handbook.schema.music import Piece

# What could end the script element or begin a comment in it, and what JavaScript (not
# JSON) takes for a line's end (HTML Standard 4.12.1.3; ECMA-262 12.3).
_ESCAPES = {ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"}

Json = dict[str, Any]


def event_data(context: Context, concert: ConcertPlan, page: str) -> Markup:
    """Write the event as text that is safe inside a script element; times with their offset."""
    return _written(_event(context, concert, page))


def happening_data(context: Context, event: EventRow, page: str) -> Markup:
    """Write an event that is no concert, once for each of its days; see `event_data`."""
    found = [_happening(context, event, day, page) for day in event.days]
    return _written(found if len(found) > 1 else found[0])


def _written(data: Json | list[Json]) -> Markup:
    text = json.dumps(data, ensure_ascii=False, indent=1)
    return Markup(text.translate(_ESCAPES))  # noqa: S704 - nothing is left that HTML reads


def _happening(context: Context, event: EventRow, day: EventDay, page: str) -> Json:
    program, moments = context.plan.program, day.moments
    name = ": ".join(filter(None, (context.say(event.item.name), context.say(day.name))))
    found: Json = {
        "@context": "https://schema.org",
        "@type": "Event",
        "name": with_clauses((name, context.say(program.name))),
        "startDate": (moments.starts or moments.call or day.first).isoformat(),
        **_status(day.moved_from, cancelled=day.cancelled),
        "eventAttendanceMode": "https://schema.org/OfflineEventAttendanceMode",
        "location": _place(context, day.place),
        "organizer": {"@type": "Organization", "name": context.say(program.school)},
    }
    if moments.ends or day.first < day.last:
        found["endDate"] = (moments.ends or day.last).isoformat()
    if day.facts.about and not day.cancelled:
        found["description"] = context.say(day.facts.about)
    if program.address:
        anchor = f"#{day.first.isoformat()}" if len(event.days) > 1 else ""
        found["url"] = f"{_address(context, program.address, page)}{anchor}"
    return found | _language(context)


def _address(context: Context, site: str, page: str) -> str:
    return f"{site.rstrip('/')}/{context.tree}{page}"


def _language(context: Context) -> Json:
    """Say which language the page is in, where the site is in several; schema.org/inLanguage."""
    return {"inLanguage": context.language} if len(context.plan.languages) > 1 else {}


def _status(moved_from: Sequence[date], *, cancelled: bool) -> Json:
    """Say whether it is held as it was announced; schema.org/eventStatus, schema.org/previousStartDate.

    A cancelled event keeps its start, a moved one has the new one; former ones stand beside it,
    the field repeated for several.
    """
    state = "Cancelled" if cancelled else "Rescheduled" if moved_from else "Scheduled"
    found: Json = {"eventStatus": f"https://schema.org/Event{state}"}
    if moved_from:
        days = [day.isoformat() for day in moved_from]
        found["previousStartDate"] = days if len(days) > 1 else days[0]
    return found


def _place(context: Context, place: PlaceRow | None) -> Json:
    """Name a place; the school where none is said."""
    program = context.plan.program
    if place is None:
        return {"@type": "Place", "name": context.say(program.school)}
    if place.venue:
        name, address = context.say(place.venue.name), context.say(place.venue.address)
        return {"@type": "Place", "name": name, "address": address}
    if place.room:
        name = with_clauses((context.say(program.school), context.say(place.room.name)))
        return {"@type": "Place", "name": name}
    return {"@type": "Place", "name": context.say(place.words)}


def _event(context: Context, concert: ConcertPlan, page: str) -> Json:
    program, day, item = context.plan.program, concert.day, concert.item
    school = context.say(program.school)
    event: Json = {
        "@context": "https://schema.org",
        "@type": "MusicEvent",
        "name": with_clauses((context.say(item.name), context.say(program.name))),
        "startDate": concert.downbeat.isoformat(),
        "endDate": shown(day.ends).isoformat(),
        **_status(item.moved_from, cancelled=concert.cancelled),
        "eventAttendanceMode": "https://schema.org/OfflineEventAttendanceMode",
        "location": {
            "@type": "Place",
            "name": context.say(concert.venue.name),
            "address": context.say(concert.venue.address),
        },
        "organizer": {"@type": "Organization", "name": school},
        "performer": [
            {"@type": "MusicGroup", "name": name} for name in _performers(context, concert)
        ],
        "workPerformed": [_work(work) for work in _works(context, concert)],
    }
    if day.doors:
        event["doorTime"] = day.doors.isoformat()
    if item.about and not concert.cancelled:
        event["description"] = context.say(item.about)
    if program.address:
        event["url"] = _address(context, program.address, page)
    return event | _language(context)


def _performers(context: Context, concert: ConcertPlan) -> list[str]:
    found = [ensemble for row in concert.day.rows for ensemble in row.ensembles]
    return list(dict.fromkeys(context.say(ensemble.name) for ensemble in found))


def _works(context: Context, concert: ConcertPlan) -> list[tuple[str, str]]:
    found: list[Piece | GuestPiece] = []
    for turn in concert.appearances:
        found += [row.item for row in turn.pieces]
        found += turn.guest.pieces if turn.guest else ()
    return [(context.say(piece.title), context.say(piece.by)) for piece in found]


def _work(work: tuple[str, str]) -> Json:
    title, by = work
    composition = {"@type": "MusicComposition", "name": title}
    return {**composition, "creditText": by} if by else composition
