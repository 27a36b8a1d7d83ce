"""What must be known of a cycle before it is planned, and which cycles are planned together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from datetime import date

from handbook.domain.values.text import Text
from handbook.outputs.html.frame import CycleMenu, cycle_menu
from handbook.outputs.page import Context
from handbook.plan.build import cycle_last_day
from handbook.plan.players import players_in
from handbook.records import dataclass
from handbook.schema.handbook import ConcertAhead, CycleContent, concert_id, concerts_ahead


@dataclass(frozen=True, slots=True)
class CycleHead:
    """What other cycles, and the menu, need to know of one.

    A `draft` is left out; one that is `shown`, as in the preview, is none, and bears a mark.
    `ensembles` are the ids of bands, and of groups in place of those that have them; `words`
    are the meanings it gives, `terms` the ones its pieces use, `concerts` those that are held;
    `menus` are by language.
    """

    id: str
    first: date
    last: date
    draft: bool
    shown: bool = False
    year: str = ""
    ensembles: tuple[str, ...] = ()
    words: Mapping[str, Text] = field(default_factory=dict)
    terms: frozenset[str] = frozenset()
    concerts: tuple[ConcertAhead, ...] = ()
    menus: Mapping[str, CycleMenu] = field(default_factory=dict)


def cycle_head(content: CycleContent, context: Context) -> CycleHead:
    """Gather it; `context` is of the program, its plan has no cycles."""
    cycle = content.cycle.item
    bands = {one.id: one for one in context.plan.program.ensembles}
    players = players_in(cycle.ensembles, bands)
    pieces = [piece for music in content.music for piece in music.item.pieces]
    return CycleHead(
        id=content.id,
        first=cycle.starts,
        last=cycle_last_day(content),
        draft=cycle.draft,
        year=cycle.year,
        ensembles=tuple(one.id for one in players),
        words={word: text for music in content.music for word, text in music.item.words.items()},
        concerts=concerts_ahead(content),
        terms=frozenset(term for piece in pieces for term in piece.terms),
        menus={
            language: cycle_menu(
                replace(context, language=language),
                content.id,
                cycle,
                cycle_last_day(content),
                [one.item for one in players],
                [(concert_id(one.file), one.item) for one in content.concerts],
            )
            for language in context.plan.languages
        },
    )


def marked_draft(content: CycleContent) -> CycleContent:
    """Say behind the names of a draft and of its concerts that they are one, wherever they stand."""
    cycle = content.cycle.item
    return replace(
        content,
        cycle=replace(content.cycle, item=cycle.model_copy(update={"name": _as_draft(cycle.name)})),
        concerts=tuple(
            replace(one, item=one.item.model_copy(update={"name": _as_draft(one.item.name)}))
            for one in content.concerts
        ),
    )


def _as_draft(name: Text) -> Text:
    versions = tuple((code, f"{text} (draft)") for code, text in name.versions)
    return replace(name, versions=versions)


def broken_draft(cycle_id: str) -> CycleHead:
    """Stand for a draft of which a file cannot be read."""
    return CycleHead(cycle_id, date.max, date.max, draft=True)


def groups_by_days(heads: Iterable[CycleHead]) -> list[list[CycleHead]]:
    """Part cycles, in order of their first day, wherever one begins after all before it ended.

    Drafts are left out. Cycles that share days share rooms and players, so they are checked together.
    """
    found: list[list[CycleHead]] = []
    ends = date.min
    published = (head for head in heads if not head.draft)
    for head in sorted(published, key=lambda head: (head.first, head.id)):
        if found and head.first <= ends:
            found[-1].append(head)
        else:
            found.append([head])
        ends = max(ends, head.last)
    return found


def words_of(heads: Iterable[CycleHead]) -> Mapping[str, Text]:
    """Give the meanings that all cycles but drafts give, by the order of their ids."""
    return {
        word: text
        for head in sorted(heads, key=lambda head: head.id)
        if not head.draft
        for word, text in head.words.items()
    }
