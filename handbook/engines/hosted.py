"""The handbook as a part of a build that someone else leads: found, checked, rendered."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import click

from handbook.checks.texts import LACKING
from handbook.engines.model import SiteFacts, facts_of
from handbook.ledger import read_ledger
from handbook.outputs.history import told_in
from handbook.outputs.model import Site
from handbook.outputs.web_address import web_address
from handbook.pipeline import Outcome, load_plan, render
from handbook.plan.model import Plan
from handbook.problems import Problem, Severity
from handbook.publishing import with_sitemap
from handbook.records import dataclass
from handbook.report import report_text
from handbook.source.links import MEDIA

PROGRAM_FILE = "program.yaml"
USUAL_FOLDER = "content"
_FOR_HOSTS = frozenset({"404.html", "sitemap.xml"})  # which look for them at the root of a site
_FOLDER = re.compile(r"[a-z0-9]+(?:[-/][a-z0-9]+)*")


class NotHostedError(Exception):
    """The handbook cannot be made; the text is a sentence for whoever leads the build."""


@dataclass(frozen=True, slots=True)
class Hosted:
    """The site to be put into `folder` (`""`, or with a slash at its end) of another build.

    `media` is the folder that `site.media` is relative to; `warnings` are ready sentences.
    """

    site: Site
    facts: SiteFacts
    media: Path
    folder: str
    warnings: tuple[str, ...]


def find_content(given: str | None, beside: Path) -> Path:
    """Find the content: `given`, else `content` beside the configuration, else its own folder.

    `beside` is the configuration's folder. Raises NotHostedError if there is no such folder.
    """
    if given:
        content = beside / given
        if content.is_dir():
            return content
        raise NotHostedError(f"there is no folder {content}: give `content` the content folder")
    for content in (beside / USUAL_FOLDER, beside):
        if (content / PROGRAM_FILE).is_file():
            return content
    raise NotHostedError(
        f"there is no {PROGRAM_FILE} in {beside / USUAL_FOLDER} or beside the configuration:"
        " give the plugin's option `content` the content folder"
    )


def hosted(content: Path, *, folder: str = "", address: str | None = None) -> Hosted:
    """Read, check and render the content for a site at `address`, if that is known.

    With a `folder` the pages stand in it, and the error page and the sitemap are left to
    the site around it. All problems are printed if any stops the build; then, and for a
    folder that cannot be an address, NotHostedError is raised.
    """
    place = _folder(folder)
    outcome = load_plan(content)
    if outcome.plan is None:
        click.echo(_report(outcome, content), err=True, nl=False)
        raise NotHostedError("the content has problems, told above: mend them, then build again")
    root = web_address(address)
    plan = _at(outcome.plan, f"{root}{place}" if root else None)
    facts = facts_of(plan)
    history = read_ledger(content).history
    rendered = render(plan, history)
    site = with_sitemap(told_in(rendered, plan, history, facts.address), facts.address)
    if place:
        kept = (file for file in site.files if file.path.rpartition("/")[2] not in _FOR_HOSTS)
        site = replace(site, files=tuple(kept))
    return Hosted(site, facts, content / MEDIA, place, tuple(_warnings(outcome, content)))


def _folder(given: str) -> str:
    folder = given.strip("/")
    if not folder:
        return ""
    if not _FOLDER.fullmatch(folder):
        raise NotHostedError(
            f"`folder: {given}` is no address: write small letters, digits and hyphens, such as `band`"
        )
    return f"{folder}/"


def _at(plan: Plan, address: str | None) -> Plan:
    """Give the plan for a site that stands elsewhere than the program says."""
    if address is None:
        return plan
    return replace(plan, program=plan.program.model_copy(update={"address": address}))


def _report(outcome: Outcome, content: Path) -> str:
    colour = sys.stderr.isatty() and not os.environ.get("NO_COLOR")
    return report_text(
        outcome.problems, outcome.sources, folder=_as_seen_from_here(content), colour=colour
    )


def _warnings(outcome: Outcome, content: Path) -> Iterator[str]:
    """Tell each warning as a report of its own, without the count."""
    for problem in outcome.problems:
        if problem.severity is Severity.WARNING and problem.code != LACKING:
            yield _one(problem, outcome, content)


def _one(problem: Problem, outcome: Outcome, content: Path) -> str:
    told = report_text((problem,), outcome.sources, folder=_as_seen_from_here(content))
    return told.rpartition("\n\n")[0]


def _as_seen_from_here(content: Path) -> str:
    here = Path.cwd()
    return (content.relative_to(here) if content.is_relative_to(here) else content).as_posix()
