"""The whole site as values: its pages, its files, its titles and its ways."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from handbook.outputs.model import Site
from tests.content_folders import base_files
from tests.outputs import rendering
from tests.plan.planning import planned

PROGRAM = "program.yaml"


def site_of(folder: Path, address: str = "") -> Site:
    program = base_files()[PROGRAM]
    lines = [line for line in program.splitlines() if not line.startswith("address:")]
    changes = {PROGRAM: "\n".join([*lines, f"address: {address}" if address else ""]) + "\n"}
    plan = planned(folder, changes).plan
    assert plan is not None
    return rendering.site_of(plan)


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return site_of(tmp_path)


def test_addresses_and_titles_are_each_given_once(site: Site) -> None:
    for given in ([page.path for page in site.pages], [page.title for page in site.pages]):
        assert [one for one, times in Counter(given).items() if times > 1] == []


def test_addresses_end_with_a_slash_and_hold_plain_letters(site: Site) -> None:
    assert [page.path for page in site.pages if page.path == ""] == [""]
    for page in site.pages:
        assert re.fullmatch(r"(?:[a-z0-9-]+/)*", page.path), page.path


def test_every_page_says_what_it_is_for(site: Site) -> None:
    for page in site.pages:
        assert page.description
        assert page.language == "en"
        assert page.body.count("<h1") == 1, page.path
        assert page.body.count('<main id="main"') == 1
        # Search leads to changes, as the menu does, once something is published.
        assert bool(page.search) is (page.path != "changes/"), page.path


def test_no_mark_of_the_frame_is_left_over(site: Site) -> None:
    for page in site.pages:
        assert not re.search(r"[\x00-\x08\x0b-\x1f]", page.body + page.head), page.path


def test_the_current_entry_of_the_menu_is_named(site: Site) -> None:
    for page in site.pages:
        assert (' aria-current="' in page.body) is (page.path != "changes/"), page.path


def test_each_address_is_relative_so_that_any_host_and_folder_will_do(site: Site) -> None:
    """All but a mail, a call, and a map of a place that a reader asks for; nothing is loaded."""
    leave = ("mailto:", "tel:", "https://www.openstreetmap.org/search?query=")
    for page in site.pages:
        found = re.findall(r'(href|src)="(/[^"]*|[a-z]+:[^"]*)"', page.head + page.body)
        assert [one for name, one in found if name == "src" or not one.startswith(leave)] == [], (
            page.path
        )


def test_no_id_stands_twice_on_a_page(site: Site) -> None:
    for page in site.pages:
        ids = re.findall(r'\sid="([^"]+)"', page.body)
        assert [one for one, times in Counter(ids).items() if times > 1] == [], page.path


def test_assets_are_asked_for_by_content(site: Site) -> None:
    """A changed style sheet has another address, so that no old copy is shown with new pages."""
    head = site.pages[0].head
    assert re.search(r'href="\./assets/handbook\.css\?v=[0-9a-f]{10}"', head)
    assert re.search(r'src="\./assets/handbook\.js\?v=[0-9a-f]{10}"', head)


def test_only_kinds_of_files_that_a_site_needs_are_published(site: Site) -> None:
    kinds = {file.path.rpartition(".")[2] for file in site.files}
    assert kinds <= {"css", "js", "woff2", "svg", "png", "txt", "html", "json", "ics", "pdf"}


@pytest.mark.parametrize(
    ("address", "base"),
    [
        ("", "/"),
        ("https://bands.example/", "/"),
        ("https://bands.example", "/"),
        ("https://school.example/bands", "/bands/"),
        ("https://school.example/a/b/", "/a/b/"),
    ],
)
def test_the_page_for_lost_readers_works_at_any_depth(
    tmp_path: Path, address: str, base: str
) -> None:
    site = site_of(tmp_path, address)
    page = next(file.content.decode() for file in site.files if file.path == "404.html")
    assert "https://" not in page
    links = re.findall(r'(?:href|src|data-root)="([^"]*)"', page)
    assert len(links) > 20
    own = [link for link in links if not link.startswith(("#", "mailto:", "tel:"))]
    assert [link for link in own if not link.startswith(base)] == []
    paths = {f"{base}{page.path}" for page in site.pages}
    files = {f"{base}{file.path}" for file in site.files}
    assert {link.partition("?")[0] for link in own} <= paths | files
    assert 'aria-current="' not in page
    assert 'data-here=""' in page
    assert "data-open-search" in page
