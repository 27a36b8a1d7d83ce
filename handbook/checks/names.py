"""Names that refer to nothing."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, check_of, finding, once_a_name
from handbook.checks.wording import unknown
from handbook.plan.dates import UNKNOWN_PERIOD
from handbook.problems import Address, Problem
from handbook.schema.handbook import CycleContent, Handbook, concert_id
from handbook.schema.year import AlteredSchoolDay, MakeUp, Year
from handbook.source.names import listed, nearest

_IN_FUNDAMENTALS = "to fundamentals.yaml under strands"


_IN_PROGRAM = "to program.yaml under"


@check
@once_a_name
def unknown_ensemble(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble is named that program.yaml does not have.

    Meetings, pieces and the concert's program belong to an ensemble by its id, the short
    name under `ensembles` in program.yaml.

    Bad:

        meetings:
          - {ensemble: lanten, weekdays: [Mon], period: p3}

    Good:

        meetings:
          - {ensemble: lantern, weekdays: [Mon], period: p3}
    """
    known = traversal.ensemble_by_id(handbook)
    for address, name in _named_ensembles(handbook):
        if name not in known:
            where = f"{_IN_PROGRAM} ensembles"
            yield unknown("ensemble", name, address, known, where)


def _named_ensembles(handbook: Handbook) -> Iterator[tuple[Address, str]]:
    for address, ensemble in traversal.ensembles(handbook):
        shared = ensemble.shares_players_with
        for place, name in enumerate(shared):
            at = name if isinstance(shared, dict) else place
            yield (*address, "shares_players_with", at), name
    yield from _thanking(handbook)
    for address, meeting, _ in traversal.meetings(handbook):
        yield (*address, "ensemble"), meeting.ensemble
    for file, year in traversal.years(handbook):
        for place, name in enumerate(year.new_players):
            yield (file, "new_players", place), name
    for address, event in traversal.events(handbook):
        for place, name in enumerate(event.who):
            yield (*address, "who", place), name
    yield from traversal.named_for_home(handbook)
    for content in handbook.cycles:
        for place, name in enumerate(content.cycle.item.ensembles):
            yield (content.cycle.file, "ensembles", place), name
        yield from traversal.ensembles_named_in(content)


def _thanking(handbook: Handbook) -> Iterator[tuple[Address, str]]:
    for number, role in enumerate(handbook.program.item.thank):
        for place, name in enumerate(role.ensembles):
            yield (handbook.program.file, "thank", number, "ensembles", place), name


@check
@once_a_name
def unknown_staff(handbook: Handbook) -> Iterator[Problem]:
    """Someone leads a rehearsal who is not among the staff in program.yaml.

    Staff are roles with an id each, never people's names.

    Bad:

        staff:
          - {id: director, name: the band director}
        ensembles:
          - {id: lantern, name: Lantern Band, led_by: [directer]}

    Good:

        staff:
          - {id: director, name: the band director}
        ensembles:
          - {id: lantern, name: Lantern Band, led_by: [director]}
    """
    known = {one.id for one in handbook.program.item.staff}
    for address, roles in traversal.leaders(handbook):
        for place, name in enumerate(roles):
            if name not in known:
                at = (*address, "led_by", place)
                yield unknown("role of the staff", name, at, known, f"{_IN_PROGRAM} staff")


@check
@once_a_name
def unknown_guest(handbook: Handbook) -> Iterator[Problem]:
    """A turn on the program is of guests that the concert does not have.

    Bad:

        guests:
          - {id: choir, name: Concert choir, minutes: 10}
        program:
          - {ensemble: lantern, pieces: [button-comets]}
          - {guest: quire}

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
          - {guest: choir}
    """
    for _, concert in traversal.concerts(handbook):
        known = {guest.id for guest in concert.item.guests}
        for place, turn in enumerate(concert.item.program):
            if turn.guest is not None and turn.guest not in known:
                at = (concert.file, "program", place, "guest")
                yield unknown("entry of guests", turn.guest, at, known, "under guests")


@check
@once_a_name
def unknown_year(handbook: Handbook) -> Iterator[Problem]:
    """A cycle names a school year that has no file.

    The year's file holds the days, bells and meetings that a cycle's rehearsals come from;
    its name is the year's id: `2026-27` is years/2026-27.yaml.

    Bad:

        year: 2026

    Good:

        year: 2026-27
    """
    for content in handbook.cycles:
        name = content.cycle.item.year
        if name not in handbook.years:
            address = (content.cycle.file, "year")
            where = f"as years/{name}.yaml"
            yield unknown("school year", name, address, handbook.years, where)


@check
@once_a_name
def unknown_piece(handbook: Handbook) -> Iterator[Problem]:
    """The concert's program, or a day, names a piece that the cycle's music does not have.

    Bad:

        program:
          - {ensemble: lantern, pieces: [harbour-lights]}

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
    """
    for address, name, content in _named_pieces(handbook):
        known = {piece.id for _, piece in traversal.pieces(content)}
        if name not in known:
            where = f"to cycles/{content.id}/music.yaml"
            yield unknown("piece", name, address, known, where)


def _named_pieces(handbook: Handbook) -> Iterator[tuple[Address, str, CycleContent]]:
    for content, concert in traversal.concerts(handbook):
        for place, turn in enumerate(concert.item.program):
            for number, name in enumerate(turn.pieces):
                yield (concert.file, "program", place, "pieces", number), name, content
    for content in handbook.cycles:
        for address, wish, _ in traversal.day_wishes(content):
            for number, name in enumerate(wish.run):
                yield (*address, "run", number), name, content


@check
@once_a_name
def unknown_stage(handbook: Handbook) -> Iterator[Problem]:
    """A passage is to be at a tempo by a stage that the cycle does not have.

    `lock_by` takes a date or the id of a stage, by whose end the passage is at its goal. The
    `by` of `goals` takes the id of a concert too.

    Bad:

        lock_by: polsh

    Good:

        lock_by: polish
    """
    for content in handbook.cycles:
        stages = {stage.id for stage in content.cycle.item.stages}
        concerts = {concert_id(concert.file) for concert in content.concerts}
        where = f"to {content.cycle.file} under stages"
        for address, passage in traversal.passages_of(content):
            by = passage.lock_by
            if isinstance(by, str) and by not in stages:
                yield unknown("stage of this cycle", by, (*address, "lock_by"), stages, where)
            for place, goal in enumerate(passage.goals):
                known = stages | concerts
                if isinstance(goal.by, str) and goal.by not in known:
                    at = (*address, "goals", place, "by")
                    yield unknown("stage or concert of this cycle", goal.by, at, known, where)


@check
def unknown_strand(handbook: Handbook) -> Iterator[Problem]:
    """The order of fundamentals, or where an ensemble starts, names a strand that does not exist.

    Bad:

        order: [breathing, tonne]

    Good:

        order: [breathing, tone]
    """
    known = {strand.id for _, strand in traversal.strands(handbook)}
    for sourced in handbook.fundamentals:
        for place, name in enumerate(sourced.item.order):
            if name not in known:
                address = (sourced.file, "order", place)
                yield unknown("strand", name, address, known, "under strands")
    for where, ensemble in traversal.ensembles(handbook):
        for name in ensemble.strands_start_at:
            if name not in known:
                field = (*where, "strands_start_at", name)
                yield unknown("strand", name, field, known, _IN_FUNDAMENTALS)


@check
@once_a_name
def unknown_habit(handbook: Handbook) -> Iterator[Problem]:
    """A day names a habit that fundamentals.yaml does not have.

    Bad:

        days:
          - {date: 2026-11-02, habit: postur}

    Good:

        days:
          - {date: 2026-11-02, habit: posture}
    """
    known = {habit.id for sourced in handbook.fundamentals for habit in sourced.item.habits}
    for content in handbook.cycles:
        for field in ("days", "extra"):
            for place, day in enumerate(getattr(content.cycle.item, field)):
                if day.habit is not None and day.habit not in known:
                    address = (content.cycle.file, field, place, "habit")
                    where = "to fundamentals.yaml under habits"
                    yield unknown("habit", day.habit, address, known, where)


@check_of(UNKNOWN_PERIOD)
@once_a_name
def unknown_period(handbook: Handbook) -> Iterator[Problem]:
    """Look up the periods of meetings in the ordinary bell schedule."""
    for address, meeting, year in traversal.meetings(handbook):
        known = {period.id for period in year.bells[0].periods} if year.bells else set()
        if meeting.period is not None and meeting.period not in known:
            at = (*address, "period")
            where = "to the first schedule under bells"
            what = "period of the ordinary day"
            yield unknown(what, meeting.period, at, known, where)


@check
@once_a_name
def unknown_bells(handbook: Handbook) -> Iterator[Problem]:
    """An altered day has a bell schedule that the year does not.

    Bad:

        altered:
          - {date: 2026-10-02, name: Early release, bells: short}

    Good:

        altered:
          - {date: 2026-10-02, name: Early release, bells: early-release}
    """
    for file, year in traversal.years(handbook):
        known = {bells.id for bells in year.bells}
        for address, entry in _days_with_bells(file, year):
            if entry.bells is not None and entry.bells not in known:
                yield unknown(
                    "bell schedule", entry.bells, (*address, "bells"), known, "under bells"
                )


def _days_with_bells(file: str, year: Year) -> Iterator[tuple[Address, AlteredSchoolDay | MakeUp]]:
    yield from traversal.altered_days(file, year)
    yield from traversal.make_up_days(file, year)


@check
@once_a_name
def unknown_label(handbook: Handbook) -> Iterator[Problem]:
    """A day label is used that is not in the rotation.

    Bad:

        day_labels: [A, B]
        meetings:
          - {ensemble: lantern, labels: [C], period: p3}

    Good:

        day_labels: [A, B]
        meetings:
          - {ensemble: lantern, labels: [A], period: p3}
    """
    for file, year in traversal.years(handbook):
        if not year.day_labels:
            continue  # told as labels-without-rotation
        used = list(_labels_of_days(file, year))
        for place, meeting in enumerate(year.meetings):
            used += [
                ((file, "meetings", place, "labels", number), label)
                for number, label in enumerate(meeting.labels)
            ]
        for address, label in used:
            if label not in year.day_labels:
                known = year.day_labels
                yield unknown("day label", label, address, known, "to day_labels")


def _labels_of_days(file: str, year: Year) -> Iterator[tuple[Address, str]]:
    """Give each label that an altered or a make-up day has."""
    for address, altered in traversal.altered_days(file, year):
        if altered.label is not None:
            yield (*address, "label"), altered.label
        for number, label in enumerate(altered.labels):
            yield (*address, "labels", number), label
    for address, made_up in traversal.make_up_days(file, year):
        if made_up.label is not None:
            yield (*address, "label"), made_up.label


@check
def labels_without_rotation(handbook: Handbook) -> Iterator[Problem]:
    """Day labels are used, but the year has none.

    Bad:

        meetings:
          - {ensemble: lantern, labels: [A], period: p3}

    Good:

        day_labels: [A, B]
        meetings:
          - {ensemble: lantern, labels: [A], period: p3}
    """
    for file, year in traversal.years(handbook):
        addresses: list[Address] = [
            (file, "meetings", place, "labels")
            for place, meeting in enumerate(year.meetings)
            if meeting.labels
        ]
        addresses += [address for address, _ in _labels_of_days(file, year)]
        if addresses and not year.day_labels:
            yield finding(
                "day labels are used here, but the year does not say in which order they come",
                addresses[0],
                f"add `day_labels: [A, B]` to {file}, with your labels in order; or use `weekdays`",
            )


@check
@once_a_name
def unknown_term(handbook: Handbook) -> Iterator[Problem]:
    """A term of a piece has no meaning in words.

    Students look terms up; each needs a plain meaning under `words`, in program.yaml or in
    any file of music.

    Bad:

        terms: [legatto]
        words:
          legato: smooth, notes joined

    Good:

        terms: [legato]
        words:
          legato: smooth, notes joined
    """
    known = {*handbook.program.item.words, *handbook.elsewhere}
    known |= {
        word for content in handbook.cycles for music in content.music for word in music.item.words
    }
    for address, piece in traversal.all_pieces(handbook):
        for place, term in enumerate(piece.terms):
            if term in known:
                continue
            near = nearest(term, known, most=1)
            meant = f"did you mean {listed(near)}? else " if near else ""
            yield finding(
                f"the term `{term}` has no meaning in words",
                (*address, "terms", place),
                f"{meant}write what it means under words in {address[0]} or {handbook.program.file}",
            )
