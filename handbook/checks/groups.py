"""Groups of a band that have rehearsals of their own."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from handbook.checks import traversal
from handbook.checks.check import check, finding, once_a_name
from handbook.checks.wording import unknown
from handbook.plan.players import OfBand
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.schema.program import Ensemble
from handbook.source.names import listed


@check
@once_a_name
def unknown_group(handbook: Handbook) -> Iterator[Problem]:
    """A group is named that its ensemble does not have.

    Groups stand under `groups` of their ensemble in program.yaml. A meeting, an extra
    rehearsal, a cancellation, a wish for a day or a log that names one is for that group alone.

    Bad:

        meetings:
          - {ensemble: lantern, group: brass, weekdays: [Mon], period: p3}   # it has no groups

    Good:

        meetings:
          - {ensemble: lantern, weekdays: [Mon], period: p3}
    """
    bands = traversal.ensemble_by_id(handbook)
    for address, entry in _entries(handbook):
        band = bands.get(entry.ensemble or "")
        if entry.group is None or (entry.ensemble and band is None):
            continue  # an unknown ensemble is told as such
        at = (*address, "group")
        if band is None:
            yield finding(
                f"`{entry.group}` is a group of an ensemble, and none is named here",
                at,
                "say which: write `ensemble:` and its id beside it",
            )
        elif entry.group not in (known := [group.id for group in band.groups]):
            where = f"to program.yaml under the groups of `{band.id}`"
            yield unknown("group", entry.group, at, known, where)


def _entries(handbook: Handbook) -> Iterator[tuple[Address, OfBand]]:
    """Give all entries that may be about one group of a band."""
    listings: list[tuple[str, str, Sequence[OfBand]]] = [
        (file, "meetings", year.meetings) for file, year in traversal.years(handbook)
    ]
    for content in handbook.cycles:
        file, cycle = content.cycle.file, content.cycle.item
        listings += [
            (file, "days", cycle.days),
            (file, "extra", cycle.extra),
            (file, "cancelled", cycle.cancelled),
        ]
    for file, field, entries in listings:
        yield from (((file, field, place), entry) for place, entry in enumerate(entries))
    yield from (((log.file,), log.item) for _, log, _ in traversal.logs(handbook))


@check
def players_unlike_groups(handbook: Handbook) -> Iterator[Problem]:
    """The groups of an ensemble and its own list of instruments do not go together.

    Each instrument of a group must be one of the ensemble's, and where every group lists
    its instruments, each of the ensemble's is in one of them, with as many players in all.

    Bad:

        instruments: {trumpet: 7, flute: 6, clarinet: 8}
        groups:
          - {id: brass, name: brass class, instruments: {trumpet: 9}}
          - {id: winds, name: woodwind class, instruments: {flute: 6, clarinet: 8}}

    Good:

        instruments: {trumpet: 7, flute: 6, clarinet: 8}
        groups:
          - {id: brass, name: brass class, instruments: {trumpet: 7}}
          - {id: winds, name: woodwind class, instruments: {flute: 6, clarinet: 8}}
    """
    for address, band in traversal.ensembles(handbook):
        yield from _strange_instruments(address, band)
        if band.groups and all(group.instruments for group in band.groups):
            yield from _other_counts(address, band)


def _strange_instruments(address: Address, band: Ensemble) -> Iterator[Problem]:
    for place, group in enumerate(band.groups):
        for name in group.instruments:
            if name not in band.instruments:
                yield finding(
                    f"`{name}` is in a group of `{band.id}`, but not among its instruments",
                    (*address, "groups", place, "instruments", name),
                    f"add it to the instruments of `{band.id}`, or name one of {listed(band.instruments, 'or')}"
                    if band.instruments
                    else f"list the instruments of `{band.id}` first",
                    on_key=True,
                )


def _other_counts(address: Address, band: Ensemble) -> Iterator[Problem]:
    counts: Counter[str] = Counter()
    for group in band.groups:
        counts.update(group.instruments)
    for name, number in band.instruments.items():
        if counts[name] != number:
            yield finding(
                f"`{band.id}` counts {number} of `{name}`, its groups {counts[name] or 'none'}",
                (*address, "instruments", name),
                "make the numbers of the groups add up to that of the ensemble",
                Severity.WARNING,
                on_key=True,
                notes=(Note("its groups are here", (*address, "groups")),),
            )
