"""Trills whose upper note is not known, or is none."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.domain.trills import step_up, steps_from
from handbook.problems import Problem
from handbook.schema.handbook import Handbook
from handbook.schema.music import Trill


@check
def trill_without_upper_note(handbook: Handbook) -> Iterator[Problem]:
    """A trill does not say its upper note, and its piece has no key that would.

    With a key the upper note is the next one above in it. A sign over the trill in the part
    changes that; then `to` says the note. Both notes are in concert pitch.

    Bad:

        trills:
          - {note: Bb, measures: 12}

    Good:

        trills:
          - {note: Bb, to: C, measures: 12}
    """
    for address, trill, piece in traversal.trills(handbook):
        if trill.upper(piece.key) is None:
            yield finding(
                f"the trill on `{trill.lower.typed}` has no upper note, since `{piece.id}` has no key",
                (*address, "note"),
                f"write the piece's `key`, or here {_choices(trill)}",
            )


@check
def trill_not_a_step(handbook: Handbook) -> Iterator[Problem]:
    """The two notes of a trill are not a half step or a whole step apart.

    A trill changes with the next letter above. The note next to it in the key can be too far
    or too near where the printed note is not of the key; then `to` says which note it is.

    Bad:

        trills:
          - {note: Bb, to: D, measures: 12}

    Good:

        trills:
          - {note: Bb, to: C, measures: 12}
    """
    for address, trill, piece in traversal.trills(handbook):
        upper = trill.upper(piece.key)
        if upper is None or step_up(trill.lower, upper):
            continue
        whence = "" if trill.to else f", the next note in {piece.key},"
        yield finding(
            f"the trill from `{trill.lower.typed}` to `{upper.typed}`{whence} is not a step",
            (*address, "to" if trill.to else "note"),
            f"write {_choices(trill)}",
        )


def _choices(trill: Trill) -> str:
    return " or ".join(f"`to: {name.typed}`" for name in steps_from(trill.lower))
