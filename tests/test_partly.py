"""Errors of one file hide none of another: all that could be read is checked and planned in one run."""

from __future__ import annotations

import random
from functools import cache
from itertools import combinations
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from handbook.checks import REFERENCE_CHECKS
from handbook.checks.check import code_of
from handbook.pipeline import load_problems
from handbook.problems import Severity
from tests.content_folders import base_files, changed, write_folder
from tests.test_broken import BROKEN, CASES, broken_folder

PROGRAM, YEAR = "program.yaml", "years/2026-27.yaml"
CYCLE, MUSIC = "cycles/winter/cycle.yaml", "cycles/winter/music.yaml"
CONCERT = "cycles/winter/concert.yaml"
Told = frozenset[tuple[str, str, str]]

# What rehearsals are, whatever is played; and what the evening is, whatever the classes are.
CALENDAR = frozenset(
    {"room-used-twice", "players-wanted-twice", "rehearsals-overlap", "extra-on-closure"}
    | {"cancelled-nothing", "fewer-rehearsals-than-stages", "stage-without-rehearsals"}
)
EVENING = frozenset(
    {"concert-room-twice", "outside-venue-hours", "evening-too-long", "later-step-too-early"}
    | {"pick-up-too-early", "bus-leaves-too-early", "bus-seats-short", "too-heavy-for-carrier"}
    | {"warm-up-over-performance", "call-too-late", "players-in-two-places"}
)
# Of a check that compares an entry with nothing but itself and the vocabulary.
BY_ITSELF = frozenset(
    {"measure-not-filled", "slur-leads-to-no-note", "sticking-does-not-fit", "hands-said-twice"}
    | {"hand-missing", "goal-counts-other-note", "end-before-start", "closure-dates-mixed"}
    | {"closure-without-dates", "altered-without-dates", "altered-dates-mixed", "odd-link"}
    | {"unsafe-link", "event-without-name", "event-without-days", "venue-hours-backward"}
)


def codes(files: dict[str, str], folder: Path) -> list[str]:
    found = load_problems(write_folder(folder, files)).problems
    return sorted(problem.code for problem in found)


def test_what_is_wrong_in_the_music_leaves_the_calendar_checked(tmp_path: Path) -> None:
    files = changed(base_files(), MUSIC, "meter: 3/4", "meter: three four")
    files = changed(files, YEAR, "    period: p4", "    period: p3")
    files = changed(files, YEAR, "[Tue, Thu]", "[Mon, Thu]")
    assert "room-used-twice" in codes(files, tmp_path)
    files[MUSIC] += "words: [\n"
    found = codes(files, tmp_path)
    assert "room-used-twice" in found
    assert not [code for code in found if code.startswith("unknown")]


def test_what_is_wrong_in_the_concert_leaves_music_and_rehearsals_checked(tmp_path: Path) -> None:
    files = changed(base_files(), CONCERT, "downbeat: 7:00 pm", "downbeat: 7:00")
    files = changed(
        files, MUSIC, "goal: quarter = 96", "goal: quarter = 96\n        start: quarter = 120"
    )
    files = changed(files, YEAR, "period: p4", "period: p9")
    assert codes(files, tmp_path) == ["goal-below-start", "time-without-am-or-pm", "unknown-period"]


def test_one_bad_entry_is_left_out_and_the_others_keep_their_lines(tmp_path: Path) -> None:
    files = changed(base_files(), YEAR, "date: Mon 2026-09-07", "date: Mon 2026-09-08")
    files = changed(files, YEAR, "to: Fri 2026-11-27", "to: Fri 2026-11-20")
    found = load_problems(write_folder(tmp_path, files)).problems
    assert [(one.code, one.address) for one in found] == [
        ("wrong-weekday", (YEAR, "closures", 0, "date")),
        ("dates-backward", (YEAR, "closures", 1, "to")),
    ]


def test_a_name_that_stands_in_what_was_lost_is_not_told_as_unknown(tmp_path: Path) -> None:
    files = changed(base_files(), PROGRAM, "id: band-room", "id: Band Room")
    assert codes(files, tmp_path) == ["unreadable-id"]
    files = changed(files, YEAR, "ensemble: lantern", "ensemble: lanten")
    assert "unknown-ensemble" in codes(files, tmp_path / "other")


@pytest.mark.parametrize("name", [PROGRAM, YEAR, CYCLE, MUSIC, CONCERT])
def test_a_file_that_cannot_be_read_at_all_is_the_only_thing_told(
    tmp_path: Path, name: str
) -> None:
    assert codes({**base_files(), name: base_files()[name] + "\n  }\n"}, tmp_path) in (
        ["stray-bracket"], ["uneven-indent"], ["missing-colon"], ["text-after-quote"],
    )  # fmt: skip


@cache
def spoilt(code: str) -> dict[str, bytes | None]:
    """Give the files of a broken folder that differ from the whole one; None for one left out."""
    with TemporaryDirectory() as name:
        folder = broken_folder(code, Path(name))
        paths = (path for path in folder.rglob("*") if path.is_file())
        files = {path.relative_to(folder).as_posix(): path.read_bytes() for path in paths}
    whole = {name: text.encode() for name, text in base_files().items()}
    return {
        name: files.get(name) for name in {*files, *whole} if files.get(name) != whole.get(name)
    }


@cache
def told(*cases: str) -> Told:
    files: dict[str, str | bytes] = {**base_files()}
    for case in cases:
        for name, text in spoilt(case).items():
            if text is None:
                files.pop(name, None)
            else:
                files[name] = text
    with TemporaryDirectory() as folder:
        found = load_problems(write_folder(Path(folder), files)).problems
    return frozenset(
        (one.code, one.file, one.message) for one in found if one.severity is Severity.ERROR
    )


def leaves_the_end_open(case: str) -> bool:
    """Whether a case spoils the date of the concert, with which its cycle ends."""
    if CONCERT not in spoilt(case):
        return False
    (day,) = (line for line in base_files()[CONCERT].splitlines() if line.startswith("date: "))
    return day.encode() not in (spoilt(case)[CONCERT] or b"").splitlines()


def may_hide(code: str, other: str) -> bool:
    """Whether what is wrong in another case may keep an error from being told."""
    others = set(spoilt(other))
    cycle = {name for name in others if name.startswith("cycles/winter/")}
    shared = {name for name in others if name in {PROGRAM, "events.yaml"}}
    years = {name for name in others if name.startswith("years/")}
    if others <= {name for name in others if name.startswith("pages/")}:
        return False
    if code in BY_ITSELF:
        return False
    if code in CALENDAR:
        return bool(shared | years | (cycle & {CYCLE})) or leaves_the_end_open(other)
    if code in EVENING:
        return bool(shared | years | cycle)
    return True


@cache
def pairs() -> list[tuple[str, str]]:
    """Give all two cases that spoil no file together."""
    return [
        pair
        for pair in combinations(CASES, 2)
        if not spoilt(pair[0]).keys() & spoilt(pair[1]).keys()
    ]


def hides_nothing(first: str, second: str) -> None:
    assert BROKEN
    both = told(first, second)
    for one, other in ((first, second), (second, first)):
        for code, file, message in told(one) - both:
            assert may_hide(code, other), (one, other, code, file, message)
    for code, file, message in both - told(first) - told(second):
        doubt = code in {code_of(check) for check in REFERENCE_CHECKS} and code.startswith(
            "unknown"
        )
        assert not doubt, (first, second, code, file, message)


def test_no_error_hides_one_that_does_not_lean_on_it() -> None:
    for first, second in random.Random(11).sample(pairs(), 15):
        hides_nothing(first, second)


@pytest.mark.weekly
def test_no_error_hides_one_that_does_not_lean_on_it_over_all_pairs() -> None:
    for first, second in random.Random(12).sample(pairs(), 6000):
        hides_nothing(first, second)
