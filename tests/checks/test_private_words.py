"""Words by which an author means to keep something off the site; common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.checking import PROGRAM, Change, checked

NAME = "name: Quillhaven Bands"


def page(body: str) -> Change:
    return "pages/trip.md", "", f"# The trip\n\n{body}\n"


@pytest.mark.parametrize(
    ("body", "place"),
    [
        ("private: ask who drives", "3:1"),
        ("We meet.\nPrivate: ask who drives", "4:1"),
        ("We meet. Private notes: ask who drives", "3:10"),
        ("- PRIVATE NOTE: ask", "3:3"),
        ("**Private:** ask", "3:3"),
        ("> private : ask", "3:3"),
        ("## Private remarks:", "3:4"),
        ("Privado: pregunta", "3:1"),
        ("Do not publish: this", "3:1"),
        ("We meet.\n\ndraft: yes", "5:1"),
        ("Draft: true", "3:1"),
        ("published: no", "3:1"),
    ],
)
def test_a_line_that_says_it_is_private_is_refused(body: str, place: str, tmp_path: Path) -> None:
    (told,) = checked(tmp_path, page(body))
    assert told.startswith(f"pages/trip.md:{place} private-line: ")


@pytest.mark.parametrize(
    "body",
    [
        "Private lessons: ask the office.",
        "We keep private things private.",
        "Ask in private: nobody minds.",
        "Our privacy: nothing is kept.",
        "The first draft: yesterday's.",
        "Draft horses pull the cart.",
        "# Private",
    ],
)
def test_lines_that_only_look_alike_are_left_alone(body: str, tmp_path: Path) -> None:
    assert checked(tmp_path, page(body)) == []


def test_a_text_is_public_as_a_whole(tmp_path: Path) -> None:
    about = "about:\n  en: >-\n    We meet daily.\n    Private notes: call the hall.\n"
    (told,) = checked(tmp_path, (PROGRAM, NAME, f"{NAME}\n{about.rstrip()}"))
    assert told.startswith("program.yaml:3:7 private-line: `Private notes:` keeps nothing private")


@pytest.mark.parametrize("term", ["Private", "private notes", "PRIVATE", "Note to self", "draft"])
def test_a_term_that_is_no_term_is_refused(term: str, tmp_path: Path) -> None:
    words = f"words:\n  legato: smooth\n  {term}: two are waiting"
    told = checked(tmp_path, (PROGRAM, NAME, f"{words}\n{NAME}"))
    assert told == [
        f"program.yaml:3:3 private-term: `{term}` is shown as a term, with all that is said of it | write `private:` in small letters, beside `words:` and not under it"
    ]


@pytest.mark.parametrize("term", ["private lesson", "drafty", "note"])
def test_other_terms_are_left_alone(term: str, tmp_path: Path) -> None:
    assert checked(tmp_path, (PROGRAM, NAME, f"words: {{{term}: a word}}\n{NAME}")) == []


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["trip", "trip-copy"], ["trip-copy"]),
        (["trip", "trip-2", "trip-draft-1"], ["trip-2", "trip-draft-1"]),
        (["trip", "copy-of-trip", "trip-v2"], ["copy-of-trip", "trip-v2"]),
        (["es/trip", "es/trip-old", "trip-new"], ["es/trip-old"]),
        (["week-1", "week-2", "trips", "new-players"], []),
    ],
)
def test_a_second_version_of_a_page_is_told(
    names: list[str], told: list[str], tmp_path: Path
) -> None:
    pages = [(f"pages/{name}.md", "", "# A page\n") for name in names]
    found = checked(tmp_path, *pages)
    assert [line.partition(":")[0] for line in found] == [f"pages/{name}.md" for name in told]
    assert all("warning second-page" in line for line in found)
