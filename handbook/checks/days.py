"""What is asked of single days that no rehearsal can give."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from handbook.checks import traversal
from handbook.checks.check import check, finding, once_a_name
from handbook.checks.wording import unknown
from handbook.domain.day_kinds import DayKind
from handbook.plan.parts import takes_part
from handbook.plan.steering import PassageKey, passage_keys
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.days import DayWishes
from handbook.schema.handbook import Handbook
from handbook.schema.music import Piece
from handbook.source.names import listed

# Fields that a kind of rehearsal has no minutes for.
_WITHOUT_MINUTES: Mapping[DayKind, tuple[str, ...]] = {
    DayKind.ORDINARY: ("sections",),
    DayKind.DRESS: ("sections",),
    DayKind.SECTIONAL: ("run", "passages"),
    DayKind.SIGHT_READING: ("run", "passages", "sections"),
    DayKind.ASSEMBLY: ("run", "passages", "fundamentals", "sections"),
    DayKind.EVENT: ("run", "passages", "fundamentals", "sections"),
}


@check
@once_a_name
def unknown_passage(handbook: Handbook) -> Iterator[Problem]:
    """A day or a log names a passage that the ensemble's pieces do not have.

    A passage is named by its id, or by its piece's id, a slash and its id.

    Bad:

        passages: [button-comets/chace]

    Good:

        passages: [button-comets/chase]
    """
    for address, name, keys in _named_passages(handbook):
        if name not in keys:
            where = "to the piece in the cycle's music under passages"
            yield unknown("passage of this ensemble", name, address, _shown(name, keys), where)


def _shown(name: str, keys: Mapping[str, Sequence[PassageKey]]) -> Sequence[str]:
    """Give the names to choose from: with their pieces only if a piece was written."""
    return [one for one in keys if ("/" in one) == ("/" in name)]


@check
def passage_in_two_pieces(handbook: Handbook) -> Iterator[Problem]:
    """A day or a log names a passage by a name that two pieces have.

    Write the piece's id and a slash in front.

    Bad:

        passages: [opening]   # both pieces have a passage of that id

    Good:

        passages: [button-comets/opening]
    """
    for address, name, keys in _named_passages(handbook):
        found = keys.get(name, ())
        if len(found) > 1:
            yield finding(
                f"more than one piece has a passage `{name}`",
                address,
                f"write {listed(('/'.join(key) for key in found), 'or')}",
            )


def _named_passages(
    handbook: Handbook,
) -> Iterator[tuple[Address, str, Mapping[str, Sequence[PassageKey]]]]:
    """Give each passage that a day, its sections or a log name, and those that may be named there."""
    for content in handbook.cycles:
        pieces = [piece for _, piece in traversal.pieces(content)]
        for log in content.logs:
            if log.item.ensemble in content.cycle.item.ensembles:  # else told as such
                keys = _keys(pieces, [log.item.ensemble])
                for at, name in traversal.passages_in_log(log):
                    yield at, name, keys
        for address, wish, whose in traversal.day_wishes(content):
            keys = _keys(pieces, whose)
            lists = {(*address, "passages"): wish.passages} | {
                (*address, "sections", name, "passages"): section.passages
                for name, section in wish.sections.items()
            }
            for at, entries in lists.items():
                for place, entry in enumerate(entries):
                    yield (*at, place, "passage"), entry.passage, keys


def _keys(pieces: Iterable[Piece], whose: Sequence[str]) -> Mapping[str, Sequence[PassageKey]]:
    return passage_keys([piece for piece in pieces if not set(whose).isdisjoint(piece.played_by)])


@check
def wish_without_minutes(handbook: Handbook) -> Iterator[Problem]:
    """Something is asked of a day whose kind has no minutes for it.

    In a sectional all of the music time is the sections', when reading at sight all of it
    is for the new music, and in an assembly or at an event nothing is rehearsed.

    Bad:

        - {date: 2026-11-10, kind: assembly, run: [button-comets]}

    Good:

        - {date: 2026-11-10, kind: ordinary, run: [button-comets]}
    """
    for address, wish in _all_wishes(handbook):
        kind = wish.kind or (DayKind.SECTIONAL if wish.sections else None)
        for field in _WITHOUT_MINUTES[kind] if kind else ():
            if getattr(wish, field):
                yield finding(
                    f"a rehearsal of the kind `{kind}` has no minutes for `{field}`",
                    (*address, field),
                    f"remove `{field}`, or choose another kind",
                    Severity.WARNING,
                    on_key=True,
                )


def _all_wishes(handbook: Handbook) -> Iterator[tuple[Address, DayWishes]]:
    for content in handbook.cycles:
        for address, wish, _ in traversal.day_wishes(content):
            yield address, wish


@check
def sectional_without_sections(handbook: Handbook) -> Iterator[Problem]:
    """A sectional does not say which sections there are.

    Its players would be told neither their room nor their passages.

    Bad:

        - {date: 2026-12-08, kind: sectional}

    Good:

        - date: 2026-12-08
          kind: sectional
          sections:
            brass: {who: [trumpet], room: band-room, passages: [chase]}
    """
    for address, wish in _all_wishes(handbook):
        if wish.kind is DayKind.SECTIONAL and not wish.sections:
            yield finding(
                "this sectional names no sections, so players are told neither room nor passages",
                (*address, "kind"),
                "add `sections:`, each with a short name and its `who`, `room` and `passages`",
                Severity.WARNING,
            )


@check
def instrument_in_two_sections(handbook: Handbook) -> Iterator[Problem]:
    """An instrument is in two sections of one sectional.

    Its players cannot be in two rooms. If they take turns, or some go to each, make it one
    section, or say so in the purpose.

    Bad:

        sections:
          winds: {who: [flute, clarinet], room: band-room}
          clarinets: {who: [clarinet], room: choir-room}

    Good:

        sections:
          flutes: {who: [flute], room: band-room}
          clarinets: {who: [clarinet], room: choir-room}
    """
    for address, taken in _taken(handbook):
        for instrument, sections in taken.items():
            if len(sections) > 1:
                first, second, *_ = sections
                yield finding(
                    f"`{instrument}` is in two sections, `{first}` and `{second}`",
                    (*address, "sections", second, "who"),
                    "take it out of one of them",
                    Severity.WARNING,
                    (Note(f"`{first}` has it here", (*address, "sections", first, "who")),),
                )


@check
def instrument_without_section(handbook: Handbook) -> Iterator[Problem]:
    """An instrument of the ensemble is in no section of a sectional.

    Its players would not know where to go.

    Bad:

        sections:   # the ensemble has trumpets too
          woodwinds: {who: [flute, clarinet], room: band-room}

    Good:

        sections:
          woodwinds: {who: [flute, clarinet], room: band-room}
          brass: {who: [trumpet], room: choir-room}
    """
    for address, taken in _taken(handbook):
        left = [instrument for instrument, sections in taken.items() if not sections]
        if left:
            are = "is" if len(left) == 1 else "are"
            yield finding(
                f"{listed(left)} {are} in no section of this rehearsal",
                (*address, "sections"),
                f"add {'it' if len(left) == 1 else 'them'} to a section, so that all players know where to go",
                Severity.WARNING,
                on_key=True,
            )


def _taken(handbook: Handbook) -> Iterator[tuple[Address, Mapping[str, Sequence[str]]]]:
    """Give each sectional of one ensemble, its instruments with the sections they are in."""
    program, ensembles = handbook.program.item, traversal.ensemble_by_id(handbook)
    for content in handbook.cycles:
        for address, wish, whose in traversal.day_wishes(content):
            if not wish.sections or len(whose) != 1 or whose[0] not in ensembles:
                continue
            yield (
                address,
                {
                    name: [
                        section
                        for section, entry in wish.sections.items()
                        if takes_part(name, program.instrument(name), entry.who)
                    ]
                    for name in ensembles[whose[0]].instruments
                },
            )
