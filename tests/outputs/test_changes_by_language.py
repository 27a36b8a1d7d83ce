"""Changes on the pages of each language: told in it, and marked where they cannot be.

The sentences were written by hand from the edit; days and times are written as in
tests/outputs/test_formats.py.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from handbook.domain.facts import ToldFact
from handbook.outputs.components.concert_words import unended
from handbook.outputs.facts import facts_of
from handbook.outputs.i18n import speaking
from handbook.pipeline import load_plan
from tests.publications import Bytes, MemoryLedger, copied, edit

ONE_BAND = Path(__file__).parents[1] / "sites/one-band/content"
CONCERT = "cycles/spring/concert.yaml"
FIRST, SECOND = (datetime(2027, month, 1, 21, 0, tzinfo=UTC) for month in (2, 3))


def _changed(folder: Path, *, told_before: bool) -> Bytes:
    """Move a concert by ten minutes; before, the site may have had no other language."""
    content = copied(ONE_BAND, folder)
    edit(content / CONCERT, "name: Spring concert", "name: {en: Spring concert, es: Concierto}")
    ledger = MemoryLedger(content)
    ledger.publish(FIRST)
    if not told_before:
        facts = tuple(replace(fact, told=()) for fact in ledger.history.facts)
        ledger.history = replace(ledger.history, facts=facts)
    edit(content / CONCERT, "downbeat: 6:30 pm", "downbeat: 6:40 pm")
    return ledger.publish(SECOND)


def _line(files: Bytes, path: str) -> str:
    found = re.search(r'concert/">(.*?)</a></li>', files[path].decode())
    assert found
    return found[1]


def test_each_language_tells_a_change_in_its_own_words(tmp_path: Path) -> None:
    files = _changed(tmp_path, told_before=True)
    assert _line(files, "changes/index.html") == (
        "Spring concert: now Thu, Apr 8, 6:40 pm, before Thu, Apr 8, 6:30 pm"
    )
    for path in ("es/changes/index.html", "es/index.html"):
        line = _line(files, path)
        assert line.startswith("Concierto: ")
        assert "jue, 8 abr, 6:40 p.\u00a0m." in line
        assert "jue, 8 abr, 6:30 p.\u00a0m." in line
        assert "<span" not in line


def test_what_was_published_before_a_language_was_there_is_marked_as_the_first_ones(
    tmp_path: Path,
) -> None:
    line = _line(_changed(tmp_path, told_before=False), "es/changes/index.html")
    assert "jue, 8 abr, 6:40 p.\u00a0m." in line
    assert '<span lang="en">Thu, Apr 8, 6:30 pm</span>' in line


def test_facts_keep_their_keys_and_values_whatever_language_is_spoken() -> None:
    plan = load_plan(ONE_BAND).plan
    assert plan is not None
    kept = facts_of(plan)
    with speaking("es"):
        assert facts_of(plan) == kept
    assert {one.language for fact in kept for one in fact.told} == {"es"}
    by_key = {fact.key: fact for fact in kept}
    downbeat = by_key["spring/concert/concert"]
    assert downbeat.value == "Thu, Apr 8, 6:30 pm"
    assert downbeat.told == (
        ToldFact("es", "\ue000en\ue001Spring concert\ue002", "jue, 8 abr, 6:30 p.\u00a0m."),
    )


@pytest.mark.parametrize(
    ("words", "open_ended"),
    [
        ("White shirt.", "White shirt"),
        ("6:40 p.\u00a0m.", "6:40 p.\u00a0m."),
        ("Room 5.", "Room 5"),
        ("\ue000en\ue001White shirt.\ue002", "\ue000en\ue001White shirt\ue002"),
    ],
)
def test_a_sentence_goes_on_after_words_without_their_full_stop(
    words: str, open_ended: str
) -> None:
    assert unended(words) == open_ended
