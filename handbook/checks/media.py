"""Media files that are named but cannot be shown."""

# ruff: noqa: D401 - a check's docstring states the bad thing, as its name does

from __future__ import annotations

from collections.abc import Iterator, Sequence

from handbook.checks import traversal
from handbook.checks.check import check, finding, once_a_name
from handbook.checks.links import media_links
from handbook.checks.wording import unknown
from handbook.domain.tables.media_endings import SOUND_ENDINGS
from handbook.problems import Address, Problem
from handbook.schema.handbook import Handbook
from handbook.source.names import listed

# What every browser plays or shows. Not SVG, which can carry scripts.
PICTURE_ENDINGS = ("png", "jpg", "jpeg", "webp")
SHOWN_ENDINGS = (*SOUND_ENDINGS, *PICTURE_ENDINGS)
LINKED_ENDINGS = (*SHOWN_ENDINGS, "pdf")
_MEGABYTE = 1_000_000
MOST_OF_AN_EMBLEM = 100_000  # bytes: it is loaded with every first page
MOST_BYTES = 5 * _MEGABYTE  # our own limit, for families on weak signals


@check
@once_a_name
def unknown_media(handbook: Handbook) -> Iterator[Problem]:
    """A media file is named that is not in the folder media/.

    Bad:

        media: long-tone.mp3

    Good:

        media: long-tones.mp3
    """
    for address, name, endings in _named(handbook):
        if _has_ending(name, endings) and name not in handbook.media:
            known = handbook.media
            yield unknown("file in media/", name, address, known, "to media/")


@check
@once_a_name
def unfit_media(handbook: Handbook) -> Iterator[Problem]:
    """A media file is of a kind that browsers do not all play or show.

    Sound: mp3, m4a, ogg, wav. Pictures: png, jpg, webp. A link may lead to a pdf too. An
    empty file is of no kind.

    Bad:

        media: long-tones.aiff

    Good:

        media: long-tones.mp3
    """
    for address, name, endings in _named(handbook):
        file = handbook.media_files.get(name)
        if not _has_ending(name, endings):
            yield finding(
                f"`{name}` is not of a kind that every browser plays or shows",
                address,
                f"save it as one of {listed(endings, 'or')}",
            )
        elif file is not None and not file.size:
            yield finding(f"`{name}` is empty", address, "save it anew")


@check
def heavy_media(handbook: Handbook) -> Iterator[Problem]:
    """A media file is too large for a phone on a weak signal.

    The limit is 5 MB. A minute of speech or of one instrument needs no more than half of
    one: as mp3 or m4a, mono, 64 kbit/s.

    Bad:

        media: long-tones.wav     # 40 MB

    Good:

        media: long-tones.mp3     # 0.6 MB
    """
    for address, name, _ in _on_site(handbook):
        file = handbook.media_files.get(name)
        if file is not None and file.size > MOST_BYTES:
            yield finding(
                f"`{name}` is {file.size / _MEGABYTE:.1f} MB, and a phone should load no more than {MOST_BYTES // _MEGABYTE} MB",
                address,
                "save a sound as mp3 or m4a, mono, 64 kbit/s; make a picture smaller",
            )


@check
@once_a_name
def unclean_media(handbook: Handbook) -> Iterator[Problem]:
    """What is said beside the picture or sound of a media file cannot be taken out.

    Who took a picture, where, and when, titles and remarks: none of it is published. So a file
    must be what its name says, whole, and not locked with a password. A sound file holds
    sound alone, a document no more than 10,000 parts.

    Bad:

        media: seating.png     # really a list of players, renamed

    Good:

        media: seating.png
    """
    for address, name, endings in _on_site(handbook):
        file = handbook.media_files.get(name)
        if file is None or not file.fault or not 0 < file.size <= MOST_BYTES:
            continue
        sound = _has_ending(name, SOUND_ENDINGS)
        if _has_ending(name, endings) and (file.seconds or not sound):
            yield finding(
                f"`{name}` cannot be published, since it {file.fault}",
                address,
                "save it anew: a picture as jpg or png, a sound as mp3; print a document to a new PDF",
            )


@check
def silent_media(handbook: Handbook) -> Iterator[Problem]:
    """A sound file holds no sound that can be read.

    It may be cut off, empty, or a file of another kind under a wrong name.

    Bad:

        media: long-tones.mp3     # really a picture

    Good:

        media: long-tones.mp3
    """
    for address, name, _ in _named(handbook):
        file = handbook.media_files.get(name)
        sound = _has_ending(name, SOUND_ENDINGS)
        if file is not None and file.size and sound and not file.seconds:
            yield finding(
                f"no sound can be read from `{name}`",
                address,
                "play it on this computer, and save it anew",
            )


@check
def heavy_emblem(handbook: Handbook) -> Iterator[Problem]:
    """The emblem is too large for a picture that stands on every page.

    It is shown about as large as a fingernail: 100 kB is plenty, a picture of 200 by 200
    dots takes a tenth of it.

    Bad:

        emblem: poster.png     # 2 MB, as it came from the printer's

    Good:

        emblem: emblem.png     # 8 kB
    """
    for address, name in _emblem(handbook):
        file = handbook.media_files.get(name)
        if file is not None and MOST_OF_AN_EMBLEM < file.size <= MOST_BYTES:
            yield finding(
                f"`{name}` is {file.size / 1000:.0f} kB, and an emblem no more than {MOST_OF_AN_EMBLEM // 1000} kB",
                address,
                "make the picture smaller: 200 by 200 dots are enough",
            )


def _emblem(handbook: Handbook) -> Iterator[tuple[Address, str]]:
    look = handbook.program.item.look
    if look and look.emblem is not None:
        yield (handbook.program.file, "look", "emblem"), look.emblem


def _has_ending(name: str, endings: Sequence[str]) -> bool:
    return name.rpartition(".")[2].lower() in endings and "." in name


def _named(handbook: Handbook) -> Iterator[tuple[Address, str, Sequence[str]]]:
    """Give each file that is named, with the endings it may have there."""
    yield from _on_site(handbook)
    for address, material in traversal.materials(handbook):
        if material.media is not None:
            yield (*address, "media"), material.media, SHOWN_ENDINGS


def _on_site(handbook: Handbook) -> Iterator[tuple[Address, str, Sequence[str]]]:
    """Leave out the files that are for the room alone."""
    for address, name in _emblem(handbook):
        yield address, name, PICTURE_ENDINGS
    for address, shown in _shown(handbook):
        if shown is not None:
            yield address, shown, SHOWN_ENDINGS
    for address, step in traversal.warm_up_steps(handbook):
        if step.media is not None:
            yield (*address, "media"), step.media, SOUND_ENDINGS
    for address, name in media_links(handbook):
        yield address, name, LINKED_ENDINGS


def _shown(handbook: Handbook) -> Iterator[tuple[Address, str | None]]:
    """Give the fields that name what is played or shown, those left out too."""
    for address, exercise in traversal.exercises(handbook):
        yield (*address, "media"), exercise.media
    for address, piece in traversal.all_pieces(handbook):
        yield (*address, "recording"), piece.recording
    for address, warm_up in traversal.warm_ups(handbook):
        yield (*address, "media"), warm_up.media
