"""Slips that a tired director makes, and whether the help repeats what was written, mended.

The slips are common practice, no source; each is made in the folder that `handbook new` writes.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.pipeline import load_problems
from handbook.problems import Problem

PROGRAM, YEAR = "program.yaml", "years/2026-27.yaml"
CONCERT, MUSIC = "cycles/winter-2027/concert.yaml", "cycles/winter-2027/music.yaml"
WEEKDAYS = "weekdays: [Mon, Wed, Fri]"
BRING = "  - Instrument and music folder\n  - A pencil"


def problems(folder: Path, file: str, written: str, slip: str) -> tuple[Problem, ...]:
    write_starter(folder, *starter_dates(date(2026, 11, 24)))
    text = (folder / file).read_text(encoding="utf-8")
    assert written in text
    (folder / file).write_text(text.replace(written, slip, 1), encoding="utf-8")
    return load_problems(folder).problems


@pytest.mark.parametrize(
    ("file", "written", "slip", "code", "help_"),
    [
        (YEAR, WEEKDAYS, "weekdays: MWF", "list-wanted", "`weekdays: [Mon, Wed, Fri]`"),
        (YEAR, WEEKDAYS, "weekdays: TTh", "list-wanted", "`weekdays: [Tue, Thu]`"),
        (YEAR, WEEKDAYS, "weekdays: M-F", "list-wanted", "[Mon, Tue, Wed, Thu, Fri]`"),
        (YEAR, WEEKDAYS, "weekdays: Mon/Wed", "list-wanted", "`weekdays: [Mon, Wed]`"),
        (YEAR, WEEKDAYS, "weekdays: Mon and Fri", "list-wanted", "`weekdays: [Mon, Fri]`"),
        (YEAR, WEEKDAYS, "weekdays: [Mon Wed, Fri]", "unreadable-weekday", "`Mon, Wed`"),
        (YEAR, WEEKDAYS, "weekdays: [MWF]", "unreadable-weekday", "`Mon, Wed, Fri`"),
        (YEAR, "closures:\n", "school_days: Mon-Thu\nclosures:\n", "list-wanted", "`school_days: [Mon, Tue, Wed, Thu]`"),
        (YEAR, "closures:\n", "closures:\n  - {name: Off, every: Mon/Fri}\n", "list-wanted", "`every: [Mon, Fri]`"),
        (YEAR, "closures:\n", "closures:\n  - {name: Off, every: Fridays}\n", "unreadable-weekday", "`Friday`"),
        (CONCERT, "pieces: [first-piece]", "pieces: first-piece", "list-wanted", "`pieces: [first-piece]`, or put it on"),
        (CONCERT, BRING, "  • Instrument\n  • A pencil", "list-wanted", "in place of `•`"),
        (CONCERT, BRING, "  – Instrument\n  – A pencil", "list-wanted", "in place of `–`"),
        (CONCERT, BRING, "  Your instrument in its case with all that you need", "list-wanted", "put it on a line of its own"),
        (CONCERT, "7:00 pm", "7.00 pm", "unreadable-time", "`7:00 pm`"),
        (CONCERT, "7:00 pm", "7 o’clock pm", "unreadable-time", "`7:00 pm`"),
        (CONCERT, "7:00 pm", "1900", "unreadable-time", "`19:00`"),
        (CONCERT, "call: 6:15 pm", "call: 6:15 am", "call-before-school-out", "did you mean `6:15 pm`?"),
        (CONCERT, "pick_up: 8:00 pm", "pick_up: 8:00 am", "pick-up-before-downbeat", "did you mean `8:00 pm`?"),
        (YEAR, "end: 10:50 am", "end: 10:00 am", "end-before-start", "change the two about"),
        (YEAR, "Mon 2027-01-18", "1/18/2027", "unreadable-date", "`2027-01-18`"),
        (YEAR, "Mon 2027-01-18", "Mon Jan 18, 2027", "unreadable-date", "`Mon 2027-01-18`"),
        (MUSIC, "goal: quarter = 76", "goal: q = 76", "unreadable-tempo", "write `quarter = 76`"),
        (MUSIC, "goal: quarter = 76", "goal: q. = 76", "unreadable-tempo", "write `dotted quarter = 76`"),
        (MUSIC, "goal: quarter = 76", "goal: quater = 76", "unreadable-tempo", "write `quarter = 76`"),
        (MUSIC, "goal: quarter = 76", "goal: ca. 76", "unreadable-tempo", "write `quarter = 76` or"),
        (MUSIC, "goal: quarter = 76", "goal: 72-80", "unreadable-tempo", "write `quarter = 80` or"),
        (CONCERT, BRING, "  - {en: Instrument, music folder, and a pencil}", "comma-in-text", '`"Instrument, music folder, and a pencil"`'),
        (YEAR, "{id: p3, start", "{id: p3, name: Third, sort of, start", "comma-in-text", '`"Third, sort of"`'),
        (YEAR, "{id: p3, start", "{id: p3, name: 'Third', sort of, start", "unknown-field", "its fields are"),
        (PROGRAM, "private: Notes", "privat: Notes", "unknown-field", "did you mean `private`?"),
        (PROGRAM, "private: Notes", "Private: Notes", "unknown-field", "did you mean `private`?"),
    ],
)  # fmt: skip
def test_the_help_repeats_what_was_written_mended(
    tmp_path: Path, file: str, written: str, slip: str, code: str, help_: str
) -> None:
    [problem] = problems(tmp_path, file, written, slip)
    assert problem.code == code
    assert help_ in problem.hint


@pytest.mark.parametrize("written", ["Monday, January 18", "18 Jan", "Jan. 18th", "1/18"])
def test_a_date_without_its_year_is_told_what_it_lacks(tmp_path: Path, written: str) -> None:
    [problem] = problems(tmp_path, YEAR, "Mon 2027-01-18", written)
    assert problem.code == "unreadable-date"
    assert problem.message.endswith("does not say its year: write the year, then `-01-18`")


@pytest.mark.parametrize(
    ("text", "told", "way"),
    [
        ("F # is the third", "# is the third", '"F# is the third"'),
        ("Low C # and F # are high", "# and F # are high", '"Low C# and F # are high"'),
        ("Watch (F # sharp)", "# sharp)", '"Watch (F# sharp)"'),
    ],
)
def test_a_sharp_after_a_space_is_not_lost_in_silence(
    tmp_path: Path, text: str, told: str, way: str
) -> None:
    [problem] = problems(tmp_path, MUSIC, "Breathe after measure 20, not before.", text)
    assert problem.code == "dropped-text"
    assert f"`{told}`" in problem.message
    assert way in problem.hint


@pytest.mark.parametrize("text", ["Band B plays here # ask", "For Ms. A # ask", "Play it # ask"])
def test_a_remark_is_still_a_remark(tmp_path: Path, text: str) -> None:
    found = problems(tmp_path, MUSIC, "Breathe after measure 20, not before.", text)
    assert [one.code for one in found] == ["dropped-text"] * text.count(" A #")


@pytest.mark.parametrize("meter", ["common time", "cut time", "C", "alla breve"])
def test_meters_may_be_called_by_their_names(tmp_path: Path, meter: str) -> None:
    assert not problems(
        tmp_path, MUSIC, "meter: 4/4, tempo: quarter = 76", f"meter: {meter}, tempo: quarter = 76"
    )
