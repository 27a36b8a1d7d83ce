"""Changes of content: to the items that were read, with the lines of YAML that say the same."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date, time
from enum import StrEnum
from typing import TypeVar

from handbook.domain.season import Mix
from handbook.domain.values.clock import format_clock
from handbook.domain.values.dates import dated
from handbook.domain.values.tempo import Tempo
from handbook.records import dataclass
from handbook.schema.base import Item
from handbook.schema.concert import Concert
from handbook.schema.cycle import Cancellation, Cycle, DayNote, ExtraMeeting, MusicMix, Stage
from handbook.schema.handbook import CycleContent, Handbook, Sourced
from handbook.schema.music import Passage, Piece
from handbook.schema.year import SchoolClosure

ItemT = TypeVar("ItemT", bound=Item)
OtherT = TypeVar("OtherT", bound=Item)

LOST = "Lost day"
"""What a lost day is called until the director says why, in each language in its place."""

Entry = Mapping[str, str | Mapping[str, str]]
"""The fields of an entry as they are written; a text of several languages is a mapping."""


class LineKind(StrEnum):
    """What is done with lines."""

    ADD = "add"  # an entry to a list, or the list with it where there is none yet
    SET = "set"  # fields of an entry, or of the whole file, in place of what they were
    TAKE_OUT = "take out"  # an entry out of a list


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines of one place in a content file; `under` leads there by keys and by ids, or places from 0, of entries."""

    file: str
    kind: LineKind
    under: tuple[str | int, ...]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Altered:
    """Content after changes, and the lines that make them, in order."""

    handbook: Handbook
    lines: tuple[Lines, ...] = ()


def with_closure(altered: Altered, year_id: str, day: date, told: date) -> Altered:
    """Close school on a day, which became known on the day `told`."""
    year = altered.handbook.years[year_id]
    entry: Entry = {"name": _lost(altered.handbook), "date": dated(day), "told": dated(told)}
    closures = (*year.item.closures, SchoolClosure.model_validate(entry))
    changed = replace(year, item=_with(year.item, closures=closures))
    handbook = replace(altered.handbook, years={**altered.handbook.years, year_id: changed})
    lines = _added(year.file, "closures", entry, first=not year.item.closures)
    return Altered(handbook, (*altered.lines, lines))


def with_cancellation(
    altered: Altered,
    cycle: str,
    band: Mapping[str, str],
    day: date,
    told: date,
    start: time | None = None,
) -> Altered:
    """Cancel a band's rehearsals in class on a day, or the one that begins at its `start`.

    `band` has its `ensemble`, and its `group` if one is meant.
    """
    begins = {"start": format_clock(start)} if start else {}
    why = _lost(altered.handbook)
    entry: Entry = {**band, "date": dated(day), **begins, "why": why, "told": dated(told)}
    cancelled = Cancellation.model_validate(entry)
    return _with_entry(altered, cycle, "cancelled", entry, cancelled)


def with_extra(altered: Altered, cycle: str, entry: Mapping[str, str]) -> Altered:
    """Add an extra rehearsal, of which `entry` has the fields as they are written."""
    return _with_entry(altered, cycle, "extra", entry, ExtraMeeting.model_validate(dict(entry)))


def with_window(altered: Altered, cycle: str, window: int) -> Altered:
    """Let every passage come back within so many rehearsals."""
    content = cycle_of(altered.handbook, cycle)
    lines = Lines(content.cycle.file, LineKind.SET, (), (f"return_within: {window}",))
    changed = _with_cycle(content, _with(content.cycle.item, return_within=window))
    return _altered(altered, changed, lines)


def with_mix(altered: Altered, cycle: str, stage: str, mix: Mix) -> Altered:
    """Share a stage's music time otherwise."""
    content = cycle_of(altered.handbook, cycle)
    shares = {"passages": mix.passages, "joins": mix.joins, "runs": mix.runs}
    music = MusicMix.model_validate({name: str(share) for name, share in shares.items()})

    def changed(one: Stage) -> Stage:
        return _with(one, music=music) if one.id == stage else one

    stages = tuple(map(changed, content.cycle.item.stages))
    text = f"music: {_flow({name: str(share) for name, share in shares.items()})}"
    lines = Lines(content.cycle.file, LineKind.SET, ("stages", stage), (text,))
    return _altered(altered, _with_cycle(content, _with(content.cycle.item, stages=stages)), lines)


def with_goal(
    altered: Altered, cycle: str, piece: str, passage: str, goal: Tempo, start: Tempo | None = None
) -> Altered:
    """Give a passage another goal, and if it is given another start."""
    fields = {"goal": goal} | ({"start": start} if start else {})
    return with_passage(altered, cycle, piece, passage, fields)


def with_passage(
    altered: Altered, cycle: str, piece: str, passage: str, fields: Mapping[str, Tempo | date]
) -> Altered:
    """Set fields of a passage, each a tempo or a date."""
    texts = tuple(
        f"{name}: {dated(value) if isinstance(value, date) else value}"
        for name, value in fields.items()
    )

    def changed(one: Passage) -> Passage | None:
        return _with(one, **fields) if one.id == passage else one

    return _with_passages(
        altered, cycle, piece, changed, LineKind.SET, ("passages", passage), texts
    )


def without_passage(altered: Altered, cycle: str, piece: str, passage: str) -> Altered:
    """Take a passage out of its piece."""

    def changed(one: Passage) -> Passage | None:
        return None if one.id == passage else one

    entry = (f"- id: {passage}",)
    return _with_passages(altered, cycle, piece, changed, LineKind.TAKE_OUT, ("passages",), entry)


def with_dropped(altered: Altered, cycle: str, piece: str, day: date) -> Altered:
    """Rehearse a piece no more from a day on."""

    def changed(one: Piece) -> Piece:
        return _with(one, dropped=day)

    lines = (f"dropped: {dated(day)}",)
    return _with_piece(altered, cycle, piece, changed, LineKind.SET, (), lines)


def with_turn(
    altered: Altered, cycle: str, file: str, place: int, pieces: Sequence[str]
) -> Altered:
    """Let a turn of a concert's program have other pieces."""

    def changed(concert: Concert) -> Concert:
        program = list(concert.program)
        program[place] = _with(program[place], pieces=tuple(pieces))
        return _with(concert, program=tuple(program))

    lines = (f"pieces: [{', '.join(pieces)}]",)
    return _with_concert(
        altered, cycle, file, changed, Lines(file, LineKind.SET, ("program", place), lines)
    )


def with_concert(
    altered: Altered, cycle: str, file: str, fields: Mapping[str, object], lines: Sequence[str]
) -> Altered:
    """Set fields of a concert; `lines` are how they are written."""

    def changed(concert: Concert) -> Concert:
        return _with(concert, **fields)

    return _with_concert(altered, cycle, file, changed, Lines(file, LineKind.SET, (), tuple(lines)))


def without_days_after(altered: Altered, cycle: str, last: date) -> Altered:
    """Take out what is said of single days after a cycle's last day; a list that is empty then goes as a whole."""
    for field in ("days", "extra", "cancelled"):
        content = cycle_of(altered.handbook, cycle)
        entries: tuple[DayNote | ExtraMeeting | Cancellation, ...] = getattr(
            content.cycle.item, field
        )
        left = tuple(one for one in entries if one.date <= last)
        if left == entries:
            continue
        file = content.cycle.file
        lines = [
            Lines(file, LineKind.TAKE_OUT, (field,), (f"- {_flow(_named_by(one))}",))
            for one in entries
            if one.date > last
        ]
        if not left:
            lines = [Lines(file, LineKind.TAKE_OUT, (), (f"{field}:",))]
        changed = _with_cycle(content, _with(content.cycle.item, **{field: left}))
        for line in lines:
            altered = _altered(altered, changed, line)
    return altered


def _named_by(entry: DayNote | ExtraMeeting | Cancellation) -> dict[str, str]:
    """Give the fields by which an entry about a day is known."""
    found = {"ensemble": entry.ensemble or "", "group": entry.group or ""}
    found |= {"date": dated(entry.date), "start": format_clock(entry.start) if entry.start else ""}
    return {name: value for name, value in found.items() if value}


def cycle_of(handbook: Handbook, cycle: str) -> CycleContent:
    """Find a cycle by its id."""
    return next(content for content in handbook.cycles if content.id == cycle)


def _lost(handbook: Handbook) -> str | Mapping[str, str]:
    """Give the words of a lost day, with a place for each language of the program."""
    languages = handbook.program.item.languages
    return dict.fromkeys(languages, LOST) if len(languages) > 1 else LOST


def _with_entry(altered: Altered, cycle: str, field: str, entry: Entry, item: Item) -> Altered:
    content = cycle_of(altered.handbook, cycle)
    before: tuple[Item, ...] = getattr(content.cycle.item, field)
    changed = _with_cycle(content, _with(content.cycle.item, **{field: (*before, item)}))
    return _altered(altered, changed, _added(content.cycle.file, field, entry, first=not before))


def _with_concert(
    altered: Altered, cycle: str, file: str, change: Callable[[Concert], Concert], lines: Lines
) -> Altered:
    content = cycle_of(altered.handbook, cycle)
    concerts = [
        replace(one, item=change(one.item)) if one.file == file else one for one in content.concerts
    ]
    in_order = sorted(concerts, key=lambda one: (one.item.date, one.item.downbeat, one.file))
    return _altered(altered, replace(content, concerts=tuple(in_order)), lines)


def _with_passages(
    altered: Altered,
    cycle: str,
    piece: str,
    change: Callable[[Passage], Passage | None],
    kind: LineKind,
    under: tuple[str, ...],
    lines: tuple[str, ...],
) -> Altered:
    def changed(one: Piece) -> Piece:
        left = tuple(found for passage in one.passages if (found := change(passage)) is not None)
        return _with(one, passages=left)

    return _with_piece(altered, cycle, piece, changed, kind, under, lines)


def _with_piece(
    altered: Altered,
    cycle: str,
    piece: str,
    change: Callable[[Piece], Piece],
    kind: LineKind,
    under: tuple[str, ...],
    lines: tuple[str, ...],
) -> Altered:
    content, file, music = cycle_of(altered.handbook, cycle), "", []
    for one in content.music:
        pieces = tuple(change(item) if item.id == piece else item for item in one.item.pieces)
        if any(item.id == piece for item in one.item.pieces):
            file = one.file
        music.append(replace(one, item=_with(one.item, pieces=pieces)))
    where = Lines(file, kind, ("pieces", piece, *under), lines)
    return _altered(altered, replace(content, music=tuple(music)), where)


def _altered(altered: Altered, content: CycleContent, lines: Lines) -> Altered:
    cycles = tuple(content if one.id == content.id else one for one in altered.handbook.cycles)
    return Altered(replace(altered.handbook, cycles=cycles), (*altered.lines, lines))


def _with_cycle(content: CycleContent, item: Cycle) -> CycleContent:
    return replace(content, cycle=Sourced(content.cycle.file, item))


def _added(file: str, field: str, entry: Entry, *, first: bool) -> Lines:
    line = f"- {_flow(entry)}"
    if first:
        return Lines(file, LineKind.ADD, (), (f"{field}:", f"  {line}"))
    return Lines(file, LineKind.ADD, (field,), (line,))


def _flow(fields: Entry) -> str:
    written = (
        f"{name}: {value if isinstance(value, str) else _flow(value)}"
        for name, value in fields.items()
    )
    return f"{{{', '.join(written)}}}"


def _with(item: ItemT, **fields: object) -> ItemT:
    """Give a copy of an item with some fields changed; the values are of the fields' own types."""
    return item.model_copy(update=fields)
