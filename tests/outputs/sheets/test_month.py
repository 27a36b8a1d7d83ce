"""A month of the calendar on paper."""

from __future__ import annotations

import calendar
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

import pytest

from handbook.domain.values.paper import Paper
from handbook.outputs.page import Context
from handbook.outputs.pages import calendar as calendar_page
from handbook.outputs.pages.calendar import CalendarMonth, CalendarView, EventView
from handbook.outputs.sheets.kinds.month import MonthSheetView, month_sheet
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


@pytest.mark.parametrize("paper", list(Paper))
def test_the_fullest_month_is_one_page(paper: Paper) -> None:
    days = [FIRST + timedelta(days=n) for n in range(31)]
    events = [event(day, f"A band with a long name, {n}") for day in days for n in range(9)]
    context = context_on(paper)
    with context.speaking():
        sheet = made_sheet(context, ENVIRONMENT, None, sheet_of(events, paper))
    (said,) = page_texts(pdf_on(sheet, paper))
    assert "more" in said


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
            content = pdf_on(sheets["calendar/2026-12.pdf"])
            (said,) = map(words_of, page_texts(content))
            assert "7:00 pm Winter <Concert> & friends" in said
