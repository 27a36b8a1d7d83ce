"""Event data against schema.org's MusicEvent (schema.org/MusicEvent, schema.org/Event).

Property names, expected types and the enumeration members are those of schema.org;
startDate with the offset of the place is ISO 8601 by its text on DateTime.
"""

from __future__ import annotations

import json
import re
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.values.text import Text
from handbook.outputs.html import event_data as module
from handbook.outputs.html.event_data import event_data
from tests.demo import demo_site
from tests.outputs.concerts import evening, main_of, page

# Of schema.org/MusicEvent and what it inherits from Event and Thing: property -> types.
PROPERTIES: dict[str, tuple[type, ...]] = {
    "@context": (str,),
    "@type": (str,),
    "name": (str,),
    "startDate": (str,),
    "endDate": (str,),
    "doorTime": (str,),
    "eventStatus": (str,),
    "eventAttendanceMode": (str,),
    "location": (dict,),
    "organizer": (dict,),
    "performer": (list,),
    "workPerformed": (list,),
    "description": (str,),
    "url": (str,),
    "inLanguage": (str,),
}
INSIDE = {
    "Place": {"name", "address"},
    "Organization": {"name"},
    "MusicGroup": {"name"},
    "MusicComposition": {"name", "creditText"},
}


@pytest.mark.parametrize(("tree", "language"), [("", "en"), ("es/", "es")])
@pytest.mark.parametrize("path", ["winter-2026/concert/", "events/home-games/"])
def test_each_language_has_its_own_address_and_says_which_it_is(
    path: str, tree: str, language: str
) -> None:
    html = next(one.body for one in demo_site().pages if one.path == tree + path)
    (data,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', html, re.DOTALL)
    found = json.loads(data)
    for one in found if isinstance(found, list) else [found]:
        assert one["inLanguage"] == language
        address = one["url"].partition("#")[0]
        assert address == f"https://bands.quillhaven.example/{tree}{path}"


def test_a_site_in_one_language_names_none(event: dict[str, Any]) -> None:
    assert "inLanguage" not in event


@pytest.fixture
def event(tmp_path: Path) -> dict[str, Any]:
    context, _, concert = evening(tmp_path)
    found: dict[str, Any] = json.loads(event_data(context, concert, "winter/concert/"))
    return found


def test_every_property_is_one_of_schema_org(event: dict[str, Any]) -> None:
    assert event["@context"] == "https://schema.org"
    assert event["@type"] == "MusicEvent"
    for name, value in event.items():
        assert isinstance(value, PROPERTIES[name]), name
    for part in (
        event["location"],
        event["organizer"],
        *event["performer"],
        *event["workPerformed"],
    ):
        assert set(part) - {"@type"} <= INSIDE[part["@type"]]


def test_what_validators_ask_for_at_least_is_there(event: dict[str, Any]) -> None:
    assert {"@context", "@type", "name", "startDate", "location"} <= set(event)
    assert event["location"] == {
        "@type": "Place",
        "name": "Great Hall",
        "address": "12 Quill Street",
    }


def test_times_carry_their_offset(event: dict[str, Any]) -> None:
    # Central Standard Time is 6 hours behind UTC (15 U.S.C. 261).
    assert event["startDate"] == "2026-12-10T19:00:00-06:00"
    assert event["doorTime"] == "2026-12-10T18:40:00-06:00"
    # 12 min 9 s of program, shown to the minute.
    assert event["endDate"] == "2026-12-10T19:12:00-06:00"
    assert datetime.fromisoformat(event["endDate"]) > datetime.fromisoformat(event["startDate"])


def test_the_enumerations_are_schema_orgs(event: dict[str, Any]) -> None:
    assert event["eventStatus"] == "https://schema.org/EventScheduled"
    assert event["eventAttendanceMode"] == "https://schema.org/OfflineEventAttendanceMode"


def test_who_plays_what(event: dict[str, Any]) -> None:
    assert [group["name"] for group in event["performer"]] == ["Harbor Band", "Lantern Band"]
    assert [work["name"] for work in event["workPerformed"]] == ["Tweed Kites", "Button Comets"]


def test_the_block_on_the_page_holds_the_same_event(tmp_path: Path, event: dict[str, Any]) -> None:
    context, _, _ = evening(tmp_path / "again")
    main = main_of(page(context, "winter/concert/"))
    (block,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', main, re.DOTALL)
    assert json.loads(block) == event
    assert not re.search(r"[<>&]", block)


@given(st.text(max_size=40) | st.sampled_from(["</script>", "<!--", "\u2028", "]]>", "&lt;"]))
def test_no_text_can_leave_its_block(words: str) -> None:
    # HTML Standard 4.12.1.3: a script's text may hold neither `</script` nor `<!--`.
    said = json.dumps({"name": Text.plain(words).read()}, ensure_ascii=False)
    written = said.translate(module._ESCAPES)
    assert not set("<>&\u2028\u2029") & set(written)
    assert json.loads(written) == {"name": words}
