"""The family sheet: where, when, in what, with what, until when."""

from __future__ import annotations

import re
from datetime import time
from pathlib import Path

import pytest

from handbook.domain.values.clock import format_clock
from handbook.outputs.pages.concert import ConcertView, MeetView, concert_view
from tests.outputs.concerts import EVENING, evening, main_of, page

PATH = "winter/concert/"


@pytest.fixture
def view(tmp_path: Path) -> ConcertView:
    return concert_view(*evening(tmp_path))


@pytest.fixture
def html(tmp_path: Path) -> str:
    context, _, _ = evening(tmp_path)
    return main_of(page(context, PATH))


def lines(meets: tuple[MeetView, ...]) -> list[str]:
    return [
        f"{format_clock(m.at)} {m.place}: {', '.join(who.name for who in m.who)}" for m in meets
    ]


def test_who_meets_when_and_where(view: ConcertView) -> None:
    # Harbor: 35 minutes before 7 pm. Lantern's first note is at 7:10:53 pm; its percussion
    # needs 20 minutes more, and the bus leaves in time for it: call 6:15, 20 + 10 before.
    assert lines(view.at_bus) == ["5:45 pm Bus loop: Lantern Band"]
    assert lines(view.in_room) == ["6:25 pm Band room: Harbor Band"]
    # Harbor is at the door 20 minutes after 7:00:53; Lantern at the bus 20 minutes after
    # 7:12:09, and at school 30 minutes later.
    assert lines(view.pick_ups) == ["7:25 pm : Harbor Band", "8:05 pm Bus loop: Lantern Band"]


def test_a_section_that_comes_or_goes_at_another_time_is_named(tmp_path: Path) -> None:
    sections = """
  - {ensemble: harbor, section: percussion, call: 6:00 pm}
  - {ensemble: harbor, section: low-brass, pick_up: 8:00 pm}
  - {ensemble: harbor, section: winds}
"""
    concert = EVENING.replace(
        "\n  - {ensemble: lantern, room", f"{sections}  - {{ensemble: lantern, room"
    )
    view = concert_view(*evening(tmp_path, concert))
    assert lines(view.in_room) == [
        "6:00 pm Band room: Harbor Band, percussion",
        "6:25 pm Band room: Harbor Band, Harbor Band, low brass",
    ]
    assert lines(view.pick_ups) == [
        "7:25 pm : Harbor Band, Harbor Band, percussion",
        "8:00 pm : Harbor Band, low brass",
        "8:05 pm Bus loop: Lantern Band",
    ]


def test_all_at_once_need_no_names(tmp_path: Path) -> None:
    stated = (
        "name: C\ndate: 2026-12-10\ndownbeat: 7:00 pm\nvenue: hall\npick_up: 8:00 pm\n"
        "program:\n  - {ensemble: harbor, pieces: [tweed-kites], call: 6:15 pm, place: Gym}\n"
    )
    view = concert_view(*evening(tmp_path, stated))
    assert [(meet.at, meet.place, meet.everybody) for meet in view.in_room] == [
        (time(18, 15), "Gym", True)
    ]
    assert view.at_bus == ()
    assert [meet.everybody for meet in view.pick_ups] == [True]
    assert view.days == ()


def test_clothes_for_all_and_for_one_band(view: ConcertView) -> None:
    assert [(thing.text, thing.band) for thing in view.attire] == [
        ("White shirt", ""),
        ("Black shoes", ""),
        ("Blue tie", "Lantern Band"),
    ]
    assert len({thing.key for thing in (*view.attire, *view.bring)}) == 4


def test_what_only_some_players_bring_is_said_so_and_known_by_their_parts(tmp_path: Path) -> None:
    some = EVENING.replace("\nbring: [", "\nbring: [{who: [brass], text: Valve oil}, ", 1)
    assert some != EVENING
    context, cycle, concert = evening(tmp_path, some)
    oil = concert_view(context, cycle, concert).bring[0]
    bands = {one.id: one.instruments for one in context.plan.program.ensembles}
    assert oil.text == "Brass: Valve oil"
    assert oil.players.split() == [
        f"{band}/{name}"
        for band in ("harbor", "lantern")
        for name in bands[band]
        if name in {"trumpet", "horn", "trombone", "euphonium", "tuba"}
    ]
    assert oil.players
    assert f'data-players="{oil.players}"' in main_of(page(context, PATH))
    assert {one.players for one in concert_view(context, cycle, concert).bring[1:]} == {""}


def test_a_tick_stays_with_its_words_when_the_list_changes(tmp_path: Path) -> None:
    before = concert_view(*evening(tmp_path / "before"))
    longer = EVENING.replace("[White shirt, Black shoes]", "[Socks, White shirt, Black shoes]")
    after = concert_view(*evening(tmp_path / "after", longer))
    keys = {thing.text: thing.key for thing in after.attire}
    assert all(keys[thing.text] == thing.key for thing in before.attire)


def test_the_day_step_by_step(view: ConcertView) -> None:
    harbor = next(card for card in view.days if card.band == "Harbor Band")
    assert [f"{step.time} {step.what}" for step in harbor.steps] == [
        "6:25 pm Ready in the room, Band room",
        "6:25 pm Unpack in Band room",
        "6:35 pm Warm-up in Band room",
        "6:50 pm Walk to the stage",
        "6:55 pm In place",
        "7:00 pm First note",
        "7:01 pm Last note",
        "7:06 pm Off the stage, pack up",
        "7:16 pm Packed",
        "7:25 pm Pick-up",
    ]
    lantern = next(card for card in view.days if card.band == "Lantern Band")
    assert [step.what for step in lantern.steps[:4]] == [
        "Be at the bus, bus loop",
        "Buses leave",
        "Arrive at Great Hall",
        "Ready in the room, Green room",
    ]
    assert [step.what for step in lantern.steps[-3:]] == [
        "Buses leave for school",
        "Back at school",
        "Pick-up",
    ]


def test_the_program_as_an_audience_reads_it(view: ConcertView) -> None:
    assert [
        (turn.band, turn.pause, [str(piece.item.title) for piece in turn.pieces])
        for turn in view.turns
    ] == [
        ("Harbor Band", "", ["Tweed Kites"]),
        ("Lantern Band", "10 min", ["Button Comets"]),
    ]
    # 53.3 s, 10 min and 76 s after 7 pm, to the next mark of 5 minutes.
    assert format_clock(view.ends.time()) == "7:15 pm"


def test_the_answers_come_first_and_in_order(html: str) -> None:
    html = html[html.index('<section class="sheet"') :]  # past the list of what is on the page
    order = [html.index(f">{word}<") for word in ("Where", "Pick-up", "Wear", "Bring", "Questions")]
    assert order == sorted(order)
    assert html.index(">Be at the bus<") < html.index(">Ready in the room<")
    assert html.index(">Ready in the room<") < html.index(">Where<")
    assert html.index("Bring") < html.index("The day, step by step") < html.index("Program<")


def test_the_filter_needs_no_script(html: str) -> None:
    assert re.findall(r'<input type="radio"[^>]*data-filter="(\d)" data-band="(\w+)"', html) == [
        ("1", "harbor"),
        ("2", "lantern"),
    ]
    assert re.search(r'<li class="mine who-2"><b class="big">5:45 pm</b> <span[^>]*>Bus loop', html)
    assert re.search(
        r'<li class="mine who-2"><label><input type="checkbox"[^>]*> <span>Blue tie', html
    )
    assert html.count('type="checkbox"') == 4


def test_the_only_scripts_are_a_file_and_a_data_block(html: str) -> None:
    scripts = re.findall(r"<script([^>]*)>", html)
    assert scripts[0] == ' type="application/ld+json"'
    assert re.fullmatch(r' src="\.\./\.\./assets/concert\.js\?v=\w+" defer', scripts[1])
    assert len(scripts) == 2
    assert not re.search(r'\sstyle="|\son\w+="', html)


def test_nothing_for_staff_or_by_person_reaches_the_page(html: str) -> None:
    for hidden in ("Secret", "dBA", "RWL", "bus-1", "52", "85 lb", "stage-crew"):
        assert hidden not in re.sub(r'(?:href|src|class)="[^"]*"', "", html), hidden


def test_texts_are_escaped(html: str) -> None:
    assert "Winter &lt;Concert&gt; &amp; friends" in html
    assert "<Concert>" not in html


def test_search_finds_its_parts(tmp_path: Path) -> None:
    context, _, _ = evening(tmp_path)
    entries = {entry.anchor: entry for entry in page(context, PATH).search}
    asked = {"", "call", "place", "pick-up", "attire", "bring", "program"}
    assert set(entries) == asked | {"day-harbor", "day-lantern"}
    assert "5:45 pm" in entries[""].text
    assert all(entries[one].answer for one in asked)
    assert "Blue tie" in entries["attire"].text
    main = main_of(page(context, PATH))
    assert all(f'id="{anchor}"' in main for anchor in entries if anchor)


def test_a_minimal_concert_leaves_parts_out(tmp_path: Path) -> None:
    plain = "name: C\ndate: 2026-12-10\ndownbeat: 7:00 pm\nvenue: hall\nprogram:\n  - {ensemble: harbor, pieces: [tweed-kites]}\n"
    context, cycle, concert = evening(tmp_path, plain)
    view = concert_view(context, cycle, concert)
    assert (view.at_bus, view.in_room, view.pick_ups, view.attire, view.bring, view.days) == (
        (),
        (),
        (),
        (),
        (),
        (),
    )
    html = main_of(page(context, PATH))
    for absent in ("Wear", "Bring", "Pick-up", "step by step", 'type="radio"'):
        assert absent not in html
