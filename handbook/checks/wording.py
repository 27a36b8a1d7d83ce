"""Sentences that several checks share."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from datetime import date, time

from handbook.checks.check import finding
from handbook.domain.values.clock import format_clock
from handbook.domain.values.dates import dated
from handbook.domain.values.measures import MeasureSpan
from handbook.problems import Address, Problem, Severity
from handbook.source.names import listed, nearest

_NOON = 12  # o'clock
_MOST_LISTED = 12
_FEW = 3
_NAMES_AS_KEYS = (
    "attire_for",
    "bring_for",
    "home_minutes",
    "shares_players_with",
    "strands_start_at",
)


def unknown(
    what: str,
    name: str,
    address: Address,
    known: Collection[str],
    where: str,
    severity: Severity = Severity.ERROR,
) -> Problem:
    """Say that a name refers to nothing, with the nearest one that does.

    `what` is the kind of thing, without its article; `where` says where such things are
    written down.
    """
    return finding(
        f"no {what} is called `{name}`",
        address,
        known_hint(name, known, where),
        severity,
        on_key=address[-2:] in {(field, name) for field in _NAMES_AS_KEYS},
    )


def known_hint(name: str, known: Collection[str], where: str) -> str:
    """Propose the nearest known name, else list them, else say where to write the first one."""
    near = nearest(name, known)
    if near:
        return f"did you mean {listed(near, 'or')}?"
    if not known:
        return f"there is none yet: add it {where}"
    shown = sorted(known)[:_MOST_LISTED]
    more = " …" if len(known) > len(shown) else ""
    verb = "is" if len(known) == 1 else "are"
    return f"there {verb} {listed(shown)}{more}; others are added {where}"


def day(one: date) -> str:
    """Write a date as content files do, with its weekday."""
    return dated(one)


def first_few(parts: Sequence[str]) -> str:
    """Write the first three parts as a person would, and count the others."""
    shown = list(parts[:_FEW])
    if len(parts) > _FEW:
        shown.append(f"{len(parts) - _FEW} more")
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def evening_meant(clock: time, fits: Callable[[time], bool], otherwise: str) -> str:
    """Propose pm for a time in the morning, the usual slip, if the evening one `fits`."""
    evening = clock.replace(hour=clock.hour % _NOON + _NOON)
    if clock.hour < _NOON and fits(evening):
        return f"did you mean `{format_clock(evening)}`?"
    return otherwise


def measures_named(span: MeasureSpan) -> str:
    """Write `measure 7` or `measures 1-8`."""
    return f"measure {span}" if span.count == 1 else f"measures {span}"
