"""What is asked of single days against the rehearsals that are held; all of it from the plan."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from itertools import combinations

from handbook.checks.check import check, finding, once_a_name
from handbook.checks.wording import day
from handbook.domain.values.clock import format_clock
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan, RehearsalRow
from handbook.plan.steering import DayEntry, DayPlan, WishedPassage
from handbook.problems import Address, Note, Problem, Severity
from handbook.records import dataclass
from handbook.schema.cycle import DayNote
from handbook.source.names import listed


@check
def day_without_rehearsal(plan: Plan) -> Iterator[Problem]:
    """An entry under `days` is for a day, or a start, without a rehearsal.

    What it says would stand on no page. An entry with `start` is about the rehearsal that
    begins then; one without it is about all of that day but those under `extra`, and on a
    day with none but these, about these.

    Bad:

        - {date: Sun 2026-11-08, notices: [Bring your folder]}

    Good:

        - {date: Mon 2026-11-09, notices: [Bring your folder]}
    """
    for cycle in plan.cycles:
        held = {
            entry.place
            for ensemble in cycle.ensembles
            for row in ensemble.rehearsals
            for entry in row.entries
            if entry.field == "days"
        }
        for place, note in enumerate(cycle.item.days):
            if place not in held:
                yield _nothing_held(cycle, place, note)


def _nothing_held(cycle: CyclePlan, place: int, note: DayNote) -> Problem:
    starts = sorted(
        {
            row.rehearsal.start.time()
            for ensemble in cycle.ensembles
            for row in ensemble.rehearsals
            if row.rehearsal.day == note.date and note.ensemble in {None, ensemble.band}
        }
    )
    whose = f"`{note.ensemble}`" if note.ensemble else "any ensemble"
    at: Address = (*cycle.address, "days", place)
    if note.start and starts:
        return finding(
            f"no rehearsal of {whose} begins at {format_clock(note.start)} on {day(note.date)}",
            (*at, "start"),
            f"write {listed((format_clock(one) for one in starts), 'or')}, or leave the start out",
            Severity.WARNING,
        )
    return finding(
        f"there is no rehearsal of {whose} on {day(note.date)}, so this stands on no page",
        (*at, "date"),
        "check the date; the dates that are held are listed by handbook plan",
        Severity.WARNING,
    )


@check
@once_a_name
def minutes_over_rehearsal(plan: Plan) -> Iterator[Problem]:
    """More minutes are asked of a day than its rehearsal has.

    Counted are the fixed slots, the minutes of fundamentals and those of passages, as far
    as they are stated; in a sectional those of the section that has most.

    Bad:

        - date: 2026-11-09   # a rehearsal of 45 minutes, 16 of them in slots
          passages: [{passage: chase, minutes: 40}]

    Good:

        - date: 2026-11-09
          passages: [{passage: chase, minutes: 20}]
    """
    for cycle, _, row in _rehearsals(plan):
        asked = asked_minutes(row.day_plan)
        entry, field = _asking(row)
        if entry and sum(asked.values()) > row.rehearsal.minutes:
            parts = ", ".join(f"{name} {minutes}" for name, minutes in asked.items() if minutes)
            yield finding(
                f"{sum(asked.values())} minutes are asked of the rehearsal on {day(row.rehearsal.day)}, "
                f"which has {row.rehearsal.minutes} ({parts})",
                (*cycle.address, entry.field, entry.place, field),
                "ask for fewer minutes, or leave some of them to the plan",
                on_key=True,
            )


def asked_minutes(asked: DayPlan) -> Mapping[str, int]:
    """Give the whole minutes that a day states: of slots, fundamentals and passages."""
    slots = asked.slots
    return {
        "slots": slots.set_up + slots.warm_up + slots.notices + slots.close,
        "fundamentals": asked.fundamentals or 0,
        "passages": max(_stated(wishes) for wishes in _wishes(asked)),
    }


def _wishes(asked: DayPlan) -> list[tuple[WishedPassage, ...]]:
    """Give the passages of all, then those of each section: only one of them counts for a player."""
    return [asked.passages, *(section.passages for section in asked.sections)]


def _stated(wishes: Iterable[WishedPassage]) -> int:
    return sum(wish.minutes or 0 for wish in wishes)


def _asking(row: RehearsalRow) -> tuple[DayEntry | None, str]:
    """Give the entry that states minutes, and the field; the usual slots ask for none."""
    plan = row.day_plan
    stated = {
        "passages": bool(_stated(plan.passages)),
        "sections": any(_stated(wishes) for wishes in _wishes(plan)),
        "slots": True,
        "fundamentals": bool(plan.fundamentals),
    }
    for field, states in stated.items():
        for entry in row.entries:
            if states and getattr(entry.item, field):
                return entry, field
    return None, ""


@check
@once_a_name
def ride_misses_rehearsal(plan: Plan) -> Iterator[Problem]:
    """The ride to a rehearsal leaves after it begins, or players are fetched before it ends.

    Bad:

        - {date: 2026-11-09, ensemble: lantern, ride: {leaves: 10:15 am, back: 11:30 am}}   # it begins at 10:05 am

    Good:

        - {date: 2026-11-09, ensemble: lantern, ride: {leaves: 9:45 am, back: 11:30 am}}
    """
    for cycle, _, row in _rehearsals(plan):
        begins, ends = row.rehearsal.start.time(), row.rehearsal.end.time()
        for entry in row.entries:
            at: Address = (*cycle.address, entry.field, entry.place)
            ride, told = entry.item.ride, f"the rehearsal on {day(row.rehearsal.day)}"
            if ride and ride.leaves and ride.leaves > begins:
                yield finding(
                    f"the ride leaves at {format_clock(ride.leaves)}, after {told} begins ({format_clock(begins)})",
                    (*at, "ride", "leaves"),
                    "correct one of the times",
                )
            back = ride.back if ride else None
            for name, time, field in (
                ("the ride is back", back, ("ride", "back")),
                ("the pick-up is", entry.item.pick_up, ("pick_up",)),
            ):
                if time and time < ends:
                    yield finding(
                        f"{name} at {format_clock(time)}, before {told} ends ({format_clock(ends)})",
                        (*at, *field),
                        "correct one of the times",
                    )


@check
def section_room_taken(plan: Plan) -> Iterator[Problem]:
    """A section's room is taken: by another section, or by another ensemble at that time.

    A section without a room of its own is where the rehearsal is.

    Bad:

        sections:
          woodwinds: {who: [flute, clarinet], room: band-room}
          brass: {who: [trumpet], room: band-room}

    Good:

        sections:
          woodwinds: {who: [flute, clarinet], room: band-room}
          brass: {who: [trumpet], room: choir-room}
    """
    by_day: dict[date, dict[object, _Use]] = {}
    for cycle, ensemble, row in _rehearsals(plan):
        that_day = by_day.setdefault(row.rehearsal.day, {})
        for use in _uses(cycle, ensemble, row):  # groups of one band are together in one use
            that_day.setdefault((use.room, use.ensemble, use.section, row.rehearsal.start), use)
    for uses in by_day.values():
        for first, second in combinations(
            sorted(uses.values(), key=lambda use: bool(use.section)), 2
        ):
            if second.section and first.room == second.room and _at_once(first.row, second.row):
                yield finding(
                    f"{second.who} and {first.who} are both in `{second.room}` "
                    f"on {day(second.row.rehearsal.day)}",
                    second.address,
                    "give one of them another room",
                    notes=(Note(f"{first.who} is here", first.address),),
                )


@dataclass(frozen=True, slots=True)
class _Use:
    """A room that a section, or a whole ensemble (with no `section`), rehearses in, '' for none."""

    room: str
    ensemble: str
    section: str
    row: RehearsalRow
    address: Address

    @property
    def who(self) -> str:
        return f"`{self.section}` of `{self.ensemble}`" if self.section else f"`{self.ensemble}`"


def _uses(cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow) -> Iterator[_Use]:
    usual = row.room.id if row.room else ""
    if not row.day_plan.sections:
        yield _Use(usual, ensemble.band, "", row, ensemble.address)
    at = next(((one.field, one.place) for one in row.entries if one.item.sections), ())
    for section in row.day_plan.sections:
        room = section.room or usual
        field = ("room",) if section.room else ()
        address = (*cycle.address, *at, "sections", section.id, *field)
        if room:
            yield _Use(room, ensemble.band, section.id, row, address)


def _at_once(one: RehearsalRow, other: RehearsalRow) -> bool:
    """Whether two rehearsals overlap; one may begin as the other ends."""
    return one.rehearsal.start < other.rehearsal.end and other.rehearsal.start < one.rehearsal.end


def _rehearsals(plan: Plan) -> Iterator[tuple[CyclePlan, EnsemblePlan, RehearsalRow]]:
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            for row in ensemble.rehearsals:
                yield cycle, ensemble, row
