"""The site of a plan, rendered once for all tests that look at the same plan."""

from __future__ import annotations

from handbook.outputs.model import RenderedPage, Site
from handbook.outputs.site import render_site
from handbook.plan.model import Plan

_KEPT: list[tuple[Plan, Site]] = []


def site_of(plan: Plan) -> Site:
    """Render all pages of a plan."""
    for kept, site in _KEPT:
        if kept is plan:
            return site
    _KEPT.append((plan, render_site(plan)))
    return _KEPT[-1][1]


def page_of(plan: Plan, path: str) -> RenderedPage:
    """Give one page of a plan."""
    return next(page for page in site_of(plan).pages if page.path == path)
