"""Whom each rehearsal's opening thanks go to, from the content; expected as one reads it there."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.pipeline import load_plan
from handbook.plan.opening_thanks import ThanksPlan, opening_thanks
from tests.content_folders import base_files, changed, write_folder
from tests.fuzz.seeds import read_folder

CYCLE, PROGRAM = "cycles/winter/cycle.yaml", "program.yaml"
TWO_BANDS = Path(__file__).parents[1] / "sites" / "two-bands" / "content"
LOG = "cycles/winter/log/2026-10-19-lantern.yaml"


def turns(tmp_path: Path, *edits: tuple[str, str, str], log: str = "") -> ThanksPlan:
    """Give the turns of Lantern Band, which has flutes, clarinets and trumpets."""
    files = base_files()
    for file, old, new in edits:
        files = changed(files, file, old, new)
    if log:
        files[LOG] = log
    outcome = load_plan(write_folder(tmp_path / "content", files))
    assert outcome.plan is not None, outcome.problems
    return opening_thanks(outcome.plan)["winter", "lantern"]


def days(lines: str) -> tuple[str, str, str]:
    return CYCLE, "stages:", f"days:\n{lines}\nstages:"


def first(plan: ThanksPlan, number: int) -> list[tuple[list[str], bool]]:
    return [([one.id for one in row.whom], row.stated) for row in plan.rows[:number]]


def test_without_a_word_the_sections_take_turns(tmp_path: Path) -> None:
    plan = turns(tmp_path)
    names = ["flutes", "clarinets", "trumpets"]
    assert first(plan, 4) == [([names[n % 3]], False) for n in range(4)]
    assert max(plan.counts.values()) - min(plan.counts.values()) <= 1


def test_a_sentence_counts_for_those_it_names_before_for(tmp_path: Path) -> None:
    sentence = "Thank you, trumpets, for playing so softly that we heard the flutes."
    plan = turns(tmp_path, days(f"  - {{date: 2026-10-19, thanks: '{sentence}'}}"))
    assert first(plan, 3) == [(["trumpets"], True), (["flutes"], False), (["clarinets"], False)]


@pytest.mark.parametrize("said", ["'Gracias, trompetas.'", "{es: 'Thank you, trumpets.'}"])
def test_only_english_sentences_are_understood(tmp_path: Path, said: str) -> None:
    plan = turns(tmp_path, days(f"  - {{date: 2026-10-19, thanks: {said}}}"))
    assert first(plan, 1) == [([], True)]


def test_what_is_said_of_whom_goes_before_the_sentence(tmp_path: Path) -> None:
    day = "date: 2026-10-19, thanks: 'Thank you, trumpets, for the quiet start.'"
    plan = turns(tmp_path, days(f"  - {{{day}, thanks_to: woodwinds}}"))
    assert first(plan, 2) == [(["flutes", "clarinets"], True), (["trumpets"], False)]


def test_everyone_uses_up_nobodys_turn(tmp_path: Path) -> None:
    day = "date: 2026-10-19, thanks: 'Thank you, trumpets, and all who clapped.'"
    plan = turns(tmp_path, days(f"  - {{{day}, thanks_to: everyone}}"))
    assert first(plan, 2) == [([], True), (["flutes"], False)]


def test_everyone_may_be_said_without_a_sentence(tmp_path: Path) -> None:
    plan = turns(tmp_path, days("  - {date: 2026-10-19, thanks_to: everyone}"))
    assert first(plan, 2) == [([], True), (["flutes"], False)]


def test_an_instrument_may_go_by_any_of_its_names(tmp_path: Path) -> None:
    plan = turns(tmp_path, days("  - {date: 2026-10-19, thanks_to: [b-flat-trumpet]}"))
    assert first(plan, 1) == [(["trumpets"], True)]


def test_what_is_said_of_whom_holds_for_a_band_without_them_too(tmp_path: Path) -> None:
    """Harbor Band has no clarinets, and its trumpets are not those whom this sentence is for."""
    day = "date: 2026-10-20, thanks: 'Thank you, trumpets.', thanks_to: [clarinets]"
    files = changed(base_files(), *days(f"  - {{{day}}}"))
    plan = load_plan(write_folder(tmp_path / "content", files)).plan
    assert plan is not None
    assert first(opening_thanks(plan)["winter", "harbor"], 2) == [([], True), (["flutes"], False)]


def test_who_had_fewer_in_the_cycle_before_comes_first(tmp_path: Path) -> None:
    """Two of four sections share a day, so that the fall's eight rehearsals have nine thanks: one section has three."""
    files = read_folder(TWO_BANDS)
    fall = files["cycles/fall/cycle.yaml"].decode()
    day = "days:\n  - {date: 2026-09-14, thanks_to: [percussion, horn]}\n"
    files["cycles/fall/cycle.yaml"] = (fall + day).encode()
    winter = files["cycles/winter/cycle.yaml"].decode()
    files["cycles/winter/cycle.yaml"] = winter.replace(
        "thanks: Thank you for the quiet start., ", ""
    ).encode()
    plan = load_plan(write_folder(tmp_path / "content", files)).plan
    assert plan is not None
    found = opening_thanks(plan)
    before = found["fall", "ferry"].counts
    assert sum(before.values()) == 9
    (most,) = [one for one, count in before.items() if count == 3]
    four = [ids[0] for ids, _ in first(found["winter", "ferry"], 4)]
    assert four[-1] == most
    assert set(four) == before.keys()


def test_thanks_to_players_of_another_band_leave_the_day_free(tmp_path: Path) -> None:
    """An entry for all bands names the clarinets, which the other band does not have."""
    edit = days("  - {date: 2026-10-20, thanks_to: [clarinets]}")
    files = changed(base_files(), *edit)
    plan = load_plan(write_folder(tmp_path / "content", files)).plan
    assert plan is not None
    row = opening_thanks(plan)["winter", "harbor"].rows[0]
    assert ([one.id for one in row.whom], row.stated) == (["flutes"], False)


def test_roles_have_their_turns_and_may_be_of_one_band(tmp_path: Path) -> None:
    thank = (
        "thank:\n"
        "  - {id: librarians, name: the librarians}\n"
        "  - {id: crew, name: the stage crew, ensembles: [harbor]}\n"
        "ensembles:\n"
    )
    plan = turns(
        tmp_path,
        (PROGRAM, "ensembles:\n", thank),
        days("  - {date: 2026-10-19, thanks: 'Thank you, Librarians, for the folders.'}"),
    )
    assert [one.id for one in plan.whom] == ["flutes", "clarinets", "trumpets", "librarians"]
    assert first(plan, 2) == [(["librarians"], True), (["flutes"], False)]


def test_a_log_says_who_was_really_thanked(tmp_path: Path) -> None:
    plan = turns(
        tmp_path,
        days("  - {date: 2026-10-19, thanks: 'Thank you, flutes.'}"),
        log="date: 2026-10-19\nensemble: lantern\nthanked: trumpet\n",
    )
    assert first(plan, 2) == [(["trumpets"], True), (["flutes"], False)]
    assert plan.rows[0].held


def test_no_notices_no_thanks(tmp_path: Path) -> None:
    plan = turns(tmp_path, days("  - {date: 2026-10-19, slots: {notices: 0}}"))
    assert first(plan, 2) == [([], False), (["flutes"], False)]
