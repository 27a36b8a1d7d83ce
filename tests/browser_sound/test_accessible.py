"""The controls against axe-core's rules for WCAG 2.2 A and AA, at rest, unfolded and sounding."""

from __future__ import annotations

import pytest

from tests.browser.axe import findings, findings_in_dark
from tests.browser_sound.conftest import MakePage
from tests.browser_sound.player import button, unfold
from tests.browser_sound.waiting import until

pytestmark = pytest.mark.browser
_RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]}


@pytest.mark.parametrize("width", [320, 1280])
def test_no_violations(make_page: MakePage, width: int) -> None:
    page = make_page(bypass_csp=True)
    page.set_viewport_size({"width": width, "height": 844})
    for name in ("drone", "rising", "open"):
        button(page, name).click()
        until(page, "starts.length > 0")
        assert findings(page, _RULES) == []
    unfold(page)
    assert findings(page, _RULES) + findings_in_dark(page) == []
