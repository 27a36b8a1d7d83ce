"""Purposes that name music which the rehearsal's minutes lack; from the plan."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from handbook.checks.check import check, finding
from handbook.checks.wording import day
from handbook.domain.names_in_text import meters_in, names_in
from handbook.domain.season import MusicKind
from handbook.domain.values.text import Text
from handbook.plan.model import EnsemblePlan, Plan, RehearsalRow
from handbook.plan.steering import PassageKey
from handbook.problems import Problem, Severity
from handbook.schema.music import Piece
from handbook.source.names import listed

_MOST_PROPOSED = 3
_WHOLE = ""  # stands for a passage's id where a piece is run

Subjects = Mapping[str, tuple[PassageKey, ...]]
"""Each name that a purpose may mention, with all that would give it minutes."""


@check
def purpose_without_minutes(plan: Plan) -> Iterator[Problem]:
    """A day's purpose names a piece, a passage or a meter that its minutes lack.

    The band would be told of music that it does not play. Looked for are titles (also
    without their ending, as `Night Train` for `Night Train to Marrow Point`), names of
    passages, and meters of the ensemble's pieces. A name of one word counts with its
    capital and within a sentence only, since `opening` may be any opening. Goals of
    stages are not read, only purposes written for the day.

    Bad:

        - date: 2026-11-09
          kind: sight-reading   # so no piece has minutes
          purpose: Clap the 6/8 in six

    Good:

        - date: 2026-11-09
          purpose: Clap the 6/8 in six
          passages: [chase]
    """
    for cycle in plan.cycles:
        for ensemble in cycle.ensembles:
            subjects = {language: _subjects(ensemble, language) for language in plan.languages}
            for row in ensemble.rehearsals:
                entry = next((one for one in row.entries if one.item.purpose), None)
                if entry is None or not row.day_plan.kind.rehearses:
                    continue
                for name, keys in _lacking(row, subjects):
                    yield finding(
                        f"the purpose names `{name}`, for which `{ensemble.item.id}` has no minutes "
                        f"on {day(row.rehearsal.day)}",
                        (*cycle.address, entry.field, entry.place, "purpose"),
                        _proposal(keys),
                        Severity.WARNING,
                        on_key=True,
                    )


def _subjects(ensemble: EnsemblePlan, language: str) -> Subjects:
    found: dict[str, list[PassageKey]] = {}
    for piece in (row.item for row in ensemble.pieces):
        whole = (piece.id, _WHOLE)
        found.setdefault(piece.title.read(language), []).extend(
            [whole, *((piece.id, passage.id) for passage in piece.passages)]
        )
        for passage in piece.passages:
            found.setdefault(passage.name.read(language), []).extend(
                [(piece.id, passage.id), whole]
            )
        for meter, keys in _meters(piece).items():
            found.setdefault(meter, []).extend(keys)
    return {name: tuple(keys) for name, keys in found.items()}


def _meters(piece: Piece) -> Mapping[str, list[PassageKey]]:
    """Map a piece's meters to its passages that have them, and to the whole of it."""
    found: dict[str, list[PassageKey]] = {}
    for part in piece.form:
        meter = f"{part.meter.top}/{part.meter.unit}"
        keys = found.setdefault(meter, [])
        for passage in piece.passages:
            if passage.measures.overlaps(part.measures):
                keys.append((piece.id, passage.id))
    return {meter: [*keys, (piece.id, _WHOLE)] for meter, keys in found.items()}


def _lacking(
    row: RehearsalRow, subjects: Mapping[str, Subjects]
) -> Iterator[tuple[str, Sequence[PassageKey]]]:
    """Give what the purpose names and no minutes hold, once, in the first language that names it."""
    held, told = set(_held(row)), set()
    exercised = _exercise_meters(row)
    for language, known in subjects.items():
        text = _in_language(row.purpose, language, first=next(iter(subjects)))
        meters = [one for one in meters_in(text) if one in known and one not in exercised]
        mentioned = [*names_in(text, (name for name in known if not meters_in(name))), *meters]
        for name in mentioned:
            keys = known[name]
            if not held & set(keys) and keys not in told:
                told.add(keys)
                yield name, keys


def _in_language(text: Text, language: str, *, first: str) -> str:
    """Give a text in a language, or nothing if it has no version of its own in it."""
    own = "" if language == first and "" in text.languages else language
    return text.read(own) if own in text.languages else ""


def _held(row: RehearsalRow) -> Iterator[PassageKey]:
    """Give what is played: what has minutes, and what the director asked for by name."""
    for block in row.blocks:
        if block.piece and block.passage:
            yield block.piece.id, block.passage.id
        elif block.piece and block.stretch:
            yield from ((block.piece.id, passage.id) for passage in block.stretch.passages)
            if block.stretch.kind is MusicKind.RUN:
                yield block.piece.id, _WHOLE
    asked = row.day_plan
    yield from ((piece, _WHOLE) for piece in asked.runs)
    for wishes in (asked.passages, *(section.passages for section in asked.sections)):
        yield from (wish.key for wish in wishes)


def _exercise_meters(row: RehearsalRow) -> set[str]:
    """Give the meters that are counted in the day's fundamentals."""
    return {
        f"{meter.top}/{meter.unit}"
        for block in row.blocks
        if block.exercise and (meter := block.exercise.meter)
    }


def _proposal(keys: Iterable[PassageKey]) -> str:
    named = list(dict.fromkeys(keys))
    passages = ["/".join(key) for key in named if key[1] != _WHOLE][:_MOST_PROPOSED]
    pieces = [piece for piece, passage in named if passage == _WHOLE]
    wishes = [f"`passages:` with {listed(passages, 'or')}"] if passages else []
    wishes.append(f"`run:` with {listed(pieces, 'or')}")
    return f"add to this entry {', or '.join(wishes)}; or word the purpose otherwise"
