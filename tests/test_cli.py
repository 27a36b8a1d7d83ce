"""The commands as a director types them: what is said, what is written, how it ends."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from handbook.cli import build as build_verb
from handbook.cli import main
from handbook.cli.crash_log import LOG_NAME
from handbook.cli.new import write_starter
from handbook.cli.plan_json import number
from handbook.cli.starter_dates import starter_dates
from handbook.publishing import Published, publish
from handbook.publishing.manifest import BINDER, MARKER, SITE, Marker

CHECKOUT = Path(__file__).resolve().parents[1]
BEGUN = date(2026, 11, 25)


@dataclass(frozen=True)
class Ended:
    code: int
    out: str
    err: str


Run = Callable[..., Ended]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Run:
    """Run a command in an empty folder, without a terminal."""
    monkeypatch.chdir(tmp_path)

    def command(*arguments: object) -> Ended:
        with pytest.raises(SystemExit) as ended:
            main([str(argument) for argument in arguments])
        out, err = capfd.readouterr()
        assert isinstance(ended.value.code, int)
        return Ended(ended.value.code, out, err)

    return command


@pytest.fixture
def content(tmp_path: Path) -> Path:
    write_starter(tmp_path / "content", *starter_dates(BEGUN))
    return tmp_path / "content"


@pytest.fixture
def broken(content: Path) -> Path:
    """Content with one slip in it."""
    edit(content / "program.yaml", "    room: band-room", "    room: band-rom")
    return content


@pytest.fixture
def doubtful(content: Path) -> Path:
    """Content that can be built but has one warning."""
    (content / "notes.txt").write_text("mine")
    return content


def edit(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def files_below(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


# --- check ---------------------------------------------------------------------------------


def test_clean_content_ends_with_0(run: Run, content: Path) -> None:
    assert run("check", content) == Ended(0, "no problems\n", "")


def test_a_slip_is_told_with_its_place_and_ends_with_1(run: Run, broken: Path) -> None:
    ended = run("check", "content")
    assert ended.code == 1
    assert re.match(r"content/program\.yaml:\d+:11: error unknown-room: ", ended.out)
    assert "band-room" in ended.out
    assert ended.out.endswith("1 error in 1 file\n")
    assert ended.err == ""


def test_warnings_end_with_0(run: Run, doubtful: Path) -> None:
    ended = run("check")
    assert ended.code == 0
    assert ended.out.endswith("1 warning in 1 file\n")


def test_check_writes_nothing(run: Run, broken: Path, tmp_path: Path) -> None:
    before = files_below(tmp_path)
    for form in ("text", "json", "github"):
        run("check", "--format", form)
    assert files_below(tmp_path) == before


def test_check_for_programs(run: Run, broken: Path) -> None:
    told = json.loads(run("check", "--format", "json").out)
    assert (told["errors"], told["warnings"]) == (1, 0)
    (problem,) = told["problems"]
    assert (problem["file"], problem["code"]) == ("content/program.yaml", "unknown-room")
    assert run("check", "--format", "github").out.startswith(
        "::error file=content/program.yaml,line="
    )


# --- Which folder --------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["content", "harbor band"])
def test_the_one_content_folder_that_lies_here_is_meant_and_named(
    run: Run, content: Path, tmp_path: Path, name: str
) -> None:
    content.rename(tmp_path / name)
    edit(tmp_path / name / "program.yaml", "    room: band-room", "    room: band-rom")
    ended = run("check")
    assert ended.out.startswith(f"{name}/program.yaml:")
    assert ended.err == f"handbook: the content folder is {name}\n"


@pytest.mark.parametrize(
    ("inside", "shown"), [("", ""), ("cycles", "../"), ("pages/old", "../../")]
)
def test_the_folder_that_one_stands_in_is_meant_however_deep(
    run: Run, content: Path, monkeypatch: pytest.MonkeyPatch, inside: str, shown: str
) -> None:
    (content / inside).mkdir(parents=True, exist_ok=True)
    edit(content / "program.yaml", "    room: band-room", "    room: band-rom")
    monkeypatch.chdir(content / inside)
    ended = run("check")
    assert ended.out.startswith(f"{shown}program.yaml:")
    assert ended.err == f"handbook: the content folder is {content}\n"


@pytest.mark.parametrize("verb", ["check", "plan", "build", "serve"])
def test_of_several_content_folders_none_is_chosen(
    run: Run, content: Path, tmp_path: Path, verb: str
) -> None:
    shutil.copytree(content, tmp_path / "jazz band")
    ended = run(verb)
    assert (ended.code, ended.out) == (2, "")
    assert "content, jazz band" in ended.err
    assert f"handbook {verb} content" in ended.err


def test_the_folder_that_one_stands_in_goes_before_those_that_lie_in_it(
    run: Run, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(content, content / "content")
    monkeypatch.chdir(content)
    assert run("check").err == f"handbook: the content folder is {content}\n"


def test_a_folder_that_is_given_is_not_named_again(run: Run, content: Path) -> None:
    assert run("check", content).err == ""


def test_the_folder_above_may_be_given(run: Run, content: Path, tmp_path: Path) -> None:
    assert run("check", tmp_path).code == 0


@pytest.mark.parametrize("verb", ["check", "plan", "build", "serve"])
def test_no_folder_at_all_is_misuse(run: Run, verb: str) -> None:
    ended = run(verb)
    assert (ended.code, ended.out) == (2, "")
    assert "handbook new content" in ended.err
    assert ended.err.count("\n") == 1


@pytest.mark.parametrize("verb", ["check", "plan", "build", "serve"])
def test_an_unknown_folder_is_misuse(run: Run, verb: str) -> None:
    assert run(verb, "nowhere") == Ended(2, "", "handbook: there is no folder nowhere\n")


def test_a_file_is_no_folder(run: Run, content: Path) -> None:
    ended = run("check", content / "program.yaml")
    assert ended.code == 2
    assert "give the folder that it is in" in ended.err


def test_an_empty_folder_is_to_be_mended_not_misuse(run: Run, tmp_path: Path) -> None:
    (tmp_path / "content").mkdir()
    ended = run("check")
    assert ended.code == 1
    assert "program.yaml" in ended.out


@pytest.mark.parametrize(
    "arguments",
    [
        ["chek"],
        ["check", "--formt", "json"],
        ["check", "--format", "xml"],
        ["build", "a", "b"],
        ["new"],
        ["serve", "--port", "99999"],
    ],
)
def test_what_cannot_be_meant_ends_with_2(run: Run, content: Path, arguments: list[str]) -> None:
    ended = run(*arguments)
    assert ended.code == 2
    assert "Error:" in ended.err


# --- build ---------------------------------------------------------------------------------


def test_the_site_is_put_beside_the_content(run: Run, content: Path, tmp_path: Path) -> None:
    ended = run("build")
    assert ended.code == 0
    assert re.fullmatch(r"\d+ pages in \d+\.\d s: site\n", ended.out)
    assert (tmp_path / "site" / "index.html").is_file()
    assert (tmp_path / "site" / "404.html").is_file()


def test_the_site_may_be_put_elsewhere(run: Run, content: Path, tmp_path: Path) -> None:
    assert run("build", "content", "--site", "out/public").out.endswith(": out/public\n")
    assert (tmp_path / "out" / "public" / "index.html").is_file()
    assert not (tmp_path / "site").exists()


def test_warnings_are_counted_and_do_no_harm(run: Run, doubtful: Path, tmp_path: Path) -> None:
    ended = run("build")
    assert ended.code == 0
    assert ended.out.endswith(": site (1 warning: `handbook check` shows them)\n")
    assert not (tmp_path / "site" / "notes.txt").exists()


def test_content_with_a_slip_replaces_nothing(run: Run, content: Path, tmp_path: Path) -> None:
    run("build")
    before = {
        name: (tmp_path / "site" / name).read_bytes() for name in files_below(tmp_path / "site")
    }
    edit(content / "program.yaml", "    room: band-room", "    room: band-rom")
    ended = run("build")
    assert (ended.code, ended.out) == (1, "")
    assert "unknown-room" in ended.err
    assert {
        name: (tmp_path / "site" / name).read_bytes() for name in files_below(tmp_path / "site")
    } == before


def test_a_swap_that_was_cut_off_is_undone_before_the_content_is_read(
    run: Run, content: Path, tmp_path: Path
) -> None:
    run("build")
    aside = tmp_path / ".handbook" / "site" / "old"
    aside.parent.mkdir(parents=True)
    (tmp_path / "site").rename(aside)
    edit(content / "program.yaml", "    room: band-room", "    room: band-rom")
    assert run("build").code == 1
    assert (tmp_path / "site" / "index.html").is_file()
    assert not (tmp_path / ".handbook").exists()


def test_what_is_left_of_the_old_site_is_told(
    run: Run, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def make(*arguments: Any, **more: Any) -> Published:
        return replace(publish(*arguments, **more), kept=("/somewhere/thesis.docx",))

    monkeypatch.setattr(build_verb, "publish", make)
    ended = run("build")
    assert ended.code == 0
    assert "/somewhere/thesis.docx is left of the old site" in ended.err


def test_a_folder_with_other_files_is_refused(run: Run, content: Path, tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "thesis.docx").write_text("years of work")
    ended = run("build")
    assert ended.code == 2
    assert "thesis.docx" in ended.err
    assert (tmp_path / "site" / "thesis.docx").read_text() == "years of work"


@pytest.mark.parametrize("place", ["content", "content/site", "."])
def test_site_and_content_may_not_lie_in_each_other(run: Run, content: Path, place: str) -> None:
    before = files_below(content)
    assert run("build", "content", "--site", place).code == 2
    assert files_below(content) == before


def test_a_link_to_nowhere_in_a_page_stops_the_build(
    run: Run, content: Path, tmp_path: Path
) -> None:
    (content / "pages" / "welcome.md").write_text("# Welcome\n\nSee [the plan](../nowhere/).\n")
    ended = run("build")
    assert ended.code == 1
    assert "welcome.md:3:16: error link-leads-nowhere" in ended.err
    assert not (tmp_path / "site").exists()


def build_in_a_child(content: Path, site: Path, *, folder: Path, seed: str, day: str) -> None:
    """Build with another hash seed, working folder and date, as on another day's computer."""
    script = f"""
import datetime, time
shift = datetime.datetime.fromisoformat({day!r}).timestamp() - time.time()
clock = time.time
time.time = lambda: clock() + shift
def shifted(real, **clocks):
    class Like(type(real)):
        def __instancecheck__(cls, value): return isinstance(value, real)
        def __call__(cls, *given, **named): return real(*given, **named)
    return Like(real.__name__, (real,), clocks)
date, moment = datetime.date, datetime.datetime
datetime.date = shifted(date, today=classmethod(lambda cls: date.fromtimestamp(time.time())))
datetime.datetime = shifted(moment, now=classmethod(lambda cls, tz=None: moment.fromtimestamp(time.time(), tz)))
import sys
from handbook.cli import main
assert datetime.date.today().isoformat() == {day!r}
# What is kept is pickled, and a pickle names a class by its place, where now another stands.
import copyreg
def day_again(*parts): return date(*parts)
def moment_again(fold, *parts): return moment(*parts, fold=fold)
copyreg.pickle(date, lambda one: (day_again, (one.year, one.month, one.day)))
copyreg.pickle(moment, lambda one: (moment_again, (one.fold, one.year, one.month, one.day,
    one.hour, one.minute, one.second, one.microsecond, one.tzinfo)))
main(["build", sys.argv[1], "--site", sys.argv[2]])
"""
    environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(CHECKOUT)}
    environment["XDG_CACHE_HOME"] = f"{site}-cache"  # nothing is kept from one to the other
    environment.pop("SOURCE_DATE_EPOCH", None)
    subprocess.run(
        [sys.executable, "-c", script, str(content), str(site)],
        cwd=folder,
        env=environment,
        check=True,
        capture_output=True,
    )


def test_two_builds_of_one_content_are_the_same_in_every_byte(
    content: Path, tmp_path: Path
) -> None:
    (tmp_path / "elsewhere").mkdir()
    build_in_a_child(content, tmp_path / "one", folder=tmp_path, seed="1", day="2026-11-25")
    build_in_a_child(
        content, tmp_path / "two", folder=tmp_path / "elsewhere", seed="2", day="2027-02-03"
    )
    first, second = (
        {
            name: (tmp_path / site / name).read_bytes()
            for name in files_below(tmp_path / site) - {MARKER}  # which notes when it was written
        }
        for site in ("one", "two")
    )
    assert first == second
    assert len(first) > 10


# --- plan ----------------------------------------------------------------------------------


def test_the_plan_fits_80_columns(run: Run, content: Path) -> None:
    ended = run("plan")
    assert ended.code == 0
    lines = ended.out.splitlines()
    assert max(len(line) for line in lines) <= 80
    assert "Winter cycle (winter-2027): concert Thu Jan 21, 7:00 pm" in ended.out
    first = next(line for line in lines if line.startswith("Mon Nov 30"))
    assert re.search(r" 1/\d+ .* Read .* 45 ", first)
    # Half of quarter = 92, where the stage Read begins; the piece is run on that day.
    assert re.search(r"^opening +\d+ +\d+ +\d+ +\d+  46 52 58 ", ended.out, re.MULTILINE)
    assert "run First Piece" in ended.out
    assert "No rehearsal: " in ended.out
    assert "(Winter break)" in ended.out


def plan_of(run: Run, *arguments: str) -> Any:
    ended = run("plan", "--json", *arguments)
    assert ended.code == 0
    return json.loads(ended.out)


def test_names_that_look_like_marks_of_the_terminal_are_shown_as_they_are(
    run: Run, content: Path
) -> None:
    for name in ("cycles/winter-2027/cycle.yaml", "program.yaml"):
        path = content / name
        text = re.sub(
            r"(?m)^(  - .*\n)?    name: .*", r'\1    name: "[/b] :bell: [red]"', path.read_text()
        )
        path.write_text(text)
    for options in ((), ("--care",)):
        ended = run("plan", "content", *options)
        assert (ended.code, ended.err) == (0, "")
        assert options or "[/b] :bell: [red]" in ended.out


def test_the_plan_as_json(run: Run, content: Path) -> None:
    plan = plan_of(run)
    assert plan["format"] == 2
    assert plan["program"]["school"] == {"en": "Your School"}
    (cycle,) = plan["cycles"]
    (band,) = cycle["ensembles"]
    rehearsals = band["rehearsals"]
    assert [row["n"] for row in rehearsals] == list(range(1, len(rehearsals) + 1))
    first = datetime.fromisoformat(rehearsals[0]["start"])
    assert (first.date(), first.utcoffset()) == (
        date(2026, 11, 30),
        datetime.strptime("-0600", "%z").utcoffset(),
    )
    assert all(
        sum(block["minutes"] for block in row["blocks"]) == row["minutes"] for row in rehearsals
    )
    assert cycle["concert"]["downbeat"] == "2027-01-21T19:00:00-06:00"
    # 16 measures of four beats at 92, 24 at 76, 24 at 92, and a fermata of 3 seconds.
    assert cycle["concert"]["seconds"] == pytest.approx(60 * (64 / 92 + 96 / 76 + 96 / 92) + 3)
    opening = band["pieces"][0]["passages"][0]
    assert opening["goal"] == {"beat": "quarter", "bpm": 92}
    tempos = [visit["tempo"] for visit in opening["visits"]]
    assert tempos[0] == {"beat": "quarter", "bpm": 46}  # half of 92, where the stage Read begins
    assert tempos[-2:] == [opening["goal"]] * 2
    places = [visit["place"] for visit in opening["visits"]]
    assert places == sorted(set(places))
    assert set(places) <= set(range(len(rehearsals)))


def test_the_plan_is_the_same_text_each_time(run: Run, content: Path) -> None:
    assert run("plan", "--json").out == run("plan", "--json").out


def test_the_plan_may_be_narrowed(run: Run, content: Path) -> None:
    assert len(plan_of(run, "--cycle", "winter-2027", "--ensemble", "concert-band")["cycles"]) == 1


@pytest.mark.parametrize(
    ("option", "known"), [("--cycle", "winter-2027"), ("--ensemble", "concert-band")]
)
def test_an_unknown_name_is_misuse_and_the_known_ones_are_told(
    run: Run, content: Path, option: str, known: str
) -> None:
    ended = run("plan", option, "nothing")
    assert ended.code == 2
    assert known in ended.err


def test_no_plan_of_content_with_a_slip(run: Run, broken: Path) -> None:
    ended = run("plan", "--json")
    assert (ended.code, ended.out) == (1, "")
    assert "unknown-room" in ended.err


@pytest.mark.parametrize(
    ("value", "written"),
    [
        (Fraction(96), 96),
        (Fraction(145, 2), 72.5),
        (Fraction(200, 3), "200/3"),
        (Fraction(1, 8), 0.125),
    ],
)
def test_numbers_stay_exact(value: Fraction, written: object) -> None:
    assert number(value) == written


# --- new, explain, help --------------------------------------------------------------------


def test_a_new_folder_builds_at_once(run: Run, tmp_path: Path) -> None:
    ended = run("new", "my-band")
    assert ended.code == 0
    assert "handbook serve my-band" in ended.out
    assert run("check", "my-band") == Ended(0, "no problems\n", "")
    assert run("build", "my-band").code == 0


@pytest.mark.parametrize("name", ["full", "file.txt"])
def test_new_never_writes_over_anything(run: Run, tmp_path: Path, name: str) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine.txt").write_text("mine")
    (tmp_path / "file.txt").write_text("mine")
    before = files_below(tmp_path)
    ended = run("new", name)
    assert ended.code == 2
    assert "choose a new name" in ended.err
    assert files_below(tmp_path) == before


def test_new_fills_an_empty_folder(run: Run, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    assert run("new", "empty").code == 0


def test_explain_tells_one_code_or_lists_all(run: Run) -> None:
    told = run("explain", "unknown-room")
    assert told.code == 0
    assert told.out.startswith("unknown-room\n\n")
    listed = run("explain")
    assert listed.code == 0
    assert re.search(r"^unknown-room +\S", listed.out, re.MULTILINE)


def test_explain_knows_what_was_meant(run: Run) -> None:
    ended = run("explain", "unknown-rom")
    assert (ended.code, ended.out) == (2, "")
    assert "did you mean unknown-room?" in ended.err


@pytest.mark.parametrize("verb", ["new", "check", "plan", "build", "serve", "explain"])
def test_each_verb_has_help_and_is_listed(run: Run, verb: str) -> None:
    assert run(verb, "--help").code == 0
    assert re.search(rf"^  {verb} +\S.*[^.]\.$", run("--help").out, re.MULTILINE)


@pytest.mark.parametrize("option", ["--help", "--version"])
def test_what_only_tells_of_the_verbs_loads_none(option: str) -> None:
    ended = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "handbook", option],
        capture_output=True,
        text=True,
        check=True,
    )
    loaded = {line.rpartition("|")[2].strip() for line in ended.stderr.splitlines()}
    assert "handbook.cli.main" in loaded
    heavy = {"handbook.pipeline", "pydantic", "yaml", "jinja2", "rich", "mkdocs", "babel"}
    assert not loaded & heavy


def test_the_version(run: Run) -> None:
    ended = run("--version")
    assert ended.code == 0
    assert ended.out.startswith("handbook ")


# --- Faults of ours ------------------------------------------------------------------------


def failing(*_: object, **__: object) -> None:
    raise ZeroDivisionError("deep inside")


def test_a_fault_of_ours_is_one_line_and_a_file(
    run: Run, content: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(build_verb, "publish", failing)
    ended = run("build", "content")
    assert (ended.code, ended.out) == (3, "")
    assert ended.err.count("\n") == 1
    assert "report it" in ended.err
    log = (tmp_path / LOG_NAME).read_text(encoding="utf-8")
    assert "builtins.ZeroDivisionError\n" in log
    assert "in failing" in log
    assert "['build', 'content']" in log


def test_no_word_of_the_content_gets_into_the_file(
    run: Run, content: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def quoting(*_: object, **__: object) -> None:
        line = "private: Ask at home"
        try:
            dict[str, str]()[line]
        except KeyError as inner:
            deeper = ExceptionGroup(line, [ValueError(line)])
            deeper.add_note(line)
            raise deeper from inner

    monkeypatch.setattr(build_verb, "publish", quoting)
    ended = run("build", "content")
    log = (tmp_path / LOG_NAME).read_text(encoding="utf-8")
    assert log.index("builtins.KeyError\n") < log.index("builtins.ExceptionGroup\n")
    assert log.count("in quoting") == 2
    for told in (log.replace('line = "private: Ask at home"', ""), ended.err):
        assert "Ask at home" not in told


def test_where_nothing_can_be_written_the_file_goes_elsewhere(
    run: Run, content: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / LOG_NAME).mkdir()  # stands in for a folder that cannot be written to
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    monkeypatch.setattr(build_verb, "publish", failing)
    assert str(tmp_path / "temporary" / LOG_NAME) in run("build").err


@pytest.mark.parametrize("marker", [SITE, BINDER])
def test_the_file_goes_into_no_site_and_no_binder(
    run: Run, content: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, marker: Marker
) -> None:
    made, temporary = tmp_path / "made" / "winter", tmp_path / "temporary"
    made.mkdir(parents=True)
    temporary.mkdir()
    (made.parent / marker.name).write_text(f"{marker.first_line}\n")
    monkeypatch.setattr("tempfile.tempdir", str(temporary))
    monkeypatch.setattr(build_verb, "publish", failing)
    monkeypatch.chdir(made)
    assert str(temporary / LOG_NAME) in run("build", str(tmp_path / "content")).err
    assert not any(made.iterdir())


def test_an_interrupted_build_says_so(
    run: Run, content: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(build_verb, "publish", interrupted)
    assert run("build", content) == Ended(130, "", "\nStopped.\n")


# --- Odd consoles --------------------------------------------------------------------------


def in_a_child(
    folder: Path, *arguments: str, **environment: str
) -> subprocess.CompletedProcess[bytes]:
    plain = {
        key: value
        for key, value in os.environ.items()
        if not key.startswith(("LC_", "LANG", "PYTHONIO"))
    }
    return subprocess.run(
        [sys.executable, "-m", "handbook", *arguments],
        cwd=folder, env={**plain, "PYTHONPATH": str(CHECKOUT), **environment}, check=False, capture_output=True,
    )  # fmt: skip


@pytest.mark.parametrize("encoding", ["cp437", "utf-8"])
@pytest.mark.parametrize("verb", ["check", "plan"])
def test_signs_that_a_console_lacks_do_no_harm(
    content: Path, tmp_path: Path, encoding: str, verb: str
) -> None:
    edit(content / "program.yaml", "name: Concert Band", 'name: "Concert Band ♭♯"')
    if verb == "check":
        edit(content / "program.yaml", "    room: band-room", "    room: ♭")
    done = in_a_child(tmp_path, verb, PYTHONIOENCODING=encoding)
    assert done.returncode == (1 if verb == "check" else 0), done.stderr
    assert b"Traceback" not in done.stdout + done.stderr
    if encoding == "utf-8":
        assert "♭".encode() in done.stdout


def test_json_is_utf_8_on_any_console(content: Path, tmp_path: Path) -> None:
    edit(content / "program.yaml", "name: Concert Band", 'name: "Concert Band ♭♯"')
    done = in_a_child(tmp_path, "plan", "--json", PYTHONIOENCODING="ascii")
    band = json.loads(done.stdout.decode("utf-8"))["cycles"][0]["ensembles"][0]
    assert band["name"] == {"en": "Concert Band ♭♯"}


def test_a_reader_who_goes_away_is_no_fault(content: Path, tmp_path: Path) -> None:
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT), "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        [sys.executable, "-m", "handbook", "plan", "content", "--json"],
        cwd=tmp_path, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as running:  # fmt: skip
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.read(1)
        running.stdout.close()
        assert running.stderr.read() == b""
    assert not (tmp_path / LOG_NAME).exists()


def on_a_terminal(folder: Path, *arguments: str, **environment: str) -> Iterator[bytes]:
    """Run a command on a terminal of its own, and give what it writes."""
    pty = pytest.importorskip("pty", reason="Windows has no such terminals")
    master, terminal = pty.openpty()
    plain = {
        key: value for key, value in os.environ.items() if key not in {"NO_COLOR", "FORCE_COLOR"}
    }
    with subprocess.Popen(
        [sys.executable, "-m", "handbook", *arguments],
        cwd=folder, env={**plain, "PYTHONPATH": str(CHECKOUT), "TERM": "xterm-256color", **environment},
        stdout=terminal, stderr=terminal, stdin=terminal,
    ):  # fmt: skip
        os.close(terminal)
        with suppress(OSError):  # the terminal is closed when the command has ended
            while piece := os.read(master, 65536):
                yield piece
    os.close(master)


@pytest.mark.parametrize("verb", ["check", "plan"])
def test_colour_only_on_a_terminal_and_never_against_no_color(
    broken: Path, tmp_path: Path, verb: str
) -> None:
    if verb == "plan":
        edit(broken / "program.yaml", "    room: band-rom", "    room: band-room")
    coloured = re.compile(rb"\x1b\[[0-9;]*3[0-9]|\x1b\[1m")
    piped = in_a_child(tmp_path, verb)
    assert not coloured.search(piped.stdout + piped.stderr)
    assert coloured.search(b"".join(on_a_terminal(tmp_path, verb)))
    plain = b"".join(on_a_terminal(tmp_path, verb, NO_COLOR="1"))
    assert not re.search(rb"\x1b\[[0-9;]*3[0-7]", plain)
