"""Who leads a warm-up: a section is led by whom its own call names, and by nobody else."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from handbook.plan.concert_leaders import led_at_warm_up

BAND = SimpleNamespace(id="lantern", led_by=("director",))


@pytest.mark.parametrize(
    ("section", "led_by"),
    [("", ("director",)), ("brass", ("assistant",)), ("winds", ())],
)
def test_a_section_is_not_led_by_who_leads_the_band(section: str, led_by: tuple[str, ...]) -> None:
    call = SimpleNamespace(led_by=("assistant",), ensemble="lantern", section="brass")
    concert: Any = SimpleNamespace(item=SimpleNamespace(calls=[call], program=[]))
    group: Any = SimpleNamespace(ensemble=BAND, section=section)
    assert led_at_warm_up(concert, group) == led_by
