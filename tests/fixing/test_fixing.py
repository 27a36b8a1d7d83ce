"""`handbook fix`: what is mended unasked, that nothing else changes, and how files are written."""

from __future__ import annotations

import io
import json
import os
import sys
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.cli import main
from handbook.cli.new import write_starter
from handbook.cli.starter_dates import starter_dates
from handbook.fixing.rounds import FixedFile, find_fixes
from handbook.fixing.writing import NotWrittenError, write_fix
from handbook.pipeline import has_errors, load_problems

PROGRAM, YEAR = "program.yaml", "years/2026-27.yaml"
CYCLE = "cycles/winter-2027/cycle.yaml"
CONCERT, MUSIC = "cycles/winter-2027/concert.yaml", "cycles/winter-2027/music.yaml"
WEEKDAYS = "weekdays: [Mon, Wed, Fri]"
BRING = "  - Instrument and music folder\n  - A pencil"
GOAL = "goal: quarter = 76"

Slip = tuple[str, str, str, str]
# File, what stands there, the slip (common practice, no source), and what it becomes.
SLIPS: tuple[Slip, ...] = (
    (YEAR, WEEKDAYS, "weekdays: MWF", WEEKDAYS),
    (YEAR, WEEKDAYS, "weekdays: MWF  # three times", f"{WEEKDAYS}  # three times"),
    (YEAR, WEEKDAYS, "weekdays: [Mon Wed, Fri]", WEEKDAYS),
    (YEAR, WEEKDAYS, "weekdays:\n      - Mon Wed\n      - Fri", "weekdays:\n      - Mon\n      - Wed\n      - Fri"),
    (YEAR, "Mon 2027-01-18", "Jan 18, 2027", "2027-01-18"),
    (YEAR, "Mon 2027-01-18", "1/18/2027", "2027-01-18"),
    (YEAR, "Mon 2027-01-18", '"2027/1/18"', '"2027-01-18"'),
    (CONCERT, "downbeat: 7:00 pm", "downbeat: 7.00 pm", "downbeat: 7:00 pm"),
    (CONCERT, "downbeat: 7:00 pm", "downbeat: 1900", "downbeat: 19:00"),
    (CONCERT, "downbeat: 7:00 pm", "downbeat: 19:00 pm", "downbeat: 7:00 pm"),
    (CONCERT, "downbeat: 7:00 pm", "downbeat:7:00 pm", "downbeat: 7:00 pm"),
    (CONCERT, "downbeat: 7:00 pm", "downbeat:\u00a07:00 pm", "downbeat: 7:00 pm"),
    (CONCERT, "downbeat:", "down-beat:", "downbeat:"),
    (CONCERT, "pieces: [first-piece]", "pieces: first-piece", "pieces: [first-piece]"),
    (CONCERT, "pieces: [first-piece]", "pieces: [First Piece]", "pieces: [first-piece]"),
    (CONCERT, BRING, "  • Instrument: see list\n  • A pencil".replace(":", ""), "  - Instrument see list\n  - A pencil"),
    (CONCERT, BRING, "  –  Instrument – and music\n     folder\n  –  A pencil", "  - Instrument – and music\n     folder\n  - A pencil"),
    (CONCERT, BRING, "  -Instrument\n  -A pencil", "  - Instrument\n  - A pencil"),
    (CONCERT, f"bring:\n{BRING}", "bring: • Instrument • A pencil, sharp", 'bring: [Instrument, "A pencil, sharp"]'),
    (MUSIC, GOAL, "gaol: quarter = 76", GOAL),
    (MUSIC, GOAL, "Goal: quarter = 76", GOAL),
    (MUSIC, GOAL, "goal: quater = 76", GOAL),
    (MUSIC, "Breathe after", "Breathe\u200b after", "Breathe after"),
    (MUSIC, "Breathe after measure 20, not before.", "“Breathe after measure 20.”", '"Breathe after measure 20."'),
    (MUSIC, "Breathe after measure 20, not before.", "Breathe: after measure 20", '"Breathe: after measure 20"'),
    (MUSIC, "Breathe after measure 20, not before.", "@home only", '"@home only"'),
    (MUSIC, "Breathe after measure 20, not before.", "'Don't breathe'", '"Don\'t breathe"'),
    (PROGRAM, "private: Notes", "privat: Notes", "private: Notes"),
    (PROGRAM, "private: Notes", "Private: Notes", "private: Notes"),
)  # fmt: skip

# What is as it was meant then, and told about for another reason.
TOLD_THEN: tuple[Slip, ...] = (
    (YEAR, WEEKDAYS, "weekdays: Mon", "weekdays: [Mon]"),
    (MUSIC, GOAL, "goal: q. = 76", "goal: dotted quarter = 76"),
)

# What may be meant in two ways, or what nobody but the director can know.
UNSURE: tuple[tuple[str, str, str], ...] = (
    (YEAR, "Mon 2027-01-18", "2/3/2027"),
    (YEAR, "Mon 2027-01-18", "Tue 2027-01-18"),
    (YEAR, "Mon 2027-01-18", "2027-02-30"),
    (CONCERT, "downbeat: 7:00 pm", "downbeat: 7:00"),
    (CONCERT, "downbeat: 7:00 pm", "downbeat: 13:00 am"),
    (CONCERT, f"bring:\n{BRING}", "bring: Instrument, music and a pencil"),
    (CONCERT, f"bring:\n{BRING}", "bring: – Instrument – folder\n  – A pencil"),
    (CONCERT, "downbeat: 7:00 pm", "downbeat: 7:00 pm\ndownbea: 7:00 pm"),
    (MUSIC, GOAL, "goal: 76"),
    (MUSIC, GOAL, "goal: 72-80"),
    (MUSIC, GOAL, "gqql: quarter = 76"),
    (YEAR, WEEKDAYS, "weekdays: [Wendsday]"),
)


def starter(folder: Path) -> Path:
    write_starter(folder, *starter_dates(date(2026, 11, 24)))
    return folder


def spoil(folder: Path, file: str, written: str, slip: str) -> bytes:
    path = folder / file
    text = path.read_bytes()
    assert text.count(written.encode()) >= 1, (file, written)
    path.write_bytes(text.replace(written.encode(), slip.encode(), 1))
    return text


def fix(folder: Path) -> tuple[FixedFile, ...]:
    fixes = find_fixes(folder)
    for file in fixes:
        write_fix(folder, file)
    return fixes


def texts(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def count(folder: Path) -> int:
    return len(load_problems(folder).problems)


@pytest.mark.parametrize(("file", "written", "slip", "mended"), [*SLIPS, *TOLD_THEN])
def test_what_has_one_mend_is_mended_and_nothing_else_changes(
    tmp_path: Path, file: str, written: str, slip: str, mended: str
) -> None:
    starter(tmp_path)
    before = texts(tmp_path)
    spoil(tmp_path, file, written, slip)
    assert count(tmp_path) > 0
    fix(tmp_path)
    expected = before[file].replace(written.encode(), mended.encode(), 1)
    assert texts(tmp_path) == {**before, file: expected}
    left = load_problems(tmp_path).problems
    assert not left or ((file, written, slip, mended) in TOLD_THEN and not has_errors(left))
    assert find_fixes(tmp_path) == ()


@pytest.mark.parametrize(("file", "written", "slip"), UNSURE)
def test_what_may_be_meant_otherwise_is_left(
    tmp_path: Path, file: str, written: str, slip: str
) -> None:
    starter(tmp_path)
    spoil(tmp_path, file, written, slip)
    assert count(tmp_path) > 0
    assert find_fixes(tmp_path) == ()


def _one_place(one: Slip, other: Slip) -> bool:
    return one[0] == other[0] and (one[1] in other[1] or other[1] in one[1])


@st.composite
def _several(draw: st.DrawFn) -> list[Slip]:
    """Draw slips at places of their own."""
    drawn = draw(st.lists(st.sampled_from(SLIPS), min_size=1, max_size=5, unique=True))
    chosen: list[Slip] = []
    for slip in drawn:
        if not any(_one_place(slip, other) for other in chosen):
            chosen.append(slip)
    return chosen


@settings(max_examples=12, deadline=None)
@given(_several(), st.sampled_from(("\n", "\r\n")), st.booleans())
def test_several_slips_at_once_leave_all_other_bytes(
    slips: list[Slip], line_end: str, mark: bool
) -> None:
    with TemporaryDirectory() as name:
        folder = starter(Path(name))
        want: dict[str, bytes] = {}
        for file, written, slip, mended in slips:
            path = folder / file
            want[file] = want.get(file, path.read_bytes()).replace(
                written.encode(), mended.encode(), 1
            )
            spoil(folder, file, written, slip)
        for file, text in want.items():
            path = folder / file
            bom = b"\xef\xbb\xbf" if mark else b""
            path.write_bytes(bom + path.read_bytes().replace(b"\n", line_end.encode()))
            want[file] = bom + text.replace(b"\n", line_end.encode())
        before, found = texts(folder), count(folder)
        fix(folder)
        assert texts(folder) == {**before, **want}
        assert count(folder) < found
        assert find_fixes(folder) == ()


def test_a_file_that_ends_in_yml_gets_its_name_and_its_mends(tmp_path: Path) -> None:
    starter(tmp_path)
    before = texts(tmp_path)
    spoil(tmp_path, MUSIC, GOAL, "gaol: quarter = 76")
    (tmp_path / MUSIC).rename(tmp_path / MUSIC.replace(".yaml", ".yml"))
    fix(tmp_path)
    assert texts(tmp_path) == before


def test_no_file_takes_the_place_of_another(tmp_path: Path) -> None:
    starter(tmp_path)
    (tmp_path / MUSIC.replace(".yaml", ".yml")).write_bytes(b"pieces: []\n")
    assert find_fixes(tmp_path) == ()
    (tmp_path / MUSIC).rename(tmp_path / "kept")
    [file] = find_fixes(tmp_path)
    (tmp_path / "kept").rename(tmp_path / MUSIC)
    with pytest.raises(NotWrittenError, match="is there already"):
        write_fix(tmp_path, file)


def spoilt(folder: Path) -> tuple[Path, FixedFile]:
    starter(folder)
    spoil(folder, CONCERT, "downbeat: 7:00 pm", "downbeat: 7.00 pm")
    [file] = find_fixes(folder)
    return folder / CONCERT, file


def test_what_changed_meanwhile_is_left_alone(tmp_path: Path) -> None:
    path, file = spoilt(tmp_path)
    path.write_bytes(path.read_bytes() + b"# one more line\n")
    before = texts(tmp_path)
    with pytest.raises(NotWrittenError, match="changed meanwhile"):
        write_fix(tmp_path, file)
    assert texts(tmp_path) == before


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_no_link_is_followed(tmp_path: Path) -> None:
    path, file = spoilt(tmp_path / "content")
    elsewhere = tmp_path / "elsewhere.yaml"
    path.rename(elsewhere)
    path.symlink_to(elsewhere)
    before = elsewhere.read_bytes()
    with pytest.raises(NotWrittenError, match="may not be written"):
        write_fix(tmp_path / "content", file)
    path.unlink()
    elsewhere.rename(path)
    cycle = path.parent
    cycle.rename(tmp_path / "cycle")
    cycle.symlink_to(tmp_path / "cycle")
    with pytest.raises(NotWrittenError, match="not a folder of its own"):
        write_fix(tmp_path / "content", file)
    assert (tmp_path / "cycle/concert.yaml").read_bytes() == before


@pytest.mark.skipif(sys.platform == "win32", reason="there are no such permissions there")
def test_permissions_stay_and_nothing_is_left_beside(tmp_path: Path) -> None:
    path, file = spoilt(tmp_path)
    path.chmod(0o640)
    names = set(texts(tmp_path))
    write_fix(tmp_path, file)
    assert path.stat().st_mode & 0o777 == 0o640
    assert set(texts(tmp_path)) == names


def test_a_write_that_fails_leaves_the_file_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    _, file = spoilt(tmp_path)
    before = texts(tmp_path)
    monkeypatch.setattr(os, "write", full)
    with pytest.raises(NotWrittenError, match="No space left"):
        write_fix(tmp_path, file)
    assert texts(tmp_path) == before


def run(*arguments: object) -> int:
    with pytest.raises(SystemExit) as ended:
        main([str(argument) for argument in arguments])
    assert isinstance(ended.value.code, int)
    return ended.value.code


def test_the_command_shows_asks_writes_and_tells_what_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    spoilt(tmp_path / "band")
    spoil(tmp_path / "band", CONCERT, "pieces: [first-piece]", "pieces: [other-piece]")
    before = texts(tmp_path)
    assert run("fix", "band", "--show") == 1
    shown = capfd.readouterr().out
    assert "band/cycles/winter-2027/concert.yaml\n  line " in shown
    assert "`7.00 pm` is no clock time" in shown
    assert "\n-downbeat: 7.00 pm\n+downbeat: 7:00 pm\n" in shown
    monkeypatch.setattr("sys.stdin", io.StringIO())  # nobody is there to answer
    assert run("fix", "band") == 1
    assert capfd.readouterr().out.endswith("Nothing was written.\n")
    assert texts(tmp_path) == before
    assert run("fix", "band", "--yes", "--show") == 2
    capfd.readouterr()
    assert run("fix", "band", "--yes") == 1
    told = capfd.readouterr()
    assert "1 file written." in told.err
    assert "error unknown-piece" in told.out
    assert "1 error in 1 file" in told.out
    assert run("fix", "band", "--format", "json") == 1
    assert json.loads(capfd.readouterr().out)["fixes"] == []


def test_json_names_what_is_mended_and_what_is_left(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    spoilt(tmp_path)
    assert run("fix", tmp_path, "--format", "json") == 1
    told = json.loads(capfd.readouterr().out)
    assert told["written"] == []
    assert told["left"]["errors"] == 1
    [file] = told["fixes"]
    assert file["file"] == file["renamed"] == CONCERT
    assert [row["code"] for row in file["mended"]] == ["unreadable-time"]
    assert run("fix", tmp_path, "--format", "json", "--yes") == 0
    told = json.loads(capfd.readouterr().out)
    assert told["written"] == [CONCERT]
    assert told["left"]["problems"] == []


def test_what_editors_read_is_renewed(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    starter(tmp_path)
    whole = texts(tmp_path)
    assert run("check", tmp_path) == 0
    assert "another version" not in capfd.readouterr().out
    (tmp_path / ".schema/made-for.txt").write_text("earlier\n")
    (tmp_path / ".schema/year.json").write_text("{}")
    (tmp_path / ".schema/events.json").unlink()
    assert run("check", tmp_path) == 0
    told = capfd.readouterr().out
    assert "another version" in told
    assert f"handbook fix {tmp_path}`" in told
    assert run("fix", tmp_path, "--show") == 0
    assert texts(tmp_path) != whole
    assert run("fix", tmp_path) == 0
    assert texts(tmp_path) == whole
    assert ".schema is renewed" in capfd.readouterr().out
