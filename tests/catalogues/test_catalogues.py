"""Every catalogue says every message of the code, with its values and marks as they are there.

Sources: GNU gettext's manual ("Preparing Translatable Strings", "Plural forms"); plural rules are
those of Unicode CLDR as Babel has them.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from tests.catalogues.extraction import CHECKOUT, KEYWORDS, LOCALES, extracted

CATALOGUES = ("ar", "es", "ht", "vi", "zh_Hans")
_VALUE = re.compile(r"%\(\w+\)s|%%")
_TAG = re.compile(r"</?\w+[^>]*>")
_STRAY = re.compile(r"[\u202f\u2009\u200b\u200e\u200f\u202a-\u202e\u2066-\u2069]")


@cache
def messages() -> Catalog:
    return extracted()


@cache
def catalogue(code: str) -> Catalog:
    with (LOCALES / code / "LC_MESSAGES" / "handbook.po").open("rb") as file:
        return read_po(file, locale=code, abort_invalid=True)


def forms(text: object) -> tuple[str, ...]:
    return tuple(map(str, text)) if isinstance(text, tuple | list) else (str(text or ""),)


def translated(code: str) -> Iterator[Message]:
    return (message for message in catalogue(code) if message.id)


def test_there_is_a_catalogue_for_each_language_that_is_promised() -> None:
    found = {path.parent.parent.name for path in LOCALES.glob("*/LC_MESSAGES/handbook.po")}
    assert found == set(CATALOGUES)


@pytest.mark.parametrize("code", CATALOGUES)
def test_it_has_the_messages_of_the_code_and_no_others(code: str) -> None:
    """`python -m tests.catalogues` brings in new ones and takes out those that are gone."""
    wanted = {(one.context or "", forms(one.id)) for one in messages() if one.id}
    known = {(one.context or "", forms(one.id)) for one in translated(code)}
    assert sorted(wanted - known) == []
    assert sorted(known - wanted) == []


@pytest.mark.parametrize("code", CATALOGUES)
def test_it_leaves_none_empty_or_unsure(code: str) -> None:
    left = [one.id for one in translated(code) if one.fuzzy or not all(forms(one.string))]
    assert left == []


@pytest.mark.parametrize("code", CATALOGUES)
def test_a_plural_has_as_many_forms_as_the_language(code: str) -> None:
    number = catalogue(code).num_plurals
    assert [
        one.id
        for one in translated(code)
        if isinstance(one.id, tuple) and len(forms(one.string)) != number
    ] == []


@pytest.mark.parametrize("code", CATALOGUES)
def test_values_and_tags_stand_in_each_translation(code: str) -> None:
    """A form for one or two things may say its number in words."""
    wrong = []
    for one in translated(code):
        texts = forms(one.id)
        for text in forms(one.string):
            values, tags = set(_VALUE.findall(text)), sorted(_TAG.findall(text))
            needed = set(_VALUE.findall(texts[-1]))
            free = {"%(num)s", "%(count)s", "%(number)s", "%(n)s"} if len(texts) > 1 else set()
            if not needed - free <= values <= needed or tags != sorted(_TAG.findall(texts[-1])):
                wrong.append((one.id, text))
    assert wrong == []


@pytest.mark.parametrize("code", CATALOGUES)
def test_spaces_at_its_ends_are_those_of_the_message_and_none_is_unseen(code: str) -> None:
    wrong = []
    for one in translated(code):
        text = forms(one.id)[0]
        for said in forms(one.string):
            ends = (said[:1].isspace(), said[-1:].isspace())
            if ends != (text[:1].isspace(), text[-1:].isspace()) or _STRAY.search(said):
                wrong.append(said)
    assert wrong == []


def test_no_message_is_made_of_what_is_not_known_before() -> None:
    """What is said must stand in the code letter by letter, or in a table under gettext_noop."""
    wrong = []
    for path in sorted((CHECKOUT / "handbook" / "outputs").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or _called(node.func) not in KEYWORDS:
                continue
            place = 1 if "p" in _called(node.func).partition("gettext")[0] else 0
            message = node.args[place] if len(node.args) > place else None
            of_beats = place and ast.unparse(node.args[0]) == "'beat'"  # all of a table
            if isinstance(message, ast.JoinedStr | ast.BinOp) and not of_beats:
                wrong.append(f"{path.relative_to(CHECKOUT)}:{node.lineno}")
    assert wrong == []


def _called(function: ast.expr) -> str:
    return function.id if isinstance(function, ast.Name) else ""


def test_each_message_names_its_values_and_joins_no_ending() -> None:
    """`%s` cannot be put in another order, and a space at an end shows a joined sentence."""
    texts = [text for one in messages() if one.id for text in forms(one.id)]
    unnamed = re.compile(r"(?<!%)%(?![(%])")
    assert [text for text in texts if unnamed.search(text) or text != text.strip()] == []


def test_the_heads_say_whether_a_speaker_has_read_them() -> None:
    for code in CATALOGUES:
        head = (LOCALES / code / "LC_MESSAGES" / "handbook.po").read_text("utf-8")
        assert re.search(r"^# Reviewed by a speaker: (?:no|\d{4}-\d\d-\d\d)$", head, re.MULTILINE)


def test_templates_hold_no_words_outside_messages() -> None:
    """Of a template's own text, tags and Jinja apart, no word may be left."""
    wrong = []
    for folder in ("pages", "components", "history"):
        for path in sorted((CHECKOUT / "site_templates" / folder).glob("*.j2")):
            wrong += [f"{path.name}: {words}" for words in bare_words(path)]
    assert wrong == []


_BLOCKS = re.compile(
    r"\{#.*?#\}|\{%-?\s*trans\b.*?\{%-?\s*endtrans\s*-?%\}|\{%.*?%\}|\{\{.*?\}\}", re.DOTALL
)
_READ_ALOUD = re.compile(r'\b(?:aria-label|title|alt|placeholder)="([^"]*)"')


def bare_words(path: Path) -> Iterator[str]:
    """Give the words of a template that are in no message, seen or read aloud."""
    text = _BLOCKS.sub(" ", path.read_text("utf-8"))
    text = re.sub(r"<(script|style)\b.*?</\1>", " ", text, flags=re.DOTALL)
    shown = [*re.split(r"<[^>]*>", text), *_READ_ALOUD.findall(text)]
    for part in shown:
        words = re.sub(r"&\w+;|[\w-]+=\"[^\"]*\"|\bwho-|\b(?:hidden|mine)\b", " ", part)
        if re.search(r"[^\W\d_]{2,}", words):
            yield " ".join(words.split())
