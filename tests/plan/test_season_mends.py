"""Mends written into the content files: with each of them the laws it names are kept."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from handbook.domain.season import Law, Mix, Unmet
from handbook.domain.season_mends import Change, Mend, MendKind
from handbook.plan.model import EnsemblePlan, MendRow
from handbook.plan.season_mends import SeasonContent, _Changes
from tests.content_folders import base_files, changed
from tests.plan.planning import CYCLE, MUSIC, ensemble, lantern, planned, winter

END = "      - Play each piece to its end\n"
CHASE = (
    "      - id: chase\n        name: The chase\n        measures: 17-24\n"
    "        goal: dotted quarter = 80\n"
)
# What lacks, and the ensemble that lacks it.
SEASONS = {
    "small steps": ({"leap: 6"}, "lantern"),
    "small steps of one passage": ({"leap: 6"}, "harbor"),
    "small steps, early goals": ({"leap: 8", "at_goal: 6"}, "harbor"),
    "an early lock": ({"lock"}, "lantern"),
}


def files_of(season: str) -> dict[str, str]:
    wishes, _ = SEASONS[season]
    files = base_files()
    for wish in sorted(wishes):
        if wish == "lock":
            files = changed(files, MUSIC, CHASE, f"{CHASE}        lock_by: Wed 2026-11-04\n")
        else:
            files = {**files, CYCLE: f"{files[CYCLE]}{wish}\n"}
    return files


def plan_of(folder: Path, files: dict[str, str], season: str) -> EnsemblePlan:
    return ensemble(winter(planned(folder, files)), SEASONS[season][1])


def laws(plan: EnsemblePlan) -> set[Law]:
    assert plan.season
    return {row.law for row in plan.season.unmet}


def mended(files: dict[str, str], mend: MendRow) -> dict[str, str]:
    """Write a mend into the files, by the fields that its sentence names."""
    if mend.kind is MendKind.GOALS:
        for passage in mend.passages:
            old = files[MUSIC].split(f"- id: {passage.id}\n")[1].split("        goal: ")[1]
            goal = old.split("\n")[0]
            files = changed(
                files,
                MUSIC,
                f"{_head(files, passage.id)}        goal: {goal}\n",
                f"{_head(files, passage.id)}        goal: {passage.goal}\n"
                f"        start: {passage.start}\n",
            )
        return files
    assert mend.kind is MendKind.LEAVE_OUT
    for passage in mend.passages:
        start = files[MUSIC].index(f"      - id: {passage.id}\n")
        end = files[MUSIC].index("  - id: tweed-kites")
        text = files[MUSIC][start:end]
        files = changed(files, MUSIC, text, "")
    return files


def _head(files: dict[str, str], passage: str) -> str:
    start = files[MUSIC].index(f"      - id: {passage}\n")
    return files[MUSIC][start : files[MUSIC].index("        goal: ", start)]


@pytest.mark.parametrize("season", SEASONS)
def test_what_a_mend_promises_holds_in_the_files(season: str, tmp_path: Path) -> None:
    files = files_of(season)
    before = plan_of(tmp_path / "before", files, season)
    assert laws(before)
    assert before.season
    assert before.season.mends
    for turn, mend in enumerate(before.season.mends):
        if mend.kind in {MendKind.GOALS, MendKind.LEAVE_OUT}:
            after = mended(files, mend)
            left = laws(plan_of(tmp_path / str(turn), after, season))
            assert not left & mend.keeps, mend.kind


def test_a_lower_goal_keeps_the_first_tempo_in_class(tmp_path: Path) -> None:
    season = "small steps of one passage"
    plan = plan_of(tmp_path, files_of(season), season)
    assert plan.season
    assert plan.season.mends
    [row] = [mend for mend in plan.season.mends if mend.kind is MendKind.GOALS]
    [passage] = row.passages
    # Worked out by hand: half of 108 is 54, and 84 is a mark below 108 of the 39-mark scale.
    assert (passage.id, str(passage.goal), str(passage.start)) == (
        "round",
        "quarter = 84",
        "quarter = 54",
    )


def test_a_season_that_keeps_its_laws_has_no_mends(tmp_path: Path) -> None:
    plan = lantern(planned(tmp_path))
    assert plan.season
    assert plan.season.unmet == ()
    assert plan.season.mends == ()


def test_a_lock_never_puts_a_goal_off(tmp_path: Path) -> None:
    files = base_files()
    usual = lantern(planned(tmp_path / "usual", files))
    late = changed(files, MUSIC, CHASE, f"{CHASE}        lock_by: polish\n")
    locked = lantern(planned(tmp_path / "late", late))
    assert [p.visits for piece in usual.pieces for p in piece.passages] == [
        p.visits for piece in locked.pieces for p in piece.passages
    ]


def test_once_a_rehearsal_has_been_more_of_them_lengthen_their_stage_alone(tmp_path: Path) -> None:
    """The stages after it begin later by as many, and those before it stay as they were."""
    spans = lantern(planned(tmp_path)).stages
    content: Any = SimpleNamespace(spans=spans, held=3)
    nothing_lacks: Any = SimpleNamespace(season=SimpleNamespace(unmet=()))
    changes = _Changes(content, nothing_lacks)
    for stage in range(len(spans)):
        grown = changes._spans_with(stage, 2, [])
        assert grown is not None
        assert [(span.first, span.last) for span in grown] == [
            (span.first + 2 * (span.index > stage), span.last + 2 * (span.index >= stage))
            for span in spans
        ]


@pytest.mark.parametrize(
    ("shares", "size", "fewer"),
    [
        ("passages: 6, joins: 2, runs: 2", 1, Mix(80, 10, 10)),
        ("passages: 50, joins: 30, runs: 20", 1, Mix(75, 15, 10)),
        ("passages: 2, joins: 1, runs: 0", 1, Mix(84, 16, 0)),  # a sixth, in whole percent
        ("passages: 0, joins: 0, runs: 1", 1, Mix(50, 0, 50)),
        ("passages: 6, joins: 2, runs: 2", 2, Mix(100, 0, 0)),
    ],
)
def test_joins_and_runs_are_halved_then_left_out(
    shares: str, size: int, fewer: Mix, tmp_path: Path
) -> None:
    stated = changed(
        base_files(), CYCLE, "    tempo: 90-100\n", f"    tempo: 90-100\n    music: {{{shares}}}\n"
    )
    content: Any = SimpleNamespace(spans=lantern(planned(tmp_path, stated)).stages)
    nothing_lacks: Any = SimpleNamespace(season=SimpleNamespace(unmet=()))
    assert _Changes(content, nothing_lacks)._mixes(size)[-1] == fewer


def test_a_goal_is_lowered_by_the_least_and_the_most_that_lack() -> None:
    unmet = [
        Unmet(Law.SETTLED, 2, passage=0),
        Unmet(Law.GOAL, 5, passage=0),
        Unmet(Law.SETTLED, 1, passage=0),
        Unmet(Law.GOAL, 3, passage=1),
        Unmet(Law.RETURN, 9, passage=0),
        Unmet(Law.COVERAGE, 7),
    ]
    keys = [("comets", "opening"), ("comets", "chase")]
    plan: Any = SimpleNamespace(season=SimpleNamespace(unmet=unmet), passages=keys)
    content: Any = SimpleNamespace()
    assert _Changes(content, plan).lacking == {keys[0]: (1, 5), keys[1]: (3, 3)}


def test_a_mend_by_fewer_joins_and_runs_names_every_stage_with_its_new_shares(
    tmp_path: Path,
) -> None:
    spans = lantern(planned(tmp_path)).stages
    none: Any = ()
    content = SeasonContent(none, spans, none, none, none, none, none)
    nothing_lacks: Any = SimpleNamespace(season=SimpleNamespace(unmet=()))
    changes = _Changes(content, nothing_lacks)
    mend = Mend(Change(MendKind.MIX, 2), frozenset(Law))
    assert changes.row(mend).mixes == tuple((span.item, Mix(100, 0, 0)) for span in spans)
    halved = changes.row(replace(mend, change=Change(MendKind.MIX, 1))).mixes
    assert [stage for stage, _ in halved] == [span.item for span in spans]
    assert all(0 < mix.joins + mix.runs < 50 <= mix.passages for _, mix in halved)
    lowered = changes._changed(Change(MendKind.MIX, 2))
    assert lowered is not None
    shares = [span.item.music for span in lowered.spans]
    assert [one and (one.passages, one.joins, one.runs) for one in shares] == [(100, 0, 0)] * 2
