"""Notes that a text for players names without braces, so that nobody reads them in their own pitch."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.domain.transposition import written_name
from handbook.domain.values.pitch import NoteName
from handbook.domain.values.text import Text
from handbook.plan.parts import instrument_for, takes_part
from handbook.problems import Address, Problem, Severity
from handbook.schema.handbook import Handbook
from handbook.schema.texts_for import texts_for

_SIGNS = {"sharp": "#", "flat": "b", "natural": "", "♯": "#", "♭": "b", "♮": ""}
# "A flat tire", and what is no note of the part: keys, instruments, notes said to be in concert pitch.
_PLAIN = re.compile(
    r"(?<!\w)(?<!concert )(?P<note>[B-G]|(?<![.!?:] )(?<!^)A)(?:[- ](?P<word>sharp|flat|natural)\b|(?P<sign>[♯♭♮]))"
    r"(?![- ](?:major|minor|scales?|chords?|instruments?|clarinets?|trumpets?|horns?|tuba|side|real)\b)(?![^{]*\})"
)
_C = NoteName.from_fifths(0)


@check
def note_without_braces(handbook: Handbook) -> Iterator[Problem]:
    """A text for players of transposing instruments names a note that is told to all of them alike.

    A note in braces is told to each player as the part has it. Without them a trumpet reads
    the name as its own, which sounds a whole step lower.

    Bad:

        watch: [{text: It is C sharp here}]

    Good:

        watch: [{text: "It is {C#} here"}]
    """
    for address, text, who, bands in _told_to_players(handbook):
        if not _transposes(handbook, who, bands):
            continue
        for language, words in text.versions:
            for found in _PLAIN.finditer(words):
                braces = f"{{{found['note']}{_SIGNS[found['word'] or found['sign']]}}}"
                yield finding(
                    f"`{found[0]}` is told to players of transposing instruments as it stands here",
                    (*address, language) if language else address,
                    f"write `{braces}` for the note in concert pitch, so that all read their own, "
                    f"or `concert {braces}`",
                    Severity.WARNING,
                )


def _told_to_players(
    handbook: Handbook,
) -> Iterator[tuple[Address, Text, Sequence[str], Sequence[str]]]:
    for address, point, piece in traversal.watch_points(handbook):
        yield (*address, "text"), point.text, point.who, piece.played_by
    for address, passage, piece in traversal.passages(handbook):
        several = not isinstance(passage.home, Text)
        for place, (who, text) in enumerate(texts_for(passage.home)):
            at = (*address, "home", place, "text") if several else (*address, "home")
            yield at, text, who or passage.who, piece.played_by


def _transposes(handbook: Handbook, who: Sequence[str], bands: Sequence[str]) -> bool:
    program = handbook.program.item
    ensembles = traversal.ensemble_by_id(handbook)
    for band in (ensembles[name] for name in bands if name in ensembles):
        for name in band.instruments:
            row = instrument_for(name, program, band.experience)
            if (
                row
                and row.pitched
                and takes_part(name, row, who)
                and written_name(_C, row, None) != _C
            ):
                return True
    return False
