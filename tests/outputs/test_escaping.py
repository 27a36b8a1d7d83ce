"""Templates escape as the library for it does, though by a shorter way where nothing is to be escaped."""

from __future__ import annotations

from fractions import Fraction

import pytest
from jinja2 import UndefinedError
from markupsafe import Markup, escape

from handbook.outputs.html.environment import page_environment
from handbook.resources import templates_folder

PAGES = page_environment(templates_folder())
# Among them the signs that HTML reads as its own; from memory.
VALUES = [
    *("plain", "", "&", "<b>", "a > b", "don't", 'say "ah"', "x &amp; y"),
    *(Markup("<b>kept</b>"), 7, 0.5, True, Fraction(1, 3), None, ["<"]),
]


@pytest.mark.parametrize("value", VALUES, ids=repr)
def test_a_value_comes_out_as_the_library_escapes_it(value: object) -> None:
    for text in ("{{ value }}", "{% macro m(v) %}{{ v }}{% endmacro %}{{ m(value) }}"):
        assert PAGES.from_string(text).render(value=value) == str(escape(value))


def test_what_is_not_defined_is_a_fault() -> None:
    with pytest.raises(UndefinedError):
        PAGES.from_string("{{ value }}").render()
