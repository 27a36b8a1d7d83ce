"""Cycles that do not fit their year, their ensembles or each other."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date
from itertools import combinations

from handbook.checks import traversal
from handbook.checks.check import check, check_of, finding, once_a_name
from handbook.checks.wording import day
from handbook.plan.dates import EXTRA_OUTSIDE_CYCLE
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import CycleContent, Handbook
from handbook.schema.year import Year
from handbook.source.names import listed


@check
def cycle_without_end(handbook: Handbook) -> Iterator[Problem]:
    """A cycle has neither a concert nor a last day.

    Rehearsals are shared out over the stages up to the end of the cycle.

    Bad:

        starts: 2026-10-19

    Good:

        starts: 2026-10-19
        ends: 2026-12-10
    """
    for content in handbook.cycles:
        if content.concert is None and content.cycle.item.ends is None:
            yield finding(
                "this cycle has neither a concert nor a last day",
                (content.cycle.file, "starts"),
                f"write cycles/{content.id}/concert.yaml, or add `ends:` with a date",
                on_key=True,
            )


@check
def end_said_twice(handbook: Handbook) -> Iterator[Problem]:
    """A cycle has a concert, and a last day that is another.

    The concert ends a cycle; `ends` is only for a cycle without one.

    Bad:

        ends: 2026-12-18   # the concert is on 2026-12-10

    Good:

        starts: 2026-10-19
    """
    for content in handbook.cycles:
        ends = content.cycle.item.ends
        if content.concert and ends is not None and ends != content.concert.item.date:
            yield finding(
                f"this last day is not used: the cycle ends with its {'last ' if len(content.concerts) > 1 else ''}concert on {day(content.concert.item.date)}",
                (content.cycle.file, "ends"),
                "remove `ends`, or correct the concert's date",
                Severity.WARNING,
                (Note("the concert's date is here", (content.concert.file, "date")),),
            )


@check
def concert_before_cycle(handbook: Handbook) -> Iterator[Problem]:
    """The concert is on or before the day the cycle starts.

    Bad:

        date: 2025-12-10   # the cycle starts on 2026-10-19

    Good:

        date: 2026-12-10
    """
    for content, concert in traversal.concerts(handbook):
        starts = content.cycle.item.starts
        if concert.item.date <= starts:
            yield finding(
                f"the concert is on {day(concert.item.date)}, but its cycle starts on {day(starts)}",
                (concert.file, "date"),
                "check both dates, above all their years",
                notes=(Note("the cycle starts here", (content.cycle.file, "starts")),),
            )


@check
def cycle_outside_year(handbook: Handbook) -> Iterator[Problem]:
    """A cycle starts or ends outside its school year.

    There are no rehearsals outside the school year. A concert there is only a warning,
    since one may be given in the holidays.

    Bad:

        year: 2026-27      # runs from 2026-08-24 to 2027-06-04
        starts: 2025-10-19

    Good:

        year: 2026-27
        starts: 2026-10-19
    """
    for content in handbook.cycles:
        sourced = handbook.years.get(content.cycle.item.year)
        if sourced is None or sourced.item.last_day < sourced.item.first_day:
            continue  # told as unknown-year and dates-backward
        year = sourced.item
        for address, one, severity in _ends(content):
            if not year.first_day <= one <= year.last_day:
                span = f"{year.first_day} to {year.last_day}"
                yield finding(
                    f"{day(one)} is outside the school year {content.cycle.item.year} ({span})",
                    address,
                    "check the date, or name another `year` in the cycle",
                    severity,
                    (Note("the year is named here", (content.cycle.file, "year")),),
                )


def _ends(content: CycleContent) -> Iterator[tuple[Address, date, Severity]]:
    cycle, file = content.cycle.item, content.cycle.file
    yield (file, "starts"), cycle.starts, Severity.ERROR
    for concert in content.concerts:
        yield (concert.file, "date"), concert.item.date, Severity.WARNING
    if not content.concerts and cycle.ends is not None:
        yield (file, "ends"), cycle.ends, Severity.ERROR


@check
def day_outside_cycle(handbook: Handbook) -> Iterator[Problem]:
    """A day's note, a cancelled rehearsal, a log or another date lies outside its cycle.

    It has no effect there; most often the year of the date is a slip.

    Bad:

        days:
          - {date: 2025-11-04, thanks: The flutes were in tune}

    Good:

        days:
          - {date: 2026-11-04, thanks: The flutes were in tune}
    """
    yield from _outside(handbook, ("days", "cancelled"))
    for content in handbook.cycles:
        span = traversal.whole_days(content)
        for log in content.logs if span else ():
            if span and not span[0] <= log.item.date <= span[1]:
                yield _outside_cycle(log.item.date, (log.file, "date"), span)
        dates: list[tuple[Address, date | None]] = [
            ((content.cycle.file, "held_until"), content.cycle.item.held_until)
        ]
        dates += [((*at, "dropped"), piece.dropped) for at, piece in traversal.pieces(content)]
        for address, found in dates:
            if span and found and not span[0] <= found <= span[1]:
                yield _outside_cycle(found, address, span, Severity.WARNING)


@check_of(EXTRA_OUTSIDE_CYCLE)
def extra_outside_cycle(handbook: Handbook) -> Iterator[Problem]:
    """Compare the dates of extra rehearsals with the span of the cycle."""
    yield from _outside(handbook, ("extra",))


def _outside(handbook: Handbook, fields: tuple[str, ...]) -> Iterator[Problem]:
    for content in handbook.cycles:
        span = traversal.whole_days(content)
        if span is None:
            continue
        for field in fields:
            for place, entry in enumerate(getattr(content.cycle.item, field)):
                if not span[0] <= entry.date <= span[1]:
                    yield _outside_cycle(
                        entry.date, (content.cycle.file, field, place, "date"), span
                    )


def _outside_cycle(
    found: date, address: Address, span: tuple[date, date], severity: Severity = Severity.ERROR
) -> Problem:
    return finding(
        f"{day(found)} is outside the cycle ({span[0]} to {span[1]})",
        address,
        "choose a date within the cycle",
        severity,
    )


@check
@once_a_name
def ensemble_not_in_cycle(handbook: Handbook) -> Iterator[Problem]:
    """Something of a cycle is for an ensemble that does not take part in it.

    Bad:

        ensembles: [lantern]
        cancelled:
          - {ensemble: harbor, date: 2026-11-05, why: Field trip}

    Good:

        ensembles: [lantern, harbor]
        cancelled:
          - {ensemble: harbor, date: 2026-11-05, why: Field trip}
    """
    everyone = traversal.ensemble_by_id(handbook)
    for content in handbook.cycles:
        taking_part = content.cycle.item.ensembles
        for address, name in traversal.ensembles_named_in(content):
            if name in everyone and name not in taking_part:
                yield finding(
                    f"`{name}` does not take part in the cycle `{content.id}`",
                    address,
                    f"add it to the cycle's ensembles, or name one of {listed(taking_part)}",
                    notes=(
                        Note("the cycle's ensembles are here", (content.cycle.file, "ensembles")),
                    ),
                )


@check
def ensemble_without_meetings(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble takes part in a cycle, but has no meetings in that school year.

    Bad:

        ensembles: [lantern, harbor]   # the year's meetings are all for lantern

    Good:

        ensembles: [lantern]
    """
    everyone = traversal.ensemble_by_id(handbook)
    for content in handbook.cycles:
        cycle = content.cycle.item
        sourced = handbook.years.get(cycle.year)
        if sourced is None:
            continue
        meeting = {one.ensemble for one in sourced.item.meetings}
        if not meeting <= set(everyone):
            continue  # told as unknown-ensemble, and surely the one that is missing here
        meeting |= {one.ensemble for one in cycle.extra}
        for place, name in enumerate(cycle.ensembles):
            if name in everyone and name not in meeting:
                yield finding(
                    f"`{name}` has no meetings in the school year {cycle.year}",
                    (content.cycle.file, "ensembles", place),
                    f"add them to {sourced.file} under meetings, or take it out of this cycle",
                )


@check
def meeting_without_cycle(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble has meetings in a school year, but is in no cycle of it, so that no page shows them.

    Rehearsals are planned from the first day of a cycle to its last one, for its ensembles.

    Bad:

        ensembles: [lantern]   # harbor has meetings in the year, and this is its only cycle

    Good:

        ensembles: [lantern, harbor]
    """
    known = traversal.ensemble_by_id(handbook)
    for name, sourced in handbook.years.items():
        cycles = [one.cycle.item for one in handbook.cycles if one.cycle.item.year == name]
        taking_part = [one for cycle in cycles for one in cycle.ensembles]
        if not known.keys() >= set(taking_part):
            continue  # told as unknown-ensemble, and surely the one that is missing here
        for place in unplanned_meetings(sourced.item, taking_part):
            ensemble = sourced.item.meetings[place].ensemble
            if ensemble in known:
                yield finding(
                    f"`{ensemble}` has meetings, but is in no cycle of this school year, so no page shows them",
                    (sourced.file, "meetings", place, "ensemble"),
                    "add it to the `ensembles` of a cycle; a cycle of its own needs no concert if it has `ends`",
                    Severity.WARNING,
                )


def unplanned_meetings(year: Year, taking_part: Collection[str]) -> list[int]:
    """Give the place of the first meeting of each ensemble that is in none of a year's cycles.

    While a year has no cycle yet, there are none.
    """
    first: dict[str, int] = {}
    for place, meeting in enumerate(year.meetings):
        first.setdefault(meeting.ensemble, place)
    return [place for name, place in first.items() if taking_part and name not in taking_part]


@check
def cycles_overlap(handbook: Handbook) -> Iterator[Problem]:
    """Two cycles of one ensemble share days.

    A rehearsal belongs to one cycle, so that its number and stage are clear.

    Bad:

        starts: 2026-12-07   # the cycle before ends with its concert on 2026-12-10

    Good:

        starts: 2026-12-11
    """
    spans = [
        (content, span)
        for content in handbook.cycles
        if (span := traversal.whole_days(content)) is not None
    ]
    in_order = sorted(spans, key=lambda pair: (pair[1], pair[0].id))
    for (one, (_, end)), (other, (start, _)) in combinations(in_order, 2):
        shared = [name for name in other.cycle.item.ensembles if name in one.cycle.item.ensembles]
        if shared and start <= end:
            yield finding(
                f"this cycle starts before `{one.id}` ends on {day(end)}, and {listed(shared)} {'is' if len(shared) == 1 else 'are'} in both",
                (other.cycle.file, "starts"),
                "start the later cycle on the day after the earlier one's concert",
                notes=(Note(f"`{one.id}` starts here", (one.cycle.file, "starts")),),
            )
