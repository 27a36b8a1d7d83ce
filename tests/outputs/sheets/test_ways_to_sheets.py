"""Pages from which a family finds the sheets, and whether what they lead to is there."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from functools import cache

import pytest

from handbook.domain.values.text import Text
from handbook.outputs.site import MadePage
from handbook.plan.model import Plan
from tests.outputs.sheets.small_plan import small_plan
from tests.outputs.sheets.small_site import pages_in

LANGUAGES = ("en", "ar", "zh-Hans")


@cache
def pages(language: str) -> tuple[MadePage, ...]:
    return tuple(pages_in(replace(small_plan(), languages=LANGUAGES), language))


def called_off() -> Plan:
    """Give the plan with all its concerts cancelled."""
    plan = small_plan()
    off = {"cancelled": Text.plain("A storm")}
    return replace(
        plan,
        cycles=tuple(
            replace(
                cycle,
                concerts=tuple(
                    replace(one, item=one.item.model_copy(update=off)) for one in cycle.concerts
                ),
            )
            for cycle in plan.cycles
        ),
    )


def led_to(found: Iterable[MadePage], path: str) -> set[str]:
    """Give the sheets that a page leads to."""
    (page,) = (one for one in found if one.page.path == path)
    return {link.lstrip("./") for link in re.findall(r'href="([^"]*[.]pdf)"', page.middle)}


def made_in(language: str) -> set[str]:
    """Give the addresses of all sheets, below the root of their language."""
    tree = "" if language == "en" else f"{language}/"
    return {one.path.removeprefix(tree) for page in pages(language) for one in page.sheets}


@pytest.mark.parametrize("language", ["en", "ar"])
def test_the_page_for_families_leads_to_all_sheets_of_concerts_and_months(language: str) -> None:
    wanted = {one for one in made_in(language) if re.search("-family-|-program-|calendar-", one)}
    assert len(wanted) > 4
    assert led_to(pages(language), "families/") == wanted


@pytest.mark.parametrize("language", ["en", "ar"])
def test_a_band_leads_to_the_sheet_of_its_families_and_to_its_months(language: str) -> None:
    end = f"-{language}.pdf"
    found = led_to(pages(language), "winter/ferry/")
    assert {one for one in found if "calendar" not in one} == {
        f"winter/concert/winter-family-ferry{end}"
    }
    # The cycle is from October 19 to the concert of December 10, as its content says.
    assert {one for one in found if "calendar" in one} == {
        f"calendar/calendar-2026-{month}{end}" for month in (10, 11, 12)
    }
    assert found <= made_in(language)


def test_a_concert_leads_to_its_program_from_its_head() -> None:
    (page,) = (one for one in pages("en") if one.page.path == "winter/concert/")
    head = page.middle[: page.middle.index('class="sheet"')]
    assert "winter/concert/winter-program-en.pdf" in head


def test_families_are_led_to_the_pages_that_have_more_sheets() -> None:
    (page,) = (one for one in pages("en") if one.page.path == "families/")
    listed = page.middle[page.middle.index('id="print"') :]
    for path, words in (
        ("winter/ferry/", "Ferry Band: Choose your instrument"),
        ("winter/concert/crew/", "Crew, Winter"),
    ):
        assert re.search(rf'href="[./]*{path}">{words}', listed), path


def test_today_leads_to_all_sheets() -> None:
    (today,) = (one for one in pages("en") if one.page.kind == "today")
    assert 'href="./families/#print"' in today.middle


def test_no_page_leads_to_a_sheet_that_a_language_has_no_letters_for() -> None:
    assert made_in("zh-Hans") == set()
    for page in pages("zh-Hans"):
        assert ".pdf" not in page.middle, page.page.path
        assert "#print" not in page.middle, page.page.path


def test_no_page_leads_to_a_sheet_of_a_concert_that_is_cancelled() -> None:
    found = pages_in(called_off(), "en")
    assert not any(re.search("-(family|program)-", one.middle) for one in found)
    assert led_to(found, "families/")  # months are there
