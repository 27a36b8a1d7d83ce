"""What a tired director reads at ten in the evening, and what programs read."""

from __future__ import annotations

import json
import re

import click
import pytest

from handbook.problems import Note, Position, Problem, Severity
from handbook.report import located, report_github, report_json, report_text, summary
from handbook.report.snippet import snippet
from handbook.source.source_map import SourceFile, SourceMap
from handbook.source.yaml_reader import read_yaml

MUSIC = "cycles/winter/music.yaml"
TEXT = """\
pieces:
  - id: button-comets
    gaol: quarter = 96
    start: quarter = 120
"""


def source_map() -> SourceMap:
    read = read_yaml(MUSIC, TEXT.encode())
    return SourceMap(
        {MUSIC: SourceFile(read.lines, read.root), "program.yaml": SourceFile(("name: A",))}
    )


MISSPELT = Problem(
    "unknown-field",
    "a passage has no field `gaol`",
    (MUSIC, "pieces", 0, "gaol"),
    "did you mean `goal`?",
    on_key=True,
)
TOO_FAST = Problem(
    "goal-below-start",
    "the start, quarter = 120, is faster than the goal, quarter = 96",
    (MUSIC, "pieces", 0, "start"),
    "start at or below the goal",
    notes=(Note("the goal is here", (MUSIC, "pieces", 0, "gaol")),),
)
MISSING = Problem("missing-file", "the file is missing", ("cycles/winter/cycle.yaml",), "write it")
DROPPED = Problem(
    "dropped-text",
    "the text after # was dropped",
    ("program.yaml",),
    severity=Severity.WARNING,
    position=Position(1, 7),
)

PLAIN = """\
content/cycles/winter/cycle.yaml: error missing-file: the file is missing
  help: write it
  (handbook explain missing-file)

content/cycles/winter/music.yaml:3:5: error unknown-field: a passage has no field `gaol`
  3 |     gaol: quarter = 96
    |     ^^^^
  help: did you mean `goal`?
  (handbook explain unknown-field)

content/cycles/winter/music.yaml:4:12: error goal-below-start: the start, quarter = 120, is faster than the goal, quarter = 96
  4 |     start: quarter = 120
    |            ^^^^^^^^^^^^^
  note: the goal is here: content/cycles/winter/music.yaml:3:11
  3 |     gaol: quarter = 96
    |           ^^^^^^^^^^^^
  help: start at or below the goal
  (handbook explain goal-below-start)

content/program.yaml:1:7: warning dropped-text: the text after # was dropped
  1 | name: A
    |       ^
  (handbook explain dropped-text)

3 errors and 1 warning in 3 files
"""


def test_the_text_reads_from_place_to_way_out() -> None:
    found = (DROPPED, TOO_FAST, MISSPELT, MISSING)
    assert report_text(found, source_map(), folder="content") == PLAIN


def test_colour_changes_nothing_but_colour() -> None:
    found = (DROPPED, TOO_FAST, MISSPELT, MISSING)
    coloured = report_text(found, source_map(), folder="content", colour=True)
    assert click.unstyle(coloured) == PLAIN
    assert coloured != PLAIN


def test_the_order_is_that_of_the_files_and_lines() -> None:
    found = located((DROPPED, TOO_FAST, MISSPELT, MISSING), source_map())
    assert [one.problem for one in found] == [MISSING, MISSPELT, TOO_FAST, DROPPED]


def test_one_problem_is_told_once() -> None:
    assert len(located((MISSPELT, MISSPELT), source_map())) == 1


@pytest.mark.parametrize(
    ("folder", "shown"),
    [("", f"{MUSIC}:3:5"), (".", f"{MUSIC}:3:5"), ("my/content/", f"my/content/{MUSIC}:3:5")],
)
def test_the_folder_is_shown_as_it_was_given(folder: str, shown: str) -> None:
    assert report_text((MISSPELT,), source_map(), folder=folder).startswith(f"{shown}: error")


@pytest.mark.parametrize(
    ("problems", "words"),
    [
        ((), "no problems"),
        ((MISSPELT,), "1 error in 1 file"),
        ((MISSPELT, TOO_FAST), "2 errors in 1 file"),
        ((DROPPED,), "1 warning in 1 file"),
        ((MISSPELT, DROPPED), "1 error and 1 warning in 2 files"),
    ],
)
def test_problems_are_counted(problems: tuple[Problem, ...], words: str) -> None:
    assert summary(located(problems, source_map())) == words


@pytest.mark.parametrize(
    ("line", "at", "text", "marks"),
    [
        ("name: Winter", Position(1, 7, 6), "name: Winter", "      ^^^^^^"),
        ("\tname: A", Position(1, 1), "→name: A", "^"),
        ("name:\u00a0A", Position(1, 6), "name:␣A", "     ^"),
        ("name: a\u200bb", Position(1, 8), "name: a▯b", "       ^"),
        ("name: 冬の音楽", Position(1, 7, 2), "name: 冬の音楽", "      ^^^^"),
        ("name: 冬 x", Position(1, 9), "name: 冬 x", "         ^"),
        ("name: e\u0301 x", Position(1, 10), "name: e\u0301 x", "        ^"),
        ("name: A   ", Position(1, 7, 1), "name: A", "      ^"),
        ("name:", Position(1, 6), "name:", "     ^"),
        ("name: A", Position(1, 99), "name: A", " " * 7 + "^"),
    ],
)
def test_the_mark_stands_under_the_place(line: str, at: Position, text: str, marks: str) -> None:
    shown = snippet(line, at)
    assert (shown.text, shown.marks) == (text, marks)


@pytest.mark.parametrize("column", [1, 7, 80, 95, 96, 97, 150, 300, 399, 400])
def test_a_long_line_is_cut_around_the_place(column: int) -> None:
    line = "".join(chr(97 + n % 26) for n in range(400))
    shown = snippet(line, Position(1, column, 3))
    start = shown.marks.index("^")
    assert len(shown.text) <= 98
    assert shown.text[start : start + shown.marks.count("^")] == line[column - 1 : column + 2]


def test_json_has_everything_the_text_has() -> None:
    whole = json.loads(report_json((TOO_FAST, MISSING, DROPPED), source_map(), folder="content"))
    assert (whole["errors"], whole["warnings"]) == (2, 1)
    assert whole["problems"][0] == {
        "file": "content/cycles/winter/cycle.yaml",
        "line": None,
        "column": None,
        "length": None,
        "severity": "error",
        "code": "missing-file",
        "message": "the file is missing",
        "help": "write it",
        "more": 0,
        "notes": [],
    }
    assert whole["problems"][1]["notes"] == [
        {
            "file": f"content/{MUSIC}",
            "line": 3,
            "column": 11,
            "length": 12,
            "message": "the goal is here",
        }
    ]


def test_github_gets_one_command_a_problem() -> None:
    tricky = Problem("odd", "100% odd\nreally", ("program.yaml",), position=Position(1, 1, 4))
    lines = report_github((MISSPELT, MISSING, tricky), source_map(), folder="a,b:c").splitlines()
    assert lines == [
        "::error file=a%2Cb%3Ac/cycles/winter/cycle.yaml,title=missing-file::the file is missing%0Ahelp: write it",
        f"::error file=a%2Cb%3Ac/{MUSIC},line=3,endLine=3,col=5,endColumn=9,title=unknown-field::a passage has no field `gaol`%0Ahelp: did you mean `goal`?",
        "::error file=a%2Cb%3Ac/program.yaml,line=1,endLine=1,col=1,endColumn=5,title=odd::100%25 odd really",
    ]
    assert all(re.fullmatch(r"::(error|warning) [^:]+::.+", line) for line in lines)


def test_no_problems_make_no_noise() -> None:
    assert report_github((), SourceMap()) == ""
    assert report_text((), SourceMap()) == "no problems\n"
    assert json.loads(report_json((), SourceMap()))["problems"] == []


def many(count: int) -> tuple[Problem, ...]:
    return tuple(
        Problem("unknown-room", f"no room is called `r{n}`", (MUSIC,), position=Position(n + 1, 1))
        for n in range(count)
    )


def test_of_a_thousand_problems_of_a_kind_the_first_are_shown_and_the_others_counted() -> None:
    other = Problem("unknown-year", "no year is called `2030`", (MUSIC,))
    text = report_text((*many(1000), other), SourceMap())
    assert text.count("error unknown-room: ") == 20
    assert "and 980 more of unknown-room" in text
    assert text.count("error unknown-year: ") == 1
    assert text.endswith("1,001 errors in 1 file\n")
    assert "more of" not in report_text(many(20), SourceMap())
    files = tuple(Problem("unknown-file", "not read", (f"{n}.txt",)) for n in range(500))
    assert report_text(files, SourceMap()).count("error unknown-file: ") == 100
    assert "and 400 more of unknown-file" in report_text(files, SourceMap())
    lines = report_github(many(1000), SourceMap()).splitlines()
    assert len(lines) == 10
    assert "and 990 more of unknown-room" in lines[-1]
    data = json.loads(report_json(many(1000), SourceMap()))
    assert (len(data["problems"]), data["problems"][-1]["more"], data["errors"]) == (300, 700, 1000)


@pytest.mark.parametrize("bad", ["\x1b[31mred", "a\x9b2Jb", "\u202eabc", "a\nb", "\x07", "\ud800"])
def test_a_quoted_text_cannot_steer_the_terminal(bad: str) -> None:
    told = Problem("odd", f"`{bad}` is odd", (MUSIC,), bad, notes=(Note(bad, (MUSIC,)),))
    for report in (report_text, report_json, report_github):
        text = report((told,), SourceMap())
        assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u202e\ud800]", text)
        text.encode()
        assert len(report_text((told,), SourceMap()).splitlines()) == 6


def test_a_quoted_page_of_text_is_cut() -> None:
    text = report_text((Problem("odd", "x" * 50_000, (MUSIC,), "y" * 50_000),), SourceMap())
    assert len(text) < 3000


def untold(place: int, severity: Severity = Severity.WARNING) -> Problem:
    return Problem(
        "missing-translation",
        f"text {place} is in one language only",
        (MUSIC,),
        severity=severity,
        position=Position(1 + place % 4, 1 + place),
    )


def test_errors_stand_before_all_warnings() -> None:
    found = located((untold(1), DROPPED, TOO_FAST, MISSING), source_map())
    assert [one.problem.severity for one in found] == ["error", "error", "warning", "warning"]


def test_many_warnings_of_a_kind_are_one_and_a_line_with_the_places_of_the_others() -> None:
    text = report_text([*map(untold, range(9)), DROPPED, TOO_FAST], source_map())
    assert text.count("is in one language only") == 1
    assert "  and 8 more of missing-translation: cycles/winter/music.yaml:1, 2, 3, 4\n" in text
    assert text.endswith("\n\n1 error and 10 warnings in 2 files\n")


def test_a_few_warnings_of_a_kind_and_all_errors_are_written_in_full() -> None:
    few = [untold(place) for place in range(3)]
    assert report_text(few, source_map()).count("is in one language only") == 3
    errors = [untold(place, Severity.ERROR) for place in range(9)]
    assert report_text(errors, source_map()).count("is in one language only") == 9
