"""MkDocs makes exactly our files, in silence, the same bytes each time."""

from __future__ import annotations

import logging
import os
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path
from textwrap import dedent

import pytest
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError

from handbook.mkdocs_plugin import BuildFaultError, HandbookPlugin, builder
from handbook.outputs.model import OutputFile, RenderedPage, Site

CHECKOUT = Path(__file__).resolve().parents[1]
BODY = '<main id="main"><h1>Tempo &amp; tone</h1>\n<p>*not Markdown* {{ not Jinja }} B♭ – ♩ = 96</p></main>'


def page(
    path: str = "", *, title: str = "Today", language: str = "en", head: str = ""
) -> RenderedPage:
    return RenderedPage(path, title, "What to practise", language, head, BODY)


def built(
    folder: Path,
    *pages: RenderedPage,
    files: tuple[OutputFile, ...] = (),
    address: str | None = None,
) -> Path:
    site = Site(pages or (page(),), files)
    builder(site, name="Quillhaven Bands", media=folder / "media", address=address)(folder / "site")
    return folder / "site"


def names(folder: Path) -> list[str]:
    return sorted(
        path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()
    )


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


def test_only_our_pages_and_files_are_written(tmp_path: Path) -> None:
    files = (OutputFile("assets/page.css", b"p {}\n"), OutputFile("404.html", b"<!doctype html>"))
    site = built(tmp_path, page(), page("fall/"), page("fall/harbor/"), files=files)
    assert names(site) == [
        "404.html",
        "assets/page.css",
        "fall/harbor/index.html",
        "fall/index.html",
        "index.html",
    ]
    assert (site / "assets/page.css").read_bytes() == b"p {}\n"


def test_media_are_copied_as_they_are(tmp_path: Path) -> None:
    (tmp_path / "media" / "tone").mkdir(parents=True)
    (tmp_path / "media" / "tone" / "long.mp3").write_bytes(bytes(range(256)))
    (tmp_path / "media" / "not-named.mp3").write_bytes(b"private")
    site = Site((page(),), (), ("tone/long.mp3",))
    builder(site, name="X", media=tmp_path / "media")(tmp_path / "site")
    assert names(tmp_path / "site") == ["index.html", "media/tone/long.mp3"]
    assert (tmp_path / "site/media/tone/long.mp3").read_bytes() == bytes(range(256))


def test_the_frame_holds_title_description_language_head_and_body(tmp_path: Path) -> None:
    head = '<link rel="stylesheet" href="../assets/page.css">'
    site = built(tmp_path, page("fall/", title='Fall <"& more', language="es", head=head))
    text = (site / "fall/index.html").read_text(encoding="utf-8")
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
    tmp_path: Path, language: str, direction: str | None
) -> None:
    site = built(tmp_path, page(language=language))
    (attributes,) = Outline((site / "index.html").read_text(encoding="utf-8")).attributes("html")
    assert attributes.get("dir") == direction


def test_a_page_names_its_own_address_if_that_is_known(tmp_path: Path) -> None:
    site = built(tmp_path, page(), page("fall/"), address="https://bands.example/x/")
    links = [
        Outline((site / name).read_text()).attributes("link")
        for name in ("index.html", "fall/index.html")
    ]
    assert links == [
        [{"rel": "canonical", "href": "https://bands.example/x/"}],
        [{"rel": "canonical", "href": "https://bands.example/x/fall/"}],
    ]


def test_nothing_of_the_tools_shows_in_a_page(tmp_path: Path) -> None:
    text = (built(tmp_path) / "index.html").read_text(encoding="utf-8").lower()
    assert not [
        word for word in ("mkdocs", "material", "generator", "<script", "http:") if word in text
    ]


def run_in_a_child(
    folder: Path, *, before: str = "", **environment: str
) -> subprocess.CompletedProcess[str]:
    script = f"""
        {before}
        from pathlib import Path
        from tests.test_mkdocs_plugin import built, page
        from handbook.outputs.model import OutputFile
        folder = Path({str(folder)!r})
        folder.mkdir()
        built(folder, page(), page("fall/"), files=(OutputFile("a.css", b"p {{}}"),), address="https://b.example/")
    """
    bare = {
        key: value
        for key, value in os.environ.items()
        if key not in {"NO_MKDOCS_2_WARNING", "SOURCE_DATE_EPOCH"}
    }
    return subprocess.run(
        [sys.executable, "-c", dedent(script)],
        cwd=CHECKOUT, env={**bare, **environment}, check=True, capture_output=True, text=True,
    )  # fmt: skip


def test_a_build_says_nothing_even_where_the_theme_prints_its_notice(tmp_path: Path) -> None:
    named_mkdocs = "import sys; sys.argv[0] = 'mkdocs'"
    done = run_in_a_child(tmp_path / "a", before=named_mkdocs)
    assert (done.stdout, done.stderr) == ("", "")


def test_builds_on_other_days_and_by_other_hash_seeds_give_the_same_bytes(tmp_path: Path) -> None:
    # SOURCE_DATE_EPOCH is the clock that MkDocs takes for its build date.
    run_in_a_child(tmp_path / "a", PYTHONHASHSEED="1", SOURCE_DATE_EPOCH="0")
    run_in_a_child(tmp_path / "b", PYTHONHASHSEED="2", SOURCE_DATE_EPOCH="2000000000")
    trees = [
        {
            name: (tmp_path / run / "site" / name).read_bytes()
            for name in names(tmp_path / run / "site")
        }
        for run in ("a", "b")
    ]
    assert trees[0] == trees[1]
    assert len(trees[0]) == 3


def test_what_mkdocs_warns_of_is_a_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def warn(*_: object, **__: object) -> None:
        logging.getLogger("mkdocs.structure.files").warning("something is odd")

    monkeypatch.setattr(HandbookPlugin, "on_post_build", warn, raising=False)
    with pytest.raises(BuildFaultError, match="something is odd"):
        built(tmp_path)


def test_the_plugin_alone_points_to_the_command() -> None:
    with pytest.raises(PluginError, match="handbook build"):
        HandbookPlugin().on_config(MkDocsConfig())
