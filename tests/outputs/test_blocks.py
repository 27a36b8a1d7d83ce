"""What pages say of a rehearsal's blocks, and by which anchor each rehearsal is found.

The words are the program's own; the days are those of the shared folder (Mondays and
Wednesdays at 10:05), with the director's wishes written beside each test.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.domain.season import MusicKind
from handbook.outputs.components.blocks import BlockView, block_views
from handbook.outputs.components.rehearsal_names import anchors, what_it_is, why_lost
from handbook.outputs.components.weeks import day_views
from handbook.outputs.model import RenderedPage
from handbook.outputs.page import Context
from handbook.plan.build import PlanResult
from handbook.plan.model import RehearsalRow
from tests.content_folders import base_files
from tests.outputs.rendering import site_of
from tests.plan.planning import CYCLE, lantern, planned, winter

RUN = "days: [{date: Mon 2026-10-26, ensemble: lantern, run: [button-comets]}]\n"


def steered(folder: Path, wishes: str) -> PlanResult:
    return planned(folder, {CYCLE: base_files()[CYCLE] + wishes})


def day(result: PlanResult, date: str) -> RehearsalRow:
    return next(row for row in lantern(result).rehearsals if row.rehearsal.day.isoformat() == date)


def called(result: PlanResult, date: str, language: str = "en") -> str:
    """Give what a rehearsal is beside a rehearsal."""
    return what_it_is(Context(result.plan, language), day(result, date))


def shown(result: PlanResult, date: str) -> tuple[BlockView, ...]:
    context = Context(result.plan, "en")
    return block_views(context, lantern(result), day(result, date))


def page(result: PlanResult) -> RenderedPage:
    return next(one for one in site_of(result.plan).pages if one.path == "winter/lantern/")


def test_a_run_is_the_whole_piece_with_each_passage_at_its_own_tempo(tmp_path: Path) -> None:
    result = steered(tmp_path, RUN)
    (run,) = [one for one in shown(result, "2026-10-26") if one.how == MusicKind.RUN]
    assert (run.title, run.detail) == ("Button Comets", "Whole piece, start to end, mm. 1–40")
    assert run.tempo is None
    place = day(result, "2026-10-26").place
    tempos = {
        passage.item.name.read("en"): visit.rung.tempo
        for passage in lantern(result).pieces[0].passages
        for visit in passage.visits
        if visit.place == place
    }
    assert dict(run.tempos) == tempos
    assert list(tempos) == ["Opening", "The chase"]
    assert "Each passage at its tempo for the day: Opening" in page(result).body


def test_a_run_at_the_goal_says_so_in_one_line(tmp_path: Path) -> None:
    result = steered(tmp_path, RUN.replace("2026-10-26", "2026-12-09").replace("Mon", "Wed"))
    (run,) = [one for one in shown(result, "2026-12-09") if one.how == MusicKind.RUN]
    assert run.at_goal
    assert {str(tempo) for _, tempo in run.tempos} == {"quarter = 96", "dotted quarter = 80"}
    assert "Each passage at its goal tempo." in page(result).body


def test_a_join_names_its_two_ends_and_the_measures_between(tmp_path: Path) -> None:
    result = steered(tmp_path, "return_within: 2\n")
    joins = [
        block
        for row in lantern(result).rehearsals
        for block in block_views(Context(result.plan, "en"), lantern(result), row)
        if block.how == MusicKind.JOIN
    ]
    assert joins
    # The only join of two passages holds what lies before, between and after them.
    assert {(one.title, one.detail) for one in joins} == {
        ("Button Comets", "Join: Opening to The chase, mm. 1–40")
    }


@pytest.mark.parametrize(
    ("kind", "block", "title", "name"),
    [
        ("sectional", "sectional", "Sectionals", "Sectionals"),
        ("sight-reading", "sight_reading", "Sight-reading", "Sight-reading"),
        ("assembly", "assembly", "Assembly", "Assembly"),
        ("event", "event", "Event", "Event"),
        ("dress", "music", "Button Comets", "Dress rehearsal"),
    ],
)
def test_each_kind_of_day_has_its_block_and_its_name(
    tmp_path: Path, kind: str, block: str, title: str, name: str
) -> None:
    wish = f"days: [{{date: Mon 2026-10-26, ensemble: lantern, kind: {kind}}}]\n"
    result = steered(tmp_path, wish)
    assert (block, title) in {(one.kind, one.title) for one in shown(result, "2026-10-26")}
    assert called(result, "2026-10-26") == name
    assert f"<b>{name}.</b>" in page(result).body


def test_a_name_that_says_the_kind_is_not_told_twice(tmp_path: Path) -> None:
    extra = """extra:
  - {ensemble: lantern, date: Tue 2026-10-27, start: 6:00 pm, end: 7:00 pm, name: Evening sectional, kind: sectional, sections: {all: {who: [flute]}}}
  - {ensemble: lantern, date: Tue 2026-11-03, start: 6:00 pm, end: 7:00 pm, name: Under the lights, kind: dress}
"""
    result = steered(tmp_path, extra)
    assert called(result, "2026-10-27") == "Evening sectional"
    assert called(result, "2026-11-03") == "Under the lights: dress rehearsal"
    assert called(result, "2026-10-26") == ""


def test_names_and_reasons_are_told_in_the_language_of_the_page(tmp_path: Path) -> None:
    """A rehearsal's own name, and why one of two on a day is not held."""
    extra = """extra:
  - {ensemble: lantern, date: Tue 2026-10-27, start: 6:00 pm, end: 7:00 pm, name: {en: Under the lights, es: Con luces}, kind: dress}
  - {ensemble: lantern, date: Wed 2026-10-28, start: 6:00 pm, end: 7:00 pm, name: {en: Long evening, es: Tarde larga}}
cancelled:
  - {ensemble: lantern, date: Wed 2026-10-28, start: 6:00 pm, why: {en: Ice, es: Hielo}}
"""
    result = steered(tmp_path, extra)
    assert called(result, "2026-10-27", "es") == "Con luces: dress rehearsal"
    (lost,) = [one for one in lantern(result).missed if one.cause == "cancelled"]
    told = {code: why_lost(Context(result.plan, code), lost) for code in ("en", "es")}
    assert told == {"en": "Long evening: Ice", "es": "Tarde larga: Hielo"}


def test_anchors_are_dates_and_an_extra_rehearsal_keeps_its_own(tmp_path: Path) -> None:
    extra = "extra: [{ensemble: lantern, date: Mon 2026-10-26, start: 6:00 pm, end: 7:00 pm}]\n"
    result = steered(tmp_path, extra)
    found = anchors(lantern(result))
    assert found[:4] == ("2026-10-19", "2026-10-21", "2026-10-26", "2026-10-26-extra")
    assert len(set(found)) == len(found) == len(lantern(result).rehearsals)
    lines = day_views(Context(result.plan, "en"), winter(result), lantern(result))
    assert lines[3].path == "winter/lantern/#2026-10-26-extra"
    rendered = page(result)
    ids = {entry.anchor for entry in rendered.search if entry.anchor}
    assert set(found) < ids
    assert all(f'id="{anchor}"' in rendered.body for anchor in ids)
    assert 'id="2026-10-26-2"' in rendered.body, "where links once led"
    extra += "cancelled: [{ensemble: lantern, date: Mon 2026-10-26, why: A storm}]\n"
    lost = steered(
        tmp_path / "lost", extra.replace("date: Mon 2026-10-26, why", "date: 2026-10-26, why")
    )
    assert set(found) - set(anchors(lantern(lost))) == {"2026-10-26"}


def test_a_lost_day_moves_no_other_anchor_and_old_ones_still_lead_somewhere(
    tmp_path: Path,
) -> None:
    whole = lantern(planned(tmp_path / "whole"))
    lost = "cancelled: [{ensemble: lantern, date: Mon 2026-10-26, why: A storm}]\n"
    result = steered(tmp_path / "lost", lost)
    assert set(anchors(whole)) - set(anchors(lantern(result))) == {"2026-10-26"}
    assert 'id="r1"' in page(result).body
