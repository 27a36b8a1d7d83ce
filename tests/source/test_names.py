"""The name that was probably meant, and names in a sentence."""

from __future__ import annotations

import pytest

from handbook.source.names import listed, nearest
from handbook.source.quoting import in_quotes


@pytest.mark.parametrize(
    ("name", "known", "meant"),
    [
        ("gaol", ["goal", "name", "measures"], ("goal",)),
        ("time-zone", ["time_zone", "name"], ("time_zone",)),
        ("Time Zone", ["time_zone", "name"], ("time_zone",)),
        ("bandroom", ["band-room", "hall"], ("band-room",)),
        ("2026", ["2026-27", "2027-28"], ("2026-27", "2027-28")),
        ("clarinets", ["bass-clarinet", "clarinet", "flute"], ("clarinet", "bass-clarinet")),
        ("tuba", ["flute", "oboe"], ()),
        ("", ["flute"], ()),
        ("flute", [], ()),
    ],
)
def test_the_nearest_names_come_first(name: str, known: list[str], meant: tuple[str, ...]) -> None:
    assert nearest(name, known) == meant


def test_no_more_names_are_given_than_asked() -> None:
    assert len(nearest("band-1", [f"band-{n}" for n in range(20)])) == 3
    assert len(nearest("band-1", [f"band-{n}" for n in range(20)], most=1)) == 1


@pytest.mark.parametrize(
    ("names", "text"),
    [
        ([], ""),
        (["a"], "`a`"),
        (["a", "b"], "`a` and `b`"),
        (["a", "b", "c"], "`a`, `b` and `c`"),
    ],
)
def test_names_are_listed_as_a_person_would(names: list[str], text: str) -> None:
    assert listed(names) == text


@pytest.mark.parametrize(
    ("text", "quoted"),
    [
        ("Concert: Winter", '"Concert: Winter"'),
        ("Don't", '"Don\'t"'),
        ('the "best"', "'the \"best\"'"),
        ('Don\'t say "no"', '"Don\'t say \\"no\\""'),
        ("C:\\music", "'C:\\music'"),
    ],
)
def test_quotes_fit_the_text(text: str, quoted: str) -> None:
    assert in_quotes(text) == quoted
