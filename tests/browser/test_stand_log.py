"""The log of the stand view, and what is kept of a rehearsal: nothing false, nothing lost, nothing forgotten."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from playwright.sync_api import Browser, Page, expect

from handbook.pipeline import load_plan
from handbook.plan.logs import reached_beside
from tests.binder.stand_content import stand_files
from tests.browser.axe import ENHANCED, WCAG_AND_BEST_PRACTICE, findings
from tests.browser.tablet import Tablet, stand_address
from tests.content_folders import write_folder

pytestmark = pytest.mark.browser

# Harbor plays first: 7:00 pm less 5, 5, 20 and 10 minutes is 6:20 pm, when it must be ready.
ALLOWANCES = "allowances: {unpack: 10, warm_up: 20, walk: 5, in_place: 5, walk_back: 5, pack: 10, to_door: 5}\n"


@pytest.fixture(scope="module")
def stand(tmp_path_factory: pytest.TempPathFactory) -> str:
    files = stand_files()
    files["cycles/winter/concert.yaml"] += f"{ALLOWANCES}private: Keys at the stage door\n"
    return stand_address(write_folder(tmp_path_factory.mktemp("log") / "content", files))


@pytest.fixture(scope="module")
def tablet(browser: Browser, stand: str) -> Iterator[Tablet]:
    opened = Tablet(browser, stand)
    yield opened
    opened.close()
    assert opened.faults == []


def log_text(page: Page) -> str:
    return page.locator(".log-text").text_content() or ""


def skip_to_the_close(tablet: Tablet) -> Page:
    """Lantern on Wednesday: at 10:35 the second block on the opening is on, both joins to the chase are ahead."""
    page = tablet.at("2026-10-21T10:35:00-05:00")
    tablet.tap("block 7")
    tablet.tap("begin this")
    return page


# --- What was not played ------------------------------------------------------------------------


def test_what_fell_out_and_no_other_block_played_stands_as_not_played(
    tablet: Tablet, tmp_path: Path
) -> None:
    page = skip_to_the_close(tablet)
    button = page.locator('[data-key="log not chase"]')
    expect(button).to_have_attribute("aria-pressed", "true")
    expect(page.locator('[data-key="log not opening"]')).to_have_attribute("aria-pressed", "false")
    expect(page.locator(".log")).to_contain_text("dropped or skipped stands as not played")
    text = log_text(page)
    files = {**stand_files(), "cycles/winter/log/2026-10-21-lantern.yaml": text}
    plan = load_plan(write_folder(tmp_path / "content", files)).plan
    assert plan is not None
    lantern = plan.cycles[0].ensembles[0]
    place = next(one.place for one in lantern.rehearsals if f"{one.rehearsal.day}" == "2026-10-21")
    assert {one.passage.id: one.reached for one in reached_beside(lantern)[place]} == {
        "chase": None
    }
    tablet.tap("log not chase")
    expect(button).to_have_attribute("aria-pressed", "false")
    page.reload()
    assert "not_done" not in log_text(page), "what was said by hand stays"
    tablet.tap("log not chase")
    assert "not_done: [chase]" in log_text(page)


def test_a_passage_that_another_block_played_is_not_left_out(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:41:00-05:00")
    tablet.tap("block 7")
    tablet.tap("begin this")  # of two joins the first was played
    assert "not_done" not in log_text(page)
    expect(page.locator(".log-left-out")).to_have_count(0)


def test_a_dropped_block_leaves_out_its_passages_until_that_is_undone(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:35:00-05:00")
    while tablet.drop_last():
        pass
    assert "not_done: [chase]" in log_text(page)
    while page.locator('[data-key="undo"]').count():
        tablet.tap("undo")
    assert "not_done" not in log_text(page)


def test_what_was_reached_in_it_was_played(tablet: Tablet) -> None:
    page = skip_to_the_close(tablet)
    tablet.tap("log reached chase")
    assert "not_done" not in log_text(page)
    tablet.tap("log reached chase")
    assert "not_done: [chase]" in log_text(page)


# --- Minutes over --------------------------------------------------------------------------------


def test_minutes_over_come_from_the_clock_until_they_are_said(tablet: Tablet) -> None:
    """The second block on the opening is held from 10:35 to 10:53; class ends at 10:50."""
    page = tablet.at("2026-10-21T10:35:00-05:00")
    tablet.tap("stay")
    expect(page.locator("#log-by-clock")).to_be_hidden()
    tablet.later("2026-10-21T10:53:10-05:00")
    field = page.locator("#log-over")
    expect(field).to_have_value("3")
    expect(page.locator("#log-by-clock")).to_be_visible()
    assert "not_done: [chase]\nover: 3\n" in log_text(page), "nothing else came on"
    page.evaluate("shown.hold(null)")
    tablet.later("2026-10-21T10:58:00-05:00")
    expect(field).to_have_value("3")
    field.fill("2")
    expect(page.locator("#log-by-clock")).to_be_hidden()
    assert "over: 2\n" in log_text(page)
    field.fill("0")
    assert "over:" not in log_text(page)
    field.fill("")
    expect(field).to_have_value("")  # nothing is written under the hand
    assert "over: 3\n" in log_text(page)


def test_a_block_that_nobody_let_go_all_evening_is_no_overrun(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:48:00-05:00")
    tablet.tap("stay")
    page.clock.set_fixed_time("2026-10-21T19:00:00-05:00")
    found = page.evaluate("overByClock(shown.rehearsal, shown.went, moment())")
    assert found == 0


def test_a_block_that_nobody_let_go_was_class_as_long_as_it_was_seen(tablet: Tablet) -> None:
    """Held over the bell, 10:50; at 10:54 the director looks at the other band, and at night at the log."""
    page = tablet.at("2026-10-21T10:48:00-05:00")
    tablet.tap("stay")
    tablet.later("2026-10-21T10:54:00-05:00")
    page.get_by_role("button", name="Harbor Band").click()
    page.clock.set_fixed_time("2026-10-21T21:00:00-05:00")
    page.get_by_role("button", name="Lantern Band").click()
    assert "over: 4\n" in log_text(page)


# --- Two windows -----------------------------------------------------------------------------


def test_two_windows_keep_each_other_s_marks_and_the_class_screen_follows(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:20:30-05:00")
    other = page.context.new_page()
    other.goto(tablet.address)
    class_screen = page.context.new_page()
    class_screen.goto(f"{tablet.address}#class")
    tablet.tap("card reached opening")
    other.locator('[data-key="log not chase"]').click()
    expected = ["reached:", "passage: opening", "not_done: [chase]"]
    for window in (page, other):
        expect(window.locator('[data-key="log not chase"]')).to_have_attribute(
            "aria-pressed", "true"
        )
        assert all(words in log_text(window) for words in expected)
    page.reload()
    assert all(words in log_text(page) for words in expected)
    expect(class_screen.locator(".class-name")).to_have_text("Opening")
    tablet.tap("block 7")
    tablet.tap("begin this")
    expect(class_screen.locator(".class-name")).to_have_text("Close")
    other.locator("#log-note").fill("Horns alone")
    assert "Horns alone" in log_text(page)
    other.close()
    class_screen.close()


def test_what_another_window_wrote_stays_though_nobody_told(tablet: Tablet) -> None:
    """A window that sleeps hears of nothing: what lies there is read before it is written."""
    page = tablet.at("2026-10-21T10:20:30-05:00")
    page.evaluate(
        "localStorage.setItem(kept.name(shown.rehearsal), JSON.stringify({ notDone: ['chase'], held: 2 }))"
    )
    tablet.tap("card reached opening")
    assert "passage: opening" in log_text(page)
    assert "not_done: [chase]" in log_text(page)
    assert page.evaluate("shown.on") == 2


# --- Saving ------------------------------------------------------------------------------------


def test_the_first_tap_saves_and_the_page_says_so(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:52:00-05:00")
    saving = page.locator(".log-saving")
    page.locator("#log-over").press_sequentially("12")
    with page.expect_download() as found:
        page.locator('[data-key="save log"]').click()
    assert found.value.suggested_filename == "2026-10-21-lantern.yaml"
    assert "over: 12" in Path(found.value.path()).read_text(encoding="utf-8")
    expect(saving).to_contain_text("Saved as 2026-10-21-lantern.yaml")
    expect(saving).to_contain_text("cycles/winter/log/")
    page.locator("#log-note").fill("Horns alone")
    expect(saving).to_contain_text("Changed since it was saved")


def test_a_tap_is_not_lost_when_the_view_would_draw_anew_under_it(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:52:00-05:00")
    page.locator('[data-key="save log"]').hover()
    page.mouse.down()
    page.evaluate("redraw()")
    with page.expect_download():
        page.mouse.up()


def test_logs_that_were_not_saved_are_told_and_saved_one_a_tap(
    tablet: Tablet, tmp_path: Path
) -> None:
    page = tablet.at("2026-10-21T10:52:00-05:00")
    tablet.tap("log not opening")
    expect(page.locator(".unsafe")).to_have_count(0)
    page.get_by_role("button", name="Harbor Band").click()
    tablet.tap("log reached round")
    page = tablet.at("2026-10-22T09:00:00-05:00", anew=False)
    told = page.locator(".unsafe")
    expect(told).to_contain_text("Logs not saved yet: Lantern Band, Oct 21; Harbor Band, Oct 21")
    files: dict[str, str] = {}
    for label in ("Save Lantern Band, Oct 21", "Save it"):
        save = page.get_by_role("button", name=label)
        with page.expect_download() as saving:  # one a tap, so that no browser asks or stops it
            save.tap()
        read = Path(saving.value.path()).read_text(encoding="utf-8")
        files[saving.value.suggested_filename] = read
    expect(told).to_contain_text("Saved as 2026-10-21-lantern.yaml; 2026-10-21-harbor.yaml")
    whole = stand_files() | {f"cycles/winter/log/{name}": text for name, text in files.items()}
    found = load_plan(write_folder(tmp_path / "content", whole))
    assert found.problems == ()
    assert found.plan is not None
    lantern, harbor = found.plan.cycles[0].ensembles
    rows = [one for band in (lantern, harbor) for row in band.rehearsals for one in row.logs]
    assert sorted(f"{one.item.date} {one.item.ensemble}" for one in rows) == [
        "2026-10-21 harbor",
        "2026-10-21 lantern",
    ]
    page.reload()
    expect(told).to_have_count(0)


def test_a_note_keeps_its_lines(tablet: Tablet, tmp_path: Path) -> None:
    """Read back by the content's own reader, as YAML 1.1 and 1.2 have it, whatever is typed."""
    page = tablet.at("2026-10-21T10:52:00-05:00")
    field = page.locator("#log-note")
    for typed, kept in (
        ("Horns: alone", "Horns: alone"),
        ("  Horns  alone\n\n- drums: 4\n# late\n\n", "Horns alone\n\n- drums: 4\n# late"),
        ("\n'\"\\\n%YAML\n---\n...\n\tend", "'\"\\\n%YAML\n---\n...\nend"),
        ("one\u2028two\x85three\x07", "one\ntwo\nthree"),
    ):
        field.fill(typed)
        read = yaml.safe_load(log_text(page))
        assert read["note"].strip() == kept
        name = "cycles/winter/log/2026-10-21-lantern.yaml"
        found = load_plan(
            write_folder(tmp_path / "content", {**stand_files(), name: log_text(page)})
        )
        assert found.plan is not None
        (note,) = [
            one.item.note
            for row in found.plan.cycles[0].ensembles[0].rehearsals
            for one in row.logs
        ]
        assert note is not None
        assert note.read() == kept
        assert f"{read['date']}" == "Wed 2026-10-21"


NO_STORAGE = (
    "Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } });"
)


def test_where_nothing_is_kept_the_page_says_so_once(browser: Browser, stand: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script(NO_STORAGE)
    page.clock.install(time="2026-10-21T10:52:00-05:00")
    page.goto(stand)
    told = page.locator(".unsafe")
    expect(told).to_contain_text("This browser keeps nothing")
    page.locator('[data-key="keeps nothing"]').click()
    expect(told).to_have_count(0)
    page.locator('[data-key="log not opening"]').click()
    expect(told).to_have_count(0)
    context.close()


def test_where_all_is_kept_nothing_is_said(tablet: Tablet) -> None:
    expect(tablet.at("2026-10-21T10:52:00-05:00").locator(".unsafe")).to_have_count(0)


def test_a_log_is_not_missed_while_its_class_is_on(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:20:30-05:00")
    tablet.tap("card reached opening")
    page.get_by_role("button", name="Harbor Band").click()
    expect(page.locator(".top .band")).to_have_text("Harbor Band")
    expect(page.locator(".unsafe")).to_have_count(0)


# --- Where no class comes ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("moment", "words", "following"),
    [
        ("2026-12-10T15:00:00-06:00", "Begins today at 7:00 pm", "Harbor Band, Ready in the room"),
        (
            "2026-12-10T18:22:00-06:00",
            "In 3 min: Lantern Band, Ready in the room",
            "Lantern Band, Ready in the room",
        ),
        ("2026-12-10T19:00:10-06:00", "In 1 min: Harbor Band, Last note", "Harbor Band, Last note"),
    ],
)
def test_a_concert_that_comes_next_stands_there_with_its_calls(
    tablet: Tablet, moment: str, words: str, following: str
) -> None:
    """The content's downbeat is 7:00 pm, and the last rehearsals are over by 11:40 am."""
    page = tablet.at(moment)
    expect(page.locator(".card .label")).to_have_text(words)
    expect(page.locator(".card .block-name")).to_have_text("Winter concert")
    expect(page.locator(".card .own")).to_contain_text("Keys at the stage door")
    expect(page.locator(".concert-next .line-what").first).to_contain_text(following)
    expect(page.locator(".log")).to_have_count(0)
    harbor = page.locator(".concert-band", has_text="Harbor Band")
    calls = harbor.locator(".line-time").all_inner_texts()
    assert calls[0] == "6:20 pm"
    assert "7:00 pm" in calls
    tablet.tap("before")
    expect(page.locator(".log")).to_have_count(1)
    tablet.tap("to now")
    expect(page.locator(".card .block-name")).to_have_text("Winter concert")


def test_class_on_the_day_of_a_concert_comes_first_and_has_its_hours_beside_it(
    tablet: Tablet,
) -> None:
    page = tablet.at("2026-12-10T10:30:00-06:00")
    expect(page.locator(".top .band")).to_have_text("Harbor Band")
    beside = page.locator(".fact", has_text="Concert today")
    expect(beside).to_contain_text("Winter concert, 7:00 pm, Great Hall")
    expect(beside.locator(".line-time").first).to_have_text("6:20 pm")
    page = tablet.at("2026-12-08T10:30:00-06:00")
    expect(page.locator(".fact", has_text="Concert today")).to_have_count(0)


def test_after_all_of_it_the_cycle_is_over_and_logs_are_still_written(tablet: Tablet) -> None:
    page = tablet.at("2026-12-20T09:00:00-06:00")
    expect(page.locator(".card")).to_contain_text("The cycle is over")
    expect(page.locator(".log")).to_have_count(0)
    tablet.tap("before")
    tablet.tap("log not round")
    tablet.tap("to now")
    expect(page.locator(".unsafe")).to_contain_text("Logs not saved yet: Harbor Band, Dec 9")


def test_what_is_told_beside_a_rehearsal_is_read_by_all(tablet: Tablet) -> None:
    page = skip_to_the_close(tablet)
    tablet.later("2026-10-21T10:51:00-05:00")
    tablet.tap("save log")
    for seen, moment in (
        (".log-saving.is-saved", "2026-10-21T10:52:00-05:00"),
        (".unsafe", "2026-10-22T09:00:00-05:00"),
        (".concert-next", "2026-12-10T18:40:00-06:00"),
    ):
        tablet.at(moment, anew=False)
        expect(page.locator(seen)).to_be_visible()
        found = findings(page, WCAG_AND_BEST_PRACTICE) + findings(page, ENHANCED)
        page.emulate_media(color_scheme="dark")
        assert found + findings(page, ENHANCED) == [], seen
        page.emulate_media(color_scheme="light")
        if seen == ".log-saving.is-saved":
            tablet.tap("log not opening")
