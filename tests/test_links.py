"""Links in texts and on pages: what the checks pass leads somewhere on the finished site."""

from __future__ import annotations

import random
import re
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest
import yaml

from handbook.checks import LINK_CHECKS, REFERENCE_CHECKS, traversal
from handbook.checks.links import OF_EVERY_PAGE, Linked
from handbook.engines.model import facts_of
from handbook.engines.plain import PlainEngine
from handbook.loader import load
from handbook.outputs.addresses import made_for
from handbook.pipeline import checked, load_plan, render
from handbook.plan.build import build_plan
from handbook.problems import Address, Problem
from handbook.publishing.verify_links import link_facts, link_findings
from handbook.schema.handbook import Handbook
from tests.content_folders import BASE, base_files, write_folder
from tests.demo import demo_plan, demo_site
from tests.real_media import document, picture

CONTENT = Path(__file__).resolve().parents[1] / "content"
CYCLE = "cycles/winter/cycle.yaml"
FREE: dict[str, str | bytes] = {
    "pages/attendance.md": "# Attendance\n\n## Whom to call\n\nUs.\n",
    "pages/es/hola.md": "# Hola\n\nHola.\n",
    "media/map.pdf": document(),
    "media/the stage.png": picture(),
}
FUNDAMENTALS = """
order: [tone]
strands:
  - {id: tone, name: Tone, why: Sound, exercises: [{id: hum, name: Hum, level: 1}]}
"""
LEADS_SOMEWHERE = (
    *("pages/attendance.md", "pages/attendance.md#whom-to-call", "pages/es/hola.md#main"),
    *("media/map.pdf", "media/the%20stage.png", "calendar/", "words/", "winter/", "./"),
    *("winter/lantern/", "winter/lantern/button-comets/", "winter/lantern/part/flute/"),
    *("winter/concert/", "winter/concert/crew/", "fundamentals/tone/", "families/", "past/"),
    *("families/attendance/#whom-to-call", "https://x.example/", "mailto:a@x.example"),
)
LEADS_NOWHERE = (
    *("pages/atendance.md", "pages/attendance.md#who", "media/mop.pdf", "calender/", "attendance"),
    *("words/#legato", "#main", "../", "/calendar/", "media/", "winter/brass/", "fundamentals/x/"),
    *("winter/lantern/part/tuba/", "calendar/2026-10/", "ftp://x.example", "a:b", "index.html"),
)


def findings(handbook: Handbook) -> set[str]:
    """Make the site though the checks may refuse it; give what publishing says of its pages."""
    plan = build_plan(handbook, mended=False).plan
    site = render(plan)
    contents = PlainEngine().finish(site.pages, facts_of(plan))
    contents = {**contents, **{file.path: file.content for file in site.files}}
    links = {path: link_facts(path, content) for path, content in contents.items()}
    links |= {f"media/{name}": None for name in site.media if name in handbook.media}
    return set(link_findings(links))


def told(handbook: Handbook) -> list[Problem]:
    linked = Linked(handbook, frozenset(made_for(handbook)))
    return [*checked(REFERENCE_CHECKS, handbook), *checked(LINK_CHECKS, linked)]


def with_links(folder: Path, *, notes: Iterable[str] = (), pages: Iterable[str] = ()) -> Handbook:
    """Read a small whole folder with a note for each link, and a page for each of others."""
    files = {**base_files(), **FREE, "fundamentals.yaml": FUNDAMENTALS}
    cycle = yaml.load(files[CYCLE], Loader=yaml.BaseLoader)
    cycle["notes"] = [f"[x](<{link}>)" for link in notes]
    files[CYCLE] = yaml.safe_dump(cycle, allow_unicode=True)
    for number, link in enumerate(pages):
        files[f"pages/p{number}.md"] = f"# Page\n\n[x](<{link}>)\n"
    found = load(write_folder(folder, files))
    assert found.handbook is not None, found.problems
    return found.handbook


def test_links_that_lead_somewhere_are_passed_and_built(tmp_path: Path) -> None:
    handbook = with_links(tmp_path, notes=LEADS_SOMEWHERE)
    assert told(handbook) == []
    assert findings(handbook) == set()


@pytest.mark.parametrize("link", LEADS_NOWHERE)
def test_a_link_that_leads_nowhere_is_told(link: str, tmp_path: Path) -> None:
    (only,) = told(with_links(tmp_path, notes=[link]))
    assert only.code in {"odd-link", "link-leads-nowhere", "unknown-media", "unsafe-link"}
    assert only.address == (CYCLE, "notes", 0)


PARTS = (
    *("..", "/", ".", "./", "../", "pages/", "media/", "families/", "map.pdf", "the stage.png"),
    *("attendance", "es/", "hola", ".md", "#", "main", "whom-to-call", "calendar/", "winter/"),
    *("lantern/", "part/", "flute/", "concert/", "%2e", "%20", "%2F", " ", "?", "é", "\\"),
)


@pytest.mark.parametrize("seed", range(3))
def test_what_the_checks_pass_is_sound_and_what_they_miss_is_not(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    links = ["".join(chance.choices(PARTS, k=chance.randint(0, 6))) for _ in range(240)]
    notes, pages = links[:120], links[120:]
    handbook = with_links(tmp_path / "all", notes=notes, pages=pages)
    missed = [one.file for one in told(handbook) if one.code == "link-leads-nowhere"]
    lost = {finding.split("/")[1] for finding in findings(handbook) if "/p" in finding}
    assert len(missed) > 10
    assert {Path(file).stem for file in missed if "pages/" in file} <= lost
    rounds = 0
    while problems := told(handbook):  # some are told together with others
        at = {one.address for one in problems}
        at |= {note.address for one in problems for note in one.notes}
        notes = [link for n, link in enumerate(notes) if (CYCLE, "notes", n) not in at]
        files = {address[0] for address in at}
        pages = [link for n, link in enumerate(pages) if f"pages/p{n}.md" not in files]
        handbook = with_links(tmp_path / str(rounds), notes=notes, pages=pages)
        rounds += 1
    assert len({*notes, *pages}) > 5
    assert findings(handbook) == set()


def test_every_page_of_the_demo_can_be_linked_to() -> None:
    loaded = load(CONTENT)
    assert loaded.handbook is not None
    site = demo_site()
    # Pages in other languages are their readers' choice, not that of who links.
    paths = {page.path for page in site.pages if page.language == demo_plan().languages[0]}
    months = {path for path in paths if path.startswith("calendar/2")}
    free = {path for path in paths if path.startswith("families/")} - {"families/"}
    assert set(made_for(loaded.handbook)) == paths - months - free


def test_the_frame_has_the_same_places_on_every_page() -> None:
    plan = load_plan(BASE).plan
    assert plan is not None
    site = render(plan)
    made = PlainEngine().finish(site.pages, facts_of(plan))
    page = link_facts("a.html", made["families/attendance/index.html"])
    assert page is not None
    assert page.places - {"whom-to-call"} == OF_EVERY_PAGE


def test_a_text_is_marked_as_markdown_where_pages_show_it_so(tmp_path: Path) -> None:
    """Each text of the demo gets a link of its own, and those that came out as links are looked for."""
    loaded = load(CONTENT)
    assert loaded.handbook is not None
    trees, marked, number = dict[str, Any](), dict[str, bool](), 0
    for file, item in traversal.items(loaded.handbook):
        trees[file] = yaml.load((CONTENT / file).read_text("utf-8"), Loader=yaml.BaseLoader)
        for address, text in traversal.texts(item, (file,)):
            number += 1
            if _append(trees[file], address[1:], f" [x](https://n{number}.example/)"):
                marked[f"https://n{number}.example/"] = text.markdown
    trees["program.yaml"]["languages"] = ["en"]  # whose texts have the links: no other tree is made
    shutil.copytree(CONTENT, tmp_path / "content")
    for file, tree in trees.items():
        written = yaml.safe_dump(tree, allow_unicode=True, sort_keys=False)
        (tmp_path / "content" / file).write_text(written, "utf-8")
    plan = load_plan(tmp_path / "content").plan
    assert plan is not None
    html = "".join(page.body for page in render(plan).pages)
    linked = set(re.findall(r'href="(https://n\d+\.example/)"', html))
    assert len(marked) > 800
    assert {link for link in linked if not marked[link]} == set()
    never = {link for link, markdown in marked.items() if markdown and link not in linked}
    assert len(never) < 20  # of rooms where nobody meets


def _append(tree: Any, steps: Address, words: str) -> bool:
    """Add words to the English version of a text; False where a step is no key of the file."""
    *above, last = steps
    for step in above:
        if isinstance(tree, dict) and step not in tree:
            return False
        tree = tree[step]
    if isinstance(tree, dict) and last not in tree:
        return False
    tree, last = (tree[last], "en") if isinstance(tree[last], dict) else (tree, last)
    tree[last] = f"{tree[last]}{words}"
    return True
