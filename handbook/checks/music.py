"""Pieces: whose they are, and how many passages a band can hold."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.problems import Note, Problem
from handbook.schema.handbook import Handbook

_MOST_PASSAGES = 200  # of a band in a cycle: our own limit, some ten times a usual program's


@check
def too_many_passages(handbook: Handbook) -> Iterator[Problem]:
    """A band has more than 200 passages in one cycle.

    No season has the hours: each would be played once or never. Most often a file holds
    several years' music.

    Bad:

        passages:
          - {id: measure-1, name: Measure 1, measures: 1, goal: quarter = 96}
          - {id: measure-2, name: Measure 2, measures: 2, goal: quarter = 96}   # and so on to 201

    Good:

        passages:
          - {id: opening, name: Opening, measures: 1-16, goal: quarter = 96}
    """
    for content in handbook.cycles:
        counts: Counter[str] = Counter()
        for address, piece in traversal.pieces(content):
            for band in piece.played_by:
                before = counts[band]
                counts[band] += len(piece.passages)
                if before <= _MOST_PASSAGES < counts[band]:
                    yield finding(
                        f"from here on `{band}` has more than {_MOST_PASSAGES} passages in this cycle",
                        (*address, "passages"),
                        "name only what is to be practiced on its own, and keep other cycles' music in theirs",
                        on_key=True,
                    )


@check
def piece_without_ensemble(handbook: Handbook) -> Iterator[Problem]:
    """A piece does not say who plays it.

    Bad:

        - {id: button-comets, title: Button Comets}

    Good:

        - {id: button-comets, title: Button Comets, ensemble: lantern}
    """
    for address, piece in traversal.all_pieces(handbook):
        if not piece.played_by:
            yield finding(
                f"`{piece.id}` does not say who plays it",
                (*address, "id"),
                "add `ensemble:` with the id of a band, or `ensembles:` with those of several",
            )


@check
def ensemble_said_twice(handbook: Handbook) -> Iterator[Problem]:
    """A piece says both `ensemble` and `ensembles`, and only one can hold.

    Bad:

        ensemble: lantern
        ensembles: [lantern, harbor]

    Good:

        ensembles: [lantern, harbor]
    """
    for address, piece in traversal.all_pieces(handbook):
        if piece.ensemble and piece.ensembles:
            yield finding(
                f"`{piece.id}` has `ensemble` and `ensembles`, and only one can hold",
                (*address, "ensemble"),
                "keep `ensemble` for one band, or `ensembles` for several",
                notes=(Note("`ensembles` is here", (*address, "ensembles")),),
                on_key=True,
            )
