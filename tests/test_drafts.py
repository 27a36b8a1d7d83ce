"""A draft stops nothing and changes no byte of what is published, whatever is wrong with it."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path

import pytest

from handbook.cli import main
from handbook.cli.exit_codes import Exit
from handbook.domain.minutes import BlockKind
from handbook.engines.plain import PlainEngine
from handbook.making.kept_site import build
from handbook.making.model import FinishedSite
from handbook.outputs.model import Site
from handbook.pipeline import (
    Outcome,
    has_errors,
    load_plan,
    load_problems,
    render,
    with_drafts,
)
from handbook.plan.model import CyclePlan, RehearsalRow
from handbook.store import Store
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
    "no music yet": ({MUSIC: "pieces: []\n", CONCERT: re.sub(r"pieces: .*", "pieces: []", draft()[CONCERT])}, "empty-list"),
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


def test_a_plan_shows_a_sound_draft_beside_what_is_published(tmp_path: Path) -> None:
    found = outcome(tmp_path, {})
    assert found.plan is not None
    assert found.handbook is not None
    plan, left_out = with_drafts(found.plan, found.handbook, found.drafts)
    assert left_out == ()
    assert [(cycle.id, cycle.item.draft) for cycle in plan.cycles] == [
        ("spring", True),
        ("winter", False),
    ]
    # The cycle that is published is as it is without the draft, whose fundamentals come first.
    assert plan.cycles[1:] == found.plan.cycles


def told_by_plan(capfd: pytest.CaptureFixture[str], *arguments: str) -> tuple[str, str]:
    with pytest.raises(SystemExit) as ended:
        main(["plan", *arguments])
    assert ended.value.code == 0
    return capfd.readouterr()


def test_the_plan_command_says_what_is_a_draft(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    folder = str(write_folder(tmp_path, {**PUBLISHED, **draft()}))
    told, _ = told_by_plan(capfd, folder)
    assert "(spring, a draft, on no page yet)" in told
    assert "(winter)" in told
    cycles = json.loads(told_by_plan(capfd, folder, "--json")[0])["cycles"]
    assert [(one["id"], one["draft"]) for one in cycles] == [("spring", True), ("winter", False)]


def test_the_plan_command_leaves_out_a_draft_with_errors_and_says_so(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    music = draft()[MUSIC].replace("lantern", "lantorn")
    folder = str(write_folder(tmp_path, {**PUBLISHED, **draft(), MUSIC: music}))
    told, aside = told_by_plan(capfd, folder)
    assert f"The draft spring has errors ({MUSIC}:4) and is left out" in aside
    assert "(winter)" in told
    assert "(spring" not in told


def made(content: Path, store: Store, *, drafts: bool) -> dict[str, bytes]:
    site = build(content, store, PlainEngine, lambda finished: finished, drafts=drafts)
    assert isinstance(site, FinishedSite)
    return {file.path: file.read() for file in site.files}


def test_the_preview_shows_a_draft_and_what_is_published_after_it_has_no_trace(
    tmp_path: Path,
) -> None:
    """With one store, as `serve` and `build` share the user's."""
    store, content = Store(), write_folder(tmp_path / "both", {**PUBLISHED, **draft()})
    shown = made(content, store, drafts=True)
    note = b'<p class="draft-note">'
    noted = {path for path, page in shown.items() if note in page}
    pages = {path for path in shown if path.endswith(".html")}
    assert noted == {path for path in pages if path.startswith("spring/")}
    assert "spring/concert/index.html" in noted
    for path in ("index.html", "calendar/index.html", "past/index.html", "spring/index.html"):
        assert b"(draft)" in shown[path], path
    published = made(write_folder(tmp_path / "one", PUBLISHED), Store(), drafts=False)
    assert made(content, store, drafts=False) == published
    assert made(write_folder(tmp_path / "one", PUBLISHED), Store(), drafts=True) == published


@pytest.mark.parametrize("wrong", ["broken music", "reference", "year", "plan", "wrong ending"])
def test_the_preview_goes_on_without_a_draft_that_has_errors(wrong: str, tmp_path: Path) -> None:
    changes = {**PUBLISHED, **draft(), **WRONG[wrong][0]}
    files = {name: text for name, text in changes.items() if text is not None}
    shown = made(write_folder(tmp_path, files), Store(), drafts=True)
    assert "winter/index.html" in shown
    assert not any(path.startswith("spring/") for path in shown)
    assert not any(b"draft-note" in page for path, page in shown.items() if path.endswith(".html"))


def begun() -> dict[str, str]:
    """The same draft as `handbook next cycle` writes it: days are there, no music is chosen yet."""
    concert = re.sub(r"pieces: \[.*?\]", "pieces: []", draft()[CONCERT], flags=re.DOTALL)
    assert concert.count("pieces: []") > 1
    return {**draft(), CONCERT: concert, MUSIC: "pieces: []\n"}


@pytest.fixture(scope="module")
def whole_and_begun(tmp_path_factory: pytest.TempPathFactory) -> tuple[CyclePlan, CyclePlan]:
    """The draft planned with its music and before there is any."""
    return planned_draft(tmp_path_factory.mktemp("whole"), draft()), planned_draft(
        tmp_path_factory.mktemp("begun"), begun()
    )


def planned_draft(folder: Path, files: dict[str, str], **more: str) -> CyclePlan:
    found = load_plan(write_folder(folder, {**PUBLISHED, **files, **more}))
    assert found.plan is not None
    assert found.handbook is not None
    plan, left_out = with_drafts(found.plan, found.handbook, found.drafts)
    assert left_out == ()
    (cycle,) = (one for one in plan.cycles if one.item.draft)
    return cycle


def test_a_draft_without_music_has_its_days_stages_and_minutes(
    whole_and_begun: tuple[CyclePlan, CyclePlan],
) -> None:
    """All that its music does not change is as with it: held against the plan with the music."""
    whole, empty = whole_and_begun
    assert (empty.first, empty.last) == (whole.first, whole.last)
    assert [one.item.id for one in empty.ensembles] == [one.item.id for one in whole.ensembles]
    for before, after in zip(empty.ensembles, whole.ensembles, strict=True):
        # Of the evening itself only the concert knows whether a class is held beside it.
        days = [row.rehearsal.day for row in before.rehearsals]
        assert [row.rehearsal.day for row in after.rehearsals] == days
        assert len(days) > 1
        for mine, theirs in zip(before.rehearsals, after.rehearsals, strict=True):
            assert mine.stage.item.id == theirs.stage.item.id
            assert minutes_by_kind(mine) == minutes_by_kind(theirs)


def minutes_by_kind(row: RehearsalRow) -> dict[BlockKind, int]:
    counted = Counter[BlockKind]()
    for block in row.agenda.blocks:
        counted[block.kind] += block.minutes
    assert counted.total() == row.rehearsal.minutes
    return dict(counted)


def test_a_draft_without_music_or_fundamentals_has_its_days(tmp_path: Path) -> None:
    cycle = planned_draft(tmp_path, begun(), **{"fundamentals.yaml": "{}\n"})
    assert all(one.rehearsals for one in cycle.ensembles)


def test_the_preview_shows_a_draft_without_music(tmp_path: Path) -> None:
    shown = made(write_folder(tmp_path, {**PUBLISHED, **begun()}), Store(), drafts=True)
    assert b"draft-note" in shown["spring/index.html"]
    assert "spring/lantern/index.html" in shown


def test_whoever_asks_for_a_broken_draft_is_told_where_it_is_broken(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    folder = str(write_folder(tmp_path, {**PUBLISHED, **draft(), MUSIC: "pieces: [\n"}))
    with pytest.raises(SystemExit) as ended:
        main(["plan", folder, "--cycle", "spring"])
    assert ended.value.code == Exit.MISUSE
    told = capfd.readouterr().err
    assert f"the draft `spring` has errors ({MUSIC}:1): see " in told
    _, aside = told_by_plan(capfd, folder)
    assert f"The draft spring has errors ({MUSIC}:1) and is left out" in aside
