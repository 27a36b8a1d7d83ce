"""A band that does not play and is the crew finds the concert among its dates.

Expected words were written by hand from the demo's fall concert: Beacon Band is its stage crew,
called for 5:45 pm, and the crew sets the school's stage.
"""

from __future__ import annotations

import json
import re
from typing import Any

from tests.demo import demo_plan, demo_site

READY = "Stage crew (Beacon Band), be ready at 5:45 pm, School hall, stage"


def told(cycle: str) -> Any:
    script = next(
        file.content.decode() for file in demo_site().files if file.path == f"{cycle}/today.js"
    )
    return json.loads(script[script.index(",") + 1 : script.rindex(")")])


def test_the_first_page_tells_it_when_it_must_be_ready() -> None:
    concert = told("fall-2026")["concerts"]["fall-2026/concert/"]
    assert set(concert) == {"lantern", "harbor", "beacon"}
    crew = concert["beacon"]
    assert crew["ready"] == [READY]
    assert crew["crew"] == "fall-2026/concert/crew/#role-stage-crew"
    assert crew["meet"][0][:4] == [
        "Stage crew (Beacon Band)",
        "crew",
        "5:45 pm",
        "School hall, stage",
    ]
    assert crew["meet"][0][4:6] == ["7:55 pm", "Band Room 112"]
    assert [step[1:3] for step in crew["steps"][-2:]] == [
        ["7:45 pm", "Done"],
        ["7:55 pm", "Pick-up, Band Room 112"],
    ]
    assert crew["steps"][0][2] == "Be ready, School hall, stage"


def test_who_plays_is_told_nothing_of_it() -> None:
    for concert in told("winter-2026")["concerts"].values():
        assert not any("crew" in band for band in concert.values())


def line_of_the_concert(page: str, attribute: str) -> str:
    body = next(one.body for one in demo_site().pages if one.path == page)
    found = re.findall(rf"<li\b{attribute}[^>]*>(?:(?!</li>).)*Fall Concert.*?</li>", body)
    assert len(found) == 1
    return str(found[0])


def test_the_calendar_shows_the_concert_to_that_band() -> None:
    line = line_of_the_concert("calendar/", '.* class="event concert')
    band = [one.id for one in demo_plan().program.ensembles].index("beacon") + 1
    assert f"who-{band}" in line
    assert READY in line


def test_the_first_page_lists_the_concert_for_that_band() -> None:
    assert 'data-who="lantern harbor beacon"' in line_of_the_concert("", " data-concert")


def test_the_family_sheet_has_the_evening_of_that_band() -> None:
    sheet = next(one.body for one in demo_site().pages if one.path == "fall-2026/concert/")
    assert 'data-filter="3" data-band="beacon"> Beacon Band</label>' in sheet
    row = re.search(r'<div id="crew"[^>]*>.*?</div></div>', sheet)
    assert row is not None
    assert 'class="sheet-row call on-crew mine who-3"' in row[0]
    assert " ".join(re.sub("<[^>]*>", " ", row[0]).split()) == (
        "Crew 5:45 pm School hall, stage Stage crew (Beacon Band) done by about 7:45 pm "
        "Stage crew (Beacon Band): only 8 players of Beacon Band. "
        "The band does not play at this concert."
    )
    assert "concert/crew/#role-stage-crew" in row[0]
    assert '<section class="day-card mine who-3" id="day-beacon">' in sheet
    # What players wear and bring is for those who play; one pick-up is stated for all.
    for part in ("attire", "bring"):
        assert f'id="{part}" class="sheet-row mine who-1 who-2"' in sheet
    row = re.search(
        r'<div id="pick-up" class="sheet-row mine who-1 who-2 who-3">.*?</div></div>', sheet
    )
    assert row is not None
    assert " ".join(re.sub("<[^>]*>", " ", row[0]).split()) == "Pick-up 7:55 pm Band Room 112"


def test_nothing_is_marked_where_all_bands_play() -> None:
    sheet = next(one.body for one in demo_site().pages if one.path == "winter-2026/concert/")
    assert 'id="attire" class="sheet-row"' in sheet
    assert "on-crew" not in sheet
