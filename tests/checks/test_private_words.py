"""Words by which an author means to keep something off the site; common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.source.yaml_reader import read_yaml
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
        ("Private note - ask who drives", "3:1"),
        ("private - ask who drives", "3:1"),
        ("Private – ask who drives", "3:1"),
        ("Private note—ask who drives", "3:1"),
        ("We meet. **Private notes** - ask", "3:12"),
        ("[private] ask who drives", "3:1"),
        ("- (private) ask who drives", "3:3"),
        ("{Private note} ask who drives", "3:1"),
        ("[do not publish] two are waiting", "3:1"),
        ("## Private notes", "3:4"),
        ("## **Private remarks** ##", "3:6"),
        ("**Private notes**", "3:3"),
        ("> # Not public", "3:5"),
        ("Private notes\n-------------", "3:1"),
        ("# Notas privadas", "3:3"),
        ("| When | What |\n|--|--|\n| 5:30 | private: ask |", "5:10"),
        ("| When | Private notes |\n|--|--|\n| 5:30 | Ask |", "3:10"),
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
        "Private lessons - ask the office.",
        "Private-school players are welcome - ask.",
        "A private school - ours - hosts us.",
        "## Private lessons",
        "| Lessons | Private | Group |\n|--|--|--|\n| Cost | none | none |",
        "Lessons are small (private) or large (group).",
        "[Private](https://www.example.org/lessons) lessons: ask.",
        "| What |\n|--|\n| Private only on request |",
        "[Private lessons](https://www.example.org/lessons) are [private](https://www.example.org/).",
        "**Private lessons** are on Mondays. Privately: ask.",
        "What you tell us stays as\nprivate notes\nof the office.",
        "Private–public work pays for the bus.",
        "Not public transport: our own bus.",
        "Draft a letter - or two.",
        "Public: the concert. The public - all of it - may come.",
    ],
)
def test_lines_that_only_look_alike_are_left_alone(body: str, tmp_path: Path) -> None:
    assert checked(tmp_path, page(body)) == []


def test_a_text_is_public_as_a_whole(tmp_path: Path) -> None:
    about = "about:\n  en: >-\n    We meet daily.\n    Private notes: call the hall.\n"
    (told,) = checked(tmp_path, (PROGRAM, NAME, f"{NAME}\n{about.rstrip()}"))
    assert told.startswith("program.yaml:3:7 private-line: `Private notes:` keeps nothing private")


@pytest.mark.parametrize(
    "term",
    [
        *("Private", "private notes", "PRIVATE", "Note to self", "draft"),
        *("PRIVATE-notes", "private_note", "(private) waiting", "Private - waiting", "private– x"),
    ],
)
def test_a_term_that_is_no_term_is_refused(term: str, tmp_path: Path) -> None:
    words = f"words:\n  legato: smooth\n  {term}: two are waiting"
    told = checked(tmp_path, (PROGRAM, NAME, f"{words}\n{NAME}"))
    assert told == [
        f"program.yaml:3:3 private-term: `{term}` is shown as a term, with all that is said of it | write `private:` in small letters, beside `words:` and not under it"
    ]


@pytest.mark.parametrize(
    "term", ["private lesson", "drafty", "note", "private-lesson", "publication"]
)
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


FOLDED = """about: >-
  We meet daily, and
  private: ask who drives
name: Quillhaven Bands"""


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (FOLDED, ["3:3"]),
        (FOLDED.replace("private", "Private notes"), ["3:3"]),
        ("about: 'We meet daily, and\n  private: ask'\nname: x", ["2:3"]),
        ('about:\n  en: "We meet daily, and\n    private:\n    ask"\nname: x', ["3:5"]),
        ("list:\n  - >\n    We meet and\n    private: ask", ["4:5"]),
        # A field of its own, and words that only look so.
        (FOLDED.replace("  private", "private"), []),
        ("- about: >-\n    We keep private things\n  private: ask", []),
        ("about: >-\n  We meet and eat\nprivate: ask", []),
        (FOLDED.replace(">-", "|"), []),  # which the check of texts tells
        (FOLDED.replace("private", "private lessons"), []),
        (FOLDED.replace("and\n  private:", "in\n  private, too:"), []),
        ("about: We meet and keep it all in\n  private\nname: x", []),
    ],
)
def test_a_private_line_that_was_folded_into_a_text_is_refused(text: str, told: list[str]) -> None:
    # YAML 1.2.2, 6.5: in a folded text a line's end is a space, so that nothing shows it later.
    problems = read_yaml("program.yaml", text.encode()).problems
    found = [f"{one.position.line}:{one.position.column}" for one in problems if one.position]
    assert found == told
    assert all(one.code == "swallowed-line" and one.severity == "error" for one in problems)
