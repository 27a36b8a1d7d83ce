"""What pages tell of earlier publications: lines, notes, the list by cycle, the feed."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import feedparser
import pytest

from handbook.domain.facts import Fact, FactChange, Topic
from handbook.domain.history import History, PageRecord, Publication
from handbook.outputs.facts.telling import change_words
from handbook.outputs.history.change_lines import change_lines, page_of_fact
from handbook.outputs.history.feed import changes_feed
from handbook.outputs.history.insets import Inset, InsetPlace, SetIn, inset_of, set_in
from handbook.outputs.history.page_words import words_digest
from handbook.outputs.history.told_changes import ToldChanges
from handbook.outputs.history.told_site import ToldCycle, ToldSite
from handbook.outputs.site import Renderer

NOON = datetime(2026, 11, 16, 18, 0, tzinfo=UTC)  # noon in Chicago (UTC-6 in November)
BANDS = {"harbor": "Harbor Band", "beacon": "Beacon Band"}
PATHS = (
    *("", "calendar/", "changes/", "words/", "events/", "events/parade/", "families/rules/"),
    *("winter/", "winter/concert/", "winter/concert/lawn/", "winter/harbor/"),
    *("winter/harbor/tides/", "winter/harbor/part/flute/", "winter/harbor/part/tuba/"),
)
SITE = ToldSite(
    name="Quill & Quay Bands",
    language="en",
    zone=ZoneInfo("America/Chicago"),
    ensembles=BANDS,
    free_pages={"families/rules/": "Rules"},
    cycles=(
        ToldCycle("Winter", date(2026, 10, 26), date(2026, 12, 17)),
        ToldCycle("Spring", date(2027, 1, 11), date(2027, 4, 22)),
    ),
    address="https://quay.example/band/",
)


def _changed(key: str, day: date | None = None, topic: Topic = Topic.CALL) -> FactChange:
    readers = ("harbor",) if key.startswith("winter/harbor") else ()
    old, new = (Fact(key, readers, topic, key, value, day) for value in ("6:30 pm", "6:45 pm"))
    return FactChange(old, new)


def _published(
    *publications: tuple[int, tuple[FactChange, ...]], changed: Mapping[str, int] | None = None
) -> ToldChanges:
    """Publish on days counted from the first; `changed` has the day on which a page last did."""
    made = tuple(
        Publication(number, NOON + timedelta(days=day), "", changes)
        for number, (day, changes) in enumerate(publications, 1)
    )
    pages = {
        path: PageRecord("same", NOON + timedelta(days=(changed or {}).get(path, 0)))
        for path in PATHS
    }
    return ToldChanges(History(made, (), pages), SITE, dict.fromkeys(PATHS, "same"))


def _html(inset: Inset, place: InsetPlace) -> str:
    return next(one.html for one in inset if one.place is place)


@pytest.mark.parametrize(
    ("key", "path"),
    [
        ("school/2026-27/closed/2026-12-03", "calendar/"),
        ("event/parade/2026-12-05/call", "events/parade/"),
        ("event/gone/2026-12-05", "events/"),
        ("winter/concert/concert/doors", "winter/concert/"),
        ("winter/concert/lawn/doors", "winter/concert/lawn/"),
        ("winter/harbor/rehearsal/2026-12-03/room", "winter/harbor/"),
        ("winter/harbor/piece/tides/arrival/goal", "winter/harbor/tides/"),
        ("winter/harbor/piece/gone", "winter/harbor/"),
        ("summer/harbor/piece/gone", ""),
    ],
)
def test_each_fact_has_its_page(key: str, path: str) -> None:
    assert page_of_fact(key, PATHS) == path


def test_many_tempos_of_a_band_are_one_line_and_a_single_one_is_itself() -> None:
    monday = date(2026, 11, 30)
    tempos = [
        _changed(f"winter/harbor/piece/tides/{one}/week/{monday}", monday, Topic.TEMPO)
        for one in ("a", "b")
    ]
    (line,) = change_lines(tempos, BANDS, PATHS)
    assert line.sentence == "Harbor Band: 2 tempos to reach at home changed"
    assert (line.readers, line.path) == (("harbor",), "winter/harbor/")
    assert line.until == date(2026, 12, 6)  # the Sunday of that week
    (alone,) = change_lines(tempos[:1], BANDS, PATHS)
    assert alone.path == "winter/harbor/tides/"


def test_lost_rehearsals_of_a_band_are_one_line_that_matters_until_the_last_of_them() -> None:
    days = (date(2026, 12, 4), date(2026, 12, 8))
    lost = [
        FactChange(
            Fact(
                f"winter/harbor/rehearsal/{day}",
                ("harbor",),
                Topic.DAY,
                f"Harbor Band, rehearsal on Dec {day.day}",
                "2:00 pm",
                day,
            ),
            None,
        )
        for day in days
    ]
    (line,) = change_lines(lost, BANDS, PATHS)
    assert line.sentence == "No longer: Harbor Band, rehearsals on Dec 4 and 8"
    assert line.headed == "No longer: rehearsals on Dec 4 and 8"
    assert (line.until, line.path) == (days[1], "winter/harbor/")


def test_a_note_tells_of_two_weeks_before_its_pages_newest_change() -> None:
    doors, wear, bring = (
        _changed(f"winter/concert/concert/{one}") for one in ("doors", "wear", "bring")
    )
    other = _changed("winter/harbor/rehearsal/2026-12-03")
    told = _published((0, ()), (10, (bring,)), (20, (wear,)), (30, (doors,)), (90, (other,)))
    days = [note.day for note in told.notes("winter/concert/")]
    assert days == [date(2026, 12, 16), date(2026, 12, 6)]  # and no longer of November 26
    assert [note.day for note in told.notes("winter/harbor/")] == [date(2027, 2, 14)]
    assert list(told.notes("words/")) == []


def test_a_page_does_not_tell_of_what_changed_again() -> None:
    doors, concert = "winter/concert/concert/doors", "winter/concert/concert"
    gone = [FactChange(_changed(key).new, None) for key in (concert, doors)]
    told = _published((0, ()), (1, (_changed(doors),)), (2, tuple(gone)))
    (note,) = told.notes("winter/concert/")
    assert [line.sentence for line in note.lines] == [change_words(gone[0])]


def test_a_note_leaves_out_what_was_over_when_it_was_published() -> None:
    past, ahead = date(2026, 11, 16), date(2026, 11, 17)
    changes = (_changed("event/parade/a", past), _changed("event/parade/b", ahead))
    (note,) = _published((0, ()), (1, changes)).notes("events/parade/")
    assert [line.until for line in note.lines] == [ahead]
    since = _published((0, ()), (1, changes)).since()
    assert [one.line.until for one in since.lines] == [ahead]


def test_what_has_a_day_only_now_or_only_before_is_never_over() -> None:
    was = Fact("winter/concert/concert", (), Topic.DAY, "Concert", "to be told")
    told = Fact(was.key, (), Topic.DAY, "Concert", "Dec 17", date(2026, 12, 17))
    (line,) = change_lines([FactChange(was, told)], BANDS, PATHS)
    assert line.until is None


def test_a_part_tells_of_its_bands_music_if_its_own_words_changed_with_it() -> None:
    goal = _changed("winter/harbor/piece/tides/arrival/goal")
    told = _published((0, ()), (1, (goal,)), changed={"winter/harbor/part/flute/": 1})
    (note,) = told.notes("winter/harbor/part/flute/")
    assert [line.path for line in note.lines] == ["winter/harbor/tides/"]
    assert list(told.notes("winter/harbor/part/tuba/")) == []


def test_who_comes_back_is_told_by_what_was_seen() -> None:
    doors, wear = _changed("winter/concert/concert/doors"), _changed("winter/concert/concert/wear")
    since = _published((0, ()), (1, (doors,)), (2, (wear,))).since()
    assert (since.newest, since.before, since.oldest) == (3, 2, 1)
    found = {one.line.sentence.partition(":")[0]: (one.first, one.last) for one in since.lines}
    assert found == {"winter/concert/concert/doors": (1, 1), "winter/concert/concert/wear": (1, 2)}


def test_what_became_as_it_was_is_told_only_to_who_saw_it_otherwise() -> None:
    later = _changed("winter/concert/concert/doors")
    back = FactChange(later.new, later.old)
    (only,) = _published((0, ()), (1, (later,)), (2, (back,))).since().lines
    assert (only.line.sentence, only.first, only.last) == (change_words(back), 2, 2)


def test_the_first_page_stays_light_however_often_something_changes() -> None:
    """Who looked at a publication that is no longer told of is told what came after the next one."""
    many = [
        (day, tuple(_changed(f"winter/concert/{day}-{n}") for n in range(6))) for day in range(9)
    ]
    since = _published((0, ()), *many).since()
    # Six lines of each of the nine publications; for each earlier look the first six are others.
    assert (since.oldest, len(since.lines)) == (5, 30)


def test_the_lines_of_one_band_leave_room_for_those_of_another() -> None:
    many = [_changed(f"winter/concert/{n}") for n in range(9)]
    since = _published((0, ()), (1, (*many, _changed("winter/harbor/x")))).since()
    assert [one.line.readers for one in since.lines] == [()] * 6 + [("harbor",)]


def test_publications_stand_by_cycle_and_new_words_of_families_pages_among_them() -> None:
    told = _published((0, ()), (31, ()), (32, ()), changed={"families/rules/": 32})
    spring, winter = told.by_cycle()
    assert (spring.name, [one.number for one in spring.publications]) == ("Spring", [3])
    assert (winter.name, [one.number for one in winter.publications]) == ("Winter", [2, 1])
    assert [line.sentence for line in spring.publications[0].lines] == ["Rules: new words"]
    assert [one.first for one in winter.publications] == [False, True]


def test_the_list_is_grouped_by_readers_and_says_so_if_nothing_has_changed() -> None:
    rehearsal = _changed("winter/harbor/rehearsal/2026-12-03")
    closed = _changed("school/2026-27/closed/2026-12-03")
    draw = Renderer().part
    page = inset_of("changes/", _published((0, ()), (1, (rehearsal, closed))), draw)
    found = _html(page, InsetPlace.NO_CHANGES)
    assert found.index("For everyone") < found.index("For Harbor Band") < found.index("first publ")
    assert 'class="publication mine who-1 who-2" id="no-2"' in found
    assert 'class="mine who-1"' in found
    alone = _html(inset_of("changes/", _published((0, ())), draw), InsetPlace.NO_CHANGES)
    assert "Nothing has changed since this was first published on Monday, November 16" in alone
    assert _published((0, ())).publications[0].lines == ()


def test_the_list_ends_where_a_page_would_be_too_long() -> None:
    many = tuple(_changed(f"winter/concert/concert/{number}") for number in range(70))
    told = _published((0, ()), *((day, many) for day in range(1, 21)))
    # Sixty lines of each and no more than eight hundred in all: thirteen publications.
    assert [one.number for one in told.publications] == [*range(21, 8, -1)]
    assert told.publications[0].more == 10
    found = _html(inset_of("changes/", told, Renderer().part), InsetPlace.NO_CHANGES)
    assert "is not listed any more" in found


def test_nothing_that_an_author_writes_is_taken_for_a_place() -> None:
    top, foot = InsetPlace.TOP.text, InsetPlace.FOOT.text
    page = f"{top}a{top}{foot}</main>{foot}b"
    assert set_in(page, (SetIn(InsetPlace.TOP, top, "T"), SetIn(InsetPlace.FOOT, foot, "F"))) == (
        f"{top}Ta{top}{foot}</main>F{foot}b"
    )
    with pytest.raises(ValueError, match="PAST"):
        set_in(page, (SetIn(InsetPlace.PAST, InsetPlace.PAST.text, ""),))


def test_the_words_of_a_page_are_neither_its_frame_nor_its_versions() -> None:
    page = '<p>{0}</p><main id="main"><h1 class="{1}">Rules</h1><script src="a.js?v={0}"></script><a href="{2}">Map</a></main>{0}'
    digest = words_digest(page.format("1", "a", "map/").encode())
    assert words_digest(page.format("2", "b", "map/").encode()) == digest
    assert words_digest(page.format("1", "a", "plan/").encode()) != digest


def test_the_feed_reads_as_rfc_4287_has_it() -> None:
    doors = _changed("winter/concert/concert/doors")
    told = _published((0, ()), (1, (doors,)))
    read = feedparser.parse(changes_feed(told).content)
    assert (read.bozo, read.version) == (False, "atom10")
    feed, entries = read.feed, read.entries
    # 4.1.1: an id, a title, an updated, an author and a link to itself.
    assert feed.title == "Quill & Quay Bands: changes"
    assert feed.author == "Quill & Quay Bands"
    assert feed.updated == "2026-11-17T18:00:00Z"
    assert [link.href for link in feed.links if link.rel == "self"] == [
        "https://quay.example/band/changes/feed.xml"
    ]
    assert [one.title for one in entries] == [
        "1 change, Nov 17, 2026",
        "First published, Nov 16, 2026",
    ]
    assert entries[0].link == "https://quay.example/band/changes/#no-2"
    assert "6:45 pm, before 6:30 pm" in entries[0].content[0].value
    # 4.2.6: ids are absolute, all unlike, and those of earlier entries stay.
    ids = [feed.id, *(one.id for one in entries)]
    assert len(set(ids)) == 3
    assert all(one.startswith("urn:uuid:") for one in ids)
    before = feedparser.parse(changes_feed(_published((0, ()))).content)
    assert [before.feed.id, before.entries[0].id] == [ids[0], ids[2]]
    other = feedparser.parse(changes_feed(_published((1, ()))).content)
    assert {other.feed.id, other.entries[0].id}.isdisjoint(ids)


def test_the_feed_has_no_link_where_the_address_is_not_known() -> None:
    told = _published((0, ()))
    nowhere = ToldChanges(told.history, _without_address(), told.words)
    assert b"<link" not in changes_feed(nowhere).content


def _without_address() -> ToldSite:
    return ToldSite("Bands", "en", SITE.zone, BANDS, {}, (), None)
