"""Every term has a place of its own on the page of words, whatever signs it is made of."""

from __future__ import annotations

import re
from pathlib import Path

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
