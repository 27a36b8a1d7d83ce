"""Names that refer to nothing are told with the nearest one that does.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import (
    CONCERT,
    CYCLE,
    FUNDAMENTALS,
    MUSIC,
    PROGRAM,
    YEAR,
    Change,
    checked,
)

WHOLE = """\
order: [tone]
strands:
  - id: tone
    name: Tone
    why: It is what people hear
    exercises:
      - {id: long-tones, name: Long tones, level: 1}
      - {id: swells, name: Swells, level: 2}
warm_ups:
  - {level: 1, name: First, steps: [Breathe]}
  - {level: 2, name: Second, steps: [Play]}
"""


def fundamentals(old: str, new: str) -> Change:
    assert WHOLE.count(old) == 1
    return FUNDAMENTALS, "", WHOLE.replace(old, new)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(YEAR, "ensemble: harbor", "ensemble: harbour")], ["years/2026-27.yaml:19:15 unknown-ensemble: no ensemble is called `harbour` | did you mean `harbor`?"]),
        ([(PROGRAM, "    instruments: {flute: 4", "    shares_players_with: [lantren]\n    instruments: {flute: 4")], ["program.yaml:14:27 unknown-ensemble: no ensemble is called `lantren` | did you mean `lantern`?"]),
        ([(PROGRAM, "    room: band-room\n    instruments: {flute: 6", "    room: bandroom\n    instruments: {flute: 6")], ["program.yaml:9:11 unknown-room: no room is called `bandroom` | did you mean `band-room`?"]),
        ([(PROGRAM, "rooms:\n  - id: band-room\n    name: Band room\n", "")], ["program.yaml:9:11 unknown-room: no room is called `band-room` | there is none yet: add it to program.yaml under rooms"]),
        ([(CONCERT, "venue: hall", "venue: hal")], ["cycles/winter/concert.yaml:4:8 unknown-venue: no venue is called `hal` | did you mean `hall`?"]),
        ([(CONCERT, "venue: hall", "venue: arena")], ["cycles/winter/concert.yaml:4:8 unknown-venue: no venue is called `arena` | there is `hall`; others are added to program.yaml under venues"]),
        ([(CYCLE, "year: 2026-27", "year: 2026")], ["cycles/winter/cycle.yaml:2:7 unknown-year: no school year is called `2026` | did you mean `2026-27`?"]),
        ([(CONCERT, "[tweed-kites]", "[tweed-kite]")], ["cycles/winter/concert.yaml:7:14 unknown-piece: no piece is called `tweed-kite` | did you mean `tweed-kites`?"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        lock_by: polsh")], ["cycles/winter/music.yaml:36:18 unknown-stage: no stage of this cycle is called `polsh` | did you mean `polish`?"]),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        lock_by: polish")], []),
        ([(MUSIC, "goal: quarter = 108", "goal: quarter = 108\n        lock_by: 2026-12-04")], []),
        ([fundamentals("order: [tone]", "order: [tonne]")], ["fundamentals.yaml:1:9 unknown-strand: no strand is called `tonne` | did you mean `tone`?"]),
        ([(YEAR, "period: p4", "period: p5")], ["years/2026-27.yaml:21:13 unknown-period: no period of the ordinary day is called `p5` | there are `p3` and `p4`; others are added to the first schedule under bells"]),
        ([(YEAR, "meetings:", "altered:\n  - {date: 2026-10-02, name: Early release, bells: short}\nmeetings:")], ["years/2026-27.yaml:16:52 unknown-bells: no bell schedule is called `short` | there is `regular`; others are added under bells"]),
        ([(YEAR, "weekdays: [Tue, Thu]", "labels: [A]")], ["years/2026-27.yaml:20:5 labels-without-rotation: day labels are used here, but the year does not say in which order they come | add `day_labels: [A, B]` to years/2026-27.yaml, with your labels in order; or use `weekdays`"]),
        ([(YEAR, "weekdays: [Tue, Thu]", "labels: [C]"), (YEAR, "bells:", "day_labels: [A, B]\nbells:")], ["years/2026-27.yaml:21:14 unknown-label: no day label is called `C` | there are `A` and `B`; others are added to day_labels"]),
        ([(MUSIC, "    title: Tweed Kites", "    title: Tweed Kites\n    terms: [legatto, dolce]"), (PROGRAM, "rooms:", "words: {legato: smooth}\nrooms:")], ["cycles/winter/music.yaml:25:13 unknown-term: the term `legatto` has no meaning in words | did you mean `legato`? else write what it means under words in cycles/winter/music.yaml or program.yaml", "cycles/winter/music.yaml:25:22 unknown-term: the term `dolce` has no meaning in words | write what it means under words in cycles/winter/music.yaml or program.yaml"]),
    ],
)  # fmt: skip
def test_names_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told
