"""Families of instruments: common practice, no source."""

from __future__ import annotations

import pytest

from handbook.domain.tables.families import FAMILIES
from handbook.domain.tables.instruments import INSTRUMENTS

IDS = {row.id for row in INSTRUMENTS}


@pytest.mark.parametrize("family", FAMILIES)
def test_every_member_is_in_the_table(family: str) -> None:
    assert FAMILIES[family]
    assert FAMILIES[family] <= IDS


@pytest.mark.parametrize(
    ("family", "inside", "outside"),
    [
        ("winds", "flute bassoon alto-saxophone horn tuba", "string-bass snare-drum piano"),
        ("woodwinds", "piccolo oboe bass-clarinet tenor-saxophone", "trumpet glockenspiel"),
        ("high-woodwinds", "flute oboe clarinet", "alto-saxophone bassoon"),
        ("low-woodwinds", "bassoon bass-clarinet baritone-saxophone", "clarinet tuba"),
        ("brass", "trumpet cornet horn trombone euphonium tuba", "alto-saxophone"),
        ("high-brass", "trumpet cornet flugelhorn horn mellophone", "trombone"),
        ("low-brass", "trombone bass-trombone euphonium euphonium-treble-clef tuba", "horn"),
        ("clarinets", "clarinet e-flat-clarinet contra-alto-clarinet", "bassoon"),
        ("saxophones", "soprano-saxophone baritone-saxophone", "clarinet"),
        ("double-reeds", "oboe english-horn bassoon", "clarinet"),
        ("percussion", "snare-drum timpani glockenspiel drum-set percussion", "piano harp"),
        ("mallets", "glockenspiel xylophone marimba chimes", "timpani snare-drum"),
        ("unpitched-percussion", "snare-drum drum-set cymbals percussion", "timpani marimba"),
        ("strings", "string-bass electric-bass harp", "piano"),
    ],
)
def test_who_belongs_to_a_family(family: str, inside: str, outside: str) -> None:
    assert set(inside.split()) <= FAMILIES[family]
    assert not set(outside.split()) & FAMILIES[family]


def test_every_wind_is_a_woodwind_or_brass() -> None:
    assert FAMILIES["winds"] == FAMILIES["woodwinds"] | FAMILIES["brass"]
    assert FAMILIES["brass"] == FAMILIES["high-brass"] | FAMILIES["low-brass"]
