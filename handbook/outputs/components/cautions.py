"""Cautions for readers, never without the scope of their source."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from handbook.domain.tables.cautions import CREW_PAGE, REHEARSAL_PAGE, Caution
from handbook.outputs.i18n import pgettext
from handbook.records import dataclass

_CAUTION, _SOURCE, _SCOPE = "caution", "source of a caution", "whom a caution is for"


@dataclass(frozen=True, slots=True)
class CautionView:
    """A caution and the source of its fact, whole and as `cited` on paper, in the page's language."""

    text: str
    source: str
    cited: str


@dataclass(frozen=True, slots=True)
class CautionGroup:
    """Cautions of one scope; `scope` has its sentences."""

    scope: tuple[str, ...]
    cautions: tuple[CautionView, ...]


def scopes_at_once(groups: tuple[CautionGroup, ...]) -> str:
    """Say the scopes of all groups in one, each of their sentences once, whom a source is for first."""
    scopes = sorted((group.scope for group in groups), key=len, reverse=True)
    return " ".join(dict.fromkeys(sentence for scope in scopes for sentence in scope))


def caution_groups(cautions: tuple[Caution, ...]) -> tuple[CautionGroup, ...]:
    """Put cautions of one scope under it, in the order in which the scopes first appear."""
    order = list(dict.fromkeys(caution.scope_sentences for caution in cautions))
    ranked = sorted(cautions, key=lambda caution: order.index(caution.scope_sentences))
    return tuple(
        CautionGroup(
            tuple(pgettext(_SCOPE, sentence) for sentence in scope),
            tuple(
                CautionView(
                    pgettext(_CAUTION, one.text),
                    pgettext(_SOURCE, one.source),
                    pgettext(_SOURCE, one.cited) if one.cited else "",
                )
                for one in group
            ),
        )
        for scope, group in groupby(ranked, key=lambda caution: caution.scope_sentences)
    )


def caution_messages() -> Iterator[tuple[str, str]]:
    """Give what pages show of the table with its context, for the catalogues."""
    for one in (*CREW_PAGE, *REHEARSAL_PAGE):
        yield _CAUTION, one.text
        yield _SOURCE, one.source
        if one.cited:
            yield _SOURCE, one.cited
        yield from ((_SCOPE, sentence) for sentence in one.scope_sentences)
