"""The page of the opening thanks, and what the stand view is told; turns are tested in tests/plan."""

from __future__ import annotations

from pathlib import Path

import pytest

from handbook.binder.assemble import binder_files
from handbook.binder.model import Binder
from handbook.binder.thanks import LookAt, ThanksView, thanks_by_ensemble
from tests.binder.conftest import binder_of
from tests.content_folders import base_files, changed, write_folder
from tests.outputs.rendering import site_of

CYCLE, MUSIC, PROGRAM = "cycles/winter/cycle.yaml", "cycles/winter/music.yaml", "program.yaml"
SENTENCE = "Thank you, trumpets, for the quiet start."
WATCH = (
    "        watch: [{text: Breathe in four., who: []}, {text: Low and warm., who: [clarinet]}]\n"
)
HABITS = """
habits:
  - {id: posture, name: Posture, text: Sit tall.}
  - {id: pencil, name: Pencil, text: A pencil on every stand.}
"""
PAGE = "winter/thanks.html"


@pytest.fixture(scope="module")
def binder(tmp_path_factory: pytest.TempPathFactory) -> Binder:
    """Lantern has flutes, clarinets and trumpets, rehearses on Mondays and Wednesdays, and thanks drivers too."""
    files = changed(
        base_files(),
        PROGRAM,
        "ensembles:\n",
        "thank:\n  - {id: drivers, name: the bus drivers, does: They wait for the last case.}\nensembles:\n",
    )
    files = changed(
        files, CYCLE, "stages:", f"days:\n  - {{date: 2026-10-19, thanks: '{SENTENCE}'}}\nstages:"
    )
    opening = "        goal: quarter = 96\n"
    files = changed(files, MUSIC, opening, f"{opening}{WATCH}".replace(", who: []", ""))
    files = changed(
        files,
        MUSIC,
        "        name: The chase\n",
        "        name: The chase\n        who: [clarinet, trumpet]\n",
    )
    files["fundamentals.yaml"] = HABITS
    return binder_of(write_folder(tmp_path_factory.mktemp("thanks") / "content", files))


@pytest.fixture(scope="module")
def days(binder: Binder) -> tuple[ThanksView, ...]:
    with binder.context.speaking():
        return thanks_by_ensemble(binder.context)["winter", "lantern"]


def test_what_is_stated_and_whose_turn_it_is(days: tuple[ThanksView, ...]) -> None:
    told = [(day.date, day.whom, day.stated, day.sentence) for day in days[:4]]
    assert told == [
        ("Mon, Oct 19", "Trumpets", True, SENTENCE),
        ("Wed, Oct 21", "Flutes", False, ""),
        ("Mon, Oct 26", "Clarinets", False, ""),
        ("Wed, Oct 28", "The bus drivers", False, ""),
    ]


def test_where_to_look_is_what_they_had_the_last_time(
    binder: Binder, days: tuple[ThanksView, ...]
) -> None:
    """The point for the clarinets alone goes before that for all; a role has what it does."""
    opening = "Opening, Button Comets"
    (lantern,) = (one for one in binder.plan.cycles[0].ensembles if one.item.id == "lantern")
    before = {one.id for block in lantern.rehearsals[1].blocks if (one := block.passage)}
    assert "opening" in before
    assert LookAt(opening, "Low and warm.") in days[2].look
    flutes = {look.words for day in days if day.ids == ("flutes",) for look in day.look}
    assert flutes == {"Breathe in four.", ""}
    assert not any(
        "chase" in look.what for day in days if day.ids == ("flutes",) for look in day.look
    )
    assert any(
        "chase" in look.what for day in days if day.ids == ("clarinets",) for look in day.look
    )
    # Habits take turns: what is to be looked at is the one before that of the day itself.
    assert [row.habit and row.habit.id for row in lantern.rehearsals[:3]] == [
        "posture",
        "pencil",
        "posture",
    ]
    assert days[1].look[-1] == LookAt("Look during: Posture")
    assert days[2].look[-1] == LookAt("Look during: Pencil")
    assert days[3].look == (LookAt("", "They wait for the last case."),)


def test_after_a_day_without_rehearsal_it_is_the_one_before_that_counts(tmp_path: Path) -> None:
    """An assembly in place of the second rehearsal: there was nothing to thank for."""
    days = "days:\n  - {date: 2026-10-21, kind: assembly}\nstages:"
    files = changed(base_files(), CYCLE, "stages:", days)
    files["fundamentals.yaml"] = HABITS
    found = binder_of(write_folder(tmp_path / "content", files))
    (lantern,) = (one for one in found.plan.cycles[0].ensembles if one.item.id == "lantern")
    rehearses = [row.day_plan.kind.rehearses for row in lantern.rehearsals[:3]]
    assert rehearses == [True, False, True]
    with found.context.speaking():
        told = thanks_by_ensemble(found.context)["winter", "lantern"]
    habit = lantern.rehearsals[0].habit
    assert habit is not None
    assert told[2].look[-1] == LookAt(f"Look during: {habit.name}")


def test_the_page_has_it_all_and_the_site_nothing_of_it(
    binder: Binder, days: tuple[ThanksView, ...]
) -> None:
    page = next(one for one in binder_files(binder) if one.path == PAGE)
    text = page.content.decode()
    for said in (SENTENCE, "The bus drivers", "They wait for the last case.", "Low and warm."):
        assert said in text, said
    assert text.count("<tr>") == 2 + sum(
        len(one.rehearsals) for one in binder.plan.cycles[0].ensembles
    )
    assert len(days) == len(binder.plan.cycles[0].ensembles[0].rehearsals)
    site = site_of(binder.plan)
    published = [page.body.encode() for page in site.pages]
    published += [file.content for file in site.files]
    assert any(SENTENCE.encode() in one for one in published)  # it is read aloud, and on the site
    for private in (b"bus drivers", b"They wait for the last case"):
        assert not any(private in one for one in published), private


def test_a_cycle_in_which_nobody_can_be_thanked_has_no_page(tmp_path: Path) -> None:
    files = base_files()
    for counts in ("{flute: 6, clarinet: 8, trumpet: 7}", "{flute: 4, trumpet: 5}"):
        files = changed(files, PROGRAM, f"    instruments: {counts}\n", "")
    made = binder_files(binder_of(write_folder(tmp_path / "content", files)))
    assert PAGE not in {one.path for one in made}
