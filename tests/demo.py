"""The demo, read, planned and rendered once for all tests that only look at it."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from handbook.outputs.model import Site
from handbook.outputs.site import render_site
from handbook.pipeline import load_plan
from handbook.plan.model import Plan

DEMO = Path(__file__).resolve().parents[1] / "content"


@cache
def demo_plan() -> Plan:
    """Plan the demo."""
    plan = load_plan(DEMO).plan
    assert plan is not None
    return plan


@cache
def demo_site() -> Site:
    """Render the demo."""
    return render_site(demo_plan())
