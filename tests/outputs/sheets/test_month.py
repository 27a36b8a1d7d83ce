"""A month of the calendar on paper."""

from __future__ import annotations

import calendar
import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

import pytest

from handbook.domain.values.paper import Paper
from handbook.outputs.page import Context
from handbook.outputs.pages import calendar as calendar_page
from handbook.outputs.pages.calendar import CalendarMonth, CalendarView, EventView
from handbook.outputs.sheets.kinds.month import MonthSheetView, month_sheet
from handbook.outputs.sheets.kinds.month_squares import FullDay, MonthDay
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import Sheet
from tests.outputs.sheets.reading import page_texts, words_of
from tests.outputs.sheets.small_plan import ENVIRONMENT, made, pdf_on, small_plan

FIRST = date(2026, 12, 1)


def event(day: date, title: str, kind: str = "rehearsal", hour: int = 9) -> EventView:
    at = datetime.combine(day, time(hour))
    return EventView(day, day, "", f"{hour}:00–{hour}:45 am", title, "", "", (), kind, at)


def view_of(events: Sequence[EventView], paper: Paper = Paper.LETTER) -> MonthSheetView:
    found = sheet_of(events, paper).view
    assert isinstance(found, MonthSheetView)
    return found


def sheet_of(events: Sequence[EventView], paper: Paper = Paper.LETTER) -> Sheet:
    context = context_on(paper)
    with context.speaking():
        return month_sheet(context, CalendarMonth("Month", "", FIRST, tuple(events)), events)


def context_on(paper: Paper) -> Context:
    plan = small_plan()
    program = plan.program.model_copy(update={"paper": paper})
    return Context(replace(plan, program=program), "en")


@pytest.mark.parametrize(
    ("paper", "first"), [(Paper.LETTER, calendar.SUNDAY), (Paper.A4, calendar.MONDAY)]
)
@pytest.mark.parametrize("month", [date(2026, 11, 3), date(2026, 2, 3), date(2027, 5, 3)])
def test_days_stand_in_the_weeks_of_the_month(paper: Paper, first: int, month: date) -> None:
    # Python's own calendar of the month.
    weeks = calendar.Calendar(first).monthdayscalendar(month.year, month.month)
    shown = view_of([event(month, "Band")], paper).weeks
    assert [[int(day.number or 0) for day in week] for week in shown] == weeks


def test_each_day_has_what_is_on_or_tells_how_much_more_there_is() -> None:
    days = [FIRST + timedelta(days=n) for n in range(31)]
    events = [
        event(day, f"Band {n}", "concert" if n == 5 else "rehearsal", 9 + n % 3)
        for day in days
        for n in range(1 + day.day % 8)
    ]
    for week in view_of(events).weeks:
        for day in week:
            if day.number:
                shown = [one.title for group in day.groups for one in group.events]
                assert len(shown) + day.more == 1 + int(day.number) % 8
                # A concert stays for as long as any rehearsal does.
                assert ("Band 5" in shown) == (int(day.number) % 8 >= 5)


@pytest.mark.parametrize("language", ["en", "ar"])
@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("count", [1, 9])
def test_a_full_month_is_one_page_and_no_day_of_it_looks_free(
    language: str, paper: Paper, count: int
) -> None:
    days = [FIRST + timedelta(days=n) for n in range(31)]
    title = "An event with a rather long name for one small square of a calendar, and longer still"
    events = [
        event(day, title, "apart", 12 + n) if n or day.day % 9 else event(day, "Gala", "concert")
        for day in days
        for n in range(1 if day.day % 4 else count)
    ]
    context = Context(context_on(paper).plan, language)
    with context.speaking():
        sheet = month_sheet(context, CalendarMonth("Month", "", FIRST, tuple(events)), events)
        made = made_sheet(context, ENVIRONMENT, None, sheet)
    assert len(page_texts(pdf_on(made, paper))) == 1
    cells = re.findall(r'<b class="day">(\d+)</b></p>(.*?)</td>', made.html, re.DOTALL)
    assert [number for number, _ in cells] == [str(day.day) for day in days]
    assert [number for number, rest in cells if "<li>" not in rest] == []
    # A concert is told by name for as long as anything is.
    assert [n for n, rest in cells if int(n) % 9 == 0 and "Gala" not in rest] == []


def test_what_there_is_room_for_is_not_left_out() -> None:
    # Where all squares but one are empty, that one may be as high as five of them.
    tenth = date(2026, 12, 10)
    events = [event(tenth, f"Band {n}") for n in range(12)]
    day = the_day(view_of(events), 10)
    assert [one.title for group in day.groups for one in group.events] == [e.title for e in events]
    assert not day.rest


def test_what_is_rarest_on_stays_and_what_is_left_out_is_named() -> None:
    tenth = date(2026, 12, 10)
    rehearsals = [event(tenth, f"Band {n}") for n in range(30)]
    fair = replace(event(tenth, "Fair", "apart", 17), place="Town square", readers="Band 1")
    day = the_day(view_of([*rehearsals, fair]), 10)
    shown = [one.words for group in day.groups for one in group.events]
    assert shown[-1] == "Fair, Town square, Band 1"
    assert day.rest == f"and {day.more} rehearsals"
    assert day.more == 31 - len(shown) > 0
    others = the_day(view_of([replace(one, kind="closed") for one in rehearsals]), 10)
    assert others.rest == f"and {others.more} more"


def test_one_that_is_left_out_takes_no_line_that_it_could_have_itself() -> None:
    for count in range(14, 32):
        day = the_day(view_of([event(FIRST, f"Band {n}") for n in range(count)]), 1)
        assert day.more != 1, count


def the_day(view: MonthSheetView, number: int) -> MonthDay:
    return next(day for week in view.weeks for day in week if day.number == str(number))


@pytest.mark.parametrize("language", ["en", "vi", "ar"])
@pytest.mark.parametrize("paper", list(Paper))
def test_months_that_are_nearly_full_stay_one_page(language: str, paper: Paper) -> None:
    words = {
        "en": "Lantern Band festival of the games Parents meeting Coats for Cooper Square",
        "vi": "Lễ thắp đèn ở quảng trường thị trấn Áo khoác cho đợt quyên góp Các trận",
        "ar": "إضاءة ساحة البلدة منصة الموسيقى معاطف لحملة التبرع مباريات كرة السلة",
    }[language].split()
    days = [FIRST + timedelta(days=n) for n in range(31)]
    events = [
        replace(
            event(day, " ".join(words[(day.day + k) % 6 :][: 1 + k % 4]), kind, 8 + 4 * k),
            place=" ".join(words[k:][: k % 3]),
        )
        for day in days
        for k, kind in enumerate(("rehearsal", "apart", "concert")[: day.day % 4])
    ]
    context = Context(replace(context_on(paper).plan, languages=("en", language)), language)
    with context.speaking():
        sheet = month_sheet(context, CalendarMonth("Month", "", FIRST, tuple(events)), events)
        made = made_sheet(context, ENVIRONMENT, None, sheet)
    assert isinstance(sheet.view, MonthSheetView)
    assert any(day.more for week in sheet.view.weeks for day in week)
    assert len(page_texts(pdf_on(made, paper))) == 1


def test_a_day_without_room_says_how_much_is_on() -> None:
    title = " ".join(["Extraordinarily"] * 12)
    days = [FIRST + timedelta(days=n) for n in range(31)]
    shown = view_of([event(day, title, "apart") for day in days for _ in range(5)])
    told = {day.rest for week in shown.weeks for day in week if day.number and not day.groups}
    assert told == {"5 dates, see the calendar"}


def test_a_weekend_has_room_where_something_is_on() -> None:
    saturday = date(2026, 12, 5)
    shown = view_of([event(saturday, "Lighting of the square", "apart")]).weekdays
    assert [(day.name, day.narrow) for day in shown if day.weekend] == [
        ("Sun", True),
        ("Sat", False),
    ]


def test_hours_say_am_or_pm_outside_a_school_day() -> None:
    # Common practice, no source: from 7 am to 3 pm no number of the clock comes twice.
    shown = view_of([event(FIRST, "Band", hour=hour) for hour in (6, 7, 12, 14, 15, 19)])
    (day,) = [day for week in shown.weeks for day in week if day.groups]
    hours = [one.begins for group in day.groups for one in group.events]
    assert hours == ["6:00 am", "7:00", "noon", "2:00", "3:00 pm", "7:00 pm"]
    assert shown.plain_hours == ("7:00 am", "3:00 pm")


def test_an_event_says_whom_it_is_for_and_a_concert_when_to_be_there() -> None:
    apart = replace(event(FIRST, "Games", "apart"), readers="brass of Harbor Band")
    concert = event(date(2026, 12, 17), "Winter", "concert", 19)
    concert = replace(concert, call="be there 5:20 pm", place="Civic Hall")
    days = [day for week in view_of([apart, concert]).weeks for day in week if day.groups]
    first, second = (day.groups[0].events[0] for day in days)
    assert (first.who, first.large) == ("brass of Harbor Band", False)
    assert (second.more, second.large) == (("Civic Hall", "be there 5:20 pm"), True)


def test_evenings_and_those_they_are_for_stay_longer_than_class_and_place() -> None:
    """What lies outside of class no player learns of in class (common practice, no source)."""
    eighth = date(2026, 12, 8)
    classes = [event(eighth, f"Band {n}") for n in range(40)]
    evening = event(eighth, "Band 1 sectionals", hour=18)
    fairs = [
        replace(event(eighth, f"Fair {n}", "apart", 17), place="Town square", readers="Band 1")
        for n in range(8)
    ]
    day = the_day(view_of([*classes, evening, *fairs]), 8)
    shown = [one.words for group in day.groups for one in group.events]
    assert "Band 1 sectionals" in shown
    told = [words for words in shown if words.startswith("Fair")]
    assert len(told) == len(fairs)
    assert all(words.endswith("Band 1") for words in told)
    assert day.rest == f"and {day.more} rehearsals"


def test_a_concert_tells_each_band_when_and_where_to_be() -> None:
    """The hours that the pages of this evening have, each at its own place."""
    context = Context(small_plan(), "en")
    with context.speaking():
        dates = [calendar_page.share(context, cycle) for cycle in small_plan().cycles]
    (concert,) = [one for of in dates for one in of.events if one.kind == "concert"]
    assert any("Green room: 6:30 pm" in call for call in concert.calls)
    assert len(concert.calls) > 1
    shown = view_of([replace(concert, day=FIRST, last=FIRST)]).weeks
    (day,) = [day for week in shown for day in week if day.groups]
    assert day.groups[0].events[0].more[-len(concert.calls) :] == concert.calls


def test_what_is_off_is_told_as_loud_as_an_hour() -> None:
    made = sheet_of([event(FIRST, "Cancelled: Band", "cancelled", 0)]).view
    assert isinstance(made, MonthSheetView)
    assert [
        one.off for week in made.weeks for day in week for g in day.groups for one in g.events
    ] == [True]


def test_days_of_a_span_without_school_are_no_weekends() -> None:
    friday = date(2026, 12, 18)
    closed = replace(event(friday, "No school: Break", "closed"), last=friday + timedelta(days=3))
    days = {day.number: day for week in view_of([closed]).weeks for day in week}
    assert [bool(days[str(n)].groups) for n in range(17, 23)] == [0, 1, 0, 0, 1, 0]


def test_the_calendar_leads_to_a_sheet_of_each_month_with_something_on() -> None:
    for language in ("en", "ar"):
        context = Context(small_plan(), language)
        with context.speaking():
            shares = [calendar_page.share(context, cycle) for cycle in small_plan().cycles]
            pages = list(calendar_page.pages(context, shares))
            sheets = made(context, pages)
        (view,) = (one.view for one in pages)
        assert isinstance(view, CalendarView)
        assert {month.sheet for month in view.months if month.sheet} == set(sheets)
        assert sheets
        for month in view.months:
            if any(one.kind == "concert" for one in month.events):
                assert month.sheet
        if language == "en":
            content = pdf_on(sheets[f"calendar/calendar-2026-12-{language}.pdf"])
            (said,) = map(words_of, page_texts(content))
            assert "7:00 pm Winter <Concert> & friends" in said


def test_of_what_is_alike_the_later_is_left_out_first() -> None:
    """Who looks in the morning reads on from there."""
    day = date(2026, 11, 3)
    full = FullDay(day, [event(day, f"Band {hour}", hour=hour) for hour in (8, 9, 10)])
    full.brief = True
    full.leave_out()
    assert full.out == {2}
    full.leave_out()
    assert full.out == {1, 2}
