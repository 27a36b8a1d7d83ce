"""The typefaces of a language are those of the letters on its pages, however these were made."""

from __future__ import annotations

from pathlib import Path
from shutil import copytree

import pytest

from handbook.engines.model import facts_of
from handbook.engines.plain import PlainEngine
from handbook.pipeline import load_plan, render
from handbook.store import Store
from tests.making.edits import made
from tests.making.test_maker import bytes_of

ONE_BAND = Path(__file__).parents[1] / "sites" / "one-band" / "content"


def written(folder: Path, languages: str, name: str = "") -> Path:
    """Write a site in other languages; `name` is one of the venue in Arabic."""
    content = folder / "content"
    copytree(ONE_BAND, content, dirs_exist_ok=True)
    program = (content / "program.yaml").read_text("utf-8")
    program = program.replace("languages: [en, es]", f"languages: [{languages}]")
    program = program.replace(
        "The Old Mill", f"{{en: The Old Mill, ar: {name}}}" if name else "The Old Mill"
    )
    (content / "program.yaml").write_text(program, "utf-8")
    return content


@pytest.mark.parametrize("languages", ["en, vi, ar", "ar, en"])
def test_kept_pages_have_the_typefaces_of_those_made_at_once(
    tmp_path: Path, languages: str
) -> None:
    content = written(tmp_path, languages)
    outcome = load_plan(content)
    assert outcome.plan is not None
    site = render(outcome.plan)
    expected = {file.path: file.content for file in site.files}
    found = bytes_of(made(content, Store()))
    faces = {path for path in found if "/faces.css" in path or path.endswith(".woff2")}
    assert faces
    assert {path: found[path] for path in faces} == {path: expected[path] for path in faces}
    pages = PlainEngine().finish(site.pages, facts_of(outcome.plan))
    assert pages.items() <= found.items()


def test_each_page_of_the_language_asks_for_them_and_no_other(tmp_path: Path) -> None:
    found = bytes_of(made(written(tmp_path, "en, vi"), Store()))
    assert "assets/vi/faces.css" in found
    assert "assets/faces.css" not in found
    pages = {path: text.decode() for path, text in found.items() if path.endswith("index.html")}
    assert pages
    for path, page in pages.items():
        own = path.startswith("vi/")
        assert ('assets/vi/faces.css">' in page) is own, path
        assert ('assets/vi/fonts/noto-sans-vietnamese.woff2" as="font"' in page) is own, path


def test_a_letter_that_comes_and_goes_is_followed(tmp_path: Path) -> None:
    store, mill, style = (
        Store(),
        "پ",
        "assets/ar/faces.css",
    )  # a letter that Persian has beside Arabic
    before = bytes_of(made(written(tmp_path, "en, ar", "ب"), store))
    after = bytes_of(made(written(tmp_path, "en, ar", mill), store))
    assert f"U+{ord(mill):X}" not in before[style].decode()
    assert f"U+{ord(mill):X}" in after[style].decode()
    assert bytes_of(made(written(tmp_path, "en, ar", "ب"), store)) == before
    assert bytes_of(made(written(tmp_path, "en, ar", mill), Store())) == after
