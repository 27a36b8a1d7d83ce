"""A page a rehearsal: what gives way on a full day, that all else stands on it in order, and the mark of its words."""

from __future__ import annotations

import re
from dataclasses import replace

import pypdfium2
import pytest
import zxingcpp

from handbook.binder import rehearsal_sheets, substitute_sheets, thanks
from handbook.binder.index import index
from handbook.binder.model import Binder, BinderFile
from handbook.binder.paper import sheet_file
from handbook.binder.rehearsal_sheets import RehearsalSheet, rehearsal_sheet
from handbook.outputs.page import Context
from handbook.outputs.sheets.model import CREW_POINTS
from tests.binder.conftest import binder_of
from tests.binder.sheet_words import MOST, dense, given_way, pages_of, said_by
from tests.demo import DEMO
from tests.outputs.sheets.reading import page_texts, runs


@pytest.fixture(scope="module")
def demo() -> Binder:
    """Lay ready the winter of the demo: long texts, three bands, Letter."""
    found = binder_of(DEMO)
    return replace(found, cycles=found.cycles[-1:])


@pytest.fixture(scope="module")
def hours(demo: Binder) -> dict[str, tuple[RehearsalSheet, ...]]:
    winter = demo.cycles[0]
    with demo.context.speaking():
        return {
            band.item.id: rehearsal_sheets.rehearsal_sheets(demo, winter, band)
            for band in winter.ensembles
        }


@pytest.fixture(scope="module")
def printed(demo: Binder) -> dict[str, BinderFile]:
    with demo.context.speaking():
        made = list(rehearsal_sheets.files(demo))
    return {one.path.split("/")[1].partition("-")[0]: one for one in made}


@pytest.mark.parametrize("band", ["lantern", "harbor", "beacon"])
def test_every_hour_of_the_demo_is_one_page_that_says_all_of_it_in_order(
    demo: Binder,
    hours: dict[str, tuple[RehearsalSheet, ...]],
    printed: dict[str, BinderFile],
    band: str,
) -> None:
    with demo.context.speaking():
        sheet = rehearsal_sheet("r.pdf", "R", *hours[band])
    found = given_way(demo, sheet, printed[band], "Winter cycle")
    assert len(found) == len(hours[band])
    assert None not in found
    assert 0 in found, "nothing gives way where there is room"


@pytest.mark.parametrize("band", ["lantern", "harbor", "beacon"])
def test_a_substitute_has_all_of_the_hour_on_one_page(demo: Binder, band: str) -> None:
    """Sections in four rooms, a rehearsal in the hall, the concert's day: what gives way is never whom to ask or what not to do."""
    winter = demo.cycles[0]
    (ensemble,) = (one for one in winter.ensembles if one.item.id == band)
    with demo.context.speaking():
        views = substitute_sheets.substitute_pages(demo, winter, ensemble)
        sheet = substitute_sheets.substitute_sheet("s.pdf", "S", *views)
        made = sheet_file(demo, sheet, cycle=winter.id)
        pages = pages_of(demo, sheet)
    found = given_way(demo, sheet, made, "Winter cycle")
    assert len(found) == len(views)
    assert None not in found
    for view, page in zip(views, pages, strict=True):
        said = said_by(page, MOST).replace("’", "'")
        for lines in ("nobody lifts cases", "#warm-up", "NIOSH"):
            assert lines in said
        # Lines about the band's own room are of no use in the hall, where the office has closed.
        away = "Civic Hall" in view.day.line.room
        for lines in ("555-0100", "red folder", "room 114", "percussion cabinet"):
            assert (lines in said) is not away
        assert ("555-0142" in said) is away
        assert ("Read this aloud." in said) == view.read_aloud
        assert not view.habit or (view.first_of_habit or view.habit) in said
        told = [one for one in view.blocks if one.exercise and (one.short or one.words) in said]
        assert told or not view.exercises


def test_a_substitute_has_one_page_in_a_language_with_longer_words(demo: Binder) -> None:
    winter = demo.cycles[0]
    (lantern,) = (one for one in winter.ensembles if one.item.id == "lantern")
    spanish = replace(demo, context=Context(demo.plan, "es"))
    with spanish.context.speaking():
        views = substitute_sheets.substitute_pages(spanish, winter, lantern)
        sheet = substitute_sheets.substitute_sheet("s.pdf", "S", *views)
        made = sheet_file(spanish, sheet, cycle=winter.id)
    assert len(page_texts(made.content)) == len(views)


def test_what_is_said_at_the_substitutes_sound_can_be_found(demo: Binder) -> None:
    """The code is read back by ZXing from the page as PDFium draws it, at 108 dots an inch."""
    winter = demo.cycles[0]
    (lantern,) = (one for one in winter.ensembles if one.item.id == "lantern")
    with demo.context.speaking():
        views = substitute_sheets.substitute_pages(demo, winter, lantern)
        played = next(one for one in views if one.recordings)
        sheet = substitute_sheets.substitute_sheet("s.pdf", "S", played)
        (page,) = pages_of(demo, sheet)
        made = sheet_file(demo, sheet)
    said = said_by(page, 0)
    assert "Recording for " in said
    assert "media/" not in said
    drawn = pypdfium2.PdfDocument(made.content)[0].render(scale=1.5, grayscale=True).to_pil()
    assert [code.text for code in zxingcpp.read_barcodes(drawn)] == [f"https://{played.address}"]
    dotted = [
        one for one in views if any(b.shown.tempo and b.shown.tempo.beat.dotted for b in one.blocks)
    ]
    assert all("♩. counts the same way." in one.signs for one in dotted)
    assert dotted


def test_a_full_hour_of_fourteen_blocks_is_one_page_and_says_what_gave_way(
    demo: Binder, hours: dict[str, tuple[RehearsalSheet, ...]]
) -> None:
    for sheets in hours.values():
        fullest = max(sheets, key=lambda sheet: len(sheet.needs) + len(sheet.notes))
        watched = [
            replace(block, told_before=False)
            for sheet in sheets
            for block in sheet.blocks
            if block.watch
        ]
        others = [block for block in fullest.blocks if not block.shown.how]
        full = replace(fullest, blocks=(*others[:-1], *watched[: 14 - len(others)], others[-1]))
        assert len(full.blocks) == 14
        with demo.context.speaking():
            made = sheet_file(demo, rehearsal_sheet("r.pdf", "R", full)).content
        (page,) = page_texts(made)
        assert dense("More to watch is in the stand view.") in dense(page)
        body = [run for run in runs(made) if len(run.text.strip()) > 30]
        assert min(run.points for run in body) >= CREW_POINTS - 0.01


def test_what_was_watched_at_the_rehearsal_before_gives_way_before_what_is_new(
    demo: Binder, hours: dict[str, tuple[RehearsalSheet, ...]]
) -> None:
    winter = demo.cycles[0]
    for band in winter.ensembles:
        before: set[tuple[str, str]] = set()
        for row, sheet in zip(band.rehearsals, hours[band.item.id], strict=True):
            now = [
                (one.piece.id, one.passage.id) if one.piece and one.passage else ("", "")
                for one in row.blocks
            ]
            assert [one.told_before for one in sheet.blocks] == [one in before for one in now]
            before = {*now} - {("", "")}
    sheets = [sheet for one in hours.values() for sheet in one]
    mixed = next(
        sheet
        for sheet in sheets
        if {block.told_before for block in sheet.blocks if block.watch} == {True, False}
    )
    old, new = (
        [one.watch[0].text for one in mixed.blocks if one.watch and one.told_before is told]
        for told in (True, False)
    )
    with demo.context.speaking():
        (page,) = pages_of(demo, rehearsal_sheet("r.pdf", "R", mixed))
    said = dense(said_by(page, 2))
    assert not [text for text in old if text not in new and dense(text) in said]
    assert [text for text in new if dense(text.partition('"')[0]) not in said] == []


def test_the_thanks_of_a_band_are_one_page(demo: Binder) -> None:
    with demo.context.speaking():
        _, sheet = thanks.files(demo)
    assert len(page_texts(sheet.content)) == len(demo.cycles[0].ensembles)


def test_the_version_of_a_page_is_that_of_its_words_and_stands_on_the_first_page(
    demo: Binder, hours: dict[str, tuple[RehearsalSheet, ...]]
) -> None:
    one, two = hours["lantern"][:2]
    changed = replace(two, warm_up="Another warm-up")
    with demo.context.speaking():
        was, same, now = (
            sheet_file(
                demo,
                rehearsal_sheet("r.pdf", "R", *sheets),
                about="Sheets",
                cycle=demo.cycles[0].id,
                parts=("one", "two"),
            )
            for sheets in ((one, two), (one, two), (one, changed))
        )
        first = index(demo, [was]).content.decode()
    assert was.versions == same.versions
    assert was.versions[0] == now.versions[0]
    assert was.versions[1] != now.versions[1]
    for (part, version), page in zip(was.versions, page_texts(was.content), strict=True):
        assert dense(page).endswith(dense(f"Winter cycle{version}"))
        assert dense(f"{part}{version}") in dense(re.sub(r"<[^>]+>", "", first))


def test_a_range_of_measures_stands_on_one_line_and_a_tempo_apart(
    printed: dict[str, BinderFile],
) -> None:
    """From content/cycles/winter-2026: "mm. 39–48" and its tempo met on October 27."""
    for text in page_texts(printed["harbor"].content):
        assert not re.search(r"mm\.\s*\n|\d–\n", text)
        assert not re.search(r"\d–\d+♩", text)
