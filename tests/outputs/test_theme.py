"""The frame's icons and words come from the installed theme, and nothing breaks without it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from gettext import NullTranslations
from importlib.resources import files
from pathlib import Path

import pytest

from handbook.outputs.html import theme
from handbook.outputs.html.theme import FrameWords, frame_words, icon, theme_words
from handbook.outputs.i18n import speaking
from handbook.pipeline import load_plan, render
from tests.content_folders import base_files, changed, write_folder

# The package itself, read by other means, is what the results are held against.
TEMPLATES = files("material") / "templates"


@pytest.fixture(autouse=True)
def forgetful() -> Iterator[None]:
    yield
    icon.cache_clear()
    theme_words.cache_clear()


@pytest.mark.parametrize("name", ["magnify", "menu"])
def test_an_icon_has_the_outline_of_the_package_and_no_more(name: str) -> None:
    source = (TEMPLATES / ".icons" / "material" / f"{name}.svg").read_text("utf-8")
    (outline,) = re.findall(r' d="([^"]*)"', source)
    assert f' d="{outline}"' in icon(name)
    assert "xmlns" not in icon(name)
    assert icon(name).startswith('<svg viewBox="0 0 24 24" aria-hidden="true">')


@pytest.mark.parametrize("name", ["no-such-icon", "../../base", "../material/close.svg/x"])
def test_what_is_no_icon_is_left_out(name: str) -> None:
    assert icon(name) == ""


@pytest.mark.parametrize("language", ["es", "ar", "vi", "zh-Hant", "pt-BR", "fr"])
def test_the_words_are_those_of_the_theme(language: str) -> None:
    text = (TEMPLATES / "partials" / "languages" / f"{language}.html").read_text("utf-8")
    words = frame_words(language)
    for key, word in (("action.skip", words.skip), ("search", words.search), ("nav", words.menu)):
        assert f'"{key}": {json.dumps(word, ensure_ascii=False)}' in text
        assert word not in {"Skip to the page", "Menu"}


def test_a_region_falls_back_to_its_language_and_an_unknown_one_to_english() -> None:
    assert frame_words("es-MX") == frame_words("es")
    assert frame_words("hmn") == frame_words("../es") == frame_words("") == FrameWords()
    assert frame_words("en") == frame_words("en-GB") == FrameWords()


def test_words_of_our_own_come_first_and_the_themes_name_their_language() -> None:
    class Shouting(NullTranslations):
        def gettext(self, message: str) -> str:
            return message.upper()

    with speaking("es", Shouting()):
        assert frame_words("es") == FrameWords("SKIP TO THE PAGE", "SEARCH", "MENU")
    with speaking("es", NullTranslations()):
        assert frame_words("es").language == ""
    with speaking("en"):
        assert frame_words("es-MX").language == "es"


# Spanish has a catalogue of ours; French and Persian have the theme's words alone, Hmong has neither.
@pytest.mark.parametrize("language", ["en", "es", "fr", "fa", "hmn"])
@pytest.mark.parametrize("package", ["material", "no_such_theme", "handbook"])
def test_a_site_is_made_with_and_without_the_theme(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, language: str, package: str
) -> None:
    monkeypatch.setattr(theme, "_PACKAGE", package)
    named = changed(base_files(), "program.yaml", "school:", f"languages: [{language}]\nschool:")
    plan = load_plan(write_folder(tmp_path, named)).plan
    assert plan is not None
    body = render(plan).pages[0].body
    known = language == "es" or (package == "material" and language in {"fr", "fa"})
    assert ("Skip to the page" in body) is not known
    assert ('<svg viewBox="0 0 24 24" aria-hidden="true"><path' in body) is (package == "material")
