"""What stands on a stage, by name and counted."""

from __future__ import annotations

from collections.abc import Callable

from handbook.domain.seating import Setup
from handbook.outputs.i18n import ngettext, pgettext
from handbook.outputs.i18n.formats import with_commas

_NAMES: dict[str, Callable[[], str]] = {
    "amplifier": lambda: pgettext("thing on a stage", "amplifier"),
    "bench": lambda: pgettext("thing on a stage", "bench"),
    "chair": lambda: pgettext("thing on a stage", "chair"),
    "microphone": lambda: pgettext("thing on a stage", "microphone"),
    "microphone-stand": lambda: pgettext("thing on a stage", "microphone stand"),
    "music-stand": lambda: pgettext("thing on a stage", "music stand"),
    "percussion-station": lambda: pgettext("thing on a stage", "percussion station"),
    "piano": lambda: pgettext("thing on a stage", "piano"),
    "podium": lambda: pgettext("thing on a stage", "podium"),
    "power-outlet": lambda: pgettext("thing on a stage", "power outlet"),
    "riser": lambda: pgettext("thing on a stage", "riser"),
    "stand": lambda: pgettext("thing on a stage", "stand"),
    "stool": lambda: pgettext("thing on a stage", "stool"),
    "table": lambda: pgettext("thing on a stage", "table"),
}
"""The things that stand there most often; a director may name others."""

_COUNTS: dict[str, Callable[[int], str]] = {
    "amplifier": lambda count: ngettext("%(num)s amplifier", "%(num)s amplifiers", count),
    "bench": lambda count: ngettext("%(num)s bench", "%(num)s benches", count),
    "chair": lambda count: ngettext("%(num)s chair", "%(num)s chairs", count),
    "microphone": lambda count: ngettext("%(num)s microphone", "%(num)s microphones", count),
    "microphone-stand": lambda count: ngettext(
        "%(num)s microphone stand", "%(num)s microphone stands", count
    ),
    "music-stand": lambda count: ngettext("%(num)s music stand", "%(num)s music stands", count),
    "percussion-station": lambda count: ngettext(
        "%(num)s percussion station", "%(num)s percussion stations", count
    ),
    "piano": lambda count: ngettext("%(num)s piano", "%(num)s pianos", count),
    "podium": lambda count: ngettext("%(num)s podium", "%(num)s podiums", count),
    "power-outlet": lambda count: ngettext("%(num)s power outlet", "%(num)s power outlets", count),
    "riser": lambda count: ngettext("%(num)s riser", "%(num)s risers", count),
    "stand": lambda count: ngettext("%(num)s stand", "%(num)s stands", count),
    "stool": lambda count: ngettext("%(num)s stool", "%(num)s stools", count),
    "table": lambda count: ngettext("%(num)s table", "%(num)s tables", count),
}


def thing_name(thing: str) -> str:
    """Name a thing: `chair`; one of the director's own by its id with spaces."""
    return _NAMES[thing]() if thing in _NAMES else thing.replace("-", " ")


def counted(thing: str, count: int) -> str:
    """Write `6 chairs`."""
    if thing in _COUNTS:
        return _COUNTS[thing](count)
    # Translators: a thing that a director named, perhaps in another language, to which nothing
    # can be added; write "%(num)s × %(thing)s" for every number.
    return ngettext("%(num)s %(thing)s", "%(num)s %(thing)ss", count, thing=thing.replace("-", " "))


def things(setup: Setup) -> str:
    """Write a set-up as a line, `38 chairs, 43 stands`."""
    return with_commas(counted(thing, count) for thing, count in setup.counts)
