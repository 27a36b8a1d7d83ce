"""Cautions for readers, never without the scope of their source."""

from __future__ import annotations

from itertools import groupby

from handbook.domain.tables.cautions import Caution
from handbook.records import dataclass


@dataclass(frozen=True, slots=True)
class CautionGroup:
    """Cautions of one scope."""

    scope: str
    cautions: tuple[Caution, ...]


def scopes_at_once(groups: tuple[CautionGroup, ...]) -> str:
    """Say the scopes of all groups in one, each of their sentences once, whom a source is for first."""
    scopes = sorted((group.scope for group in groups), key=len, reverse=True)
    sentences = (sentence for scope in scopes for sentence in scope.rstrip(".").split(". "))
    return " ".join(f"{sentence}." for sentence in dict.fromkeys(sentences))


def caution_groups(cautions: tuple[Caution, ...]) -> tuple[CautionGroup, ...]:
    """Put cautions of one scope under it, in the order in which the scopes first appear."""
    order = list(dict.fromkeys(caution.scope for caution in cautions))
    ranked = sorted(cautions, key=lambda caution: order.index(caution.scope))
    return tuple(
        CautionGroup(scope, tuple(group))
        for scope, group in groupby(ranked, key=lambda caution: caution.scope)
    )
