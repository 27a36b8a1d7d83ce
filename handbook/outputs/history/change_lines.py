"""Changes as lines for families: what a reader is told, where it stands, and until when it matters."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from itertools import groupby

from handbook.domain.facts import FactChange, Topic, without_parts
from handbook.outputs import addresses
from handbook.outputs.facts.telling import told_together
from handbook.outputs.html.formatting import listed
from handbook.outputs.i18n import ngettext
from handbook.records import dataclass

_REST_OF_WEEK = timedelta(days=6)


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """One line; `readers` are ids of ensembles, none for everyone; `headed` is it under their name.

    It matters `until` the end of that day, or always; `path` is the address of a page that
    tells more, `""` if there is none any more.
    """

    sentence: str
    headed: str
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
    lines = _lines([change for change in shown if not _is_tempo(change)], names, paths)
    for readers, group in groupby(
        sorted(tempos, key=lambda change: change.readers), key=lambda change: change.readers
    ):
        name = listed([names.get(one, one) for one in readers])
        lines += _tempos(tuple(group), name, names, paths)
    return tuple(dict.fromkeys(lines))


def page_lines(
    changes: Sequence[FactChange], names: Mapping[str, str], paths: Collection[str]
) -> tuple[ChangeLine, ...]:
    """Tell changes as a page does that is about them: every tempo by itself."""
    return tuple(dict.fromkeys(_lines(without_parts(changes), names, paths)))


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


def _lines(
    changes: Sequence[FactChange], names: Mapping[str, str], paths: Collection[str]
) -> list[ChangeLine]:
    told = told_together(changes, names)
    headed = told_together(changes, names, headed=True)
    return [
        ChangeLine(
            one.sentence,
            own.sentence,
            one.readers,
            _until(one.changes),
            page_of_fact(one.changes[0].key, paths),
        )
        for one, own in zip(told, headed, strict=True)
    ]


def _until(changes: Iterable[FactChange]) -> date | None:
    """Give the last day on which changes matter, None if one of them always does."""
    last = date.min
    for change in changes:
        for side in (change.old, change.new):
            if side and side.day is None:
                return None
            if side and side.day:
                last = max(last, side.day + _REST_OF_WEEK if _is_tempo(change) else side.day)
    return last


def _tempos(
    changes: Sequence[FactChange], name: str, names: Mapping[str, str], paths: Collection[str]
) -> Iterator[ChangeLine]:
    """Tell the tempos of one band: which they are is on its pages, week by week."""
    if len(changes) == 1:
        yield from _lines(changes, names, paths)
        return
    cycle, ensemble, *_ = changes[0].key.split("/")
    path, number = addresses.ensemble(cycle, ensemble), len(changes)
    yield ChangeLine(
        ngettext(
            "%(band)s: %(num)s tempo to reach at home changed",
            "%(band)s: %(num)s tempos to reach at home changed",
            number,
            band=name,
        ),
        ngettext(
            "%(num)s tempo to reach at home changed",
            "%(num)s tempos to reach at home changed",
            number,
        ),
        changes[0].readers,
        _until(changes),
        path if path in paths else "",
    )
