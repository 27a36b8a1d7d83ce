"""What the frame takes from the package of the theme Material: icons, and its words.

The files are read where the package is installed; nothing of it is run. Without the
package, or a file of it, the frame stands without icons and with English words.
"""

from __future__ import annotations

import json
import re
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from markupsafe import Markup

from handbook.outputs.i18n import gettext, speech
from handbook.outputs.i18n.catalogues import SOURCE
from handbook.records import dataclass

_PACKAGE = "material"
_ICON = re.compile(
    r'<svg xmlns="http://www\.w3\.org/2000/svg" viewBox="([\d. -]+)"><path d="([^"<>]+)"/></svg>'
)
_WORD = re.compile(r'^\s*("[a-z.]+"): ("(?:[^"\\]|\\.)*")', re.MULTILINE)


@dataclass(frozen=True, slots=True)
class FrameWords:
    """The words of the frame that the theme has in other languages.

    `language` is theirs, if it is not that of the words around them.
    """

    skip: str = "Skip to the page"
    search: str = "Search"
    menu: str = "Menu"
    language: str = ""


@cache
def icon(name: str) -> Markup:
    """Draw an icon of Material Design Icons in the colour of the text; nothing if there is none."""
    found = _ICON.fullmatch(_text(f".icons/material/{name}.svg").strip())
    if not found:
        return Markup()
    return Markup('<svg viewBox="{}" aria-hidden="true"><path d="{}"/></svg>').format(
        *found.groups()
    )


def frame_words(language: str) -> FrameWords:
    """Give the frame's words: ours in English or by our catalogue, else the theme's, else English."""
    ours = FrameWords(gettext("Skip to the page"), gettext("Search"), gettext("Menu"))
    plain = language.partition("-")[0]
    if plain == SOURCE or ours != FrameWords():
        return ours
    found = next((code for code in (language, plain) if theme_words(code)), "")
    if not found:
        return ours
    told = theme_words(found)
    return FrameWords(
        skip=told.get("action.skip") or ours.skip,
        search=told.get("search") or ours.search,
        menu=told.get("nav") or ours.menu,
        language="" if speech().code in {language, found} else found,
    )


@cache
def theme_words(language: str) -> dict[str, str]:
    """Give all words of the theme in a language, by its keys; nothing if it has none."""
    if not re.fullmatch(r"[A-Za-z-]+", language):
        return {}
    text = _text(f"partials/languages/{language}.html")
    return {json.loads(key): json.loads(word) for key, word in _WORD.findall(text)}


def _text(path: str) -> str:
    """Give a file of the theme's templates; nothing if it is not there."""
    spec = find_spec(_PACKAGE)
    for folder in (spec.submodule_search_locations or ()) if spec else ():
        try:
            return (Path(folder) / "templates" / path).read_text("utf-8")
        except (OSError, ValueError):
            continue
    return ""
