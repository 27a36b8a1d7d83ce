"""The demo, read, planned and rendered once for all tests that only look at it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path
from shutil import copytree
from tempfile import mkdtemp

from handbook.outputs.model import Site
from handbook.outputs.site import Renderer, made_pages, render_site
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from tests.shared import made_once, shared_folder
from tests.whole_sites import publish_site

DEMO = Path(__file__).resolve().parents[1] / "content"

# One page of most kinds, which there is in the tree of any language.
KINDS = (
    *("", "calendar/", "events/", "families/", "languages/", "words/", "winter-2026/"),
    *("winter-2026/harbor/", "winter-2026/harbor/part/trumpet/"),
    *("winter-2026/concert/", "winter-2026/concert/crew/"),
)


@cache
def demo_plan() -> Plan:
    """Plan the demo."""
    plan = load_plan(DEMO).plan
    assert plan is not None
    return plan


@cache
def demo_site() -> Site:
    """Render the demo in its first two languages, of which the second stands for the others."""
    plan = demo_plan()
    two = replace(plan, languages=plan.languages[:2])
    return made_once("demo-in-two-languages", lambda: render_site(two))


@cache
def whole_demo_site() -> Site:
    """Render the demo in all its languages, for the few tests that look at every tree."""
    return made_once("demo", lambda: render_site(demo_plan()))


@cache
def demo_kinds() -> dict[str, str]:
    """Tell of each page's address in the first language which kind of page it is."""
    return made_once("demo-kinds", _kinds)


def _kinds() -> dict[str, str]:
    pages = (made.page for made in made_pages(Renderer(), demo_plan()))
    return {page.path: page.kind for page in pages}


@cache
def demo_folder() -> Path:
    """Publish the demo into a folder, which is read alone."""
    return made_once("demo-folder", _published)


def _published() -> Path:
    folder = Path(mkdtemp(dir=shared_folder()))
    return publish_site(whole_demo_site(), demo_plan(), DEMO, folder / "site").target


def demo_in(folder: Path, *languages: str) -> Path:
    """Copy the demo's content into a folder that is not there yet, in these languages alone.

    Each further tree of pages costs a build as much as the first. Arabic has all that another
    language may bring: letters that the site's own faces lack, and pages from right to left.
    """
    copytree(DEMO, folder)
    program = folder / "program.yaml"
    whole, listed = program.read_text("utf-8"), f"languages: [{', '.join(demo_plan().languages)}]"
    assert whole.count(listed) == 1
    program.write_text(whole.replace(listed, f"languages: [{', '.join(languages)}]"), "utf-8")
    return folder


def once_of_each_kind(paths: Iterable[str], *languages: str) -> list[str]:
    """Leave out pages of languages after the first, but for one of most kinds in some of them.

    Trees are made alike, so that a test which opens every page need not open them in each
    language: Arabic, which runs from right to left, finds more than others. The page for lost
    readers stays in all languages.
    """
    others = demo_plan().languages[1:]
    kept = {f"{language}/{path}" for language in languages for path in KINDS}
    lost = {f"{language}/404.html" for language in others}
    trees = tuple(f"{language}/" for language in others)
    found = [path for path in paths if not path.startswith(trees) or path in kept | lost]
    assert {*found} >= kept
    return found
