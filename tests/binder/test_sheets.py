"""The director's sheets: the hour by the clock, the substitute's page, the poster. What they say is compared with the plan."""

from __future__ import annotations

import re
import shutil
from collections import defaultdict
from dataclasses import replace
from functools import cache
from html import unescape
from pathlib import Path

import pdfua
import pytest

from handbook.binder import poster, rehearsal_sheets, substitute_sheets, thanks
from handbook.binder.assemble import ROOMS
from handbook.binder.day_sheets import day_sheets
from handbook.binder.model import Binder
from handbook.binder.paper import sheet_file
from handbook.domain.values.paper import Paper
from handbook.outputs.html.formatting import clock, month_day, short_day
from handbook.outputs.page import Context, Page
from handbook.outputs.pages import cycle as cycle_page
from handbook.outputs.pages import ensemble as ensemble_page
from handbook.plan.model import CyclePlan, EnsemblePlan
from tests.binder.conftest import binder_of
from tests.binder.sheet_words import dense
from tests.demo import DEMO
from tests.outputs.sheets.reading import (
    fonts_embedded,
    metadata,
    page_texts,
    runs,
    structure,
    words_of,
)

TWO_BANDS = Path(__file__).parents[1] / "sites" / "two-bands" / "content"
NOTICE = "Private: for the director. Do not post or share."
OWN = "Private: for whoever leads this rehearsal. Do not post or share."
SUBSTITUTE = """substitute:
  before: [The roll is in the red folder.]
  never: [Leave the risers.]
  ask: [{role: the teacher next door, phone: 555-0123, about: music}]
"""


@pytest.fixture(scope="module")
def binder(tmp_path_factory: pytest.TempPathFactory) -> Binder:
    """Lay ready the winter of two bands, with private notes, and with lines for a substitute."""
    content = tmp_path_factory.mktemp("sheets") / "content"
    shutil.copytree(TWO_BANDS, content)
    music = content / "cycles" / "winter" / "music.yaml"
    landing = "        name: The landing\n"
    text = music.read_text("utf-8")
    assert text.count(landing) == 1
    music.write_text(text.replace(landing, f"{landing}        private: quietly\n"))
    program = content / "program.yaml"
    program.write_text(program.read_text("utf-8") + SUBSTITUTE)
    found = binder_of(content)
    return replace(found, cycles=tuple(one for one in found.cycles if one.id == "winter"))


@pytest.fixture(scope="module")
def winter(binder: Binder) -> CyclePlan:
    return binder.cycles[0]


@pytest.fixture(scope="module")
def ferry(winter: CyclePlan) -> EnsemblePlan:
    return next(one for one in winter.ensembles if one.item.id == "ferry")


@pytest.fixture(scope="module")
def files(binder: Binder) -> dict[str, bytes]:
    """Typeset the sheets of one band, and the poster."""
    with binder.context.speaking():
        rooms = (rehearsal_sheets, substitute_sheets, poster)
        made = [one for room in rooms for one in room.files(binder)]
        wanted = [one for one in made if "brass" not in one.path]
        return {one.path.removeprefix("winter/"): one.content for one in wanted}


@cache
def pages_by_title(content: bytes, title: str) -> dict[str, str]:
    """Give the words of the pages that belong to each rehearsal, in order, by its day."""
    found: dict[str, str] = {}
    day = ""
    for text in page_texts(content):
        begun = re.search(rf"{title}, ([A-Z][a-z]+, [A-Z][a-z]+ \d+)", text)
        assert begun, text
        day = begun[1]
        found[day] = words_of(f"{found.get(day, '')} {text}")
    return found


def said_on_page(binder: Binder, page: Page) -> str:
    """Give the words of a page of the site, without space, as a reader meets them."""
    environment = binder.environment.overlay()
    environment.globals = {**environment.globals, "versions": defaultdict(str)}
    template = environment.get_template(f"pages/{page.kind}.html.j2")
    html = template.render(view=page.view, say=binder.context.say, root="", top="")
    return dense(unescape(re.sub(r"<[^>]+>", "", html)))


def test_each_sheet_is_the_hour_of_its_rehearsal(
    files: dict[str, bytes], ferry: EnsemblePlan
) -> None:
    sheets = pages_by_title(files["ferry-rehearsals.pdf"], "Ferry Band")
    assert list(sheets) == list(
        dict.fromkeys(short_day(row.rehearsal.day) for row in ferry.rehearsals)
    )
    for row in ferry.rehearsals:
        sheet = dense(sheets[short_day(row.rehearsal.day)])
        agenda = [f"{clock(block.start)}{block.minutes}" for block in row.blocks]
        places = [sheet.index(dense(one)) for one in agenda]
        assert places == sorted(places)
        assert dense(f"{row.rehearsal.n} of {row.rehearsal.of}") in sheet
        assert dense(row.purpose.read("en")) in sheet
        for block in row.blocks:
            if block.rung is not None:
                assert dense(f"= {block.rung.tempo.bpm_text}") in sheet


def test_what_is_said_of_a_day_stands_where_it_is_said(files: dict[str, bytes]) -> None:
    """From tests/sites/two-bands: what lies ready, the thanks, a notice and the habit of October 26."""
    sheet = pages_by_title(files["ferry-rehearsals.pdf"], "Ferry Band")["Mon, Oct 26"]
    parts = re.split(r" (?=Set up|Warm up|Thanks and notices|Fundamentals|Close)", sheet)
    (ready,) = (one for one in parts if one.startswith("Set up"))
    assert "Forms" in ready
    assert "Drone, shelf" in ready
    (notices,) = (one for one in parts if one.startswith("Thanks and notices"))
    for said in (
        "Opening thanks. Thank you for the quiet start.",
        "Forms are due.",
        "Habit of the day:",
    ):
        assert said in notices


def test_a_private_note_is_on_the_directors_sheet_alone(files: dict[str, bytes]) -> None:
    with_note = [
        name for name, content in files.items() if "quietly" in "".join(page_texts(content))
    ]
    assert with_note == ["ferry-rehearsals.pdf"]
    for day, text in pages_by_title(files["ferry-rehearsals.pdf"], "Ferry Band").items():
        played = "landing" in text.lower().partition("your own notes")[0]
        assert ("quietly" in text) <= played, day


def test_private_sheets_say_so_on_each_page_and_the_poster_does_not(
    files: dict[str, bytes],
) -> None:
    for name, words in (("ferry-rehearsals.pdf", NOTICE), ("ferry-substitute.pdf", OWN)):
        assert all(words in words_of(text) for text in page_texts(files[name])), name
    assert "Private" not in "".join(page_texts(files["poster.pdf"]))


def test_the_agenda_is_that_of_the_page(
    binder: Binder, winter: CyclePlan, ferry: EnsemblePlan, files: dict[str, bytes]
) -> None:
    """Row by row but for the columns that only paper has, and what is for the director alone."""
    with binder.context.speaking():
        (page,) = ensemble_page.pages(binder.context, winter, ferry)
        site = said_on_page(binder, page)
        sheets = rehearsal_sheets.rehearsal_sheets(binder, winter, ferry)
        for sheet in sheets:
            for block in sheet.blocks:
                shown = block.shown
                words = dense(f"{shown.time}{shown.minutes}{shown.title}{shown.detail}")
                assert words in site
    paper = dense(" ".join(page_texts(files["ferry-rehearsals.pdf"])))
    assert all(dense(block.shown.title) in paper for sheet in sheets for block in sheet.blocks)
    assert all(dense(block.shown.detail) in paper for sheet in sheets for block in sheet.blocks)


def test_a_substitute_is_told_where_when_and_whom_to_ask(
    files: dict[str, bytes], ferry: EnsemblePlan
) -> None:
    pages = pages_by_title(files["ferry-substitute.pdf"], "Ferry Band")
    row = ferry.rehearsals[0]
    page = pages[short_day(row.rehearsal.day)]
    assert row.room is not None
    assert row.room.name.read("en") in page
    hours = f"Begins {clock(row.rehearsal.start)}, ends {clock(row.rehearsal.end)}"
    assert hours in page
    players = sum(ferry.item.instruments.values())
    assert f"Players and chairs: {players}" in page
    assert "the teacher next door, 555-0123, music" in page
    for block in row.blocks:
        assert clock(block.start) in page


def test_what_the_director_wrote_stands_in_place_of_common_practice(
    files: dict[str, bytes],
) -> None:
    page = next(iter(pages_by_title(files["ferry-substitute.pdf"], "Ferry Band").values()))
    before = page.partition("Before the bell")[2].partition("How to lead it")[0]
    assert "The roll is in the red folder." in before
    assert "*" not in before
    never = page.partition("Do not")[2].partition("Hurt or sick")[0]
    assert "Leave the risers." in never
    assert "lift" not in never
    assert "If time is left" in page
    assert "* " in page.partition("If time is left")[2]


def test_without_a_word_from_the_director_all_is_common_practice_and_the_contact_is_asked(
    small_binder: Binder,
) -> None:
    cycle = small_binder.cycles[0]
    with small_binder.context.speaking():
        pages = substitute_sheets.substitute_pages(small_binder, cycle, cycle.ensembles[0])
    told = pages[0]
    assert all(
        one.usual for one in (told.before, told.during, told.time_left, told.after, told.never)
    )
    assert [one.role for one in told.ask] == ["the band office"]


def test_the_poster_has_each_rehearsal_and_the_concert(
    binder: Binder, winter: CyclePlan, files: dict[str, bytes]
) -> None:
    found = [one.kind for one in structure(files["poster.pdf"]).walk()]
    assert found.count("Table") == 1
    with binder.context.speaking():
        view = poster.poster(binder.context, winter)
    for row, plan in zip(view.rows, winter.ensembles, strict=True):
        days = [one.rehearsal.day for one in plan.rehearsals]
        days += [one.item.date for one in winter.held_concerts if plan.band in one.item.players]
        assert [day.number for week in row.weeks for day in week] == [
            day.day for day in sorted(days)
        ]
    shapes = {one.stage.id: one.shape for one in view.stages}
    assert len(set(shapes.values())) == len(shapes)
    tints = {one.stage.id: one.tint for one in view.stages}
    assert len(set(tints.values())) == len(tints)
    ferry, plan = view.rows[0], winter.ensembles[0]
    drawn = [day.shape for week in ferry.weeks for day in week]
    assert drawn[: len(plan.rehearsals)] == [shapes[row.stage.item.id] for row in plan.rehearsals]
    shown = [day.tint for week in ferry.weeks for day in week]
    assert shown[: len(plan.rehearsals)] == [tints[row.stage.item.id] for row in plan.rehearsals]
    concert = winter.held_concerts[-1].item.date
    text = words_of("".join(page_texts(files["poster.pdf"])))
    assert short_day(concert) in text
    assert month_day(concert) not in view.weeks or concert.weekday() == 0


def test_the_poster_says_nothing_but_what_is_on_the_site(
    binder: Binder, winter: CyclePlan, files: dict[str, bytes]
) -> None:
    with binder.context.speaking():
        shown = list(cycle_page.pages(binder.context, winter))
        for plan in winter.ensembles:
            shown += ensemble_page.pages(binder.context, winter, plan)
        site = "".join(said_on_page(binder, page) for page in shown)
    with binder.context.speaking():
        view = poster.poster(binder.context, winter)
    said = [view.name, *(row.name for row in view.rows)]
    for stage in view.stages:
        said += [stage.stage.name, stage.purpose, *stage.goals]
        said += [dates.partition(": ")[2] or dates for dates in stage.dates]
    paper = dense("".join(page_texts(files["poster.pdf"])))
    for words in said:
        assert dense(words) in site, words
        assert dense(words) in paper, words


def test_the_concert_and_the_stages_are_read_from_three_meters(files: dict[str, bytes]) -> None:
    """A letter is told at 5 minutes of arc (ISO 8596), 4.4 mm at 3 m: capitals of some 0.7 em need 18 pt at least."""
    largest = [run.points for run in runs(files["poster.pdf"]) if run.points >= 18]
    assert len(largest) >= 5  # the title, the concert's day, three stages
    assert max(largest) >= 40


@pytest.mark.parametrize(
    ("name", "points"),
    [("ferry-rehearsals.pdf", 14), ("ferry-substitute.pdf", 12), ("poster.pdf", 12)],
)
def test_sheets_are_whole_and_readable(
    files: dict[str, bytes], name: str, points: int, tmp_path: Path
) -> None:
    content = files[name]
    place = tmp_path / "sheet.pdf"
    place.write_bytes(content)
    assert not pdfua.validate(str(place)).findings
    assert all(fonts_embedded(content).values())
    assert not [
        key for key in metadata(content) if "author" in key.lower() or "date" in key.lower()
    ]
    small = {run.points for run in runs(content) if run.points < points - 0.01}
    assert all(run >= 11.9 for run in small)  # the foot, and signs beside notes
    body = [run for run in runs(content) if len(run.text.strip()) > 30]
    assert min(run.points for run in body) >= points - 0.01


def test_a_page_a_rehearsal_on_both_papers(
    binder: Binder, winter: CyclePlan, ferry: EnsemblePlan, files: dict[str, bytes]
) -> None:
    for name in ("ferry-substitute.pdf", "ferry-rehearsals.pdf"):
        assert len(page_texts(files[name])) == len(ferry.rehearsals)
    program = binder.plan.program.model_copy(update={"paper": Paper.A4})
    plan = replace(binder.plan, program=program)
    a4 = replace(binder, plan=plan, context=Context(plan, binder.context.language))
    with a4.context.speaking():
        made = list(day_sheets(a4, winter, ferry, ferry.rehearsals[0]))
    assert [len(page_texts(one.content)) for one in made] == [1, 1]


def test_the_sheets_of_a_day_are_those_of_all_days(
    binder: Binder, winter: CyclePlan, ferry: EnsemblePlan, files: dict[str, bytes]
) -> None:
    row = ferry.rehearsals[3]
    with binder.context.speaking():
        sheet, page = day_sheets(binder, winter, ferry, row)
    assert sheet.content == sheet.content
    day = short_day(row.rehearsal.day)
    for one, name in ((sheet, "ferry-rehearsals.pdf"), (page, "ferry-substitute.pdf")):
        alone = " ".join(page_texts(one.content))
        assert words_of(alone) == pages_by_title(files[name], "Ferry Band")[day]


def test_goals_give_way_on_a_poster_that_is_too_long_and_it_says_so(
    binder: Binder, winter: CyclePlan
) -> None:
    with binder.context.speaking():
        view = poster.poster(binder.context, winter)
        stages = tuple(
            replace(one, goals=tuple(f"Goal {n} " * 9 for n in range(20))) for one in view.stages
        )
        made = poster.poster_file(binder, winter, replace(view, stages=stages))
    (text,) = page_texts(made.content)
    assert "Goal 3" not in text
    assert words_of(text).count("Its goals are on the page of each band.") == len(stages)
    assert all(dense(one.purpose) in dense(text) for one in stages)


def test_the_turns_of_the_thanks_are_on_paper_as_on_the_page(binder: Binder) -> None:
    with binder.context.speaking():
        page, sheet = thanks.files(binder)
    said = dense(unescape(re.sub(r"<[^>]+>", "", page.content.decode())))
    pages = page_texts(sheet.content)
    assert all(NOTICE in words_of(text) for text in pages)
    rows = re.findall(r"[A-Z][a-z]{2}, [A-Z][a-z]{2} \d+ .*", "\n".join(pages))
    assert len(rows) == sum(len(one.rehearsals) for one in binder.cycles[0].ensembles)
    # On paper whether it was written or is in turn stands on the line of whom it is for.
    assert all(dense(re.sub(", (?=written|in turn)", "", row)) in said for row in rows)


def test_a_binder_in_a_language_without_typefaces_has_no_sheets(small_binder: Binder) -> None:
    chinese = replace(small_binder, context=Context(small_binder.plan, "zh-Hans"))
    with chinese.context.speaking():
        made = [one.path for room in ROOMS for one in room(chinese)]
    assert made
    assert not [path for path in made if path.endswith(".pdf")]


@pytest.fixture(scope="module")
def demo() -> Binder:
    return binder_of(DEMO)


def test_a_day_in_two_stages_has_a_sign_of_each_on_the_poster(demo: Binder) -> None:
    """From content/cycles/winter-2026: two rehearsals on December 8, between which a stage ends."""
    with demo.context.speaking():
        view = poster.poster(demo.context, demo.cycles[-1])
    (beacon,) = (one for one in view.rows if one.name == "Beacon Band")
    eighth = [one for one in beacon.weeks[6] if one.number == 8]
    assert [one.shape for one in eighth] == [2, 3]


def test_each_rehearsal_has_a_sign_and_the_concert_stands_behind_that_of_its_day(
    demo: Binder,
) -> None:
    """From content/cycles/winter-2026: two rehearsals on December 16, one before the concert on the 17th."""
    winter = demo.cycles[-1]
    with demo.context.speaking():
        view = poster.poster(demo.context, winter)
    signs = {row.name: [day for week in row.weeks for day in week] for row in view.rows}
    for plan, row in zip(winter.ensembles, view.rows, strict=True):
        assert sum(day.shape > 0 for day in signs[row.name]) == len(plan.rehearsals)
    assert [day.number for day in view.rows[0].weeks[-1]] == [14, 16, 16, 17]
    assert [day.shape for day in signs["Harbor Band"] if day.number == 17] == [3, 0]


def test_a_substitute_is_told_of_a_day_unlike_others(demo: Binder) -> None:
    """From content/cycles/winter-2026: sections in four rooms, the dress rehearsal in the hall, the concert's day."""
    winter = demo.cycles[-1]
    found = {}
    for name in ("beacon", "harbor"):
        band = next(one for one in winter.ensembles if one.item.id == name)
        with demo.context.speaking():
            for page in substitute_sheets.substitute_pages(demo, winter, band):
                found[name, page.day.line.day.day, page.begins] = page
    elsewhere = {key for key, page in found.items() if page.usual_room}
    assert elsewhere == {
        ("beacon", 8, "6:30 pm"),
        ("beacon", 16, "5:15 pm"),
        ("harbor", 16, "4:20 pm"),
    }
    assert {key[:2] for key, page in found.items() if page.concerts} == {("harbor", 17)}
    concert, evening, hall = (
        next(page for key, page in found.items() if key[:2] == ("harbor", 17)),
        found["beacon", 8, "6:30 pm"],
        found["harbor", 16, "4:20 pm"],
    )
    with demo.context.speaking():
        sheet = substitute_sheets.substitute_sheet("s.pdf", "S", concert, evening, hall)
        pages = page_texts(sheet_file(demo, sheet).content)
    told, sections, away = map(words_of, pages)
    assert "Concert today Winter Concert, 7:00 pm, Quillhaven Civic Hall." in told
    assert "Players are there at: 5:20 pm, Bus loop at school." in told
    rooms = "Before the bell, ask which adult is in each room: no room is without one."
    assert rooms in sections
    assert rooms not in told + away
    place = "names a place or a thing in Band Room 112, ask how it is done today."
    assert place in sections
    assert place in away
    assert place not in told
    assert "Signs and words too, click at ♩ = 76 Play dynamics and articulation on" in told
    assert "winter-2026/harbor/#warm-up" in told.replace(" #", "#")


def test_what_the_signs_of_music_mean_stands_on_the_sheet_that_has_them(
    binder: Binder, winter: CyclePlan, ferry: EnsemblePlan, files: dict[str, bytes]
) -> None:
    pages = pages_by_title(files["ferry-substitute.pdf"], "Ferry Band")
    with binder.context.speaking():
        views = substitute_sheets.substitute_pages(binder, winter, ferry)
    for row, view in zip(ferry.rehearsals, views, strict=True):
        page = pages[short_day(row.rehearsal.day)]
        music = {block.shown.how for block in view.blocks}
        assert ("A join plays passages" in page) == ("join" in music)
        assert ("are measures" in page) == bool(music - {""})
        assert ("A whole piece goes on to its end" in page) == ("run" in music)


def test_a_substitute_knows_what_to_do_for_a_hurt_player_and_where_to_write(
    files: dict[str, bytes],
) -> None:
    """Rest in a quiet place, and tell the nurse: NIOSH 2015-184, as on the crew's page."""
    for page in pages_by_title(files["ferry-substitute.pdf"], "Ferry Band").values():
        assert "then the nurse (NIOSH 2015-184)" in page
        assert "Your school’s own rules come first." in page
        assert "common practice" in page.lower()
    pages = pages_by_title(files["ferry-substitute.pdf"], "Ferry Band").values()
    assert any("What was played, and how far:" in page for page in pages)


def test_without_an_address_a_substitute_is_told_to_ask_for_it(
    binder: Binder, winter: CyclePlan, ferry: EnsemblePlan, files: dict[str, bytes]
) -> None:
    with binder.context.speaking():
        view = substitute_sheets.substitute_pages(binder, winter, ferry)[0]
        sheet = substitute_sheets.substitute_sheet("s.pdf", "S", replace(view, address=""))
        text = words_of(" ".join(page_texts(sheet_file(binder, sheet).content)))
    assert "On the band’s page of the handbook: ask where to open it." in text
    assert "On the band’s page:" not in text


def test_goals_stand_on_the_poster_of_a_usual_cycle(demo: Binder) -> None:
    """Eight weeks, three bands of up to five days a week, three stages: signs stand in one row each."""
    winter = demo.cycles[-1]
    with demo.context.speaking():
        view = poster.poster(demo.context, winter)
        made = poster.poster_file(demo, winter, view)
    (text,) = page_texts(made.content)
    goals = [goal for stage in view.stages for goal in stage.goals]
    assert len(goals) > 10
    assert all(dense(goal.replace("'", "’")) in dense(text) for goal in goals)
