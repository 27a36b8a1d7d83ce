"""Dates, times, lists and durations by language: a table that was read line by line.

Source: Unicode CLDR 47 as Babel 2.18 has it, for es-US, vi, ar, zh-Hans; the days and months of
Haitian Creole are common practice of US school districts, no source (CLDR has them in French).
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from datetime import UTC, date, datetime

import pytest

from handbook.outputs.html import formatting
from handbook.outputs.i18n import speaking
from handbook.outputs.i18n.formats import (
    REVIEWED,
    day_and_clock,
    days,
    formats,
    names,
    with_clauses,
    with_commas,
    with_semicolons,
)

CONCERT = date(2026, 12, 17)  # a Thursday
SUNDAY = date(2027, 1, 3)
LANGUAGES = ("en", "es", "vi", "ar", "zh-hans", "ht")


def at(hour: int, minute: int) -> datetime:
    return datetime(2026, 12, 17, hour, minute, tzinfo=UTC)


TABLE: dict[str, tuple[Callable[[], str], tuple[str, ...]]] = {
    "short day": (
        lambda: formatting.short_day(CONCERT),
        ("Thu, Dec 17", "jue, 17 dic", "Th\u00a05, 17\u00a0thg\u00a012", "الخميس، 17 ديسمبر", "12月17日周四", "jed. 17 des."),
    ),
    "short Sunday": (
        lambda: formatting.short_day(SUNDAY),
        ("Sun, Jan 3", "dom, 3 ene", "CN, 3\u00a0thg\u00a01", "الأحد، 3 يناير", "1月3日周日", "dim. 3 janv."),
    ),
    "long day": (
        lambda: formatting.long_day(CONCERT),
        (
            "Thursday, December 17, 2026",
            "jueves, 17 de diciembre de 2026",
            "Thứ Năm, 17 tháng 12, 2026",
            "الخميس، 17 ديسمبر 2026",
            "2026年12月17日星期四",
            "jedi 17 desanm 2026",
        ),
    ),
    "month and day": (
        lambda: formatting.month_day(CONCERT),
        ("Dec 17", "17 dic", "17\u00a0thg\u00a012", "17 ديسمبر", "12月17日", "17 des."),
    ),
    "with the year": (
        lambda: formatting.month_day_year(CONCERT),
        ("Dec 17, 2026", "17 dic 2026", "17\u00a0thg\u00a012, 2026", "17 ديسمبر 2026", "2026年12月17日", "17 des. 2026"),
    ),
    "month": (
        lambda: formatting.month(CONCERT),
        ("December 2026", "diciembre de 2026", "tháng 12 năm 2026", "ديسمبر 2026", "2026年12月", "desanm 2026"),
    ),
    "evening": (
        lambda: formatting.clock(at(18, 30)),
        ("6:30 pm", "6:30 p.\u00a0m.", "18:30", "6:30 م", "18:30", "6:30 pm"),
    ),
    "morning": (
        lambda: formatting.clock(at(9, 5)),
        ("9:05 am", "9:05 a.\u00a0m.", "09:05", "9:05 ص", "09:05", "9:05 am"),
    ),
    "noon": (
        lambda: formatting.clock(at(12, 0)),
        ("noon", "12:00 del mediodía", "12:00", "12:00 ظهرًا", "12:00", "midi"),
    ),
    "span": (
        lambda: formatting.span(at(9, 11), at(9, 58)),
        ("9:11–9:58 am", "9:11–9:58 a.\u00a0m.", "09:11–09:58", "9:11 إلى 9:58 ص", "09:11–09:58", "9:11–9:58 am"),
    ),
    "span over noon": (
        lambda: formatting.span(at(11, 30), at(12, 10)),
        (
            "11:30 am–12:10 pm",
            "11:30 a.\u00a0m.–12:10 p.\u00a0m.",
            "11:30–12:10",
            "11:30 ص إلى 12:10 م",
            "11:30–12:10",
            "11:30 am–12:10 pm",
        ),
    ),
    "duration": (
        lambda: formatting.duration(3805),
        ("1 h 3 min 25 s", "1 h 3 min 25 s", "1 giờ 3 phút 25 giây", "1 س 3 د 25 ث", "1小时3分钟25秒", "1 h 3 min 25 s"),
    ),
    "in full": (
        lambda: formatting.full_duration(125),
        ("2 minutes 5 seconds", "2 minutos 5 segundos", "2 phút 5 giây", "دقيقتان 5 ثوان", "2分钟5秒", "2 minit 5 segond"),
    ),
    "one minute": (
        lambda: formatting.whole_minutes(61),
        ("1 minute", "1 minuto", "1 phút", "دقيقة", "1分钟", "1 minit"),
    ),
    "eleven minutes": (
        lambda: formatting.whole_minutes(660),
        ("11 minutes", "11 minutos", "11 phút", "11 دقيقة", "11分钟", "11 minit"),
    ),
    "three names": (
        lambda: formatting.listed(("A", "B", "C")),
        ("A, B and C", "A, B y C", "A, B và C", "A وB وC", "A、B和C", "A, B ak C"),
    ),
    "numbers": (
        lambda: with_commas(("96", "100")),
        ("96, 100", "96, 100", "96, 100", "96، 100", "96、100", "96, 100"),
    ),
    "facts": (
        lambda: with_clauses(("Hall", "12 Lake Street")),
        (
            "Hall, 12 Lake Street",
            "Hall, 12 Lake Street",
            "Hall, 12 Lake Street",
            "Hall، 12 Lake Street",
            "Hall，12 Lake Street",  # GB/T 15834-2011: 、 parts the words of a list alone
            "Hall, 12 Lake Street",
        ),
    ),
    "with commas of their own": (
        lambda: with_semicolons(("A, B", "C")),
        ("A, B; C", "A, B; C", "A, B; C", "A, B؛ C", "A, B；C", "A, B; C"),
    ),
    "days": (
        lambda: days(CONCERT, date(2026, 12, 18)),
        (
            "Thu, Dec 17 – Fri, Dec 18",
            "jue, 17 dic – vie, 18 dic",
            "Th\u00a05, 17\u00a0thg\u00a012 – Th\u00a06, 18\u00a0thg\u00a012",
            "الخميس، 17 ديسمبر إلى الجمعة، 18 ديسمبر",
            "12月17日周四 – 12月18日周五",
            "jed. 17 des. – van. 18 des.",
        ),
    ),
    "day and clock": (
        lambda: day_and_clock(at(16, 0)),
        ("Thu 4:00 pm", "jue 4:00 p.\u00a0m.", "Th\u00a05 16:00", "الخميس 4:00 م", "周四 16:00", "jed. 4:00 pm"),
    ),
    "two names": (
        lambda: formatting.listed(("A", "B")),
        ("A and B", "A y B", "A và B", "A وB", "A和B", "A ak B"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", TABLE)
def test_each_language_writes_it_its_own_way(what: str) -> None:
    write, expected = TABLE[what]
    shown = []
    for code in LANGUAGES:
        with speaking(code):
            shown.append(write())
    assert tuple(shown) == expected


def test_the_table_holds_every_reviewed_language() -> None:
    assert set(LANGUAGES) == set(REVIEWED)


@pytest.mark.parametrize("code", [*LANGUAGES, "fr", "so", "hmn", "pt-br", "ru", "fa", "xx"])
def test_nothing_is_written_with_a_narrow_space_or_other_digits(code: str) -> None:
    """Both break search and fonts; Hmong is unknown to CLDR and keeps the formats of English."""
    with speaking(code):
        shown = [write() for write, _ in TABLE.values()]
    for text in shown:
        assert not {"\u202f", "\u2009", "\u200e", "\u200f"} & set(text)
        assert all(sign in "0123456789" for sign in text if unicodedata.category(sign) == "Nd")


def test_creole_is_not_french() -> None:
    assert names("ht").months[7] == "out"
    assert not {"août", "décembre", "jeudi"} & {*names("ht").months, *names("ht").days}


def test_a_region_or_an_older_name_finds_the_same_table() -> None:
    assert formats("es-MX") is formats("es")
    assert formats("zh") is formats("zh-CN") is formats("zh-Hans")
