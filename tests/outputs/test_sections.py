"""A section that rehearses by itself is told to its players, and the whole band on the agenda.

Expected words were written by hand from the entry below.
"""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path

import pytest

from handbook.outputs.model import Site
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


def site_with(folder: Path, entry: str) -> Site:
    files = changed(
        base_files(),
        "program.yaml",
        "    name: Band room\n",
        "    name: Band room\n  - {id: choir-room, name: Choir room, directions: Past the gym}\n",
    )
    files = changed(files, CYCLE, "stages:\n", entry)
    files = changed(files, MUSIC, "name: Opening\n", "name: Opening\n        who: [clarinet]\n")
    return site_of(planned(folder, files).plan)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Site:
    return site_with(tmp_path_factory.mktemp("content"), ENTRY)


@pytest.fixture(scope="module")
def pages(site: Site) -> dict[str, str]:
    return {page.path: page.body for page in site.pages}


def words(html: str) -> str:
    """Give the text of a page in one line, as it is read."""
    text = " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())
    return re.sub(r" (?=[:;,])", "", text)


def part(pages: dict[str, str], instrument: str) -> str:
    html = next(text for path, text in pages.items() if f"lantern/part/{instrument}/" in path)
    found = re.search(r'<details class="fold" id="sectionals"[^>]*>.*?</details>', html, re.DOTALL)
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


def rooms_on_today(site: Site) -> list[object]:
    """Give what the first page is told of the evening of November 3: its room, and those apart."""
    script = next(
        file.content.decode() for file in site.files if file.content.startswith(b"handbookToday(")
    )
    told = json.loads(script[script.index(",") + 1 : script.rindex(")")])
    evening = next(day for day in told["bands"]["lantern"]["days"] if "6:30" in day[2])
    return [told["texts"][evening[6]], *evening[9:]]


def test_the_first_page_knows_the_room_of_each_section_and_its_parts(site: Site) -> None:
    assert rooms_on_today(site) == [
        "",
        [
            [
                "High winds: Choir room",
                "Your section works on The chase and Opening.",
                ["flute", "clarinet"],
            ],
            ["Trumpets: Band room", "", ["trumpet"]],
        ],
    ]


def test_the_calendar_names_the_room_of_each_section(pages: dict[str, str]) -> None:
    line = words(pages["calendar/"])
    assert "6:30–7:30 pm Lantern Band Sectionals · High winds: Choir room · Trumpets: Band" in line


def test_the_bands_page_names_the_room_of_each_section(pages: dict[str, str]) -> None:
    page = pages["winter/lantern/"]
    found = re.search(r'<p data-from="2026-11-03".*?</p>', page, re.DOTALL)
    assert found
    told = words(found[0])
    assert "6:30–7:30 pm Sectionals." in told
    assert told.endswith("High winds: Choir room Trumpets: Band room")


def test_a_players_fold_goes_after_the_last_section(pages: dict[str, str]) -> None:
    """Shown before the day and on it by `data-show`, as `phaseOf` in 30-day.js reads it."""
    assert 'data-show="before on" data-start="2026-11-03" data-end="2026-11-03">' in part(
        pages, "clarinet"
    )


def test_who_is_in_no_section_stays_in_the_room_of_the_rehearsal(tmp_path: Path) -> None:
    site = site_with(tmp_path, ENTRY.replace("[flute, clarinet]", "[flute]"))
    _, apart = rooms_on_today(site)
    assert isinstance(apart, list)
    assert apart[-1] == ["All other players: Band room", "", ["clarinet"]]


def test_sections_in_the_room_of_the_rehearsal_are_not_told_apart(tmp_path: Path) -> None:
    site = site_with(tmp_path, ENTRY.replace("        room: choir-room\n", ""))
    assert rooms_on_today(site) == ["Band room"]
