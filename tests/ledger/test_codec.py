"""The ledger's text: what is written is read back, and nothing else is taken for it."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import suppress
from dataclasses import fields, replace
from datetime import UTC, date, datetime
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.domain.calendar_events import EventRecord
from handbook.domain.facts import Fact, Topic, compare
from handbook.domain.history import NO_HISTORY, History, PageRecord, Publication
from handbook.ledger.codec import DamagedError, NewerError, Proof, decode, encode
from tests.ledger.histories import ATTIRE, CONCERT, FIRST, HISTORY, digest

Change = Callable[[dict[str, Any]], Any]


def test_what_is_written_is_read_back() -> None:
    assert decode(encode(HISTORY)) == (HISTORY, None)
    assert decode(encode(NO_HISTORY)) == (NO_HISTORY, None)


def test_the_form_before_is_read() -> None:
    """Its facts were told in one language."""
    old = encode(HISTORY).replace(b'"format": 2', b'"format": 1')
    assert decode(old) == (HISTORY, None)


def test_it_says_what_shows_that_its_publication_was_done() -> None:
    proof = Proof("../published/.handbook-site", digest("marker"))
    assert decode(encode(HISTORY, proof)) == (HISTORY, proof)


TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=9)
MOMENTS = st.datetimes(datetime(2000, 1, 1), datetime(2099, 1, 1), timezones=st.just(UTC)).map(  # noqa: DTZ001
    lambda moment: moment.replace(microsecond=0)
)
DAYS = st.dates(date(2000, 1, 1), date(2099, 1, 1))
READERS = st.lists(TEXTS, max_size=2).map(tuple)
FACTS = st.builds(
    Fact, TEXTS, READERS, st.sampled_from(Topic), TEXTS, TEXTS, st.none() | DAYS, st.booleans()
)
SPANS = st.tuples(MOMENTS, MOMENTS).map(sorted) | st.tuples(DAYS, DAYS).map(sorted)


@st.composite
def records(draw: st.DrawFn) -> EventRecord:
    starts, ends = draw(SPANS)
    event = replace(
        CONCERT,
        starts=starts,
        ends=ends,
        title=draw(TEXTS),
        readers=draw(READERS),
        cancelled=draw(st.booleans()),
    )
    return EventRecord(event, draw(st.integers(0, 2**31 - 1)), draw(MOMENTS))


@settings(deadline=None, max_examples=50)
@given(
    facts=st.lists(FACTS, max_size=3, unique_by=lambda fact: fact.key).map(tuple),
    record=records(),
    site=TEXTS.map(digest),
    undone=st.booleans(),
)
def test_whatever_a_history_holds_is_read_back(
    facts: tuple[Fact, ...], record: EventRecord, site: str, undone: bool
) -> None:
    made = Publication(1, record.changed, site, compare((), facts), undone)
    pages = {fact.value: PageRecord(site, record.changed) for fact in facts}
    history = History((made,), facts, pages, {CONCERT.uid: record}, program=record.event.title)
    assert decode(encode(history))[0] == history


def test_no_field_of_a_history_is_left_out() -> None:
    written = json.loads(encode(HISTORY))
    assert {one.name for one in fields(History)} - {"coming"} <= set(written)


def test_the_same_history_is_the_same_bytes_whatever_the_order_of_its_pages() -> None:
    turned = replace(HISTORY, pages=dict(reversed(list(HISTORY.pages.items()))))
    assert encode(turned) == encode(HISTORY)


def test_a_change_of_one_fact_changes_one_line() -> None:
    # so that git shows what a publication changed
    other = replace(HISTORY, facts=(HISTORY.facts[0], replace(ATTIRE, value="all white")))
    lines = zip(encode(HISTORY).splitlines(), encode(other).splitlines(), strict=True)
    assert sum(before != after for before, after in lines) == 1


def test_moments_are_in_utc_and_end_in_z() -> None:
    # RFC 3339 5.6: Z stands for UTC
    written = json.loads(encode(HISTORY))
    assert written["publications"][0]["instant"] == "2026-11-20T18:03:00Z"
    concert = written["events"]["winter.concert@handbook"]["event"]
    assert concert["starts"] == "2026-12-17T23:45:00Z"  # Central Standard Time is six hours behind


def test_a_moment_without_zone_and_a_publication_to_come_are_never_written() -> None:
    naive = replace(HISTORY.publications[0], instant=datetime(2026, 11, 20))  # noqa: DTZ001
    with pytest.raises(ValueError, match="zone"):
        encode(replace(HISTORY, publications=(naive,)))
    with pytest.raises(ValueError, match="published"):
        encode(replace(HISTORY, coming=HISTORY.publications[0]))


def changed(change: Change) -> bytes:
    data = json.loads(encode(HISTORY))
    change(data)
    return json.dumps(data).encode()


SPOILT: dict[str, Change] = {
    "number as text": lambda data: data["publications"][0].update(number="1"),
    "number that is true": lambda data: data["publications"][0].update(number=True),
    "number twice": lambda data: data["publications"][1].update(number=1),
    "number zero": lambda data: data["publications"][0].update(number=0),
    "time that goes back": lambda data: data["publications"][1].update(
        instant="2026-11-01T00:00:00Z"
    ),
    "time of no day": lambda data: data["publications"][0].update(instant="2026-02-30T00:00:00Z"),
    "time without zone": lambda data: data["publications"][0].update(instant="2026-11-20T18:03:00"),
    "time in a year that no zone can be given to": lambda data: data["publications"][0].update(
        instant="0001-01-01T00:00:00Z"
    ),
    "time after which no weeks come": lambda data: data["publications"][1].update(
        instant="9999-12-31T00:00:00Z"
    ),
    "page of the first year": lambda data: data["pages"][""].update(changed="0001-01-01T00:00:00Z"),
    "day of the last year": lambda data: data["facts"][0].update(day="9999-12-31"),
    "digest": lambda data: data["publications"][0].update(site="abc"),
    "unknown topic": lambda data: data["facts"][0].update(topic="weather"),
    "fact twice": lambda data: data["facts"].append(data["facts"][0]),
    "fact without key": lambda data: data["facts"][0].pop("key"),
    "fact with more": lambda data: data["facts"][0].update(more="x"),
    "readers in one text": lambda data: data["facts"][0].update(readers="lantern"),
    "half a sign": lambda data: data["facts"][0].update(value="\ud800"),
    "change of nothing": lambda data: data["publications"][1].update(
        changes=[{"old": None, "new": None}]
    ),
    "pages as a list": lambda data: data.update(pages=[]),
    "page digest": lambda data: data["pages"][""].update(digest="../.."),
    "sequence below zero": lambda data: data["events"]["year.closure@handbook"].update(sequence=-1),
    "sequence too large": lambda data: data["events"]["year.closure@handbook"].update(
        sequence=2**31
    ),
    "event of another name": lambda data: data["events"]["year.closure@handbook"]["event"].update(
        uid="other"
    ),
    "a day and a moment": lambda data: data["events"]["year.closure@handbook"]["event"].update(
        ends="2026-12-18T00:00:00Z"
    ),
    "nothing of events": lambda data: data.pop("events"),
    "something else": lambda data: data.update(grades={}),
    "no format": lambda data: data.pop("format"),
    "format of true": lambda data: data.update(format=True),
}


@pytest.mark.parametrize("name", SPOILT)
def test_what_handbook_does_not_write_is_refused(name: str) -> None:
    assert decode(changed(lambda _: None))[0] == HISTORY
    with pytest.raises(DamagedError):
        decode(changed(SPOILT[name]))


def test_a_newer_form_is_told_from_a_damaged_one() -> None:
    with pytest.raises(NewerError):
        decode(changed(lambda data: (data.update(format=3), data.pop("events"))))


@pytest.mark.parametrize(
    ("raw", "line"),
    [
        (b"", 1),
        (b"[]", 1),
        (b"null", 1),
        (b"[" * 100_000, 1),
        (b'{"format": 1' + b"0" * 10_000 + b"}", 1),
        (b'{\n"format": 1,\n"program": "\xff"}', 3),
        (encode(HISTORY)[:-40], None),
        (b'{\n"format": 1,\n<<<<<<< HEAD\n"program": "x"\n=======\n', 3),
    ],
)
def test_odd_bytes_are_refused_with_their_line(raw: bytes, line: int | None) -> None:
    with pytest.raises(DamagedError) as refused:
        decode(raw)
    assert refused.value.line == line or line is None


def test_cut_off_at_any_byte_it_is_damaged_but_for_what_the_last_line_end_is() -> None:
    raw = encode(replace(HISTORY, publications=HISTORY.publications[:1]))
    for length in range(0, len(raw) - 2, 7):
        with pytest.raises(DamagedError):
            decode(raw[:length])


def test_an_instant_is_read_to_the_second() -> None:
    assert decode(encode(HISTORY))[0].publications[0].instant == FIRST


def test_whatever_byte_is_changed_it_is_read_or_refused() -> None:
    raw = encode(HISTORY)
    for place in range(0, len(raw), 13):
        for sign in b'"0{,\xff':
            with suppress(DamagedError, NewerError):
                decode(raw[:place] + bytes([sign]) + raw[place + 1 :])
