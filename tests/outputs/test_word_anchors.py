"""Every term has a place of its own on the page of words, whatever signs it is made of."""

from __future__ import annotations

import re
from pathlib import Path

from handbook.outputs.i18n import pgettext, speaking
from handbook.pipeline import load_plan, render
from tests.content_folders import base_files, write_folder

TERMS = ("♭", "♯", "main", "q", "letter 1", "!", "B♭", "B", "b", "Forte (f)", "中")


def test_places_on_the_page_of_words_are_named_once_each(tmp_path: Path) -> None:
    files = base_files()
    words = "".join(f"  {term!r}: A word of the trade.\n" for term in TERMS)
    files["program.yaml"] += f"words:\n{words}"
    outcome = load_plan(write_folder(tmp_path, files))
    assert outcome.plan is not None, outcome.problems
    (page,) = [page for page in render(outcome.plan).pages if page.path == "words/"]
    anchors = re.findall(r'\bid="([^"]*)"', page.body)
    assert all(anchors)
    assert len(set(anchors)) == len(anchors)
    assert page.body.count('<div id="') >= len(TERMS)
    assert {f"#{entry.anchor}" for entry in page.search if entry.anchor} <= {
        f"#{anchor}" for anchor in anchors
    }


def test_a_word_has_the_same_place_in_each_language_and_our_name_in_others(tmp_path: Path) -> None:
    files = base_files()
    files["program.yaml"] += "languages: [en, es]\nwords:\n  goal tempo: {en: Fast, es: Veloz}\n"
    outcome = load_plan(write_folder(tmp_path, files))
    assert outcome.plan is not None, outcome.problems
    english, spanish = (
        dict(re.findall(r'<div id="([^"]*)"><dt[^>]*>(.*?)</dt>', page.body))
        for page in render(outcome.plan).pages
        if page.path.endswith("words/")
    )
    assert english.keys() == spanish.keys()
    assert english["goal-tempo"] == "goal tempo"
    with speaking("es"):
        assert spanish["goal-tempo"] == pgettext("term", "Goal tempo") != "Goal tempo"
