"""Every engine gives the same bytes of exactly our pages, in silence, on any day."""

from __future__ import annotations

import errno
import logging
import os
import subprocess
import sys
from collections.abc import Mapping, Sequence
from html.parser import HTMLParser
from pathlib import Path
from textwrap import dedent
from typing import NoReturn

import pytest

from handbook.engines.mkdocs import BuildFaultError, MkDocsEngine
from handbook.engines.model import Engine, SiteFacts, facts_of, framed
from handbook.engines.plain import PlainEngine
from handbook.outputs.model import OutputFile, RenderedPage, Site
from handbook.publishing import NotPublishedError
from tests.demo import demo_plan, demo_site
from tests.real_media import mp3
from tests.whole_sites import site_files

CHECKOUT = Path(__file__).resolve().parents[2]
BODY = '<main id="main"><h1>Tempo &amp; tone</h1>\n<p>*not Markdown* {{ not Jinja }} B♭ – ♩ = 96</p></main>'


class SmallEngine:
    """Written here, with nothing but strings, to show that no one else knows the engine."""

    def finish(self, pages: Sequence[RenderedPage], site: SiteFacts) -> Mapping[str, bytes]:
        found = [framed(page, site) for page in pages]
        return {
            f"{page.ready.path}index.html": f"<title>{page.ready.title}</title>\n{page.content}".encode()
            for page in found
        }


@pytest.fixture(params=[MkDocsEngine, PlainEngine])
def engine(request: pytest.FixtureRequest) -> Engine:
    made: Engine = request.param()
    return made


def page(
    path: str = "", *, title: str = "Today", language: str = "en", head: str = ""
) -> RenderedPage:
    return RenderedPage(path, title, "What to practise", language, head, BODY)


def finished(engine: Engine, *pages: RenderedPage, address: str | None = None) -> dict[str, str]:
    made = engine.finish(pages or (page(),), SiteFacts("Quillhaven Bands", address))
    return {path: content.decode() for path, content in made.items()}


class Outline(HTMLParser):
    """Collects start tags with their attributes, and the text of the title."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.title = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        if self.tags and self.tags[-1][0] == "title":
            self.title += data.strip()

    def attributes(self, tag: str) -> list[dict[str, str | None]]:
        return [attrs for name, attrs in self.tags if name == tag]


def test_every_page_is_finished_and_nothing_else(engine: Engine) -> None:
    pages = page(), page("fall/"), page("fall/harbor/")
    assert sorted(finished(engine, *pages)) == [
        "fall/harbor/index.html",
        "fall/index.html",
        "index.html",
    ]
    assert engine.finish((), SiteFacts("X")) == {}


def test_the_frame_holds_title_description_language_head_and_body(engine: Engine) -> None:
    head = '<link rel="stylesheet" href="../assets/page.css">'
    made = finished(engine, page("fall/", title='Fall <"& more', language="es", head=head))
    text = made["fall/index.html"]
    outline = Outline(text)
    assert text.startswith("<!doctype html>\n")
    assert outline.attributes("html") == [{"lang": "es"}]
    assert outline.attributes("meta") == [
        {"charset": "utf-8"},
        {"name": "viewport", "content": "width=device-width, initial-scale=1"},
        {"name": "description", "content": "What to practise"},
    ]
    assert outline.title == 'Fall <"& more'
    assert head in text
    assert BODY in text


@pytest.mark.parametrize(
    ("language", "direction"),
    [("en", None), ("ar", "rtl"), ("fa", "rtl"), ("zh-Hant", None), ("xx", None)],
)
def test_languages_written_from_the_right_say_so(
    engine: Engine, language: str, direction: str | None
) -> None:
    text = finished(engine, page(language=language))["index.html"]
    (attributes,) = Outline(text).attributes("html")
    assert attributes.get("dir") == direction


def test_a_page_names_its_own_address_if_that_is_known(engine: Engine) -> None:
    made = finished(engine, page(), page("fall/"), address="https://bands.example/x/")
    links = [Outline(made[name]).attributes("link") for name in ("index.html", "fall/index.html")]
    assert links == [
        [{"rel": "canonical", "href": "https://bands.example/x/"}],
        [{"rel": "canonical", "href": "https://bands.example/x/fall/"}],
    ]


def test_nothing_of_the_tools_shows_in_a_page(engine: Engine) -> None:
    text = finished(engine)["index.html"].lower()
    assert not [
        word for word in ("mkdocs", "material", "generator", "<script", "http:") if word in text
    ]


def test_both_engines_give_the_same_bytes_of_the_demo() -> None:
    pages, facts = demo_site().pages, facts_of(demo_plan())
    assert MkDocsEngine().finish(pages, facts) == PlainEngine().finish(pages, facts)


def test_a_page_is_the_same_whichever_others_are_finished_with_it(engine: Engine) -> None:
    pages, facts = [page(), page("fall/"), page("spring/")], SiteFacts("X", "https://x.example/")
    every = engine.finish(pages, facts)
    assert engine.finish(pages[1:2], facts) == {"fall/index.html": every["fall/index.html"]}


def test_the_files_of_a_site_are_made_with_any_engine(tmp_path: Path) -> None:
    (tmp_path / "media" / "tone").mkdir(parents=True)
    (tmp_path / "media" / "tone" / "long.mp3").write_bytes(mp3(40))
    (tmp_path / "media" / "not-named.mp3").write_bytes(b"private")
    css = OutputFile("assets/page.css", b"p {}\n")
    site = Site((page("fall/"),), (css,), ("tone/long.mp3",))
    files = site_files(site, SiteFacts("X"), engine=SmallEngine(), media=tmp_path / "media")
    found = {file.path: file.read() for file in files}
    assert found == {
        "fall/index.html": f"<title>Today</title>\n{BODY}".encode(),
        "assets/page.css": b"p {}\n",
        "media/tone/long.mp3": mp3(40),
    }


def printed_by_a_child(*, before: str = "", **environment: str) -> tuple[str, str]:
    """Give what is printed: the digest of three pages finished by MkDocs; and what is warned."""
    script = f"""
        {before}
        from hashlib import sha256
        from handbook.engines.mkdocs import MkDocsEngine
        from handbook.engines.model import SiteFacts
        from tests.engines.test_engines import page
        pages = page(), page("fall/"), page("spring/")
        made = MkDocsEngine().finish(pages, SiteFacts("X", "https://b.example/"))
        print(len(made), sha256(repr(sorted(made.items())).encode()).hexdigest())
    """
    bare = {
        key: value
        for key, value in os.environ.items()
        if key not in {"NO_MKDOCS_2_WARNING", "SOURCE_DATE_EPOCH"}
    }
    done = subprocess.run(
        [sys.executable, "-c", dedent(script)],
        cwd=CHECKOUT, env={**bare, **environment}, check=True, capture_output=True, text=True,
    )  # fmt: skip
    return done.stdout, done.stderr


def test_a_build_says_nothing_even_where_the_theme_prints_its_notice() -> None:
    printed, warned = printed_by_a_child(before="import sys; sys.argv[0] = 'mkdocs'")
    assert (len(printed.splitlines()), warned) == (1, "")


def test_builds_on_other_days_and_by_other_hash_seeds_give_the_same_bytes() -> None:
    # SOURCE_DATE_EPOCH is the clock that MkDocs takes for its build date.
    one = printed_by_a_child(PYTHONHASHSEED="1", SOURCE_DATE_EPOCH="0")
    other = printed_by_a_child(PYTHONHASHSEED="2", SOURCE_DATE_EPOCH="2000000000")
    assert one == other
    assert one[0].startswith("3 ")


def test_what_mkdocs_warns_of_is_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    def warn(*_: object, **__: object) -> None:
        logging.getLogger("mkdocs.structure.files").warning("something is odd")

    monkeypatch.setattr("handbook.engines.mkdocs._Taking.on_post_build", warn, raising=False)
    with pytest.raises(BuildFaultError, match="something is odd"):
        finished(MkDocsEngine())


def test_a_full_folder_for_temporary_files_is_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> NoReturn:
        raise OSError(errno.ENOSPC, "No space left on device", "/tmp/handbook-x")

    monkeypatch.setattr("tempfile.mkdtemp", full)
    with pytest.raises(NotPublishedError, match=r"handbook-x could not be made .* make room"):
        finished(MkDocsEngine())
