"""Rehearsals that cannot both be held, and passages that never are."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.checks.rehearsals import (
    passage_never_rehearsed,
    players_wanted_twice,
    room_used_twice,
)
from tests.content_folders import base_files, changed
from tests.plan.planning import CYCLE, YEAR, planned

HARBOR = "    weekdays: [Tue, Thu]\n    period: p4\n"


def same_hour(files: dict[str, str]) -> dict[str, str]:
    return changed(files, YEAR, HARBOR, "    weekdays: [Mon]\n    period: p3\n")


def test_the_shared_folder_has_nothing_of_this_kind(tmp_path: Path) -> None:
    plan = planned(tmp_path).plan
    assert not room_used_twice(plan)
    assert not players_wanted_twice(plan)
    assert not passage_never_rehearsed(plan)


def test_one_room_at_one_time_is_told_once_for_all_days(tmp_path: Path) -> None:
    found = room_used_twice(planned(tmp_path, same_hour(base_files())).plan)
    # Counted by hand: Mondays from 2026-10-19 to 2026-12-10 without the break are seven.
    assert [problem.message for problem in found] == [
        "`lantern` and `harbor` are both in `band-room` on Mon 2026-10-19 and on 6 other days"
    ]
    assert found[0].address == (CYCLE, "ensembles", 1)
    assert found[0].notes[0].address == (CYCLE, "ensembles", 0)


@pytest.mark.parametrize("times", ["start: 10:50\n    end: 11:30", "start: 09:20\n    end: 10:05"])
def test_one_may_begin_as_the_other_ends(tmp_path: Path, times: str) -> None:
    files = changed(base_files(), YEAR, HARBOR, f"    weekdays: [Mon]\n    {times}\n")
    assert not room_used_twice(planned(tmp_path, files).plan)


def test_shared_players_cannot_be_in_two_rooms(tmp_path: Path) -> None:
    files = same_hour(base_files())
    files = changed(
        files,
        "program.yaml",
        "    name: Harbor Band\n",
        "    name: Harbor Band\n    shares_players_with: [lantern]\n",
    )
    assert [problem.code for problem in players_wanted_twice(planned(tmp_path, files).plan)] == [
        "players-wanted-twice"
    ]


GROUPS = "    groups: [{id: winds, name: winds, instruments: {flute: 6, clarinet: 8}}, {id: brass, name: brass, instruments: {trumpet: 7}}]\n"


@pytest.mark.parametrize(
    ("groups", "expected"),
    [
        ("", ["`lantern` and `harbor` share 4 players and both rehearse"]),
        # Both groups meet as the whole band; how many of each are in the other band is not said.
        (
            GROUPS,
            [
                "`lantern-winds` and `harbor` share players and both rehearse",
                "`lantern-brass` and `harbor` share players and both rehearse",
            ],
        ),
    ],
)
def test_shared_players_are_counted_and_are_in_some_group_of_their_band(
    tmp_path: Path, groups: str, expected: list[str]
) -> None:
    files = same_hour(base_files())
    shared = "    name: Harbor Band\n    shares_players_with: {lantern: 4}\n"
    files = changed(files, "program.yaml", "    name: Harbor Band\n", shared)
    lantern = "    name: Lantern Band\n"
    files = changed(files, "program.yaml", lantern, lantern + groups)
    found = players_wanted_twice(planned(tmp_path, files).plan)
    assert [problem.message.partition(" on ")[0] for problem in found] == expected


def test_passages_that_nothing_plays_are_told_once(tmp_path: Path) -> None:
    files = changed(base_files(), CYCLE, "Mon 2026-10-19", "Mon 2026-12-07")
    days = "".join(
        f"  - {{date: {day}, ensemble: lantern, kind: sight-reading}}\n"
        for day in ("Mon 2026-12-07", "Wed 2026-12-09")
    )
    files = {**files, CYCLE: f"{files[CYCLE]}days:\n{days}"}
    found = passage_never_rehearsed(planned(tmp_path, files).plan)
    assert [problem.message for problem in found] == [
        "no rehearsal of `lantern` plays `opening` and `chase`"
    ]
