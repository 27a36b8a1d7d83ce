"""One id leads to one thing.

What directors get wrong is common practice, no source.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handbook.domain.anchors import anchor_of
from handbook.pipeline import load_plan
from handbook.resources import templates_folder
from handbook.schema import site_names
from handbook.source.links import MEDIA
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
from tests.content_folders import base_files, write_folder
from tests.demo import demo_plan, demo_site

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
        ([(PROGRAM, "rooms:", "rooms:\n  - {id: band-room, name: Small}")], ["program.yaml:17:9 duplicate-id: two rooms are called `band-room` | give one of them another id, and change the places that mean it"]),
        ([(CYCLE, "id: polish", "id: build")], ["cycles/winter/cycle.yaml:13:9 duplicate-id: two stages are called `build` | give one of them another id, and change the places that mean it"]),
        ([("cycles/winter/music/more.yaml", "", "pieces:\n  - {id: tweed-kites, title: P, ensemble: harbor, form: [{name: A, measures: 1-4, meter: 4/4, tempo: quarter = 60}], passages: [{id: a, name: A, measures: 1, goal: quarter = 60}]}\n")], ["cycles/winter/music/more.yaml:2:10 duplicate-id: two pieces of this cycle are called `tweed-kites` | give one of them another id, and change the places that mean it"]),
        ([(MUSIC, "id: chase", "id: opening")], ["cycles/winter/music.yaml:19:13 duplicate-id: two passages of this piece are called `opening` | give one of them another id, and change the places that mean it"]),
        ([(YEAR, "id: p4", "id: p3"), (YEAR, "period: p4", "period: p3")], ["years/2026-27.yaml:7:14 duplicate-id: two periods of this schedule are called `p3` | give one of them another id, and change the places that mean it"]),
        ([fundamentals("      - {id: swells, name: Swells, level: 2}", "      - {id: long-tones, name: Swells, level: 2}")], ["fundamentals.yaml:8:14 duplicate-id: two exercises are called `long-tones` | give one of them another id, and change the places that mean it"]),
        ([(CYCLE, "[lantern, harbor]", "[lantern, harbor, lantern]")], ["cycles/winter/cycle.yaml:4:30 repeated-item: `lantern` stands in this list already | remove one of the two"]),
        ([(PROGRAM, "rooms:", "languages: [en, en]\nrooms:")], ["program.yaml:15:17 repeated-item: `en` stands in this list already | remove one of the two"]),
        ([fundamentals("  - {level: 2, name: Second, steps: [Play]}", "  - {level: 1, name: Second, steps: [Play]}")], ["fundamentals.yaml:11:13 warning duplicate-warm-up: two warm-ups have level 1 | number the warm-ups 1, 2, 3 in the order they are learned"]),
    ],
)  # fmt: skip
def test_duplicates_are_checked(changes: list[Change], told: list[str], tmp_path: Path) -> None:
    assert checked(tmp_path, *changes) == told


def test_a_name_of_the_site_is_no_name_for_a_cycle(tmp_path: Path) -> None:
    """Whatever stands at the root of the site, or is to come there, is refused."""
    files = {
        name.replace("cycles/winter", "cycles/calendar"): text
        for name, text in base_files().items()
    }
    result = load_plan(write_folder(tmp_path, files))
    assert [problem.code for problem in result.problems] == ["name-of-the-site"]
    assert result.problems[0].file == "cycles/calendar/cycle.yaml"
    assert "cycles/calendar-cycle" in (result.problems[0].hint or "")


@pytest.mark.parametrize(("languages", "told"), [("[en, es]", True), ("[en]", False)])
def test_a_cycle_is_not_called_as_a_language_of_the_program(
    languages: str, told: bool, tmp_path: Path
) -> None:
    files = {
        name.replace("cycles/winter/", "cycles/es/"): text for name, text in base_files().items()
    }
    files["program.yaml"] += f"languages: {languages}\n"
    found = load_plan(write_folder(tmp_path, files)).problems
    assert ("name-of-the-site" in {problem.code for problem in found}) == told


def test_every_folder_at_the_root_of_the_site_is_kept_from_cycles() -> None:
    site = demo_site()
    at_root = {path.partition("/")[0] for page in site.pages if (path := page.path)}
    at_root |= {file.path.partition("/")[0] for file in site.files if "/" in file.path}
    cycles = {cycle.id for cycle in demo_plan().cycles}
    assert at_root - cycles - {*demo_plan().languages} <= site_names.CYCLES
    assert MEDIA in site_names.CYCLES


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ([(MUSIC, "id: tweed-kites", "id: part"), (CONCERT, "[tweed-kites]", "[part]")], "part"),
        ([(MUSIC, "id: tweed-kites", "id: parts"), (CONCERT, "[tweed-kites]", "[parts]")], ""),
    ],
)
def test_a_name_of_the_site_is_no_name_for_a_piece(
    changes: list[Change], name: str, tmp_path: Path
) -> None:
    told = checked(tmp_path, *changes)
    assert [line for line in told if f"name-of-the-site: `{name}`" in line] == told
    assert len(told) == bool(name)


@pytest.mark.parametrize(
    "changes",
    [
        [(MUSIC, "id: round", "id: form")],
        [(MUSIC, "id: tweed-kites", "id: this-week"), (CONCERT, "[tweed-kites]", "[this-week]")],
        [(FUNDAMENTALS, "", "strands: [{id: a, name: A, why: B, exercises: [{id: main, name: M, level: 1}]}]")],
    ],
)  # fmt: skip
def test_a_place_of_the_site_is_no_name_for_what_has_a_place_of_its_own(
    changes: list[Change], tmp_path: Path
) -> None:
    (line,) = checked(tmp_path, *changes)
    assert "name-of-the-site" in line


@pytest.mark.parametrize(
    ("pages", "kept"),
    [
        (["today"], site_names.PLACES_OF_TODAY),
        (["part", "strand"], site_names.PLACES_OF_PARTS),
        (["piece"], site_names.PLACES_OF_PIECES),
    ],
)
def test_every_place_beside_those_of_content_is_kept_from_it(
    pages: list[str], kept: frozenset[str]
) -> None:
    folder = templates_folder()
    paths = [folder / "pages" / f"{name}.html.j2" for name in ("_frame", *pages)]
    only_parts = {"know_first.html.j2", "practice_list.html.j2"}  # on no other page
    paths += [
        path
        for path in (folder / "components").glob("*.j2")
        if path.name not in only_parts or "part" in pages
    ]
    paths += (folder / "theme").glob("*.html")
    places = {
        found
        for path in paths
        for found in re.findall(r'\sid="([a-z0-9-]+)"', path.read_text("utf-8"))
    }
    assert "main" in places
    assert places <= kept


@pytest.mark.parametrize(
    ("term", "anchor"),
    [
        ("Più mosso", "più-mosso"),
        ("\u266d", "266d"),
        ("p <f>", "p-f"),
        ("main", "word-main"),
        ("letter 3", "word-letter-3"),
        ("!?", "21-3f"),
    ],
)
def test_the_anchor_of_a_term_is_never_empty_or_the_pages_own(term: str, anchor: str) -> None:
    assert anchor_of(term) == anchor
