"""Turns on the program: who has one, what is played, and guests."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import traversal
from handbook.checks.check import check, finding
from handbook.problems import Address, Note, Problem, Severity
from handbook.schema.concert import Concert
from handbook.schema.handbook import Handbook, Sourced
from handbook.source.names import listed

_OF_GUESTS = {"guest", "before", "first_note"}  # what a turn of guests may say


@check
def plays_and_does_not(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble is on the program, and also among those that do not play.

    Bad:

        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
        not_playing:
          - {ensemble: harbor, why: It plays in spring}

    Good:

        program:
          - {ensemble: harbor, pieces: [tweed-kites]}
    """
    for _, concert in traversal.concerts(handbook):
        playing = {
            name: place for place, turn in enumerate(concert.item.program) for name in turn.names
        }
        for place, absent in enumerate(concert.item.not_playing):
            if absent.ensemble in playing:
                turn = (concert.file, "program", playing[absent.ensemble])
                yield finding(
                    f"`{absent.ensemble}` is said not to play, but is on the program",
                    (concert.file, "not_playing", place, "ensemble"),
                    "remove it here or there",
                    notes=(Note("its turn is here", turn),),
                )


@check
def turn_without_player(handbook: Handbook) -> Iterator[Problem]:
    """A turn on the program does not say who performs, or says it twice.

    It is of an `ensemble`, with the pieces that it plays, or of a `guest`, whose pieces stand
    under `guests`. Guests who perform together with a band stand under `joined_by` of its turn.

    Bad:

        program:
          - {pieces: [button-comets]}

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
    """
    for _, concert in traversal.concerts(handbook):
        for place, turn in enumerate(concert.item.program):
            at: Address = (concert.file, "program", place)
            if turn.ensemble is None and turn.guest is None:
                yield finding(
                    "this turn does not say who performs",
                    at,
                    "add `ensemble:` with an ensemble, or `guest:` with one of the guests",
                )
            elif turn.guest and (extra := sorted(turn.model_fields_set - _OF_GUESTS)):
                yield finding(
                    f"this turn is of guests, and says besides {listed(extra)}, which only an ensemble's turn has",
                    (*at, "guest"),
                    "write a turn for each; guests who join a band stand under its `joined_by`, their pieces under `guests`",
                )


@check
def turn_without_pieces(handbook: Handbook) -> Iterator[Problem]:
    """An ensemble has a turn on the program, but plays nothing in it.

    Bad:

        program:
          - {ensemble: lantern}

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
    """
    for _, concert in traversal.concerts(handbook):
        for place, turn in enumerate(concert.item.program):
            if turn.ensemble and not turn.guest and not turn.pieces:
                yield finding(
                    f"this turn does not say what `{turn.ensemble}` plays",
                    (concert.file, "program", place),
                    "add `pieces:` with the ids of its pieces, in order",
                )


@check
def guest_without_minutes(handbook: Handbook) -> Iterator[Problem]:
    """Guests do not say how long they perform, or say it in two ways.

    The calls of the bands after them follow from it.

    Bad:

        guests:
          - {id: choir, name: Concert choir}

    Good:

        guests:
          - {id: choir, name: Concert choir, pieces: [{title: Tide Song, minutes: 4}]}
    """
    for _, concert in traversal.concerts(handbook):
        for place, guest in enumerate(concert.item.guests):
            at: Address = (concert.file, "guests", place)
            if guest.minutes is None and not guest.pieces and _has_turn(concert, guest.id):
                yield finding(
                    f"`{guest.id}` does not say how long it performs",
                    at,
                    "add `minutes:`, or `pieces:` with the minutes of each",
                )
            elif guest.minutes is not None and guest.pieces:
                yield finding(
                    f"`{guest.id}` has minutes of its own and those of its pieces",
                    (*at, "minutes"),
                    "keep the minutes of the pieces, or leave out the pieces",
                )


@check
def guest_not_on_program(handbook: Handbook) -> Iterator[Problem]:
    """Guests are listed, but have no turn on the program and join none.

    Bad:

        guests:
          - {id: choir, name: Concert choir, minutes: 10}
        program:
          - {ensemble: lantern, pieces: [button-comets]}

    Good:

        program:
          - {ensemble: lantern, pieces: [button-comets]}
          - {guest: choir}
    """
    for _, concert in traversal.concerts(handbook):
        named = {name for turn in concert.item.program for name in turn.names}
        for place, guest in enumerate(concert.item.guests):
            if guest.id not in named:
                yield finding(
                    f"`{guest.id}` is not on the program",
                    (concert.file, "guests", place, "id"),
                    f"add a turn `{{guest: {guest.id}}}` under program, or `{guest.id}` under `joined_by` of a turn",
                    Severity.WARNING,
                )


def _has_turn(concert: Sourced[Concert], guest: str) -> bool:
    return any(turn.guest == guest for turn in concert.item.program)
