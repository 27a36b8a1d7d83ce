"""A section that rehearses by itself is told to its players, and the whole band on the agenda.

Expected words were written by hand from the entry below.
"""

from __future__ import annotations

import re
from html import unescape

import pytest

from tests.content_folders import base_files, changed
from tests.outputs.rendering import site_of
from tests.plan.planning import CYCLE, MUSIC, planned

ENTRY = """\
extra:
  - ensemble: lantern
    date: Tue 2026-11-03
    start: 6:30 pm
    end: 7:30 pm
    kind: sectional
    sections:
      high-winds:
        who: [flute, clarinet]
        room: choir-room
        passages: [{passage: chase, minutes: 25}, opening]
      brass:
        name: Trumpets
        who: [trumpet]
stages:
"""


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    files = changed(
        base_files(),
        "program.yaml",
        "    name: Band room\n",
        "    name: Band room\n  - {id: choir-room, name: Choir room, directions: Past the gym}\n",
    )
    files = changed(files, CYCLE, "stages:\n", ENTRY)
    files = changed(files, MUSIC, "name: Opening\n", "name: Opening\n        who: [clarinet]\n")
    site = site_of(planned(tmp_path_factory.mktemp("content"), files).plan)
    return {page.path: page.body for page in site.pages}


def words(html: str) -> str:
    """Give the text of a page in one line, as it is read."""
    text = " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())
    return re.sub(r" (?=[:;,])", "", text)


def part(pages: dict[str, str], instrument: str) -> str:
    html = next(text for path, text in pages.items() if f"lantern/part/{instrument}/" in path)
    found = re.search(r'<details class="fold" id="sectionals">.*?</details>', html, re.DOTALL)
    return found[0] if found else ""


def test_players_are_told_when_where_and_on_what(pages: dict[str, str]) -> None:
    assert words(part(pages, "clarinet")) == (
        "Your section's rehearsal Tue, Nov 3 Tue, Nov 3, 6:30–7:30 pm: High winds in Choir room: "
        "The chase Button Comets, mm. 17–24, 25 minutes; Opening Button Comets, mm. 1–8 "
        "Past the gym"
    )
    assert 'data-day="2026-11-03"' in part(pages, "clarinet")


def test_a_section_without_a_room_is_where_the_rehearsal_is(pages: dict[str, str]) -> None:
    assert "Trumpets in Band room" in words(part(pages, "trumpet"))
    assert "High winds" not in part(pages, "trumpet")


def test_a_passage_is_a_link_only_where_the_part_has_it(pages: dict[str, str]) -> None:
    assert part(pages, "clarinet").count('href="#') == 2
    flute = part(pages, "flute")
    assert flute.count('href="#') == 1
    assert "Opening" in flute


def test_the_agenda_has_every_section_with_its_instruments(pages: dict[str, str]) -> None:
    agenda = words(next(text for path, text in pages.items() if path.endswith("/lantern/")))
    assert "High winds in Choir room: The chase" in agenda
    assert "Flute, Clarinet Trumpets in Band room Trumpet" in agenda


def test_other_bands_hear_nothing_of_it(pages: dict[str, str]) -> None:
    assert not any(
        "sectionals" in text or "High winds" in text
        for path, text in pages.items()
        if "harbor/" in path
    )
