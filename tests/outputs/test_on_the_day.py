"""Whom to call on the day stands wherever the day is told, and a new number is news.

The numbers are of those that are kept for examples (555-01xx).
"""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest

from handbook.domain.facts import ChangeKind, compare
from handbook.outputs.components.on_the_day import whom_to_call
from handbook.outputs.facts import facts_of
from handbook.outputs.feeds import calendar_events
from handbook.outputs.page import Context
from handbook.outputs.site import Renderer
from handbook.plan.model import CyclePlan, Plan
from handbook.schema.on_the_day import CallOnTheDay
from tests.audit.looking import looked
from tests.audit.looking import page as look
from tests.outputs.concerts import EVENING, evening, page
from tests.outputs.sheets.small_plan import small_plan
from tests.plan.planning import CONCERT, planned, winter

WHOM = "on_the_day: {role: The lead parent, phone: 555-0142}\n"
EVENTS = """events:
  - id: games
    name: Games
    who: [harbor]
    on_the_day: {role: The driver, phone: 555-0143}
    on: [Fri 2026-12-04, {date: Fri 2026-12-11, on_the_day: {role: The coach, phone: (555) 555-0144}}]
"""


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> tuple[Context, CyclePlan]:
    context, cycle, _ = evening(tmp_path_factory.mktemp("told"), EVENING + WHOM)
    return context, cycle


def plain(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def test_a_concerts_pages_and_sheets_say_it(told: tuple[Context, CyclePlan]) -> None:
    context, cycle = told
    words = "On the day, call The lead parent 555-0142"
    rendered = {one.page.path: one for one in Renderer().cycle(context, cycle).pages}
    for path, printed in (("winter/concert/", 2), ("winter/concert/crew/", 1)):
        found = rendered[path]
        assert words in plain(found.middle)
        assert 'href="tel:5550142"' in found.middle
        told_by = [plain(one.html) for one in found.sheets if one.title != "Program"]
        assert sum(words in one for one in told_by) == printed


def test_an_event_says_it_on_its_page_each_day_its_own(tmp_path: Path) -> None:
    plan = planned(tmp_path, {"events.yaml": EVENTS}).plan
    told = {fact.key: fact.value for fact in facts_of(plan) if fact.key.endswith("/on-the-day")}
    assert told == {
        "event/games/2026-12-04/on-the-day": "The driver, 555-0143",
        "event/games/2026-12-11/on-the-day": "The coach, (555) 555-0144",
    }
    (about,) = [
        one.about
        for one in calendar_events(Context(plan, "en"))
        if one.title.startswith("Games") and "2026-12-11" in one.key
    ]
    assert "On the day, call: The coach, (555) 555-0144" in about
    assert "555-0143" not in about
    html = page(Context(plan, "en"), "events/games/").body
    assert re.search(r'The driver, <a [^>]*href="tel:5550143">555-0143</a>', html)


def test_a_new_number_is_news_and_stands_in_the_calendar(
    told: tuple[Context, CyclePlan],
) -> None:
    context, cycle = told
    before = facts_of(context.plan)
    after = facts_of(_with_phone(context.plan, cycle, "555-0145"))
    (change,) = compare(before, after)
    assert change.kind is ChangeKind.ALTERED
    assert (change.old and change.old.value) == "The lead parent, 555-0142"
    assert (change.new and change.new.value) == "The lead parent, 555-0145"
    entries = [one for one in calendar_events(context) if one.title.startswith("Winter <Concert>")]
    assert entries
    assert all("On the day, call: The lead parent, 555-0142" in one.about for one in entries)


def _with_phone(plan: Plan, cycle: CyclePlan, phone: str) -> Plan:
    held = cycle.concerts[0]
    whom = held.item.on_the_day
    assert whom is not None
    item = held.item.model_copy(update={"on_the_day": whom.model_copy(update={"phone": phone})})
    return replace(plan, cycles=(replace(cycle, concerts=(replace(held, item=item),)),))


def test_a_number_that_is_public_on_purpose_is_not_asked_about_twice(tmp_path: Path) -> None:
    files = {"events.yaml": EVENTS, CONCERT: EVENING.replace("green-room", "band-room") + WHOM}
    plan = planned(tmp_path, files).plan
    assert winter(planned(tmp_path, files)).concerts[0].item.on_the_day
    numbers = ("555-0142", "555-0143", "(555) 555-0144", "555-0199")
    found = looked(*(look(f"<p>Call {one}</p>", one[-4:]) for one in numbers), plan=plan)
    assert [(one.concern.code, one.words) for one in found] == [("phone-number", "555-0199")]


def test_a_number_keeps_its_order_among_arabic_letters() -> None:
    """By UAX 9, W2, digits after Arabic letters are turned part by part unless a mark stands between."""
    named = {"en": "The lead parent", "ar": "ولي الأمر"}
    whom = CallOnTheDay.model_validate({"role": named, "phone": "555-0142"})
    context = Context(small_plan(), "ar")
    with context.speaking():
        assert whom_to_call(context, whom).endswith("\u200e555-0142")
