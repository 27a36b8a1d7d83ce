from __future__ import annotations

from datetime import UTC, datetime, timedelta

from handbook.domain.history import NO_HISTORY, History, PageRecord, Publication

MONDAY = datetime(2026, 11, 23, 20, 0, tzinfo=UTC)


def published(number: int, *, undone: bool = False) -> Publication:
    return Publication(number, MONDAY + timedelta(days=number), "", undone=undone)


def test_nothing_stands_before_the_first_publication() -> None:
    assert (NO_HISTORY.standing, NO_HISTORY.instant, NO_HISTORY.next_number) == ((), None, 1)


def test_what_was_taken_back_does_not_stand_and_its_number_is_not_given_again() -> None:
    history = History((published(1), published(2, undone=True)))
    assert [one.number for one in history.standing] == [1]
    assert history.next_number == 3


def test_the_newest_stands_first_with_the_coming_one() -> None:
    history = History((published(1), published(2)), coming=published(3))
    assert [one.number for one in history.standing] == [3, 2, 1]
    assert history.instant == published(3).instant


def test_a_page_changed_when_its_words_last_did() -> None:
    history = History(pages={"winter/": PageRecord("same", MONDAY)}, coming=published(2))
    assert history.page_changed("winter/", "same") == MONDAY
    assert history.page_changed("winter/", "other") == published(2).instant
    assert history.page_changed("spring/", "same") == published(2).instant


def test_a_build_that_is_no_publication_does_not_date_what_is_new() -> None:
    history = History(pages={"winter/": PageRecord("same", MONDAY)})
    assert history.page_changed("winter/", "same") == MONDAY
    assert history.page_changed("winter/", "other") is None
