"""Programs unlike the demo look whole too: bare, crowded, with long words, before any cycle."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from handbook.pipeline import load_plan
from tests.browser.axe import findings
from tests.browser.programs import PROGRAMS
from tests.browser.served import serving
from tests.browser.visits import visiting
from tests.content_folders import write_folder
from tests.whole_sites import make_site

pytestmark = pytest.mark.browser

DURING = datetime(2027, 3, 24, 15, tzinfo=UTC)
WCAG = {"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]}
WORDS = "['main', 'h1'].map((name) => document.querySelector(name).innerText)"


@pytest.fixture(scope="module", params=PROGRAMS)
def program(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a program's site; its name is the program's."""
    folder = tmp_path_factory.mktemp("programs") / str(request.param)
    content = write_folder(folder / "content", PROGRAMS[request.param])
    outcome = load_plan(content)
    assert outcome.plan is not None, outcome.problems
    return make_site(outcome.plan, content, folder / "site").target


@pytest.fixture(scope="module")
def address(program: Path) -> Iterator[str]:
    with serving(program) as base:
        yield base


def pages(program: Path) -> list[str]:
    found = [path.relative_to(program).as_posix() for path in sorted(program.rglob("index.html"))]
    return [path.removesuffix("index.html") for path in found]


@dataclass
class ProgramCrawl:
    """What was seen on the way through every page of a program, each opened once."""

    wide: list[tuple[str, int, int]] = field(default_factory=list)
    wordless: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    elsewhere: list[str] = field(default_factory=list)


@pytest.fixture(scope="module")
def crawl(browser: Browser, program: Path, address: str) -> ProgramCrawl:
    seen, widths = ProgramCrawl(), (320, 390, 1280)
    with visiting(browser, address, width=widths[0], now=DURING) as visit:
        for path in pages(program):
            page = visit.go(path)
            text, title = page.evaluate(WORDS)
            if len(text.replace(title, "").split()) <= 4:
                seen.wordless.append(path)
            for width in widths:
                if page.viewport_size != (size := {"width": width, "height": 844}):
                    page.set_viewport_size(size)  # type: ignore[arg-type]
                reach = page.evaluate("document.documentElement.scrollWidth")
                if reach > width:
                    seen.wide.append((path, width, reach))
            widths = widths[::-1]  # the next one opens at this width: each change costs a layout
    seen.errors = visit.errors
    seen.elsewhere = [url for url in visit.requested if not url.startswith((address, "data:"))]
    return seen


def test_nothing_runs_off_the_side_or_goes_wrong(crawl: ProgramCrawl) -> None:
    assert crawl.wide == []
    assert crawl.errors == []
    assert crawl.elsewhere == []


def test_no_page_is_without_a_word(crawl: ProgramCrawl) -> None:
    """A page with only a title and a link leaves its reader wondering."""
    assert crawl.wordless == []


def test_no_axe_finding(browser: Browser, program: Path, address: str) -> None:
    kinds = {path.count("/"): path for path in pages(program)} | {
        -1: "",
        -2: "calendar/",
        -3: "past/",
    }
    found = []
    with visiting(browser, address, width=360, now=DURING) as visit:
        for path in dict.fromkeys(kinds.values()):
            found += [f"{path}: {one}" for one in findings(visit.go(path), WCAG)]
    assert found == []


def test_one_band_is_not_asked_which_it_is(browser: Browser, program: Path, address: str) -> None:
    with visiting(browser, address, now=DURING) as visit:
        chooser = visit.go("").locator("[data-chooser]")
        if program.parent.name == "crowded":
            expect(chooser.locator("[data-choose]:visible")).to_have_count(9)  # with all bands
            chooser.get_by_role("button", name="Number 8").click()
            expect(visit.page.locator("[data-band]:visible")).to_have_count(0)
            expect(visit.page.locator("[data-chosen-name]")).to_contain_text("Number 8")
        else:
            expect(chooser.locator("[data-choose]:visible")).to_have_count(0)


def test_every_band_can_be_filtered(browser: Browser, program: Path, address: str) -> None:
    if program.parent.name != "crowded":
        pytest.skip("a program of eight bands is asked")
    with visiting(browser, address, now=DURING) as visit:
        page = visit.go("calendar/")
        for number in range(1, 9):
            page.locator(".filter label", has_text=f"Number {number}").click()
            shown = page.locator(".event.rehearsal:visible")
            assert shown.count() > 0
            assert shown.filter(has_not_text=f"Number {number}").count() == 0
