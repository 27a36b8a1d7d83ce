"""A small plan, and pages of a few words, for tests that look at what a site shows."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from handbook.audit import Finding, audit
from handbook.outputs.model import SiteFile
from handbook.pipeline import load_plan
from handbook.plan.model import Plan
from tests.published_sites import finished_file

CONTENT = Path(__file__).resolve().parents[1] / "sites" / "one-band" / "content"


@cache
def small_plan() -> Plan:
    plan = load_plan(CONTENT).plan
    assert plan is not None
    return plan


def page(words: str, name: str = "families/trip") -> SiteFile:
    """Make a page of these words, which may be HTML, in a frame with some plain ones."""
    frame = f"<body><nav><a>Today</a></nav><main>{words}</main><footer>The band office answers.</footer></body>"
    return finished_file(f"{name}/index.html", frame.encode())


def looked(*files: SiteFile, plan: Plan | None = None, content: Path = CONTENT) -> list[Finding]:
    return list(audit(files, plan or small_plan(), content))
