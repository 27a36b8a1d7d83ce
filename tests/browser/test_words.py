"""How scripts speak the page's language, in a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from gettext import NullTranslations

import pytest
from playwright.sync_api import Browser, Page

from handbook.outputs.i18n.formats import formats, written
from handbook.outputs.i18n.scripts import script_words
from handbook.resources import templates_folder
from tests.outputs.test_script_words import ARABIC, catalogue_of

pytestmark = pytest.mark.browser

LANGUAGES = ("en", "es", "vi", "ar", "zh-hans", "ht")
DAYS = (date(2026, 12, 17), date(2027, 1, 3), date(2027, 8, 30))
PATTERNS = {
    "shortDay": "short_day",
    "monthDay": "month_day",
    "monthDayYear": "month_day_year",
    "fullDay": "full_day",
}
# Unicode CLDR 47 for es-US, vi, ar, zh-Hans (its skeleton MMMMEEEEd); Haitian Creole common
# practice of US school districts, no source.
FULL_DAYS = {
    "en": "Thursday, December 17",
    "es": "jueves, 17 de diciembre",
    "vi": "Thứ Năm, 17 tháng 12",
    "ar": "الخميس، 17 ديسمبر",
    "zh-hans": "12月17日星期四",
    "ht": "jedi 17 desanm",
}


@contextmanager
def saying(browser: Browser, code: str, known: NullTranslations | None = None) -> Iterator[Page]:
    """Give an empty page on which scripts speak a language."""
    helpers = templates_folder() / "joined" / "first.js" / "05-words.js"
    words = script_words(code, known or NullTranslations())
    page = browser.new_page()
    page.add_script_tag(content=words + helpers.read_text("utf-8"))
    yield page
    page.close()


@pytest.mark.parametrize("code", LANGUAGES)
def test_days_are_written_as_on_the_page(browser: Browser, code: str) -> None:
    """`written` is held to a table of CLDR by tests/outputs/test_formats.py."""
    with saying(browser, code) as page:
        for day in DAYS:
            for name, field in PATTERNS.items():
                told = page.evaluate("([day, name]) => writtenDay(day, name)", [f"{day}", name])
                assert told == written(day, getattr(formats(code), field), code), name
        assert page.evaluate("writtenDay('2026-12-17', 'fullDay')") == FULL_DAYS[code]


def test_a_number_asks_for_the_form_that_its_language_has(browser: Browser) -> None:
    known = catalogue_of(ARABIC)
    numbers = [*range(130), 200, 1000, 1_000_000]
    with saying(browser, "ar", known) as page:
        script = (
            "(numbers) => numbers.map((n) => ngettext('in %(num)s day', 'in %(num)s days', n, {}))"
        )
        told = page.evaluate(script, numbers)
    assert told == [known.ngettext("in %(num)s day", "in %(num)s days", n) for n in numbers]
    assert {told[0], told[1], told[2], told[3], told[11], told[100]} == {
        *("zero", "one", "two", "few", "many", "other")
    }


def test_what_a_language_lacks_is_said_in_english(browser: Browser) -> None:
    with saying(browser, "ar", catalogue_of(ARABIC)) as page:
        assert page.evaluate("[gettext('today'), pgettext('cycles', 'Now')]") == ["اليوم", "الآن"]
        assert page.evaluate("gettext('Stopped')") == "Stopped"
        found = "[1, 2].map((n) => ngettext('%(num)s minute', '%(num)s minutes', n))"
        assert page.evaluate(found) == ["1 minute", "2 minutes"]


def test_values_stand_where_the_message_wants_them(browser: Browser) -> None:
    shown = """
    () => {
      const bold = element("b", "", "5");
      const line = element("p", "", gettext("%(b)s of %(a)s, 100 %%", { a: "<i>", b: bold }));
      return [line.outerHTML, gettext("%(a)s of %(a)s", { a: 2 }), besides("", "a", null, "b"), besides()];
    }
    """
    with saying(browser, "en") as page:
        assert page.evaluate(shown) == [
            "<p><b>5</b> of &lt;i&gt;, 100 %</p>",
            "2 of 2",
            "a, b",
            "",
        ]


def test_a_sentence_ends_with_one_period(browser: Browser) -> None:
    """The short names of Haitian months end with one; as gettext of handbook/outputs/i18n does it."""
    with saying(browser, "ht") as page:
        assert page.evaluate(
            "(day) => gettext('%(cycle)s begins %(day)s. %(day)s.', { cycle: 'A', day: writtenDay(day, 'shortDay') })",
            "2026-12-17",
        ) == ("A begins jed. 17 des. jed. 17 des.")
        bold = "element('p', '', gettext('%(day)s.', { day: element('b', '', 'des.') })).outerHTML"
        assert page.evaluate(bold) == "<p><b>des.</b></p>"
        assert page.evaluate("gettext('%(a)s... %(a)s./', { a: 'x.' })") == "x.... x../"


def test_a_text_in_another_language_tells_which_on_the_page(browser: Browser) -> None:
    """The marks are those of handbook/outputs/i18n/other_language.py."""
    marked = "\ue000en\ue001Band room\ue002"
    with saying(browser, "ar") as page:
        html = page.evaluate("(text) => element('p', '', besides(text, 'x')).outerHTML", marked)
        assert html == '<p><span lang="en" dir="auto">Band room</span>، x</p>'
        assert page.evaluate("(text) => unmarked(text)", f"a {marked}") == "a Band room"
