"""Laws that gave way are told in sentences with names, numbers and days, each once.

The words are the program's own; the laws are put together by hand, so that every sentence
can be read beside what it tells of.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from handbook.domain.season import Law
from handbook.domain.values.measures import MeasureSpan
from handbook.plan.model import EnsemblePlan, LawRow
from handbook.plan.season_words import gave_way, unplayed
from tests.plan.planning import lantern, planned


@pytest.fixture
def band(tmp_path: Path) -> EnsemblePlan:
    return lantern(planned(tmp_path))


def law(band: EnsemblePlan, which: Law, first: int, last: int, lack: int = 1) -> LawRow:
    piece = band.pieces[0].item
    return LawRow(which, lack, first, last, piece=piece, passage=piece.passages[0])


def told(band: EnsemblePlan, *rows: LawRow) -> list[str]:
    assert band.season is not None
    return [
        one.sentence for one in gave_way(replace(band, season=replace(band.season, unmet=rows)))
    ]


def at_goal_from(band: EnsemblePlan, first: int) -> EnsemblePlan:
    """Give the band with its first passage at the goal in the visits from one place on alone."""
    piece = band.pieces[0]
    passage = piece.passages[0]
    goal = passage.visits[-1].rung
    slow = replace(goal, tempo=passage.item.goal.at(goal.tempo.bpm / 2))
    visits = tuple(
        replace(visit, rung=goal if visit.place >= first else slow) for visit in passage.visits
    )
    pieces = (replace(piece, passages=(replace(passage, visits=visits), *piece.passages[1:])),)
    return replace(band, pieces=(*pieces, *band.pieces[1:]))


def test_a_season_that_keeps_all_says_nothing(band: EnsemblePlan) -> None:
    assert told(band) == []
    assert not [one for piece in band.pieces for one in piece.passages if len(one.at_goal) < 2]
    assert gave_way(replace(band, season=None)) == ()


def test_measures_that_a_stage_leaves_out(band: EnsemblePlan) -> None:
    piece = band.pieces[0].item
    gap = LawRow(Law.COVERAGE, 1, 0, 3, piece=piece, measures=MeasureSpan(9, 16))
    assert told(band, gap, law(band, Law.COVERAGE, 0, 3)) == [
        "mm. 9-16 of `button-comets`: no rehearsal of the stage `build` plays them",
        "`opening`, mm. 1-8 of `button-comets`: no rehearsal of the stage `build` plays them",
    ]
    assert band.season is not None
    short = replace(band, season=replace(band.season, unmet=(gap,)))
    assert [(one.stage.item.id, str(one.measures)) for one in unplayed(short)] == [
        ("build", str(MeasureSpan(9, 16)))
    ]


def test_windows_that_overlap_are_one_absence(band: EnsemblePlan) -> None:
    assert band.season is not None
    rows = [law(band, Law.RETURN, first, first + 3) for first in (1, 2, 3)]
    apart = law(band, Law.RETURN, 9, 12)
    # Mondays and Wednesdays from October 19: the places 1, 6, 9 and 12 are these days.
    longer = f"longer than the {band.season.window} rehearsals in which each passage comes back"
    name = "`opening` of `button-comets` stays away from"
    assert told(band, *rows, apart) == [
        f"{name} Wed Oct 21 to Mon Nov 9, {longer}",
        f"{name} Wed Nov 18 to Mon Dec 7, {longer}",
    ]


def test_a_goal_out_of_reach_is_told_once_with_what_is_lacking(band: EnsemblePlan) -> None:
    slow = at_goal_from(band, 99)
    rows = (law(slow, Law.GOAL, 0, 14, 3), law(slow, Law.SETTLED, 0, 11, 2))
    assert told(slow, *rows) == [
        "`opening` of `button-comets` climbs to 48, where 2 at 96 are wanted: it lacks 3 rehearsals"
    ]
    late = [one for piece in slow.pieces for one in piece.passages if len(one.at_goal) < 2]
    assert [passage.item.id for passage in late] == ["opening"]


def test_a_goal_that_comes_late_names_both_days(band: EnsemblePlan) -> None:
    last = band.pieces[0].passages[0].visits[-1].place
    late = at_goal_from(band, last)
    day = band.rehearsals[last].rehearsal.day
    (sentence,) = told(late, law(late, Law.SETTLED, 0, 9, 1))
    assert sentence == (
        f"`opening` of `button-comets` comes to its goal on {day:%a %b} {day.day}, and not by "
        "Wed Nov 18: it lacks 1 rehearsal until then"
    )


def test_the_weightiest_law_comes_first(band: EnsemblePlan) -> None:
    assert band.season is not None
    rows = (law(band, Law.RETURN, 1, 4), law(band, Law.COVERAGE, 0, 3))
    short = replace(band, season=replace(band.season, unmet=rows))
    assert [one.law for one in gave_way(short)] == [Law.COVERAGE, Law.RETURN]
