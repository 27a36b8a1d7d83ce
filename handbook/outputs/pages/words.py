"""Words: every term used anywhere, in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, count

from handbook.domain.anchors import anchor_of
from handbook.outputs import addresses
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.plan.model import CyclePlan
from handbook.records import dataclass

# The handbook's own words, which its pages use whatever the director writes.
HOUSE_WORDS: tuple[tuple[str, str], ...] = (
    (
        "Be at the bus",
        "When players must be where the buses load, on concert day. Families bring them there.",
    ),
    ("Cycle", "The weeks from handing out music to the concert."),
    ("Downbeat", "The moment the music starts."),
    (
        "Fundamentals",
        "Skills that serve every piece: breathing, tone, tuning, articulation, rhythm, reading, technique.",
    ),
    ("Goal tempo", "How fast a passage goes at the concert."),
    (
        "Habits",
        "What everyone does without being told: setting up, sitting well, caring for the instrument.",
    ),
    (
        "Ladder",
        "All the tempos of a passage, one for each rehearsal, from first reading to goal tempo.",
    ),
    (
        "Measure",
        "The stretch between two bar lines, also called a bar; m. 9 is measure 9, mm. 9–16 are measures 9 to 16.",
    ),
    ("Metronome", "A steady click that gives the tempo."),
    (
        "Opening thanks",
        "One sentence at the start of rehearsal that thanks someone for something they did.",
    ),
    ("Practice target", "The tempo to reach at home by the end of the week, clean and relaxed."),
    (
        "Ready in the room",
        "When players must be in their room at the concert, ready to unpack, with instrument and music. Also said: call time.",
    ),
    ("Rung", "The tempo set for one rehearsal: one step of the ladder."),
    ("Stage", "A part of the cycle with its own purpose and goals."),
    ("Strand", "One line of fundamentals, worked on level by level."),
    ("Watch list", "What to look out for in a piece."),
)


@dataclass(frozen=True, slots=True)
class WordView:
    """A word, its meaning, and the pieces in which it stands."""

    word: str
    meaning: str
    anchor: str
    pieces: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class LetterView:
    """The words of one first letter."""

    letter: str
    words: tuple[WordView, ...]


@dataclass(frozen=True, slots=True)
class WordsView:
    """The page of words."""

    letters: tuple[LetterView, ...]


Terms = tuple[tuple[str, Link], ...]
"""The terms of one cycle's pieces, each with the piece in which it stands."""


def share(context: Context, cycle: CyclePlan) -> Terms:
    """Give what the page of words shows of a cycle."""
    return tuple(
        (
            term,
            Link(
                context.say(piece.item.title),
                addresses.piece(cycle.id, ensemble.item.id, piece.item.id),
            ),
        )
        for ensemble in cycle.ensembles
        for piece in ensemble.pieces
        for term in piece.item.terms
    )


def pages(context: Context, cycles: Sequence[Terms]) -> Iterator[Page]:
    """Make the page of words."""
    words = _apart(sorted(_words(context, cycles), key=lambda word: word.word.casefold()))
    letters: dict[str, list[WordView]] = {}
    for word in words:
        letters.setdefault(word.word[0].upper(), []).append(word)
    yield Page(
        path=addresses.WORDS,
        kind="words",
        title="Words",
        description="Every term used in this handbook, in plain words.",
        section="words",
        view=WordsView(
            tuple(LetterView(letter, tuple(found)) for letter, found in letters.items())
        ),
        search=(
            SearchEntry(
                "Words",
                "Every term used in this handbook, in plain words.",
                keywords="glossary terms vocabulary meaning",
            ),
            *(
                SearchEntry(
                    word.word,
                    word.meaning,
                    word.anchor,
                    "word term meaning",
                    answer=word.meaning,
                )
                for word in words
            ),
        ),
    )


def _apart(words: Iterable[WordView]) -> list[WordView]:
    """Give each word an anchor of its own; links lead to the first of those that share one."""
    found: dict[str, WordView] = {}
    for word in words:
        numbers = (f"{word.anchor}-{number}" for number in count(2))
        anchor = next(one for one in chain([word.anchor], numbers) if one not in found)
        found[anchor] = replace(word, anchor=anchor)
    return list(found.values())


def _words(context: Context, cycles: Sequence[Terms]) -> Iterator[WordView]:
    pieces: dict[str, list[Link]] = {}
    for terms in cycles:
        for term, link in terms:
            pieces.setdefault(term, []).append(link)
    own = {term.casefold() for term in context.plan.words}
    for term, meaning in context.plan.words.items():
        yield WordView(term, context.say(meaning), anchor_of(term), tuple(pieces.get(term, ())))
    for word, sentence in HOUSE_WORDS:
        if word.casefold() not in own:
            yield WordView(word, sentence, anchor_of(word), ())
