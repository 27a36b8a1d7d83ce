"""The frame: rendered once, set around every page with its own way to the root."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html import escape, unescape
from pathlib import Path
from typing import Any

import pytest

from handbook.outputs.html.frame import CYCLES_IN_MENU, NavItem, navigation
from handbook.outputs.model import RenderedPage, Site
from handbook.outputs.page import Context
from handbook.outputs.site import menus_of
from handbook.plan.model import Plan
from tests.outputs.rendering import site_of
from tests.plan.planning import planned

_NAV = re.compile(r'<nav class="wide".*?</nav>', re.DOTALL)


@pytest.fixture
def plan(tmp_path: Path) -> Plan:
    found = planned(tmp_path).plan
    assert found is not None
    return found


@pytest.fixture
def site(plan: Plan) -> Site:
    return site_of(plan)


def menu(plan: Plan) -> tuple[NavItem, ...]:
    context = Context(plan, "en")
    return navigation(context, menus_of(context, plan.cycles))


def page(site: Site, path: str) -> RenderedPage:
    return next(page for page in site.pages if page.path == path)


def cycles(site: Site, path: str = "") -> list[dict[str, Any]]:
    """What the menu's script is told of cycles."""
    (data,) = re.findall(r"data-cycles='([^']*)'", page(site, path).body)
    found: list[dict[str, Any]] = json.loads(unescape(data))
    return found


def test_the_menu_names_every_cycle_in_order(plan: Plan) -> None:
    titles = [item.title for item in menu(plan)]
    names = [str(cycle.item.name) for cycle in plan.cycles]
    assert names
    assert titles[: 1 + len(names)] == ["Today", *names]
    of_all = {"Calendar", "Words", "Families", "All cycles"}
    others = [title for title in titles if title in of_all]
    assert others == ["Calendar", "Words", "Families", "All cycles"]


def test_a_script_is_told_what_is_in_each_cycle_and_when(plan: Plan, site: Site) -> None:
    found = cycles(site)
    assert [one["id"] for one in found] == [cycle.id for cycle in plan.cycles]
    for told, cycle in zip(found, plan.cycles, strict=True):
        assert (told["first"], told["last"]) == (str(cycle.item.starts), str(cycle.last))
        bands = [[str(one.item.name), f"{cycle.id}/{one.item.id}/"] for one in cycle.ensembles]
        assert told["ensembles"] == bands
    paths = {page.path for page in site.pages}
    entries = [entry for one in found for entry in (*one["ensembles"], *one["concerts"])]
    assert {path for _, *ways in entries for path in ways} <= paths


def test_a_site_of_many_years_names_the_newest_cycles(plan: Plan) -> None:
    many = tuple(replace(plan.cycles[0], id=f"cycle-{number}") for number in range(30))
    context = Context(plan, "en")
    entries = navigation(context, menus_of(context, many))
    ids = [item.cycle for item in entries if item.cycle]
    assert ids == [f"cycle-{number}" for number in range(30 - CYCLES_IN_MENU, 30)]


def test_the_menu_leaves_out_what_is_not_there(plan: Plan) -> None:
    titles = [item.title for item in menu(plan)]
    assert ("Fundamentals" in titles) == bool(plan.fundamentals.strands)


def test_every_entry_leads_to_a_page(plan: Plan, site: Site) -> None:
    paths = {page.path for page in site.pages}
    assert {item.path for item in menu(plan)} <= paths


@pytest.mark.parametrize(
    ("path", "root"), [("", "./"), ("words/", "../"), ("winter/lantern/", "../../")]
)
def test_the_way_to_the_root_is_the_pages_own(site: Site, path: str, root: str) -> None:
    found = page(site, path)
    assert f'data-root="{root}"' in found.body
    assert f'<a class="brand" href="{root}">' in found.body
    assert f'href="{root}assets/handbook.css' in found.head


def test_the_current_entry_is_the_only_one(site: Site) -> None:
    nav = _NAV.search(page(site, "words/").body)
    assert nav
    assert re.findall(r'aria-current="page">([^<]+)<', nav[0]) == ["Words"]
    assert nav[0].count("aria-current") == 1


def test_a_page_of_a_cycle_marks_that_cycle_and_no_other(plan: Plan, site: Site) -> None:
    for cycle in plan.cycles:
        name = escape(str(cycle.item.name))
        for found in site.pages:
            if not found.path.startswith(f"{cycle.id}/"):
                continue
            nav = _NAV.search(found.body)
            assert nav
            state = "page" if found.path == f"{cycle.id}/" else "true"
            assert re.findall(r'aria-current="(\w+)">([^<]+)<', nav[0]) == [(state, name)]
            assert f'data-here="{found.path}"' in found.body


def test_a_piece_shows_the_way_back(site: Site) -> None:
    found = next(one for one in site.pages if one.path.count("/") == 3)
    crumbs = re.search(r'<nav class="crumbs".*?</nav>', found.body, re.DOTALL)
    assert crumbs
    assert re.findall(r'href="([^"]+)"', crumbs[0]) == [
        f"../../../{found.path.split('/')[0]}/",
        f"../../../{'/'.join(found.path.split('/')[:2])}/",
    ]


def test_the_zone_is_the_programs_own(plan: Plan, site: Site) -> None:
    assert f'data-zone="{plan.zone.key}"' in site.pages[0].body


def test_the_frame_says_nothing_that_only_scripts_can_do(site: Site) -> None:
    """Controls that need scripts stand hidden until a script shows them."""
    body = page(site, "").body
    for control in re.findall(r"<(?:button|fieldset)[^>]*>", body.partition("<dialog")[0]):
        if "data-choose" not in control:  # within a group that is hidden
            assert " hidden" in control, control
