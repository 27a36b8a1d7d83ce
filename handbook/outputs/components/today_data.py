"""What the first page needs of a cycle on any of its days, as a script that the browser loads.

A script, since a page opened from a folder may load nothing else; one a cycle, since the page
itself stays light however many cycles there are.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, timedelta
from itertools import chain

from handbook.outputs import addresses
from handbook.outputs.components.concert_line import concert_hours
from handbook.outputs.components.concert_steps import day_card
from handbook.outputs.components.concert_words import (
    clock,
    group_name,
    meeting_place,
    pick_up_place,
)
from handbook.outputs.components.crew_bands import crew_bands, crew_days, ready_words
from handbook.outputs.components.crew_steps import crew_steps, meets_at
from handbook.outputs.components.rehearsal_names import anchors, missed_words, what_it_is
from handbook.outputs.components.rehearsal_rides import address_of, ride_words
from handbook.outputs.components.section_rooms import SectionRoom, section_rooms
from handbook.outputs.components.stages import stage_mark
from handbook.outputs.components.texts_for import players_for, said_for
from handbook.outputs.components.to_print import family_sheet
from handbook.outputs.html import formatting
from handbook.outputs.html.formatting import listed
from handbook.outputs.html.ways_out import on_map
from handbook.outputs.i18n import gettext
from handbook.outputs.page import Context
from handbook.plan.concert_model import GroupDay
from handbook.plan.evenings import has_evenings
from handbook.plan.model import ConcertPlan, CyclePlan, EnsemblePlan, RehearsalRow
from handbook.schema.loads import CrewRole

_MINUTE = timedelta(minutes=1)
_Json = Mapping[str, object]


def today_script(context: Context, cycle: CyclePlan) -> str:
    """Write what `handbookToday` is told of a cycle.

    `bands` has, by id, whose concert it plays (`band`), whether it has evenings (`home`), how many rehearsals there are (`of`), the
    `stages` (name, and width and paths of the mark), the rehearsals that are `missed` (day, title,
    why), and the `days`, each a list: day, minutes
    since midnight at which it ends, its hours, its number, the places of its stage, its purpose
    and its room, what it is beside a rehearsal, and its anchor; where sections are in rooms of
    their own also a list of them: the room in words, what the section works on, and its parts;
    away from school also the address, the way to a map, and sentences on ride and pick-up.
    Purposes and rooms are places in `texts`. `concerts` has, by the address of the page and the id of the
    band, its `hours`, what to `wear` and to `bring` (words, and whom it is for if not all), all who `meet` (name, at the `bus`, in the
    `room` or as `crew`, time, place, time and place of the pick-up, minutes since midnight at the
    first time, first note) and the `steps` of its day (moment, time, words, and `pick-up`, or
    `families` for what else concerns them), and the way to the `sheet` that its families print. A band that does not play and is the crew has the
    way to its page (`crew`) and when it must be there, in words (`ready`).
    """
    texts: dict[str, int] = {}
    data = {
        "concerts": {
            addresses.concert(cycle.id, concert.id): {
                band: {**told, "sheet": family_sheet(context, cycle.id, concert, band)}
                for band, told in _concert(context, concert, addresses.crew(cycle.id, concert.id))
            }
            for concert in cycle.held_concerts
        },
        "bands": {
            ensemble.item.id: _band(context, ensemble, texts) for ensemble in cycle.ensembles
        },
        "texts": list(texts),
    }
    told = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return f"handbookToday({json.dumps(cycle.id)},{told});\n"


def minutes_of(day: date, moment: datetime) -> int:
    """Count the minutes on the clock from the midnight that begins a day; the next day's go on."""
    return (moment.replace(tzinfo=None) - datetime(day.year, day.month, day.day)) // _MINUTE  # noqa: DTZ001 - clock readings


def _band(context: Context, ensemble: EnsemblePlan, texts: dict[str, int]) -> _Json:
    rows = ensemble.rehearsals
    return {
        "band": ensemble.band,
        "home": has_evenings(ensemble),
        "of": rows[0].rehearsal.of if rows else 0,
        "stages": [list(stage) for stage in _stages(context, ensemble)],
        "missed": [
            (missed.day.isoformat(), *told)
            for missed in ensemble.missed
            if (told := missed_words(context, context.say(ensemble.item.name), missed))
        ],
        "days": [
            _day(context, ensemble, row, anchor, texts)
            for row, anchor in zip(rows, anchors(ensemble), strict=True)
        ],
    }


def _stages(context: Context, ensemble: EnsemblePlan) -> Iterator[tuple[object, ...]]:
    for span in ensemble.stages:
        mark = stage_mark(span.index + 1, len(ensemble.stages))
        yield context.say(span.item.name), mark.width, mark.filled, mark.open


def _day(
    context: Context,
    ensemble: EnsemblePlan,
    row: RehearsalRow,
    anchor: str,
    texts: dict[str, int],
) -> Sequence[object]:
    rehearsal, apart = row.rehearsal, section_rooms(context, ensemble, row)

    def place(words: str) -> int:
        return texts.setdefault(words, len(texts))

    return (
        rehearsal.day.isoformat(),
        minutes_of(rehearsal.day, rehearsal.end),
        formatting.span(rehearsal.start, rehearsal.end),
        rehearsal.n,
        row.stage.index,
        place(context.say(row.purpose)),
        place(context.say(row.room.name) if row.room and not apart else ""),
        what_it_is(context, row),
        anchor,
        *_unlike_others(context, ensemble, row, apart),
    )


def _unlike_others(
    context: Context, ensemble: EnsemblePlan, row: RehearsalRow, apart: Sequence[SectionRoom]
) -> Sequence[object]:
    """Give what few rehearsals have; nothing for all others, since there are hundreds."""
    away = _away(context, ensemble, row)
    rooms = [_apart(context, ensemble, one) for one in apart]
    return (rooms, away) if away else (rooms,) if rooms else ()


def _away(context: Context, ensemble: EnsemblePlan, row: RehearsalRow) -> Sequence[object]:
    """Give the address of a rehearsal away from school, the way to a map, and all on the ride."""
    address, words = address_of(context, ensemble, row), ride_words(context, row)
    if address is None and not words:
        return ()
    found = address.read(context.language) if address else ""
    return (context.say(address), on_map(found) if found else "", *words)


def _apart(context: Context, ensemble: EnsemblePlan, one: SectionRoom) -> Sequence[object]:
    known = {
        (piece.item.id, passage.id): passage.name
        for piece in ensemble.pieces
        for passage in piece.item.passages
    }
    names = [context.say(known[wish.key]) for wish in (one.section.passages if one.section else ())]
    works_on = gettext("Your section works on %(passages)s.", passages=listed(names))
    return one.words, works_on if names else "", one.parts


def _concert(context: Context, concert: ConcertPlan, crew: str) -> Iterator[tuple[str, _Json]]:
    item = concert.item
    for n, group in enumerate(concert.day.groups, start=1):
        if group.ensemble is None or group.section:
            continue
        card = day_card(context, concert, group, n)
        sections = concert.day.sections_of(group.id)
        apart = (
            one for one in sections if (one.report, one.collect) != (group.report, group.collect)
        )
        yield (
            group.id,
            {
                "hours": concert_hours(concert, group.id),
                "wear": [
                    context.say(one)
                    for one in chain(item.attire, item.attire_for.get(group.id, ()))
                ],
                "bring": [
                    (said_for(context, one), *players_for(context, concert, one.who))
                    for one in chain(item.bring, item.bring_for.get(group.id, ()))
                ],
                "meet": [_meet(context, concert, one) for one in (group, *apart)],
                "steps": [(one.moment, one.time, one.what, one.kind) for one in card.steps]
                if card
                else [],
            },
        )
    for band in crew_bands(concert):
        yield band, _crew(context, concert, band, crew)


def _crew(context: Context, concert: ConcertPlan, band: str, page: str) -> _Json:
    """Tell a band that does not play of its roles in the crew."""
    days = list(crew_days(concert, band))
    steps = sorted(
        {
            (step.moment, step.time, step.what)
            for role, _ in days
            for step in crew_steps(context, concert, role)
        }
    )
    return {
        "hours": "",
        "wear": [],
        "bring": [],
        "meet": [_meet_crew(context, concert, role, group) for role, group in days],
        "steps": [(*step, "") for step in steps],
        "crew": f"{page}#role-{days[0][0].id}",
        "ready": [ready_words(context, concert, role, group) for role, group in days],
    }


def _meet_crew(
    context: Context, concert: ConcertPlan, role: CrewRole, group: GroupDay | None
) -> Sequence[object]:
    if group is None:
        return (context.say(role.name), "crew", "", "", "", "", 0, "")
    name, kind, at, place, *others = _meet(context, concert, group)
    if kind == "bus":
        return (name, kind, at, place, *others)
    return (name, "crew", at, meets_at(context, concert, role) if at else "", *others)


def _meet(context: Context, concert: ConcertPlan, group: GroupDay) -> Sequence[object]:
    """Say when and where a group meets and is collected; nothing for what is not said."""
    return (
        group_name(context, group),
        "bus" if group.ride is not None else "room",
        formatting.clock(group.report) if group.report else "",
        meeting_place(context, concert, group) if group.report else "",
        formatting.clock(group.collect) if group.collect and not group.to_class else "",
        pick_up_place(context, concert, group) if group.collect else "",
        minutes_of(concert.item.date, group.report) if group.report else 0,
        clock(group.stints[0].start) if group.reckoned and group.stints else "",
    )
