"""What changed for who last looked at an earlier publication."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from handbook.domain.facts import Fact, Topic, compare
from handbook.domain.history import NO_HISTORY, History, PageRecord, Publication

BEGUN = datetime(2026, 11, 16, 21, 0, tzinfo=UTC)
Values = dict[str, int]


def _facts(values: Values) -> tuple[Fact, ...]:
    return tuple(Fact(key, (), Topic.CALL, key, str(value)) for key, value in values.items())


def _instant(number: int) -> datetime:
    return BEGUN + timedelta(days=number)


def _published(states: list[tuple[Values, bool]]) -> History:
    """Publish one state after another; with True it is taken back before the next one."""
    publications: list[Publication] = []
    standing: Values = {}
    for number, (state, undone) in enumerate(states, 1):
        changes = compare(_facts(standing), _facts(state)) if publications else ()
        publications.append(Publication(number, _instant(number), "", changes, undone))
        standing = standing if undone else state
    return History(tuple(publications), _facts(standing))


_VALUES = st.dictionaries(st.sampled_from("abc"), st.integers(0, 2))


@given(st.lists(st.tuples(_VALUES, st.booleans()), min_size=1, max_size=6), st.data())
def test_who_comes_back_is_told_what_differs_from_what_was_seen(
    states: list[tuple[Values, bool]], data: st.DataObject
) -> None:
    states[0] = (states[0][0], False)
    history = _published(states)
    seen = data.draw(st.integers(1, len(states)))
    expected = compare(_facts(states[seen - 1][0]), history.facts)
    assert history.since(seen) == expected


def test_the_coming_publication_is_told_of_before_it_stands() -> None:
    first = Publication(1, _instant(1), "")
    changes = compare(_facts({"a": 1}), _facts({"a": 2}))
    history = History((first,), coming=Publication(2, _instant(2), "", changes))
    assert history.since(1) == changes
    assert history.since(2) == ()


def test_a_page_changed_when_its_own_words_did() -> None:
    known = History(pages={"words/": PageRecord("old", _instant(1))})
    assert known.page_changed("words/", "old") == _instant(1)
    assert known.page_changed("words/", "new") is None
    coming = History(pages=known.pages, coming=Publication(2, _instant(2), ""))
    assert coming.page_changed("words/", "new") == _instant(2)
    assert coming.page_changed("words/", "old") == _instant(1)
    assert NO_HISTORY.page_changed("words/", "new") is None
