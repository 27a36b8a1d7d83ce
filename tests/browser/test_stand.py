"""The stand view on a tablet: the right rehearsal, what is on, running late, and the log that comes of it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import time
from fractions import Fraction
from itertools import pairwise, product
from pathlib import Path
from random import Random
from typing import Any, cast

import pytest
import yaml
from playwright.sync_api import Browser, Page, expect

from handbook.domain.overrun import places_to_drop, shared_to_the_end, without, without_last
from handbook.pipeline import load_plan
from handbook.plan.logs import minutes_over, reached_beside
from handbook.plan.model import Plan
from handbook.plan.opening_thanks import opening_thanks
from handbook.schema.log import Log
from tests.binder.stand_content import stand_files
from tests.browser.axe import ENHANCED, WCAG_AND_BEST_PRACTICE, findings
from tests.browser.tablet import ON_WEDNESDAY, PODIUM, Tablet, stand_address, wait_until
from tests.content_folders import write_folder

pytestmark = pytest.mark.browser

DESK = (1280, 800)
LEAST_LETTERS = 48  # pixels of what is read from two meters
LEAST_OF_ALL = 16
LEAST_TARGET = 44  # pixels of what is tapped: WCAG 2.2 SC 2.5.5


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_folder(tmp_path_factory.mktemp("stand") / "content", stand_files())


@pytest.fixture(scope="module")
def stand(content: Path) -> str:
    """The address of the file, as it is opened from a tablet's own storage."""
    return stand_address(content)


@pytest.fixture(scope="module")
def tablet(browser: Browser, stand: str) -> Iterator[Tablet]:
    opened = Tablet(browser, stand)
    yield opened
    opened.close()
    assert opened.faults == []
    assert {url.partition(":")[0] for url in opened.asked} <= {"file", "data", "blob"}


# --- The same numbers as Python -------------------------------------------------------------


def test_the_time_left_is_shared_as_python_shares_it(tablet: Tablet) -> None:
    random = Random(5)
    cases: list[tuple[int, list[int], list[bool]]] = []
    for _ in range(200):
        planned = [random.randint(0, 20) for _ in range(random.randint(1, 12))]
        planned[0] += not planned[0]
        cases.append((random.randint(0, 90), planned, [random.random() < 0.6 for _ in planned[1:]]))
    page = tablet.at(ON_WEDNESDAY)
    found = page.evaluate(
        """(cases) => cases.map(([left, planned, music]) => [
             sharedToTheEnd(left, planned, music), withoutLast(planned),
             ...placesToDrop(planned).map((place) => sharedToTheEnd(left, without(planned, place), music))])""",
        cases,
    )
    assert found == [
        [
            list(shared_to_the_end(left, planned, music)),
            list(without_last(planned)),
            *(
                list(shared_to_the_end(left, without(planned, place), music))
                for place in places_to_drop(planned)
            ),
        ]
        for left, planned, music in cases
    ]


COURSE = """([place, turns]) => {
  const rehearsal = data.rehearsals[place];
  return [rehearsal.at, endOf(rehearsal), rehearsal.blocks.map((one) => one.minutes),
          courseOf(rehearsal, { turns }).map((one) => [one.start, one.end, one.minutes])];
}"""


def test_whatever_is_begun_when_the_end_stays(tablet: Tablet) -> None:
    """Blocks follow one another without a gap, and the last ends with the class."""
    random, page = Random(7), tablet.at(ON_WEDNESDAY)
    for _ in range(40):
        place = random.randint(0, 5)
        start, end, minutes, _ = page.evaluate(COURSE, [place, []])
        turns = [
            {
                "block": block,
                "at": start + random.randint(0, end - start),
                "drop": random.choice([False, False, True, block + 1, block + 2, 99]),
            }
            for block in sorted(random.sample(range(len(minutes)), 2))
        ]
        turns.sort(key=lambda turn: (turn["block"], turn["at"]))
        turns[1]["at"] = max(turns[0]["at"], turns[1]["at"])
        course = page.evaluate(COURSE, [place, turns])[3]
        ahead = course[turns[1]["block"] :]
        assert ahead[0][0] == turns[1]["at"]
        assert ahead[-1][1] == end
        assert all(before[1] == after[0] for before, after in pairwise(course))
        left = (end - turns[1]["at"]) // 60
        assert sum(one[2] for one in ahead) == left


def test_where_there_is_no_close_all_blocks_share(tablet: Tablet) -> None:
    """Of 20 minutes 6 are gone: 14 over two blocks alike are 7 each, and none is kept whole."""
    page = tablet.at(ON_WEDNESDAY)
    music = [{"kind": "music", "minutes": 10}] * 2
    found = page.evaluate(
        """(blocks) => courseOf({ at: 0, minutes: 20, clock: 600, blocks }, { turns: [{ block: 0, at: 360 }] })
             .map((one) => one.minutes)""",
        music,
    )
    assert found == [7, 7] == list(shared_to_the_end(14, [10, 10, 0]))[:2]


# --- The right rehearsal --------------------------------------------------------------------

# The school's zone is America/Chicago; lantern meets Mon and Wed 10:05, harbor Tue and Thu 10:55
# and Wed 10:05. Instants as a director would live through them.
INSTANTS = [
    ("during", "2026-10-20T11:01:00-05:00", "Harbor Band", "on", "Warm up"),
    ("five minutes before", "2026-10-20T10:50:00-05:00", "Harbor Band", "before", "Begins in 5 min"),
    ("night before", "2026-10-19T21:30:00-05:00", "Harbor Band", "before", "Begins tomorrow at 10:55 am"),
    ("weekend", "2026-10-24T12:00:00-05:00", "Lantern Band", "before", "Begins on Monday, October 26 at 10:05 am"),
    ("right after", "2026-10-20T11:43:00-05:00", "Harbor Band", "after", "This rehearsal is over"),
    ("between classes", "2026-10-20T12:15:00-05:00", "Lantern Band", "before", "Begins tomorrow at 10:05 am"),
    ("right after the last", "2026-12-10T11:43:00-06:00", "Harbor Band", "after", "This rehearsal is over"),
    ("the day clocks go back", "2026-11-01T14:12:00-06:00", "Lantern Band", "on", "Thanks and notices"),
    ("two bands at once", ON_WEDNESDAY, "Lantern Band", "on", "Now"),
]  # fmt: skip


SIZES = {"podium": PODIUM, "desk": DESK}
OPENED = """() => ({
  band: document.querySelector(".top .band").textContent,
  card: document.querySelector(".card").classList[1],
  words: document.querySelector(".card").innerText,
  card_in_sight: document.querySelector(".card .card-label").getBoundingClientRect().bottom < innerHeight / 2,
  ground: getComputedStyle(document.querySelector(".card")).backgroundColor,
})"""


@pytest.mark.parametrize(("moment", "band", "kind", "words"), [one[1:] for one in INSTANTS], ids=[one[0] for one in INSTANTS])  # fmt: skip
def test_it_opens_at_the_right_rehearsal(
    tablet: Tablet, moment: str, band: str, kind: str, words: str
) -> None:
    """Held upright and on a desk, light and dark; the way to another and back by touch and by key."""
    page, grounds = tablet.at(moment), set[str]()
    for scheme, size in product(("light", "dark"), SIZES.values()):
        page.set_viewport_size({"width": size[0], "height": size[1]})
        page.emulate_media(color_scheme=cast("Any", scheme))
        found = page.evaluate(OPENED)
        assert (found["band"], found["card"]) == (band, f"is-{kind}")
        assert words in found["words"]
        assert found["card_in_sight"]
        grounds.add(found["ground"])
        measured = page.evaluate(MEASURE, LEAST_TARGET)
        assert measured["small"] == []
        assert measured["sideways"] <= 0
        assert min([*measured["names"], *measured["tempos"]], default=48) >= LEAST_LETTERS
    assert len(grounds) == 2
    way = "after" if page.locator('[data-key="after"]').is_enabled() else "before"
    for press in (tablet.tap, tablet.press):
        press(way)
        assert page.evaluate("shown.chosen")
        press("to now")
        found = page.evaluate(OPENED)
        assert (found["band"], found["card"]) == (band, f"is-{kind}")
    page.set_viewport_size({"width": PODIUM[0], "height": PODIUM[1]})
    page.emulate_media(color_scheme="light")


def test_of_two_bands_at_once_the_one_shown_before_comes_first(tablet: Tablet) -> None:
    page = tablet.at(ON_WEDNESDAY)
    expect(page.locator(".chip")).to_have_count(2)
    page.get_by_role("button", name="Harbor Band").click()
    expect(page.locator(".top .band")).to_have_text("Harbor Band")
    page = tablet.at("2026-10-28T10:30:00-05:00", anew=False)
    expect(page.locator(".top .band")).to_have_text("Harbor Band")


def test_another_rehearsal_is_one_tap_away_and_so_is_the_way_back(tablet: Tablet) -> None:
    page = tablet.at("2026-10-20T11:05:00-05:00")
    day = page.locator(".days option:checked")
    tablet.tap("after")
    expect(day).to_have_text("Tomorrow, Wed, Oct 21")
    tablet.later("2026-10-20T11:06:00-05:00")
    expect(day).to_have_text("Tomorrow, Wed, Oct 21")
    tablet.tap("to now")
    expect(day).to_have_text("Today, Tue, Oct 20")


# --- What is on, and running late -----------------------------------------------------------


def times(page: Page) -> list[list[str]]:
    """Give the clock time and the minutes of each line."""
    lines = page.locator(".order .line")
    return [
        [one.locator(".line-time").inner_text(), one.locator(".line-minutes").inner_text()]
        for one in lines.all()
    ]


def test_minutes_left_follow_the_clock_and_the_next_block_comes_by_itself(tablet: Tablet) -> None:
    page = tablet.at("2026-10-20T11:00:00-05:00")
    left = page.locator("[data-left]")
    expect(page.locator(".block-name")).to_have_text("Warm up")
    expect(left).to_have_text("5 min")
    expect(page.locator(".clock")).to_have_text("11:00 am")
    expect(page.locator(".bell")).to_have_text("40 min to the end of class")
    tablet.later("2026-10-20T11:00:30-05:00")
    expect(left).to_have_text("5 min")
    tablet.later("2026-10-20T11:04:00-05:00")
    expect(left).to_have_text("1 min")
    tablet.later("2026-10-20T11:04:01-05:00")
    expect(left).to_have_text("0:59")
    tablet.later("2026-10-20T11:04:10-05:00")
    expect(left).to_have_text("0:50")
    expect(page.locator(".card.is-last-minute")).to_be_visible()
    tablet.later("2026-10-20T11:05:00-05:00")
    expect(page.locator(".block-name")).to_have_text("Thanks and notices")
    expect(page.locator("[aria-current=step] .line-what")).to_have_text("Thanks and notices")


def test_one_tap_shares_what_is_left_and_the_end_stays(tablet: Tablet) -> None:
    """Harbor from 10:55 to 11:40; notices should have begun at 11:05, and begin at 11:11."""
    page = tablet.at("2026-10-20T11:06:00-05:00")
    planned = times(page)
    assert planned[2] == ["11:05 am", "3 min"]
    minutes = [int(one[1].split()[0]) for one in planned[2:]]
    page.clock.set_fixed_time("2026-10-20T11:11:00-05:00")
    tablet.tap("block 2")
    tablet.tap("begin this")
    found = times(page)
    assert found[2][0] == "11:11 am"
    assert found[1] == ["10:59 am", "12 min"], "what the block before really took"
    assert [int(one[1].split()[0]) for one in found[2:] if "min" in one[1]] == [
        one for one in shared_to_the_end(29, minutes) if one
    ]
    assert found[-1] == ["11:37 am", "3 min"]
    expect(page.locator(".order-end")).to_have_text("The end: 11:40 am")
    page.reload()
    assert times(page) == found, "kept on the device"
    tablet.tap("undo")
    assert times(page) == planned


def test_another_tap_drops_the_last_block_and_never_the_close(tablet: Tablet) -> None:
    page = tablet.at("2026-10-20T11:06:00-05:00")
    while tablet.drop_last():
        pass
    lasts = [one[1] for one in times(page)]
    assert lasts.count("dropped") == len(lasts) - 4  # set-up, warm-up, notices and close are left
    assert lasts[-1] == "3 min"


def test_another_block_than_the_last_is_dropped_where_the_last_is_needed(tablet: Tablet) -> None:
    """From the foot of the card, or from the block itself; the run-through at the end stays."""
    page = tablet.at("2026-10-21T10:20:30-05:00")
    before = times(page)
    tablet.tap("late")
    expect(page.locator(".is-choice button").first).to_be_focused()
    expect(page.locator(".is-choice button").last).to_have_text("Change nothing")
    choices = page.locator(".is-choice [data-key^='drop ']:not([data-key='drop none'])")
    told = choices.all_inner_texts()
    assert len(told) >= 3
    assert len({*told}) == len(told), "each by its name and measures"
    assert all("mm." in one and one.endswith(" min") for one in told)
    tablet.tap("drop none")
    assert times(page) == before
    tablet.tap("late")
    key = choices.last.get_attribute("data-key")
    assert key is not None
    place = int(key.removeprefix("drop "))
    choices.last.tap()
    found = times(page)
    assert [one[1] == "dropped" for one in found] == [n == place for n in range(len(found))]
    assert found[-1][0] == before[-1][0], "the close"
    page.reload()
    assert times(page) == found
    assert page.evaluate("shown.on") == place - 1
    expect(page.locator(".pace .next-time")).to_have_text(found[place + 1][0])
    tablet.tap("next")
    assert page.evaluate("shown.on") == place + 1, "what was dropped is no longer next"
    assert page.evaluate("precedingIn(shown.course, shown.on)") == place - 1
    tablet.tap("undo")
    tablet.tap(f"block {place}")
    tablet.tap("begin this")  # it is played after all
    assert page.evaluate("[shown.on, shown.course[shown.on].minutes > 0]") == [place, True]
    tablet.tap("undo")
    tablet.tap("undo")
    assert times(page) == before
    tablet.tap(f"block {place}")
    tablet.tap("drop this")
    assert times(page) == found
    tablet.tap("undo")
    tablet.tap(f"block {len(found) - 1}")
    expect(page.locator('[data-key="begin this"]')).to_be_visible()
    expect(page.locator('[data-key="drop this"]')).to_have_count(0)  # the close never falls out


def test_a_block_that_is_held_stays_on_when_its_time_is_over(tablet: Tablet) -> None:
    page = tablet.at("2026-10-20T11:03:00-05:00")
    tablet.tap("stay")
    tablet.later("2026-10-20T11:07:05-05:00")
    expect(page.locator(".block-name")).to_have_text("Warm up")
    expect(page.locator("[data-left]")).to_have_text("+2:05")
    tablet.tap("next")
    expect(page.locator(".block-name")).to_have_text("Thanks and notices")
    assert times(page)[2][0] == "11:07 am"


# --- What was reached, as a log ---------------------------------------------------------------


def turns_of(plan: Plan) -> list[tuple[str, ...]]:
    """Give whom each rehearsal of the first band thanks, by their ids."""
    cycle = plan.cycles[0]
    turns = opening_thanks(plan)[cycle.id, cycle.ensembles[0].item.id]
    return [tuple(one.id for one in row.whom) for row in turns.rows]


def test_what_is_kept_becomes_a_log_that_the_plan_reads(
    tablet: Tablet, content: Path, tmp_path: Path
) -> None:
    page = tablet.at("2026-10-21T10:52:00-05:00")
    page.get_by_role("button", name="Lantern Band").click()
    keys = page.locator(".log-line").evaluate_all(
        "lines => lines.map((line) => line.querySelector('.keep').dataset.key.replace('log reached ', ''))"
    )
    assert keys == ["opening", "chase"]
    tablet.tap("log faster opening")
    reached = page.locator('[data-key="log reached opening"]').inner_text().split()[-1]
    tablet.tap("log reached opening")
    tablet.tap("log not chase")
    tablet.tap("thanked")
    page.locator("#log-over").fill("4")
    page.locator("#log-over").blur()
    page.locator("#log-note").fill('Horns: "first" alone\nnext time')
    page.reload()
    with page.expect_download() as saving:
        tablet.tap("save log")
    saved = saving.value
    assert saved.suggested_filename == "2026-10-21-lantern.yaml"
    expect(page.locator(".log")).to_contain_text("cycles/winter/log/")
    text = Path(saved.path()).read_text(encoding="utf-8")
    files = {**stand_files(), f"cycles/winter/log/{saved.suggested_filename}": text}
    found = load_plan(write_folder(tmp_path / "content", files))
    assert found.problems == ()
    assert found.plan is not None
    lantern = found.plan.cycles[0].ensembles[0]
    row = next(one for one in lantern.rehearsals if f"{one.rehearsal.day}" == "2026-10-21")
    assert minutes_over(row) == 4
    log = row.logs[0].item
    assert log.thanked == turns_of(found.plan)[row.place]
    assert log.note is not None
    assert log.note.read() == 'Horns: "first" alone\nnext time'
    rows = {one.passage.id: one for one in reached_beside(lantern)[row.place]}
    opening, chase = rows["opening"], rows["chase"]
    assert opening.reached is not None
    assert opening.planned is not None
    assert opening.reached.bpm == Fraction(reached) > opening.planned.bpm
    assert chase.reached is None


def test_a_log_of_a_group_names_it_and_the_hour_where_that_is_needed(tablet: Tablet) -> None:
    page = tablet.at(ON_WEDNESDAY)
    text: str = page.evaluate(
        """() => {
             data.bands.push({ ensemble: "lantern", group: "gold" });
             const rehearsal = { band: data.bands.length - 1, day: "2026-10-21", log: { start: "noon" } };
             return logText(rehearsal, { reached: {}, notDone: ["chase"], over: 0, note: "", thanked: [] });
           }"""
    )
    assert text == (
        "date: Wed 2026-10-21\nensemble: lantern\ngroup: gold\nstart: noon\nnot_done: [chase]\n"
    )
    read = yaml.safe_load(text)
    log = Log.model_validate({**read, "date": "Wed 2026-10-21"})
    assert (log.group, log.start, log.not_done) == ("gold", time(12), ("chase",))


def test_a_second_tap_takes_back_what_was_kept(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:52:00-05:00")
    text = page.locator(".log-text")
    assert "reached:" not in (text.text_content() or "")
    tablet.tap("log reached opening")
    assert "reached:" in (text.text_content() or "")
    tablet.tap("log reached opening")
    assert "reached:" not in (text.text_content() or "")
    tablet.tap("log not opening")
    tablet.tap("log reached opening")
    assert "not_done" not in (text.text_content() or "")


NO_STORAGE = (
    "Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } });"
)


def test_it_works_where_nothing_may_be_kept(browser: Browser, stand: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.add_init_script(NO_STORAGE)
    page.clock.install(time=ON_WEDNESDAY)
    page.clock.set_fixed_time("2026-10-21T10:52:00-05:00")
    page.goto(stand)
    page.locator('[data-key="log not opening"]').click()
    page.get_by_role("button", name="Harbor Band").click()
    page.get_by_role("button", name="Lantern Band").click()
    expect(page.locator(".log-text")).to_contain_text("not_done: [opening]")
    assert faults == []
    context.close()


# --- The room ---------------------------------------------------------------------------------

STATES = {
    "before": "2026-10-20T10:50:00-05:00",
    "on": "2026-10-21T10:29:00-05:00",
    "last minute": "2026-10-20T11:04:10-05:00",
    "after": "2026-10-20T11:43:00-05:00",
}
MEASURE = """(least) => {
  const size = (selector) => [...document.querySelectorAll(selector)].map((one) => parseFloat(getComputedStyle(one).fontSize));
  const shown = [...document.querySelectorAll("button, select, summary, input")].filter((one) => one.offsetParent);
  return {
    names: size(".block-name"), tempos: size(".tempo :is(b, .bpm)"), left: size("[data-left]"),
    small: shown.map((one) => [one.dataset.key || one.id, one.getBoundingClientRect()])
      .filter(([, box]) => Math.min(box.width, box.height) < least).map(([key, box]) => [key, box.width, box.height]),
    sideways: document.documentElement.scrollWidth - innerWidth,
    least: Math.min(...[...document.querySelectorAll("body *")].filter((one) => one.offsetParent && [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
      .map((one) => parseFloat(getComputedStyle(one).fontSize))),
    head: document.querySelector(".stand-head").getBoundingClientRect().height,
  };
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PODIUM, DESK], ids=["podium", "desk"])
def test_every_state_is_read_from_two_meters_and_tapped_by_a_hand(
    tablet: Tablet, size: tuple[int, int], scheme: Any
) -> None:
    tablet.page.set_viewport_size({"width": size[0], "height": size[1]})
    tablet.page.emulate_media(color_scheme=scheme)
    for state, moment in STATES.items():
        page = tablet.at(moment)
        measured = page.evaluate(MEASURE, LEAST_TARGET)
        assert measured["small"] == [], state
        assert measured["sideways"] <= 0, state
        assert measured["least"] >= LEAST_OF_ALL, state
        assert measured["head"] < 2 * LEAST_TARGET, "the choice of rehearsals is one line"
        large = measured["names"] + measured["tempos"]
        large += measured["left"] if state in {"on", "last minute"} else []
        assert min(large, default=LEAST_LETTERS) >= LEAST_LETTERS, state
        assert len(large) >= (state != "after"), state
        found = [*findings(page, ENHANCED)]
        if scheme == "light":
            found += findings(page, WCAG_AND_BEST_PRACTICE)
        assert found == [], state
    tablet.page.set_viewport_size({"width": PODIUM[0], "height": PODIUM[1]})
    tablet.page.emulate_media(color_scheme="light")


LONG = "Uneven wheel again in the second ending of the afternoon"
WITH_LONG_NAMES = """(name) => {
  for (const one of data.passages) Object.assign(one, { name, piece: `${name}, the piece` });
  for (const { blocks } of data.rehearsals) for (const one of blocks) one.title = `${name}, the piece`;
  redraw();
}"""
MOST_OF_FOOT = 125  # pixels: what comes next in one line, and one row of buttons


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
def test_long_names_are_as_large_and_the_foot_stays_two_lines(
    tablet: Tablet, size: tuple[int, int]
) -> None:
    tablet.page.set_viewport_size({"width": size[0], "height": size[1]})
    for moment in ("2026-10-21T10:29:00-05:00", "2026-10-21T10:44:30-05:00"):
        page = tablet.at(moment)
        page.evaluate(WITH_LONG_NAMES, LONG)
        tablet.tap("next")  # which also brings the way to undo it
        measured = page.evaluate(MEASURE, LEAST_TARGET)
        assert min([*measured["names"], *measured["tempos"]]) >= LEAST_LETTERS
        assert measured["sideways"] <= 0
        assert measured["small"] == []
        foot = page.locator(".pace").bounding_box()
        assert foot is not None
        assert foot["height"] <= MOST_OF_FOOT
        assert foot["y"] + foot["height"] <= size[1]
        expect(page.locator('[data-key="undo"]')).to_be_in_viewport()
        lines = page.locator(".pace-button").evaluate_all(
            "all => all.map((one) => one.getBoundingClientRect().top)"
        )
        assert len({*lines}) == 1
    tablet.page.set_viewport_size({"width": PODIUM[0], "height": PODIUM[1]})


def test_set_up_and_close_say_what_is_to_be_laid_ready(tablet: Tablet) -> None:
    """The close of a Wednesday tells of the band's next rehearsal, the Monday after it."""
    page = tablet.at("2026-10-21T10:06:00-05:00")
    page.evaluate("shown.rehearsal.needs = [{ text: 'Mutes', where: 'shelf' }]; redraw()")
    card = page.locator(".card.is-on")
    expect(card).to_contain_text("What must lie ready")
    expect(card).to_contain_text("Mutes")
    expect(page.locator(".side")).not_to_contain_text("Mutes")  # once is enough
    page.evaluate(
        "Object.assign(followingOf(shown.rehearsal), { needs: [{ text: 'Mallets' }], purpose: 'All of it' })"
    )
    tablet.later("2026-10-21T10:48:00-05:00")
    expect(card).to_contain_text("Next time: Mon, Oct 26, 10:05 am")
    expect(card).to_contain_text("Music begins with")
    for words in ("Mallets", "All of it"):
        expect(card).to_contain_text(words)
    expect(page.locator(".side")).to_contain_text("Mutes")
    page = tablet.at("2026-12-10T11:38:30-06:00")  # the last one of all
    expect(page.locator(".card.is-on .block-name")).to_have_text("Close")
    expect(page.locator(".card.is-on")).not_to_contain_text("Next time")


def test_all_is_worked_by_keyboard_and_the_focus_stays(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:29:00-05:00")
    reached: list[str] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        key = page.evaluate("document.activeElement.dataset.key || document.activeElement.id || ''")
        first = key not in reached
        reached.append(key)
        if key == "card reached opening" and first:
            page.keyboard.press("Enter")
            pressed = page.evaluate(
                "[document.activeElement.dataset.key, document.activeElement.getAttribute('aria-pressed')]"
            )
            assert pressed == [key, "true"]
    wanted = {"late", "stay", "next", "block 0", "note", "save log", "all rehearsals"}
    assert wanted <= {*reached}


def test_a_click_sounds_at_the_tempo_of_the_day(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:29:00-05:00")
    play = page.locator('[data-key="card play opening"]')
    tempo = page.locator(".tempo .bpm").first.input_value()
    expect(play).to_have_attribute("aria-label", f"Play {tempo}, quarter note")
    play.click()
    expect(play).to_have_attribute("aria-pressed", "true")
    assert page.evaluate("[sound.on, sound.track.bpm]") == [True, json.loads(tempo)]
    page.keyboard.press("Escape")
    expect(play).to_have_attribute("aria-pressed", "false")


def test_a_tempo_between_two_marks_is_typed_and_kept(tablet: Tablet, tmp_path: Path) -> None:
    """Marks of the metronome near 60 are 60 and 63 (the traditional settings); a band plays 61 or 62.5."""
    page = tablet.at("2026-10-21T10:29:00-05:00")
    field = page.locator('[data-key="card tempo opening"]')
    text, reach = page.locator(".log-text"), page.locator('[data-key="card reached opening"]')
    for typed, kept in (
        ("61", "61"),
        ("62.5", "62.5"),
        ("62,3", "62.5"),
        ("9", "62.5"),
        ("fast", "62.5"),
    ):
        field.fill(typed)
        field.press("Enter")
        expect(field).to_have_value(kept)
        expect(reach).to_contain_text(f"Reached {kept}")
    field.press("ArrowDown")
    expect(field).to_have_value("61.5")
    field.press("ArrowUp")
    field.press("ArrowUp")
    expect(field).to_be_focused()
    tablet.tap("card reached opening")
    assert "tempo: quarter = 63.5}" in (text.text_content() or "")
    tablet.tap("card slower opening")
    expect(field).to_have_value("63")
    expect(page.locator(".card .kept")).to_have_text("Kept: 63.5")
    field.fill("66.5")
    tablet.tap("card reached opening")  # at once, with no other key
    assert "tempo: quarter = 66.5}" in (text.text_content() or "")
    files = {**stand_files(), "cycles/winter/log/a.yaml": text.text_content() or ""}
    plan = load_plan(write_folder(tmp_path / "content", files)).plan
    assert plan is not None
    rows = [one for row in reached_beside(plan.cycles[0].ensembles[0]).values() for one in row]
    assert [one.reached and one.reached.bpm for one in rows] == [Fraction(133, 2)]


def test_what_is_half_typed_stays_when_the_view_draws_anew(tablet: Tablet) -> None:
    page = tablet.at("2026-10-21T10:29:00-05:00")
    field = page.locator('[data-key="card tempo opening"]')
    field.fill("6")
    page.evaluate("redraw()")
    expect(field).to_have_value("6")
    expect(field).to_be_focused()
    page.keyboard.type("2")
    tablet.later("2026-10-21T10:48:00-05:00")  # the close is on, and its card has no tempo
    expect(page.locator('[data-key="log tempo opening"]')).to_have_value("62")


def test_whatever_sounds_is_stopped_in_one_place(tablet: Tablet) -> None:
    page = tablet.at("2026-10-20T11:09:00-05:00")
    passage, stop = page.locator(".block-name").inner_text(), page.locator("[data-stop]")
    expect(stop).to_be_hidden()
    page.locator(".card .sounds").first.tap()
    expect(stop).to_have_text(f"■ Stop {passage}")
    place = stop.bounding_box()
    tablet.later("2026-10-20T11:38:00-05:00")
    expect(page.locator(".block-name")).to_have_text("Close")
    page.get_by_role("button", name="Class screen").tap()
    expect(stop).to_be_in_viewport()
    found = stop.bounding_box()
    assert place is not None
    assert found is not None
    assert found["y"] == place["y"]
    stop.tap()
    assert page.evaluate("sound.on") is False
    expect(stop).to_be_hidden()
    for _ in range(2):
        page.keyboard.press("Escape")
    page.get_by_role("button", name="Stand", exact=True).tap()


def test_one_tap_says_that_the_band_is_still_on_the_block_before(tablet: Tablet) -> None:
    page = tablet.at("2026-10-20T11:06:00-05:00")
    expect(page.locator(".block-name")).to_have_text("Thanks and notices")
    tablet.late("still")
    expect(page.locator(".block-name")).to_have_text("Warm up")
    expect(page.locator("[data-left]")).to_have_text("+1:00")
    tablet.tap("next")
    expect(page.locator(".block-name")).to_have_text("Thanks and notices")
    assert times(page)[2][0] == "11:06 am"
    assert times(page)[-1][0] == "11:37 am"


def test_a_block_that_is_held_stays_over_the_bell(tablet: Tablet) -> None:
    """Harbor ends at 11:40; the next rehearsal of the day would be shown after a while."""
    page = tablet.at("2026-10-20T11:39:00-05:00")
    tablet.tap("stay")
    tablet.later("2026-10-20T11:52:00-05:00")
    expect(page.locator(".top .band")).to_have_text("Harbor Band")
    expect(page.locator("[data-left]")).to_have_text("+12:00")
    tablet.tap("to now")
    expect(page.locator(".top .band")).to_have_text("Lantern Band")


def test_a_block_that_is_looked_at_is_on_when_its_time_comes(tablet: Tablet) -> None:
    page = tablet.at("2026-10-20T11:01:00-05:00")
    tablet.tap("block 2")
    expect(page.locator(".card.is-looked .block-name")).to_have_text("Thanks and notices")
    tablet.later("2026-10-20T11:05:10-05:00")
    expect(page.locator(".card.is-on .block-name")).to_have_text("Thanks and notices")


WAKE = """
window.locks = [];
Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
  locks.push(kind);
  return { released: false, async release() { this.released = true; locks.push("let go"); } };
} } });
"""


def test_the_screen_stays_on_around_a_rehearsal_alone(browser: Browser, stand: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script(WAKE)
    page.clock.install(time=ON_WEDNESDAY)
    page.clock.set_fixed_time("2026-10-19T21:30:00-05:00")
    page.goto(stand)
    assert page.evaluate("locks") == []
    for moment, locks in (
        ("2026-10-20T10:41:00-05:00", ["screen"]),
        ("2026-10-20T11:30:00-05:00", ["screen"]),
        ("2026-10-20T12:30:00-05:00", ["screen", "let go"]),
    ):
        page.clock.set_fixed_time(moment)
        page.evaluate("tick()")
        wait_until(page, f"locks.length === {len(locks)}")
        assert page.evaluate("locks") == locks
    context.close()
