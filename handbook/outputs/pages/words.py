"""Words: every term used anywhere, in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, count

from handbook.domain.anchors import anchor_of
from handbook.outputs import addresses
from handbook.outputs.i18n import gettext, pgettext
from handbook.outputs.i18n.alphabet import first_letter, in_order
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.outputs.page import Context, Link, Page
from handbook.outputs.search.entry import SearchEntry
from handbook.plan.model import CyclePlan
from handbook.records import dataclass


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
    # Places are told apart in the order of the terms as written, so that they are the same in all
    # languages; the page has the order of its own.
    written = sorted(_words(context, cycles), key=lambda one: in_order(one[0], SOURCE))
    language = context.language
    words = sorted(
        _apart(word for _, word in written), key=lambda word: in_order(word.word, language)
    )
    letters: dict[str, list[WordView]] = {}
    for word in words:
        letters.setdefault(first_letter(word.word, language), []).append(word)
    yield Page(
        path=addresses.WORDS,
        kind="words",
        title=gettext("Words"),
        description=gettext("Every term used in this handbook, in plain words."),
        section="words",
        view=WordsView(
            tuple(LetterView(letter, tuple(found)) for letter, found in letters.items())
        ),
        search=(
            SearchEntry(
                gettext("Words"),
                gettext("Every term used in this handbook, in plain words."),
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


def _words(context: Context, cycles: Sequence[Terms]) -> Iterator[tuple[str, WordView]]:
    """Give each word after the term as it is written, in English if it is one of ours."""
    pieces: dict[str, list[Link]] = {}
    for terms in cycles:
        for term, link in terms:
            pieces.setdefault(term, []).append(link)
    own = {term.casefold() for term in context.plan.words}
    said = {english.casefold(): word for english, word, _ in house_words()}
    first = context.language == context.plan.languages[0]
    for term, meaning in context.plan.words.items():
        # The director's own term; in another language as that language's pages call it.
        shown = term if first else said.get(term.casefold(), term)
        where = tuple(pieces.get(term, ()))
        yield term, WordView(shown, context.say(meaning), anchor_of(term), where)
    for english, word, sentence in house_words():
        if own.isdisjoint({english.casefold(), word.casefold()}):
            yield english, WordView(word, sentence, anchor_of(english), ())


def house_words() -> tuple[tuple[str, str, str], ...]:
    """Give the handbook's own words, which its pages use whatever the director writes.

    Each in English, of which its anchor is made in all languages, as it is said, and what it means.
    """
    return (
        (
            "Be at the bus",
            pgettext("term", "Be at the bus"),
            gettext(
                "When players must be where the buses load, on concert day. Families bring them there."
            ),
        ),
        (
            "Cycle",
            pgettext("term", "Cycle"),
            gettext("The weeks from handing out music to the concert."),
        ),
        ("Downbeat", pgettext("term", "Downbeat"), gettext("The moment the music starts.")),
        (
            "Fundamentals",
            pgettext("term", "Fundamentals"),
            gettext(
                "Skills that serve every piece: breathing, tone, tuning, articulation, rhythm, reading, technique."
            ),
        ),
        (
            "Goal tempo",
            pgettext("term", "Goal tempo"),
            gettext("How fast a passage goes at the concert."),
        ),
        (
            "Habits",
            pgettext("term", "Habits"),
            gettext(
                "What everyone does without being told: setting up, sitting well, caring for the instrument."
            ),
        ),
        (
            "Ladder",
            pgettext("term", "Ladder"),
            gettext(
                "All the tempos of a passage, one for each rehearsal, from first reading to goal tempo."
            ),
        ),
        (
            "Measure",
            pgettext("term", "Measure"),
            gettext(
                "The stretch between two bar lines, also called a bar; m. 9 is measure 9, mm. 9–16 are measures 9 to 16."
            ),
        ),
        (
            "Metronome",
            pgettext("term", "Metronome"),
            gettext("A steady click that gives the tempo."),
        ),
        (
            "Opening thanks",
            pgettext("term", "Opening thanks"),
            gettext(
                "One sentence at the start of rehearsal that thanks someone for something they did."
            ),
        ),
        (
            "Practice target",
            pgettext("term", "Practice target"),
            gettext("The tempo to reach at home by the end of the week, clean and relaxed."),
        ),
        (
            "Ready in the room",
            pgettext("term", "Ready in the room"),
            gettext(
                "When players must be in their room at the concert, ready to unpack, with instrument and music. Also said: call time."
            ),
        ),
        (
            "Rung",
            pgettext("term", "Rung"),
            gettext("The tempo set for one rehearsal: one step of the ladder."),
        ),
        (
            "Stage",
            pgettext("term", "Stage"),
            gettext("A part of the cycle with its own purpose and goals."),
        ),
        (
            "Strand",
            pgettext("term", "Strand"),
            gettext("One line of fundamentals, worked on level by level."),
        ),
        ("Watch list", pgettext("term", "Watch list"), gettext("What to look out for in a piece.")),
    )
