"""One tree of pages a language: the same addresses and places, each text with its own language."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.etree import ElementTree as ET

import pytest

from handbook.domain.values.text import Text
from handbook.engines.model import facts_of
from handbook.engines.plain import PlainEngine
from handbook.outputs.i18n import other_language
from handbook.outputs.i18n.other_language import CLOSE, OPEN, PARTING, marked, told
from handbook.outputs.page import Context
from handbook.pipeline import load_plan, render
from handbook.publishing import with_sitemap
from handbook.publishing.verify_links import link_facts, link_findings
from tests.content_folders import base_files, write_folder

# The last has no catalogue; Arabic is written from the right (Unicode, Bidirectional Algorithm).
LANGUAGES = ("en", "es", "ar", "fi")
ADDRESS = "https://bands.example/q/"
_ID = re.compile(r' id="(?!letter-)([^"]*)"')  # of words there are other first letters


@cache
def files() -> dict[str, str]:
    """The finished site of small content in four languages, by path."""
    program = base_files()["program.yaml"].replace(
        "time_zone:", f"languages: [{', '.join(LANGUAGES)}]\naddress: {ADDRESS}\ntime_zone:"
    )
    concert = base_files()["cycles/winter/concert.yaml"].replace(
        "name: Winter concert", "name: {en: Winter concert, es: Concierto de invierno}"
    )
    pages = {
        "program.yaml": program,
        "cycles/winter/concert.yaml": concert,
        "pages/trip.md": "# Trip\n\nWe all go there by bus.\n",
        "pages/ar/trip.md": "# رحلة\n\nنذهب بالحافلة.\n",
    }
    with TemporaryDirectory() as name:
        outcome = load_plan(write_folder(Path(name), {**base_files(), **pages}))
    assert outcome.plan is not None, outcome.problems
    facts = facts_of(outcome.plan)
    site = with_sitemap(render(outcome.plan), facts.address)
    made = {**PlainEngine().finish(site.pages, facts), **{f.path: f.content for f in site.files}}
    return {path: content.decode(errors="replace") for path, content in made.items()}


def in_tree(language: str) -> dict[str, str]:
    """The pages in a language, by their addresses below its root."""
    folders = tuple(f"{code}/" for code in LANGUAGES[1:])
    tree = "" if language == LANGUAGES[0] else f"{language}/"
    return {
        path.removeprefix(tree): html
        for path, html in files().items()
        if path.endswith("index.html") and path.startswith(tree or "")
        if (tree or not path.startswith(folders)) and not path.startswith("families/ar/")
    }


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_each_page_stands_in_each_language_with_the_same_places(language: str) -> None:
    first, other = in_tree("en"), in_tree(language)
    assert first.keys() == other.keys()
    for path, html in first.items():
        assert {*_ID.findall(html)} <= {*_ID.findall(other[path])}, path


def test_every_link_leads_somewhere() -> None:
    found = {path: link_facts(path, text.encode()) for path, text in files().items()}
    assert link_findings(found, ADDRESS) == ()


@pytest.mark.parametrize(
    ("language", "html", "body"),
    [
        ("en", '<html lang="en">', "<body>"),
        ("es", '<html lang="es">', "<body>"),
        ("ar", '<html lang="ar" dir="rtl">', "<body>"),
        ("fi", '<html lang="fi">', '<body lang="en">'),
    ],
)
def test_a_page_says_which_language_it_is_in(language: str, html: str, body: str) -> None:
    for path, page in in_tree(language).items():
        assert html in page, path
        assert body in page, path


def test_no_mark_is_left_on_a_page() -> None:
    """Scripts alone keep them, and make elements of them."""
    for path, text in files().items():
        if not path.endswith((".js", ".woff2", ".png")) or "search/" in path:
            assert not {OPEN, PARTING, CLOSE} & {*text}, path


class _Spoken(HTMLParser):
    """Notes in which language each text of a page is."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[tuple[str, str]] = []
        self._languages = [""]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in {"meta", "link", "br", "img", "input", "source", "wbr", "hr"}:
            self._languages.append(dict(attrs).get("lang") or self._languages[-1])

    def handle_endtag(self, tag: str) -> None:
        del self._languages[-1]
        if tag == "script":  # data of search engines, which tells of no language
            self.said.pop()

    def handle_data(self, data: str) -> None:
        self.said.append((" ".join(data.split()), self._languages[-1]))


def languages_of(page: str, words: str) -> set[str]:
    """The languages that texts with some words are said to be in."""
    reader = _Spoken()
    reader.feed(page)
    return {language for said, language in reader.said if words in said}


@pytest.mark.parametrize(
    ("language", "name", "said_in"),
    [
        ("en", "Winter concert", "en"),
        ("es", "Concierto de invierno", "es"),
        ("ar", "Winter concert", "en"),
        ("fi", "Winter concert", "en"),
    ],
)
def test_each_text_is_said_to_be_in_its_own_language(
    language: str, name: str, said_in: str
) -> None:
    main = in_tree(language)["winter/concert/index.html"].partition("<main")[2]
    page = (
        f'<html lang="{language if language != "fi" else "en"}"><main{main.partition("</main>")[0]}'
    )
    assert languages_of(page, name) == {said_in}


def test_a_page_that_is_not_translated_says_so_at_its_top() -> None:
    assert "partly" not in in_tree("en")["families/trip/index.html"]
    assert "partly" in in_tree("es")["families/trip/index.html"]
    assert "partly" not in in_tree("ar")["families/trip/index.html"]
    assert "نذهب بالحافلة" in in_tree("ar")["families/trip/index.html"]


def test_the_choice_of_languages_leads_to_the_same_page() -> None:
    for language in LANGUAGES:
        page = in_tree(language)["winter/lantern/index.html"]
        (choice,) = re.findall(r'<nav class="languages".*?</nav>', page, re.DOTALL)
        up = "../../" if language == "en" else "../../../"
        found = re.findall(r'href="([^"]*)" lang="([^"]*)" hreflang="([^"]*)"', choice)
        assert found == [
            (f"{up}{'' if code == 'en' else f'{code}/'}winter/lantern/", code, code)
            for code in LANGUAGES
        ]
        turned = re.findall(r'hreflang="(\w+)" dir="(\w+)"', choice)
        assert turned == (
            [(code, "ltr") for code in LANGUAGES if code != "ar"]
            if language == "ar"
            else [("ar", "rtl")]
        )
        names = re.findall(r">([^<]+)</a>", choice)
        assert names == ["English", "Español", "العربية", "Suomi"]  # of CLDR, with a capital
        assert re.findall(r'lang="(\w+)" hreflang="\w+"(?: dir="\w+")? aria-current', choice) == [
            language
        ]


def test_search_engines_are_told_of_each_language() -> None:
    """Each version names all of them and itself, with whole addresses (Google Search Central)."""
    versions = {
        "en": f"{ADDRESS}words/",
        **{code: f"{ADDRESS}{code}/words/" for code in LANGUAGES[1:]},
        "x-default": f"{ADDRESS}words/",
    }
    for language in LANGUAGES:
        page = in_tree(language)["words/index.html"]
        found = re.findall(r'<link rel="alternate" hreflang="([^"]+)" href="([^"]+)">', page)
        assert dict(found) == versions
        assert f'<link rel="canonical" href="{versions[language]}">' in page
    root = ET.fromstring(files()["sitemap.xml"])
    spaces = {
        "s": "http://www.sitemaps.org/schemas/sitemap/0.9",
        "x": "http://www.w3.org/1999/xhtml",
    }
    told_of = {
        str(url.findtext("s:loc", namespaces=spaces)): {
            link.attrib["hreflang"]: link.attrib["href"] for link in url.findall("x:link", spaces)
        }
        for url in root.findall("s:url", spaces)
    }
    assert told_of[f"{ADDRESS}words/"] == told_of[f"{ADDRESS}ar/words/"] == versions
    assert f"{ADDRESS}families/ar/trip/" not in told_of  # which only leads on
    assert len(told_of) == len(LANGUAGES) * len(in_tree("en"))


def test_a_site_in_one_language_has_no_choice(tmp_path: Path) -> None:
    program = base_files()["program.yaml"].replace("time_zone:", f"address: {ADDRESS}\ntime_zone:")
    outcome = load_plan(write_folder(tmp_path, {**base_files(), "program.yaml": program}))
    assert outcome.plan is not None
    site = with_sitemap(render(outcome.plan), ADDRESS)
    assert all("languages" not in page.body + page.head for page in site.pages)
    (sitemap,) = (file.content.decode() for file in site.files if file.path == "sitemap.xml")
    assert "xhtml" not in sitemap


def test_search_finds_what_is_in_the_language() -> None:
    def titles(path: str) -> set[str]:
        script = files()[path]
        rows = json.loads(script[script.index("[") : script.rindex("]") + 1])
        return {row["t"] for row in rows}

    assert "Winter concert" in titles("search/cycles/winter.js")
    assert "Concierto de invierno" in titles("es/search/cycles/winter.js")
    assert "Winter concert" not in titles("es/search/cycles/winter.js")


EN = marked("Warm up", "en")


@pytest.mark.parametrize(
    ("html", "page_language", "shown"),
    [
        (f"<p>{EN}, 8</p>", "es", '<p><span lang="en">Warm up</span>, 8</p>'),
        (f"<p>{EN}</p>", "ar", '<p><span lang="en" dir="ltr">Warm up</span></p>'),
        (f'<a title="{EN}">{EN}</a>', "es", '<a title="Warm up"><span lang="en">Warm up</span></a>'),
        (f"<svg><text>{EN}</text></svg>", "es", "<svg><text>Warm up</text></svg>"),
        (f'<script type="application/ld+json">"{EN}"</script>', "es", '<script type="application/ld+json">"Warm up"</script>'),
        (marked("<p>One</p>\n<p>Two</p>", "en"), "es", '<div lang="en"><p>One</p>\n<p>Two</p></div>'),
        (marked("An <em>odd</em> bar", "en"), "es", '<span lang="en">An <em>odd</em> bar</span>'),
        # Cut short, or ending within another element: no element is left open.
        (f"<b>{EN[:-3]}…</b> on", "es", '<b><span lang="en">Warm …</span></b> on'),
        (f"<b>{EN[:-1]}</b>{CLOSE} on", "es", '<b><span lang="en">Warm up</span></b> on'),
        (f"{EN[:-1]} {EN}", "es", '<span lang="en">Warm up </span><span lang="en">Warm up</span>'),
        ("<p>No mark</p>", "es", "<p>No mark</p>"),
    ],
)  # fmt: skip
def test_marks_become_elements_where_these_may_stand(
    html: str, page_language: str, shown: str
) -> None:
    assert told(html, page_language).html == shown


def test_names_alone_are_not_told_of() -> None:
    assert not told(marked("Lantern Band", "en"), "es").languages
    assert told(marked("Bring a pencil and music", "en"), "es").languages == {"en"}


def test_a_mark_is_of_no_content() -> None:
    """Private use, which the Unicode Standard gives no meaning (23.5 in version 15)."""
    for mark in (OPEN, PARTING, CLOSE):
        assert "\ue000" <= mark <= "\uf8ff"
    assert other_language.bare(EN) == "Warm up"


def test_a_text_that_is_not_there_comes_in_the_first_language(tmp_path: Path) -> None:
    """Whatever its author wrote first; and in what there is, if the first is not."""
    plan = load_plan(write_folder(tmp_path, base_files())).plan
    assert plan is not None
    context = Context(replace(plan, languages=("en", "es", "ar")), "ar")
    both = Text((("es", "Hola"), ("en", "Hello")))
    assert context.say(both) == marked("Hello", "en")
    assert context.say(Text((("es", "Hola"),))) == marked("Hola", "es")
    assert context.say(Text.plain("Hello")) == marked("Hello", "en")
    assert context.say(Text((("", "Hello"), ("ar", "مرحبا")))) == "مرحبا"
    assert replace(context, language="en").say(both) == "Hello"
