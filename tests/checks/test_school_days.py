"""Closures, bells and meetings must be able to take place.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import CONCERT, CYCLE, YEAR, Change, checked


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(YEAR, "    date: Mon 2026-09-07\n", "")], ["years/2026-27.yaml:10:11 closure-without-dates: this closure lacks its days | give it one `date:`, or `from:` and `to:` for several days"]),
        ([(YEAR, "    to: Fri 2026-11-27\n", "")], ["years/2026-27.yaml:13:11 closure-without-dates: this closure lacks its last day, `to` | give it one `date:`, or `from:` and `to:` for several days"]),
        ([(YEAR, "    from: Mon 2026-11-23\n", "")], ["years/2026-27.yaml:13:9 closure-without-dates: this closure lacks its first day, `from` | give it one `date:`, or `from:` and `to:` for several days"]),
        ([(YEAR, "    from: Mon 2026-11-23\n", "    date: 2026-11-23\n")], ["years/2026-27.yaml:13:11 closure-dates-mixed: this closure has both a `date` and a first or last day | keep `date:` for a single day, or `from:` and `to:` for several"]),
        ([(YEAR, "from: Mon 2026-11-23", "from: 2026-11-28")], ["years/2026-27.yaml:14:9 dates-backward: the last day, Fri 2026-11-27, comes before the first, Sat 2026-11-28 | change the two about, or check the year"]),
        ([(YEAR, "from: Mon 2026-11-23", "from: 2026-11-27")], []),
        ([(YEAR, "last_day: Fri 2027-06-04", "last_day: 2026-06-04")], ["years/2026-27.yaml:2:11 dates-backward: the last day, Thu 2026-06-04, comes before the first, Mon 2026-08-24 | change the two about, or check the year"]),
        ([(YEAR, "last_day: Fri 2027-06-04", "last_day: 2027-09-27")], []),
        ([(YEAR, "last_day: Fri 2027-06-04", "last_day: 2027-09-28")], ["years/2026-27.yaml:2:11 longer-than-a-year: from Mon 2026-08-24 to Tue 2027-09-28 are 401 days, and 400 are the most | check the year of both dates"]),
        ([(CONCERT, "date: Thu 2026-12-10", "date: 2066-12-10")], ["cycles/winter/concert.yaml:2:7 longer-than-a-year: from Mon 2026-10-19 to Fri 2066-12-10 are 14,663 days, and 400 are the most | check the year of both dates", "cycles/winter/concert.yaml:2:7 warning cycle-outside-year: Fri 2066-12-10 is outside the school year 2026-27 (2026-08-24 to 2027-06-04) | check the date, or name another `year` in the cycle"]),
        ([(CYCLE, "starts: Mon 2026-10-19", "starts: Mon 2026-10-19\nends: 2026-10-18")], ["cycles/winter/cycle.yaml:4:7 warning end-said-twice: this last day is not used: the cycle ends with its concert on Thu 2026-12-10 | remove `ends`, or correct the concert's date"]),
        ([(YEAR, "date: Mon 2026-09-07", "date: Mon 2026-08-24")], []),  # the first day of school
        ([(YEAR, "date: Mon 2026-09-07", "date: Fri 2027-06-04")], []),  # and its last
        ([(YEAR, "date: Mon 2026-09-07", "date: Sat 2027-06-05")], ["years/2026-27.yaml:11:11 warning day-outside-year: this is outside the school year, which runs from 2026-08-24 to 2027-06-04 | check the date, above all its year"]),
        ([(YEAR, "date: Mon 2026-09-07", "date: 2025-09-07")], ["years/2026-27.yaml:11:11 warning day-outside-year: this is outside the school year, which runs from 2026-08-24 to 2027-06-04 | check the date, above all its year"]),
        ([(YEAR, "date: Mon 2026-09-07", "date: 2026-08-23")], ["years/2026-27.yaml:11:11 warning day-outside-year: this is outside the school year, which runs from 2026-08-24 to 2027-06-04 | check the date, above all its year"]),
        ([(YEAR, "date: Mon 2026-09-07", "date: 2026-08-24")], []),
        ([(YEAR, "meetings:", "altered:\n  - {date: 2026-11-24, name: Early release, bells: regular}\nmeetings:")], ["years/2026-27.yaml:16:12 warning altered-day-without-school: Tue 2026-11-24 is altered, but school is closed then | check the date, or remove the altered day"]),
        ([(YEAR, "meetings:", "altered:\n  - {date: 2026-10-03, name: Early release, bells: regular}\n  - {date: 2026-10-02, name: E}\nmeetings:")], ["years/2026-27.yaml:16:12 warning altered-day-without-school: Sat 2026-10-03 is altered, but that is a weekend | check the date, or remove the altered day"]),
        ([(YEAR, "end: 10:50", "end: 10:05")], ["years/2026-27.yaml:6:37 end-before-start: this ends at 10:05 am, but starts at 10:05 am | change the two about, or check am and pm"]),
        ([(YEAR, "period: p4", "start: 3 pm\n    end: 2 pm")], ["years/2026-27.yaml:22:10 end-before-start: this ends at 2:00 pm, but starts at 3:00 pm | change the two about, or check am and pm"]),
        ([(CYCLE, "stages:", "extra:\n  - {ensemble: harbor, date: 2026-12-08, start: 5 pm, end: 3:30 pm}\nstages:")], ["cycles/winter/cycle.yaml:6:60 end-before-start: this ends at 3:30 pm, but starts at 5:00 pm | change the two about, or check am and pm"]),
        ([(YEAR, "start: 10:55", "start: 10:49")], ["years/2026-27.yaml:7:25 warning periods-overlap: `p4` starts at 10:49 am, before `p3` ends at 10:50 am | check both times; lunches side by side may overlap, other periods should not"]),
        ([(YEAR, "start: 10:55", "start: 10:50")], []),
        ([(YEAR, "    weekdays: [Tue, Thu]\n", "")], ["years/2026-27.yaml:19:5 meeting-without-days: this meeting does not say on which days it is | add `weekdays: [Mon, Wed]`, or `labels: [A]` where days rotate"]),
        ([(YEAR, "    period: p4\n", "")], ["years/2026-27.yaml:19:5 meeting-without-times: this meeting does not say when it is | add `period: p3`, or both `start: 7:30 am` and `end: 8:15 am`"]),
        ([(YEAR, "    period: p4\n", "    start: 7:30 am\n")], ["years/2026-27.yaml:19:5 meeting-without-times: this meeting does not say when it ends | add `period: p3`, or both `start: 7:30 am` and `end: 8:15 am`"]),
        ([(YEAR, "    period: p4\n", "    end: 7:30 am\n")], ["years/2026-27.yaml:19:5 meeting-without-times: this meeting does not say when it begins | add `period: p3`, or both `start: 7:30 am` and `end: 8:15 am`"]),
        ([(YEAR, "    period: p4\n", "    period: p4\n    start: 7:30 am\n")], ["years/2026-27.yaml:21:13 meeting-said-twice: this meeting is in a period and at clock times, and only one can hold | keep `period`, or `start` and `end`"]),
        ([(YEAR, "    period: p4\n", "    period: p4\n    start: 7:30 am\n    end: 8 am\n")], ["years/2026-27.yaml:21:13 meeting-said-twice: this meeting is in a period and at clock times, and only one can hold | keep `period`, or `start` and `end`"]),
        ([(YEAR, "    period: p4\n", "    labels: [A]\n    period: p4\n"), (YEAR, "bells:", "day_labels: [A]\nbells:")], ["years/2026-27.yaml:22:5 meeting-said-twice: this meeting is on weekdays and on day labels, and only one can hold | keep `weekdays` or `labels`; write two meetings if it is on both"]),
    ],
)  # fmt: skip
def test_school_days_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told


LATE = "told-after-day: this is told on Tue 2026-11-17, after its own day, Mon 2026-11-16 | the latest day it can be told is its own: `told: Mon 2026-11-16`"


@pytest.mark.parametrize(
    ("change", "at"),
    [
        ((YEAR, "closures:", "altered:\n  - {name: Fog, date: 2026-11-16, bells: regular, told: %s}\nclosures:"), "years/2026-27.yaml:10:57"),
        ((YEAR, "closures:", "closures:\n  - {name: Fog, from: 2026-11-16, to: 2026-11-18, told: %s}"), "years/2026-27.yaml:10:57"),
        ((YEAR, "closures:", "make_up:\n  - {name: Fog, date: 2026-11-16, like: Mon, told: %s}\nclosures:\n  - {name: Closed, date: 2026-11-16}"), "years/2026-27.yaml:10:52"),
        ((YEAR, "closures:", "altered:\n  - {name: Fog, every: Mon, from: 2026-11-10, bells: regular, told: %s}\nclosures:"), "years/2026-27.yaml:10:69"),
        ((CYCLE, "stages:", "cancelled:\n  - {ensemble: lantern, date: 2026-11-16, why: Fog, told: %s}\nstages:"), "cycles/winter/cycle.yaml:6:59"),
        ((CYCLE, "stages:", "extra:\n  - {ensemble: harbor, date: 2026-11-16, start: 6 pm, end: 7 pm, name: Fog, told: %s}\nstages:"), "cycles/winter/cycle.yaml:6:83"),
    ],
)  # fmt: skip
def test_what_is_told_after_its_day_is_found_in_every_list(
    change: Change, at: str, tmp_path: Path
) -> None:
    file, old, new = change
    assert checked(tmp_path / "late", (file, old, new % "2026-11-17")) == [f"{at} {LATE}"]
    assert checked(tmp_path / "in-time", (file, old, new % "2026-11-16")) == []


MAKE_UP = "make_up:\n  - {name: Made up, %s}\nclosures:"
RULE = "altered:\n  - {name: Late start, %s}\nclosures:"
LABELS = (YEAR, "bells:", "day_labels: [A, B]\nbells:")
OUTSIDE = "warning day-outside-year: this is outside the school year, which runs from 2026-08-24 to 2027-06-04 | check the date, above all its year"


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ([(YEAR, "closures:", MAKE_UP % "date: Sat 2027-06-05, like: Mon")], [f"years/2026-27.yaml:10:27 {OUTSIDE}"]),
        ([(YEAR, "closures:", MAKE_UP % "date: Fri 2026-11-27, like: Mon")], []),  # within the fall break
        ([(YEAR, "closures:", MAKE_UP % "date: Fri 2026-11-27")], ["years/2026-27.yaml:10:27 warning make-up-day-without-meetings: nobody meets on Fri 2026-11-27: no ensemble has a meeting on a Friday | add `like: Mon`, or another day of the week, if its meetings are held"]),
        ([LABELS, (YEAR, "closures:", MAKE_UP % "date: Sat 2026-11-21, like: Mon, label: C")], ["years/2026-27.yaml:11:61 unknown-label: no day label is called `C` | there are `A` and `B`; others are added to day_labels"]),
        ([(YEAR, "closures:", MAKE_UP % "date: Sat 2026-11-21, like: Mon, bells: regluar")], ["years/2026-27.yaml:10:61 unknown-bells: no bell schedule is called `regluar` | did you mean `regular`?"]),
        ([LABELS, (YEAR, "closures:", RULE % "from: 2026-11-02, to: 2026-11-05, labels: [A, C]")], ["years/2026-27.yaml:11:70 unknown-label: no day label is called `C` | there are `A` and `B`; others are added to day_labels"]),
        ([(YEAR, "closures:", RULE % "every: Wed, told: 2026-11-10")], ["years/2026-27.yaml:10:42 told-after-day: this is told on Tue 2026-11-10, after its own day, Wed 2026-08-26 | say from when it holds, such as `from: Tue 2026-11-10`"]),
        ([(YEAR, "closures:", RULE % "every: Wed, from: 2026-11-10, told: 2026-11-10")], []),
        ([(YEAR, "closures:", RULE % "every: Sat")], ["years/2026-27.yaml:10:31 warning altered-day-without-school: there is no school on Saturdays, and so none is altered then | take the day out, or say under `school_days` that there is school"]),
        ([(YEAR, "closures:", "school_days: [Mon, Tue, Wed, Thu]\nmake_up:\n  - {name: Made up, date: Fri 2026-10-09, like: Mon}\naltered:\n  - {name: Late, every: [Wed, Fri]}\nclosures:")], ["years/2026-27.yaml:13:18 warning altered-day-without-school: there is no school on Fridays, and so none is altered then | take the day out, or say under `school_days` that there is school"]),
        ([(YEAR, "closures:", "closures:\n  - {name: Fog, date: Mon 2026-11-23}")], ["years/2026-27.yaml:10:23 warning closure-without-school: another closure has these days already | check the date, or take it out"]),
        ([(YEAR, "closures:", "closures:\n  - {name: Fog, date: Mon 2026-09-07}")], ["years/2026-27.yaml:12:11 warning closure-without-school: another closure has these days already | check the date, or take it out"]),
        ([(YEAR, "closures:", "closures:\n  - {name: Fog, from: Sat 2026-10-03, to: Sun 2026-10-04}")], ["years/2026-27.yaml:10:23 warning closure-without-school: there is no school then anyway | check the date, or take it out"]),
        ([(YEAR, "closures:", "closures:\n  - {name: Fog, from: Fri 2026-11-20, to: Tue 2026-11-24}")], []),
        ([LABELS, (YEAR, "closures:", RULE % "from: 2026-11-02, to: 2026-11-06, labels: [A, B, B, A, A]")], []),
        ([LABELS, (YEAR, "closures:", RULE % "from: 2026-11-02, to: 2026-11-02, labels: [A, B]")], ["years/2026-27.yaml:11:58 warning labels-left-over: 1 school day bears 2 labels in turn, which does not come out even | list a label for each of these days, if that is not meant"]),
        ([(YEAR, "closures:", RULE % "from: 2026-11-23, to: 2026-11-27")], ["years/2026-27.yaml:10:30 warning altered-day-without-school: no school day is altered by this entry | check the days, or remove the entry"]),
        ([(YEAR, "closures:", RULE % "from: 2026-11-02, to: 2026-11-03, weekdays: [Fri]")], ["years/2026-27.yaml:10:30 warning altered-day-without-school: no school day is altered by this entry | check the days, or remove the entry"]),
        ([(YEAR, "closures:", RULE % "every: Wed, weekdays: [Wed]")], ["years/2026-27.yaml:10:36 altered-dates-mixed: this altered day has both `every` and `weekdays` | keep `every:` alone; it may have `from:` and `to:` too"]),
        ([(YEAR, "closures:", RULE % "from: 2026-11-05, to: 2026-11-02")], ["years/2026-27.yaml:10:46 dates-backward: the last day, Mon 2026-11-02, comes before the first, Thu 2026-11-05 | change the two about, or check the year"]),
        ([(YEAR, "closures:", RULE % "from: 2026-11-05")], ["years/2026-27.yaml:10:30 altered-without-dates: this altered day lacks its last day, `to` | give it one `date:`, or `from:` and `to:` for several days, or `every: Wed`"]),
        ([(YEAR, "closures:", RULE % "every: Wed, from: 2026-08-01")], []),
        ([(YEAR, "closures:", RULE % "every: Wed, from: 2027-07-01")], [f"years/2026-27.yaml:10:42 {OUTSIDE}"]),
        ([(YEAR, "closures:", RULE % "date: 2026-11-04, resume: skip")], ["years/2026-27.yaml:10:50 warning labels-without-span: `resume` changes nothing here: it says how labels go on after `labels` in turn | take it out, or list the `labels` of these days"]),
        ([LABELS, (YEAR, "closures:", RULE % "from: 2026-11-02, to: 2026-11-05, labels: [A, B], label: A")], ["years/2026-27.yaml:11:81 labels-without-span: these days have both `labels` in turn and one `label` | keep one of the two"]),
        ([(YEAR, "    date: Mon 2026-09-07\n", "    every: Fri\n    from: 2026-11-06\n")], []),
        ([(YEAR, "    date: Mon 2026-09-07\n", "    every: Fri\n    date: 2026-11-06\n")], ["years/2026-27.yaml:11:12 closure-dates-mixed: this closure has both a `date` and `every` | keep `date:` for a single day, or take it out"]),
        ([(YEAR, "    period: p4\n", "    period: p4\n    from: 2026-11-06\n    to: 2026-10-06\n")], ["years/2026-27.yaml:23:9 dates-backward: the last day, Tue 2026-10-06, comes before the first, Fri 2026-11-06 | change the two about, or check the year"]),
        ([(YEAR, "    period: p4\n", "    period: p4\n    to: 2026-08-06\n")], [f"years/2026-27.yaml:22:9 {OUTSIDE}"]),
        ([(YEAR, "    period: p4\n", "    period: p4\n    room: bandroom\n")], ["years/2026-27.yaml:22:11 unknown-room: no room is called `bandroom` | did you mean `band-room`?"]),
        ([(CONCERT, "date: Thu 2026-12-10", "date: Wed 2026-11-25")], ["cycles/winter/concert.yaml:2:7 warning concert-on-closure: school is closed on Wed 2026-11-25: Fall break | check the date, and that the hall is open"]),
        ([(CONCERT, "date: Thu 2026-12-10", "date: Wed 2026-11-25"), (YEAR, "closures:", MAKE_UP % "date: Wed 2026-11-25")], []),
    ],
)  # fmt: skip
def test_rules_and_make_up_days_are_checked(
    changes: list[Change], told: list[str], tmp_path: Path
) -> None:
    assert checked(tmp_path, *changes) == told
