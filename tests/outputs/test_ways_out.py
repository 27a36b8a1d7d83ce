"""Links to a call and to a map. RFC 3966 (tel: links), RFC 3986 (percent encoding)."""

from __future__ import annotations

import pytest

from handbook.outputs.html.formatting import whole_minutes
from handbook.outputs.html.ways_out import on_map, telephone
from handbook.outputs.i18n.other_language import marked


@pytest.mark.parametrize(
    ("written", "link"),
    [
        ("555-0100", "tel:5550100"),
        ("(312) 555-0100", "tel:3125550100"),
        ("+1 312 555 0100", "tel:+13125550100"),
        (" (+49) 30 5550100", "tel:+49305550100"),
        ("312-555-0100 ext. 42", "tel:3125550100;ext=42"),
        ("555-0100 x7", "tel:5550100;ext=7"),
        ("555-0100, 12", "tel:5550100;ext=12"),
        ("ask at the desk", ""),
    ],
)
def test_a_number_can_be_tapped(written: str, link: str) -> None:
    assert telephone(written) == link


def test_an_address_is_asked_of_a_map() -> None:
    assert on_map("8 Cooper St. & 2nd, Río").endswith("=8%20Cooper%20St.%20%26%202nd%2C%20R%C3%ADo")


def test_a_map_is_asked_for_an_address_without_the_mark_of_its_language() -> None:
    assert on_map(marked("8 Cooper St.", "en")) == on_map("8 Cooper St.")


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(20.0, "1 minute"), (89.9, "1 minute"), (90.0, "2 minutes"), (1390.0, "23 minutes")],
)
def test_families_read_whole_minutes(seconds: float, words: str) -> None:
    """Half a minute and more is the next one (common practice, no source)."""
    assert whole_minutes(seconds) == words
