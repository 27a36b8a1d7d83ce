"""Media files that are named but cannot be shown."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator

from handbook.checks import walks
from handbook.checks.check import check, once_a_name
from handbook.checks.wording import unknown
from handbook.problems import Address, Problem
from handbook.schema.handbook import Handbook
from handbook.source.names import listed

# What every browser plays or shows. Not SVG, which can carry scripts.
SHOWN_ENDINGS = ("mp3", "m4a", "ogg", "wav", "png", "jpg", "jpeg", "webp")


@check
@once_a_name
def unknown_media(handbook: Handbook) -> Iterator[Problem]:
    """A media file is named that is not in the folder media/.

    Bad:

        media: long-tone.mp3

    Good:

        media: long-tones.mp3
    """
    for address, name in _named(handbook):
        if _has_shown_ending(name) and name not in handbook.media:
            known = handbook.media
            yield unknown("unknown-media", "file in media/", name, address, known, "to media/")


@check
@once_a_name
def unfit_media(handbook: Handbook) -> Iterator[Problem]:
    """A media file is of a kind that browsers do not all play or show.

    Sound: mp3, m4a, ogg, wav. Pictures: png, jpg, webp.

    Bad:

        media: long-tones.aiff

    Good:

        media: long-tones.mp3
    """
    for address, name in _named(handbook):
        if not _has_shown_ending(name):
            yield Problem(
                "unfit-media",
                f"`{name}` is not of a kind that every browser plays or shows",
                address,
                f"save it as one of {listed(SHOWN_ENDINGS, 'or')}",
            )


def _has_shown_ending(name: str) -> bool:
    return name.rpartition(".")[2].lower() in SHOWN_ENDINGS and "." in name


def _named(handbook: Handbook) -> Iterator[tuple[Address, str]]:
    for address, exercise in walks.exercises(handbook):
        if exercise.media is not None:
            yield (*address, "media"), exercise.media
    for address, piece in walks.all_pieces(handbook):
        if piece.recording is not None:
            yield (*address, "recording"), piece.recording
    for sourced in handbook.fundamentals:
        for place, warm_up in enumerate(sourced.item.warm_ups):
            if warm_up.media is not None:
                yield (sourced.file, "warm_ups", place, "media"), warm_up.media
