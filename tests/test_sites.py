"""Golden pages: the main content of each page kind of a small site, without its frame.

Rewritten by `pytest --rewrite tests/test_sites.py`; review the difference like code.
"""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path

import pytest

from handbook.cli.plan_json import plan_text
from handbook.outputs.model import RenderedPage, Site
from handbook.outputs.search.spellings import spellings
from handbook.outputs.site import render_site
from handbook.pipeline import load_plan, load_problems
from handbook.plan.model import Plan
from handbook.report import report_text

SITES = Path(__file__).parent / "sites"
CASES = sorted(folder.name for folder in SITES.iterdir() if folder.is_dir())
_MAIN = re.compile(r"<main\b[^>]*>\n?(.*)</main>", re.DOTALL)
_VERSION = re.compile(r"\?v=[0-9a-f]{10}")
"""A changed script or style changes the addresses on all pages, which says nothing of them."""


@cache
def plan_of(name: str) -> Plan:
    outcome = load_plan(SITES / name / "content")
    assert outcome.plan is not None, outcome.problems
    return outcome.plan


@cache
def built(name: str) -> Site:
    return render_site(plan_of(name))


def pages_of(name: str) -> list[RenderedPage]:
    """Give the pages in the site's first language; the others are the same with other words."""
    first = plan_of(name).languages[0]
    return [page for page in built(name).pages if page.language == first]


def check(expected: Path, found: str, *, rewrite: bool) -> None:
    if rewrite:
        expected.parent.mkdir(parents=True, exist_ok=True)
        expected.write_text(found, encoding="utf-8")
    assert found == expected.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", CASES)
def test_the_list_of_files(name: str, request: pytest.FixtureRequest) -> None:
    site = built(name)
    names = [f"{page.path}index.html" for page in site.pages] + [file.path for file in site.files]
    check(
        SITES / name / "expected" / "files.txt",
        "".join(f"{one}\n" for one in sorted(names)),
        rewrite=request.config.getoption("--rewrite"),
    )


@pytest.mark.parametrize("name", CASES)
def test_what_is_said_of_the_content(name: str, rewrite: bool) -> None:
    found = load_problems(SITES / name / "content")
    told = report_text(found.problems, found.sources, folder="content")
    check(SITES / name / "expected" / "problems.txt", told, rewrite=rewrite)


@pytest.mark.parametrize("name", CASES)
def test_the_plan(name: str, rewrite: bool) -> None:
    check(
        SITES / name / "expected" / "plan.json",
        plan_text(plan_of(name), plan_of(name).cycles, plan_of(name).events),
        rewrite=rewrite,
    )


@pytest.mark.parametrize("name", CASES)
def test_the_main_content_of_each_page(name: str, request: pytest.FixtureRequest) -> None:
    rewrite = request.config.getoption("--rewrite")
    for page in pages_of(name):
        main = _MAIN.search(page.body)
        assert main, page.path
        slug = page.path.rstrip("/").replace("/", "--") or "today"
        text = _VERSION.sub("", main[1])
        check(SITES / name / "expected" / f"{slug}.html", text, rewrite=rewrite)


@pytest.mark.parametrize("name", CASES)
def test_the_search_index(name: str, request: pytest.FixtureRequest) -> None:
    entries = [
        {
            "page": page.path,
            "title": entry.title,
            "anchor": entry.anchor,
            "text": entry.text,
            "keywords": f"{entry.keywords} {spellings(entry)}".strip(),
        }
        for page in pages_of(name)
        for entry in page.search
    ]
    text = json.dumps(entries, ensure_ascii=False, indent=1) + "\n"
    check(
        SITES / name / "expected" / "search.json",
        text,
        rewrite=request.config.getoption("--rewrite"),
    )
