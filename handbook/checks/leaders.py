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
    """One of the staff leads two bands that warm up at the same time on concert day.

    Who leads a band is said under its `led_by` in program.yaml. Bands whose first turn is the
    same warm up together.

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
        duties = [
            _Duty(
                leader,
                group.ensemble.id,
                f"`{group.ensemble.id}`",
                group.room.id if group.room else "",
                group.times.warm_up,
                group.times.walk,
                group.address,
            )
            for group in concert.day.groups
            if group.ensemble and group.section is None and group.reckoned
            for leader in plan.program.leaders(group.ensemble.led_by)
        ]
        first_notes = {
            group.ensemble.id: group.times.first_note
            for group in concert.day.groups
            if group.ensemble and group.section is None
        }
        for first, second in _at_once(duties):
            if first_notes[first.band] == first_notes[second.band]:
                continue  # they begin the concert together, and warm up together
            start = max(first.start, second.start)
            yield finding(
                f"{first.leader.name.read(plan.languages[0])} leads the warm-ups of {first.where} and of {second.where}, and both are on at {format_clock(start.time())}",
                second.address,
                "leave one of them to someone else, or change the calls or minutes so that one follows the other",
                Severity.WARNING,
                (Note("the other band is here", first.address),),
            )
