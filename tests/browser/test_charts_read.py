"""Charts can be read on a phone: no text is smaller than 11 px on the screen."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.browser.visits import visiting

pytestmark = pytest.mark.browser
_SMALLEST = 11  # px; common practice, no source

_TEXTS = """() => [...document.querySelectorAll("svg.chart")].filter((chart) => chart.getBoundingClientRect().width).map((chart) => {
  const { a: scale } = chart.getScreenCTM();
  return [...chart.querySelectorAll("text")].map((text) => parseFloat(getComputedStyle(text).fontSize) * scale);
})"""


def test_texts_of_charts_are_large_enough_on_a_phone(
    browser: Browser, site: str, kinds: dict[str, str]
) -> None:
    seen = 0
    with visiting(browser, site) as visit:
        for kind in ("cycle", "ensemble", "piece"):
            page = visit.go(kinds[kind])
            page.evaluate(
                "document.querySelectorAll('details').forEach((fold) => { fold.open = true; })"
            )
            for sizes in page.evaluate(_TEXTS):
                seen += 1
                assert min(sizes) >= _SMALLEST, kind
        assert visit.errors == []
    assert seen > 6
