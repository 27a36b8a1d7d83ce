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
    for address, rhythm, piece in walks.rhythms(handbook):
        for place, name in enumerate(rhythm.who):
            yield (*address, "who", place), name, piece.ensemble


@check
@once_a_name
def unfamiliar_instrument(handbook: Handbook) -> Iterator[Problem]:
    """Nothing is known of how an instrument's part is written.

    Keys and notes are given as each player reads them; that needs the instrument's
    transposition, which is known for the usual band instruments by their usual names. For
    an instrument of your own naming, say under `reads_like` in program.yaml whose part it
    reads like.

    Bad:

        instruments: {clarnet: 8}

    Good:

        instruments: {clarinet: 8}
    """
    reads_like = handbook.program.item.reads_like
    for address, ensemble in walks.ensembles(handbook):
        for name in ensemble.instruments:
            if name not in reads_like:
                yield from _unfamiliar(name, name, (*address, "instruments", name), on_key=True)
    for name, known in reads_like.items():
        at = (handbook.program.file, "reads_like", name)
        yield from _unfamiliar(name, known, at, on_key=False)


def _unfamiliar(name: str, read_as: str, address: Address, *, on_key: bool) -> Iterator[Problem]:
    try:
        instrument(read_as)
    except UnreadableError as error:
        near = error.suggestions[:1]
        meant = f"did you mean {listed(near)}? if not, " if near else ""
        yield Problem(
            "unfamiliar-instrument",
            f"how the part of `{name}` is written is not known here",
            address,
            f"{meant}say under reads_like in program.yaml whose part it reads like",
            Severity.WARNING,
            on_key=on_key,
        )
