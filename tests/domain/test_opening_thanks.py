"""Whom the opening thanks go to. What a sentence thanks is read as a person would read it; no source."""

from __future__ import annotations

import pytest

from handbook.domain.opening_thanks import thanked_in, thanks_in_turn
from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import INSTRUMENTS, Family, instrument
from handbook.domain.tables.sections import SECTIONS, section_of

BAND = ("flutes", "horns", "drums")


@pytest.mark.parametrize(
    ("stated", "expected"),
    [
        # Nothing stated: round and round.
        ((None,) * 7, ("flutes", "horns", "drums", "flutes", "horns", "drums", "flutes")),
        # What is stated on the last day counts on the first.
        ((None, None, ["flutes"]), ("horns", "drums", None)),
        # The whole band is thanked: nobody's turn is used up.
        ((None, (), None, None), ("flutes", None, "horns", "drums")),
        # Two at once are two turns.
        ((["horns", "drums"], None, None), (None, "flutes", "horns")),
        # Flutes had more than their share: the others come up to them.
        (
            (["flutes"], None, ["flutes"], None, None, None),
            (None, "horns", None, "drums", "horns", "drums"),
        ),
        # Of those who are due, not whoever is thanked tomorrow anyway.
        ((None, None, None, None, ["flutes"]), ("horns", "drums", "flutes", "horns", None)),
        # Someone who is no section of this band uses up nobody's turn.
        ((["strings"], None), (None, "flutes")),
    ],
)
def test_turns_by_hand(
    stated: tuple[tuple[str, ...] | None, ...], expected: tuple[str | None, ...]
) -> None:
    assert thanks_in_turn(BAND, stated) == expected


def test_whoever_was_left_out_last_cycle_comes_first() -> None:
    assert thanks_in_turn(BAND, [None] * 3, {"flutes": 2, "horns": 1, "drums": 1}) == (
        "horns",
        "drums",
        "flutes",
    )


def test_nobody_is_there_to_be_thanked() -> None:
    assert thanks_in_turn((), [None, None]) == (None, None)


NAMES = {
    "brass": ("brass",),
    "low-brass": ("low brass",),
    "trumpet": ("trumpets",),
    "flute": ("flutes",),
    "horn": ("horns",),
    "librarians": ("music librarians", "librarians"),
}


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        ("Thank you, trumpets, for playing so softly that we heard the flutes.", ("trumpet",)),
        ("Thank you, low brass, for writing in your breath marks.", ("low-brass",)),
        ("Thank you to the Low-Brass and the flutes for coming early.", ("low-brass", "flute")),
        ("Flutes, thank you. The trumpets noticed.", ("flute",)),
        ("Thank you to everyone who brought a horn home.", ()),
        ("Thank you for eight weeks of showing up ready, flutes or no flutes.", ()),
        ("Thank you, music librarians, for checking every folder.", ("librarians",)),
        ("Thank you, brass.", ("brass",)),
        ("Thank you for\nstaying.", ()),
        ("", ()),
    ],
)
def test_whom_a_sentence_thanks(sentence: str, expected: tuple[str, ...]) -> None:
    assert thanked_in(sentence, NAMES) == expected


def test_every_instrument_is_in_one_section_of_its_family() -> None:
    assert sorted(one for those in SECTIONS.values() for one in those) == sorted(
        row.id for row in INSTRUMENTS
    )
    brass = FAMILIES["brass"]
    assert {one for name in ("trumpets", "horns", "low-brass") for one in SECTIONS[name]} == brass
    for those in SECTIONS.values():
        assert len({instrument(one).family for one in those}) == 1
    assert section_of("piano") == "keyboards"
    assert instrument("piano").family is Family.KEYBOARD
    with pytest.raises(ValueError, match="kazoo"):
        section_of("kazoo")
