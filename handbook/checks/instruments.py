"""Instruments that nobody plays, or that nothing is known of."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import walks
from handbook.checks.check import check, once_a_name
from handbook.checks.wording import unknown
from handbook.domain.tables.instruments import instrument
from handbook.domain.values.unreadable import UnreadableError
from handbook.problems import Address, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.source.names import listed


@check
@once_a_name
def unknown_instrument(handbook: Handbook) -> Iterator[Problem]:
    """A passage or a watch point is for an instrument that its ensemble does not have.

    Such a line would reach no player. An ensemble's instruments are listed with their
    counts under `instruments` in program.yaml; one that lists none is not checked.

    Bad:

        who: [clarinets]

    Good:

        who: [clarinet]
    """
    ensembles = walks.ensemble_by_id(handbook)
    for address, name, ensemble in _named(handbook):
        known = ensembles[ensemble].instruments if ensemble in ensembles else {}
        if known and name not in known:
            where = f"to {ensemble} in program.yaml under instruments"
            what = f"instrument of {ensemble}"
            yield unknown("unknown-instrument", what, name, address, known, where)


def _named(handbook: Handbook) -> Iterator[tuple[Address, str, str]]:
    for address, passage, piece in walks.passages(handbook):
        for place, name in enumerate(passage.who):
            yield (*address, "who", place), name, piece.ensemble
    for address, point, piece in walks.watch_points(handbook):
        for place, name in enumerate(point.who):
            yield (*address, "who", place), name, piece.ensemble


@check
@once_a_name
def unfamiliar_instrument(handbook: Handbook) -> Iterator[Problem]:
    """Nothing is known of how an instrument's part is written.

    Keys and notes are given as each player reads them; that needs the instrument's
    transposition, which is known for the usual band instruments by their usual names.

    Bad:

        instruments: {clarnet: 8}

    Good:

        instruments: {clarinet: 8}
    """
    for address, ensemble in walks.ensembles(handbook):
        for name in ensemble.instruments:
            try:
                instrument(name)
            except UnreadableError as error:
                near = error.suggestions[:1]
                meant = f"did you mean {listed(near, 'or')}? " if near else ""
                yield Problem(
                    "unfamiliar-instrument",
                    f"how the part of `{name}` is written is not known here",
                    (*address, "instruments", name),
                    f"{meant}an unfamiliar instrument gets no key and no notes of its own",
                    Severity.WARNING,
                    on_key=True,
                )
