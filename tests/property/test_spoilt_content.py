"""However a content folder is spoilt, a director reads sentences and never a traceback."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given, settings
from hypothesis import strategies as st

from handbook.pipeline import has_errors, load_plan, load_problems
from handbook.report import report_github, report_json, report_text
from tests.content_folders import base_files, write_folder

FILES = base_files()
NAMES = sorted(FILES)
_TYPED = st.sampled_from(
    [
        "",
        " ",
        "  ",
        "\t",
        ":",
        ": ",
        "-",
        "- ",
        "#",
        " #x",
        "'",
        '"',
        "[",
        "]",
        "{",
        "}",
        ",",
        "&a",
        "*a",
        "!",
        "|",
        ">",
        "no",
        "6:30",
        "2026-02-30",
        "0",
        "99999",
        "quarter = 0",
        "Lantern",
        "~",
        "private:\n",
        "\n",
        "\xa0",
        "“",
        "é",
        "x: [",
        "lantern",
        "id: build",
        "2027-01-05",
    ]
)


@st.composite
def spoilt(draw: st.DrawFn) -> dict[str, str]:
    """The whole folder after one to three slips: a stretch of a file replaced by other signs."""
    files = dict(FILES)
    for _ in range(draw(st.integers(1, 3))):
        name = draw(st.sampled_from(NAMES))
        text = files[name]
        start = draw(st.integers(0, len(text)))
        stop = min(len(text), start + draw(st.sampled_from([0, 1, 2, 5, 12, 40, 200])))
        files[name] = text[:start] + draw(_TYPED) + text[stop:]
    return files


@given(spoilt())
@settings(max_examples=150, deadline=None)
def test_a_spoilt_folder_is_reckoned_or_told(files: dict[str, str]) -> None:
    with TemporaryDirectory() as name:
        outcome = load_plan(write_folder(Path(name), files))
        assert all(problem.hint for problem in load_problems(Path(name)).problems)
    assert (outcome.plan is None) == has_errors(outcome.problems)
    told = report_text(outcome.problems, outcome.sources, folder="content")
    assert report_json(outcome.problems, outcome.sources).endswith("}\n")
    assert report_github(outcome.problems, outcome.sources).count("\n") <= len(outcome.problems)
    assert told.endswith(("no problems\n", " file\n", " files\n"))


@given(st.sets(st.sampled_from(NAMES)))
@settings(max_examples=30, deadline=None)
def test_any_file_may_be_missing(left_out: set[str]) -> None:
    files = {name: text for name, text in FILES.items() if name not in left_out}
    with TemporaryDirectory() as name:
        outcome = load_plan(write_folder(Path(name), files))
    assert (outcome.plan is None) == has_errors(outcome.problems)
