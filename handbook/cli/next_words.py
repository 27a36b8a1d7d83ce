"""What `handbook next` says of the files that it wrote."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from pathlib import Path

from handbook.carrying.cycle import NextCycle
from handbook.carrying.dates import in_words
from handbook.carrying.model import TO_DO
from handbook.carrying.school_days import ProposedYear, Told
from handbook.carrying.year import NextYear, counted, several, told_line
from handbook.cli.messages import as_typed
from handbook.school_calendar.model import CalendarFile

_WIDTH = 80
_MOST_IDLE, _MOST_UNREAD = 5, 40


def about_cycle(content: Path, made: NextCycle) -> Iterator[str]:
    """Say what is in the next cycle's files, what is to be written, and what was left out."""
    yield from _wrapped(
        f"{content / 'cycles' / made.id}: the next cycle as a draft, made of {made.of}, from"
        f" {in_words(made.starts)} to {in_words(made.ends)}"
        f" ({'the end is only a guess' if made.start_is_given else 'both are only guesses'})."
    )
    yield ""
    yield "For you to write:"
    yield from _items(made.to_do)
    if made.left_out:
        yield ""
        yield "Not carried over:"
        yield from _items(made.left_out)
    yield ""
    yield from _what_next("the files", content)


def about_year(
    content: Path, made: NextYear, calendar: CalendarFile | None, name: str
) -> Iterator[str]:
    """Say what is in the next year's file; of a calendar, what was made of it and what was not."""
    new = made.proposal
    yield from _wrapped(
        f"{content / made.file.name}: the school year {made.id}, made of {made.of}, from"
        f" {in_words(new.first_day)} to {in_words(new.last_day)}."
    )
    if calendar is not None:
        yield from _of_calendar(new, calendar, name)
    yield ""
    yield "For you to write:"
    yield from _items(_to_write(made, calendar))
    if made.left_out:
        yield ""
        yield "Not carried over:"
        yield from _items(made.left_out)


def year_next(content: Path, made: NextYear) -> Iterator[str]:
    """Say how to go on with the next year's file."""
    yield ""
    yield from _what_next("the file", content, made.to_do)


def _what_next(opened: str, content: Path, asked: int | None = None) -> Iterator[str]:
    """Say what to do by hand before the check, to which remarks mean nothing."""
    check = f"`{as_typed('check', content)}`"
    if asked == 0:
        yield from _wrapped(f"Next: open {opened}, and run {check}.")
        return
    lines = "lines" if asked is None else several(asked, "line", "lines")
    yield from _wrapped(
        f"Next: open {opened} and look for the {lines} with `{TO_DO}`. The check does not see"
        f" them, as they are remarks; {check} says what else is wrong."
    )


def _to_write(made: NextYear, calendar: CalendarFile | None) -> Iterator[str]:
    new = made.proposal
    for said, which in ((new.first_said, "first"), (new.last_said, "last")):
        if not said:
            yield f"the {which} day of school: the one in the file is last year's, 52 weeks on"
    if calendar is None:
        old = made.old
        news = [
            *(one.told for one in old.closures),
            *(one.told for one in old.altered),
            *(one.told for one in old.make_up),
        ]
        if None in news:
            yield "the dates of the days without school and of the altered days: last year's stand there as remarks"
    if made.to_do:
        asks = "line with `{}` asks" if made.to_do == 1 else "lines with `{}` ask"
        yield f"what the {made.to_do} {asks.format(TO_DO)} for"
    if made.old.new_players:
        yield "which bands have new players, under `new_players`"
    yield "whether bells and meetings stay as they were"


def _of_calendar(new: ProposedYear, calendar: CalendarFile, name: str) -> Iterator[str]:
    yield ""
    yield from _wrapped(
        f"{name} has {several(calendar.number, 'entry', 'entries')}"
        f"{f', {new.outside} of them on days outside this year' if new.outside else ''}."
    )
    yield from _items(f"{remark}" for remark in calendar.remarks)
    yield "Written into the file:"
    yield from _items(_written(new))
    if new.inferred:
        yield ""
        yield "For these the title alone was not enough; please look whether they are right:"
        yield from _items(map(told_line, new.inferred))
    if new.decide:
        yield ""
        yield "For you to decide; in the file these are only remarks:"
        yield from _items(map(told_line, new.decide))
    if new.unread:
        yield ""
        yield "Not understood, so nothing was made of it:"
        yield from _items(map(told_line, new.unread[:_MOST_UNREAD]))
        if len(new.unread) > _MOST_UNREAD:
            yield f"  and {len(new.unread) - _MOST_UNREAD:,} more, listed at the end of the file"
    if new.missing:
        yield ""
        yield "Last year had these, and the calendar does not name them:"
        yield from _items(new.missing)
    if new.idle or calendar.repeated:
        yield ""
        yield "Of no effect:"
        yield from _items(_idle(new.idle, calendar.repeated))


def _written(new: ProposedYear) -> Iterator[str]:
    said = [which for known, which in ((new.first_said, "first"), (new.last_said, "last")) if known]
    if said:
        yield f"the {' and the '.join(said)} day of school"
    labels = [one for one in new.altered if one.label is not None]
    altered = [one for one in new.altered if one.label is None]
    if new.closures:
        yield counted(new.closures, "closure", "closures")
    if altered:
        yield counted(altered, "entry of days with other bells", "entries of days with other bells")
    if labels:
        yield counted(
            labels, "day on which labels begin afresh", "days on which labels begin afresh"
        )
    if new.resume is not None:
        yield f"how labels go on after a closure: `resume: {new.resume.value}`"
    if new.make_up:
        yield counted(new.make_up, "make-up day", "make-up days")
    if not (said or new.altered or new.closures or new.make_up or new.resume):
        yield "nothing: no entry says anything about this school year"


def _idle(idle: tuple[Told, ...], repeated: int) -> Iterator[str]:
    yield from map(told_line, idle[:_MOST_IDLE])
    if len(idle) > _MOST_IDLE:
        yield f"and {several(len(idle) - _MOST_IDLE, 'more entry', 'more entries')}"
    if repeated:
        yield f"{several(repeated, 'entry', 'entries')} that the file has twice"


def _items(sentences: Iterable[str]) -> Iterator[str]:
    for one in sentences:
        yield textwrap.fill(
            one, _WIDTH, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False
        )


def _wrapped(sentence: str) -> Iterator[str]:
    yield textwrap.fill(sentence, _WIDTH, break_long_words=False, break_on_hyphens=False)
