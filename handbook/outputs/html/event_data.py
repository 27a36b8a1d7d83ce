"""A concert as event data for search engines and calendars: schema.org's MusicEvent as JSON-LD."""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup

from handbook.domain.run_of_show import shown
from handbook.outputs.page import Context
from handbook.plan.model import ConcertPlan

# What could end the script element or begin a comment in it, and what JavaScript (not
# JSON) takes for a line's end (HTML Standard 4.12.1.3; ECMA-262 12.3).
_ESCAPES = {ord(sign): f"\\u{ord(sign):04x}" for sign in "<>&\u2028\u2029"}

Json = dict[str, Any]


def event_data(context: Context, concert: ConcertPlan, page: str) -> Markup:
    """Write the event as text that is safe inside a script element; times with their offset."""
    text = json.dumps(_event(context, concert, page), ensure_ascii=False, indent=1)
    return Markup(text.translate(_ESCAPES))  # noqa: S704 - nothing is left that HTML reads


def _event(context: Context, concert: ConcertPlan, page: str) -> Json:
    program, day, item = context.plan.program, concert.day, concert.item
    school = context.say(program.school)
    event: Json = {
        "@context": "https://schema.org",
        "@type": "MusicEvent",
        "name": f"{context.say(item.name)}, {context.say(program.name)}",
        "startDate": concert.downbeat.isoformat(),
        "endDate": shown(day.ends).isoformat(),
        "eventStatus": "https://schema.org/EventScheduled",
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
    if item.about:
        event["description"] = context.say(item.about)
    if program.address:
        event["url"] = f"{program.address.rstrip('/')}/{page}"
    return event


def _performers(context: Context, concert: ConcertPlan) -> list[str]:
    found = [ensemble for row in concert.day.rows for ensemble in row.ensembles]
    return list(dict.fromkeys(context.say(ensemble.name) for ensemble in found))


def _works(context: Context, concert: ConcertPlan) -> list[tuple[str, str]]:
    return [
        (context.say(piece.item.title), context.say(piece.item.by))
        for turn in concert.appearances
        for piece in turn.pieces
    ]


def _work(work: tuple[str, str]) -> Json:
    title, by = work
    composition = {"@type": "MusicComposition", "name": title}
    return {**composition, "creditText": by} if by else composition
