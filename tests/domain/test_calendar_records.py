"""How often an entry of a calendar has changed, and how long one that is gone is kept.

The rules are RFC 5545's: 3.8.7.4 (SEQUENCE starts at 0 and grows by one with each change), 3.8.4.7
(a UID stays for life), 3.6.1 (the last date of a whole day is the day after it). That a cancelled
entry stays until its date is over is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.calendar_events import CalendarEvent, EventRecord
from handbook.domain.calendar_records import (
    BEFORE_ALL,
    NOT_ANY_MORE,
    LabelMove,
    records_of,
    shown_records,
)
from handbook.domain.history import NO_HISTORY, History, Publication

CHICAGO = ZoneInfo("America/Chicago")
FIRST = datetime(2026, 11, 20, 22, 0, tzinfo=UTC)
PARADE = CalendarEvent(
    "event.parade@school",
    "Parade",
    datetime(2026, 12, 5, 9, 0, tzinfo=CHICAGO),
    datetime(2026, 12, 5, 12, 0, tzinfo=CHICAGO),
)
BREAK = CalendarEvent("school.break@school", "No school", date(2026, 11, 25), date(2026, 11, 28))


def published(
    history: History, events: Iterable[CalendarEvent], instant: datetime
) -> tuple[History, dict[str, EventRecord]]:
    """Publish entries; give what is known afterwards."""
    coming = Publication(history.next_number, instant, "")
    records = dict(records_of(events, replace(history, coming=coming)))
    done = replace(history, publications=(*history.publications, coming), events=records)
    return done, records


def counts(records: dict[str, EventRecord]) -> dict[str, int]:
    return {record.event.key: record.sequence for record in records.values()}


def test_before_the_first_publication_nothing_is_asked_of_a_clock() -> None:
    (record,) = records_of([PARADE], NO_HISTORY).values()
    assert (record.sequence, record.changed) == (0, BEFORE_ALL)


def test_only_the_entry_that_changed_counts_on() -> None:
    history, records = published(NO_HISTORY, [PARADE, BREAK], FIRST)
    assert counts(records) == {"event.parade": 0, "school.break": 0}
    later = FIRST + timedelta(days=1)
    history, again = published(history, [PARADE, BREAK], later)
    assert again == records
    moved = replace(PARADE, starts=PARADE.starts + timedelta(hours=1))
    history, changed = published(history, [moved, BREAK], later)
    assert counts(changed) == {"event.parade": 1, "school.break": 0}
    assert changed[PARADE.uid].changed == later
    assert changed[BREAK.uid] == records[BREAK.uid]


def test_the_same_hours_told_in_another_zone_are_no_change() -> None:
    history, records = published(NO_HISTORY, [PARADE], FIRST)
    assert isinstance(PARADE.starts, datetime)
    assert isinstance(PARADE.ends, datetime)
    in_utc = replace(PARADE, starts=PARADE.starts.astimezone(UTC), ends=PARADE.ends.astimezone(UTC))
    assert published(history, [in_utc], FIRST)[1] == records


def test_one_that_is_gone_is_kept_as_cancelled_until_it_is_over() -> None:
    history, _ = published(NO_HISTORY, [PARADE], FIRST)
    history, records = published(history, [], FIRST + timedelta(days=1))
    (record,) = records.values()
    assert (record.event.cancelled, record.sequence) == (True, 1)
    assert (record.event.uid, record.event.title) == (PARADE.uid, PARADE.title)
    assert record.event.about == "", "what to bring is not brought"
    history, again = published(history, [], FIRST + timedelta(days=2))
    assert again == records
    # 12:00 in Chicago is 18:00 UTC in December.
    assert shown_records(again.values(), datetime(2026, 12, 5, 17, 59, tzinfo=UTC))
    assert not shown_records(again.values(), datetime(2026, 12, 5, 18, 0, tzinfo=UTC))


def test_a_rehearsal_that_is_gone_leads_to_the_top_of_its_page_and_says_why_it_is() -> None:
    class_ = replace(PARADE, uid="winter.band.rehearsal.2026-12-05@school", path="a/#2026-12-05")
    snow = replace(BREAK, uid="school.year.closed.2026-12-03@school", starts=date(2026, 12, 3))
    later = LabelMove("school.year.closed.2026-12-08", date(2026, 12, 8), "later")
    moves = (later, LabelMove(snow.key, date(2026, 12, 3), "after the snow"))
    before, _ = published(NO_HISTORY, [class_], FIRST)
    for known, events, why in (
        (before, [snow], "after the snow"),
        (before, [], NOT_ANY_MORE),
        (published(before, [class_, snow], FIRST)[0], [snow], NOT_ANY_MORE),
    ):
        coming = replace(known, coming=Publication(9, FIRST + timedelta(days=1), ""))
        records = records_of(events, coming, {class_.key: moves})
        gone = records[class_.uid].event
        assert (gone.path, gone.about) == ("a/", why)
        after = replace(coming, publications=(Publication(9, FIRST, ""),), events=records)
        assert records_of(events, after, {class_.key: moves}) == records, "what was said stays said"


def test_a_whole_day_is_over_once_it_is_over_everywhere() -> None:
    gone = EventRecord(replace(BREAK, cancelled=True), 1, FIRST)
    # The 27th is the last day; it ends at 12:00 UTC on the 28th where it ends last (UTC-12).
    assert shown_records([gone], datetime(2026, 11, 28, 11, 59, tzinfo=UTC))
    assert not shown_records([gone], datetime(2026, 11, 28, 12, 0, tzinfo=UTC))


def test_one_that_comes_back_goes_on_counting() -> None:
    history, _ = published(NO_HISTORY, [PARADE], FIRST)
    history, _ = published(history, [], FIRST + timedelta(days=1))
    history, records = published(history, [PARADE], FIRST + timedelta(days=2))
    assert counts(records) == {"event.parade": 2}
    # Even where it was over, and taken out of the content, in between.
    history, records = published(history, [], FIRST + timedelta(days=40))
    assert not shown_records(records.values(), history.instant)
    next_year = replace(
        PARADE, starts=datetime(2027, 12, 4, tzinfo=UTC), ends=datetime(2027, 12, 5, tzinfo=UTC)
    )
    _, records = published(history, [next_year], FIRST + timedelta(days=300))
    assert counts(records) == {"event.parade": 3}


def test_uids_stay_those_of_the_first_publication_under_a_new_name() -> None:
    history, records = published(NO_HISTORY, [PARADE], FIRST)
    renamed = [replace(one, uid=f"{one.key}@renamed") for one in (PARADE, BREAK)]
    _, again = published(history, renamed, FIRST + timedelta(days=1))
    assert set(again) == {"event.parade@school", "school.break@school"}
    assert again[PARADE.uid] == records[PARADE.uid]


def test_what_was_over_a_year_ago_is_left_out() -> None:
    _, records = published(NO_HISTORY, [PARADE], datetime(2027, 12, 6, 18, 1, tzinfo=UTC))
    assert records == {}
    assert shown_records(records_of([PARADE], NO_HISTORY).values(), None)


@settings(deadline=None)  # a busy machine is not at fault
@given(st.lists(st.dictionaries(st.sampled_from("abc"), st.sampled_from("xyz")), max_size=8))
def test_counts_grow_by_one_with_each_change_and_never_go_back(
    seasons: list[dict[str, str]],
) -> None:
    history, last = NO_HISTORY, dict[str, EventRecord]()
    for number, season in enumerate(seasons):
        events = [replace(PARADE, uid=f"{key}@s", title=title) for key, title in season.items()]
        history, records = published(history, events, FIRST + timedelta(hours=number))
        assert set(last) <= set(records)
        for uid, record in records.items():
            before = last.get(uid)
            changed = before is not None and record.event != before.event
            assert record.sequence == (before.sequence + changed if before else 0)
            assert record.event.cancelled is (uid.removesuffix("@s") not in season)
        last = records
