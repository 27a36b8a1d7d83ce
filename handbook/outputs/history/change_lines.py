"""Changes as lines for families: what a reader is told, where it stands, and until when it matters."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import groupby

from handbook.domain.facts import FactChange, Topic, without_parts
from handbook.outputs import addresses
from handbook.records import dataclass

_REST_OF_WEEK = timedelta(days=6)


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """One line; `readers` are ids of ensembles, none for everyone.

    It matters `until` the end of that day, or always; `path` is the address of a page that
    tells more, `""` if there is none any more.
    """

    sentence: str
    readers: tuple[str, ...] = ()
    until: date | None = None
    path: str = ""


def change_lines(
    changes: Sequence[FactChange], names: Mapping[str, str], paths: Collection[str]
) -> tuple[ChangeLine, ...]:
    """Tell changes, the most urgent first; the tempos of a band are told as one line.

    `names` are those of ensembles by their ids, `paths` the addresses of all pages.
    """
    shown = without_parts(changes)
    tempos = [change for change in shown if _is_tempo(change)]
    lines = [_line(change, paths) for change in shown if not _is_tempo(change)]
    for readers, group in groupby(
        sorted(tempos, key=lambda change: change.readers), key=lambda change: change.readers
    ):
        lines += _tempos(tuple(group), " and ".join(names.get(one, one) for one in readers), paths)
    return tuple(dict.fromkeys(lines))


def page_lines(changes: Sequence[FactChange], paths: Collection[str]) -> tuple[ChangeLine, ...]:
    """Tell changes one by one, as a page does that is about them."""
    return tuple(dict.fromkeys(_line(change, paths) for change in without_parts(changes)))


def page_of_fact(key: str, paths: Collection[str]) -> str:
    """Give the address of the page on which a fact stands, or stood; `""` if there is none.

    Where a piece has no page any more, it is its band's.
    """
    return next((path for path in _places(key) if path in paths), "")


def is_over(line: ChangeLine, day: date) -> bool:
    """Whether a line no longer matters on a day."""
    return line.until is not None and line.until < day


def _places(key: str) -> Iterator[str]:
    match key.split("/"):
        case ["school", *_]:
            yield addresses.CALENDAR
        case ["event", event, *_]:
            yield addresses.event(event)
            yield addresses.EVENTS
        case [cycle, "concert", concert, *_]:
            yield addresses.concert(cycle, concert)
            yield addresses.cycle(cycle)
        case [cycle, ensemble, *parts]:
            match parts:
                case ["piece", piece, *_]:
                    yield addresses.piece(cycle, ensemble, piece)
            yield addresses.ensemble(cycle, ensemble)
            yield addresses.cycle(cycle)


def _is_tempo(change: FactChange) -> bool:
    return change.fact.topic is Topic.TEMPO


def _line(change: FactChange, paths: Collection[str]) -> ChangeLine:
    days = [side.day for side in (change.old, change.new) if side]
    matters = [day for day in days if day]
    until = max(matters) if len(matters) == len(days) else None
    if until and _is_tempo(change):
        until += _REST_OF_WEEK
    path = page_of_fact(change.key, paths)
    return ChangeLine(change.sentence, change.readers, until, path)


def _tempos(
    changes: Sequence[FactChange], name: str, paths: Collection[str]
) -> Iterator[ChangeLine]:
    """Tell the tempos of one band: which they are is on its pages, week by week."""
    lines = [_line(change, paths) for change in changes]
    if len(lines) == 1:
        yield from lines
        return
    cycle, ensemble, *_ = changes[0].key.split("/")
    path = addresses.ensemble(cycle, ensemble)
    yield ChangeLine(
        f"{name}: {len(lines)} tempos to reach at home changed",
        changes[0].readers,
        max((line.until for line in lines if line.until), default=None),
        path if path in paths else "",
    )
