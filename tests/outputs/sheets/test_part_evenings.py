"""The evenings on the sheet of a part are those that its page reckons, and stand whole on the paper."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta

import pytest

from handbook.domain.evenings import HomeShare
from handbook.domain.home_days import HomeEvening, home_evenings
from handbook.domain.tables.rudiments import RUDIMENTS
from handbook.domain.values.paper import Paper
from handbook.domain.values.tempo import parse_tempo
from handbook.outputs.page import Context, Page
from handbook.outputs.pages import part
from handbook.outputs.pages.part import PartView
from handbook.outputs.sheets.kinds.part import HowExercise, OwnExercise, PartSheetView
from handbook.outputs.sheets.kinds.part_evenings import (
    Alike,
    EveningView,
    EveningWeek,
    evening_weeks,
    without_exercises,
)
from handbook.outputs.sheets.making import made_sheet
from handbook.outputs.sheets.model import MadeSheet
from handbook.pipeline import load_plan
from handbook.plan.evenings import home_days, home_passages, home_sets, passage_id
from handbook.plan.model import CyclePlan, EnsemblePlan, Plan
from tests.outputs.sheets.reading import page_texts, runs, words_of
from tests.outputs.sheets.small_plan import (
    CONTENT,
    ENVIRONMENT,
    evenings_on,
    made,
    pdf_on,
    plain,
)

CYCLE_FILE = "cycles/winter/cycle.yaml"
# The same days by hand, so that no pattern of ours is asked.
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = {10: "Oct", 11: "Nov", 12: "Dec"}
# What the scales of the small folder's fundamentals sound.
CONCERT = {"long-tones": "B♭", "minor": "G"}
PARADIDDLE = next(one for one in RUDIMENTS if one.name == "Single Paradiddle")
# What is read for concert G minor: the note that a written C sounds is B♭ on a trumpet and C on a trombone
# (music21's instruments, as in tests/domain/test_instruments.py); a euphonium reads as a trombone does.
READ = {"Trumpet": "A minor", "Trombone": "G minor", "Euphonium": "G minor"}
Made = tuple[Context, list[Page], dict[str, MadeSheet]]


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Plan the small folder of two bands once, with minutes at home in two of its three stages."""
    at = tmp_path_factory.mktemp("minutes") / "content"
    shutil.copytree(CONTENT, at)
    text = (at / CYCLE_FILE).read_text(encoding="utf-8")
    for stage, minutes in (("Decode", 13), ("Build", 25)):
        text = text.replace(f"name: {stage}\n", f"name: {stage}\n    home_minutes: {minutes}\n")
    (at / CYCLE_FILE).write_text(text, encoding="utf-8")
    found = load_plan(at).plan
    assert found is not None
    return replace(found, languages=("en", "es", "ar"))


def made_of(plan: Plan, language: str, ensemble: EnsemblePlan) -> Made:
    context = Context(plan, language)
    with context.speaking():
        pages = list(part.pages(context, winter(plan), ensemble))
        return context, pages, made(context, pages)


def winter(plan: Plan) -> CyclePlan:
    (cycle,) = (one for one in plan.cycles if one.id == "winter")
    return cycle


def exercise_of(line: str, view: PartView) -> str:
    """Give the exercise of a part on an evening: the first, or the one in parentheses behind its name."""
    found = re.fullmatch(r"(.+?)(?: \(([^()]*: (?:[^()]|\([^()]*\))*)\))?", line)
    assert found is not None
    for other in (found[2] or "").split("; ") if found[2] else ():
        names, exercise = other.rsplit(": ", 1)
        called = {view.name, "Drums"} if view.drums else {view.name}
        if called & set(names.split(", ")):
            assert exercise != found[1]
            return exercise
    return found[1]


def reckoned(plan: Plan, ensemble: EnsemblePlan, part_id: str) -> tuple[HomeEvening, ...]:
    own = home_sets(ensemble)[part_id]
    return home_evenings(home_days(winter(plan), ensemble), own.passages, own.exercises)


def told(plan: Plan, ensemble: EnsemblePlan) -> tuple[Mapping[str, str], Mapping[str, str]]:
    """Say each passage and each exercise as a line has it, without minutes and steps."""
    passages = {
        passage_id(piece, row): f"{piece.item.title.read('en')}: {row.item.name.read('en')} "
        f"mm. {row.item.measures.first}–{row.item.measures.last}"
        for piece, row in home_passages(ensemble)
    }
    exercises = {
        one.item.id: one.item.name.read("en")
        + (f" (concert {CONCERT[one.item.id]})" if one.item.scale else "")
        + (f" {one.item.tempo.beat.symbol} {one.item.tempo.bpm_text}" if one.item.tempo else "")
        for own in ensemble.parts
        for one in own.exercises
    }
    return passages, exercises


def steps_on(ensemble: EnsemblePlan, name: str, day: date) -> str:
    """Say the steps of a passage on a day, from its plan."""
    (row,) = (row for piece, row in home_passages(ensemble) if passage_id(piece, row) == name)
    before = [week for week in row.weeks if week.monday <= day] or row.weeks[:1]
    marks = [step.bpm_text for step in before[-1].steps]
    shown = ", ".join(marks) if len(marks) < 4 else f"{marks[0]} … {marks[-1]}"
    return f"{row.item.goal.beat.symbol} {shown}"


def before(plan: Plan, ensemble: EnsemblePlan, day: date) -> str:
    """Say what is on the next day, from the rehearsals and the concert of the plan."""
    tomorrow = day + timedelta(days=1)
    if any(one.item.date == tomorrow for one in winter(plan).concerts):
        return " concert tomorrow"
    meets = {row.rehearsal.day for row in ensemble.rehearsals}
    return " rehearsal tomorrow" if tomorrow in meets else ""


def sheets_of_parts(pages: list[Page], sheets: Mapping[str, MadeSheet]) -> Iterator[tuple[PartView, MadeSheet]]:  # fmt: skip
    for page in pages:
        assert isinstance(page.view, PartView)
        if page.view.sheet:
            yield page.view, sheets[page.view.sheet]


def test_each_part_finds_its_evenings_on_its_sheet(plan: Plan) -> None:
    differing = 0
    for ensemble in winter(plan).ensembles:
        _, pages, sheets = made_of(plan, "en", ensemble)
        passages, exercises = told(plan, ensemble)
        for view, sheet in sheets_of_parts(pages, sheets):
            evenings, shown = reckoned(plan, ensemble, view.instrument), evenings_on(sheet)
            assert len(shown) == len(evenings) > 10
            for evening, (weekday, day, minutes, *told_lines) in zip(evenings, shown, strict=True):
                on = evening.day
                assert weekday == DAYS[on.weekday()]
                assert day == f"{MONTHS[on.month]} {on.day}"
                assert minutes == f"{evening.minutes} min"
                lines = [one for one in told_lines if one and not one.startswith("A break from")]
                expected = []
                for share in evening.shares:
                    if share.exercise:
                        stands, tomorrow = lines[0], before(plan, ensemble, on)
                        assert stands.startswith(f"{share.minutes} min ")
                        assert stands.endswith(tomorrow)
                        said = stands.partition(" min ")[2].removesuffix(tomorrow)
                        assert exercise_of(said, view) == exercises[share.id]
                        differing += not said.startswith(exercises[share.id])
                        expected.append(stands)
                    else:
                        steps = steps_on(ensemble, share.id, on)
                        expected.append(f"{share.minutes} min {passages[share.id]} {steps}")
                assert lines == expected
    assert differing > 5  # so that the parts with others are of some use


def test_the_minutes_of_an_evening_are_all_of_it(plan: Plan) -> None:
    _, _, sheets = made_of(plan, "en", winter(plan).ensembles[0])
    for sheet in sheets.values():
        for _, _, whole, *lines in evenings_on(sheet):
            minutes = [int(one) for line in lines for one in re.findall(r"^(\d+) min ", line)]
            assert f"{sum(minutes)} min" == whole


def test_bold_is_what_the_next_rehearsal_plays(plan: Plan) -> None:
    ensemble = winter(plan).ensembles[0]
    _, pages, sheets = made_of(plan, "en", ensemble)
    view, sheet = next(sheets_of_parts(pages, sheets))
    shares = [
        share
        for evening in reckoned(plan, ensemble, view.instrument)
        for share in evening.shares
        if not share.exercise
    ]
    evenings = "".join(re.findall(r'<p class="evening">.*?</p>', sheet.html, re.DOTALL))
    names = re.findall(r"</b> [^<]+: (<b>)?[^<]+(?:</b>)? mm?\. ", evenings)
    assert [bool(one) for one in names] == [share.next for share in shares]
    assert len(set(names)) == 2


@pytest.mark.parametrize("language", ["en", "ar"])
@pytest.mark.parametrize("paper", list(Paper))
def test_a_week_stands_on_one_page(plan: Plan, paper: Paper, language: str) -> None:
    _, _, sheets = made_of(plan, language, winter(plan).ensembles[0])
    sheet = next(iter(sheets.values()))
    pages = [words_of(text) for text in page_texts(pdf_on(sheet, paper))]
    days = [plain(one) for one in re.findall(r'"week keep"><h2>(.*?)</h2>', sheet.html)]
    evenings = [
        re.findall(r'<span class="label">.*?<br>(.*?)<br>', week, re.DOTALL)
        for week in re.findall(r'<div class="week keep">.*?</div>', sheet.html, re.DOTALL)
    ]
    assert len(evenings) == len(days) > 3
    # Letters of Arabic come back in an order of their own, figures as they are.
    numbers = [[re.findall(r"\d+", plain(day))[0] for day in week] for week in evenings]
    for week in numbers:
        runs = [re.findall(r"\d+", page) for page in pages]
        assert any(all(number in run for number in week) for run in runs)
    if language == "en":
        for title, week in zip(days, evenings, strict=True):
            (page,) = (one for one in pages if re.search(rf"{title}\b", one))
            assert [day for day in week if plain(day) not in page] == []


@pytest.mark.parametrize("paper", list(Paper))
def test_all_of_the_evenings_is_on_the_paper(plan: Plan, paper: Paper) -> None:
    for ensemble in winter(plan).ensembles:
        _, _, sheets = made_of(plan, "en", ensemble)
        for sheet in sheets.values():
            said = words_of(" ".join(page_texts(pdf_on(sheet, paper)))).replace(" ", "")
            # What stands before the lines of an evening stands between them for who reads the PDF.
            lines = [line for evening in evenings_on(sheet) for line in evening]
            lines += [plain(one) for one in re.findall(r"<(?:h\d|p)>(.*?)</", sheet.html)]
            lines += [plain(one) for one in re.findall(r'<p class="hang">(.*?)<[/b]', sheet.html)]
            assert [one for one in lines if one.replace(" ", "") not in said] == []


def longer(week: EveningWeek, times: int) -> EveningWeek:
    """Give each evening several times as much, and no line twice."""

    def more(evening: EveningView) -> EveningView:
        passages = enumerate(evening.passages * times, 11)
        rows = tuple(replace(one, minutes=f"{place} min") for place, one in passages)
        return replace(evening, passages=rows)

    return replace(week, evenings=tuple(map(more, week.evenings)))


def test_a_week_longer_than_a_page_parts_between_evenings(plan: Plan) -> None:
    """A cycle of many weeks, each with more than fits a page."""
    context, pages, _ = made_of(plan, "en", winter(plan).ensembles[0])
    page = next(one for one in pages if one.sheets)
    (sheet,) = page.sheets
    assert isinstance(sheet.view, PartSheetView)
    weeks = tuple(longer(week, 3) for week in sheet.view.weeks * 3)[:16]
    assert len(weeks) == 16
    assert not weeks[1].whole
    view = replace(sheet.view, weeks=weeks)
    with context.speaking():
        long = made_sheet(context, ENVIRONMENT, page, replace(sheet, view=view))
    texts = [words_of(text) for text in page_texts(pdf_on(long))]
    assert len(texts) > 1.5 * len(weeks)
    for _, day, _, first, *rest in evenings_on(long):
        lines = [one.replace(" ", "") for one in (day, first, *rest)]
        assert any(all(one in text.replace(" ", "") for one in lines) for text in texts)


@pytest.mark.parametrize(
    ("language", "note"),
    [("en", None), ("es", "Una parte de esta hoja está solo en inglés."), ("ar", "جزء من هذه الورقة بالإنجليزية فقط.")],
)  # fmt: skip
def test_what_is_in_another_language_says_so(plan: Plan, language: str, note: str | None) -> None:
    _, _, sheets = made_of(plan, language, winter(plan).ensembles[0])
    sheet = next(iter(sheets.values()))
    own = ' dir="ltr"' if language == "ar" else ""
    tip = f'<span lang="en"{own}>Sing it, then play it.</span>'
    assert (tip in sheet.html) is (note is not None)
    assert (note is None) or f"<p>{note}</p>" in sheet.html
    assert "data-partly" not in sheet.html
    assert ("Some of this sheet" in sheet.html) is False


def test_each_passage_has_its_goal_to_tick(plan: Plan) -> None:
    for ensemble in winter(plan).ensembles:
        _, pages, sheets = made_of(plan, "en", ensemble)
        for view, sheet in sheets_of_parts(pages, sheets):
            goals = [
                f"{one.name} {one.measures} {one.item.goal.beat.symbol} {one.item.goal.bpm_text}"
                for piece in view.pieces
                for one in piece.passages
            ]
            shown = re.findall(r'<p class="hang"><input[^>]*>(.*?)(?:<br>|</p>)', sheet.html)
            assert [plain(one) for one in shown] == goals


def test_parts_with_other_minutes_have_a_sheet_of_their_own(plan: Plan) -> None:
    for ensemble in winter(plan).ensembles:
        _, pages, sheets = made_of(plan, "en", ensemble)
        evenings = {
            view.instrument: [
                (one.day, [(x.minutes, "" if x.exercise else x.id) for x in one.shares])
                for one in reckoned(plan, ensemble, view.instrument)
            ]
            for view, _ in sheets_of_parts(pages, sheets)
        }
        views = [view for view, _ in sheets_of_parts(pages, sheets)]
        for view in views:
            for other in views:
                if view.sheet == other.sheet:
                    assert evenings[view.instrument] == evenings[other.instrument]


def shared(*shares: HomeShare) -> HomeEvening:
    return HomeEvening(date(2026, 11, 2), sum(one.minutes for one in shares), 1, shares=shares)


def test_parts_share_a_sheet_if_nothing_but_the_exercise_differs() -> None:
    one = shared(HomeShare("tones", 2, exercise=True), HomeShare("march/trio", 8))
    other = shared(HomeShare("scales", 2, exercise=True), HomeShare("march/trio", 8))
    shorter = shared(HomeShare("scales", 4, exercise=True), HomeShare("march/trio", 6))
    without = shared(HomeShare("march/trio", 10))
    elsewhere = shared(HomeShare("tones", 2, exercise=True), HomeShare("march/coda", 8))
    assert without_exercises([one]) == without_exercises([other])
    for different in (shorter, without, elsewhere):
        assert without_exercises([one]) != without_exercises([different])


def with_exercise(evenings: Iterable[HomeEvening], name: str) -> tuple[HomeEvening, ...]:
    """Give evenings whose exercise is another."""
    return tuple(
        replace(
            evening,
            shares=tuple(
                replace(share, id=name) if share.exercise else share for share in evening.shares
            ),
        )
        for evening in evenings
    )


def test_a_scale_says_what_it_sounds_where_one_of_its_players_reads_another_key(plan: Plan) -> None:
    ensemble = winter(plan).ensembles[1]
    _, pages, sheets = made_of(plan, "en", ensemble)
    views = {view.name: view for view, _ in sheets_of_parts(pages, sheets)}
    evenings = with_exercise(reckoned(plan, ensemble, views["Trumpet"].instrument)[:1], "minor")

    def named(*names: str) -> str:
        parts = [Alike(name, views[name].exercises, evenings) for name in names]
        with Context(plan, "en").speaking():
            (week,) = evening_weeks(winter(plan), ensemble, views["Trumpet"].pieces, parts)
        (exercise,) = (one.name for one in week.exercises)
        return exercise

    assert named("Trombone", "Euphonium") == "Minor scale"
    assert named("Trombone", "Euphonium", "Trumpet") == "Minor scale (concert G)"


def test_titles_keep_with_what_they_head(plan: Plan) -> None:
    """On the paper what is in a group marked so stands on one page."""
    _, _, sheets = made_of(plan, "en", winter(plan).ensembles[1])
    (sheet,) = sheets.values()
    kept = re.findall(r'<div class="keep[^"]*">(.*?)</div>', sheet.html, re.DOTALL)
    titles = [re.findall(r"<(h2|h3|p)\b", one) for one in kept]
    # A paragraph for the box to tick, then the title of each piece with its first passage.
    assert titles[0][:2] == ["h2", "p"]
    assert all(one[-2:] == ["h3", "p"] or one[-3:] == ["h3", "p", "p"] for one in titles[:-1])
    assert titles[-1][:2] == ["h2", "p"]
    assert sheet.html.count("<h3") == len(titles) - 1


def test_the_exercise_of_most_parts_stands_at_the_evenings(plan: Plan) -> None:
    ensemble = winter(plan).ensembles[0]
    _, pages, sheets = made_of(plan, "en", ensemble)
    view, _ = next(sheets_of_parts(pages, sheets))
    evenings = reckoned(plan, ensemble, view.instrument)
    known = view.exercises[0]
    exercises = (known, replace(known, item=known.item.model_copy(update={"id": "other"})))
    one, other = [exercise.item.id for exercise in exercises]
    parts = [
        Alike("Horn", exercises, with_exercise(evenings, one)),
        Alike("Flute", exercises, with_exercise(evenings, other)),
        Alike("Oboe", exercises, with_exercise(evenings, other)),
    ]
    with Context(plan, "en").speaking():
        for week in evening_weeks(winter(plan), ensemble, view.pieces, parts):
            named = {evening.exercise.item.id for evening in week.evenings if evening.exercise}
            assert named == {other}
            told = {tuple(evening.others) for evening in week.evenings}
            assert told == {(("Horn", known),)}


def test_each_part_is_told_its_own_key_of_a_scale(plan: Plan) -> None:
    _, _, sheets = made_of(plan, "en", winter(plan).ensembles[1])
    (sheet,) = sheets.values()
    (told,) = re.findall(r'<p class="hang"><b>Minor scale</b><br>(.*?)</p>', sheet.html, re.DOTALL)
    keys = [
        (name, plain(key))
        for names, key in re.findall(r"<b>([^<]+)</b>: (.+?)\.(?= |<|$)", told)
        for name in names.split(", ")
    ]
    assert dict(keys) == READ
    assert len(keys) == len(READ)
    assert "Minor scale (concert G)" in plain(sheet.html)


def test_notes_that_no_words_name_are_told_as_each_part_reads_them(plan: Plan) -> None:
    _, _, sheets = made_of(plan, "en", winter(plan).ensembles[0])
    sheet = next(one for one in sheets.values() if "<b>Clarinet" in one.html)
    # Concert B♭ and F: a written C sounds B♭ on a clarinet, F on a horn (music21's instruments).
    for told in ("Flute: B♭, F.", "Clarinet: C, G.", "Horn: F, C."):
        assert told in plain(sheet.html)


def test_who_strikes_is_told_the_sticking(plan: Plan) -> None:
    context, pages, _ = made_of(plan, "en", winter(plan).ensembles[0])
    page = next(one for one in pages if one.sheets)
    (sheet,) = page.sheets
    assert isinstance(sheet.view, PartSheetView)
    own = OwnExercise("Snare drum", "", ("Light hands.",), PARADIDDLE)
    view = replace(sheet.view, exercises=(HowExercise("Flow", ("Slow.",), (own,)),))
    with context.speaking():
        told = made_sheet(context, ENVIRONMENT, page, replace(sheet, view=view))
    # The sticking: PAS, The 40 International Drum Rudiments, number 16.
    assert "Flow Slow. Snare drum: Light hands. Single Paradiddle: RLRR LRLL" in plain(told.html)


def test_figures_after_the_sign_of_a_half_note_are_read_from_right_to_left(plan: Plan) -> None:
    """Unicode 16, DerivedBidiClass: U+2669 is neutral, U+1D15E and its parts are letters, left to right."""
    context, pages, _ = made_of(plan, "ar", winter(plan).ensembles[0])
    page = next(one for one in pages if one.sheets)
    (sheet,) = page.sheets
    assert isinstance(sheet.view, PartSheetView)
    week = sheet.view.weeks[0]
    (first, *_), evening = week.evenings[0].passages, week.evenings[0]
    rows = []
    for mark in ("quarter = 96", "half = 96"):
        item = first.passage.item.model_copy(update={"goal": parse_tempo(mark)})
        passage = replace(first, passage=replace(first.passage, item=item), steps="46، 48")
        weeks = (replace(week, evenings=(replace(evening, passages=(passage,)),)),)
        view = replace(sheet.view, weeks=weeks, pieces=())
        with context.speaking():
            made_one = made_sheet(context, ENVIRONMENT, page, replace(sheet, view=view))
        shown = [one for one in runs(pdf_on(made_one)) if re.search("46|48", one.text)]
        rows.append([one.x for number in ("46", "48") for one in shown if number in one.text])
    assert [len(row) for row in rows] == [2, 2]
    assert [one > other for one, other in rows] == [True, True]


def test_drums_have_one_name_where_they_have_the_same_exercise(plan: Plan) -> None:
    ensemble = winter(plan).ensembles[0]
    _, pages, sheets = made_of(plan, "en", ensemble)
    view, _ = next(sheets_of_parts(pages, sheets))
    evenings = reckoned(plan, ensemble, view.instrument)
    exercises = tuple(
        replace(view.exercises[0], item=view.exercises[0].item.model_copy(update={"id": name}))
        for name in ("one", "other")
    )

    def named(*parts: tuple[str, str, bool]) -> set[str]:
        alike = [
            Alike(name, exercises, with_exercise(evenings[:1], exercise), drums=drums)
            for name, exercise, drums in parts
        ]
        with Context(plan, "en").speaking():
            (week,) = evening_weeks(winter(plan), ensemble, view.pieces, alike)
            return {names for evening in week.evenings for names, _ in evening.others}

    winds = [(name, "one", False) for name in ("Flute", "Oboe", "Horn", "Tuba")]
    snare, bass = ("Snare drum", "other", True), ("Bass drum", "other", True)
    bells = ("Bells", "other", False)
    assert named(*winds, bells, snare, bass) == {"Bells, Drums"}
    assert named(*winds, snare) == {"Snare drum"}
    assert named(*winds, snare, ("Bass drum", "one", True)) == {"Snare drum"}


def test_a_short_evening_has_room_for_its_day(plan: Plan) -> None:
    """The day, its date and its minutes stand in three lines before those of what is played."""
    _, pages, _ = made_of(plan, "en", winter(plan).ensembles[0])
    page = next(one for one in pages if one.sheets)
    (sheet,) = page.sheets
    assert isinstance(sheet.view, PartSheetView)
    week = sheet.view.weeks[0]
    evenings = tuple(
        replace(one, exercise=None, before="", passages=one.passages[:1]) for one in week.evenings
    )
    view = replace(sheet.view, weeks=(replace(week, evenings=evenings),))
    context = Context(plan, "en")
    with context.speaking():
        short = made_sheet(context, ENVIRONMENT, page, replace(sheet, view=view))
    shown = re.findall(r'<p class="evening">.*?</span>(.*?)</p>', short.html, re.DOTALL)
    assert [one.count("<br>") for one in shown] == [2] * len(evenings)
