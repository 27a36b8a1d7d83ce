"""A draft stops nothing and changes no byte of what is published, whatever is wrong with it."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.outputs.model import Site
from handbook.pipeline import Outcome, has_errors, load_plan, load_problems, render
from tests.content_folders import base_files, write_folder

CYCLE, MUSIC, CONCERT = (
    f"cycles/spring/{name}.yaml" for name in ("cycle", "music", "concert")
)  # fmt: skip
YEAR = "years/2026-27.yaml"


def draft() -> dict[str, str]:
    """A whole cycle before the published one, of which fundamentals would go on."""
    files = {
        name.replace("winter", "spring"): text
        for name, text in base_files().items()
        if name.startswith("cycles/winter/")
    }
    files[CYCLE] = files[CYCLE].replace("starts: Mon 2026-10-19", "draft: yes\nstarts: 2026-08-24")
    files[CONCERT] = files[CONCERT].replace("Thu 2026-12-10", "2026-10-15")
    files[MUSIC] += "words: {calando: softer and slower}\n"
    return files


FUNDAMENTALS = """strands:
  - id: breath
    name: Breathing
    why: All sound begins there
    exercises:
      - {id: one, name: Long breaths, level: 1, rehearsals: 2}
      - {id: two, name: Longer breaths, level: 2}
"""
PUBLISHED = {**base_files(), "fundamentals.yaml": FUNDAMENTALS}


def outcome(folder: Path, changes: dict[str, str | None]) -> Outcome:
    files = {**PUBLISHED, **draft(), **changes}
    whole = {name: text for name, text in files.items() if text is not None}
    return load_plan(write_folder(folder, whole))


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Site:
    plan = load_plan(write_folder(tmp_path_factory.mktemp("content"), PUBLISHED)).plan
    assert plan is not None
    return render(plan)


WRONG: dict[str, tuple[dict[str, str | None], str]] = {
    "nothing": ({}, ""),
    "broken music": ({MUSIC: "pieces: [\n"}, "unclosed-bracket"),
    "broken cycle": ({CYCLE: "draft: yes\nname: [\n"}, "unclosed-bracket"),
    "draft in quotes": ({CYCLE: "draft: 'yes' # not yet\nname: [\n"}, "unclosed-bracket"),
    "shape": ({CONCERT: "nam: Spring\n"}, "unknown-field"),
    "wrong ending": ({CONCERT: None, "cycles/spring/concert.yml": "x"}, "wrong-ending"),
    "reference": ({MUSIC: draft()[MUSIC].replace("lantern", "lantorn")}, "unknown-ensemble"),
    "year": ({CYCLE: draft()[CYCLE].replace("2026-27", "2030-31")}, "unknown-year"),
    "overlap": ({CONCERT: draft()[CONCERT].replace("2026-10-15", "2026-11-12")}, "cycles-overlap"),
    "plan": (
        {CYCLE: draft()[CYCLE] + "slots: {set_up: 30, close: 30}\n"},
        "rehearsal-too-short",
    ),
    "no cycle.yaml of a draft beside": ({"cycles/spring/music/more.yaml": "piece: 1\n"}, "unknown-field"),
}  # fmt: skip


@pytest.mark.parametrize(("changes", "code"), WRONG.values(), ids=WRONG)
def test_a_draft_stops_nothing_and_changes_nothing(
    changes: dict[str, str | None], code: str, published: Site, tmp_path: Path
) -> None:
    found = outcome(tmp_path, changes)
    assert found.plan is not None
    assert render(found.plan) == published
    problems = load_problems(tmp_path).problems
    told = {problem.code: problem for problem in problems}
    assert not has_errors(problems)
    assert code in told or not code
    assert not code or told[code].message.endswith("(in a draft, so nothing stops)")


def test_what_only_a_draft_explains_is_missing_from_what_is_published(tmp_path: Path) -> None:
    music = PUBLISHED["cycles/winter/music.yaml"] + "    terms: [calando]\n"
    found = outcome(tmp_path, {"cycles/winter/music.yaml": music})
    assert "unknown-term" in {problem.code for problem in found.problems}


def test_an_error_beside_a_draft_stops_as_ever(tmp_path: Path) -> None:
    found = outcome(tmp_path, {"cycles/winter/concert.yaml": "nam: Winter\n"})
    assert found.plan is None
    assert has_errors(found.problems)
    assert not any("draft" in problem.message for problem in found.problems)


def test_a_cycle_that_is_no_draft_is_not_taken_for_one(tmp_path: Path) -> None:
    words = "name: |\n  draft: yes\nprivate:\n  draft: yes\nstages: [\n"
    assert outcome(tmp_path, {CYCLE: words}).plan is None
