"""How sentences stand together on pages, in every language."""

from __future__ import annotations

import re

from tests.demo import whole_demo_site

# A semicolon parts clauses of one sentence, so none follows a stop (English as taught in school;
# other languages of the demo likewise, from memory). Abbreviations such as `p. m.;` end in one too.
_BOTH = re.compile(r"(?<=\w\w)[.!?。！？؟]\s?[;；؛]")


def test_no_semicolon_follows_a_full_stop() -> None:
    site = whole_demo_site()
    assert len({page.language for page in site.pages}) > 1
    found = {
        (page.language, page.path, told.group())
        for page in site.pages
        for told in _BOTH.finditer(page.body)
    }
    assert found == set()
