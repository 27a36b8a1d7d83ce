"""The binder's pages, opened from disk: at the widths of a tablet and a desk, light and dark, by all rules of axe."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from handbook.binder.assemble import binder_files
from tests.binder.conftest import binder_of
from tests.browser.axe import WCAG_AND_BEST_PRACTICE, findings, findings_in_dark
from tests.browser.fits import misfits
from tests.outputs.sheets.reading import page_texts

pytestmark = pytest.mark.browser

TWO_BANDS = Path(__file__).parents[1] / "sites" / "two-bands" / "content"
TABLET, DESK = (820, 1180), (1280, 800)
STAND = "stand.html"  # which has tests of its own


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("binder")
    for file in binder_files(binder_of(TWO_BANDS)):
        (place / file.path).parent.mkdir(parents=True, exist_ok=True)
        (place / file.path).write_bytes(file.content)
    return place


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context()
    yield context.new_page()
    context.close()


def test_every_page_passes_axe_and_fits(folder: Path, page: Page) -> None:
    names = sorted(one.relative_to(folder).as_posix() for one in folder.rglob("*.html"))
    names = [name for name in names if not name.endswith(STAND)]
    assert {"index.html", "growth.html", "winter/thanks.html", "fall/climbs.html"} <= {*names}
    found: list[str] = []
    for name in names:
        page.set_viewport_size({"width": DESK[0], "height": DESK[1]})
        page.goto((folder / name).as_uri())
        said = [*findings(page, WCAG_AND_BEST_PRACTICE), *findings_in_dark(page), *misfits(page)]
        page.set_viewport_size({"width": TABLET[0], "height": TABLET[1]})
        said += [f"tablet: {one}" for one in misfits(page)]
        found += [f"{name}: {one}" for one in said]
    assert found == []


def test_a_page_prints_a_band_a_sheet(folder: Path, page: Page) -> None:
    """Nothing of what leads elsewhere is on paper, and each band after the first begins a new sheet."""
    page.goto((folder / "winter/thanks.html").as_uri())
    page.emulate_media(media="print")
    assert page.locator(".binder-home").is_hidden()
    assert page.locator(".jumps").is_hidden()
    assert page.locator(".private-notice").is_visible()
    breaks = page.locator(".binder-band").evaluate_all(
        "all => all.map((one) => getComputedStyle(one).breakBefore)"
    )
    assert breaks == ["auto", "page"]


def test_each_printed_sheet_bears_the_notice(folder: Path, page: Page) -> None:
    page.goto((folder / "winter/thanks.html").as_uri())
    sheets = page_texts(page.pdf(prefer_css_page_size=True))
    assert len(sheets) > 1
    for text in sheets:
        assert text.count("Private: for the director. Do not post or share.") == 1
