"""One leader in two places; that nobody can be in two rooms needs no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.pipeline import load_problems
from tests.content_folders import base_files, changed, write_folder

PROGRAM, YEAR = "program.yaml", "years/2026-27.yaml"
CYCLE = "cycles/winter/cycle.yaml"
STAFF = """staff:
  - {id: director, name: the band director}
  - {id: assistant, name: the assistant director}
rooms:
  - {id: annex, name: Annex}
"""
IN_BAND_ROOM = "    room: band-room\n    instruments: {%s"


def folder(lantern: str, harbor: str, room: str = "annex") -> dict[str, str]:
    """The shared folder with both bands on Wednesdays in period 3, seven times before the concert."""
    files = changed(base_files(), PROGRAM, "rooms:\n", STAFF)
    for first, led_by, where in (("flute: 6", lantern, "band-room"), ("flute: 4", harbor, room)):
        led = f"    led_by: [{led_by}]\n" if led_by else ""
        at = f"    room: {where}\n" if where else ""
        old = IN_BAND_ROOM % first
        files = changed(files, PROGRAM, old, led + at + old.partition("\n")[2])
    files = changed(files, YEAR, "weekdays: [Tue, Thu]", "weekdays: [Wed, Thu]")
    return changed(files, YEAR, "period: p4", "period: p3")


def told(files: dict[str, str], at: Path) -> list[str]:
    problems = load_problems(write_folder(at, files)).problems
    return [one.message for one in problems if one.code == "leader-in-two-places"]


BOTH = "the band director leads `lantern` in `band-room` and `harbor` in `annex` at the same time on Wed 2026-10-21 and on 6 other days"


@pytest.mark.parametrize(
    ("lantern", "harbor", "room", "expected"),
    [
        pytest.param("director", "director", "annex", [BOTH], id="two rooms, told once"),
        pytest.param("director", "assistant", "annex", [], id="two leaders"),
        pytest.param("director", "", "annex", [], id="nobody said for one of them"),
        pytest.param("director", "director", "band-room", [], id="one room, told elsewhere"),
        pytest.param(
            "director",
            "director",
            "",
            [BOTH.replace(" in `annex`", "")],
            id="a room that is not known",
        ),
        pytest.param(
            "director, assistant",
            "assistant",
            "annex",
            [BOTH.replace("band director", "assistant director")],
            id="one of two leaders",
        ),
    ],
)  # fmt: skip
def test_a_leader_in_two_rooms_is_told_once(
    lantern: str, harbor: str, room: str, expected: list[str], tmp_path: Path
) -> None:
    assert told(folder(lantern, harbor, room), tmp_path) == expected


def test_a_meeting_may_have_another_leader(tmp_path: Path) -> None:
    files = folder("director", "director")
    files = changed(
        files, YEAR, "weekdays: [Wed, Thu]", "led_by: [assistant]\n    weekdays: [Wed, Thu]"
    )
    assert told(files, tmp_path) == []


@pytest.mark.parametrize(
    ("brass", "expected"),
    [
        # On the fourth of November the assistant takes the brass apart in the annex.
        ("assistant", ["`brass` of `lantern` in `annex` and `harbor` in `band-room`"]),
        ("director", []),
    ],
)
def test_who_leads_a_section_is_there(brass: str, expected: list[str], tmp_path: Path) -> None:
    files = folder("director", "assistant", "band-room")
    sections = f"""days:
  - date: 2026-11-04
    ensemble: lantern
    sections:
      winds: {{who: [flute, clarinet]}}
      brass: {{who: [trumpet], room: annex, led_by: [{brass}]}}
stages:"""
    files = changed(files, CYCLE, "stages:", sections)
    found = told(files, tmp_path)
    assert [one.partition(" leads ")[2].partition(" at the same")[0] for one in found] == expected


def test_groups_of_a_band_that_are_together_are_told_once(tmp_path: Path) -> None:
    files = folder("director", "director")
    groups = "    groups: [{id: winds, name: winds, instruments: {flute: 6, clarinet: 8}}, {id: brass, name: brass, instruments: {trumpet: 7}}]\n"
    files = changed(files, PROGRAM, "    name: Lantern Band\n", f"    name: Lantern Band\n{groups}")
    assert told(files, tmp_path) == [BOTH]


CONCERT = "cycles/winter/concert.yaml"
STEPS = "allowances: {unpack: 5, warm_up: 20, walk: 2, in_place: 2}\n"
OWN_TURNS = "  - {ensemble: harbor, pieces: [tweed-kites]}\n  - {ensemble: lantern, pieces: [button-comets]}\n"
TOGETHER = "  - {ensemble: harbor, joined_by: [lantern], pieces: [tweed-kites]}\n"
ONE_AFTER_THE_OTHER = "calls: [{ensemble: harbor, minutes: {warm_up: 5}}, {ensemble: lantern, minutes: {warm_up: 4}}]\n"


@pytest.mark.parametrize(
    ("program", "lantern", "rooms", "more", "told"),
    [
        (OWN_TURNS, "director", ("band-room", "annex"), "", 1),
        (OWN_TURNS, "director", ("", ""), "", 1),
        (OWN_TURNS, "director", ("annex", "annex"), "", 0),
        (OWN_TURNS, "assistant", ("band-room", "annex"), "", 0),
        (OWN_TURNS, "director", ("", ""), ONE_AFTER_THE_OTHER, 0),
        (TOGETHER, "director", ("band-room", "annex"), "", 0),
        # Together at first, and each by itself later: they warm up for the first.
        (TOGETHER + OWN_TURNS.partition("\n")[2], "director", ("band-room", "annex"), "", 0),
    ],
)
def test_a_leader_cannot_warm_up_two_bands_at_once(
    program: str, lantern: str, rooms: tuple[str, str], more: str, told: int, tmp_path: Path
) -> None:
    files = folder(lantern, "director")
    calls = [
        f"  - {{ensemble: {band}, room: {room}}}\n"
        for band, room in zip(("harbor", "lantern"), rooms, strict=True)
        if room
    ]
    listed = f"calls:\n{''.join(calls)}" if calls else ""
    head = base_files()[CONCERT].partition("program:\n")[0]
    files[CONCERT] = f"{head}program:\n{program}{STEPS}{listed}{more}"
    problems = load_problems(write_folder(tmp_path, files)).problems
    found = [one.message for one in problems if one.code == "leader-in-two-warm-ups"]
    assert len(found) == told, problems


@pytest.mark.parametrize(
    ("turn", "call", "told"),
    [
        ("", "", 1),
        (", led_by: [assistant]", "", 0),
        ("", ", led_by: [assistant]", 0),
    ],
)
def test_a_turn_or_a_call_says_who_leads_a_warm_up(
    turn: str, call: str, told: int, tmp_path: Path
) -> None:
    files = folder("director", "director")
    head = base_files()[CONCERT].partition("program:\n")[0]
    files[CONCERT] = (
        f"{head}program:\n  - {{ensemble: harbor, pieces: [tweed-kites]{turn}}}\n"
        "  - {ensemble: lantern, pieces: [button-comets]}\n"
        f"{STEPS}calls: [{{ensemble: lantern, room: annex{call}}}]\n"
    )
    problems = load_problems(write_folder(tmp_path, files)).problems
    found = [one.message for one in problems if one.code == "leader-in-two-warm-ups"]
    assert len(found) == told
