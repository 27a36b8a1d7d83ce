"""Search answers families in their own language, as they type it, and reads what has no spaces."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.links import leads_nowhere
from tests.browser.queries_by_language import BY_LANGUAGE
from tests.browser.test_search import answer, answers
from tests.browser.visits import OpenTab, visiting

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module", params=BY_LANGUAGE)
def language(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def asking(browser: Browser, site: str, language: str) -> Iterator[OpenTab]:
    """A tab with the search of a language open."""
    with visiting(browser, f"{site}{language}/") as visit:
        visit.go("past/").locator("[data-open-search]").click()  # a small page, quickly drawn
        yield visit


def test_each_answer_is_among_the_first_three(asking: OpenTab, language: str) -> None:
    missed = {}
    for query in BY_LANGUAGE[language]:
        found = [url.removeprefix(asking.base) for url in answers(asking.page, query.typed)]
        if not set(found[:3]) & set(query.answers):
            missed[query.typed] = found[:6]
    assert missed == {}


# What stands above the list begins like this, or is the time or number in it.
ANSWERED = {
    "es": {
        "recoger": "Hora de recoger: 9:00 p.\u00a0m., Zona de autobuses",
        "¿A qué hora es el concierto?": "Concierto de invierno: jueves, 17 de diciembre de 2026, 7:00",
        "hora de llegada": "En el autobús: 5:20 p.\u00a0m., Zona de autobuses",
        "vacaciones": "No hay clases: Vacaciones de Acción de Gracias",
        "telefono": "Oficina de la banda · 555-0100",
    },
    "vi": {
        "mấy giờ đón": "Đón học sinh: 21:00",
        "hoa nhac": "Thứ Năm, 17 tháng 12, 2026, 19:00, Quillhaven Civic Hall",
        "xe buyt": "Có mặt tại xe buýt: 17:20",
        "nghỉ học": "Th 4, 25 thg 11 – Th 6, 27 thg 11",
        "dien thoai": "555-0100",
    },
    "ar": {
        "متى استلام الطلاب": "استلام الطلاب: 9:00 م",
        "متى الحفل": "الخميس، 17 ديسمبر 2026، 7:00 م، Quillhaven Civic Hall",
        "الحافله": "الحضور عند الحافلة: 5:20 م",
        "عطله": "الأربعاء، 25 نوفمبر إلى الجمعة، 27 نوفمبر",
        "رقم هاتف المكتب": "555-0100",
    },
}

PLAIN = {0x00A0: " ", 0x200F: None}  # a mark of direction is not seen


def test_a_question_with_one_answer_has_it_above_the_list(asking: OpenTab, language: str) -> None:
    for typed, wanted in ANSWERED[language].items():
        found = " ".join(answer(asking.page, typed)).translate(PLAIN)
        assert wanted.replace("\u00a0", " ") in found, typed


def test_every_expected_answer_is_an_address_of_the_tree(demo: Path, language: str) -> None:
    wanted = {f"{language}/{one}" for query in BY_LANGUAGE[language] for one in query.answers}
    assert [one for one in sorted(wanted) if leads_nowhere(demo, "", one)] == []


READ = {
    # Signs that one letter may have: without them (common practice, no source).
    "Buổi hòa nhạc": ["buoi", "hoa", "nhac"],
    "đón": ["don"],
    "estación": ["estacion"],
    "kreyòl ayisyen": ["kreyol", "ayisyen"],
    "الحَفْلة": ["حفله"],
    "إلى أين": ["الي", "اين"],
    # In Chinese each two neighbors are a word; Latin letters and digits beside them stay whole.
    "音乐会": ["音乐", "乐会"],
    "接": ["接"],
    "几点到Band教室": ["几点", "点到", "band", "教室"],
    # Measures, notes, digits, as these languages write them.
    "第14小节": ["m14"],
    "mezi 9 rive 16": ["m9", "m16"],
    "ô nhịp 9–16": ["m9", "m16"],
    "ô 14": ["m14"],
    "cc. 9–16": ["m9", "m16"],
    "م. 9 إلى 16": ["m9", "m16"],
    "المازورة ١٤": ["m14"],
    "降B": ["bb"],
    "升F": ["f#"],
    "si♭": ["bb"],
    "Si bemol": ["bb"],
    "fa sostenido": ["f#"],
    "si giáng": ["bb"],
    "fa thăng": ["f#"],
    "mi bemòl": ["eb"],
    "سي بيمول": ["bb"],
    "B flat": ["bb"],
    "si la sol": ["si", "la", "sol"],
}


def test_words_are_read_alike_however_they_are_typed(browser: Browser, site: str) -> None:
    """The script's own reading, of languages that the demo has no tree for as well."""
    with visiting(browser, site) as visit:
        page = visit.go("past/")
        read = page.evaluate("texts => texts.map((text) => words(text))", list(READ))
        assert dict(zip(READ, read, strict=True)) == READ


@pytest.mark.parametrize(
    ("typed", "telling"),
    [
        ("音乐会几点", ["音乐", "乐会", "会几"]),
        ("ki le konsè a ye", ["konse", "ye"]),
        ("a qué hora", ["a", "que", "hora"]),  # nothing else is asked for
        ("concert in may", ["concert", "may"]),
    ],
)
def test_words_that_any_question_has_tell_nothing(
    browser: Browser, site: str, typed: str, telling: list[str]
) -> None:
    with visiting(browser, site) as visit:
        assert visit.go("past/").evaluate("text => queryWords(text)", typed) == telling
