"""From what the director asks of single days to one plan a rehearsal; nothing is reckoned here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import NamedTuple

from handbook.domain.day_kinds import DayKind
from handbook.domain.meetings import Rehearsal
from handbook.domain.minutes import FixedSlots
from handbook.domain.values.text import Text
from handbook.plan.players import Players
from handbook.records import dataclass
from handbook.schema.cycle import USUAL_SLOTS, Cycle, DayNote, Slots
from handbook.schema.days import DayWishes, Section
from handbook.schema.days import PassageWish as PassageEntry
from handbook.schema.music import Piece

PassageKey = tuple[str, str]
"""The id of a piece and that of its passage."""


class WishedPassage(NamedTuple):
    """A passage that a rehearsal must hold; None leaves its minutes to the plan."""

    key: PassageKey
    minutes: int | None


@dataclass(frozen=True, slots=True)
class SectionPlan:
    """A section by itself: `who` as written (instruments or families), the room's id.

    No room is where the rehearsal is; no passages leaves the choice to the section, no leaders
    to those of the rehearsal.
    """

    id: str
    name: Text | None
    who: tuple[str, ...]
    room: str | None
    passages: tuple[WishedPassage, ...]
    led_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DayPlan:
    """What the director asks of one rehearsal; without a wish it is like any other.

    `runs` are ids of pieces, in order. `fundamentals` is whole minutes, None for the
    stage's share. `slots` are the cycle's, with those of the day in their place. Only a
    sectional has sections, and all of its music time is theirs; only ordinary and dress
    rehearsals have runs and passages. An assembly or event has 0 minutes of fundamentals.
    """

    kind: DayKind = DayKind.ORDINARY
    runs: tuple[str, ...] = ()
    passages: tuple[WishedPassage, ...] = ()
    fundamentals: int | None = None
    slots: FixedSlots = USUAL_SLOTS
    sections: tuple[SectionPlan, ...] = ()


NO_WISH = DayPlan()


@dataclass(frozen=True, slots=True)
class DayEntry:
    """An entry that is about a rehearsal: `field` is days or extra, `place` its place there."""

    field: str
    place: int
    item: DayWishes


def day_plans(
    cycle: Cycle,
    players: Players,
    rehearsals: Sequence[Rehearsal],
    pieces: Sequence[Piece],
    dropped: Mapping[str, date],
    programs: Sequence[tuple[date, frozenset[str]]] = (),
) -> tuple[DayPlan, ...]:
    """Give one plan a rehearsal, in order; `pieces` are the ensemble's, in program order.

    Of several entries about one rehearsal the first that states a field has it (see
    `day_entries`); slots are taken one by one. What an entry for all ensembles names of
    another ensemble's music is passed over, and so is a piece from the day on at which it
    is `dropped`. A dress rehearsal runs all pieces in order unless `run` says otherwise, or
    those of the next of several `programs`, each with its day; sections without a kind make a sectional.
    """
    return tuple(
        _day_plan(
            cycle,
            [entry.item for entry in entries],
            [piece for piece in pieces if one.day < dropped.get(piece.id, date.max)],
            next((program for day, program in programs if one.day <= day), None),
        )
        for one, entries in zip(rehearsals, day_entries(cycle, players, rehearsals), strict=True)
    )


def day_entries(
    cycle: Cycle, players: Players, rehearsals: Sequence[Rehearsal]
) -> tuple[tuple[DayEntry, ...], ...]:
    """Give the entries about each rehearsal, in order, the one that goes first in front.

    An extra rehearsal's own entry goes first; then the entries of `days`: those for this
    group or ensemble before those for more, and of these, those that name the start before those
    that do not. An entry with `start` is about the rehearsal that begins then; one
    without is about all of that day but the extras, or the extras if there is no other.
    """
    extras = [
        DayEntry("extra", place, extra)
        for place, extra in enumerate(cycle.extra)
        if players.named_by(extra)
    ]
    notes = _notes_by_day(cycle, players)
    with_pattern = {one.day for one in rehearsals if one.index is None}
    return tuple(
        (
            *([extras[one.index]] if one.index is not None else []),
            *(
                DayEntry("days", place, note)
                for place, note in notes.get(one.day, ())
                if _is_about(note, one, alone=one.day not in with_pattern)
            ),
        )
        for one in rehearsals
    )


def _notes_by_day(cycle: Cycle, players: Players) -> Mapping[date, list[tuple[int, DayNote]]]:
    found: dict[date, list[tuple[int, DayNote]]] = {}
    for place, note in enumerate(cycle.days):
        if note.ensemble is None or players.named_by(note):
            found.setdefault(note.date, []).append((place, note))
    for notes in found.values():
        notes.sort(
            key=lambda pair: (
                pair[1].ensemble is None,
                pair[1].group is None,
                pair[1].start is None,
            )
        )
    return found


def _is_about(note: DayNote, rehearsal: Rehearsal, *, alone: bool) -> bool:
    """Whether a note of the rehearsal's day is about it; `alone` where only extras are held."""
    if note.start is not None:
        return note.start == rehearsal.start.time()
    return rehearsal.index is None or alone


def _day_plan(
    cycle: Cycle,
    wishes: Sequence[DayWishes],
    pieces: Sequence[Piece],
    program: frozenset[str] | None,
) -> DayPlan:
    sections = next((wish.sections for wish in wishes if wish.sections), {})
    kind = next(
        (wish.kind for wish in wishes if wish.kind),
        DayKind.SECTIONAL if sections else DayKind.ORDINARY,
    )
    slots = _slots(cycle.slots, wishes)
    if not kind.rehearses:
        return DayPlan(kind, fundamentals=0, slots=slots)
    fundamentals = next(
        (wish.fundamentals for wish in wishes if wish.fundamentals is not None), None
    )
    plan = DayPlan(kind, fundamentals=fundamentals, slots=slots)
    keys = passage_keys(pieces)
    if kind is DayKind.SECTIONAL:
        return replace(plan, sections=tuple(_sections(sections, keys)))
    if kind is DayKind.SIGHT_READING:
        return plan
    run = next((wish.run for wish in wishes if wish.run), ())
    passages = next((wish.passages for wish in wishes if wish.passages), ())
    return replace(plan, runs=_runs(kind, run, pieces, program), passages=_passages(passages, keys))


def _runs(
    kind: DayKind, run: Sequence[str], pieces: Sequence[Piece], program: frozenset[str] | None
) -> tuple[str, ...]:
    own = tuple(piece.id for piece in pieces)
    wished = tuple(piece for piece in run if piece in own)
    if kind is DayKind.DRESS and not wished:
        return tuple(piece for piece in own if program is None or piece in program)
    return wished


def passage_keys(pieces: Sequence[Piece]) -> Mapping[str, tuple[PassageKey, ...]]:
    """Map each name that a passage may be given to all passages of that name.

    A passage is named by its id, or by its piece's id, a slash and its id.
    """
    found: dict[str, tuple[PassageKey, ...]] = {}
    for piece in pieces:
        for passage in piece.passages:
            key = (piece.id, passage.id)
            for name in (passage.id, "/".join(key)):
                found[name] = (*found.get(name, ()), key)
    return found


def _passages(
    entries: Iterable[PassageEntry], keys: Mapping[str, Sequence[PassageKey]]
) -> tuple[WishedPassage, ...]:
    """Give each passage once, as it is first named; of two with one name the first."""
    wishes: dict[PassageKey, WishedPassage] = {}
    for entry in entries:
        for key in keys.get(entry.passage, ())[:1]:
            wishes.setdefault(key, WishedPassage(key, entry.minutes))
    return tuple(wishes.values())


def _sections(
    sections: Mapping[str, Section], keys: Mapping[str, Sequence[PassageKey]]
) -> Iterator[SectionPlan]:
    for name, section in sections.items():
        passages = _passages(section.passages, keys)
        yield SectionPlan(name, section.name, section.who, section.room, passages, section.led_by)


def _slots(usual: Slots, wishes: Iterable[DayWishes]) -> FixedSlots:
    """Put the day's minutes in place of the cycle's, slot by slot."""
    stated = [wish.slots for wish in wishes if wish.slots]

    def minutes(slot: str) -> int:
        found = (getattr(one, slot) for one in stated)
        return int(next((one for one in found if one is not None), getattr(usual, slot)))

    return FixedSlots(*(minutes(slot) for slot in ("set_up", "warm_up", "notices", "close")))
