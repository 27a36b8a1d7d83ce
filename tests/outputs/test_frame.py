"""The frame: rendered once, set around every page with its own way to the root."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handbook.outputs.html.frame import NavItem, navigation
from handbook.outputs.model import RenderedPage, Site
from handbook.outputs.page import Context
from handbook.outputs.site import menu_of
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
    return navigation(context, menu_of(context, plan.cycles[-1:]))


def page(site: Site, path: str) -> RenderedPage:
    return next(page for page in site.pages if page.path == path)


def test_the_menu_names_the_newest_cycle_and_its_bands(plan: Plan) -> None:
    items = menu(plan)
    assert [item.title for item in items][:2] == ["Today", str(plan.cycles[-1].item.name)]
    bands = [str(ensemble.item.name) for ensemble in plan.cycles[-1].ensembles]
    assert [item.title for item in items][2 : 2 + len(bands)] == bands
    of_all = {"Calendar", "Words", "Families", "Past"}
    others = [item.title for item in items if item.title in of_all]
    assert others == ["Calendar", "Words", "Families", "Past"]


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
        if "data-choose=" not in control:  # within a group that is hidden
            assert " hidden" in control, control
