"""Which texts make a page one that is only partly translated: sentences, not names and titles."""

from __future__ import annotations

import pytest

from handbook.outputs.i18n.other_language import marked, told

SENTENCE = marked("Bring a pencil to every rehearsal.", "en")
TITLE = marked("Ferry in First Snow", "en")


@pytest.mark.parametrize(
    ("html", "languages"),
    [
        (f"<p>{SENTENCE}</p>", {"en"}),
        (f"<p>{marked('Band Room 112', 'en')}</p>", set()),
        (f'<h1 translate="no">{TITLE}</h1>', set()),
        (f'<a href="x/" translate="no">{TITLE}</a> <i>{SENTENCE}</i>', {"en"}),
        (f'<b translate="no">A</b> <span>{TITLE}</span>', {"en"}),
        (f'<p title="{SENTENCE}">x</p>', set()),
    ],
)
def test_names_titles_and_addresses_are_no_text_that_is_missing(
    html: str, languages: set[str]
) -> None:
    assert told(html, "es").languages == languages
