"""Pages that hold still while they load on a slow phone, and a head that large letters leave whole."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page

from handbook.domain.values.tempo import BEAT_UNITS
from tests.browser.visits import visiting

pytestmark = pytest.mark.browser

# Core Web Vitals call a shift of 0.1 good (web.dev/articles/cls); half of that is our own bound.
MOST_SHIFT = 0.05
SIGNAL = 400_000 / 8  # bytes a second
SLOWER = 4  # times, the processor
FULLEST = ("today", "calendar", "part")
WATCH = """
() => {
  window.shifts = [];
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) {
      if (entry.hadRecentInput) continue;
      const what = entry.sources.map((one) => one.node && (one.node.id || one.node.className || one.node.nodeName));
      window.shifts.push([entry.value, String(what)]);
    }
  }).observe({ type: "layout-shift", buffered: true });
}
"""
SETTLED = "() => document.fonts.ready.then(() => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 100))))"


def slow(page: Page) -> None:
    session = page.context.new_cdp_session(page)
    session.send("Network.enable")
    session.send("Network.setCacheDisabled", {"cacheDisabled": True})
    limits = {"offline": False, "latency": 100}
    session.send(
        "Network.emulateNetworkConditions",
        limits | {"downloadThroughput": SIGNAL, "uploadThroughput": SIGNAL},
    )
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})


def shift(page: Page, address: str) -> tuple[float, list[object]]:
    """Open a page; give the sum of its shifts, and what moved."""
    page.goto(address, wait_until="load")
    page.evaluate(SETTLED)
    found = page.evaluate("window.shifts")
    return sum(value for value, _ in found), found


def shifted(browser: Browser, site: str, kinds: dict[str, str]) -> dict[str, object]:
    """Open pages on a slow phone; give those that move by more than they may."""
    with visiting(browser, site) as visit:
        visit.page.add_init_script(f"({WATCH})()")
        slow(visit.page)
        found = {kind: shift(visit.page, site + path) for kind, path in kinds.items()}
    return {kind: told for kind, told in found.items() if told[0] > MOST_SHIFT}


def test_the_fullest_pages_do_not_jump(browser: Browser, site: str, kinds: dict[str, str]) -> None:
    assert shifted(browser, site, {kind: kinds[kind] for kind in FULLEST}) == {}


@pytest.mark.weekly
def test_no_page_jumps(browser: Browser, site: str, kinds: dict[str, str]) -> None:
    assert shifted(browser, site, kinds) == {}


LARGE = "document.documentElement.style.fontSize = '200%'"
# Each word of the name, with the number of lines that it stands on.
LINES = """
() => {
  const name = document.querySelector(".brand span").firstChild;
  return [...name.data.matchAll(/\\S+/g)].map((word) => {
    const range = document.createRange();
    range.setStart(name, word.index);
    range.setEnd(name, word.index + word[0].length);
    return [word[0], range.getClientRects().length];
  });
}
"""


@pytest.mark.parametrize(("width", "large"), [(360, True), (390, True), (320, False)])
def test_large_letters_leave_the_head_whole(
    browser: Browser, site: str, width: int, large: bool
) -> None:
    """At twice the size of letters, as WCAG 2.2 asks in 1.4.4: no word of the name is broken."""
    with visiting(browser, site, width=width, height=740) as visit:
        page = visit.go("words/")
        if large:
            page.evaluate(LARGE)
        assert [one for one in page.evaluate(LINES) if one[1] != 1] == []
        box = page.locator(".masthead").bounding_box()
        assert box is not None
        assert box["height"] < 740 / 3
        for button in page.locator(".tool:visible").all():
            own = button.bounding_box()
            assert own is not None
            assert own["x"] + own["width"] <= width


def test_large_letters_run_off_no_side(browser: Browser, site: str, kinds: dict[str, str]) -> None:
    """Text at twice its size, on a narrow phone: all of it is reached by scrolling one way."""
    wide = {}
    with visiting(browser, site, width=360, height=740) as visit:
        for kind, path in kinds.items():
            page = visit.go(path)
            page.evaluate(LARGE)
            wide[kind] = page.evaluate("document.documentElement.scrollWidth")
    assert {kind: width for kind, width in wide.items() if width > 360} == {}


# The middle of a zero, drawn large in the face of texts and in that of titles: the site's own, as
# the faces of the device that stand for it meanwhile are not on every computer.
MIDDLE = """
async (name) => {
  const face = getComputedStyle(document.documentElement).getPropertyValue(name).split(",")[0];
  await document.fonts.load(`400 20px ${face}`, "0");
  const pen = new OffscreenCanvas(200, 200).getContext("2d");
  pen.font = `400 160px ${face}`;
  pen.textAlign = "center";
  pen.fillText("0", 100, 156);
  const ink = (x, y, w, h) => pen.getImageData(x, y, w, h).data.some((part, at) => at % 4 === 3 && part > 100);
  return [ink(92, 92, 16, 16), ink(40, 92, 60, 16), document.fonts.check(`20px ${face}`, "0")];
}
"""


@pytest.mark.parametrize("name", ["--text", "--title"])
def test_no_stroke_through_a_zero(browser: Browser, site: str, name: str) -> None:
    with visiting(browser, site) as visit:
        assert visit.go("words/").evaluate(MIDDLE, name) == [False, True, True]


SIGNS = """
async (signs) => {
  const face = '100px "Handbook Signs"';
  await document.fonts.load(face, signs.join(""));
  const pen = document.createElement("canvas").getContext("2d");
  pen.font = face;
  return signs.map((sign) => pen.measureText(sign).actualBoundingBoxAscent);
}
"""


def test_notes_that_stand_side_by_side_are_of_one_height(browser: Browser, site: str) -> None:
    """In a column of tempos a half note stands as high as a quarter, as in engraved music."""
    signs = [BEAT_UNITS[name].symbol for name in ("quarter", "half", "eighth", "sixteenth")]
    with visiting(browser, site) as visit:
        quarter, *others = visit.go("words/").evaluate(SIGNS, signs)
    assert quarter > 40
    assert others == pytest.approx([quarter] * 3, rel=0.05)
