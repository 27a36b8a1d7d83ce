"""Players that two bands have in common, as the program states them."""

from __future__ import annotations

from collections.abc import Iterable

from handbook.domain.shared_players import Shared
from handbook.schema.program import Ensemble


def shared_counts(ensembles: Iterable[Ensemble]) -> Shared:
    """Give the number of players in common of each two bands for which it is stated."""
    return {
        frozenset((one.id, other)): players
        for one in ensembles
        if isinstance(one.shares_players_with, dict)
        for other, players in one.shares_players_with.items()
        if other != one.id
    }
