"""The class screen on a projector: the warm-up by one key, then the day, and nothing that is private."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from handbook.binder.assemble import binder_files
from tests.binder.conftest import binder_of
from tests.binder.stand_content import stand_files
from tests.browser.axe import WCAG_AND_BEST_PRACTICE, findings
from tests.browser.tablet import wait_until
from tests.content_folders import changed, write_folder
from tests.real_media import wav

pytestmark = pytest.mark.browser

PROJECTORS = [(1280, 800), (1920, 1080)]
LEAST_NAME = 64  # pixels of the name of what is on, at 1280
LEAST_WORDS = 20  # pixels of whatever else is on the screen
ENHANCED = {"runOnly": ["color-contrast-enhanced"]}  # 7:1, WCAG 2.2 SC 1.4.6
# Lantern meets on Mondays at 10:05, for 45 minutes: set-up 4, warm-up 6, notices 3.
DAY = "2026-11-02"
STATES = {
    "before": f"{DAY}T10:01:00-06:00",
    "warm-up": f"{DAY}T10:10:30-06:00",
    "notices": f"{DAY}T10:16:00-06:00",
    "music": f"{DAY}T10:30:20-06:00",
    "close": f"{DAY}T10:48:30-06:00",
    "after": f"{DAY}T10:50:30-06:00",
}
SECRETS = ("Seat plan in the drawer", "Ask about reeds", "Horns lost the beat", "Watch the clock")
FUNDAMENTALS = """\
strands:
  - id: tone
    name: Tone
    why: It is what people hear
    exercises:
      - {id: five-notes, name: Five notes, level: 1, tempo: quarter = 72, notes: [Bb, C, D, Eb, F], how: Tongue each, private: Watch the clock}
habits:
  - {id: posture, name: Posture, text: Feet flat and shoulders low}
warm_ups:
  - level: 1
    name: First sounds
    steps:
      - {text: Breathe low, seconds: 60, tempo: quarter = 60}
      - {exercise: five-notes, minutes: 1}
      - {text: Hum along, media: hum.wav, seconds: 45}
      - Chorale
"""
NOTES = f"""
days:
  - date: Mon {DAY}
    ensemble: lantern
    thanks: Thank you for quiet feet
    notices: [Bring your folder on Friday]
    habit: posture
    private: Seat plan in the drawer
"""
LOG = """\
ensemble: lantern
date: Mon 2026-10-26
reached:
  - {passage: opening, tempo: quarter = 111}
note: Horns lost the beat
"""


def class_files() -> dict[str, str | bytes]:
    files = stand_files()
    files["fundamentals.yaml"] = FUNDAMENTALS
    files["cycles/winter/cycle.yaml"] += NOTES
    files[f"cycles/winter/log/{DAY}.yaml"] = LOG
    goal = "        goal: quarter = 96\n"
    files = changed(
        files, "cycles/winter/music.yaml", goal, f"{goal}        private: Ask about reeds\n"
    )
    return {**files, "media/hum.wav": wav(2)}


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    folder = tmp_path_factory.mktemp("class")
    binder = binder_of(write_folder(folder / "content", class_files()))
    made = next(one for one in binder_files(binder) if one.path == "winter/stand.html")
    file = folder / "stand.html"
    file.write_bytes(made.content)
    return file.as_uri()


class Projector:
    """The file, opened and turned to the class screen at a moment of the day."""

    def __init__(self, page: Page, address: str) -> None:
        self.page, self.address = page, address

    def at(self, moment: str) -> Page:
        self.page.clock.set_fixed_time(moment)
        self.page.goto("about:blank")
        self.page.goto(self.address)
        self.page.evaluate("localStorage.clear()")
        self.page.reload()
        self.page.locator("button[data-view=class]").click()
        return self.page


@pytest.fixture(scope="module")
def projector(browser: Browser, address: str) -> Iterator[Projector]:
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    page.clock.install(time=STATES["before"])
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    yield Projector(page, address)
    context.close()
    assert faults == []


def to_the_stand(page: Page, *, by_finger: bool = False) -> None:
    """Escape stops what sounds, a finger does not."""
    if by_finger:
        page.locator(".class-name").click(delay=900)
    else:
        for _ in range(2):
            page.keyboard.press("Escape")
    page.get_by_role("button", name="Stand", exact=True).click()


MEASURE = """() => {
  const place = document.querySelector("[data-place=class]");
  const texts = [];
  const walker = document.createTreeWalker(place, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const { parentElement, textContent } = walker.currentNode;
    if (textContent.trim() && parentElement.checkVisibility() && !parentElement.closest(".vh, svg")) {
      const { bottom, right } = parentElement.getBoundingClientRect();
      texts.push([textContent.trim(), parseFloat(getComputedStyle(parentElement).fontSize), bottom, right]);
    }
  }
  return { texts, name: parseFloat(getComputedStyle(place.querySelector(".class-name")).fontSize), width: innerWidth, height: innerHeight };
}"""


def assert_readable(page: Page, state: str) -> None:
    measured = page.evaluate(MEASURE)
    assert measured["name"] >= LEAST_NAME, state
    for text, size, bottom, right in measured["texts"]:
        assert size >= LEAST_WORDS, (state, text)
        assert bottom <= measured["height"] + 1, (state, text)
        assert right <= measured["width"] + 1, (state, text)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", PROJECTORS, ids=["1280", "1920"])
def test_every_state_is_read_from_the_back_row(
    projector: Projector, size: tuple[int, int], scheme: Any
) -> None:
    projector.page.set_viewport_size({"width": size[0], "height": size[1]})
    projector.page.emulate_media(color_scheme=scheme)
    for state, moment in STATES.items():
        page = projector.at(moment)
        assert_readable(page, state)
        rules = WCAG_AND_BEST_PRACTICE if scheme == "light" else ENHANCED
        assert findings(page, rules) == [], state
    page = projector.at(STATES["before"])
    page.keyboard.press(" ")
    page.keyboard.press("ArrowRight")
    expect(page.locator(".class-name")).to_have_text("Five notes")
    assert_readable(page, "concert pitch")
    page.get_by_role("button", name="By section").click()
    assert_readable(page, "by section")
    assert findings(page, ENHANCED) == []
    projector.page.set_viewport_size({"width": 1280, "height": 800})
    projector.page.emulate_media(color_scheme="light")


def test_held_upright_no_word_is_parted(projector: Projector) -> None:
    """A name that had a third of the width stood letter below letter."""
    projector.page.set_viewport_size({"width": 820, "height": 1180})
    for state, moment in STATES.items():
        page = projector.at(moment)
        wide = page.locator(".class-name, .class-order .class-line").evaluate_all(
            "all => all.filter(one => one.checkVisibility()).map(one => one.clientWidth)"
        )
        assert wide, state
        assert min(wide) > 450, state
        assert findings(page, WCAG_AND_BEST_PRACTICE) == [], state
    projector.page.set_viewport_size({"width": 1280, "height": 800})


def test_what_the_class_waits_for_and_what_is_on(projector: Projector) -> None:
    words = {
        "before": ("Begins in 4 min", "Lantern Band", ""),
        "warm-up": ("Now", "Warm up", "5 min left"),
        "notices": ("Now", "Thanks and notices", "2 min left"),
        "close": ("Now", "Close", "2 min left"),
        "after": ("This rehearsal is over", "Thank you. See you next time.", ""),
    }
    for state, (label, name, left) in words.items():
        page = projector.at(STATES[state])
        expect(page.locator(".class-label")).to_have_text(label)
        expect(page.locator(".class-name")).to_have_text(name)
        expect(page.locator(".class-minutes")).to_have_text(left)
    page = projector.at(STATES["notices"])
    said = page.locator(".class-said")
    for text in (
        "Thank you for quiet feet",
        "Posture",
        "Feet flat and shoulders low",
        "Bring your folder on Friday",
    ):
        expect(said).to_contain_text(text)
    lines = page.locator(".class-order li").all_inner_texts()
    assert lines[0].split("\n")[0].startswith("10:18 am")
    assert len(lines) == 3, "the next two, and the end"
    assert "The end" in lines[-1]
    assert "10:50 am" in lines[-1]
    assert "Thanks and notices" not in "".join(lines), "it is on, and stands above"
    page.clock.set_fixed_time(f"{DAY}T10:17:30-06:00")
    page.evaluate("tick()")
    expect(page.locator(".class-minutes")).to_have_text("0:30 left")


LEAST_OF_ORDER = 28  # pixels of the order of the day at 1280 by 800, where no day is crowded


def test_each_passage_names_its_piece_and_no_line_is_cut(projector: Projector) -> None:
    page = projector.at(STATES["before"])
    lines = page.locator(".class-order .class-line")
    shown = [one.replace("\u2060", "") for one in lines.all_inner_texts()]
    planned = page.evaluate(
        "shown.rehearsal.blocks.map((one) => [titleOf(one), one.how === 'passage' ? one.title : '', underTitle(one) || ''])"
    )
    assert len(shown) > 8  # too many for a line below each
    for line, (name, piece, _) in zip(shown, planned, strict=False):
        assert line.startswith(name)
        assert piece in line
    joins = [under.replace("\u2060", "") for _, _, under in planned if "Join" in under]
    assert joins
    assert all(any(join in line for line in shown) for join in joins)
    measured = lines.evaluate_all(
        "all => all.map(one => [one.scrollWidth - one.clientWidth, parseFloat(getComputedStyle(one).fontSize)])"
    )
    assert max(over for over, _ in measured) <= 0
    assert min(size for _, size in measured) >= LEAST_OF_ORDER


def test_letters_grow_into_the_room_that_is_there(projector: Projector) -> None:
    """The fewer lines are left the larger they are, and the largest is a share of the screen."""
    sizes = [
        float(
            projector.at(STATES[state])
            .locator(".class-order")
            .evaluate("one => parseFloat(one.style.fontSize)")
        )
        for state in ("before", "music")
    ]
    assert sizes == sorted(sizes)
    assert sizes[-1] == round(0.07 * 800)
    page = projector.page
    page.set_viewport_size({"width": 1280, "height": 500})
    page.wait_for_timeout(50)
    assert page.evaluate("document.documentElement.scrollHeight <= innerHeight")
    page.set_viewport_size({"width": 1280, "height": 800})


def test_a_warm_up_that_was_left_is_there_again_paused(projector: Projector) -> None:
    """A tablet sleeps, and its browser loads the page anew: the same exercise, and no sound by itself."""
    page = projector.at(STATES["warm-up"])
    name, phase = page.locator(".class-name"), page.locator(".class-phase")
    page.keyboard.press(" ")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    expect(name).to_have_text("Hum along")
    wait_until(page, "warmUps.of(shown.rehearsal).stepLeft < 43.5")
    before = page.evaluate("warmUps.of(shown.rehearsal).stepLeft")
    page.clock.set_fixed_time(f"{DAY}T10:18:00-06:00")
    page.reload()
    expect(name).to_have_text("Hum along")
    expect(phase).to_have_text("Paused")
    assert page.evaluate("sound.on") is False
    left = page.evaluate("warmUps.of(shown.rehearsal).stepLeft")
    assert left == pytest.approx(before, abs=3), "each second is kept, and a reload takes a while"
    assert left < 44.5
    page.keyboard.press(" ")
    expect(phase).to_have_text("Play")
    page.keyboard.press("Escape")
    for later in (f"{DAY}T10:45:00-06:00", "2026-11-04T10:07:00-06:00"):
        page.clock.set_fixed_time(later)
        page.reload()
        expect(page.locator(".class-now")).to_be_visible()
    page = projector.at(STATES["warm-up"])
    page.keyboard.press(" ")
    page.keyboard.press("ArrowRight")
    page.get_by_role("button", name="End the warm-up").click()
    page.reload()
    expect(page.locator(".class-now")).to_be_visible()


# What is asked of the timer, against the audio context's own time, which stands still meanwhile; and
# where in the recording it then starts.
RECORD_STARTS = """() => {
  const track = warmUps.of(shown.rehearsal), recording = track.recordings.get(2);
  const later = window.setTimeout, play = recording.play.bind(recording);
  Object.assign(window, { off: [], into: [] });
  window.setTimeout = (act, wait, ...more) => {
    if (String(act).includes("startRecording")) {
      off.push([track.opened.context.currentTime - track.zero + wait / 1000 - track.startOf(2), wait]);
    }
    return later(act, wait, ...more);
  };
  recording.play = () => {
    into.push(recording.currentTime);
    return play();
  };
}"""


def test_a_recording_starts_by_the_audio_clock_and_goes_on_where_it_was(
    projector: Projector,
) -> None:
    """The step is 45 s and the recording 2 s, so that it goes round."""
    page = projector.at(STATES["before"])
    page.evaluate(RECORD_STARTS)
    page.keyboard.press(" ")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    wait_until(page, "into.length === 1")
    for _ in range(4):  # a machine with other work may be late, which is no fault of the page
        (off, wait) = page.evaluate("off[off.length - 1]")
        if wait > 0:
            break
        page.evaluate("into.length = 0")
        page.keyboard.press("ArrowLeft")
        page.keyboard.press("ArrowRight")
        wait_until(page, "into.length === 1")
    assert off == pytest.approx(0, abs=0.001)
    assert wait > 0, "told before its time, not seen to be late"
    wait_until(page, "warmUps.of(shown.rehearsal).recordings.get(2).currentTime > 0.5")
    page.keyboard.press(" ")
    gone = page.evaluate(
        "warmUps.of(shown.rehearsal).at - warmUps.of(shown.rehearsal).steps[2].from"
    )
    page.keyboard.press(" ")
    wait_until(page, "into.length === 2")
    assert page.evaluate("into[1]") == pytest.approx(gone % 2, abs=0.001)


def test_one_key_plays_pauses_and_skips(projector: Projector) -> None:
    page = projector.at(STATES["before"])
    name, phase = page.locator(".class-name"), page.locator(".class-phase")
    page.keyboard.press(" ")
    expect(name).to_have_text("Breathe low")
    expect(phase).to_have_text("Count-in")
    expect(page.locator(".class-next")).to_have_text("Next: Five notes")
    clock, where = (page.locator(one).bounding_box() for one in (".class-wall", ".class-where"))
    assert clock
    assert where
    assert where["x"] + where["width"] <= clock["x"]
    expect(phase).to_have_text("Play", timeout=8000)
    expect(page.locator("[data-status]")).to_have_text("1 of 4: Breathe low")
    page.keyboard.press(" ")
    expect(phase).to_have_text("Paused")
    left = page.locator(".class-step-left").inner_text()
    page.wait_for_timeout(1100)
    expect(page.locator(".class-step-left")).to_have_text(left)
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press(" ")
    expect(page.get_by_role("button", name="Pause")).to_be_visible()
    page.keyboard.press("ArrowRight")
    expect(name).to_have_text("Five notes")
    page.keyboard.press("ArrowRight")
    expect(name).to_have_text("Hum along")
    wait_until(page, "!warmUps.of(shown.rehearsal).recordings.get(2).paused")
    page.keyboard.press("ArrowLeft")
    expect(name).to_have_text("Five notes")
    assert page.evaluate("warmUps.of(shown.rehearsal).recordings.get(2).paused")
    for _ in range(2):
        page.keyboard.press("ArrowRight")
    expect(page.locator(".class-next")).to_have_text("Then the rehearsal begins.")
    page.keyboard.press("ArrowRight")
    expect(page.locator(".class-now")).to_be_visible()
    assert page.evaluate("sound.on") is False


def test_the_steps_are_those_of_the_band_and_fill_its_minutes(projector: Projector) -> None:
    """Six minutes; 60 + 5, 60 + 5, 45 + 5 are stated, and 180 s are left for the last."""
    page = projector.at(STATES["before"])
    steps = page.evaluate(
        "warmUps.of(shown.rehearsal).steps.map(({ start, end, rest }) => [start, end, rest])"
    )
    assert steps == [[0, 60, 65], [65, 125, 130], [130, 175, 180], [180, 360, 360]]


LEAST_OF_CAPTIONS = 26  # pixels at 1280 by 800


def test_notation_turns_from_concert_pitch_to_each_section(projector: Projector) -> None:
    """Of five notes from concert B flat a clarinet in B flat reads C D E F G (common practice)."""
    page = projector.at(STATES["before"])
    page.keyboard.press(" ")
    page.keyboard.press("ArrowRight")
    concert = page.locator(".class-figures svg").evaluate_all(
        "(all) => all.map((one) => one.getAttribute('aria-label'))"
    )
    assert len(concert) == 2
    assert all("concert pitch" in label for label in concert)
    page.get_by_role("button", name="By section").click()
    figures = page.locator(".class-figure")
    by_section = dict(
        figures.evaluate_all(
            "(all) => all.map((one) => [one.querySelector('figcaption').firstChild.textContent, one.querySelector('svg').getAttribute('aria-label')])"
        )
    )
    captions = page.locator(".class-figure figcaption")
    sizes = captions.evaluate_all(
        "all => all.map((one) => parseFloat(getComputedStyle(one).fontSize))"
    )
    assert min(sizes) >= LEAST_OF_CAPTIONS
    assert by_section["Clarinet, Trumpet"].startswith("C 4, D 4, E 4, F 4, G 4,")
    assert by_section["Flute"].startswith("B flat 4, C 5, D 5, E flat 5, F 5,")


def test_nothing_private_is_on_it(projector: Projector) -> None:
    """No note for the director, no log and no tempo that was reached, in any state."""
    data = projector.at(STATES["before"]).evaluate(
        "document.getElementById('stand-data').textContent"
    )
    assert all(secret in data for secret in SECRETS if secret != "Horns lost the beat")
    assert "111" in data
    for state, moment in STATES.items():
        shown = projector.at(moment).evaluate(
            "document.querySelector('[data-place=class]').innerHTML"
        )
        assert "111" not in shown, state
        assert not [secret for secret in SECRETS if secret in shown], state
    page = projector.at(STATES["before"])
    page.keyboard.press(" ")
    for _ in range(4):
        shown = page.evaluate("document.querySelector('[data-place=class]').innerHTML")
        assert not [secret for secret in SECRETS if secret in shown]
        page.keyboard.press("ArrowRight")


def test_loaded_again_it_stays_the_class_screen(projector: Projector) -> None:
    """Else a reload would show the director's notes to the class."""
    page = projector.at(STATES["notices"])
    page.reload()
    expect(page.locator(".class-now")).to_be_visible()
    shown = page.evaluate("document.body.innerText")
    assert not [secret for secret in SECRETS if secret in shown]
    to_the_stand(page)
    page.reload()
    expect(page.locator(".card")).to_be_visible()
    assert SECRETS[0] in page.evaluate("document.body.innerText")


def test_the_stand_keeps_what_the_class_screen_began(projector: Projector) -> None:
    """The director looks at the stand while the warm-up plays on, and comes back to it."""
    page = projector.at(STATES["before"])
    page.keyboard.press(" ")
    expect(page.locator(".class-name")).to_have_text("Breathe low")
    to_the_stand(page, by_finger=True)
    expect(page.locator(".card")).to_be_visible()
    assert page.evaluate("sound.on")
    page.locator("button[data-view=class]").click()
    expect(page.locator(".class-name")).to_have_text("Breathe low")
    page.get_by_role("button", name="End the warm-up").click()
    expect(page.locator(".class-now")).to_be_visible()
    assert page.evaluate("sound.on") is False


def test_the_stand_is_out_of_reach_of_a_key(projector: Projector) -> None:
    """One Tab and Enter brought private notes onto the wall."""
    page = projector.at(STATES["notices"])
    switch = page.locator("[data-views]")
    for key in ("Tab", "Enter", "Tab", "Enter", "Escape"):
        page.keyboard.press(key)
        expect(switch).to_be_hidden()
    expect(page.locator(".class-now")).to_be_visible()
    page.wait_for_timeout(1100)
    page.keyboard.press("Escape")
    expect(switch).to_be_hidden()
    page.keyboard.press("Escape")
    expect(switch).to_be_visible()
    assert page.evaluate("document.getElementById('main').lastElementChild.matches('[data-views]')")


def test_to_play_the_warm_up_is_to_begin_it(projector: Projector) -> None:
    """Played during set-up it is on, and when it is over no space bar starts it again."""
    page = projector.at(f"{DAY}T10:06:00-06:00")
    expect(page.locator(".class-name")).to_have_text("Set up")
    page.keyboard.press(" ")
    expect(page.locator(".class-name")).to_have_text("Breathe low")
    turns = "shown.went.turns.map(({ block }) => shown.rehearsal.blocks[block].kind)"
    assert page.evaluate(turns) == ["warm_up"]
    page.keyboard.press(" ")
    page.keyboard.press(" ")
    assert page.evaluate(turns) == ["warm_up"]
    for _ in range(4):
        page.keyboard.press("ArrowRight")
    expect(page.locator(".class-name")).to_have_text("Warm up")
    again = page.get_by_role("button", name="Play again")
    expect(again).not_to_be_focused()
    page.keyboard.press(" ")
    assert page.evaluate("sound.on") is False
    again.click()
    expect(page.locator(".class-name")).to_have_text("Breathe low")
    assert page.evaluate(turns) == ["warm_up"]
    page.evaluate("shown.undo()")
    assert page.evaluate(turns) == []


def test_one_tap_on_the_stand_plays_where_the_class_screen_is(projector: Projector) -> None:
    """In another window of the browser, if one shows it; else in this one."""
    page = projector.at(STATES["warm-up"])
    stand = page.context.new_page()
    stand.clock.install(time=STATES["warm-up"])
    stand.clock.set_fixed_time(STATES["warm-up"])
    stand.goto(projector.address)
    stand.locator("[data-key='to class screen']").click()
    expect(page.locator(".class-name")).to_have_text("Breathe low")
    wait_until(page, "sound.on")
    expect(stand.locator(".card")).to_be_visible()
    assert stand.evaluate("sound.on") is False
    page.keyboard.press("Escape")
    page.goto("about:blank")
    stand.locator("[data-key='to class screen']").click()
    expect(stand.locator(".class-name")).to_have_text("Breathe low")
    wait_until(stand, "sound.on")
    stand.close()


def test_the_wall_shows_the_concert_on_its_day(projector: Projector) -> None:
    """What each band does next and its first note, with no note for the director."""
    page = projector.at(STATES["before"])
    concert = page.evaluate("data.concerts[0]")
    concert["private"] = [["", "Ask the hall about lights"]]
    called = min(steps[0][0] for _, _, steps, _ in concert["bands"])
    projector.at(datetime.fromtimestamp(called - 600, UTC).isoformat())
    page.evaluate("(own) => { data.concerts[0].private = own; redraw(); }", concert["private"])
    expect(page.locator(".class-name")).to_have_text(concert["name"])
    wall = page.locator("[data-place=class]").inner_text()
    assert "Ask the hall" not in wall
    for _, band, steps, (first, _) in concert["bands"]:
        assert band in wall
        (note,) = (step for step in steps if step[2] == "First note")
        assert abs(note[0] - first) < 60
        assert note[1] in wall
        assert steps[0][1] in wall
    assert_readable(page, "concert")
    assert findings(page, ENHANCED) == []


def test_the_tempo_of_a_join_and_when_the_next_class_is(projector: Projector) -> None:
    page = projector.at(STATES["music"])
    page.evaluate(
        """() => {
          const block = blockOn(shown.rehearsal), [passage] = block.passages;
          block.passages = [[0, "q", "80", "quarter note"], [0, "q", "80", "quarter note"]];
          redraw();
        }"""
    )
    marks = page.locator(".class-under .mark")
    expect(marks).to_have_count(1)
    page.evaluate("blockOn(shown.rehearsal).passages[1] = [0, 'q', '96', 'quarter note']; redraw()")
    expect(marks).to_have_count(2)
    for state in ("close", "after"):
        next_class = projector.at(STATES[state]).locator(".class-again")
        expect(next_class).to_contain_text("Next class: ")


def test_rooms_stand_on_the_wall_before_sectionals(projector: Projector) -> None:
    """From five minutes before: here sectionals follow the warm-up, which begins at 10:09."""
    page = projector.at(f"{DAY}T10:09:30-06:00")
    make = """() => {
      const { rehearsal } = shown;
      rehearsal.rooms = ["Woodwinds: Room 1", "Brass: Room 2"];
      rehearsal.blocks[2] = { kind: "sectional", title: "Sectionals", minutes: 3 };
      redraw();
    }"""
    page.evaluate(make)
    expect(page.locator(".class-rooms")).to_have_count(0)
    page.clock.set_fixed_time(f"{DAY}T10:10:00-06:00")
    page.evaluate("tick()")
    expect(page.locator(".class-rooms li")).to_have_text(["Woodwinds: Room 1", "Brass: Room 2"])
    assert_readable(page, "rooms")
