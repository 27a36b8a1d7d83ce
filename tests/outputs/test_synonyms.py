"""Words that readers type for what a page calls otherwise (common practice, no source)."""

from __future__ import annotations

import pytest

from handbook.outputs.i18n import speaking
from handbook.outputs.search.synonyms import synonyms


@pytest.mark.parametrize(
    ("title", "typed"),
    [
        ("Attire, Winter Concert", "wear"),
        ("Attire, Winter Concert", "ropa"),
        ("Winter Concert", "concierto"),
        ("ready in the room", "arrive"),
        ("be at the bus", "llegar"),
        ("Attendance", "absent"),
        ("What to do when you miss a rehearsal", "sick"),
        ("Hearing care", "earplugs"),
        ("Sight-reading: Look first", "sightreading"),
        ("For families", "phone"),
        ("fermata", "hold"),
        ("decrescendo", "softer"),
    ],
)
def test_the_typed_word_is_added(title: str, typed: str) -> None:
    assert typed in synonyms(title).split()


@pytest.mark.parametrize(
    ("title", "not_typed"),
    [
        ("decrescendo", "louder"),  # though `crescendo` is a part of it
        ("The Toneless Song", "sound"),
        ("Sleds on Mitten Hill", "concierto"),
    ],
)
def test_only_whole_words_call_for_it(title: str, not_typed: str) -> None:
    assert not_typed not in synonyms(title).split()


def test_a_title_without_any_gets_none() -> None:
    assert synonyms("Ferry in First Snow") == ""


def test_in_chinese_a_word_needs_no_space_before_or_after_it() -> None:
    with speaking("zh-Hans"):
        assert "带什么" in synonyms("10月12日要携带的物品").split()
