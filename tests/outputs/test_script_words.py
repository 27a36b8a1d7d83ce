"""What scripts are given to say: the messages that stand in them, in the forms of a language."""

from __future__ import annotations

import json
import re
from gettext import GNUTranslations, NullTranslations
from io import BytesIO

from babel.messages.extract import extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from handbook.outputs.i18n.scripts import (
    ScriptMessage,
    messages_in,
    script_messages,
    script_words,
)
from tests.catalogues.extraction import KEYWORDS, sources

# The rule of Arabic, as the manual of GNU gettext gives it ("Plural forms").
ARABIC = """
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\\n"
"Plural-Forms: nplurals=6; plural=(n==0 ? 0 : n==1 ? 1 : n==2 ? 2 : n%100>=3 && n%100<=10 ? 3 : n%100>=11 && n%100<=99 ? 4 : 5);\\n"

msgid "today"
msgstr "اليوم"

msgctxt "cycles"
msgid "Now"
msgstr "الآن"

msgid "in %(num)s day"
msgid_plural "in %(num)s days"
msgstr[0] "zero"
msgstr[1] "one"
msgstr[2] "two"
msgstr[3] "few"
msgstr[4] "many"
msgstr[5] "other"

msgid "Stopped"
msgstr ""
"""


def catalogue_of(text: str, locale: str = "ar") -> GNUTranslations:
    """Compile a catalogue as the site's own are."""
    made = BytesIO()
    write_mo(made, read_po(BytesIO(text.encode()), locale=locale))
    return GNUTranslations(BytesIO(made.getvalue()))


def words_of(script: str) -> dict[str, dict[str, object]]:
    found = re.search(r"^const handbookWords = (.*);$", script, re.MULTILINE)
    assert found
    return json.loads(found[1])  # type: ignore[no-any-return]


def test_scripts_hold_what_babel_reads_in_them() -> None:
    """Babel's own reader of JavaScript finds the same, so nothing is said that is not in the catalogues."""
    babels = {
        ScriptMessage(context or "", *(text if isinstance(text, tuple) else (text, "")))
        for method, path, options in sources()
        if method == "javascript"
        for _, text, _, context in extract_from_file(
            method, path, keywords=KEYWORDS, options=options
        )
    }
    of_pages, of_binder = script_messages(), script_messages(("binder",))
    assert {*of_pages, *of_binder} == babels
    assert len(babels) > 80


def test_a_message_is_read_with_its_context_and_its_plural() -> None:
    script = """
      gettext("one \\"two\\""); pgettext("a", "b", { c }); ngettext("d", "e", 3);
      npgettext("f", "%(num)s g",
        "%(num)s h", n, { i }); agettext("not ours"); gettext(variable);
    """
    assert [*messages_in(script)] == [
        ("", 'one "two"', ""),
        ("a", "b", ""),
        ("", "d", "e"),
        ("f", "%(num)s g", "%(num)s h"),
    ]


def test_all_forms_of_a_language_are_given_and_what_it_lacks_is_not() -> None:
    said = words_of(script_words("ar", catalogue_of(ARABIC)))["messages"]
    assert said == {
        "today": "اليوم",
        "cycles\x04Now": "الآن",
        "in %(num)s day": ["zero", "one", "two", "few", "many", "other"],
    }


def test_english_needs_no_messages() -> None:
    words = words_of(script_words("en", NullTranslations()))
    assert words["messages"] == {}
    assert words["formats"]["shortDay"] == "EEE, MMM d"
