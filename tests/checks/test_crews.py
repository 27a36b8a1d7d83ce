"""Concert day must name rooms, roles and ensembles that there are, at hours in order.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import CONCERT, MUSIC, PROGRAM, Change, checked


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(CONCERT, "venue: hall", "venue: hall\ncrew: [{id: stage-crew, name: Stage crew}]\ncalls: [{role: stage-crew, call: 6 pm}, {ensemble: harbor, section: percussion, room: band-room}]")], []),
        ([(CONCERT, "venue: hall", "venue: hall\ncalls: [{role: stage-crew, call: 6 pm}]")], ["cycles/winter/concert.yaml:5:16 unknown-role: no role of the crew is called `stage-crew` | there is none yet: add it under crew"]),
        ([(CONCERT, "venue: hall", "venue: hall\nbookings: [{room: band-room, start: 6 pm, end: 7 pm, what: Load-in, who: truck-crew}]")], ["cycles/winter/concert.yaml:5:74 unknown-role: no role of the crew is called `truck-crew` | there is none yet: add it under crew"]),
        ([(CONCERT, "venue: hall", "venue: hall\nequipment: [{id: drum, name: Drum, from: band-room, to: band-room, then: [{to: dock, who: movers, carrier: van}]}]")], ["cycles/winter/concert.yaml:5:80 unknown-room: no room is called `dock` | there is `band-room`; others are added to program.yaml under rooms, or under those of `hall`", "cycles/winter/concert.yaml:5:91 unknown-role: no role of the crew is called `movers` | there is none yet: add it under crew", "cycles/winter/concert.yaml:5:108 unknown-carrier: no cart or truck is called `van` | there is none yet: add it under carriers"]),
        ([(CONCERT, "venue: hall", "venue: hall\ncrew: [{id: crew, name: S, tasks: [Strike, {what: Set, by: 6 pm}]}]")], []),
        ([(CONCERT, "venue: hall", "venue: hall\ncrew: [{id: crew, name: S, tasks: [Strike]}]\nbookings: [{room: band-room, start: 6 pm, end: 7 pm, what: Load-in, who: crew}]")], []),
        ([(CONCERT, "venue: hall", "venue: hall\ncrew: [{id: crew, name: S}]")], []),
        ([(CONCERT, "venue: hall", "venue: hall\ncrew: [{id: stage-crew, name: S}]\ncalls: [{ensemble: harbor, role: stage-crew}]")], ["cycles/winter/concert.yaml:6:34 call-without-group: this entry of `calls` is for a role of the crew and for an ensemble, and only one can hold | write an entry for each"]),
        ([(CONCERT, "venue: hall", "venue: hall\ncalls: [{ensemble: harbour, room: bandroom}]")], ["cycles/winter/concert.yaml:5:20 unknown-ensemble: no ensemble is called `harbour` | did you mean `harbor`?", "cycles/winter/concert.yaml:5:35 unknown-room: no room is called `bandroom` | did you mean `band-room`?"]),
        ([(CONCERT, "venue: hall", "venue: hall\nbookings: [{room: stage-door, start: 6 pm, end: 00:30, what: Load-out, ensembles: [harbor]}]")], ["cycles/winter/concert.yaml:5:19 unknown-room: no room is called `stage-door` | there is `band-room`; others are added to program.yaml under rooms, or under those of `hall`"]),
        ([(CONCERT, "venue: hall", "venue: hall\nbookings: [{room: band-room, start: 6 pm, end: 5 pm, what: Load-in}]")], ["cycles/winter/concert.yaml:5:48 end-before-start: this ends at 5:00 pm, but starts at 6:00 pm | change the two about, or check am and pm"]),
        ([(CONCERT, "venue: hall", "venue: hall\nattire_for: {beacon: [Blue tie]}\nbring_for: {harbor: [Mutes]}")], ["cycles/winter/concert.yaml:5:14 unknown-ensemble: no ensemble is called `beacon` | there are `harbor` and `lantern`; others are added to program.yaml under ensembles"]),
        ([(CONCERT, "venue: hall", "venue: hall\nbring: [A pencil, {who: [flute], text: A rod}]\nbring_for: {harbor: [{who: [tuba], text: A strap}]}")], ["cycles/winter/concert.yaml:6:29 unknown-instrument: no instrument of harbor is called `tuba` | there are `flute` and `trumpet`; others are added to harbor in program.yaml under instruments"]),
        ([(PROGRAM, "    address: 12 Quill Street", "    address: 12 Quill Street\n    stage: stage\n    rooms: [{id: stage, name: Stage}, {id: band-room, name: Other}]")], ["program.yaml:23:44 duplicate-id: two rooms are called `band-room` | give one of them another id, and change the places that mean it"]),
        ([(PROGRAM, "    address: 12 Quill Street", "    address: 12 Quill Street\n    stage: stage\n    rooms: [{id: green-room, name: Green room}]"), (CONCERT, "venue: hall", "venue: hall\nbookings: [{room: green-room, start: 6 pm, end: 7 pm, what: Meal}]")], ["program.yaml:22:12 unknown-room: no room is called `stage` | there are `band-room` and `green-room`; others are added to program.yaml under rooms, or under those of `hall`"]),
        ([(CONCERT, "venue: hall", "venue: hall\nopens: 6:30 pm\ndoors: 6 pm\ncloses: 00:30\nevening_ends: 9:30 pm")], ["cycles/winter/concert.yaml:6:8 venue-hours-backward: the audience is let in at 6:00 pm, before the venue opens at 6:30 pm | check am and pm, and both times"]),
        ([(CONCERT, "venue: hall", "venue: hall\nopens: 8 pm")], ["cycles/winter/concert.yaml:5:8 venue-hours-backward: 8:00 pm is after the downbeat at 7:00 pm | check am and pm"]),
        ([(CONCERT, "  - ensemble: harbor\n    pieces: [tweed-kites]", "  - ensemble: lantern\n    joined_by: [harbor]\n    pieces: [button-comets]")], []),
        ([(CONCERT, "  - ensemble: harbor\n    pieces: [tweed-kites]\n", ""), (CONCERT, "venue: hall", "venue: hall\nnot_playing: [{ensemble: harbor, why: It plays in spring}]")], []),
        ([(PROGRAM, "trumpet: 5", "first-trumpet: 5"), (PROGRAM, "rooms:", "reads_like: {first-trumpet: trumpet}\nrooms:")], []),
        ([(PROGRAM, "trumpet: 5", "first-trumpet: 5"), (PROGRAM, "rooms:", "reads_like: {first-trumpet: trumpit}\nrooms:")], ["program.yaml:15:29 warning unfamiliar-instrument: how the part of `first-trumpet` is written is not known here | did you mean `trumpet`? if not, say under reads_like in program.yaml whose part it reads like"]),
        ([(MUSIC, "    title: Tweed Kites", "    title: Tweed Kites\n    rhythms: [{pattern: q q q, measures: 30-40, who: [tuba]}]")], ["cycles/winter/music.yaml:25:55 unknown-instrument: no instrument of harbor is called `tuba` | there are `flute` and `trumpet`; others are added to harbor in program.yaml under instruments", "cycles/winter/music.yaml:25:42 measures-outside-form: measures 30–40 are not all in the form of `tweed-kites`, which has 1–32 | check the numbers, or add the missing part to `form`"]),
    ],
)  # fmt: skip
def test_crews_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told
