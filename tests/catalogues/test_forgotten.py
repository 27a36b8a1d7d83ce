"""No page of the demo says a word of ours that no catalogue knows."""

from __future__ import annotations

import re
from pathlib import Path

from handbook.pipeline import load_plan
from tests.catalogues.pseudo import forgotten, forgotten_of

CONTENT = Path(__file__).parents[2] / "content"
# Data: addresses of mail, durations and lists of the table of formats, stickings, names of languages in
# themselves, and the demo's percussion player who has one name in all languages.
DATA = re.compile(
    r"\S+@\S+|(?:\d+ (?:h|min|s) ?)+|[lLrR]{2,3}|English|Español|\(Spanish\)|Tiếng Việt|\(Vietnamese\)|العربية|\(Arabic\)|and|ta|,? ?(?:train whistle|suspended cymbal)[ ,;]*"
)
OF_THE_CONTENT = {"free_page", "families"}


def test_every_word_of_ours_is_in_a_message() -> None:
    plan = load_plan(CONTENT).plan
    assert plan
    found = {
        kind: sorted(words for words in counted if not DATA.fullmatch(words))
        for kind, counted in forgotten_of(plan).items()
        if kind not in OF_THE_CONTENT
    }
    assert len(found) > 14, "pages of every kind"
    assert {kind: words for kind, words in found.items() if words} == {}


def test_what_is_forgotten_is_found_seen_or_read_aloud() -> None:
    page = '<p>⟦Said <b>once</b>⟧ ‹Of the content› forgotten <i translate="no">Title</i></p><a aria-label="Close"></a>'
    assert forgotten(page) == ["forgotten", "Close"]
