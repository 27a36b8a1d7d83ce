"""Staff who would have to be in two places at once; all of it from the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime
from itertools import combinations

from handbook.checks.check import check, finding
from handbook.checks.concert_traversal import concerts
from handbook.checks.wording import day
from handbook.domain.values.clock import format_clock
from handbook.plan.concert_leaders import led_at_warm_up
from handbook.plan.concert_model import GroupDay
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan, RehearsalRow
from handbook.problems import Address, Note, Problem, Severity
from handbook.records import dataclass
from handbook.schema.program import StaffRole


@dataclass(frozen=True, slots=True)
class _Duty:
    """Someone leads a band or a `section` of it in a room, '' for one that is not known."""

    leader: StaffRole
    band: str
    who: str
    room: str
    start: datetime
    end: datetime
    address: Address
    section: str = ""

    @property
    def where(self) -> str:
        return f"{self.who} in `{self.room}`" if self.room else self.who


@check
def leader_in_two_places(plan: Plan) -> Iterator[Problem]:
    """One of the staff leads two rehearsals at the same time that are not in one room.

    Who leads is looked at only where `led_by` says it: of an ensemble, a meeting, an extra
    rehearsal or a section.

    Bad:

        staff:
          - {id: director, name: the band director}
        ensembles:
          - {id: lantern, name: Lantern Band, led_by: [director]}
          - {id: harbor, name: Harbor Band, room: choir-room, led_by: [director]}
        meetings:
          - {ensemble: lantern, weekdays: [Mon], period: p3}
          - {ensemble: harbor, weekdays: [Mon], period: p3}

    Good:

        staff:
          - {id: director, name: the band director}
          - {id: assistant, name: the assistant director}
        ensembles:
          - {id: lantern, name: Lantern Band, led_by: [director]}
          - {id: harbor, name: Harbor Band, room: choir-room, led_by: [assistant]}
        meetings:
          - {ensemble: lantern, weekdays: [Mon], period: p3}
          - {ensemble: harbor, weekdays: [Mon], period: p3}
    """
    found: dict[tuple[str, str, str], list[tuple[_Duty, _Duty]]] = {}
    for first, second in _at_once(_in_rehearsals(plan)):
        found.setdefault((first.leader.id, first.where, second.where), []).append((first, second))
    for pairs in found.values():
        first, second = pairs[0]
        yield finding(
            f"{first.leader.name.read(plan.languages[0])} leads {first.where} and {second.where} at the same time on {day(first.start.date())}{_and_more(pairs)}",
            second.address,
            "say under `led_by` who leads one of them, or move it to another time",
            Severity.WARNING,
            (Note("the other one is here", first.address),),
        )


def _in_rehearsals(plan: Plan) -> Iterable[_Duty]:
    """Give the duties of all rehearsals; groups of a band that have one together have it once."""
    found: dict[tuple[object, ...], _Duty] = {}
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            for row in ensemble.rehearsals:
                for duty in _duties(cycle, ensemble, row, plan):
                    who = (ensemble.band, duty.section, duty.room)
                    key = (cycle.id, duty.leader.id, *who, duty.start, duty.end)
                    again = key in found and not duty.section
                    found[key] = replace(duty, who=f"`{ensemble.band}`") if again else duty
    return found.values()


def _duties(
    cycle: CyclePlan, ensemble: EnsemblePlan, row: RehearsalRow, plan: Plan
) -> Iterator[_Duty]:
    """Give who leads the rehearsal, and its sections; who leads a section is there alone."""
    usual = row.room.id if row.room else ""
    times = row.rehearsal.start, row.rehearsal.end
    name = f"`{ensemble.item.id}`"
    in_sections: set[str] = set()
    at = next(((one.field, one.place) for one in row.entries if one.item.sections), ())
    for section in row.day_plan.sections:
        in_sections |= {*section.led_by}
        address = (*cycle.address, *at, "sections", section.id, "led_by")
        for leader in plan.program.leaders(section.led_by):
            who, room = f"`{section.id}` of {name}", section.room or usual
            yield _Duty(leader, ensemble.band, who, room, *times, address, section.id)
    for leader in row.led_by:
        if leader.id not in in_sections:
            yield _Duty(leader, ensemble.band, name, usual, *times, ensemble.address)


def _at_once(duties: Iterable[_Duty]) -> Iterator[tuple[_Duty, _Duty]]:
    """Find two duties of one leader that overlap and are not one class in one room.

    Ends are open: one may begin as another ends.
    """
    by_day: dict[tuple[date, str], list[_Duty]] = {}
    for duty in duties:
        by_day.setdefault((duty.start.date(), duty.leader.id), []).append(duty)
    for those in by_day.values():
        for first, second in combinations(those, 2):
            overlap = first.start < second.end and second.start < first.end
            same_room = first.room == second.room
            if overlap and not (same_room and first.room):
                yield first, second


def _and_more(pairs: list[tuple[_Duty, _Duty]]) -> str:
    others = len({first.start.date() for first, _ in pairs}) - 1
    return f" and on {others} other {'day' if others == 1 else 'days'}" if others else ""


@check
def leader_in_two_warm_ups(plan: Plan) -> Iterator[Problem]:
    """On concert day one of the staff leads two warm-ups at once.

    Who leads a band is said under its `led_by` in program.yaml, else under that of its turn or
    of its entry in `calls`. Bands whose first turn is the same warm up together. That another
    band gets ready while its leader is on stage is how concerts go, and not told.

    Bad:

        staff:
          - {id: director, name: the band director}
        ensembles:
          - {id: lantern, name: Lantern Band, led_by: [director]}
          - {id: harbor, name: Harbor Band, led_by: [director]}
        calls:
          - {ensemble: harbor, room: band-room}
          - {ensemble: lantern, room: choir-room}

    Good:

        staff:
          - {id: director, name: the band director}
          - {id: assistant, name: the assistant director}
        ensembles:
          - {id: lantern, name: Lantern Band, led_by: [director]}
          - {id: harbor, name: Harbor Band, led_by: [assistant]}
        calls:
          - {ensemble: harbor, room: band-room}
          - {ensemble: lantern, room: choir-room}
    """
    for _, concert in concerts(plan):
        groups = [one for one in concert.day.groups if one.ensemble and one.reckoned]
        first_notes = {_band(group): group.times.first_note for group in groups}
        warm_ups = [
            _Duty(leader, _band(group), *_where(group), *_warm_up(group), group.address)
            for group in groups
            for leader in plan.program.leaders(led_at_warm_up(concert, group))
        ]
        for first, second in _at_once(warm_ups):
            if first_notes[first.band] != first_notes[second.band]:  # else they warm up together
                what = f"the warm-ups of {first.where} and of {second.where}, and both are on"
                yield _two_at_once(plan, first, second, what)


def _two_at_once(plan: Plan, first: _Duty, second: _Duty, what: str) -> Problem:
    start = max(first.start, second.start)
    return finding(
        f"{first.leader.name.read(plan.languages[0])} leads {what} at {format_clock(start.time())}",
        second.address,
        "say under `led_by` of its turn or of its entry in `calls` who leads one of them, or let one follow the other",
        Severity.WARNING,
        (Note("the other band is here", first.address),),
    )


def _band(group: GroupDay) -> str:
    return group.ensemble.id if group.ensemble else ""


def _where(group: GroupDay) -> tuple[str, str]:
    band = f"`{_band(group)}`"
    who = f"`{group.section}` of {band}" if group.section else band
    return who, group.room.id if group.room else ""


def _warm_up(group: GroupDay) -> tuple[datetime, datetime]:
    return group.times.warm_up, group.times.walk
