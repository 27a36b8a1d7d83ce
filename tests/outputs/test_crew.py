"""The page for the crew: run of show, calls, rooms, resets, loads, cautions."""

from __future__ import annotations

import re
from html import unescape
from itertools import pairwise
from pathlib import Path

import pytest

from handbook.domain.tables.cautions import CREW_PAGE, REHEARSAL_PAGE
from handbook.outputs.components.cautions import caution_groups
from handbook.outputs.pages.crew import CrewView, crew_view
from tests.outputs.concerts import EVENING, evening, main_of, page
from tests.outputs.rendering import site_of

PATH = "winter/concert/crew/"


@pytest.fixture
def view(tmp_path: Path) -> CrewView:
    return crew_view(*evening(tmp_path))


@pytest.fixture
def html(tmp_path: Path) -> str:
    context, _, _ = evening(tmp_path)
    return main_of(page(context, PATH))


def test_the_run_of_show_is_shown_to_the_minute(view: CrewView, html: str) -> None:
    assert [f"{line.start} {line.end} {line.length} {line.what}" for line in view.show] == [
        "7:00 pm 7:01 pm 55 s Tweed Kites",
        "7:01 pm 7:11 pm 10 min Intermission",
        "7:11 pm 7:12 pm 1 min 15 s Button Comets",
    ]
    # 53 1/3 s, 600 s and 76 s are 729 1/3 s: rounded after the sum.
    assert "In all 12 min 10 s." in html


def test_calls_in_order_of_time(view: CrewView) -> None:
    assert [(line.who, line.call) for line in view.calls] == [
        ("Lantern Band, percussion", "6:15 pm"),
        ("Stage crew", "6:15 pm"),
        ("Harbor Band", "6:25 pm"),
        ("Lantern Band", "6:35 pm"),
    ]


def test_rides_tell_seats_and_riders_but_no_names(view: CrewView) -> None:
    (ride,) = view.rides
    assert (ride.who, ride.riders) == ("Lantern Band", "23 riders, 2 of them adults")
    assert ride.buses == "1 bus, 52 seats"
    # 10 minutes to load, 20 to drive, at the hall by the call of the percussion at 6:15 pm;
    # at the bus 20 minutes after the end at 7:12:09 pm; buses by marks of 5 minutes.
    assert ride.times == ("5:45 pm", "5:55 pm", "6:15 pm", "7:45 pm", "8:05 pm")


def test_rooms_have_the_same_facts_in_picture_and_table(view: CrewView, html: str) -> None:
    assert [(use.number, use.room, use.time, use.what) for use in view.uses] == [
        (1, "Green room", "5:00–6:00 pm", "Pizza"),
        (2, "Green room", "6:15–7:27 pm", "Lantern Band: warm-up to packed"),
        (3, "Band room", "6:25–7:16 pm", "Harbor Band: warm-up to packed"),
        (4, "Main stage", "6:55–7:01 pm", "Harbor Band on stage"),
        (5, "Main stage", "7:06–7:12 pm", "Lantern Band on stage"),
    ]
    assert view.charts is not None
    for chart in view.charts:
        bars = [(bar.number, row.name) for row in chart.rows for bar in row.bars]
        assert sorted(bars) == [(use.number, use.room) for use in view.uses]
        for row in chart.rows:
            assert all(bar.x >= 0 and bar.x + bar.width <= chart.width for bar in row.bars)
    numbers = re.findall(r'<text class="use-number [^>]*>(\d+)</text>', html)
    # Once in the drawing for a phone and once in that for a wide page.
    assert numbers == [str(n) for n in (1, 2, 3, 4, 5)] * 2


def test_a_bar_stands_where_its_time_is(view: CrewView) -> None:
    # Two hours and a half of day in a row: bars are as far apart as their starts.
    assert view.charts is not None
    for chart in view.charts:
        ticks = [tick.x for tick in chart.ticks]
        steps = {round(after - before, 0) for before, after in pairwise(ticks)}
        assert len(steps) <= 2  # half hours, equal but for rounding
        first = next(bar for row in chart.rows for bar in row.bars if bar.number == 1)
        half_hour = (ticks[-1] - ticks[0]) / (len(ticks) - 1)
        assert first.x == pytest.approx(ticks[0], abs=0.2)  # 5:00 pm
        assert first.width == pytest.approx(2 * half_hour, abs=0.3)  # an hour


def test_resets(view: CrewView) -> None:
    assert view.stage is not None
    assert [(turn.who, turn.add, turn.strike) for turn in view.stage.turns] == [
        ("Harbor Band", "9 chairs, 1 podium, 10 stands", ""),
        ("Lantern Band", "12 chairs, 12 stands", ""),
    ]
    assert [(row.thing, row.needed, row.has, row.short) for row in view.stage.stock] == [
        ("chair", 21, "40", ""),
        ("podium", 1, "", ""),
        ("stand", 22, "10", "12 stands"),
    ]
    assert view.stage.unstated == "podium"


def test_loads(view: CrewView) -> None:
    assert view.load is not None
    assert [
        (str(line.item.name), line.item.count, line.weight, line.needs) for line in view.load.items
    ] == [
        ("Timpani", 3, "85 lb", ("two adults", "on wheels")),
        ("Trunk", 1, "not weighed", ("ask first",)),
    ]
    assert view.load.total == "4 pieces: 1 not weighed, the rest 255 lb together"
    assert [route.total for route in view.load.routes] == [
        "3 pieces, 255 lb in all",
        "1 piece",
    ]
    assert view.load.limits == (
        "two adults for a piece over 35 lb",
        "wheels for a piece over 50 lb",
    )
    assert [[share.things for share in trip] for trip in view.load.routes[0].trips] == [
        ["Timpani (2)"],
        ["Timpani"],
    ]


def test_what_goes_on_from_a_room_is_told_for_each_way_and_counted_once(tmp_path: Path) -> None:
    on = "from: band-room, to: green-room, carrier: cart, then: [{to: stage, who: stage-crew}]}"
    first = "from: band-room, to: stage, carrier: cart, who: stage-crew}"
    assert first in EVENING
    view = crew_view(*evening(tmp_path, EVENING.replace(first, on)))
    assert view.load is not None
    assert [(line.way, line.who) for line in view.load.items] == [
        ("From Band room to Green room", ""),
        ("From Green room to Main stage", "Stage crew"),
        ("From Band room to Main stage", ""),
    ]
    assert view.load.total == "4 pieces: 1 not weighed, the rest 255 lb together"
    assert [way for way, _ in view.roles[0].ways] == ["From Green room to Main stage"]
    assert [len(ways) for ways in view.load.things] == [2, 1]


def test_who_has_chosen_a_role_reads_the_parts_that_concern_it(tmp_path: Path) -> None:
    """Who stays with a band reads of bands and buses, who sets the stage of that and of loads."""
    roles = EVENING.replace("crew: [{", "crew: [{id: escorts, name: Escorts, tasks: [Walk]}, {")
    html = main_of(page(evening(tmp_path, roles)[0], PATH))
    parts = {
        found[2]: found[1]
        for found in re.finditer(r'<section( class="mine[^"]*")?>\s*<h2 id="([a-z]+)">', html)
    }
    assert parts == {
        "show": None,
        "calls": ' class="mine who-1"',
        "buses": ' class="mine who-1"',
        "rooms": ' class="mine who-1"',
        "stage": ' class="mine who-2"',
        "loads": ' class="mine who-2"',
        "care": None,
    }
    assert '<div class="table mine" role="region" aria-label="Loads"' in html
    assert '<label for="every-role">' in html


def test_all_parts_are_for_all_where_there_is_one_role(tmp_path: Path) -> None:
    html = main_of(page(evening(tmp_path)[0], PATH))
    assert '<section>\n<h2 id="stage">' in html
    assert "every-role" not in html


def test_a_room_booked_for_a_role_is_among_its_hours(tmp_path: Path) -> None:
    booked = EVENING.replace("what: Pizza}", "what: Load-in, who: stage-crew}")
    assert booked != EVENING
    view = crew_view(*evening(tmp_path, booked))
    assert view.uses[0].what == "Stage crew: Load-in"
    assert (view.roles[0].steps[0].time, view.roles[0].steps[0].what) == (
        "5:00 pm",
        "Load-in, Green room, until 6:00 pm",
    )


def test_loads_of_two_units_are_told_in_both(tmp_path: Path) -> None:
    """A pound is 0.45359237 kg exactly (NIST SP 811, Appendix B): 255 lb and 20 kg."""
    rack = "care:\n"
    mixed = EVENING.replace(
        rack, "  - {id: rack, name: Rack, weight: 20 kg, from: stage, to: band-room}\n" + rack
    )
    view = crew_view(*evening(tmp_path, mixed))
    assert view.load is not None
    # 255 * 0.45359237 = 115.67 kg, with 20 kg 135.67 kg or 299.09 lb.
    assert view.load.total == "5 pieces: 1 not weighed, the rest 299 lb (136 kg) together"
    assert [route.total for route in view.load.routes][::2] == [
        "3 pieces, 255 lb (116 kg) in all",
        "1 piece",  # by hand: its weight stands with it
    ]
    assert [item.weight for item in view.load.items] == ["85 lb", "not weighed", "20 kg"]


def test_each_reset_has_its_time(view: CrewView) -> None:
    """The crew resets in the first 4 minutes of the intermission (common practice, no source)."""
    assert view.stage is not None
    assert [turn.reset for turn in view.stage.turns] == ["", "7:01–7:05 pm"]


def test_a_task_shows_the_time_by_which_it_is_done(tmp_path: Path) -> None:
    timed = EVENING.replace(
        "tasks: [Set chairs]", "tasks: [{what: Set chairs, by: 6:45 pm}, Strike]"
    )
    context, _, _ = evening(tmp_path, timed)
    html = main_of(page(context, PATH))
    assert (
        '<li data-at="2026-12-10T18:45" data-due><b class="num">by 6:45 pm</b>'
        " <span>Set chairs</span></li>" in html
    )
    assert "<li>Strike</li>" in html


def test_a_roles_list_holds_its_whole_evening_in_order_of_time(tmp_path: Path) -> None:
    """Who brings what stands on the stage meets there and sets it, each reset at its time."""
    timed = EVENING.replace("tasks: [Set chairs]", "tasks: [{what: Strike, by: 7:14 pm}]")
    (role,) = crew_view(*evening(tmp_path, timed)).roles
    assert role.place == "Main stage"
    assert [(step.time, step.what) for step in role.steps] == [
        ("6:15 pm", "Be ready, Main stage"),
        ("6:15 pm", "Set the stage for Harbor Band: add 9 chairs, 1 podium, 10 stands"),
        ("7:00 pm", "The concert begins"),
        ("7:01 pm", "Reset for Lantern Band, 7:01–7:05 pm: add 12 chairs, 12 stands"),
        ("7:12 pm", "The concert ends"),
        ("7:14 pm", "Strike"),
        ("7:15 pm", "Done"),
    ]


def test_what_is_due_stands_before_what_begins_then(tmp_path: Path) -> None:
    timed = EVENING.replace("what: Pizza}", "what: Load-in, who: stage-crew}").replace(
        "tasks: [Set chairs]", "tasks: [{what: Be at the dock, by: 5:00 pm}]"
    )
    (role,) = crew_view(*evening(tmp_path, timed)).roles
    words = [step.what for step in role.steps if step.time == "5:00 pm"]
    assert words == ["Be at the dock", "Load-in, Green room, until 6:00 pm"]


def test_who_meets_in_another_room_brings_things_and_sets_no_stage(tmp_path: Path) -> None:
    """Loading adults bring percussion from the band room; chairs are the stage crew's."""
    loading = EVENING.replace("{role: stage-crew,", "{role: stage-crew, room: band-room,")
    (role,) = crew_view(*evening(tmp_path, loading)).roles
    assert role.place == "Band room, at school"  # the hall is elsewhere
    assert role.carries
    assert not any("stage" in step.what or "Reset" in step.what for step in role.steps)


def test_a_role_that_only_moves_things_meets_where_they_stand(tmp_path: Path) -> None:
    moved = EVENING.replace("to: stage, carrier: cart", "to: green-room, carrier: cart")
    (role,) = crew_view(*evening(tmp_path, moved)).roles
    assert role.place == "Band room, at school"  # the hall is elsewhere
    assert not any("Reset" in step.what for step in role.steps)


def test_no_caution_stands_without_its_scope_and_source(html: str) -> None:
    words = unescape(html)
    for caution in CREW_PAGE:
        assert caution.text in words
        assert caution.source in words
        assert caution.scope in words


def test_what_is_read_first_says_its_scope_once(html: str) -> None:
    first = unescape(html[html.index('class="care-first"') : html.index('id="show"')])
    for sentence in ("Made for adults at work, not for students.", "Follow your district's rules;"):
        assert first.count(sentence) == 1


def test_what_a_carrier_does_not_take_is_told(tmp_path: Path) -> None:
    limits = EVENING.replace("pieces: 2}]", "pieces: 2, weight: 60 lb}]").replace(
        "trunk, name: Trunk, from: band-room, to: stage",
        "trunk, name: Trunk, count: 2, from: band-room, to: stage, carrier: cart",
    )
    html = main_of(page(evening(tmp_path, limits)[0], PATH))
    assert "Too heavy for it: Stage crew: Timpani (3)<" in html
    assert "Weigh before loading: Everyone: Trunk (2)<" in html


def test_cautions_keep_their_scope_when_grouped() -> None:
    for page_of in (CREW_PAGE, REHEARSAL_PAGE):
        groups = caution_groups(page_of)
        scopes = {one.text: one.scope_sentences for one in page_of}
        assert sorted(one.text for group in groups for one in group.cautions) == sorted(scopes)
        assert all(scopes[one.text] == group.scope for group in groups for one in group.cautions)
        assert len({group.scope for group in groups}) == len(groups)


def test_rehearsal_pages_carry_cautions_on_hearing(tmp_path: Path) -> None:
    context, _, _ = evening(tmp_path)
    words = unescape(main_of(page(context, "winter/harbor/")))
    for caution in REHEARSAL_PAGE:
        assert caution.text in words
        assert caution.source in words
        assert caution.scope in words


def test_nothing_measured_by_staff_is_published(tmp_path: Path) -> None:
    context, _, _ = evening(tmp_path)
    site = site_of(context.plan)
    texts = [f"{one.title}{one.description}{one.head}{one.body}" for one in site.pages]
    texts += [file.content.decode("utf-8", "replace") for file in site.files]
    assert not [text for text in texts if "Secret" in text or "97 dBA" in text]


def test_nothing_is_called_safe(html: str) -> None:
    assert not re.search(r"\bsafe(ly)?\b", html)


def test_without_a_limit_of_its_own_the_page_sends_to_the_office(tmp_path: Path) -> None:
    plain = EVENING.replace("lifting: {two_adults_over: 35 lb, wheels_over: 50 lb}\n", "")
    context, _, _ = evening(tmp_path, plain)
    html = main_of(page(context, PATH))
    assert "ask the facilities or safety office" in html
    assert "two adults" not in html[html.index('id="loads"') : html.index('id="care"')]


def test_a_minimal_concert_has_its_run_of_show(tmp_path: Path) -> None:
    plain = "name: C\ndate: 2026-12-10\ndownbeat: 7:00 pm\nvenue: hall\nprogram:\n  - {ensemble: harbor, pieces: [tweed-kites]}\n"
    context, cycle, concert = evening(tmp_path, plain)
    view = crew_view(context, cycle, concert)
    assert (view.roles, view.rides, view.load) == ((), (), None)
    assert [line.what for line in view.show] == ["Tweed Kites"]
    html = main_of(page(context, PATH))
    assert 'id="loads"' not in html
    assert 'id="care"' in html


def test_search_finds_its_parts(tmp_path: Path) -> None:
    context, _, _ = evening(tmp_path)
    rendered = page(context, PATH)
    anchors = {entry.anchor for entry in rendered.search}
    assert anchors == {"", "show", "calls", "buses", "rooms", "stage", "loads"}
    assert all(f'id="{anchor}"' in rendered.body for anchor in anchors if anchor)


@pytest.mark.parametrize("entry", ["", "  - {role: doors}\n"])
def test_a_role_without_a_call_of_its_own_has_no_times(entry: str, tmp_path: Path) -> None:
    more = EVENING.replace(
        "tasks: [Set chairs]}]", "tasks: [Set chairs]}, {id: doors, name: Doors}]"
    )
    view = crew_view(*evening(tmp_path, more.replace("bookings:", f"{entry}bookings:")))
    assert [(str(role.item.name), bool(role.call), bool(role.released)) for role in view.roles] == [
        ("Stage crew", True, True),
        ("Doors", False, False),
    ]
