"""What can be said of content although something in it could not be read, or is wrong.

Checks run on all that could be read. What they say of it is told unless what is missing
could make it untrue. Then the entries that are wrong are left out too, and what is left is
planned, so that one run tells nearly all there is to mend; of a plan only that is told
which no missing entry could change.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Any, TypeVar

from handbook.checks import concert_day, concert_stage, concert_times, stages
from handbook.checks import cycles as cycle_checks
from handbook.checks.check import code_of
from handbook.loader.discover import WRONG_ENDING
from handbook.loader.loading import cycle_of
from handbook.loader.salvage import Lost, Salvaged, piece_likeness
from handbook.problems import Address, Note, Problem, Severity
from handbook.records import dataclass
from handbook.schema.base import Item
from handbook.schema.concert import Concert
from handbook.schema.cycle import Cycle
from handbook.schema.handbook import CycleContent, Handbook, Sourced
from handbook.schema.music import Music, Piece

ItemT = TypeVar("ItemT", bound=Item)

_QUOTED = re.compile(r"`([^`]*)`")
_WORD = re.compile(r"[\w-]+")
_AN_ENTRY = 3  # steps of an entry in a list at the top of its file: file, field, place


def _codes(*modules: object) -> frozenset[str]:
    return frozenset(
        code_of(one)
        for module in modules
        for one in vars(module).values()
        if hasattr(one, "__wrapped__")
    )


# What says that something is missing, with the fields in which it may stand.
_LACKING: Mapping[str, frozenset[str]] = {
    "last-stage-below-goal": frozenset({"stages"}),
    "stage-goes-back": frozenset({"stages"}),
    "strand-not-in-order": frozenset({"strands", "order"}),
    "skipped-level": frozenset({"strands"}),
    "period-missing-from-bells": frozenset({"bells", "meetings"}),
    "bells-without-periods": frozenset({"bells"}),
    "labels-without-rotation": frozenset({"day_labels"}),
    "ensemble-without-meetings": frozenset({"meetings", "extra", "ensembles"}),
    "ensemble-not-on-program": frozenset({"program", "not_playing", "ensembles"}),
    "ensemble-not-in-cycle": frozenset({"ensembles"}),
    "piece-not-on-program": frozenset({"program"}),
    "cycle-without-end": frozenset({"ends", "date"}),
    "call-without-group": frozenset({"crew", "program"}),
    "step-for-nobody": frozenset({"program"}),
    "lift-without-weight": frozenset({"equipment"}),
    "field-without-effect": frozenset(
        {"day_labels", "strands", "ensembles", "stages", "program", "equipment", "care"}
    ),
    "missing-translation": frozenset({"languages"}),
    "unlisted-language": frozenset({"languages"}),
    "make-up-day-without-meetings": frozenset({"meetings", "extra"}),
    "period-without-school": frozenset({"bells", "meetings"}),
    "exception-without-effect": frozenset({"altered", "closures"}),
    "altered-day-without-school": frozenset({"make_up", "closures"}),
}
_OF_DAYS = _codes(cycle_checks, stages) | {
    *("lock-outside-cycle", "day-outside-year", "concert-on-closure", "told-after-day"),
    *("altered-day-without-school", "longer-than-a-year", "event-far-from-years"),
}
_OF_ANY_FILE = frozenset(
    {"unknown-term", "unknown-strand", "unknown-habit", "unknown-year", "unknown-page"}
)

_OF_CALENDAR = frozenset(
    {
        *("room-used-twice", "players-wanted-twice", "rehearsals-overlap", "extra-on-closure"),
        *("instead-of-nothing", "makes-up-for-nothing"),
        *("cancelled-nothing", "no-rehearsals", "fewer-rehearsals-than-stages"),
        *("stage-without-rehearsals", "stage-starts-out-of-order", "stage-starts-outside-cycle"),
        *("time-skipped-by-clock-change", "section-room-taken", "extra-outside-cycle"),
        *("minutes-over-rehearsal", "rehearsal-too-short"),
    }
)
_OF_SCHOOL_DAY = frozenset({"call-before-school-out", "class-while-away"})
# What no minute of music changes.
_OF_ROOMS_AND_LOADS = frozenset({"bus-seats-short", "venue-stock-short", "too-heavy-for-carrier"})
_OF_CONCERT = (
    _codes(concert_day, concert_stage, concert_times) - _OF_SCHOOL_DAY - _OF_ROOMS_AND_LOADS
)
# Of what a plan's problems are made, beside the program and the events.
_MADE_OF: Mapping[str, frozenset[str]] = {
    **dict.fromkeys(_OF_CALENDAR, frozenset({"year", "cycle", "events"})),
    **dict.fromkeys(_OF_CONCERT, frozenset({"music", "concert"})),
    **dict.fromkeys(_OF_ROOMS_AND_LOADS, frozenset({"concert"})),
    **dict.fromkeys(_OF_SCHOOL_DAY, frozenset({"music", "concert", "year", "cycle"})),
}
_SHARED = ("fundamentals", "events")
_ALL = frozenset({"year", "cycle", "music", "concert", "log", *_SHARED})
_TOLERATED, _SAID = frozenset({"ensemble-without-meetings"}), frozenset({"no-rehearsals"})
_WITHOUT_A_BAND = frozenset(
    {"no-rehearsals", "nothing-to-rehearse", "fewer-rehearsals-than-stages", "rehearsals-overlap"}
)
_OF_NO_PLAN = frozenset(
    (name,) for name in ("contact", "address", "place", "about", "words", "name", "school", "pages")
)


def told_of_parts(
    problems: Iterable[Problem], known: Iterable[Problem], salvaged: Mapping[str, Salvaged]
) -> tuple[Problem, ...]:
    """Leave out what is doubtful because of what could not be read.

    `known` are the problems of reading: a file among them that is not read at all, for its
    name, may hold any strand or term. Places are those in what could be read.
    """
    lost = [one for part in salvaged.values() for one in part.lost]
    unread = any(problem.code == WRONG_ENDING for problem in known)
    return tuple(
        problem
        for problem in problems
        if not (unread and problem.code in _OF_ANY_FILE)
        and not any(_doubtful(in_place(problem, salvaged), gap) for gap in lost)
    )


def in_place(problem: Problem, salvaged: Mapping[str, Salvaged]) -> Problem:
    """Say a problem with its places in the files, where lists have the entries that were left out."""

    def placed(address: Address) -> Address:
        part = salvaged.get(str(address[0])) if address else None
        return part.as_written(address) if part else address

    notes = tuple(Note(note.message, placed(note.address), note.position) for note in problem.notes)
    return replace(problem, address=placed(problem.address), notes=notes)


def _doubtful(problem: Problem, lost: Lost) -> bool:
    """Whether a problem may be there only because something could not be read."""
    places = (problem.address, *(note.address for note in problem.notes))
    inside = lost.place[:-1] if len(lost.place) > _AN_ENTRY else lost.place
    if any(place[: len(inside)] == inside for place in places):
        return True
    if not _related(problem.file, lost.file):
        return problem.code == "unknown-term" and _named(problem, lost)
    if lost.dates and problem.code in _OF_DAYS:
        return True
    if problem.code in _LACKING:
        return not _LACKING[problem.code].isdisjoint(lost.fields)
    return problem.code.startswith("unknown-") and _named(problem, lost)


def _named(problem: Problem, lost: Lost) -> bool:
    """Whether what a problem names stands somewhere in what was lost."""
    quoted = " ".join(_QUOTED.findall(problem.message)).casefold()
    return lost.words is None or not lost.words.isdisjoint(_WORD.findall(quoted))


def _related(file: str, other: str) -> bool:
    """Whether what is said of a file may lean on another: one of its cycle, or one for all cycles."""
    cycle = cycle_of(other)
    return not cycle or cycle == cycle_of(file)


@dataclass(frozen=True, slots=True)
class SoundParts:
    """What is left to be planned, and the topics that miss something, by cycle."""

    handbook: Handbook
    missing: Mapping[str, frozenset[str]]

    def sure(self, problems: Iterable[Problem], known: Iterable[Problem]) -> tuple[Problem, ...]:
        """Leave out what a missing entry could change, and what is `known` already in other words."""
        told = {problem.address for problem in known if problem.code in _TOLERATED}
        found = [one for one in problems if one.code not in _SAID or one.address not in told]
        without_a_band = {cycle_of(one.file) for one in problems if one.code in _WITHOUT_A_BAND}
        return tuple(one for one in found if self._is_sure(one, without_a_band))

    def _is_sure(self, problem: Problem, without_a_band: Collection[str]) -> bool:
        """Whether nothing that is missing could change a problem; a band that has no plan is in no concert."""
        cycle = cycle_of(problem.file)
        missing = self.missing.get(cycle, frozenset())
        if missing and cycle in without_a_band and problem.code not in _OF_CALENDAR:
            return False
        return missing.isdisjoint(_MADE_OF.get(problem.code, _ALL))


def in_the_way(handbook: Handbook, problems: Iterable[Problem]) -> list[Problem]:
    """Give the errors because of which content cannot be planned as it is."""
    pages = {page.file for page in handbook.pages}
    return [
        problem
        for problem in problems
        if problem.severity is Severity.ERROR
        and problem.code not in _TOLERATED
        and problem.file not in pages
        and not (problem.file == handbook.program.file and problem.address[1:2] in _OF_NO_PLAN)
    ]


def without_wrong(
    handbook: Handbook,
    problems: Iterable[Problem],
    lost: Iterable[str] = (),
    missing: Mapping[str, frozenset[str]] | None = None,
) -> SoundParts | None:
    """Leave out the entries that have an error, or None if nothing can be planned then.

    `lost` are the files that miss something already, `missing` the topics by cycle that do.
    """
    places = {problem.address for problem in in_the_way(handbook, problems)}
    files = {*lost, *(str(place[0]) for place in places)}
    if handbook.program.file in files:
        return None
    years = {name: kept for name, one in handbook.years.items() if (kept := _without(one, places))}
    shared = {topic for topic in _SHARED if any(file.startswith(topic) for file in files)}
    known, now = missing or {}, dict[str, frozenset[str]]()
    cycles: list[CycleContent] = []
    for content in handbook.cycles:
        left = _left(content, places)
        if left is not None and left.cycle.item.year in years:
            own = {topic for topic in _ALL if any(_is_of(file, topic, content) for file in files)}
            now[content.id] = frozenset({*known.get(content.id, ()), *own, *shared})
            cycles.append(_with_music_for_all(left) if "music" in now[content.id] else left)
    fundamentals, events = (
        [_without(sourced, places) for sourced in group]
        for group in (handbook.fundamentals, handbook.events)
    )
    whole = replace(
        handbook,
        years=years,
        fundamentals=tuple(one for one in fundamentals if one is not None),
        events=tuple(one for one in events if one is not None),
        cycles=tuple(cycles),
    )
    return SoundParts(whole, now) if cycles else None


def _with_music_for_all(content: CycleContent) -> CycleContent:
    """Give each band whose music could not be read an empty piece, so that its rehearsals are held."""
    played = {band for part in content.music for one in part.item.pieces for band in one.played_by}
    bands = [band for band in content.cycle.item.ensembles if band not in played]
    pieces = tuple(
        piece_likeness().model_copy(update={"id": f"lost-{band}", "ensemble": band})
        for band in bands
    )
    lost = Sourced(f"cycles/{content.id}/music.yaml", Music.model_construct(pieces=pieces))
    return replace(content, music=(*content.music, lost)) if pieces else content


def _is_of(file: str, topic: str, content: CycleContent) -> bool:
    """Whether a file holds a topic of a cycle."""
    if topic == "year":
        return file == f"years/{content.cycle.item.year}.yaml"
    return file.startswith(f"cycles/{content.id}/{topic}")


def _left(content: CycleContent, places: Iterable[Address]) -> CycleContent | None:
    """Leave out of a cycle what is wrong in it; a concert without its program leaves its date as the end."""
    cycle: Sourced[Cycle] | None = _without(content.cycle, places)
    if cycle is None:
        return None
    music = tuple(one for one in (_without(part, places) for part in content.music) if one)
    kept = (_without(concert, places) for concert in content.concerts)
    concerts: tuple[Sourced[Concert], ...] = tuple(one for one in kept if one)
    if content.concert is not None and len(concerts) < len(content.concerts):
        last = cycle.item.model_copy(update={"ends": content.concert.item.date})
        cycle, concerts = replace(cycle, item=last), ()
    logs = tuple(one for one in (_without(log, places) for log in content.logs) if one)
    return replace(content, cycle=cycle, music=music, concerts=concerts, logs=logs)


def _without(sourced: Sourced[ItemT], places: Iterable[Address]) -> Sourced[ItemT] | None:
    """Leave the entries at some places out of a file; None if it would lack what it must have."""
    cuts, emptied = _cuts(sourced.file, places)
    if cuts is None:
        return None
    update: dict[str, Any] = {}
    if emptied and isinstance(sourced.item, Music):
        pieces = enumerate(sourced.item.pieces)
        update["pieces"] = tuple(
            _emptied(piece) if place in emptied else piece for place, piece in pieces
        )
    for name, one in type(sourced.item).model_fields.items():
        written = one.alias or name
        if written not in cuts:
            continue
        value = update.get(name, getattr(sourced.item, name))
        if isinstance(value, tuple) and None not in cuts[written]:
            left = tuple(part for n, part in enumerate(value) if n not in cuts[written])
            if one.is_required() and not left:
                return None
            update[name] = left
        elif one.is_required():
            return None
        else:
            update[name] = one.get_default(call_default_factory=True)
    return replace(sourced, item=sourced.item.model_copy(update=update)) if update else sourced


def _cuts(
    file: str, places: Iterable[Address]
) -> tuple[dict[str, set[int | None]] | None, set[int]]:
    """Give the places to leave out by field, None for a whole file, and the pieces to empty."""
    cuts: dict[str, set[int | None]] = {}
    emptied: set[int] = set()  # pieces that keep their name and their band
    for place in places:
        if not place or place[0] != file:
            continue
        if len(place) == 1:
            return None, emptied
        at = place[2] if len(place) > 2 and isinstance(place[2], int) else None  # noqa: PLR2004
        if place[1] == "pieces" and at is not None and place[3:4] not in _NAMES:
            emptied.add(at)
        else:
            cuts.setdefault(str(place[1]), set()).add(at)
    return cuts, emptied


_NAMES = ((), ("id",), ("ensemble",), ("ensembles",))


def _emptied(piece: Piece) -> Piece:
    names = ("id", "title", "ensemble", "ensembles")
    return piece_likeness().model_copy(update={name: getattr(piece, name) for name in names})
